// Package startup works out what the readings of a running circuit show, the
// charge that it holds and the duties that follow from it.
//
//	superheat  = T_suction - T_dew(p_suction)
//	subcooling = T_bubble(p_liquid) - T_liquid
//
// with absolute pressures: the station pressure is added to a gauge's reading
// first. The standard uncertainty of a saturation temperature is
//
//	u² = (u_gauge² + u_atmosphere²)/(dp/dT)² + (spread/√3)²
//
// where spread is the error limit of the refrigerant's equation (0.5 K for
// R-454B), and the line temperature's uncertainty is added to it (GUM, JCGM
// 100:2008, 5.1.2). The package judges nothing: it says between which limits a
// value should lie, where the limits come from, or why it should not be judged.
package startup
