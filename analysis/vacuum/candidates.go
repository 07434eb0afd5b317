package vacuum

import "math"

// offer lists the isolations that are not plain, and for an evacuation without any the time from its lowest reading.
func (c *cuts) offer(until float64) {
	for i, st := range c.parts {
		for _, iso := range c.isolations[i] {
			if iso.why != "" && iso.start.tau < until {
				c.candidates = append(c.candidates, Candidate{c.at(iso.start.tau), c.at(iso.until), iso.why})
				if early := iso.start.low - iso.start.delay; iso.start.tau-early > c.tr.tolerance()/2 {
					c.candidates = append(c.candidates, Candidate{c.at(early), c.at(iso.until), "the earliest start that this change allows"})
				}
				for _, k := range iso.others {
					if iso.until-k.tau >= shortest && math.Abs(k.tau-iso.start.tau) > c.tr.tolerance() {
						c.candidates = append(c.candidates, Candidate{c.at(k.tau), c.at(iso.until), "a weaker change of the same kind"})
					}
				}
			}
		}
		if len(c.isolations[i]) > 0 || !c.evacuated(st) || st.from >= until {
			continue
		}
		end := min(st.to, until)
		low, within := c.tr.lowest(st.lo, st.hi, end)
		offered := len(c.candidates)
		if low >= 0 && end-c.tr.t[low] >= shortest {
			c.candidates = append(c.candidates, Candidate{c.at(c.tr.t[low]), c.at(end),
				"no sudden change is seen: this is the time from the lowest reading of the evacuation"})
		}
		if low >= 0 && within != low && end-c.tr.t[within] >= shortest {
			c.candidates = append(c.candidates, Candidate{c.at(c.tr.t[within]), c.at(end),
				"no sudden change is seen: this is the time from which the pressure fell by less than a fifth more"})
		}
		if len(c.candidates) > offered {
			continue
		}
		for _, x := range c.plateaus(c.tr.between(st.from, end)) {
			if x.End.Sub(x.Start).Seconds() >= shortest {
				c.candidates = append(c.candidates, Candidate{x.Start, x.End, "no sudden change is seen: in this time the pressure hardly changes"})
			}
		}
	}
}

// lowest finds the block with the lowest pressure in [a, b) up to end, and the one from which on it fell by less than a
// fifth more; -1 where there is none.
func (tr *trace) lowest(a, b int, end float64) (low, within int) {
	low = -1
	for j := a; j < b && tr.t[j] <= end; j++ {
		if low < 0 || tr.y[j] < tr.y[low] {
			low = j
		}
	}
	for within = low; within > a && tr.y[within-1] < tr.y[low]+0.2; within-- {
	}
	return low, within
}
