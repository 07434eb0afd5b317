package load

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
)

const jobText = `format = 1
[job]
number = "2031-0147"
date = 2031-04-09
timezone = "America/Denver"
altitude = "1609 m"
[[instrument]]
id = "gauge"
measures = "vacuum"
range = "0 to 20000 micron"
[[readings]]
id = "evacuation"
file = "logs/gauge.csv"
instrument = "gauge"
[hold]
limit = "500 micron"
minutes = 10
`

// recordingText is ten minutes at 300 micron.
func recordingText() string {
	var b strings.Builder
	b.WriteString("Time,Vacuum [micron]\n")
	for i := range 60 {
		b.WriteString("2031-04-09 13:0" + string(rune('0'+i/6)) + ":" + string(rune('0'+i%6)) + "0,300\n")
	}
	return b.String()
}

func folder(t *testing.T, text string) (string, *os.Root) {
	t.Helper()
	dir := t.TempDir()
	write(t, filepath.Join(dir, "job.toml"), text)
	write(t, filepath.Join(dir, "logs", "gauge.csv"), recordingText())
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { root.Close() })
	return dir, root
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestLoad(t *testing.T) {
	_, root := folder(t, jobText)
	l, faults := Load(root.FS(), "job.toml", nil, Options{})
	if faults.Stops() {
		t.Fatal(faults)
	}
	s := l.Series["evacuation"]
	if s == nil || s.Len() != 60 {
		t.Fatalf("series %+v", s)
	}
	// 300 micron of mercury at 133.322387415 Pa a millimetre
	if p := s.P[0]; p < 39.9966 || p > 39.9968 {
		t.Errorf("%v Pa", p)
	}
	if len(l.Files) != 1 || l.Files[0].Name != "logs/gauge.csv" || string(l.JobFile) != jobText {
		t.Errorf("files %v", l.Files)
	}
}

// TestSameFromAttachments loads the same job from a file system in memory.
func TestSameFromAttachments(t *testing.T) {
	fsys := fstest.MapFS{"job.toml": {Data: []byte(jobText)}, "logs/gauge.csv": {Data: []byte(recordingText())}}
	l, faults := Load(fsys, "job.toml", nil, Options{})
	if faults.Stops() || l.Series["evacuation"].Len() != 60 {
		t.Fatal(faults)
	}
}

// TestApart: a hold on another day than its readings is doubted; one that reaches
// beyond them is not.
func TestApart(t *testing.T) {
	for stated, want := range map[string]string{
		"start = 2031-04-10T13:02:00\nend = 2031-04-10T13:08:00": "job.toml:18:9: hold.start: 2031-04-10 13:02:00: the hold is at no time in its readings; expected a time from 2031-04-09 13:00:00 to 2031-04-09 13:09:50",
		"start = 2031-04-09T01:02:00\nend = 2031-04-09T01:08:00": "job.toml:19:7: hold.end: 2031-04-09 01:08:00: the hold is at no time in its readings; expected a time from 2031-04-09 13:00:00 to 2031-04-09 13:09:50",
		"start = 2031-04-09T13:02:00\nend = 2031-04-09T14:08:00": "",
		"start = 2031-04-09T12:02:00":                            "",
	} {
		_, root := folder(t, jobText+stated+"\n")
		_, faults := Load(root.FS(), "job.toml", nil, Options{})
		if got := faults.Error(); got != want || faults.Stops() {
			t.Errorf("%s:\n%s\nwant %s", stated, got, want)
		}
	}
}

// TestJobFileItself: what stands in the place of job.toml is told as such.
func TestJobFileItself(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	if err := os.Mkdir(filepath.Join(dir, "job.toml"), 0o700); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "large.toml"), "")
	if err := os.Truncate(filepath.Join(dir, "large.toml"), 2*job.MaxFile); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"job.toml": "the folder another name", "large.toml": "name the right file"} {
		if _, faults := Load(root.FS(), name, nil, Options{}); len(faults) != 1 || !strings.Contains(faults[0].Mend, want) {
			t.Errorf("%s: %v", name, faults)
		}
	}
}

