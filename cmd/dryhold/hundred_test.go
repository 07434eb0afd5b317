package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// spoilt is one way to break a job, and what the office reads then.
type spoilt struct {
	sample, file, old, new string // an empty old puts new in the place of the file
	says                   string
}

var spoilts = []spoilt{
	{"slow-leak", "gauge-log.csv", "", "", "gauge-log.csv: the file is empty"},
	{"clean-install", "vacuum.xlsx", "", "PK\x03\x04 and no more", "vacuum.xlsx: the workbook is damaged"},
	{"slow-leak", "job.toml", "isolated_at =", "isolatd_at =", "job.toml:39:1: boundary.isolatd_at: no such key"},
	{"wet-hold", "job.toml", `"85.0 kPa"`, `"85.0 bar"`, `"bar" does not say from where it is counted`},
	{"slow-leak", "job.toml", `"gauge-log.csv"`, `"../gauge-log.csv"`, "leads out of the folder"},
	{"slow-leak", "job.toml", "refrigerant = \"R-410A\"", "refrigerant = \"R-410A", "a text without its closing quotation mark"},
	{"slow-leak", "job.toml", "limit = \"500 micron\"", "acceptance = \"comon-practice\"", `"comon-practice" is not the name of a criterion`},
	{"clean-install", "job.toml", `"vacuum.xlsx"`, `"vacum.xlsx"`, `there is no file "vacum.xlsx"`},
	{"form", "job.xlsx", "", "number;date", "job.xlsx: the workbook cannot be read"},
	{"form", "job.xlsx", "job.date=", "", "job.xlsx!Job:B7: Date of the work: missing"},
}

func (s spoilt) spoil(t *testing.T, job string) {
	t.Helper()
	path := filepath.Join(job, s.file)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	switch {
	case s.old == "":
		write(t, path, []byte(s.new))
	case s.file == "job.xlsx":
		if err := fillForm(path, s.old); err != nil {
			t.Fatal(err)
		}
	case !bytes.Contains(data, []byte(s.old)):
		t.Fatalf("%s does not hold %s", path, s.old)
	default:
		write(t, path, bytes.Replace(data, []byte(s.old), []byte(s.new), 1))
	}
}

// sampleJob copies a sample under another number; "form" is slow-leak's recording
// with a filled form.
func sampleJob(t *testing.T, job, sample, number string) {
	t.Helper()
	from := sample
	if sample == "form" {
		from = "slow-leak"
	}
	if err := os.CopyFS(job, os.DirFS(filepath.Join("../../samples", from))); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(job, "job.toml")
	if sample == "form" {
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
		if code := run([]string{"form", job}, nil, io.Discard, io.Discard); code != 0 {
			t.Fatal("form gives exit code", code)
		}
		if err := fillForm(filepath.Join(job, "job.xlsx"), "job.number="+number, "job.date=2031-05-20", "job.timezone=America/Denver", "system.refrigerant=R-410A",
			"readings.instrument@1=vacuum-1", "hold.start=2031-05-20 13:20:40", "hold.end=2031-05-20 14:01:00", "hold.limit=500", "hold.minutes=10"); err != nil {
			t.Fatal(err)
		}
		return
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(text), "number = \"")
	old, _, _ := strings.Cut(rest, "\"")
	write(t, path, bytes.Replace(text, []byte(old), []byte(number), 1))
}

// A hundred mixed jobs, of which ten are broken in ten ways: ninety records, and
// ten messages that say which job, what, and where. No other job notices.
func TestHundred(t *testing.T) {
	every := 10
	if testing.Short() {
		every = 2
	}
	dir := t.TempDir()
	company, err := os.ReadFile("../../samples/company.toml")
	if err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "jobs", "company.toml"), append(company, "audience = [\"inspector\"]\n"...))
	samples := []string{"slow-leak", "form", "wet-hold", "clean-install", "short-hold"}
	jobs := every * len(spoilts)
	for i := range jobs {
		job, sample := filepath.Join(dir, "jobs", fmt.Sprintf("job-%03d", i)), samples[i%len(samples)]
		if i%every == 0 {
			sample = spoilts[i/every].sample
		}
		sampleJob(t, job, sample, fmt.Sprintf("N-%03d", i))
		if i%every == 0 {
			spoilts[i/every].spoil(t, job)
		}
	}
	t.Setenv("DRYHOLD_CONFIG", filepath.Join(dir, "config"))
	var out, errs bytes.Buffer
	code := run([]string{"make", filepath.Join(dir, "jobs"), "--out", filepath.Join(dir, "records")}, nil, &out, &errs)
	made := jobs - len(spoilts)
	if n := whole(t, filepath.Join(dir, "records")); code != codeReadings || n != 2*made {
		t.Errorf("exit code %d and %d files, want %d and %d", code, n, codeReadings, 2*made)
	}
	if want := fmt.Sprintf("%d of %d jobs have their records, %d have not", made, jobs, len(spoilts)); !strings.Contains(out.String(), want) {
		t.Errorf("the table does not end with %q:\n%s", want, out.String())
	}
	var told []string
	for _, line := range strings.Split(errs.String(), "\n") {
		if strings.HasPrefix(line, "dryhold: error: ") {
			told = append(told, line)
		}
	}
	if len(told) != len(spoilts) {
		t.Errorf("%d messages, want %d:\n%s", len(told), len(spoilts), strings.Join(told, "\n"))
	}
	for k, s := range spoilts {
		job := fmt.Sprintf("job-%03d", k*every)
		n := 0
		for _, line := range told {
			if strings.Contains(line, job) && strings.Contains(line, s.says) {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%s: %q is told %d times in\n%s", job, s.says, n, strings.Join(told, "\n"))
		}
	}
}
