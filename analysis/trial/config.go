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

	// Split is what the face and the path of single balls were worth, by the number
	// of the shot. It is exact where an angle's worth changes on the way from one
	// set to the other; where any ball is in it, those that are not are left out of
	// the compensation.
	Split map[int]Metres

	// WorthDoubt is how far what the path is worth may be off, as a share of what
	// the face is: a standard deviation over the models that may be the true one.
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

// Metres are what the face and the path of a ball put it sideways, m, positive
// right.
type Metres struct{ Face, Path float64 }

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
