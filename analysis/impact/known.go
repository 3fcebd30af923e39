package impact

import (
	"fmt"
	"math"
	"slices"

	"rangepost/analysis"
)

// usualFaceToPath is the spread of face-to-path over golfers and balls, which
// stands in for a spin axis that was not measured (common practice, no source).
const usualFaceToPath = 5 * analysis.Degree

// bulgeDoubt is how far the radius of a face may be off, as a fraction: makers
// choose it, a driver's mostly from 10 to 14 inches (common practice, no source).
const bulgeDoubt = 0.15

// usualSpeedSD is the spread of the logarithm of club speed over golfers.
const usualSpeedSD = 0.3

// smallest is the noise that a reading or belief without any is given, so that
// equations can be weighed at all.
const smallest = 1e-7

// usualSmash is near enough for a first guess of the club's speed.
const usualSmash = 1.4

// problem gathers what is known of a ball.
func (h Head) problem(s analysis.Shot, n Noise) (*problem, error) {
	if err := possible(s); err != nil {
		return nil, err
	}
	value := func(number analysis.Number) (float64, bool) {
		v, _ := s.Value(number)
		return v, s.Measured(number)
	}
	p := &problem{head: h, share: h.usualShare()}
	usual, u := h.Usual, h.Uncertainty
	p.start = unknowns{logSpeed: math.Log(usual.ClubSpeed), attack: usual.Attack, loft: usual.Attack + usual.SpinLoft}

	for _, r := range []struct {
		reading int
		number  analysis.Number
		sd      float64
		log     bool
	}{
		{direction, analysis.Direction, n.Direction, false},
		{angle, analysis.LaunchAngle, n.Angle, false},
		{logBall, analysis.BallSpeed, n.BallSpeed, true},
		{logRate, analysis.Spin, n.Spin, true},
		{axis, analysis.SpinAxis, n.Axis, false},
	} {
		v, ok := value(r.number)
		if !ok {
			continue
		}
		if r.log {
			v = math.Log(v)
		}
		p.read[r.reading], p.readSD[r.reading] = v, max(smallest, r.sd)
	}

	if h.Bulge > 0 && p.readSD[direction] > 0 && !s.Measured(analysis.StrikeToe) {
		p.readSD[direction] = math.Hypot(p.readSD[direction], bulgeDoubt*usual.strikeSD()/h.Bulge)
	}
	p.rate = math.Exp(p.read[logRate])
	if v, ok := value(analysis.SpinLoft); ok && !(s.Measured(analysis.DynamicLoft) && s.Measured(analysis.Attack)) {
		p.read[spinLoft], p.readSD[spinLoft] = v, max(smallest, math.Hypot(n.Loft, n.Attack))
	}

	believe := func(b belief) int {
		b.sd = max(smallest, b.sd)
		p.beliefs = append(p.beliefs, b)
		return len(p.beliefs) - 1
	}
	p.free = append(make([]int, 0, numUnknowns), logSpeed, attack, loft, face, path)
	p.beliefs = make([]belief, 0, 2*numUnknowns)
	believe(about(logSpeed, p.start[logSpeed], usualSpeedSD))
	p.prior[SharedAttack] = believe(about(attack, usual.Attack, usual.AttackSD))
	p.prior[SharedSpinLoft] = believe(belief{[2]int{loft, attack}, [2]float64{1, -1}, usual.SpinLoft, usual.SpinLoftSD})
	// The gear effect is a strike times a scale, both uncertain: wider than the
	// strike alone makes it.
	strike := usual.strikeSD() * math.Sqrt(1+u.GearScale*u.GearScale)
	for _, c := range []struct {
		shared  Shared
		unknown int
		sd      float64
	}{
		{SharedToe, toe, strike}, {SharedUp, up, strike},
		{SharedFaceShare, share, u.FaceShare}, {SharedSpin, logSpin, u.SpinScale},
		{SharedRestitution, restitution, u.Restitution}, {SharedGear, gear, u.GearScale},
	} {
		p.prior[c.shared] = -1
		if c.sd > 0 {
			p.free = append(p.free, c.unknown)
			p.prior[c.shared] = believe(about(c.unknown, 0, c.sd))
		}
	}
	for _, c := range []struct {
		unknown int
		number  analysis.Number
		sd      float64
	}{
		{attack, analysis.Attack, n.Attack}, {loft, analysis.DynamicLoft, n.Loft},
		{face, analysis.Face, n.Face}, {path, analysis.Path, n.Path},
		{toe, analysis.StrikeToe, n.Strike}, {up, analysis.StrikeUp, n.Strike},
	} {
		v, ok := value(c.number)
		if !ok {
			continue
		}
		p.start[c.unknown] = v
		if c.sd > 0 {
			believe(about(c.unknown, v, c.sd))
		} else {
			p.free = slices.DeleteFunc(p.free, func(k int) bool { return k == c.unknown })
		}
	}
	_, ball := value(analysis.BallSpeed)
	_, struck := value(analysis.StrikeToe)
	if v, ok := value(analysis.ClubSpeed); ok {
		p.sided = ball && !struck && h.GearScale*h.Depth > 0 && h.InertiaAcross > 0
		p.start[logSpeed] = math.Log(v)
		believe(about(logSpeed, math.Log(v), n.ClubSpeed))
	} else if v, ok := value(analysis.BallSpeed); ok {
		p.start[logSpeed] = math.Log(v / usualSmash)
	}

	start, hasDirection := value(analysis.Direction)
	faceAt, hasFace := value(analysis.Face)
	pathAt, hasPath := value(analysis.Path)
	switch {
	case hasFace && hasPath:
	case hasFace:
		p.start[path] = faceAt
	case hasPath && !hasDirection:
		p.start[face] = pathAt
	case hasDirection:
		p.start[face] = start
		if !hasPath {
			p.start[path] = start
		}
	default:
		return nil, &InputError{s.N, analysis.Direction, "missing, and no face or path either: nothing says which way the ball started, so export that column too"}
	}
	faceToPath := belief{of: [2]int{face, path}, weight: [2]float64{1, -1}}
	if v, ok := value(analysis.FaceToPath); ok && !(hasFace && hasPath) {
		faceToPath.value, faceToPath.sd = v, math.Hypot(n.Face, n.Path)
		believe(faceToPath)
	} else if _, ok := value(analysis.SpinAxis); !ok && !(hasFace && hasPath) {
		faceToPath.sd = usualFaceToPath
		believe(faceToPath)
	}
	return p, nil
}

