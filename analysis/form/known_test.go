package form

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/job"
)

// TestKnown: what was found in the folder and what the firm has stand in the form
// at first, and are read back.
func TestKnown(t *testing.T) {
	day := time.Date(2031, 5, 20, 13, 0, 0, 0, time.UTC)
	data, err := Template(Known{Criteria: []string{"maker", "common-practice"}, Offers: map[string][]string{"job.timezone": job.Zones()}, Instruments: []job.Instrument{{ID: "gauge", Measures: "vacuum", Serial: "007"}},
		Recordings: []job.Recording{{ID: "nitrogen", Files: []string{"n2.csv"}, Measures: "pressure", Columns: "time A, pressure B psig"},
			{ID: "vacuum", Files: []string{"log 1.xlsx", "log 2.xlsx"}, Sheet: "Log", Measures: "vacuum", Instrument: "gauge", Columns: "time A", First: day, Last: day.Add(time.Hour)}}})
	if err != nil {
		t.Fatal(err)
	}
	got := string(Read(job.File{Name: "job.xlsx", Data: data}).JobFile)
	for _, want := range []string{"id = \"nitrogen\"\nfile = \"n2.csv\"\n", "id = \"vacuum\"\nfile = [\"log 1.xlsx\", \"log 2.xlsx\"]\nsheet = \"Log\"\ninstrument = \"gauge\"\n",
		"[evacuation]\nreadings = \"vacuum\"", "[hold]\nreadings = \"vacuum\"", "[pressure_test]\nreadings = \"nitrogen\"", "serial = \"007\""} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	heads, err := f.SearchSheet("Readings", "Found in the file")
	if err != nil || len(heads) != 1 {
		t.Fatal(heads, err)
	}
	found := heads[0]
	for at, want := range map[string]string{"Job!D7": "the readings begin on 2031-05-20", "Job!B7": "", "Events!A3": "2031-05-20 13:05:00", "Readings!" + found[:1] + "6": "2031-05-20 13:00:00 to 2031-05-20 14:00:00; time A"} {
		sheet, cell, _ := strings.Cut(at, "!")
		if got, _ := f.GetCellValue(sheet, cell); got != want {
			t.Errorf("%s: got %q, want %q", at, got, want)
		}
	}
	lists, err := f.GetDataValidations(mainSheet)
	if err != nil {
		t.Fatal(err)
	}
	offered := map[string]string{}
	for _, v := range lists {
		offered[v.Sqref] = v.Formula1
	}
	if !strings.Contains(offered["B8:B8"], "America/Denver") || offered["B60:B60"] != `"maker,common-practice"` {
		t.Errorf("%v", offered)
	}
}

func TestTemplateIsTheSame(t *testing.T) {
	in := job.Instrument{ID: "gauge", Measures: "vacuum", Serial: "007"}
	first, err := Template(Known{Instruments: []job.Instrument{in}})
	if err != nil {
		t.Fatal(err)
	}
	for range 5 {
		if again, _ := Template(Known{Instruments: []job.Instrument{in}}); !bytes.Equal(first, again) {
			t.Fatal("two forms differ")
		}
	}
}

// TestWhole: every table of the job file has its part of the form.
func TestWhole(t *testing.T) {
	have := map[string]bool{"format": true, "key": true} // the file's version, and what belongs to company.toml
	for _, s := range sections {
		have[s.table] = true
	}
	for _, l := range lists {
		have[l.table] = true
	}
	var look func(v reflect.Type, path string)
	look = func(v reflect.Type, path string) {
		for i := range v.NumField() {
			name := v.Field(i).Tag.Get("toml")
			if name == "" || name == "-" {
				continue
			}
			field := v.Field(i).Type
			for field.Kind() == reflect.Pointer || field.Kind() == reflect.Slice {
				field = field.Elem()
			}
			ours := field.Kind() == reflect.Struct && field.PkgPath() == v.PkgPath() && job.Keys(path+name) != nil
			if (ours || path == "") && !have[path+name] {
				t.Errorf("the form has no part for [%s]", path+name)
			}
			if ours {
				look(field, path+name+".")
			}
		}
	}
	look(reflect.TypeFor[job.Job](), "")
}
