package sim

// A Scenario is everything that a simulation needs. All values are in SI units:
// Pa, m3, m3/s, K, s, kg, Pa m3/s.
type Scenario struct {
	Name      string
	Seed      uint64    // of noise, jitter and damaged rows
	Barometer float64   // pressure of the surroundings
	Humidity  float64   // relative humidity of the gas in the circuit at the start
	Volumes   []float64 // Volumes[0] is the pump's inlet with its hose
	Links     []Link    // Links[0] has the isolation valve: closed except while pumping
	Pump      Pump
	Inflows   []Inflow
	Stores    []Store
	Pools     []Pool
	Ambient   Ambient
	Gauge     Gauge
	Steps     []Step
	Sampling  Sampling
}

// A Pump has a nominal volume flow rate and an ultimate pressure; its residual gas is dry.
type Pump struct{ Rate, Ultimate float64 }

// An Inflow lets air into volume At; Q is the choked throughput.
type Inflow struct {
	At int
	Q  float64
}

// A Store gives off gas into volume At. Its amount is that which a volume
// Capacity holds at its equilibrium pressure (Pressure at the start, at the
// ambient temperature of time 0), which rises by PerKelvin (relative) with the
// temperature of the circuit. It gives Conductance times the equilibrium pressure less
// that of the vapour around it, so with a volume V its time constant is
// 1/(Conductance (1/V + 1/Capacity)). Gas from oil (Dry) leaves by slow
// diffusion, far from equilibrium: nothing stands against it, and the time
// constant is Capacity/Conductance.
type Store struct {
	At                              int
	Dry                             bool // gas from oil rather than water
	Capacity, Conductance, Pressure float64
	PerKelvin                       float64 // about 0.06 for water, 0.03 for gas in oil
}

// A Pool is water, liquid at the start, in volume At. HeatCapacity (J/K) is that
// of the metal that shares its temperature, Heating (W/K) the conductance to the
// ambient, Conductance that of evaporation in vacuum.
type Pool struct {
	At                                       int
	Mass, HeatCapacity, Heating, Conductance float64
}

// Ambient is the temperature of the surroundings: Start + Slope t +
// Swing sin(2 pi t/Period). The circuit follows with the time constant Delay.
type Ambient struct {
	Start, Slope, Swing, Period, Delay float64
	Logged                             bool // the recording has it as a column
}

// A Gauge reads volume At. What it indicates is
// (p_dry + Water p_water)(1 + Gain) + Offset, delayed by Lag, with noise, and
// rounded to a step; Water is 1 for a gauge whose principle does not depend on the gas.
// GainLimit and OffsetLimit are the accuracy that it is sold with.
type Gauge struct {
	At                       int
	Lag, Gain, Offset, Water float64
	GainLimit, OffsetLimit   float64
	Noise                    float64 // standard deviation, relative
	Memory                   float64 // correlation time of half of the noise's variance, s
	Resolution               []Resolution
	Bottom, Top              float64 // range; beyond it a mark is written
}

// A Resolution is the Step that is displayed Below a pressure (0: any).
type Resolution struct{ Below, Step float64 }

// Sampling says when the recorder writes a row.
type Sampling struct {
	Interval, Jitter, Clock    float64 // Jitter: largest shift; Clock: step of the time stamps
	Missing, Repeated, Swapped float64 // share of rows
}

// What happens in a [Step].
type What int

// The kinds of steps. In all but PullDown the isolation valve is closed.
const (
	Idle     What = iota // for Seconds
	PullDown             // until the gauge shows Reach, at most Seconds; then for Stay more
	Break                // dry nitrogen at Flow until Reach, then for Seconds
	Hold                 // for Seconds
	Charge               // as Break, but with refrigerant
)

func (w What) String() string {
	return [...]string{"idle", "pull-down", "nitrogen break", "hold", "charge"}[w]
}

// A Step of the work.
type Step struct {
	What                       What
	Seconds, Reach, Stay, Flow float64
	At                         int // where the gas of a Break or Charge enters
}
