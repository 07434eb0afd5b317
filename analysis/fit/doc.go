// Package fit finds the parameters of a curve and says how well they are known.
//
// # Separable least squares
//
// A separable model is linear in some parameters c and not in others θ:
//
//	y(x) = Σ_j c_j φ_j(x; θ)
//
// For a fixed θ the best c is a linear least-squares problem, solved by an orthogonal factorisation, with c_j >= 0 where
// asked. What is left is a function of θ alone (variable projection; Golub and Pereyra, SIAM J. Numer. Anal. 10:413,
// 1973). It is searched on a grid, which needs no starting values, and polished by Gauss-Newton steps with a damping
// that falls when a step succeeds. Nothing is random: the same data give the same fit.
//
// Standard deviations come from the Jacobian J of the whole model at the solution: s² (JᵀJ)⁻¹, s² = RSS/(n-p)
// (JCGM 101 and 102 call this the linearised propagation; NIST StRD prints the same quantity, and the tests hold us to it).
//
// # Choice between models, and averaging
//
// AICc = n ln(RSS/n) + 2K + 2K(K+1)/(n-K-1), where K counts the variance (Burnham and Anderson, Model Selection and
// Multimodel Inference, 2002) and n is the effective sample size of the residuals. It is printed, not used to choose.
//
// [Design.Average] goes further: every candidate shape on a grid of θ keeps the weight that the data and a stated prior give it,
// and within each shape the two non-negative parameters of interest keep their whole distribution, not a point. The
// result is a set of weighted [Particle] values from which any interval or probability follows by counting. The integral
// is a quadrature, not a simulation. [Blur] puts an error on it that is common to all, such as that of an instrument's gain.
//
// # Correlation
//
// [Correlation] is the lag-one autocorrelation of residuals, [EffectiveSize] how many independent readings they are worth.
package fit
