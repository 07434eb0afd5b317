package fluid

// The coefficients are those of the ancillary equations that a public property
// library (CoolProp, commit ea27c639, dev/fluids) fits to the equation of state
// named in each row. For R-1234yf they are those of its release 7.2.0: the
// later ones are off by 25 % at -40 °C. R-454B is a fit of our own.

const (
	ancillary   = "; ancillary equation of CoolProp, commit ea27c639"
	fromMemory  = "from memory, not confirmed in a source"
	annexI      = "Regulation (EU) 2024/573, Annexes I and III"
	annexVI     = "Regulation (EU) 2024/573, Annex VI: sum by mass over the components"
	editionEU   = "AR4, as in Regulation (EU) 2024/573"
	editionAR4  = "AR4"
	editionAR5  = "AR5"
	editionAR6  = "AR6"
	pseudoPure  = "Lemmon, Int. J. Thermophys. 24:991 (2003), pseudo-pure fluid" + ancillary
	classSource = "ASHRAE 34 / ISO 817, " + fromMemory
)

// °C range -60 to 65 in K, in which the equations were checked.
const coldest, hottest = 213.15, 338.15

var refrigerants = []Refrigerant{
	pure("R-32", 52.024e-3, "A2L",
		"Tillner-Roth and Yokozeki, J. Phys. Chem. Ref. Data 26:1273 (1997)"+ancillary,
		saturation{351.255, 5782000,
			[]float64{0.01919433467, -6.794802164, 9.276391393, -12.32715385, 28.46579606, -28.57087072},
			[]float64{0.531, 0.979, 2.203, 2.382, 3.421, 3.558}},
		vapour("R-32", 52.024e-3, 12.232, 14.037, "Huber et al. (2003), extended corresponding states"),
		GWP{675, editionEU, annexI}, GWP{677, editionAR5, fromMemory}),
	blend("R-410A", 72.5854e-3, "A1", "R-32/R-125 50/50 % by mass", pseudoPure,
		saturation{344.494, 4901200, []float64{-7.2818, 2.5093, -3.2695, -2.8022}, []float64{1, 1.8, 2.4, 4.9}},
		saturation{344.494, 4901200, []float64{-7.4411, 1.9883, -2.4925, -3.2633}, []float64{1, 1.6, 2.4, 5}},
		vapour("R-410A", 72.5854e-3, 11.726, 13.563, geller),
		GWP{2087.5, editionEU, annexVI}, GWP{1923.5, editionAR5, fromMemory}),
	r454b(),
	pure("R-134a", 102.032e-3, "A1",
		"Tillner-Roth and Baehr, J. Phys. Chem. Ref. Data 23:657 (1994)"+ancillary,
		saturation{374.21, 4059280,
			[]float64{0.4331478287, -9.090302559, 2.147607413, -1.557687008, -3.502032897, 14.95844234},
			[]float64{0.845, 0.99, 1.14, 2.651, 4.507, 17.235}},
		vapour("R-134a", 102.032e-3, 10.831, 12.404, "Huber et al. (2003)"),
		GWP{1430, editionEU, annexI}, GWP{1300, editionAR5, fromMemory}),
	pure("R-22", 86.468e-3, "A1",
		"Kamei et al., Int. J. Thermophys. 16:1155 (1995)"+ancillary,
		saturation{369.295, 4990000,
			[]float64{-7.26703717, 1.286092962, -0.1079011979, -0.9894732917, -2.939309635, 0.4884319173},
			[]float64{0.999, 1.272, 1.692, 2.74, 4.539, 15.876}},
		vapour("R-22", 86.468e-3, 12.607, 14.482, "Klein et al. (1997), extended corresponding states"),
		GWP{1810, editionAR4, fromMemory}, GWP{1760, editionAR5, fromMemory}),
	pure("R-290", 44.0956e-3, "A3",
		"Lemmon, McLinden and Wagner, J. Chem. Eng. Data 54:3141 (2009)"+ancillary,
		saturation{369.89, 4251200,
			[]float64{-23.99863575, 18.31301761, -0.4224085197, -2.737829881, 0.2578884142, -1.311346223},
			[]float64{1.05, 1.084, 2.259, 4.287, 7.66, 18.584}},
		vapour("R-290", 44.0956e-3, 7.469, 8.549, "Vogel et al., J. Phys. Chem. Ref. Data 27:947 (1998)"),
		GWP{0.02, editionAR6 + ", as in Regulation (EU) 2024/573", "Regulation (EU) 2024/573, Annex VI"},
		GWP{3, editionAR4, fromMemory}),
	blend("R-407C", 86.2036e-3, "A1", "R-32/R-125/R-134a 23/25/52 % by mass", pseudoPure,
		saturation{359.345, 4631700, []float64{0.48722, -6.6959, -1.4165, -2.5109}, []float64{0.54, 0.925, 2.7, 4.7}},
		saturation{359.345, 4631700, []float64{-0.086077, -6.6364, -2.4648, -3.4776}, []float64{0.4, 0.965, 3.1, 5}},
		vapour("R-407C", 86.2036e-3, 11.159, 12.899, geller),
		GWP{1773.85, editionEU, annexVI}, GWP{1624.2, editionAR5, fromMemory}),
	blend("R-404A", 97.6038e-3, "A1", "R-125/R-143a/R-134a 44/52/4 % by mass", pseudoPure,
		saturation{345.27, 3734800, []float64{0.061067, -6.5646, -3.6162, -3.9771}, []float64{0.54, 0.965, 3.7, 9}},
		saturation{345.27, 3734800, []float64{-0.00026863, -6.5757, -4.1802, -7.9102}, []float64{0.1, 0.972, 3.8, 9}},
		vapour("R-404A", 97.6038e-3, 11.250, 12.787, geller),
		GWP{3921.6, editionEU, annexVI}, GWP{3942.8, editionAR5, fromMemory}),
	r1234yf(),
}

