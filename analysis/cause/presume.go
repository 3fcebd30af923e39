package cause

import (
	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/impact"
)

// upShare is how far up the launch angle lies from attack to loft: single
// shots of driver, 7-iron and wedge had 0.83, 0.81 and 0.72 of the way
// (Henrikson et al. 2020 [S]).
const upShare = 0.8

// presumed completes a delivery for the flight model where a number that
// hardly bears on the split is missing: club speed from ball speed or, without
// either, from the carry; attack as the set's middle points to, loft from the
// launch angle, about that middle. Face and path are as measured or inferred. ok
// is false without a speed or a carry.
func presumed(s analysis.Shot, h impact.Head, speedOf func(carry float64) float64, middle analysis.Delivery, launch float64) (d analysis.Delivery, ok bool) {
	d, missing := s.Delivery()
	usual := h.Usual.Delivery()
	for _, n := range missing {
		switch n {
		case analysis.ClubSpeed:
			if v, has := s.Value(analysis.BallSpeed); has {
				smash := h.Strike(usual).Speed / usual.ClubSpeed
				d.ClubSpeed = v / smash
			} else if v, has := s.Value(analysis.Carry); has {
				d.ClubSpeed = speedOf(v)
			}
		case analysis.Attack:
			d.Attack = middle.Attack
		}
	}
	if !s.Has(analysis.DynamicLoft) {
		d.DynamicLoft = middle.DynamicLoft
		if a, has := s.Value(analysis.LaunchAngle); has {
			d.DynamicLoft = middle.DynamicLoft + (a-launch)/upShare
		}
	}
	return d, d.ClubSpeed > 0
}

// middleLoft is the attack and loft that stand in where a ball has none of its
// own: what the mean launch of the set points to, as far as it was measured
// (impact.Head.Infer), the usual ones otherwise.
func middleLoft(shots []analysis.Shot, h impact.Head) analysis.Delivery {
	usual := h.Usual.Delivery()
	var mean analysis.Shot
	launched := false
	for _, n := range [...]analysis.Number{
		analysis.ClubSpeed, analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin,
		analysis.SpinAxis, analysis.Face, analysis.Path, analysis.Attack, analysis.DynamicLoft, analysis.SpinLoft,
	} {
		sum, count := 0.0, 0
		for _, s := range shots {
			if v, _ := s.Value(n); s.Aside == analysis.Used && s.Measured(n) {
				sum += v
				count++
			}
		}
		if count > 0 {
			mean = mean.With(n, sum/float64(count))
			launched = launched || n == analysis.LaunchAngle
		}
	}
	if !launched || mean.Measured(analysis.DynamicLoft) && mean.Measured(analysis.Attack) {
		return usual
	}
	i, err := h.Infer(mean, impact.TypicalNoise())
	if err != nil {
		return usual
	}
	return i.Delivery
}

// carrySpeeds is how fast the club has to be, delivered as usual, for a carry:
// straight lines between a few shares of the usual speed. 0 is a carry that no
// such speed gives.
func carrySpeeds(m *ball.Model) func(carry float64) float64 {
	shares := [...]float64{0.3, 0.45, 0.6, 0.75, 0.9, 1.05, 1.2, 1.35, 1.5}
	var speeds, carries [len(shares)]float64
	d := m.Head.Usual.Delivery()
	for i, share := range shares {
		d.ClubSpeed = share * m.Head.Usual.ClubSpeed
		speeds[i], carries[i] = d.ClubSpeed, m.Land(d, ball.Departure{}).Carry
	}
	return func(carry float64) float64 {
		for i := 1; i < len(shares); i++ {
			if a, b := carries[i-1], carries[i]; a <= carry && carry <= b && a < b {
				return speeds[i-1] + (speeds[i]-speeds[i-1])*(carry-a)/(b-a)
			}
		}
		return 0
	}
}
