package analysis

// A Tool is a change of setup that may change a delivery. None is a fault in
// itself.
type Tool string

// The setup tools: grip, aim, ball position and handle.
const (
	StrongerGrip  Tool = "stronger grip"
	WeakerGrip    Tool = "weaker grip"
	AimLeft       Tool = "aim left"
	AimRight      Tool = "aim right"
	BallForward   Tool = "ball forward"
	BallBack      Tool = "ball back"
	HandleForward Tool = "handle forward"
	HandleBack    Tool = "handle back"
)

// Tools lists them in a fixed order.
func Tools() []Tool {
	return []Tool{StrongerGrip, WeakerGrip, AimLeft, AimRight, BallForward, BallBack, HandleForward, HandleBack}
}

// usual is what the trade expects of a tool in a right-hander's hands, deg. All
// of it is common practice, no source.
var usual = map[Tool]struct{ face, path, attack, loft float64 }{
	StrongerGrip:  {face: -2, loft: -1},
	WeakerGrip:    {face: 2, loft: 1},
	AimLeft:       {face: -2, path: -2},
	AimRight:      {face: 2, path: 2},
	BallForward:   {path: -1.5, attack: 1, loft: 1},
	BallBack:      {path: 1.5, attack: -1, loft: -1},
	HandleForward: {loft: -2},
	HandleBack:    {loft: 2},
}

// Mirror turns a change that the tool makes to a number in a right-hander's hands
// into that of a golfer's own hand, and back: -1 for what changes sides, else 1.
// Grip, ball and handle go by the golfer's hand, aim by the target.
func (t Tool) Mirror(n Number, h Hand) float64 {
	if t == AimLeft || t == AimRight || !n.Info().Sideways {
		return 1
	}
	return h.Mirror()
}

// Usual is the change the trade expects the tool to make in number n of a
// golfer's delivery, SI, before anything is seen of it (common practice, no
// source). What is unfamiliar costs some club speed. 0 for every other number.
func (t Tool) Usual(n Number, h Hand) float64 {
	u, known := usual[t]
	side := t.Mirror(n, h)
	switch {
	case !known:
	case n == Face:
		return side * u.face * Degree
	case n == Path:
		return side * u.path * Degree
	case n == FaceToPath:
		return side * (u.face - u.path) * Degree
	case n == Attack:
		return u.attack * Degree
	case n == DynamicLoft:
		return u.loft * Degree
	case n == ClubSpeed:
		return -0.3
	}
	return 0
}
