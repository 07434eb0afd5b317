package report

import (
	"strings"
	"testing"

	"dryhold/analysis/record"
)

// TestSettle has open points whose remedy depends on why they are open: the pages
// say the same in both languages.
func TestSettle(t *testing.T) {
	for _, c := range []struct {
		code, why, en, es string
		longer            float64
	}{
		{"cause", "too-few-readings", "more readings", "más lecturas", 0},
		{"cause", "two-causes", "a hold of about 42 minutes", "una prueba de unos 42\u00a0min", 2520},
		{"cause", "at the far end", "a longer hold", "una prueba más larga", 0},
		{"cause", "two-causes", "away from the pump side", "lejos de la bomba", 0},
		{"decision", "too-uncertain", "a gauge of smaller uncertainty", "un vacuómetro de menor incertidumbre", 0},
		{"decision", "too-short", "over the whole time agreed", "durante todo el tiempo acordado", 0},
	} {
		r := testRecord()
		r.Hold.CauseNote, r.Hold.DecisionNote, r.Hold.LongerHold = &record.Note{Code: c.why}, &record.Note{Code: c.why}, nil
		r.Job.Boundary.GaugeAt = "pump side"
		if c.why == "at the far end" {
			r.Job.Boundary.GaugeAt = "far end"
		}
		if c.longer > 0 {
			r.Hold.LongerHold = record.Plain(c.longer, "s")
		}
		for lang, want := range map[string]string{"en": c.en, "es": c.es} {
			b, err := newBuilder(r, Options{Audience: "inspector", Language: lang})
			if err != nil {
				t.Fatal(err)
			}
			if got := b.settle(&record.Note{Code: c.code, Settle: c.en}); !strings.Contains(got, want) || c.why == "at the far end" && got != want {
				t.Errorf("%s, %s, %s: %q, want %q", c.code, c.why, lang, got, want)
			}
		}
	}
}

// TestOverRange has a reading over the gauge's range: it is that or more, without an
// uncertainty; and a guard band larger than the limit leaves nothing that passes.
func TestOverRange(t *testing.T) {
	const micron = 0.133322387415
	for _, audience := range []string{"homeowner", "inspector", "warranty"} {
		r := testRecord()
		h := r.Hold
		h.ReadingAtLimit, h.AtLeast, h.StandardUncertainty, h.GuardBand, h.Budget = record.Plain(20000*micron, "Pa"), true, nil, nil, nil
		h.Decision, h.Criteria = "fail", nil
		_, all := drawn(t, r, testOptions(audience))
		if s := joined(all); !strings.Contains(s, "over its range") || strings.Contains(s, "20,000 ±") || audience == "inspector" && !strings.Contains(s, "at least 20,000") {
			t.Errorf("%s: %s", audience, s)
		}
		h.ReadingAtLimit, h.AtLeast, h.StandardUncertainty, h.GuardBand = record.Plain(300*micron, "Pa"), false, record.Plain(500*micron, "Pa"), record.Plain(822*micron, "Pa")
		_, all = drawn(t, r, testOptions(audience))
		if s := joined(all); !strings.Contains(s, "no smaller") || strings.Contains(s, "pass up to") {
			t.Errorf("%s: %s", audience, s)
		}
	}
}
