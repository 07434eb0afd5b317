// Package register writes the register of records: a workbook with one row a
// record, a sheet for pumps and one for instruments. It is made from the records
// alone and can be made again at any time.
package register

import (
	"io"
	"iter"
	"math"
	"sort"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/record"
)

// Entry is one record for the register.
type Entry struct {
	Record *record.Record
	Digest string
	Link   string // path of a PDF relative to the register, with slashes; may be empty
}

// Twice is a readings file that serves more than one job.
type Twice struct {
	SHA256, File string
	Jobs         []string
}

// Write makes the workbook from the records in their order, in which revisions of
// a job follow one another: pumps and instruments are told from the last of them,
// and those before it are marked as replaced. Memory does not grow with the records
// but for a line a job of each pump and readings file. It returns the readings files that serve two jobs.
func Write(w io.Writer, entries iter.Seq[Entry]) ([]Twice, error) {
	b := &book{file: excelize.NewFile(), uses: map[string]*Twice{}, instruments: map[string]*instrument{}}
	defer b.file.Close()
	if err := b.records(entries); err != nil {
		return nil, err
	}
	if err := b.pumpSheet(); err != nil {
		return nil, err
	}
	if err := b.instrumentSheet(); err != nil {
		return nil, err
	}
	return b.twice(), b.file.Write(w)
}

type book struct {
	file        *excelize.File
	head, old   int // styles; old is of a record that was replaced
	dates       int
	powers      int         // of ten
	grey        map[int]int // the like of a style for a record that was replaced
	uses        map[string]*Twice
	pumps       []pumpRow
	instruments map[string]*instrument
}

// sheet is one table being written.
type sheet struct {
	book   *book
	name   string
	stream *excelize.StreamWriter
	row    int
	width  int
}

func (b *book) sheet(name string, header []string, widths []float64) (*sheet, error) {
	if _, err := b.file.NewSheet(name); err != nil {
		return nil, err
	}
	s := &sheet{book: b, name: name, width: len(header)}
	err := b.paper(name, widths)
	if err != nil {
		return nil, err
	}
	if s.stream, err = b.file.NewStreamWriter(name); err != nil {
		return nil, err
	}
	for i, width := range widths {
		if err := s.stream.SetColWidth(i+1, i+1, width); err != nil {
			return nil, err
		}
	}
	if err := s.stream.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return nil, err
	}
	cells := make([]any, len(header))
	for i, h := range header {
		cells[i] = excelize.Cell{StyleID: b.head, Value: h}
	}
	return s, s.add(cells, excelize.RowOpts{Height: headHeight})
}

// headHeight, in points, takes the three lines of the longest header; a stream's rows
// have no height of their own by their text.
const headHeight = 46

// onePage is how wide a table is, in characters, that still reads well on one page.
const onePage = 200

// paper sets a sheet for printing: landscape, as few pages wide as can be read, with
// the header and the first column on each. It comes before the stream, which writes
// these properties first.
func (b *book) paper(name string, widths []float64) error {
	total := 0.0
	for _, w := range widths {
		total += w
	}
	yes, landscape, wide, tall := true, "landscape", int(math.Ceil(total/onePage)), 0
	if err := b.file.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &yes}); err != nil {
		return err
	}
	if err := b.file.SetPageLayout(name, &excelize.PageLayoutOptions{Orientation: &landscape, FitToWidth: &wide, FitToHeight: &tall}); err != nil {
		return err
	}
	if err := b.file.SetHeaderFooter(name, &excelize.HeaderFooterOptions{OddFooter: "&Lregister of records: &A&Rpage &P of &N"}); err != nil {
		return err
	}
	return b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", Scope: name, RefersTo: name + "!$A:$A," + name + "!$1:$1"})
}

func (s *sheet) add(cells []any, o ...excelize.RowOpts) error {
	s.row++
	at, err := excelize.CoordinatesToCellName(1, s.row)
	if err != nil {
		return err
	}
	return s.stream.SetRow(at, cells, o...)
}

// close ends the table with a filter over all its columns. The filter comes before
// the stream's end: after it, the library would read the whole sheet into memory.
func (s *sheet) close() error {
	last, err := excelize.CoordinatesToCellName(s.width, s.row)
	if err != nil {
		return err
	}
	if err := s.book.file.AutoFilter(s.name, "A1:"+last, nil); err != nil {
		return err
	}
	return s.stream.Flush()
}

func (b *book) styles() (err error) {
	grey := &excelize.Font{Family: "Calibri", Size: 11, Color: "767676"}
	if b.old, err = b.file.NewStyle(&excelize.Style{Font: grey}); err != nil {
		return err
	}
	b.grey = map[int]int{}
	for _, one := range []struct {
		id     *int
		format string
		align  *excelize.Alignment
	}{{&b.dates, "yyyy-mm-dd", &excelize.Alignment{Horizontal: "left"}}, {&b.powers, "0.0E+00;-0.0E+00;0", nil}} {
		if *one.id, err = b.file.NewStyle(&excelize.Style{CustomNumFmt: &one.format, Alignment: one.align}); err != nil {
			return err
		}
		if b.grey[*one.id], err = b.file.NewStyle(&excelize.Style{Font: grey, CustomNumFmt: &one.format, Alignment: one.align}); err != nil {
			return err
		}
	}
	b.head, err = b.file.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true, Family: "Calibri", Size: 11},
		Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	return err
}

// text is a cell that no spreadsheet program takes for a formula: the library
// stores it as a string, and characters that XML cannot hold are left out.
func text(s string) any {
	if s == "" {
		return nil
	}
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, s)
}

// day is a real date, or the text where it is none.
func (b *book) day(s string) any {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return text(s)
	}
	return excelize.Cell{StyleID: b.dates, Value: t}
}

// power is a number so small that it is read by its power of ten.
func (b *book) power(x any) any {
	if x == nil {
		return nil
	}
	return excelize.Cell{StyleID: b.powers, Value: x}
}

func (b *book) twice() []Twice {
	var list []Twice
	for _, t := range b.uses {
		if len(t.Jobs) > 1 {
			list = append(list, *t)
		}
	}
	sort.Slice(list, func(i, k int) bool { return list[i].SHA256 < list[k].SHA256 })
	return list
}
