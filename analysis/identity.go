package analysis

import (
	"math"
	"strings"

	"dryhold/analysis/fluid"
	"dryhold/analysis/job"
	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// identity copies who, where and what, and works out the site's atmosphere and
// the circuit's volume, which everything after it needs.
func (r *runner) identity(o Options) {
	j := r.job
	pa, from, u := j.Atmosphere()
	r.atmosphere, r.atmosphereU = pa, u
	r.coolant, _ = fluid.LookUp(j.System.Refrigerant)
	r.volume = volumeOf(j.System)
	x := &r.rec.Job
	*x = record.Job{
		Number: j.Job.Number, Kind: j.Job.Kind, Date: day(j.Job.Date), Timezone: j.Job.Timezone,
		Barometer: record.Between(pa, pa-quantity.K95*u, pa+quantity.K95*u, "Pa"), BarometerFrom: from, Altitude: j.Job.Altitude.Text,
		Company:    record.Party{Name: j.Company.Name, Address: j.Company.Address, Phone: j.Company.Phone, Licence: j.Company.Licence, Logo: j.Company.Logo},
		Technician: record.Party{Name: j.Technician.Name, Certification: j.Technician.Certification},
		Customer:   record.Party{Name: j.Customer.Name, Contact: j.Customer.Contact},
		Site:       record.Party{Address: j.Site.Address, Permit: j.Site.Permit},
		System:     r.system(),
		Boundary: record.Boundary{Included: j.Boundary.Included, Excluded: j.Boundary.Excluded, Valves: j.Boundary.Valves,
			IsolatedAt: j.Boundary.IsolatedAt, GaugeAt: j.Boundary.GaugeAt, CoresRemoved: j.Boundary.CoresRemoved},
		Revision: o.Revision, Amends: j.Record.Amends, Reason: j.Record.Reason,
		Sample: strings.Contains(strings.ToLower(j.Company.Name), "(invented"),
	}
	for _, e := range j.Equipment {
		x.Equipment = append(x.Equipment, record.Equipment(e))
	}
	for _, s := range j.Signoffs {
		if s.Method == "digital" && s.Name != j.Company.Name {
			// The file carries one digital signature, the firm's; anybody else's would be a claim without evidence.
			s.Method = "typed by office"
			r.warn(record.Note{Code: "signoff-not-digital", Where: "sign-off", Names: map[string]string{"name": s.Name},
				Text: "the job states a digital sign-off by " + s.Name + ", but this file carries only the firm's own: it is printed as typed by the office"})
		}
		r.rec.Signoffs = append(r.rec.Signoffs, record.Signoff{Role: s.Role, Name: s.Name, Date: day(s.Date), Method: s.Method, Image: s.Image})
	}
	for _, p := range j.Photographs {
		r.rec.Photographs = append(r.rec.Photographs, record.Photograph(p))
	}
	for _, e := range j.Events {
		r.rec.Events = append(r.rec.Events, record.Event{Time: r.stamp(e.Time.Time), What: e.What})
	}
	for _, c := range j.LeakChecks {
		r.rec.Leaks = append(r.rec.Leaks, record.LeakCheck(c))
	}
	r.rec.Show = show(j.Record)
}

// show fills what the job leaves open: all audiences, US units, English, Letter.
func show(p job.Presentation) record.Presentation {
	s := record.Presentation{Audience: p.Audience, Units: p.Units, Language: p.Language, Paper: p.Paper}
	if len(s.Audience) == 0 {
		s.Audience = []string{"homeowner", "inspector", "warranty"}
	}
	if s.Units == "" {
		s.Units = "us"
	}
	if s.Language == "" {
		s.Language = "en"
	}
	if s.Paper == "" {
		s.Paper = "letter"
		if s.Units == "si" {
			s.Paper = "a4"
		}
	}
	return s
}

func (r *runner) system() record.System {
	s := record.System{Circuit: r.job.System.Circuit, Refrigerant: r.job.System.Refrigerant, Volume: r.volume.value(), VolumeFrom: r.volume.from}
	if r.coolant != nil { // by its designation: "R410a" in one record and "R-410A" in another would seem two
		s.Refrigerant, s.Class = r.coolant.Name, r.coolant.Class
	}
	for _, l := range r.job.System.Lines {
		s.Lines = append(s.Lines, record.Line{Role: l.Role, Text: l.Diameter.Text + " × " + l.Wall.Text + ", " + l.Length.Text,
			Volume: record.Plain(bore(l), "m3")})
	}
	return s
}

// volume is the circuit's internal volume in m3 with its standard uncertainty.
type volume struct {
	v, u float64
	from string
}

func (v volume) value() *record.Value {
	if v.v <= 0 {
		return nil
	}
	return record.Between(v.v, math.Max(0, v.v-quantity.K95*v.u), v.v+quantity.K95*v.u, "m3")
}

// assumedVolumeU is the relative standard uncertainty of a volume stated without
// one: 15 % at 95 % (common practice, no source).
const assumedVolumeU = 0.15 / quantity.K95

// tubeU is the relative standard uncertainty of a tube's volume from its length
// as measured and its tolerance: 5 % at 95 % (common practice, no source).
const tubeU = 0.05 / quantity.K95

// volumeOf is the stated volume, or the sum of the pieces: π/4 (D - 2w)² L for
// tube of outside diameter D and wall w, and the components as stated. The
// tubes' errors are taken as common to all of them, since the same rule
// measured them; those of the components as independent.
func volumeOf(s job.System) volume {
	if s.Volume.Given() {
		v := volume{v: s.Volume.SI, u: s.Volume.U, from: "stated"}
		if v.u == 0 {
			v.u, v.from = v.v*assumedVolumeU, "stated without uncertainty"
		}
		return v
	}
	v := volume{from: "worked out from the pieces"}
	var tube, square float64
	for _, l := range s.Lines {
		tube += bore(l)
	}
	v.v = tube
	for _, c := range s.Components {
		u := c.Volume.U
		if u == 0 {
			u, v.from = c.Volume.SI*assumedVolumeU, "worked out from the pieces, some without uncertainty"
		}
		v.v += c.Volume.SI
		square += u * u
	}
	v.u = math.Sqrt(square + tube*tube*tubeU*tubeU)
	if v.v == 0 {
		v.from = ""
	}
	return v
}

func bore(l job.Line) float64 {
	d := l.Diameter.SI - 2*l.Wall.SI
	if d <= 0 {
		return 0
	}
	return math.Pi / 4 * d * d * l.Length.SI
}
