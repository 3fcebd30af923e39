package clubyear

import (
	"time"

	"rangepost/analysis"
)

// A Product is what is judged. Calls come in the order of their times; what goes
// wrong with the product itself, not with an entry, is its adapter's to fail on.
// Members, challenges and sessions are named by strings the product does not read
// anything into.
type Product interface {
	// Join makes somebody a member, with what a manager and they themselves say.
	Join(m Member, at time.Time)
	// Leave is a member going for good.
	Leave(member string, at time.Time)
	// Open opens a challenge, at its time, and names it.
	Open(c Challenge) (challenge string)
	// Announce is a member saying that the session they hit next counts. A product
	// with no such thing does nothing.
	Announce(challenge, member string, at time.Time)
	// Post hands over a file. A file that is not taken has no session, and the
	// verdict says why; otherwise the verdict is Accepted. What is asked about it is
	// answered as its device writes: figures without a letter are positive to the
	// right for every golfer, a face is against the target, a heading holds what it
	// says, and "ft" over figures that were yards is stood by.
	Post(member string, f File, said Said, at time.Time) (session string, v Verdict)
	// Enter enters a session that was posted.
	Enter(challenge, member, session string, at time.Time) Verdict
	// Withdraw takes the member's entry out by their own wish, where the
	// product lets them.
	Withdraw(challenge, member string, at time.Time)
	// Decide is the host's word about an entry that waits.
	Decide(challenge, member string, accept bool, at time.Time)
	// Close ends a challenge.
	Close(challenge string, at time.Time) Result
	// Season is what every member has in a season, 1 or 2, so far: more is better.
	Season(season int) map[string]float64
}

// A File is a session's file as it is handed over.
type File struct {
	Name string
	Data []byte
}

// Said is what a golfer says of a file as they post it; "" is not said.
type Said struct {
	Club string // "7-iron", where it is to overrule the file's
	Ball string // "new" or "range"
	Sets string // "1-5 warm-up"
}

// A State is what became of an entry.
type State string

// The states. An entry that waits is not scored until the host accepts it.
const (
	Accepted State = "accepted"
	Waits    State = "waits"
	Refused  State = "refused"

	Either State = "either" // only of what is due: a host may say one or the other
)

// A Verdict is what the product said, with its reason in its own words.
type Verdict struct {
	State  State
	Reason string
}

// A Result is how a challenge ended.
type Result struct {
	Void     bool // no winner: too few entries, or called off
	Placings []Placing
}

// A Placing is a member's place in a challenge that has ended. Placings are in
// the order they are shown in: the first one leads.
type Placing struct {
	Member string
	Place  int     // 1 of every winner: those not told apart share the lowest of their places
	Chance float64 // said to be truly the best, 0 to 1; NaN where nothing is said
}

// A RuleKind is what a challenge asks for.
type RuleKind string

// The kinds of rule.
const (
	Narrow   RuleKind = "narrow"   // least scatter left and right
	Area     RuleKind = "area"     // least area
	Nearest  RuleKind = "nearest"  // least distance from a target
	Progress RuleKind = "progress" // scatter left and right against one's own before
	Within   RuleKind = "within"   // most balls with a number inside limits
)

// Kinds lists the kinds of rule in a fixed order.
func Kinds() []RuleKind { return []RuleKind{Narrow, Area, Nearest, Progress, Within} }

// A Rule is what a challenge asks for, with what and how often.
type Rule struct {
	Kind   RuleKind
	Club   string  // "7i", "pw"
	Balls  int     // so many count, the first of the session
	Target float64 // carry, m; 0 without one
	// The number of Within and its limits, rad, in the golfer's own hand: open and
	// in-to-out are positive for everybody.
	Number    analysis.Number
	Low, High float64
}

// A Challenge is a rule with its time.
type Challenge struct {
	Number, Season int // from 1
	Rule           Rule
	Opens, Closes  time.Time
}

// A Member is somebody of the club. The exported fields are what they or a
// manager say; who they really are as golfers is kept here.
type Member struct {
	Name       string
	Left       bool
	Handicap   float64
	Junior     bool
	Zone       string // IANA
	Metric     bool   // reads metres
	RangeBalls bool   // what they hit, and say that they do
	Device     Device

	golfer golfer
}