// possible refuses numbers that no struck ball has, with what to look at.
func possible(s analysis.Shot) error {
	const look = "the column may be in other units or hold something else"
	for _, r := range []struct {
		number    analysis.Number
		low, high float64
		unit      float64
		in        string
	}{
		{analysis.Direction, -60 * analysis.Degree, 60 * analysis.Degree, analysis.Degree, "deg"},
		{analysis.LaunchAngle, -15 * analysis.Degree, 80 * analysis.Degree, analysis.Degree, "deg"},
		{analysis.SpinAxis, -89 * analysis.Degree, 89 * analysis.Degree, analysis.Degree, "deg"},
		{analysis.BallSpeed, 1, 110, 1, "m/s"},
		{analysis.ClubSpeed, 1, 75, 1, "m/s"},
		{analysis.Spin, 50 * analysis.RevPerMinute, 20000 * analysis.RevPerMinute, analysis.RevPerMinute, "rpm"},
		{analysis.Face, -60 * analysis.Degree, 60 * analysis.Degree, analysis.Degree, "deg"},
		{analysis.Path, -60 * analysis.Degree, 60 * analysis.Degree, analysis.Degree, "deg"},
		{analysis.Attack, -45 * analysis.Degree, 45 * analysis.Degree, analysis.Degree, "deg"},
		{analysis.DynamicLoft, -15 * analysis.Degree, 85 * analysis.Degree, analysis.Degree, "deg"},
	} {
		if v, _ := s.Value(r.number); s.Measured(r.number) && (v < r.low || v > r.high) {
			return &InputError{s.N, r.number, fmt.Sprintf("%.4g %s is outside %.4g to %.4g; %s", v/r.unit, r.in, r.low/r.unit, r.high/r.unit, look)}
		}
	}
	return nil
}

// warnings says what this ball cannot tell, and why.
func (p *problem) warnings(s analysis.Shot, i Inference, fits bool, cov func(a, b int) float64) []analysis.Warning {
	var warnings []analysis.Warning
	warn := func(code string, n analysis.Number) {
		warnings = append(warnings, analysis.Warning{Code: code, Count: 1, Number: n})
	}
	for _, c := range []struct {
		ok      bool
		unknown int
		number  analysis.Number
		sd      float64
	}{{i.FaceOK, face, analysis.Face, i.FaceSD}, {i.PathOK, path, analysis.Path, i.PathSD}} {
		switch {
		case c.ok:
		case !s.Measured(analysis.SpinAxis) && !s.Measured(analysis.FaceToPath):
			warn(AxisUnknown, c.number)
		case p.owes(c.unknown, toe, cov) > 0.5*c.sd*c.sd:
			warn(StrikeUnknown, c.number)
		default:
			warn(TooNoisy, c.number)
		}
	}
	if !s.Measured(analysis.DynamicLoft) && !s.Measured(analysis.Spin) && !s.Measured(analysis.SpinLoft) {
		warn(UsualLoft, analysis.DynamicLoft)
	}
	if SpinLoft(i.Delivery) > p.head.gripLimit(i.Delivery)-2*i.LoftSD {
		warn(Sliding, analysis.SpinLoft)
	}
	if !fits {
		warn(Misfit, analysis.Direction)
	}
	return warnings
}

// owes is how much of an unknown's variance would go if the other were known.
func (p *problem) owes(unknown, other int, cov func(a, b int) float64) float64 {
	v := cov(other, other)
	if v == 0 {
		return 0
	}
	c := cov(unknown, other)
	return c * c / v
}
