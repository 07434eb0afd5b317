package vacuum

// oilServes is the reading straight on the pump below which its oil is taken to serve: 50 micron. Common practice, no source.
const oilServes = 50

// pumpCheck judges the reading of a gauge straight on the pump. nil where the job has none.
func pumpCheck(o Options) *Reason {
	if !(o.PumpReading > 0) {
		return nil
	}
	r := &Reason{Facts: map[string]float64{"reading": o.PumpReading, "level": oilServes * micron}}
	if o.PumpReading <= oilServes*micron*(1+1e-9) {
		r.Code = "oil-serves"
		r.Text = "the gauge straight on the pump reached 50 micron or lower: by common practice (no published source) the oil still serves"
	} else {
		r.Code = "change-oil"
		r.Text = "the gauge straight on the pump stayed above 50 micron: by common practice (no published source) change the oil before trusting a pull-down; its look alone does not tell"
	}
	switch {
	case o.OilChanged == nil:
		r.Text += "; whether the oil was changed is not stated"
	case !*o.OilChanged:
		r.Text += "; the oil was not changed"
	}
	if o.GasBallast != nil && !*o.GasBallast {
		r.Text += "; the gas ballast was not used"
	}
	return r
}
