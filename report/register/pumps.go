package register

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// unnamed stands for every pump that no job names: it may be several, so their
// jobs are not counted, nor their readings joined by a line.
const unnamed = "not named in the job"

// pumpSheet lists the checks of each pump in time, with the jobs since its oil was
// changed, and draws its readings.
func (b *book) pumpSheet() error {
	s, err := b.sheet("pumps", []string{"pump", "date", "job", "reading straight on the pump (micron)", "result", "oil changed", "jobs since the oil was changed"},
		[]float64{24, 12, 18, 16, 18, 12, 16})
	if err != nil {
		return err
	}
	slices.SortStableFunc(b.pumps, func(x, y pumpRow) int {
		last := map[bool]int{true: 1}
		return cmp.Or(cmp.Compare(last[x.pump == unnamed], last[y.pump == unnamed]), strings.Compare(x.pump, y.pump), strings.Compare(x.date, y.date), strings.Compare(x.job, y.job))
	})
	since, before := 0, ""
	for _, p := range b.pumps {
		since++
		if p.pump != before {
			since, before = 1, p.pump
		}
		changed := any(nil)
		if p.check.OilChanged != nil {
			changed = map[bool]string{true: "yes", false: "no"}[*p.check.OilChanged]
			if *p.check.OilChanged {
				since = 0
			}
		}
		jobs := any(since)
		if p.pump == unnamed {
			jobs = nil
		}
		if err := s.add([]any{text(p.pump), b.day(p.date), text(p.job), micron(p.check.Reading, nil), text(p.check.Result), changed, jobs}); err != nil {
			return err
		}
	}
	if len(b.pumps) > 0 { // before the stream's end, as the filter
		if err := b.pumpChart(); err != nil {
			return err
		}
	}
	return s.close()
}

// Colours and marks of the pumps' lines, so that they can be told apart in print too.
var (
	lineColours = []string{"1F4E79", "C55A11", "548235", "7F6000", "7030A0", "404040"}
	lineMarks   = []string{"circle", "square", "diamond", "triangle"}
)

// pumpChart draws at most twenty pumps, one line each, beside the table.
func (b *book) pumpChart() error {
	var series []excelize.ChartSeries
	for from := 0; from < len(b.pumps) && len(series) < 20; {
		to := from
		for to < len(b.pumps) && b.pumps[to].pump == b.pumps[from].pump {
			to++
		}
		n := len(series)
		fill := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{lineColours[n%len(lineColours)]}}
		line := excelize.LineOptions{Type: excelize.LineSolid, Fill: fill, Width: 1.25}
		if b.pumps[from].pump == unnamed {
			line.Type = excelize.LineNone
		}
		series = append(series, excelize.ChartSeries{
			Name:       fmt.Sprintf("pumps!$A$%d", from+2),
			Categories: fmt.Sprintf("pumps!$B$%d:$B$%d", from+2, to+1),
			Values:     fmt.Sprintf("pumps!$D$%d:$D$%d", from+2, to+1),
			Line:       line,
			Fill:       fill,
			Marker:     excelize.ChartMarker{Symbol: lineMarks[n%len(lineMarks)], Size: 6, Fill: fill},
		})
		from = to
	}
	heading := "Reading straight on the pump, micron: a line that climbs is a pump that tires"
	if last := series[len(series)-1]; !strings.HasSuffix(last.Values, fmt.Sprintf("$%d", len(b.pumps)+1)) {
		heading += fmt.Sprintf(" (the first %d pumps)", len(series))
	}
	title := func(s string) excelize.ChartTitle {
		return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: s, Font: &excelize.Font{Size: 11, Color: "000000"}}}}
	}
	black := excelize.Font{Color: "000000"}
	return b.file.AddChart("pumps", "I2", &excelize.Chart{Type: excelize.Scatter, Series: series,
		Title:     title(heading),
		Legend:    excelize.ChartLegend{Position: "bottom"},
		XAxis:     excelize.ChartAxis{NumFmt: excelize.ChartNumFmt{CustomNumFmt: "yyyy-mm-dd"}, Font: black},
		YAxis:     excelize.ChartAxis{MajorGridLines: true, Minimum: new(float64), Font: black},
		Dimension: excelize.ChartDimension{Width: 860, Height: 420}})
}
