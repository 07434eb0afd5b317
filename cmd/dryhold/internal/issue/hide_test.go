package issue

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"strings"
	"testing"

	"dryhold/analysis/job"
)

// However the customer is written in the job file, the copy reads as the same job
// with the digests for its texts, and holds none of them.
func TestHide(t *testing.T) {
	for name, text := range map[string]string{
		"tables":    "[customer]\nname = \"Ada Sample\" # Ada Sample\n[site]\naddress = 'Nowhere # 1'\n",
		"dotted":    "customer.name = 'Ada Sample'\nsite.\"address\" = \"Nowhere # 1\"\n",
		"inline":    "customer = { name = \"Ada Sample\", contact = \"it's\" }\nsite={address='''\nNowhere # 1'''}\n",
		"escapes":   "[customer]\nname = \"Ada \\u0053ample\"\n[site]\naddress = \"\"\"Nowhere # \\\n  1\"\"\"\n",
		"CR LF":     "[customer] # Ada Sample\r\nname = 'Ada Sample'\r\n[site]\r\naddress = 'Nowhere # 1'\r\n",
		"mark":      "\xef\xbb\xbf[customer]\nname = 'Ada Sample'\n[site]\naddress = 'Nowhere # 1'\n",
		"same line": "customer = { contact = \"ä#ß\", name = \"Ada Sample\" } # é\nsite.address = 'Nowhere # 1'",
	} {
		t.Run(name, func(t *testing.T) {
			text := []byte(text)
			j, _ := job.Decode(job.File{Name: jobName, Data: text}, nil, nil)
			if j.Customer.Name != "Ada Sample" || j.Site.Address != "Nowhere # 1" {
				t.Fatalf("%+v %+v", j.Customer, j.Site)
			}
			list := customerTexts(j, []byte("salt"))
			hidden, err := hide(j, text, list)
			if err != nil {
				t.Fatal(err)
			}
			for _, word := range []string{"Ada", "ample", "Nowhere", "ä", "é"} {
				if strings.Contains(string(hidden), word) {
					t.Errorf("%q stands in:\n%s", word, hidden)
				}
			}
			again, _ := job.Decode(job.File{Name: jobName, Data: hidden}, nil, nil)
			want := *j
			for _, w := range list {
				switch w.path {
				case "customer.name":
					want.Customer.Name = w.Digest
				case "customer.contact":
					want.Customer.Contact = w.Digest
				case "site.address":
					want.Site.Address = w.Digest
				}
			}
			if again.Customer != want.Customer || again.Site != want.Site {
				t.Errorf("reads as %+v %+v:\n%s", again.Customer, again.Site, hidden)
			}
		})
	}
}

// The expected digest is OpenSSL's:
// printf 'customer.name=Ada' | openssl dgst -sha256 -hmac salt
func TestDigestOf(t *testing.T) {
	const want = "66a3081ebe5c3bb957379bd2f99470052920d50629c3d5f07b8cd9a4319c1183"
	if got := digestOf([]byte("salt"), "customer.name", "Ada"); got != want {
		t.Errorf("got %s", got)
	}
}

// A withheld text is found whatever the file packs it in.
func TestLeaks(t *testing.T) {
	var zipped, gzipped bytes.Buffer
	z := zip.NewWriter(&zipped)
	part, err := z.Create("xl/sharedStrings.xml")
	if err != nil {
		t.Fatal(err)
	}
	part.Write([]byte("<t>for Ada &amp; Son</t>"))
	z.Close()
	g := gzip.NewWriter(&gzipped)
	g.Write([]byte("time;for ada & son;"))
	g.Close()
	list := []withheld{{Key: "customer.name", Value: "Ada & Son"}, {Key: "site.permit", Value: "12"}}
	files := map[string][]byte{"a.csv": []byte("ADA & SON"), "b.xlsx": zipped.Bytes(), "c.csv.gz": gzipped.Bytes(),
		"d.csv": []byte("\xff\xfeA\x00d\x00a\x00 \x00&\x00 \x00S\x00o\x00n\x00"), "Ada & Son.csv": nil, "clean.csv": []byte("Ada, son 12")}
	found := leaks(files, list)
	if len(found) != len(files)-1 {
		t.Errorf("%d found: %v", len(found), found)
	}
	for _, f := range found {
		if f.File == "clean.csv" || !strings.Contains(f.Found, "customer.name") {
			t.Errorf("%+v", f)
		}
	}
}
