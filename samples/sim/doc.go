// Package sim simulates the evacuation of a refrigerant circuit, so that
// readings exist whose truth is known. The demo jobs and the scoring of the
// analysis are made with it. It is a model of the physics, not of the analysis:
// it imports nothing of this module, and has its own formulas for water.
//
// # Model
//
// A circuit is a few volumes joined by tubes. Every volume holds dry gas and
// water vapour at the temperature T of the circuit, which follows the ambient
// with a delay. With a = nR the amount of a gas (J/K), p = aT/V.
//
//   - A tube carries its gas by laminar flow, with the composition of its upstream
//     end, and each gas by molecular flow along its own gradient; the conductance
//     is Knudsen's, see [Tube]. Choking and turbulence are left out: they
//     matter for the first seconds of a pull-down.
//   - The pump removes S(p - p_u) at its inlet, so its volume flow rate
//     S(1 - p_u/p) is zero at its ultimate pressure.
//   - An inflow is constant (choked) up to 0.528 of the barometric pressure, falls
//     as through a nozzle (gamma = 1.4) above it, and is nil at and above it.
//   - A [Store] is water bound to a wall, in a desiccant or behind a narrow gap, at
//     its own equilibrium pressure behind a constant conductance: it empties as it gives,
//     and takes back what is offered above its equilibrium. Or it is refrigerant
//     in oil, which only gives; its gas moves as dry gas does.
//   - A [Pool] is liquid water or ice with the piece of metal that it wets. Vapour
//     leaves it by a conductance, takes its heat along, and the ambient brings heat
//     back; an enthalpy balance decides temperature and the part frozen. Under gas,
//     diffusion slows it by 1/(1 + p_gas/100 Pa) (common estimate, no source).
//
// The equations are stiff. Each step is a linearly implicit Euler step, taken once
// whole and twice by halves, and extrapolated to second order (Deuflhard's
// scheme); the difference controls the step. Every part of a step is linear in
// the amounts, so amounts are conserved to rounding.
//
// # Truth
//
// [Truth] says exactly what is meant. The parts of a rise come from the same hold
// run again from the same state at isolation: once with all stores and pools closed, and once
// without the inflow as well. The sum of the parts misses a few per cent of the rise where tubes
// hold the inflow back from the gauge, and the warming of dry gas (0.34 %/K).
//
// The same [Scenario] always gives the same [Recording] on one machine; other
// machines differ in the last digits (fused multiply-add), which can move a
// displayed reading by one step.
package sim
