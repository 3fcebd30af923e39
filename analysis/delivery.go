package analysis

// Delivery is what the club does at impact. The ball answers to this alone.
// Speeds in m/s, angles in rad, strike in m; signs as in the package comment.
type Delivery struct {
	ClubSpeed   float64
	Attack      float64 // positive up
	Path        float64 // positive right of target
	Face        float64 // positive right of target
	DynamicLoft float64
	StrikeToe   float64 // positive toward the toe
	StrikeUp    float64 // positive up the face
}

// Launch is what the ball does just after impact: m/s, rad, rad/s.
type Launch struct {
	Speed     float64
	Angle     float64 // above the horizontal
	Direction float64 // positive right of target
	Spin      float64 // total spin
	Axis      float64 // tilt of the spin axis, positive curves right
}

// Delivery is the shot's delivery and which of its numbers are missing (zero
// in the result). An unknown strike counts as centred and is not missing.
func (s Shot) Delivery() (d Delivery, missing []Number) {
	for _, f := range []struct {
		n  Number
		to *float64
	}{{ClubSpeed, &d.ClubSpeed}, {Attack, &d.Attack}, {Path, &d.Path}, {Face, &d.Face}, {DynamicLoft, &d.DynamicLoft}} {
		v, ok := s.Value(f.n)
		if !ok {
			missing = append(missing, f.n)
		}
		*f.to = v
	}
	d.StrikeToe, _ = s.Value(StrikeToe)
	d.StrikeUp, _ = s.Value(StrikeUp)
	return d, missing
}

// Launch is the shot's launch and which of its numbers are missing (zero in
// the result).
func (s Shot) Launch() (l Launch, missing []Number) {
	for _, f := range []struct {
		n  Number
		to *float64
	}{{BallSpeed, &l.Speed}, {LaunchAngle, &l.Angle}, {Direction, &l.Direction}, {Spin, &l.Spin}, {SpinAxis, &l.Axis}} {
		v, ok := s.Value(f.n)
		if !ok {
			missing = append(missing, f.n)
		}
		*f.to = v
	}
	return l, missing
}
