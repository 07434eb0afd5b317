package plot

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestThin: no point that is left out is further from the curve than it may be, and
// what stands out stays.
func TestThin(t *testing.T) {
	noise := rand.New(rand.NewPCG(1, 2))
	for _, c := range []struct {
		name string
		y    func(i int) float64
		most int // points that are left of 1000
	}{
		{"a straight line", func(i int) float64 { return float64(i) / 7 }, 5}, // with what stands at one x
		{"a decay", func(i int) float64 { return 100 * math.Exp(-float64(i)/90) }, 60},
		{"a spike", func(i int) float64 { return map[bool]float64{true: 5}[i == 400] }, 5},
		{"noise less than that", func(i int) float64 { return 0.15 * noise.Float64() }, 200},
		{"noise more than that", func(i int) float64 { return 3 * noise.Float64() }, 1000},
		{"a step at once", func(i int) float64 { return map[bool]float64{true: 50}[i > 500] }, 6},
	} {
		t.Run(c.name, func(t *testing.T) {
			var pts []point
			for i := range 1000 {
				pts = append(pts, point{float64(i) * 0.2, c.y(i)})
			}
			pts[501].x = pts[500].x // where the step is
			got := thin(slices.Clone(pts), unseen)
			if len(got) > c.most {
				t.Errorf("%d points are left, expected at most %d", len(got), c.most)
			}
			if got[0] != pts[0] || got[len(got)-1] != pts[999] {
				t.Error("the curve does not begin or end where it did")
			}
			for _, p := range pts {
				if d := distance(got, p); d > unseen+1e-9 {
					t.Fatalf("the point at %g lies %g off the curve", p.x, d)
				}
			}
		})
	}
}

// distance of a point from a polyline.
func distance(line []point, p point) float64 {
	least := math.Inf(1)
	for i := range line[1:] {
		a, b := line[i], line[i+1]
		dx, dy := b.x-a.x, b.y-a.y
		along := ((p.x-a.x)*dx + (p.y-a.y)*dy) / math.Max(dx*dx+dy*dy, 1e-12)
		along = math.Min(math.Max(along, 0), 1)
		least = math.Min(least, math.Hypot(p.x-a.x-along*dx, p.y-a.y-along*dy))
	}
	return least
}
