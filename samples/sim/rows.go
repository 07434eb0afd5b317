package sim

import "math/rand/v2"

// A Row is one line of the log as a recorder writes it.
type Row struct {
	Time, Indicated, Ambient float64
	Mark                     Mark
}

// Rows returns the log as written: some rows twice, some neighbours swapped
// (the shares are in [Sampling]).
func (r *Recording) Rows() []Row {
	random := rand.New(rand.NewPCG(r.Scenario.Seed, 0xd1ce))
	s := &r.Scenario.Sampling
	rows := make([]Row, 0, len(r.Time)+len(r.Time)/20)
	for i, t := range r.Time {
		row := Row{t, r.Indicated[i], r.Ambient[i], r.Mark[i]}
		rows = append(rows, row)
		if random.Float64() < s.Repeated {
			rows = append(rows, row)
		}
	}
	for i := 1; i < len(rows); i++ {
		if random.Float64() < s.Swapped {
			rows[i-1], rows[i] = rows[i], rows[i-1]
		}
	}
	return rows
}
