package trial

import "rangepost/analysis"

// PracticalZero is the smallest difference of a number that a golfer would
// care about, SI, by its row in the table of numbers. mean is the baseline's mean of
// the number and carry its mean carry, 0 if unknown. It is 0 for a number that
// has none.
func PracticalZero(n analysis.Number, mean, carry float64) float64 {
	switch zero := n.Info().Zero; {
	case zero.OfMean > 0:
		return zero.OfMean * max(mean, 0)
	case zero.OfCarry > 0 && carry > 0:
		return zero.OfCarry * carry
	default:
		return zero.Least
	}
}

func (c Config) zero(n analysis.Number, mean, carry float64) float64 {
	if z, ok := c.Zeros[n]; ok {
		return z
	}
	return PracticalZero(n, mean, carry)
}
