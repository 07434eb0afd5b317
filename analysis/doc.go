// Package analysis works out one job: from a validated Job and its readings to
// the Record that the pages print. Run reads no file and no clock, so the same
// job gives the same bytes; cautions are codes, and their texts live in
// package templates.
//
// # The steps
//
//  1. The site's atmosphere: barometer, else the altitude's ISA pressure (3 %
//     either way), else the standard atmosphere (15 %). The circuit's volume: as
//     stated, else the sum of π/4 (D - 2w)² L over the pieces of tube and the
//     components (identity.go).
//  2. The vacuum recordings: phases, pull-down, nitrogen breaks, holds (package
//     vacuum, whose comment is the method page of the hold; recording.go,
//     holds.go). A hold that the readings suggest but do not settle is asked
//     for: a fault with the lines to write, never a guess.
//  3. The decision on the last hold before charging (criterion.go, holds.go;
//     arithmetic in package decision).
//  4. The standing pressure test, and the hold's inflow carried over to its
//     pressure (standing.go, package pressure).
//  5. Recovery, charge, start-up (steps.go, package startup).
//  6. What is not determined and what would settle it, and the cautions that
//     the job calls for (open.go, caution.go).
//
// # Uncertainty
//
// After JCGM 100:2008 (GUM). An instrument's accuracy is an error limit a whose
// terms are added, without further knowledge a rectangular distribution:
// u = a/√3 (4.3.7). A resolution step s gives u = s/√12 (F.2.2.1). "x ± y" in a
// job file states 95 %: u = y/1.96. For the reading y that the decision is made
// on, at pressure p:
//
//	u(y)² = (g p + a)²/3 + s²/12
//
// with g the proportional and a the fixed part of the error limit. In a rise
// the gain is common to both ends, so that it acts on the difference only; the
// offset counts at both ends unless the zero's stability is stated. For the
// throughput of a leak
//
//	Q = V dp/dt,   (u(Q)/Q)² = (u(V)/V)² + (u(dp/dt)/(dp/dt))²
//
// and the interval of dp/dt is taken over all models in play, not from one fit.
//
// # Decision
//
// With the guard band w = 1.645 u (one-sided 95 %; JCGM 106:2012, ISO 14253-1)
// the outcome is pass, conditional pass, conditional fail or fail (outcomes
// after ILAC-G8:09/2019). It answers the criterion only: everything that prints
// it prints the cause beside it.
//
// # Leak in the customer's words
//
// The air that flowed in at Q would be, through the same opening and outwards
// from pressure p,
//
//	viscous    Q (η_air/η) (p² - p_atm²)/(p_atm² - p_in²)
//	molecular  Q √(M_air/M) (p - p_atm)/(p_atm - p_in)
//
// of refrigerant vapour: a bracket, and only if the inflow is outside air
// through the circuit (package fluid, Opening).
package analysis
