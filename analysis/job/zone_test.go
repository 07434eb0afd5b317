package job

import (
	"testing"
	"time"
)

// The clocks of Denver went back on 2 November 2031 at 02:00, UTC-6 to UTC-7 (the IANA time zone database).
func TestWritten(t *testing.T) {
	denver, err := time.LoadLocation("America/Denver")
	if err != nil {
		t.Fatal(err)
	}
	for utc, want := range map[string]string{
		"2031-11-02T06:59:59Z": "2031-11-02T00:59:59",
		"2031-11-02T07:00:00Z": "2031-11-02T01:00:00-06:00",
		"2031-11-02T07:59:59Z": "2031-11-02T01:59:59-06:00",
		"2031-11-02T08:00:00Z": "2031-11-02T01:00:00-07:00",
		"2031-11-02T08:59:59Z": "2031-11-02T01:59:59-07:00",
		"2031-11-02T09:00:00Z": "2031-11-02T02:00:00",
		"2031-03-09T09:00:00Z": "2031-03-09T03:00:00",
	} {
		at, err := time.Parse(time.RFC3339, utc)
		if err != nil {
			t.Fatal(err)
		}
		if got := Written(at, denver); got != want {
			t.Errorf("%s: %s, want %s", utc, got, want)
		}
	}
	if got := Told(time.Date(2031, 11, 2, 7, 30, 0, 0, time.UTC), denver); got != "2031-11-02 01:30:00-06:00" {
		t.Error(got)
	}
}
