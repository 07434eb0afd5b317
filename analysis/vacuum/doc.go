// Package vacuum works out an evacuation from its readings: the phases, the
// pull-down, nitrogen breaks, the hoses' conductance, and the hold: equalisation,
// a steady inflow, a rise that levels off, and what the readings can't tell apart.
// Pressures are in Pa, times in s, volumes in m3.
package vacuum