const geller = "Geller et al., Purdue conference on refrigeration (2000)"

func pure(name string, M float64, class, source string, sat saturation, gas Gas, gwp ...GWP) Refrigerant {
	return blend(name, M, class, "", source, sat, sat, gas, gwp...)
}

func blend(name string, M float64, class, composition, source string, bubble, dew saturation, gas Gas, gwp ...GWP) Refrigerant {
	return Refrigerant{Name: name, MolarMass: M, Class: class, ClassSource: classSource, Composition: composition,
		GWP: gwp, Coldest: coldest, Hottest: hottest, Spread: 0.05, Source: source, bubble: bubble, dew: dew, vapour: gas}
}

// r454b: no pseudo-pure equation is published. The fit is to the mixture model
// of Bell (2023) at the nominal composition, within 0.004 %; other parameters
// of the model move the dew pressure by up to 2 %, hence the spread.
func r454b() Refrigerant {
	r := blend("R-454B", 62.6136e-3, "A2L", "R-32/R-1234yf 68.9/31.1 % by mass",
		"own fit to the mixture model of Bell, J. Phys. Chem. Ref. Data 52:013101 (2023), "+
			"with Lemmon and Akasaka, Int. J. Thermophys. 43:119 (2022) for R-1234yf",
		saturation{351.43, 5304100, []float64{0.13265, -6.34066, -0.38039, -3.3735}, []float64{0.5, 0.95, 1.6, 4}},
		saturation{351.43, 5304100, []float64{-0.00967, -6.22688, -0.33171, -3.70299}, []float64{0.5, 0.95, 1.6, 4}},
		vapour("R-454B", 62.6136e-3, 12.01, 13.78, "weighted by mole fraction from R-32 and R-1234yf, ± 3 %"),
		GWP{465.2, "AR4, with AR6 for R-1234yf, as in Regulation (EU) 2024/573", annexVI},
		GWP{466, "AR4, with 4 for R-1234yf", "sum by mass, R-1234yf " + fromMemory})
	r.Coldest, r.Hottest, r.Spread = 223.15, 333.15, 0.5
	return r
}

// r1234yf: the row of release 7.2.0, checked against Lemmon and Akasaka (2022)
// within 0.3 % at -40 °C and 0.02 % from 0 to 60 °C.
func r1234yf() Refrigerant {
	r := pure("R-1234yf", 114.0416e-3, "A2L",
		"Richter, McLinden and Lemmon, J. Chem. Eng. Data 56:3254 (2011); ancillary equation of CoolProp, release 7.2.0",
		saturation{367.85, 3382200,
			[]float64{0.2186716892, -6.702053497, -3.934488354, 39309.7455478, 18.1831820494, -3883.1033806957},
			[]float64{0.728, 0.961, 3.78, 17.277, 7.967, 14.02}},
		vapour("R-1234yf", 114.0416e-3, 11.331, 13.014, "extended corresponding states"),
		GWP{0.501, editionAR6 + ", as in Regulation (EU) 2024/573", annexI},
		GWP{4, editionAR4, fromMemory})
	r.Coldest, r.Spread = 233.15, 0.1
	return r
}

// vapour is a refrigerant as a dilute gas, from its viscosities in µPa s at 0
// and 40 °C and 101.325 kPa; the power law between them holds from -20 to 60 °C
// within 1 %.
func vapour(name string, M, η0, η40 float64, source string) Gas {
	return Gas{Name: name, MolarMass: M, viscosity: powerLaw(η0*1e-6, η40*1e-6), cold: 253.15, hot: 333.15, viscosityOf: source}
}
