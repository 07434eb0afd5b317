package vacuum

import "math"

const (
	plateauTime = 120.0 // s
	plateauFall = 0.03  // of ln p in that time
)

// plateaus are the stretches of two minutes and more in which the pressure fell by less than 3 % in two minutes, though it
// fell at least five times as fast in the two minutes before, and by a fifth afterwards.
func (c *cuts) plateaus(a, b int) []Plateau {
	tr := c.tr
	var out []Plateau
	j := a
	for i := a; i < b; i++ {
		for j < b && tr.t[j] < tr.t[i]+plateauTime {
			j++
		}
		if j >= b-1 || !tr.flat(i, j, a, b) {
			continue
		}
		first, last := i, j
		for m := i + 1; m < b; m++ {
			for j < b && tr.t[j] < tr.t[m]+plateauTime {
				j++
			}
			if j >= b-1 || !tr.flat(m, j, a, b) {
				break
			}
			last = j
		}
		if tr.fellBefore(first, a) && tr.fallsAfter(last, b) {
			out = append(out, Plateau{c.at(tr.t[first]), c.at(tr.t[last]), math.Exp(tr.mean(first, last+1))})
		}
		i, j = last, last
	}
	return out
}

func (tr *trace) flat(i, j, a, b int) bool {
	for m := i + 1; m <= j; m++ {
		if tr.cut[m] {
			return false
		}
	}
	return tr.mean(max(a, i-1), min(b, i+2))-tr.mean(j-1, min(b, j+2)) < plateauFall
}

func (tr *trace) fellBefore(i, a int) bool {
	for k := i; k >= a && tr.t[k] > tr.t[i]-plateauTime-tr.interval; k-- {
		if tr.y[k]-tr.y[i] > 5*plateauFall {
			return true
		}
	}
	return false
}

func (tr *trace) fallsAfter(j, b int) bool {
	for k := j; k < b; k++ {
		if tr.y[k] < tr.y[j]-0.2 {
			return true
		}
	}
	return false
}
