package sessionfile

import "rangepost/analysis"

// A field is what a column can hold: one of the numbers of package analysis,
// which come first and keep their order, or one of the things beside them that
// only a file has.
type field uint8

const (
	clubField field = field(analysis.NumNumbers) + iota
	labelField
	shotField   // the shot's number
	timeField   // when it was hit
	backSpin    // combined with sideSpin into spin rate and axis
	sideSpin    // positive curves right, once its sign is settled
	temperature // kelvin
	altitude    // m
	windSpeed   // m/s
	windFrom    // rad, where it comes from
	windTo      // rad, where it blows to
	headWind    // m/s, what of it is into the face
	tailWind    // m/s, with the ball
	crossWind   // m/s across, from which side nobody says
	crossLeft   // m/s, from the left
	crossRight  // m/s, from the right
	aimed       // m of carry aimed at
	ballKind    // range balls or new ones
	player      // whose shot it was
	ignored     // known, and of no use here
	numFields   = int(iota) + analysis.NumNumbers
)

// The numbers the reader reasons about, as fields.
const (
	clubSpeed    = field(analysis.ClubSpeed)
	attack       = field(analysis.Attack)
	path         = field(analysis.Path)
	face         = field(analysis.Face)
	faceToPath   = field(analysis.FaceToPath)
	dynamicLoft  = field(analysis.DynamicLoft)
	strikeToe    = field(analysis.StrikeToe)
	strikeUp     = field(analysis.StrikeUp)
	ballSpeed    = field(analysis.BallSpeed)
	smash        = field(analysis.Smash)
	launch       = field(analysis.LaunchAngle)
	direction    = field(analysis.Direction)
	spin         = field(analysis.Spin)
	spinAxis     = field(analysis.SpinAxis)
	carry        = field(analysis.Carry)
	total        = field(analysis.Total)
	lateral      = field(analysis.Lateral)
	lateralTotal = field(analysis.LateralTotal)
	apex         = field(analysis.Apex)
	descent      = field(analysis.Descent)
	flightTime   = field(analysis.FlightTime)
)

// fieldKeys names the fields that are no number of package analysis, in the
// lexicon and in answers.
var fieldKeys = map[field]string{
	clubField: "club", labelField: "set", shotField: "shot", timeField: "time",
	backSpin: "back_spin", sideSpin: "side_spin",
	temperature: "temperature", altitude: "altitude", windSpeed: "wind_speed", windFrom: "wind_from", windTo: "wind_to",
	headWind: "head_wind", tailWind: "tail_wind", crossWind: "cross_wind", crossLeft: "cross_wind_left", crossRight: "cross_wind_right",
	aimed: "target", ballKind: "ball", player: "player", ignored: "ignore",
}

func (f field) number() (analysis.Number, bool) {
	return analysis.Number(f), int(f) < analysis.NumNumbers
}

func (f field) key() string {
	if n, ok := f.number(); ok {
		return n.Info().Key
	}
	return fieldKeys[f]
}

// name is what people call it.
func (f field) name() string {
	if n, ok := f.number(); ok {
		return n.String()
	}
	switch f {
	case labelField:
		return "set label"
	case shotField:
		return "shot number"
	case backSpin:
		return "back spin"
	case sideSpin:
		return "side spin"
	case windSpeed:
		return "wind speed"
	case windFrom, windTo:
		return "wind direction"
	case headWind:
		return "headwind"
	case tailWind:
		return "tailwind"
	case crossWind, crossLeft, crossRight:
		return "crosswind"
	case ballKind:
		return "kind of ball"
	case aimed:
		return "distance aimed at"
	case ignored:
		return "something else"
	}
	return fieldKeys[f]
}

func fieldByKey(key string) (field, bool) {
	if n, ok := analysis.NumberByKey(key); ok {
		return field(n), true
	}
	for f, k := range fieldKeys {
		if k == key {
			return f, true
		}
	}
	return 0, false
}

// text reports whether the field holds words rather than a number.
func (f field) text() bool {
	return f == clubField || f == labelField || f == timeField || f == ballKind || f == player || f == ignored
}

// besides reports whether the field is said beside the shots and not measured of
// them: what of it cannot be read is left out, and never costs the session.
func (f field) besides() bool {
	switch f {
	case temperature, altitude, windSpeed, windFrom, windTo, headWind, tailWind, crossWind, crossLeft, crossRight, aimed:
		return true
	}
	return false
}

// sideways reports whether the field changes sign in a mirror.
func (f field) sideways() bool {
	n, ok := f.number()
	return f == sideSpin || ok && n.Info().Sideways
}

// ofClub reports whether the field is said of the club.
func (f field) ofClub() bool {
	n, ok := f.number()
	return ok && n.Info().Of == analysis.OfClub
}

// A dimension is a kind of quantity; it decides which units are possible.
type dimension uint8

const (
	noDimension dimension = iota
	angle
	speed
	length
	rate
	duration
	ratio
	warmth
)

func (f field) dimension() dimension {
	if n, ok := f.number(); ok {
		switch n.Info().Kind {
		case analysis.Angle:
			return angle
		case analysis.Speed:
			return speed
		case analysis.Length, analysis.Small:
			return length
		case analysis.Rate:
			return rate
		case analysis.Time:
			return duration
		case analysis.Ratio:
			return ratio
		}
	}
	switch f {
	case backSpin, sideSpin:
		return rate
	case temperature:
		return warmth
	case altitude, aimed:
		return length
	case windSpeed, headWind, tailWind, crossWind, crossLeft, crossRight:
		return speed
	case windFrom, windTo:
		return angle
	}
	return noDimension
}

// article is the dimension in a complaint: "'abc' is not an angle".
func (d dimension) article() string {
	switch d {
	case angle:
		return "an angle"
	case speed:
		return "a speed"
	case length:
		return "a length"
	case rate:
		return "a spin rate"
	case duration:
		return "a time in seconds"
	case warmth:
		return "a temperature"
	}
	return "a number"
}
