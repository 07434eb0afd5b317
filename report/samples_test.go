package report

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"dryhold/analysis"
	"dryhold/analysis/job"
	"dryhold/analysis/load"
	"dryhold/analysis/record"
	"dryhold/templates"
)

// sample is the record of a demo job as the pages get it: from results.json.
type sample struct {
	name   string
	rec    *record.Record
	digest string
	files  []string
}

var sampleRecords = sync.OnceValues(func() ([]sample, error) {
	dirs, err := filepath.Glob(filepath.Join("..", "samples", "*", "job.toml"))
	if err != nil || len(dirs) == 0 {
		return nil, os.ErrNotExist
	}
	company, err := os.ReadFile(filepath.Join("..", "samples", "company.toml"))
	if err != nil {
		return nil, err
	}
	var all []sample
	for _, d := range dirs {
		s := sample{name: filepath.Base(filepath.Dir(d))}
		l, faults := load.Load(os.DirFS(filepath.Dir(d)), "job.toml", &job.File{Name: "company.toml", Data: company}, load.Options{Glyph: HasGlyph})
		if faults.Stops() {
			return nil, faults
		}
		rec, faults := analysis.Run(l.Job, l.Series, analysis.Options{Software: record.Software{Name: "Dryhold", Version: "test"}, Doubts: faults})
		if faults.Stops() {
			return nil, faults
		}
		results, err := rec.JSON()
		if err != nil {
			return nil, err
		}
		if s.rec, err = record.Parse(results); err != nil {
			return nil, err
		}
		s.digest = record.Digest(results)
		s.files = []string{"results.json", "job.toml", "company.toml"}
		for _, f := range l.Files {
			s.files = append(s.files, f.Name)
		}
		all = append(all, s)
	}
	return all, nil
})

var variants = []struct{ lang, units, paper string }{{"en", "us", "letter"}, {"es", "si", "a4"}, {"es", "us", "letter"}, {"en", "si", "a4"}}

// eachSample draws every demo job for every audience, language and paper.
func eachSample(t *testing.T, visit func(t *testing.T, s sample, o Options, d *Drawn, all []text)) {
	all, err := sampleRecords()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range all {
		for _, a := range templates.Audiences {
			for _, v := range variants {
				t.Run(strings.Join([]string{s.name, a, v.lang, v.paper}, "-"), func(t *testing.T) {
					o := testOptions(a)
					o.Language, o.Units, o.Paper = v.lang, v.units, v.paper
					o.Digest, o.Attachments = s.digest, s.files
					d, all := drawn(t, s.rec, o)
					visit(t, s, o, d, all)
				})
			}
		}
	}
}

// TestSamplePages holds every record of the demo jobs: nothing lies outside the
// measure, the warranty desk has one page, the homeowner two at most.
func TestSamplePages(t *testing.T) {
	most := map[string]int{"homeowner": 2, "warranty": 1, "inspector": 6}
	eachSample(t, func(t *testing.T, s sample, o Options, d *Drawn, all []text) {
		inside(t, o, all)
		sound(t, o, all)
		if d.Pages > most[o.Audience] {
			t.Errorf("%d pages", d.Pages)
		}
	})
}

// TestSignoffInCompany: no page begins with the sign-off or with what the signature means, so none holds nothing else.
func TestSignoffInCompany(t *testing.T) {
	const top = 22 * mm // of the text on pages after the first, under the running head
	eachSample(t, func(t *testing.T, s sample, o Options, _ *Drawn, all []text) {
		b, err := newBuilder(s.rec, o)
		if err != nil {
			t.Fatal(err)
		}
		first := map[int]text{} // titles stand at the left
		for _, x := range all {
			if f, ok := first[x.page]; x.page > 0 && x.y > top && (!ok || x.x < f.x || x.x == f.x && x.y < f.y) {
				first[x.page] = x
			}
		}
		for page, x := range first {
			if x.s == b.w("section.signoff") || x.s != "" && strings.HasPrefix(b.w("section.signature"), x.s) { // its first line
				t.Errorf("page %d begins with %q", page+1, x.s)
			}
		}
	})
}

// TestLongerNames: with names, addresses and numbers a third longer the warranty desk still has one page.
func TestLongerNames(t *testing.T) {
	longer := func(texts ...*string) {
		for _, s := range texts {
			more := []rune(strings.Repeat(" Vallecito Montgomery", 9))
			*s += string(more[:min(len(more), (len([]rune(*s))+2)/3)])
		}
	}
	eachSample(t, func(t *testing.T, s sample, o Options, _ *Drawn, _ []text) {
		if o.Audience != "warranty" {
			return
		}
		data, err := s.rec.JSON()
		if err != nil {
			t.Fatal(err)
		}
		r, err := record.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		j := &r.Job
		longer(&j.Customer.Name, &j.Site.Address, &j.Site.Permit, &j.Company.Name, &j.Company.Address, &j.Technician.Name, &j.Technician.Certification, &o.Signer)
		for i := range j.Equipment {
			longer(&j.Equipment[i].Maker, &j.Equipment[i].Model)
			j.Equipment[i].Serial += "0123"
		}
		for i := range r.Signoffs {
			longer(&r.Signoffs[i].Name)
		}
		for i := range j.Boundary.Excluded {
			longer(&j.Boundary.Excluded[i])
		}
		d, err := Pages(r, o)
		if err != nil {
			t.Fatal(err)
		}
		if d.Pages != 1 {
			t.Errorf("%d pages", d.Pages)
		}
	})
}
