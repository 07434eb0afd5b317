package job

import (
	"fmt"
	"strings"
	"time"
)

// Skeleton writes a commented job file from what is known. It decodes without a
// fault once the number, the date and what the comments ask for are there.
func Skeleton(f Facts) []byte {
	w := &skeleton{day: f.day().Format(time.DateOnly)}
	if f.Schema != "" {
		w.line("#:schema %s", f.Schema)
	}
	w.line("# Job file. Texts and quantities stand between quotation marks, dates do not.")
	w.line("# A line that starts with # says nothing: take the # away to use it.")
	w.line("format = %d", Format)
	w.identity(f)
	w.circuit(f)
	w.recordings(f)
	w.hold(f)
	w.rest(f)
	return []byte(w.b.String())
}

// skeleton is a job file being written; day is that of its examples.
type skeleton struct {
	b   strings.Builder
	day string
}

func (w *skeleton) line(format string, values ...any) { fmt.Fprintf(&w.b, format+"\n", values...) }

// key writes key = "text", or as a comment an example of it.
func (w *skeleton) key(key, text, example, remark string) {
	if remark != "" {
		remark = "  # " + remark
	}
	if text == "" {
		w.line("# %s = %q%s", key, example, remark)
		return
	}
	w.line("%s = %q%s", key, text, remark)
}

func (w *skeleton) identity(f Facts) {
	w.line("\n[job]")
	w.line("number = %q  # letters, digits, . _ -; it becomes the file name", f.Number)
	w.key("kind", f.Kind, "new", "new, replacement, repair, relocation or retrofit")
	switch {
	case !f.Date.IsZero():
		w.line("date = %s", w.day)
	case Begun(f.Recordings).IsZero():
		w.line("# date = %s", w.day)
	default:
		w.line("# date = %s  # the readings begin on this day", w.day)
	}
	w.key("timezone", f.Timezone, "America/Denver", "of the site; the readings' times are in it")
	w.key("altitude", f.Altitude, "1609 m", "gauge pressures are counted from the air pressure there")
	if !f.Company {
		w.line("\n# Firm, technician and instruments may stand in a company.toml for all jobs: dryhold new FOLDER --company begins one.")
		w.line("[company]\n# name = \"...\"\n\n[technician]\n# name = \"...\"\n# certification = \"...\"")
	}
	w.line("\n[customer]")
	w.key("name", f.Customer, "...", "")
	w.line("\n[site]")
	w.key("address", f.Address, "...", "")
	w.line("# permit = \"...\"")
	w.line("\n# One [[equipment]] for each piece on this circuit.")
	w.line("# [[equipment]]\n# role = \"outdoor unit\"\n# maker = \"...\"\n# model = \"...\"\n# serial = \"...\"  # kept as written, leading zeros too")
}

func (w *skeleton) circuit(f Facts) {
	w.line("\n[system]")
	w.key("refrigerant", f.Refrigerant, "R-454B", "")
	w.line("# volume = \"9.6 L ± 15 %%\"  # or one [[system.line]] for each piece of tube:")
	w.line("# [[system.line]]\n# role = \"liquid\"\n# diameter = \"3/8 in\"  # outside\n# wall = \"0.032 in\"\n# length = \"35 ft\"")
	w.line("\n[boundary]  # a test says something only of what was inside it")
	w.line("# included = [\"line set\", \"indoor coil\"]\n# excluded = [\"outdoor unit\"]\n# isolated_at = \"valve at the pump\"")
	w.line("# gauge_at = \"far end\"  # pump side, far end or other\n# cores_removed = true")
}

