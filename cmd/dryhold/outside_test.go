package main

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// judge is a program that is not ours and what it has to say of a PDF.
type judge struct {
	command string // FILE and DIR stand for the document and a folder for pictures
	says    string // what must be in its answer
	ignored string // lines that may be; where says is empty, no others
}

var renderers = []judge{
	{"qpdf --check FILE", "No syntax or stream encoding errors found", ""},
	{"mutool draw -N -o DIR/mupdf-%d.png FILE", "", `^page .* \d+$`}, // -N: Debian's MuPDF has no colour management, and says so
	{"pdftoppm -r 20 -png FILE DIR/poppler", "", ""},
	{"gs -q -dNOPAUSE -dBATCH -dSAFER -sDEVICE=png16m -r20 -o DIR/gs-%d.png FILE", "", ""},
	// Preflight 2.0 knows PDF/A-1b: these are what PDF/A-3 permits beyond it. Other names of letters (3.1.5) are permitted
	// where they are of the Adobe Glyph List and the font has a Microsoft Unicode map (ISO 19005-3, 6.2.11.6, from memory).
	{"java -cp " + preflight + " org.apache.pdfbox.preflight.Validator_A1b FILE", "",
		`^The file .* is not a valid PDF/A-1b file|^1\.4\.7 : .*EmbeddedFile|^1\.2\.9 : .*EmbeddedFile|^4\.1\.2 : Transparency|^2\.2\.1 : .*transparency|^7\.11\.2 : .*part must be 1|^3\.1\.5 : .*Encoding is invalid for the NonSymbolic TTF`},
}

const preflight = "/usr/share/java/preflight.jar:/usr/share/java/pdfbox2.jar:/usr/share/java/fontbox2.jar:/usr/share/java/xmpbox.jar:" +
	"/usr/share/java/commons-logging.jar:/usr/share/java/javax.activation.jar:/usr/share/java/jaxb-api.jar"

var signatures = []judge{{"pdfsig FILE", "Signature is Valid", ""}, {"pdfsig FILE", "Total document signed", ""}, {"pdfsig FILE", "ETSI.CAdES.detached", ""}}

// judged [-unsigned] FILE... has programs that are not ours look at documents.
func judged(ts *testscript.TestScript, _ bool, files []string) {
	list := slices.Concat(renderers, signatures)
	if files[0] == "-unsigned" {
		list, files = renderers, files[1:]
	}
	for _, j := range list {
		words := strings.Fields(j.command)
		if missing, err := condition("without:" + words[0]); missing || err != nil {
			ts.Check(err)
			continue
		}
		if _, err := os.Stat("/usr/share/java/preflight.jar"); words[0] == "java" && err != nil && os.Getenv("CI") == "" {
			continue
		}
		for _, file := range files {
			out := j.run(ts, words, file)
			if !strings.Contains(out, j.says) {
				ts.Fatalf("%s: %s\nexpected %q in\n%s", words[0], file, j.says, out)
			}
			for line := range strings.Lines(out) {
				line = strings.TrimSpace(line)
				if j.says == "" && line != "" && (j.ignored == "" || !regexp.MustCompile(j.ignored).MatchString(line)) {
					ts.Fatalf("%s: %s: %s", words[0], file, line)
				}
			}
		}
	}
}

func (j judge) run(ts *testscript.TestScript, words []string, file string) string {
	dir, err := os.MkdirTemp(ts.Getenv("WORK"), "pictures")
	ts.Check(err)
	defer os.RemoveAll(dir)
	var list []string
	for _, w := range words[1:] {
		list = append(list, strings.ReplaceAll(strings.ReplaceAll(w, "FILE", ts.MkAbs(file)), "DIR", dir))
	}
	out, err := exec.Command(words[0], list...).CombinedOutput()
	if err != nil && words[0] != "java" { // whose exit code says that this is no PDF/A-1
		ts.Fatalf("%s: %s: %v\n%s", words[0], file, err, out)
	}
	return string(out)
}

// cms FILE writes the signature and the bytes that it covers, by the byte range as any
// program reads it, as signature.der and covered.
func cms(ts *testscript.TestScript, _ bool, list []string) {
	data, err := os.ReadFile(ts.MkAbs(list[0]))
	ts.Check(err)
	var from, to, rest int
	m := regexp.MustCompile(`/ByteRange \[0 (\d+) +(\d+) +(\d+) *\]`).FindSubmatch(data)
	_, err = fmt.Sscan(string(bytes.Join(m[1:], []byte(" "))), &from, &to, &rest)
	ts.Check(err)
	raw, err := hex.DecodeString(string(data[from+1 : to-1]))
	ts.Check(err)
	ts.Check(os.WriteFile(filepath.Join(ts.MkAbs("."), "signature.der"), raw, 0o666))
	ts.Check(os.WriteFile(filepath.Join(ts.MkAbs("."), "covered"), slices.Concat(data[:from], data[to:]), 0o666))
}