func TestFaults(t *testing.T) {
	outside := t.TempDir()
	write(t, filepath.Join(outside, "secret.csv"), recordingText())
	for _, c := range []struct {
		name, file string
		spoil      func(dir string) error
		kind       fault.Kind
		want, mend string
	}{
		{"missing", "logs/gage.csv", nil, fault.Readings, `job.toml:13:8: readings.file: there is no file "logs/gage.csv"; expected a file in the job's folder`, `did you mean "logs/gauge.csv"?`},
		{"folder", "logs", nil, fault.Readings, `job.toml:13:8: readings.file: "logs" is a folder; expected a file`, `name a file in it: logs/gauge.csv`},
		{"parent", "../secret.csv", nil, fault.Job, `job.toml:13:8: readings.file: "../secret.csv" leads out of the folder; expected a file in the job's folder`, "copy it into the folder of job.toml and write its name only"},
		{"full path", "/etc/passwd", nil, fault.Job, `job.toml:13:8: readings.file: "/etc/passwd" is a full path; expected a file in the job's folder`, "copy it into the folder of job.toml and write its name only"},
		{"drive", "C:/jobs/a.csv", nil, fault.Job, `job.toml:13:8: readings.file: "C:/jobs/a.csv" is a full path; expected a file in the job's folder`, "copy it into the folder of job.toml and write its name only"},
		{"link", "link.csv", func(dir string) error {
			return os.Symlink(filepath.Join(outside, "secret.csv"), filepath.Join(dir, "link.csv"))
		}, fault.Job, `job.toml:13:8: readings.file: "link.csv" is a link that leads out of the folder; expected a file in the job's folder`, "copy the file itself into the folder of job.toml"},
		{"linked folder", "far/secret.csv", func(dir string) error { return os.Symlink(outside, filepath.Join(dir, "far")) },
			fault.Job, `job.toml:13:8: readings.file: "far/secret.csv" is a link that leads out of the folder; expected a file in the job's folder`, "copy the file itself into the folder of job.toml"},
		{"link to nothing", "link.csv", func(dir string) error { return os.Symlink("gone.csv", filepath.Join(dir, "link.csv")) },
			fault.Readings, `job.toml:13:8: readings.file: "link.csv" is a link to a file that is not there; expected a file in the job's folder`, "copy the file itself into the folder of job.toml"},
		{"pipe", "pipe.csv", func(dir string) error { return syscall.Mkfifo(filepath.Join(dir, "pipe.csv"), 0o600) },
			fault.Readings, `job.toml:13:8: readings.file: "pipe.csv" is a device or a pipe; expected a file`, "copy what it gives into an ordinary file"},
		{"too large", "large.csv", func(dir string) error {
			write(t, filepath.Join(dir, "large.csv"), "")
			return os.Truncate(filepath.Join(dir, "large.csv"), MaxReadings+1)
		}, fault.Readings, `job.toml:13:8: readings.file: "large.csv" is larger than 256 MiB; expected an export of one job`, "export only the hours of this job"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir, root := folder(t, strings.Replace(jobText, "logs/gauge.csv", c.file, 1))
			if c.spoil != nil {
				if err := c.spoil(dir); err != nil {
					t.Skip("this system cannot make it: ", err)
				}
			}
			_, faults := Load(root.FS(), "job.toml", nil, Options{})
			if len(faults) != 1 {
				t.Fatalf("%d faults: %v", len(faults), faults)
			}
			if f := faults[0]; f.Kind != c.kind || f.Error() != c.want || f.Mend != c.mend {
				t.Errorf("kind %d\n got %s -> %s\nwant %s -> %s", f.Kind, f.Error(), f.Mend, c.want, c.mend)
			}
		})
	}
}

// A file that is named twice would be counted twice.
func TestNamedTwice(t *testing.T) {
	_, root := folder(t, strings.Replace(jobText, `"logs/gauge.csv"`, `["logs/gauge.csv", "logs/gauge.csv"]`, 1))
	_, faults := Load(root.FS(), "job.toml", nil, Options{})
	if len(faults) != 1 || faults[0].Error() != `job.toml:13:27: readings.file: the file "logs/gauge.csv" is named twice; expected each file once` {
		t.Error(faults)
	}
}

// TestAccents: some systems store "é" in a file's name as "e" and an accent.
func TestAccents(t *testing.T) {
	const whole, parted = "logs/\u00e9t\u00e9.csv", "logs/e\u0301te\u0301.csv"
	dir, root := folder(t, strings.Replace(jobText, "logs/gauge.csv", whole, 1))
	write(t, filepath.Join(dir, parted), recordingText())
	out, faults := Load(root.FS(), "job.toml", nil, Options{})
	if faults.Stops() || len(out.Files) != 1 || out.Files[0].Name != whole {
		t.Error(out.Files, faults)
	}
	write(t, filepath.Join(dir, "logs/e\u0301t\u00e9.csv"), recordingText())
	if _, faults := Load(root.FS(), "job.toml", nil, Options{}); !faults.Stops() {
		t.Error("one of two files was guessed")
	}
}

func TestInsideLink(t *testing.T) {
	dir, root := folder(t, strings.Replace(jobText, "logs/gauge.csv", "link.csv", 1))
	if err := os.Symlink(filepath.Join("logs", "gauge.csv"), filepath.Join(dir, "link.csv")); err != nil {
		t.Skip(err)
	}
	if _, faults := Load(root.FS(), "job.toml", nil, Options{}); faults.Stops() {
		t.Error(faults)
	}
}

func TestNoJobFile(t *testing.T) {
	_, faults := Load(fstest.MapFS{"jobs.toml": {}}, "job.toml", nil, Options{})
	if len(faults) != 1 || faults[0].Kind != fault.Job || faults[0].Mend != `did you mean "jobs.toml"?` {
		t.Errorf("%+v", faults)
	}
}

