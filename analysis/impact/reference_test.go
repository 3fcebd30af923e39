package impact

import "math/rand/v2"

// Perturbed is the head as it might as well be: every uncertain constant drawn
// once from a normal distribution about its value. Draw one for a whole set,
// not one a ball: what the model has wrong it has wrong every time.
func (h Head) Perturbed(rng *rand.Rand) Head {
	return h.Off(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64())
}
