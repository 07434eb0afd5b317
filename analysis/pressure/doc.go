// Package pressure works out what a standing pressure test with dry nitrogen
// shows. All pressures are absolute.
//
// A fixed amount of gas in a fixed volume keeps its density ρ, so that the end
// pressure to be expected at the end temperature is
//
//	p2,expected = p1 (T2/T1) (Z2/Z1),   Z = 1 + Bρ + Cρ²   (see package fluid)
//	change      = p2 - p2,expected
//
// The change is evidence only against its standard uncertainty u (GUM, JCGM
// 100:2008), with r = p2,expected/p1:
//
//	gain         common to both ends:  (g/√3) |(p2 - p_atm) - r (p1 - p_atm)|
//	offset       at both ends:         (a/√3) √(1 + r²), where no zero stability is stated
//	resolution   at both ends:         (step/√12) √(1 + r²)
//	scatter      of the readings that were averaged at each end
//	temperature  of the gas, which a place on a pipe or in the air has only within ±h, and the thermometer only
//	             within its error limit ±b, at each end: √((h² + b²)/3) √((∂p2/∂T1)² + (∂p2/∂T2)²)
//	atmosphere   its change between both ends, where the gauge counts from it
//
// A loss is shown where change < -1.96 u. The smallest drop that the test could
// have shown is 3.29 u (errors of both kinds 5 %, normal distribution), the
// smallest leak V · 3.29 u / duration.
package pressure
