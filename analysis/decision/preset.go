package decision

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"

	"dryhold/analysis/quantity"
)

// Preset is a criterion that a job can name, with where it comes from and how
// sure that is.
type Preset struct {
	Name         string `toml:"name"`
	Text         string `toml:"text"`         // the criterion in words
	Source       string `toml:"source"`       // publication and clause
	Certainty    string `toml:"certainty"`    // how its text is known
	Jurisdiction string `toml:"jurisdiction"` // "" where it has none
	Note         string `toml:"note"`

	ChargeOver   quantity.Mass `toml:"charge_over"` // the charges that the text is for
	ChargeUnder  quantity.Mass `toml:"charge_under"`
	Reach        quantity.Pressure
	Limit        quantity.Pressure
	MaxRise      quantity.Pressure `toml:"max_rise"`
	Minutes      float64
	Evacuations  int
	RiseUnstated bool `toml:"rise_unstated"`

	// Asks lists the keys that the job must give because the preset has no
	// numbers of its own.
	Asks []string `toml:"asks"`
}

//go:embed presets.toml
var presetsTOML string

var presets = mustPresets(presetsTOML)

// mustPresets reads the embedded table; a fault in it is a fault of the build
// and shows in every test.
func mustPresets(text string) []Preset {
	var table struct {
		Preset []Preset `toml:"preset"`
	}
	meta, err := toml.Decode(text, &table)
	if err != nil {
		panic(fmt.Sprintf("decision: presets.toml: %v", err))
	}
	if odd := meta.Undecoded(); len(odd) > 0 {
		panic(fmt.Sprintf("decision: presets.toml: unknown keys %v", odd))
	}
	return table.Preset
}

// Presets returns all criteria that a job can name, in the table's order.
func Presets() []Preset { return slices.Clone(presets) }

// Find returns the preset of a name.
func Find(name string) (Preset, error) {
	var names []string
	for _, p := range presets {
		if p.Name == name {
			return p, nil
		}
		names = append(names, p.Name)
	}
	return Preset{}, fmt.Errorf("%q is not a known criterion (%s)", name, strings.Join(names, ", "))
}

// Deciding reports whether the preset can lead to a pass: it has a number for
// what may happen during the hold, or the job gives it.
func (p Preset) Deciding() bool { return !p.RiseUnstated }

// Criterion is the preset in numbers; for one that [Preset.Asks], all but the
// job's own numbers.
func (p Preset) Criterion() Criterion {
	return Criterion{
		Reach: p.Reach.SI, Limit: p.Limit.SI, MaxRise: p.MaxRise.SI,
		Duration: quantity.Minute.SI(p.Minutes), Rounds: p.Evacuations, RiseUnstated: p.RiseUnstated,
	}
}

// Covers reports whether the preset's text is for a charge in kg; a charge that
// is not known (0) is not judged.
func (p Preset) Covers(charge float64) bool {
	return charge <= 0 ||
		(!p.ChargeOver.Given() || charge >= p.ChargeOver.SI) && (!p.ChargeUnder.Given() || charge <= p.ChargeUnder.SI)
}
