// Package fluid holds the properties of the substances that a refrigerant
// circuit meets between the pressure test and start-up: water over ice and
// liquid, nitrogen as a real gas, air, and the saturation of refrigerants.
//
// Everything is SI: K, Pa (absolute), m³, kg, s, mol. Every function states the
// range of its source and returns a [RangeError] outside it, for NaN and for
// infinite arguments; nothing is extrapolated. The zero result that comes with
// an error means nothing.
package fluid
