package job

import "time"

// Date is a calendar day; DateTime an instant, in the job's zone. Both are
// zero when the key was absent.
type (
	Date     struct{ time.Time }
	DateTime struct{ time.Time }
)

// Given reports whether the key was there.
func (d Date) Given() bool     { return !d.IsZero() }
func (d DateTime) Given() bool { return !d.IsZero() }

// Texts is one string or an array of strings.
type Texts []string
