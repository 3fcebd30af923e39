package shapes

import "rangepost/analysis"

// Tier is how well known the headings are.
type Tier int

// The tiers.
const (
	Ordinary Tier = iota // the trade's usual full words
	Unseen               // words a golfer understands and no list holds: short, run together, misspelt
	Wordless             // A, B, C or Col1, Col2: nothing to read
	NumTiers = int(iota)
)

func (t Tier) String() string { return [...]string{"ordinary", "unseen", "wordless"}[t] }

// Side is which way a column's positive figures point.
type Side int8

// The sides. NoSide is for a number that has none.
const (
	NoSide Side = iota
	Right       // of target
	Left
	Golfer // right of target for a right-hander, left for a left-hander
)

func (s Side) String() string { return [...]string{"none", "right", "left", "golfer"}[s] }

// Where says where a unit or a club is written.
type Where int8

// The places.
const (
	Nowhere    Where = iota
	InHeading        // "Carry (yd)"
	InRow            // a row of its own under the headings
	InValue          // "154 yd"
	InPreamble       // a line above the table
	InColumn         // a column of its own (clubs)
	InBlocks         // a row of its own above the balls it is about (clubs)
)

func (w Where) String() string {
	return [...]string{"nowhere", "heading", "row", "value", "preamble", "column", "blocks"}[w]
}

// Column is the truth about one column.
type Column struct {
	Heading string // as the file has it, without a unit row
	Number  analysis.Number
	Known   bool // it is Number; a column that is not is a club, a label or noise
	Club    bool // it holds the club's name

	Unit     string // "yd", "m", "ft", "mph", "m/s", "km/h", "deg", "rpm", "mm", "cm", "in", "s", "" for a ratio
	UnitIn   Where
	Positive Side
	Lettered bool // the side is written in each value, by letter or word
	SideSaid bool // the heading says which way is positive
	Decimals int
	Quantum  float64 // SI, one in the last place written

	// Accept lists what else the column may be read as without error: back
	// spin read as spin.
	Accept []analysis.Number

	// Whether the facts are in the file, as the package comment defines them.
	WhichKnowable, UnitKnowable, SideKnowable bool
}

// Shot is the truth about one ball.
type Shot struct {
	Club    analysis.Club
	Misread bool                        // its row is nonsense: it may be left out, and is not compared
	Values  map[analysis.Number]float64 // SI, right, toe and up positive, as rounded in the file
}

// About is what a question is about.
type About int8

// What there is to ask.
const (
	AboutWhich About = iota // which number a column is
	AboutUnit
	AboutSide
	AboutClub
)

func (a About) String() string { return [...]string{"which", "unit", "side", "club"}[a] }

// Question is one that a careful reader may ask because the file does not
// hold the answer. Columns are the columns one answer settles.
type Question struct {
	About   About
	Columns []int
}

// Truth is what a file says.
type Truth struct {
	Language  string // "en", "de", "fr", "es", "sv", "it", "ja", "ko"
	Tier      Tier
	Hand      analysis.Hand // to be handed to the reader: a file seldom says it
	Ball      analysis.Ball
	ClubIn    Where
	Columns   []Column
	Shots     []Shot // file order
	Questions []Question
	Summaries int // rows of averages and the like that are no balls
}

// Needed reports whether a session is the poorer without the number.
func Needed(n analysis.Number) bool {
	switch n {
	case analysis.BallSpeed, analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face,
		analysis.FaceToPath, analysis.DynamicLoft, analysis.LaunchAngle, analysis.Direction,
		analysis.Spin, analysis.SpinAxis, analysis.Carry, analysis.Total, analysis.Lateral,
		analysis.StrikeToe, analysis.StrikeUp, analysis.Apex, analysis.Descent, analysis.Smash:
		return true
	}
	return false
}
