package main

import (
	"fmt"
	"math"
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/readings"
)

const (
	plotWidth  = 64
	plotHeight = 12
)

// axis is how the pressures of a small picture are laid out.
type axis struct {
	unit      quantity.Unit
	name      string
	log       bool
	low, high float64 // Pa, or its logarithm
}

// above what pressure (Pa) a recording is not one of a vacuum, and the greatest
// ratio of its pressures that a straight scale shows well.
const (
	notVacuum = 200e3
	straight  = 3
)

// axisOf suits the readings: micron on a log scale for a vacuum, kPa for a test
// under pressure; nothing where no reading can be drawn.
func axisOf(pressures []float64) (x axis, ok bool) {
	low, high := math.Inf(1), 0.0
	for _, p := range pressures {
		if p > 0 && !math.IsInf(p, 0) {
			low, high = min(low, p), max(high, p)
		}
	}
	if high == 0 {
		return x, false
	}
	x = axis{quantity.Micron, "micron", high > straight*low, low, high}
	if high > notVacuum {
		x.unit, x.name = quantity.KPa, "kPa abs"
	}
	if x.log {
		x.low, x.high = math.Log(low), math.Log(high)
	} else if margin := high/100 - (high-low)/2; margin > 0 { // noise is not to look like an event
		x.low, x.high = low-margin, high+margin
	}
	return x, true
}

// at is where a pressure stands between bottom, 0, and top, 1.
func (x axis) at(p float64) float64 {
	if x.log {
		p = math.Log(p)
	}
	return (p - x.low) / (x.high - x.low)
}

// label is the pressure at a height between 0 and 1.
func (x axis) label(height float64) string {
	p := x.low + height*(x.high-x.low)
	if x.log {
		p = math.Exp(p)
	}
	v := x.unit.From(p)
	if size := math.Abs(v); size >= 1e4 && size < 1e9 { // where %g writes an exponent
		step := math.Pow(10, math.Floor(math.Log10(size))-3)
		return fmt.Sprintf("%.0f", math.Round(v/step)*step)
	}
	return fmt.Sprintf("%.4g", v)
}

// plotText is the pressure over time, good enough to see whether the right column
// was read.
func plotText(s *readings.Series) string {
	x, ok := axisOf(s.P)
	if !ok || s.Len() < 2 {
		return ""
	}
	var grid [plotHeight][plotWidth]bool
	span := s.T[s.Len()-1] - s.T[0]
	for i, p := range s.P {
		if !(p > 0) || math.IsInf(p, 0) || span <= 0 {
			continue
		}
		column := int((s.T[i] - s.T[0]) / span * (plotWidth - 1))
		row := int(math.Round((1 - x.at(p)) * (plotHeight - 1)))
		grid[row][column] = true
	}
	return "\n" + drawGrid(&grid, x, s)
}

func drawGrid(grid *[plotHeight][plotWidth]bool, x axis, s *readings.Series) string {
	var b strings.Builder
	for y := range grid {
		label := ""
		if y == 0 || y == plotHeight-1 || y == plotHeight/2 {
			label = x.label(1 - float64(y)/(plotHeight-1))
		}
		row := make([]byte, plotWidth)
		for k := range row {
			row[k] = ' '
			if grid[y][k] {
				row[k] = '*'
			}
		}
		fmt.Fprintf(&b, "  %10s |%s\n", label, strings.TrimRight(string(row), " "))
	}
	fmt.Fprintf(&b, "  %10s +%s\n", x.name, strings.Repeat("-", plotWidth))
	first, last := s.At(0).Format("15:04"), s.At(s.Len()-1).Format("15:04")
	fmt.Fprintf(&b, "  %10s  %s%*s\n", "", first, plotWidth-len(first), last)
	return b.String()
}
