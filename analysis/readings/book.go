package readings

import (
	"encoding/xml"
	"errors"
	"fmt"
	"path"
	"strings"

	"dryhold/analysis/fault"
)

// book is a workbook: its sheets in order, its shared strings, and which cell
// styles show a date (ECMA-376 part 1, clause 18).
type book struct {
	a        *archive
	sheets   []sheetRef
	date1904 bool
	dates    []bool // by style index
	styles   string // name of the part, "" where there is none
	strings  string
	shared   []byte // all shared strings, one after the other
	ends     []uint32
}

type sheetRef struct {
	name, part string
	hidden     bool
}

const maxSmallPart = 8 << 20

// openBook finds the sheet that holds the readings.
func openBook(f File, o Options, in *Input, rep *report) (*table, *layout) {
	stop := func(code, found, mend string) (*table, *layout) {
		rep.add(fault.Fault{Code: code, File: f.Name, Found: found, Expected: "a whole XLSX workbook", Mend: mend})
		return nil, nil
	}
	a, z, err := openArchive(f.Data)
	if err != nil {
		return stop("damaged", "the workbook is damaged: "+err.Error(), "copy the file again from where it was saved, or save it again")
	}
	if what, mend := foreignArchive(z); what != "" {
		return stop("kind", what, mend)
	}
	b, err := readBook(a)
	if err != nil {
		return stop("damaged", "the workbook is damaged: "+err.Error(), "copy the file again from where it was saved, or save it again")
	}
	return b.find(f.Name, o, rep)
}

// candidate is a sheet with a header of readings.
type candidate struct {
	t   *table
	lay *layout
}

// find reads the stated sheet, or all, and takes the one that has a time and a
// pressure. A sheet that can't be read stops the file even where another one
// would do, since the damage may be anywhere.
func (b *book) find(name string, o Options, rep *report) (*table, *layout) {
	var fits []candidate
	var why fault.Fault
	hidden := ""
	for _, ref := range b.sheets {
		if o.Sheet != "" && !strings.EqualFold(strings.TrimSpace(o.Sheet), strings.TrimSpace(ref.name)) || ref.part == "" {
			continue
		}
		t, err := b.sheet(ref)
		if err != nil {
			rep.add(fault.Fault{Code: "damaged", File: name, Sheet: ref.name, Found: "the sheet can't be read: " + err.Error(),
				Expected: "a whole XLSX workbook", Mend: "copy the file again from where it was saved, or save it again"})
			return nil, nil
		}
		t.file = name
		lay, f := findLayout(t, o)
		switch {
		case lay != nil && (o.Sheet != "" || !ref.hidden):
			fits = append(fits, candidate{t, lay})
		case lay != nil:
			hidden = ref.name
		case why.Code == "" || why.Code == "header" && f.Code == "no-rows" || len(t.rows) > 0 && why.Found == "no rows":
			why = f
		}
	}
	if len(fits) == 1 {
		return fits[0].t, fits[0].lay
	}
	rep.add(b.unfit(name, o, fits, hidden, why))
	return nil, nil
}

// unfit says why not one sheet was found: several fit, or only a hidden one does,
// or none; why is then what the likeliest lacks.
func (b *book) unfit(name string, o Options, fits []candidate, hidden string, why fault.Fault) fault.Fault {
	switch {
	case len(fits) > 1:
		var have, lines []string
		for _, c := range fits {
			have = append(have, fmt.Sprintf("%q", c.t.sheet))
			lines = append(lines, fmt.Sprintf("sheet = %q", c.t.sheet))
		}
		return fault.Fault{Code: "sheets", File: name, Found: "readings in several sheets: " + strings.Join(have, ", "), Expected: "one",
			Mend: "say which in job.toml: [[readings]] " + strings.Join(lines, " or ") + "; where they are one recording, save each as CSV and name both files"}
	case hidden != "":
		return fault.Fault{Code: "sheet", File: name, Sheet: hidden, Found: "readings in a hidden sheet only", Expected: "a sheet that can be seen",
			Mend: fmt.Sprintf("if these are the readings, say so in job.toml: [[readings]] sheet = %q", hidden)}
	case o.Sheet != "" && why.Code == "":
		names := make([]string, len(b.sheets))
		for i, ref := range b.sheets {
			names[i] = fmt.Sprintf("%q", ref.name)
		}
		return fault.Fault{Code: "sheet", File: name, Key: "readings.sheet", Found: fmt.Sprintf("no sheet %q; the sheets are %s", o.Sheet, strings.Join(names, ", ")),
			Expected: "one of them", Mend: "correct sheet in job.toml"}
	case why.Code == "":
		return fault.Fault{Code: "header", File: name, Found: "no sheet with readings", Expected: "a sheet that names a time and a pressure",
			Mend: "look whether this is the right workbook; where it is, export the readings again, as CSV"}
	}
	return why
}

