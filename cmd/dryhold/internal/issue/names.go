package issue

import (
	"fmt"

	"dryhold/cmd/dryhold/internal/place"
)

// stem is NUMBER, or NUMBER.r2 for a revision.
func stem(number string, revision int) string {
	if revision < 2 {
		return number
	}
	return fmt.Sprintf("%s.r%d", number, revision)
}

func resultsName(number string, revision int) string { return stem(number, revision) + ".results.json" }

func pdfName(number string, revision int, audience string) string {
	return stem(number, revision) + "." + audience + ".pdf"
}

// Audiences are all tellings of a record, in the order of the files.
var Audiences = []string{"homeowner", "inspector", "warranty"}

// latest is the highest revision of which the folder holds any file; 0 for none.
func latest(out *place.Folder, number string) int {
	last := 0
	for r := 1; ; r++ {
		found := out.Exists(resultsName(number, r))
		for _, audience := range Audiences {
			found = found || out.Exists(pdfName(number, r, audience))
		}
		switch {
		case found:
			last = r
		case r > last+1: // the first may have been made elsewhere
			return last
		}
	}
}
