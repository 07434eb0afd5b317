package job

import (
	"fmt"
	"strings"
	"time"
)

// Facts is what is known when a job file is begun. Empty texts are asked for in
// the file's comments.
type Facts struct {
	Number, Kind, Timezone, Altitude, Refrigerant, Customer, Address string
	Date                                                             time.Time
	Schema                                                           string   // path of the schema for editors; empty: none
	Company                                                          bool     // there is a company.toml: firm, technician and criterion may be there
	Instruments                                                      []string // ids that company.toml has
	Recordings                                                       []Recording
	Maker                                                            Maker
}

// Recording is a spreadsheet that was found beside the job file.
type Recording struct {
	ID, File, Sheet string
	Measures        string // "vacuum" or "pressure"; empty where that is not known
	Columns         string // what was recognised, for the comment: "time A, pressure C (micron)"
	Span            string // from when to when
	Elapsed         bool   // it counts elapsed time and needs a start
}

// Maker is the criterion of the equipment maker, empty where it was not given.
type Maker struct{ Reach, Limit, Minutes, Document, Page string }

// Given reports whether the maker's figures are known.
func (m Maker) Given() bool { return m.Limit != "" && m.Minutes != "" }

// Skeleton writes a commented job file from what is known. It decodes without a
// fault once the number, the date and what the comments ask for are there.
func Skeleton(f Facts) []byte {
	w := &skeleton{}
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
	w.rest()
	return []byte(w.b.String())
}

type skeleton struct{ b strings.Builder }

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
	if f.Date.IsZero() {
		w.line("# date = 2031-04-09")
	} else {
		w.line("date = %s", f.Date.Format(time.DateOnly))
	}
	w.key("timezone", f.Timezone, "America/Denver", "of the site; the readings' times are in it")
	w.key("altitude", f.Altitude, "1609 m", "gauge pressures are counted from the air pressure there")
	if !f.Company {
		w.line("\n# The firm and the technician may stand in a company.toml for all jobs.")
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
		w.line("\n[[readings]]  # %s", first(r.Span, "found in this folder"))
		w.line("id = %q\nfile = %q", r.ID, r.File)
		if r.Sheet != "" {
			w.line("sheet = %q", r.Sheet)
		}
		if r.Measures == "pressure" {
			w.line("# instrument = \"...\"  # the id of the pressure gauge")
		} else {
			w.line("instrument = %q", gauge)
		}
		if r.Columns != "" {
			w.line("# recognised: %s", r.Columns)
		}
		if r.Elapsed {
			w.line("# start = 2031-04-09T13:05:00  # this log counts elapsed time: write when it was started")
		}
	}
}

// ofKind is the first recording of a kind, or the only one whose kind is unknown.
func ofKind(list []Recording, measures string) string {
	for _, r := range list {
		if r.Measures == measures {
			return r.ID
		}
	}
	return ""
}

// hold writes the acceptance out. Common practice is a rule of the trade without
// a published source, and the file says so.
func (w *skeleton) hold(f Facts) {
	vacuum := ofKind(f.Recordings, "vacuum")
	w.line("\n[evacuation]")
	w.key("readings", vacuum, "evacuation", "")
	w.line("# volume_flow_rate = \"6 cfm\"  # stated on the pump\n# hose = [{diameter = \"3/8 in\", length = \"5 ft\"}]  # inside diameter")
	w.line("\n# The pump isolated and the pressure watched. start and end are found in the readings where they are not given.")
	w.line("[hold]")
	w.key("readings", vacuum, "evacuation", "")
	w.line("# start = 2031-04-09T13:05:00\n# end = 2031-04-09T13:25:00")
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

func (w *skeleton) rest() {
	w.line("\n# Further tables: pump_check, pressure_test, recovery, charge, startup, [[event]], [[attempt]], [[leak_check]].")
	w.line("\n# [charge]\n# factory = \"6 lb 8 oz\"\n# added = \"9 oz\"")
	w.line("\n# [[signoff]]\n# role = \"technician\"\n# name = \"...\"\n# date = 2031-04-09\n# method = \"typed by office\"")
}
