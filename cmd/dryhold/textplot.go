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

// plotText is the pressure over time on a log scale, good enough to see whether
// the right column was read.
func plotText(s *readings.Series) string {
	low, high := math.Inf(1), 0.0
	for _, p := range s.P {
		if p > 0 && !math.IsInf(p, 0) {
			low, high = min(low, p), max(high, p)
		}
	}
	if high == 0 || s.Len() < 2 {
		return ""
	}
	top, bottom := math.Log(high), math.Log(low)
	if top-bottom < 0.01 {
		top, bottom = top+0.5, bottom-0.5
	}
	var grid [plotHeight][plotWidth]bool
	span := s.T[s.Len()-1] - s.T[0]
	for i, p := range s.P {
		if !(p > 0) || math.IsInf(p, 0) || span <= 0 {
			continue
		}
		x := int((s.T[i] - s.T[0]) / span * (plotWidth - 1))
		y := int(math.Round((top - math.Log(p)) / (top - bottom) * (plotHeight - 1)))
		grid[y][x] = true
	}
	return "\n" + drawGrid(&grid, top, bottom, s)
}

func drawGrid(grid *[plotHeight][plotWidth]bool, top, bottom float64, s *readings.Series) string {
	var b strings.Builder
	for y := range grid {
		label := ""
		if y == 0 || y == plotHeight-1 || y == plotHeight/2 {
			p := math.Exp(top - (top-bottom)*float64(y)/(plotHeight-1))
			label = fmt.Sprintf("%.3g", quantity.Micron.From(p))
		}
		row := make([]byte, plotWidth)
		for x := range row {
			row[x] = ' '
			if grid[y][x] {
				row[x] = '*'
			}
		}
		fmt.Fprintf(&b, "  %10s |%s\n", label, strings.TrimRight(string(row), " "))
	}
	fmt.Fprintf(&b, "  %10s +%s\n", "micron", strings.Repeat("-", plotWidth))
	first, last := s.At(0).Format("15:04"), s.At(s.Len()-1).Format("15:04")
	fmt.Fprintf(&b, "  %10s  %s%*s\n", "", first, plotWidth-len(first), last)
	return b.String()
}
