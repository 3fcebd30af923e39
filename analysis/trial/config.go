package trial

import "rangepost/analysis"

// Config is what a trial is judged by. The zero value is usable.
type Config struct {
	// Numbers compared, where measured; nil is DefaultNumbers.
	Numbers []analysis.Number

	// Zeros overrides practical zeros, SI.
	Zeros map[analysis.Number]float64

	// FaceWorth and PathWorth are what a radian of each is worth at the
	// baseline's speed and loft, m of carry lateral, positive right. Without
	// them there is no compensation.
	FaceWorth, PathWorth float64

	// WorthDoubt is how far what the path is worth over what the face is worth
	// may be off: the standard deviation of its logarithm over the models that
	// may be the true one.
	WorthDoubt float64

	// EqualSpread takes every set's spread for the same and compares by
	// Dunnett's method. It sees more in sets of two or three balls, whose own
	// spread says next to nothing, and is wrong when a change of setup widens
	// the scatter. How many more balls are wanted is still told for spreads
	// that differ.
	EqualSpread bool

	// Seed of the shuffling.
	Seed uint64
}

// DefaultNumbers are the numbers compared unless said otherwise: where the
// ball finished, and the delivery.
func DefaultNumbers() []analysis.Number { return analysis.Compared() }

func (c Config) numbers() []analysis.Number {
	if c.Numbers == nil {
		return DefaultNumbers()
	}
	return c.Numbers
}

// MaxSets is the most sets compared with one baseline.
const MaxSets = 9