func (w *skeleton) recordings(f Facts) {
	w.line("\n# The gauge's data sheet gives range, accuracy and resolution: without them no result has an uncertainty.")
	gauge := "gauge"
	if len(f.Instruments) > 0 {
		gauge = f.Instruments[0]
		w.line("# company.toml has the instruments %s.", strings.Join(f.Instruments, ", "))
	} else {
		w.line("[[instrument]]\nid = %q\nmeasures = \"vacuum\"", gauge)
		w.line("# principle = \"thermal conductivity\"\n# range = \"0 to 20000 micron\"\n# accuracy = \"10 %% + 5 micron\"\n# resolution = \"1 micron\"")
		w.line("# serial = \"...\"\n# calibrated = 2030-11-01\n# due = 2031-11-01")
	}
	if len(f.Recordings) == 0 {
		w.line("\n# [[readings]]\n# id = \"evacuation\"\n# file = \"gauge.csv\"  # in this folder; / between folder and file\n# instrument = %q", gauge)
	}
	for _, r := range f.Recordings {
		w.line("\n[[readings]]  # %s", first(r.Span(), "found in this folder"))
		w.line("id = %q", r.ID)
		if len(r.Files) == 1 {
			w.line("file = %q", r.Files[0])
		} else {
			w.line("file = [%s]  # each goes on where the one before ends", quoted(r.Files))
		}
		if r.Sheet != "" {
			w.line("sheet = %q", r.Sheet)
		}
		w.gauge(r, f.Instruments)
		if r.Columns != "" {
			w.line("# recognised: %s", r.Columns)
		} else {
			w.line("# not understood yet; dryhold check says why")
		}
		if r.Elapsed {
			w.line("# start = %sT13:05:00  # this log counts elapsed time: write when it was started", w.day)
		}
	}
}

func quoted(texts []string) string {
	list := make([]string, len(texts))
	for i, t := range texts {
		list[i] = fmt.Sprintf("%q", t)
	}
	return strings.Join(list, ", ")
}

// gauge names what made a recording, or asks for it where several may have.
func (w *skeleton) gauge(r Recording, vacuum []string) {
	switch {
	case r.Instrument != "":
		w.line("instrument = %q", r.Instrument)
	case r.Measures == "pressure":
		w.line("# instrument = \"...\"  # the id of the pressure gauge")
	case len(vacuum) == 0:
		w.line("instrument = \"gauge\"")
	default:
		w.line("# instrument = %q  # which of %s?", vacuum[0], strings.Join(vacuum, ", "))
	}
}

// hold writes the acceptance out. Common practice is a rule of the trade without
// a published source, and the file says so.
func (w *skeleton) hold(f Facts) {
	vacuum := LastOf("vacuum", f.Recordings).ID
	w.line("\n[evacuation]")
	w.key("readings", vacuum, "evacuation", "")
	w.line("# volume_flow_rate = \"6 cfm\"  # stated on the pump\n# hose = [{diameter = \"3/8 in\", length = \"5 ft\"}]  # inside diameter")
	w.line("\n# The pump isolated and the pressure watched. start and end are found in the readings where they are not given.")
	w.line("[hold]")
	w.key("readings", vacuum, "evacuation", "")
	w.line("# start = %sT13:05:00\n# end = %sT13:25:00", w.day, w.day)
	m := f.Maker
	if m.Given() {
		w.line("# Acceptance: the equipment maker's instruction.\nacceptance = \"maker\"")
		w.key("document", m.Document, "...", "title and number of the instruction")
		w.key("page", m.Page, "...", "")
		if m.Reach != "" {
			w.line("reach = %q", m.Reach)
		}
		w.line("limit = %q\nminutes = %s", m.Limit, m.Minutes)
		return
	}
	w.line("# Acceptance: the equipment maker's figures come first. Look them up and write:")
	w.line("# acceptance = \"maker\"\n# document = \"title and number\"\n# page = \"...\"\n# limit = \"... micron\"\n# minutes = ...")
	w.line("# Until then common practice stands, for which no published source was found; the record says so:")
	w.line("acceptance = \"common-practice\"  # not above 500 micron, 10 minutes after the pump was isolated")
}

func (w *skeleton) rest(f Facts) {
	if id := LastOf("pressure", f.Recordings).ID; id != "" {
		w.line("\n[pressure_test]\nreadings = %q", id)
	}
	vacuum := LastOf("vacuum", f.Recordings).ID
	for _, r := range f.Recordings {
		if r.Measures == "vacuum" && r.ID != vacuum {
			w.line("\n# If this was an earlier test, say what was found and mended:")
			w.line("# [[attempt]]\n# test = \"hold\"\n# readings = %q\n# finding = \"...\"\n# repair = \"...\"", r.ID)
		}
	}
	w.line("\n# Further tables: pump_check, pressure_test, recovery, charge, startup, [[event]], [[attempt]], [[leak_check]], [[photograph]].")
	w.line("\n# [charge]\n# factory = \"6 lb 8 oz\"\n# added = \"9 oz\"")
	w.line("\n# [[signoff]]\n# role = \"technician\"\n# name = \"...\"\n# date = %s\n# method = \"typed by office\"", w.day)
}
