package ball

import "math/rand/v2"

// Perturbed is the model as it might as well be: head and flight drawn once from
// what their published sources differ by. Draw one for a whole set.
func (m Model) Perturbed(rng *rand.Rand) Model {
	m.Head = m.Head.Perturbed(rng)
	m.Flight = m.Flight.Perturbed(rng)
	return m
}
