package analysis

import "slices"

// A Number names one thing that is measured of a shot, or derived from what
// is. The list below is the only one: columns, header words, sides, limits,
// options of commands, axes, JSON keys and tables are all made from it. To add
// a number, add a constant and its row in the table in numbers.go.
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
	AskedDone

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
	Share              // of 1, shown in per cent
)

// Of is what a number is measured of.
type Of uint8

// What numbers are measured of, in the order they are shown.
const (
	OfClub   Of = iota // compares across balls and days
	OfBall             // as it leaves the club
	OfFlight           // where the flight took it
)

// NumberInfo is a row of the table of numbers: all there is to know of one.
// Rows are shared; nobody changes one.
type NumberInfo struct {
	Key   string   // stable name in options, queries, the database and JSON ("face_to_path")
	Name  string   // as the trade says it ("face-to-path")
	Plain string   // as a newcomer would ("face against path")
	Short string   // inside a sentence, "" if that is Name; see Number.Short
	Calls []string // what else golfers call it, lower case

	// Listed is its name where a list says what was measured of the club, the
	// ball or its flight ("speed"). "" leaves out what follows from others by
	// definition.
	Listed string

	Kind     Kind
	Of       Of
	Sideways bool   // changes sign in a mirror: left of target against right
	Sides    *Sides // nil for one that is just more or less

	// Lower and Higher say a change to either side, of a right-handed golfer's:
	// "further left", "slower". "" is less and more.
	Lower, Higher string

	Zero     PracticalZero
	Compared int // its place among the numbers a trial compares, from 1; 0 is none

	Judged bool // said of a ball by what was asked of it: no file has it

	// Least and Most are what is believed of one shot, SI: wider than any
	// golfer, so that what is outside was misread.
	Least, Most float64

	// Headings are the words for it at the head of a column.
	Headings Words

	// Parts are what other headings for it are made of ("ball", "speed"): the
	// parts of one way stand together, those that may be left out in brackets,
	// and ways are parted by semicolons. "~" before a way's first part says
	// that it is loose. Package sessionfile has the words of every part.
	Parts string
}

// Words are words by language ("en"), separated by a comma and a space.
type Words map[string]string

// Sides are the words for the two signs of a number, a right-handed golfer's
// where they depend on the hand.
type Sides struct {
	Minus, Plus string // "left", "right"
	Tail        string // what follows either: " of target"
	Zero        string // when the figure rounds to nothing
	ByHand      bool   // minus and plus change places for a left-handed golfer

	// Words are what people type for a side; the first two are offered.
	Words []SideWord
}

// A SideWord is a word for a side, with the sign of the side for a right-handed
// golfer. ByHand turns it round for a left-handed one.
type SideWord struct {
	Word   string
	Sign   float64
	ByHand bool
}

// A PracticalZero is the smallest difference of a number that a golfer would
// care about. The zero value is none.
type PracticalZero struct {
	OfMean  float64 // as a share of the number's mean
	OfCarry float64 // as a share of the mean carry, where that is known
	Least   float64 // SI, where neither applies
}

// Info is the number's row in the table.
func (n Number) Info() *NumberInfo { return &numbers[n] }

func (n Number) String() string { return numbers[n].Name }

// Short is the number as it reads inside a sentence.
func (n Number) Short() string {
	if s := numbers[n].Short; s != "" {
		return s
	}
	return numbers[n].Name
}

// Sides are the words for a number's two signs from this golfer's side. ok is
// false for a number that is just more or less.
func (n Number) Sides(h Hand) (s Sides, ok bool) {
	at := numbers[n].Sides
	if at == nil {
		return s, false
	}
	s = *at
	if s.ByHand && h == LeftHanded {
		s.Minus, s.Plus = s.Plus, s.Minus
	}
	return s, true
}

// Changes are the words for a change of a number down and up, from this
// golfer's side.
func (n Number) Changes(h Hand) (lower, higher string) {
	i := &numbers[n]
	switch {
	case i.Lower == "":
		return "less", "more"
	case i.Sides != nil && i.Sides.ByHand && h == LeftHanded:
		return i.Higher, i.Lower
	}
	return i.Lower, i.Higher
}

// JSONKey is the number's key with the unit `--json` gives it in: degrees,
// metres, millimetres, metres a second, revolutions a minute, seconds.
func (n Number) JSONKey() string {
	info := &numbers[n]
	return info.Key + jsonSuffix[info.Kind]
}

// JSONScale is how many SI units make one of the units JSONKey names.
func (n Number) JSONScale() float64 { return jsonScale[numbers[n].Kind] }

var jsonSuffix = [...]string{Angle: "_deg", Speed: "_mps", Length: "_m", Small: "_mm", Rate: "_rpm", Time: "_s", Ratio: "", Share: ""}

var jsonScale = [...]float64{Angle: Degree, Speed: 1, Length: 1, Small: Millimetre, Rate: RevPerMinute, Time: 1, Ratio: 1, Share: 1}

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
	for i := range numbers {
		if numbers[i].Key == key {
			return Number(i), true
		}
	}
	return 0, false
}

// Compared lists the numbers a trial compares unless told otherwise, in its
// order: where the ball finished, and the delivery.
func Compared() []Number {
	all := slices.DeleteFunc(Numbers(), func(n Number) bool { return numbers[n].Compared == 0 })
	slices.SortStableFunc(all, func(a, b Number) int { return numbers[a].Compared - numbers[b].Compared })
	return all
}