// relationships of a part: id to target and type.
type relationships struct {
	List []struct {
		ID     string `xml:"Id,attr"`
		Type   string `xml:"Type,attr"`
		Target string `xml:"Target,attr"`
		Mode   string `xml:"TargetMode,attr"`
	} `xml:"Relationship"`
}

func (a *archive) relationships(of string) (*relationships, error) {
	r := &relationships{}
	dir, base := path.Split(of)
	return r, a.decode(dir+"_rels/"+base+".rels", r)
}

// decode reads a small part into a struct.
func (a *archive) decode(name string, v any) error {
	data, err := a.read(name, maxSmallPart)
	if err != nil {
		return err
	}
	if err := wellFormed(data); err != nil {
		return fmt.Errorf("the part %s: %w", name, err)
	}
	if err := xml.Unmarshal(data, v); err != nil {
		return fmt.Errorf("the part %s: %w", name, err)
	}
	return nil
}

// resolve makes a target absolute within the archive.
func resolve(of, target string) string {
	if strings.HasPrefix(target, "/") {
		return strings.TrimPrefix(target, "/")
	}
	return path.Join(path.Dir(of), target)
}

func readBook(a *archive) (*book, error) {
	main, err := a.mainPart()
	if err != nil {
		return nil, err
	}
	var wb struct {
		Properties struct {
			Date1904 string `xml:"date1904,attr"`
		} `xml:"workbookPr"`
		Sheets []struct {
			Name  string     `xml:"name,attr"`
			State string     `xml:"state,attr"`
			Attrs []xml.Attr `xml:",any,attr"`
		} `xml:"sheets>sheet"`
	}
	if err := a.decode(main, &wb); err != nil {
		return nil, err
	}
	b := &book{a: a, date1904: wb.Properties.Date1904 == "1" || wb.Properties.Date1904 == "true"}
	target, worksheet, err := b.targets(main)
	if err != nil {
		return nil, err
	}
	for _, s := range wb.Sheets {
		id := ""
		for _, at := range s.Attrs {
			if at.Name.Local == "id" && at.Name.Space != "" {
				id = at.Value
			}
		}
		if target[id] == "" {
			return nil, fmt.Errorf("the sheet %q points nowhere", s.Name)
		}
		ref := sheetRef{name: s.Name, hidden: s.State != "" && s.State != "visible"}
		if worksheet[id] { // a chart sheet has no cells
			ref.part = target[id]
		}
		b.sheets = append(b.sheets, ref)
	}
	if len(b.sheets) == 0 {
		return nil, errors.New("it has no sheets")
	}
	if err := b.readStyles(); err != nil {
		return nil, err
	}
	return b, b.readShared()
}

// mainPart is where the workbook lists its sheets.
func (a *archive) mainPart() (string, error) {
	top, err := a.relationships("")
	if err != nil {
		return "", err
	}
	main := ""
	for _, r := range top.List {
		if strings.HasSuffix(r.Type, "/officeDocument") {
			main = resolve("", r.Target)
		}
	}
	if main == "" {
		return "", errors.New("it does not say where its sheets are")
	}
	return main, nil
}

// targets are the parts that the main one points to, by id, and which of them are
// worksheets; styles and shared strings are kept.
func (b *book) targets(main string) (part map[string]string, worksheet map[string]bool, err error) {
	rels, err := b.a.relationships(main)
	if err != nil {
		return nil, nil, err
	}
	part, worksheet = map[string]string{}, map[string]bool{}
	for _, r := range rels.List {
		if r.Mode == "External" {
			continue
		}
		p := resolve(main, r.Target)
		if b.a.parts[partName(p)] == nil {
			return nil, nil, fmt.Errorf("the part %s is missing", p)
		}
		part[r.ID] = p
		switch {
		case strings.HasSuffix(r.Type, "/worksheet"):
			worksheet[r.ID] = true
		case strings.HasSuffix(r.Type, "/styles"):
			b.styles = p
		case strings.HasSuffix(r.Type, "/sharedStrings"):
			b.strings = p
		}
	}
	return part, worksheet, nil
}
