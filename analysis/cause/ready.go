package cause

import (
	"rangepost/analysis"
	"rangepost/analysis/ball"
	"rangepost/analysis/impact"
	"rangepost/analysis/stat"
)

// ready lists the used balls that can be split.
func ready(shots []analysis.Shot, worked []*impact.Inference, m *ball.Model) (balls []struck) {
	speedOf, loft := carrySpeeds(m), middleLoft(shots, m.Head)
	launch := m.Head.Strike(loft).Angle
	for i, s := range shots {
		lateral, ok := s.Value(analysis.Lateral)
		if s.Aside != analysis.Used || !ok || !s.Has(analysis.Face) || !s.Has(analysis.Path) {
			continue
		}
		d, ok := presumed(s, m.Head, speedOf, loft, launch)
		if !ok || !struckable(d) {
			continue
		}
		balls = append(balls, struck{
			n: s.N, delivery: d, own: m.Departure(d, s), lateral: lateral,
			spun: s.Measured(analysis.SpinAxis), started: s.Measured(analysis.Direction), placed: s.Measured(analysis.StrikeToe),
			inference: worked[i],
		})
	}
	return balls
}

// splitAll splits the balls, leaving out any of which the model makes no number.
func splitAll(all []struck, m *ball.Model, c Config) (balls []struck, splits []Split) {
	for _, b := range all {
		if split := b.split(m, c.RefFace, c.RefPath); split.finite() {
			balls, splits = append(balls, b), append(splits, split)
		}
	}
	return balls, splits
}

// struckable reports whether a delivery is one that a golf ball has ever had:
// beyond these bounds the model of impact means nothing, and the file is
// misread.
func struckable(d analysis.Delivery) bool {
	within := func(v, low, high float64) bool { return low <= v && v <= high }
	const degree = analysis.Degree
	return within(d.ClubSpeed, 1, 75) && within(d.Attack, -45*degree, 45*degree) &&
		within(d.Path, -60*degree, 60*degree) && within(d.Face, -60*degree, 60*degree) &&
		within(d.DynamicLoft, -15*degree, 85*degree) &&
		within(d.StrikeToe, -0.1, 0.1) && within(d.StrikeUp, -0.1, 0.1)
}

// missing lists the numbers without which no used ball could be split.
func missing(used []analysis.Shot, split int) []analysis.Number {
	if split > 0 {
		return nil
	}
	var none []analysis.Number
	for _, n := range []analysis.Number{analysis.Lateral, analysis.Face, analysis.Path, analysis.Direction, analysis.SpinAxis} {
		if v, _ := analysis.Values(used, n); len(v) == 0 {
			none = append(none, n)
		}
	}
	if len(none) > 0 {
		return none
	}
	return []analysis.Number{analysis.ClubSpeed} // some balls have the one, some the other, none a speed
}

// middle is the mean delivery of the balls, with the departure that gives it the
// mean launch: off-centre strikes to either side cancel in the mean, and the
// speed that each of them lost does not.
func middle(balls []struck, m *ball.Model) (d analysis.Delivery, own ball.Departure) {
	n := float64(len(balls))
	if n == 0 {
		return d, own
	}
	var mean analysis.Launch
	for _, b := range balls {
		d.ClubSpeed += b.delivery.ClubSpeed / n
		d.Attack += b.delivery.Attack / n
		d.Path += b.delivery.Path / n
		d.Face += b.delivery.Face / n
		d.DynamicLoft += b.delivery.DynamicLoft / n
		d.StrikeToe += b.delivery.StrikeToe / n
		d.StrikeUp += b.delivery.StrikeUp / n
		l := m.Launch(b.delivery, b.own)
		mean.Speed += l.Speed / n
		mean.Angle += l.Angle / n
		mean.Direction += l.Direction / n
		mean.Spin += l.Spin / n
		mean.Axis += l.Axis / n
	}
	all := launchSeen{speed: true, angle: true, direction: true, spin: true, axis: true}
	return d, all.keep(mean, m.Head.Strike(d), ball.Departure{})
}

// median of the balls' values, of which there is at least one.
func median(balls []struck, of func(struck) float64) float64 {
	v := make([]float64, len(balls))
	for i, b := range balls {
		v[i] = of(b)
	}
	m, _ := stat.Median(v)
	return m
}

// supported reports whether any ball shows how it was struck.
func supported(balls []struck) bool {
	for _, b := range balls {
		if b.spun || b.placed {
			return true
		}
	}
	return false
}

// speedless counts the shots without a speed of club or ball.
func speedless(shots []analysis.Shot) (n int) {
	for _, s := range shots {
		if !s.Has(analysis.ClubSpeed) && !s.Has(analysis.BallSpeed) {
			n++
		}
	}
	return n
}
