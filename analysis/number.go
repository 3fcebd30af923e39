package analysis

// A Number names one thing that is measured of a shot, or derived from what
// is. The list below is the only one: columns, options of commands, axes,
// JSON keys and tables are all made from it. To add a number, add a constant
// and its row in the table.
type Number uint8

// The numbers, in the order they are shown: the club, then the ball, then
// where it finished.
const (
	ClubSpeed Number = iota
	Attack
	Path
	Face
	FaceToPath
	DynamicLoft
	SpinLoft
	Lie
	StrikeToe
	StrikeUp
	BallSpeed
	Smash
	LaunchAngle
	Direction
	Spin
	SpinAxis
	Carry
	Total
	Lateral
	LateralTotal
	Apex
	Descent
	FlightTime

	// NumNumbers is how many numbers there are.
	NumNumbers = int(iota)
)

// Kind is what a number is a quantity of; it fixes the units it is shown in.
type Kind uint8

// The kinds, with the SI unit each is stored in.
const (
	Angle  Kind = iota // rad
	Speed              // m/s
	Length             // m, shown as yards or metres
	Small              // m, shown as millimetres
	Rate               // rad/s, shown as revolutions a minute
	Time               // s
	Ratio              // no unit
)

// NumberInfo is a row of the table of numbers.
type NumberInfo struct {
	Key      string // stable name in options, queries and JSON ("face_to_path")
	Name     string // as the trade says it ("face-to-path")
	Plain    string // as a newcomer would ("face against path")
	Kind     Kind
	Sideways bool // changes sign in a mirror: left of target against right
	Club     bool // measured of the club: compares across balls and days
}

var numbers = [NumNumbers]NumberInfo{
	ClubSpeed:    {"club_speed", "club speed", "how fast the club was moving", Speed, false, true},
	Attack:       {"attack", "attack angle", "how far up or down the club was moving", Angle, false, true},
	Path:         {"path", "club path", "which way the club was moving", Angle, true, true},
	Face:         {"face", "face angle", "where the face pointed", Angle, true, true},
	FaceToPath:   {"face_to_path", "face-to-path", "where the face pointed against the path", Angle, true, true},
	DynamicLoft:  {"dynamic_loft", "dynamic loft", "how far up the face looked", Angle, false, true},
	SpinLoft:     {"spin_loft", "spin loft", "the angle between loft and the club's movement", Angle, false, true},
	Lie:          {"lie", "lie angle", "how far toe-up the club was", Angle, false, true},
	StrikeToe:    {"strike_toe", "strike across", "how far toward the toe the ball was struck", Small, false, true},
	StrikeUp:     {"strike_up", "strike height", "how far up the face the ball was struck", Small, false, true},
	BallSpeed:    {"ball_speed", "ball speed", "how fast the ball left", Speed, false, false},
	Smash:        {"smash", "smash factor", "ball speed over club speed", Ratio, false, false},
	LaunchAngle:  {"launch", "launch angle", "how steeply the ball left", Angle, false, false},
	Direction:    {"direction", "launch direction", "where the ball started", Angle, true, false},
	Spin:         {"spin", "spin rate", "how fast the ball was spinning", Rate, false, false},
	SpinAxis:     {"spin_axis", "spin axis", "how far the spin was tilted", Angle, true, false},
	Carry:        {"carry", "carry", "how far the ball flew", Length, false, false},
	Total:        {"total", "total", "how far the ball went in all", Length, false, false},
	Lateral:      {"lateral", "lateral", "how far right of the target line it landed", Length, true, false},
	LateralTotal: {"lateral_total", "lateral at rest", "how far right of the target line it stopped", Length, true, false},
	Apex:         {"apex", "apex", "how high the ball flew", Length, false, false},
	Descent:      {"descent", "descent angle", "how steeply the ball came down", Angle, false, false},
	FlightTime:   {"flight", "flight time", "how long the ball was in the air", Time, false, false},
}

// Info is the number's row in the table.
func (n Number) Info() NumberInfo { return numbers[n] }

func (n Number) String() string { return numbers[n].Name }

// JSONKey is the number's key with the unit `--json` gives it in: degrees,
// metres, millimetres, metres a second, revolutions a minute, seconds.
func (n Number) JSONKey() string {
	info := numbers[n]
	return info.Key + jsonSuffix[info.Kind]
}

// JSONScale is how many SI units make one of the units JSONKey names.
func (n Number) JSONScale() float64 { return jsonScale[numbers[n].Kind] }

var jsonSuffix = [...]string{Angle: "_deg", Speed: "_mps", Length: "_m", Small: "_mm", Rate: "_rpm", Time: "_s", Ratio: ""}

var jsonScale = [...]float64{Angle: Degree, Speed: 1, Length: 1, Small: Millimetre, Rate: RevPerMinute, Time: 1, Ratio: 1}

// Numbers lists every number in table order.
func Numbers() []Number {
	all := make([]Number, NumNumbers)
	for i := range all {
		all[i] = Number(i)
	}
	return all
}

// NumberByKey finds a number by its Key.
func NumberByKey(key string) (Number, bool) {
	for i, info := range numbers {
		if info.Key == key {
			return Number(i), true
		}
	}
	return 0, false
}
