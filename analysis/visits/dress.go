package visits

import (
	"math"
	"math/rand/v2"
	"slices"

	"rangepost/analysis"
)

// A dress is how a program writes numbers down.
type dress struct {
	step    map[analysis.Kind]float64 // what every number of a kind is whole in, SI
	without []analysis.Number         // columns it does not have
}

// newDress draws one: tenths or hundredths of a degree; tenths of a mile an
// hour, of a metre a second or of a kilometre an hour; tenths of a yard or of a
// metre; whole or tenths of a millimetre; whole revolutions a minute or tens.
// Half of them do not know where on the face the ball was struck.
func newDress(rng *rand.Rand) dress {
	pick := func(steps ...float64) float64 { return steps[rng.IntN(len(steps))] }
	d := dress{step: map[analysis.Kind]float64{
		analysis.Angle:  pick(0.1, 0.01) * analysis.Degree,
		analysis.Speed:  0.1 * pick(analysis.MilePerHour, 1, analysis.KMPerHour),
		analysis.Length: 0.1 * pick(analysis.Yard, 1),
		analysis.Small:  pick(1, 0.1) * analysis.Millimetre,
		analysis.Rate:   pick(1, 10) * analysis.RevPerMinute,
	}}
	if rng.IntN(2) == 0 {
		d.without = []analysis.Number{analysis.StrikeToe, analysis.StrikeUp}
	}
	return d
}

// otherwise is the dress of another program for the same balls: distances in
// whole yards or metres, speeds in whole miles an hour or tenths, angles in
// tenths or halves of a degree, tens of revolutions. One in four leaves out the
// launch.
func (d dress) otherwise(rng *rand.Rand) dress {
	pick := func(steps ...float64) float64 { return steps[rng.IntN(len(steps))] }
	other := dress{without: slices.Clone(d.without), step: map[analysis.Kind]float64{
		analysis.Angle:  pick(0.1, 0.5) * analysis.Degree,
		analysis.Speed:  pick(1, 0.1) * analysis.MilePerHour,
		analysis.Length: pick(analysis.Yard, 1),
		analysis.Small:  analysis.Millimetre,
		analysis.Rate:   10 * analysis.RevPerMinute,
	}}
	if rng.IntN(4) == 0 {
		other.without = append(other.without, analysis.LaunchAngle, analysis.Direction, analysis.SpinAxis)
	}
	return other
}

// written is a shot as it is written down. What follows by definition is worked
// out from the written numbers.
func (d dress) written(s analysis.Shot) analysis.Shot {
	w := analysis.Shot{N: s.N, Club: s.Club}
	for _, n := range analysis.Numbers() {
		v, ok := s.Value(n)
		step := d.step[n.Info().Kind]
		if !ok || step == 0 || slices.Contains(d.without, n) || n == analysis.FaceToPath || n == analysis.SpinLoft {
			continue
		}
		w = w.With(n, math.Round(v/step)*step)
	}
	return w.Derived()
}
