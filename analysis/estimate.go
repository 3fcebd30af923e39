package analysis

// An Estimate is a mean with its 95 % limits and the spread of one ball. With
// too few balls the limits, and with one ball the spread, cannot be told: OK
// then says so and the fields hold zero, which means nothing.
type Estimate struct {
	N         int     // balls it rests on
	Mean      float64 // SI units; meaningless when N is 0
	Low, High float64 // 95 % limits of the mean
	SD        float64 // sample standard deviation of one ball (n-1)
	OK        bool    // whether Low, High and SD could be told (N >= 2)
}

// Excludes reports whether the limits lie wholly on one side of v.
func (e Estimate) Excludes(v float64) bool { return e.OK && (e.Low > v || e.High < v) }
