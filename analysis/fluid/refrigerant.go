package fluid

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
)

// Refrigerant is one row of the built-in table.
type Refrigerant struct {
	Name        string  // ASHRAE 34 / ISO 817 designation: "R-454B"
	MolarMass   float64 // kg/mol
	Composition string  // mass percentages, empty for a pure fluid
	Class       string  // ASHRAE 34 / ISO 817 safety class: "A1", "A2L", "A3"
	ClassSource string
	GWP         []GWP // over 100 years, the regulation's own value first

	// Coldest and Hottest bound the range in K in which the saturation equations
	// were checked against their equation of state.
	Coldest, Hottest float64
	// Spread is the error limit in K of a saturation temperature (half-width).
	Spread float64
	// Source names the equation of state and the equation fitted to it.
	Source string

	bubble, dew saturation
	vapour      Gas
}

// GWP is a global warming potential with the edition it belongs to.
type GWP struct {
	Value   float64
	Edition string
	Source  string
}

// saturation is p = pr exp((Tr/T) Σ n_i θ^t_i), θ = 1 - T/Tr.
type saturation struct {
	Tr, pr float64 // K, Pa
	n, t   []float64
}

func (s saturation) ln(T float64) float64 {
	θ, sum := 1-T/s.Tr, 0.0
	for i, n := range s.n {
		sum += n * math.Pow(θ, s.t[i])
	}
	return math.Log(s.pr) + s.Tr/T*sum
}

// Zeotropic reports whether bubble and dew temperatures differ in this table.
func (r *Refrigerant) Zeotropic() bool { return !slices.Equal(r.bubble.n, r.dew.n) }

// Flammable reports whether the safety class is other than 1.
func (r *Refrigerant) Flammable() bool { return !strings.HasSuffix(r.Class, "1") }

// Vapour is the refrigerant as a dilute gas.
func (r *Refrigerant) Vapour() Gas { return r.vapour }

// BubblePressure returns the pressure in Pa absolute at which liquid begins to
// boil at T in K.
func (r *Refrigerant) BubblePressure(T float64) (float64, error) {
	return r.pressure("bubble", r.bubble, T)
}

// DewPressure returns the pressure in Pa absolute at which vapour begins to
// condense at T in K.
func (r *Refrigerant) DewPressure(T float64) (float64, error) { return r.pressure("dew", r.dew, T) }

// BubbleTemperature returns the temperature in K at which liquid begins to boil
// at p in Pa absolute: subcooling is counted from it.
func (r *Refrigerant) BubbleTemperature(p float64) (float64, error) {
	return r.temperature("bubble", r.bubble, p)
}

// DewTemperature returns the temperature in K at which vapour begins to
// condense at p in Pa absolute: superheat is counted from it.
func (r *Refrigerant) DewTemperature(p float64) (float64, error) {
	return r.temperature("dew", r.dew, p)
}

func (r *Refrigerant) pressure(name string, s saturation, T float64) (float64, error) {
	what := fmt.Sprintf("%s pressure of %s", name, r.Name)
	if err := within(what, "temperature", T, r.Coldest, r.Hottest, "K"); err != nil {
		return 0, err
	}
	return math.Exp(s.ln(T)), nil
}

func (r *Refrigerant) temperature(name string, s saturation, p float64) (float64, error) {
	what := fmt.Sprintf("%s temperature of %s", name, r.Name)
	low, high := math.Exp(s.ln(r.Coldest)), math.Exp(s.ln(r.Hottest))
	if err := within(what, "absolute pressure", p, low, high, "Pa"); err != nil {
		return 0, err
	}
	return invert(s.ln, math.Log(p), r.Coldest, r.Hottest), nil
}

// Refrigerants returns the designations in the table, in its order.
func Refrigerants() []string {
	names := make([]string, len(refrigerants))
	for i := range refrigerants {
		names[i] = refrigerants[i].Name
	}
	return names
}

// LookUp finds a refrigerant by its designation; case, blanks and dashes do
// not count ("r454b"). The result must not be changed.
func LookUp(name string) (*Refrigerant, error) {
	for i := range refrigerants {
		if bare(refrigerants[i].Name) == bare(name) {
			return &refrigerants[i], nil
		}
	}
	return nil, fmt.Errorf("refrigerant %q is not in the table (%s)", name, strings.Join(Refrigerants(), ", "))
}

// bare reduces a designation to its letters and digits, in upper case; word
// processors write its hyphen as another dash.
func bare(name string) string {
	return strings.Map(func(c rune) rune {
		if unicode.IsSpace(c) || unicode.Is(unicode.Dash, c) {
			return -1
		}
		return c
	}, strings.ToUpper(name))
}
