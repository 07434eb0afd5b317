package vacuum

// columns works out shapes at the times of the readings, and each of the parts that several shapes share once.
type columns struct {
	t     []float64
	first map[[2]float64][]float64 // what is released, by time constant and ratio
	rest  []float64                // the steady rest, nil where there is none
}

func newColumns(t []float64, rest *outflow) *columns {
	c := &columns{t: t, first: map[[2]float64][]float64{}}
	if rest != nil {
		c.rest = c.each(rest.at)
	}
	return c
}

func (c *columns) each(f func(t float64) float64) []float64 {
	v := make([]float64, len(c.t))
	for i, t := range c.t {
		v[i] = f(t)
	}
	return v
}

func (c *columns) released(tau, ratio float64) []float64 {
	key := [2]float64{tau, ratio}
	v, ok := c.first[key]
	if !ok {
		v = c.each(func(t float64) float64 { return released(t / tau / ratio) })
		c.first[key] = v
	}
	return v
}

// of is the shape of s, 1 at the last time.
func (c *columns) of(s store) []float64 {
	var v []float64
	switch s.law {
	case twoStores:
		v = c.mixed(s, c.released(s.tau, s.ratio))
	case heated:
		v = c.mixed(s, c.rest)
	default:
		v = c.each(s.at)
	}
	top := v[len(v)-1]
	for i := range v {
		v[i] /= top
	}
	return v
}

func (c *columns) mixed(s store, second []float64) []float64 {
	v := make([]float64, len(c.t))
	for i, first := range c.released(s.tau, 1) {
		v[i] = s.mix(first, second[i])
	}
	return v
}