func pictureOf(t *testing.T, encode func(io.Writer, image.Image) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := encode(&b, image.NewGray(image.Rect(0, 0, 40, 30))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asJPEG(w io.Writer, m image.Image) error { return jpeg.Encode(w, m, nil) }

func TestPhotographs(t *testing.T) {
	jpg := pictureOf(t, asJPEG)
	// A comment with a place, as T.81, B.2.4.5 has it.
	marked := append(append(append([]byte{}, jpg[:2]...), 0xFF, 0xFE, 0, 7), append([]byte("GPS 1"), jpg[2:]...)...)
	one := "[[photograph]]\nfile = \"joint.jpg\"\ncaption = \"flare, remade\"\n"
	load := func(text string, data []byte) (*Loaded, string) {
		l, faults := Load(fstest.MapFS{"job.toml": {Data: []byte(jobText + text)}, "logs/gauge.csv": {Data: []byte(recordingText())}, "joint.jpg": {Data: data}}, "job.toml", nil, Options{})
		if !faults.Stops() {
			return l, ""
		}
		told := ""
		for _, f := range faults {
			told += f.Error() + "; " + f.Mend + "\n"
		}
		return l, told
	}
	l, fault := load(one+strings.Replace(one, "remade", "twice", 1), marked)
	if fault != "" || len(l.Files) != 2 || l.Files[1].Role != "photograph" || bytes.Contains(l.Files[1].Data, []byte("GPS")) {
		t.Errorf("%s: %d files", fault, len(l.Files))
	}
	for name, c := range map[string]struct {
		text string
		data []byte
		want string
	}{
		"no picture": {one, []byte("text"), "not a PNG or JPEG picture"},
		"damaged":    {one, jpg[:len(jpg)-20], "save it again"},
		"too large":  {one, make([]byte, 21<<20), "save it smaller"},
		"many":       {strings.Repeat(one, 13), jpg, "13 photographs"},
		"no caption": {"[[photograph]]\nfile = \"joint.jpg\"\n", jpg, "caption"},
		"no file":    {strings.Replace(one, "joint", "other", 1), jpg, "joint.jpg"},
	} {
		if _, fault := load(c.text, c.data); !strings.Contains(fault, c.want) {
			t.Errorf("%s: %q does not tell %q", name, fault, c.want)
		}
	}
}

func TestCompanyLogo(t *testing.T) {
	firm := &job.File{Name: "company.toml", Data: []byte("[company]\nname = \"Example\"\nlogo = \"logo.png\"\n")}
	fsys := fstest.MapFS{"job.toml": {Data: []byte(jobText)}, "logs/gauge.csv": {Data: []byte(recordingText())}}
	l, faults := Load(fsys, "job.toml", firm, Options{Company: fstest.MapFS{"logo.png": {Data: pictureOf(t, png.Encode)}}})
	if faults.Stops() || len(l.Files) != 2 || l.Files[1].Name != "company/logo.png" {
		t.Errorf("%v %v", faults, l.Files)
	}
	_, faults = Load(fsys, "job.toml", firm, Options{Company: fstest.MapFS{}})
	if len(faults) != 1 || faults[0].Where() != "company.toml:3:8" {
		t.Error(faults)
	}
}

// TestOptions: what the job tells of a recording reaches the reader. 20000
// micron of mercury are 2666.447748 Pa; at 1609 m the standard atmosphere has
// 83.4 kPa.
func TestOptions(t *testing.T) {
	text := strings.Replace(jobText, "[hold]\n", "[hold]\nstart = 2031-04-09T13:02:00\n", 1)
	fsys := fstest.MapFS{"job.toml": {Data: []byte(text)}, "logs/gauge.csv": {Data: []byte(recordingText())}}
	out, _ := Load(fsys, "job.toml", nil, Options{})
	l := &loader{out: out}
	o := l.options(out.Job.Readings[0])
	if o.RangeHigh < 2666.44 || o.RangeHigh > 2666.45 || o.RangeLow != 0 || o.Atmosphere < 83400 || o.Atmosphere > 83460 {
		t.Errorf("range %v to %v Pa, air %v Pa", o.RangeLow, o.RangeHigh, o.Atmosphere)
	}
	if o.HoldStart.UTC().Hour() != 19 || o.Zone.String() != "America/Denver" || o.ID != "evacuation" {
		t.Errorf("%+v", o)
	}
}

// TestDated: a job without its date is told when the readings begin.
func TestDated(t *testing.T) {
	fsys := fstest.MapFS{"job.toml": {Data: []byte(strings.Replace(jobText, "date = 2031-04-09\n", "", 1))}, "logs/gauge.csv": {Data: []byte(recordingText())}}
	_, faults := Load(fsys, "job.toml", nil, Options{})
	const want = "job.toml:2:1: job.date: missing; expected the day of the work; the readings begin on 2031-04-09"
	if len(faults) != 1 || faults[0].Error() != want || faults[0].Mend != "if that is the day, write date = 2031-04-09 under [job]" {
		t.Errorf("%v %q", faults, faults[0].Mend)
	}
}
