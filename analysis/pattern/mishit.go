package pattern

import (
	"math"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// A Kind is what a mishit was.
type Kind string

// The kinds.
const (
	NoKind Kind = ""
	Top    Kind = "top"   // struck above its middle: hardly leaves the ground
	Thin   Kind = "thin"  // struck on its middle by the edge: low for its loft
	Duff   Kind = "duff"  // the ground first: the club is slowed and so is the ball
	Shank  Kind = "shank" // struck by the neck: far to the side, with speed lost
)

// KindOf is what a ball set aside as a mishit was, as Mishits or the golfer's own
// word says.
func KindOf(s analysis.Shot) Kind {
	word, _, _ := strings.Cut(s.Why, ":")
	switch k := Kind(word); k {
	case Top, Thin, Duff, Shank:
		if s.Aside == analysis.Mishit {
			return k
		}
	}
	return NoKind
}

// reasons are what a ball set aside is told.
var reasons = map[Kind]string{
	NoKind: "fell far short of the other balls",
	Top:    "top: hardly left the ground",
	Thin:   "thin: came out low, with speed lost",
	Duff:   "duff: the ground took speed first",
	Shank:  "shank: started far to the side, with speed lost",
}

// leastToFlag is the number of balls under which nothing is flagged: no ball is
// out of the question yet.
const leastToFlag = 5

// Mishits returns a copy of the set in which the balls that look like mishits are
// set aside as such. Only used balls are looked at: a misread stays what it is,
// and an earlier mishit too.
//
// A ball is a mishit by what a mishit looks like beside the golfer's usual ball,
// not for lying outside the pattern: tails of honest patterns are heavier than the
// normal curve's, and a slice is skewed. Under 5 balls nothing is flagged.
func Mishits(set analysis.Set) analysis.Set {
	set.Shots = append([]analysis.Shot(nil), set.Shots...)
	used := set.Used()
	if len(used) < leastToFlag {
		return set
	}
	u := usualOf(used)
	u.clubless = set.Club.Unknown()
	var found []mishit
	for i, s := range set.Shots {
		if s.Aside != analysis.Used {
			continue
		}
		if k, ok := u.mishit(s); ok {
			found = append(found, mishit{i, k})
		}
	}
	easy := easySwings(set.Shots, found)
	for _, m := range found {
		if m.kind != Duff || !easy {
			set.Shots[m.at].Aside, set.Shots[m.at].Why = analysis.Mishit, reasons[m.kind]
		}
	}
	return set
}

// A mishit is a ball that looks like one, by its index.
type mishit struct {
	at   int
	kind Kind
}

// easySwings reports whether the duffs among balls are swings of another length:
// where club speed was not measured a duff looks like one, but several differ.
func easySwings(shots []analysis.Shot, found []mishit) bool {
	const few, alike = 3, 0.12 // relative standard deviation of the ball speed (our choice)
	var speeds []float64
	for _, m := range found {
		if v, ok := shots[m.at].Value(analysis.BallSpeed); m.kind == Duff && ok && !shots[m.at].Measured(analysis.ClubSpeed) {
			speeds = append(speeds, v)
		}
	}
	s := stat.SampleOf(speeds)
	return s.N >= few && math.Sqrt(s.Variance) < alike*s.Mean
}

// usual is the middle of a golfer's balls and their spread, by number; 0 where
// none has it.
type usual struct {
	balls          int
	clubless       bool // the balls may be of several clubs
	middle, spread [analysis.NumNumbers]float64
}

func usualOf(used []analysis.Shot) (u usual) {
	u.balls = len(used)
	for _, n := range analysis.Numbers() {
		if v, _ := analysis.Values(used, n); 2*len(v) > len(used) {
			u.middle[n], _ = stat.Median(v)
			u.spread[n], _ = stat.MAD(v)
		}
	}
	return u
}

// of is a ball's number as a share of the usual, when both were measured. A carry
// flown from the launch is as good as one.
func (u *usual) of(s analysis.Shot, n analysis.Number) share {
	v, ok := s.Value(n)
	if !ok || s.Inferred(n) && n != analysis.Carry || !(u.middle[n] > 0) {
		return share{share: 1}
	}
	return share{v / u.middle[n], true}
}

// below is how many of the golfer's own deviations a ball is under the usual.
func (u *usual) below(s analysis.Shot, n analysis.Number) float64 {
	v, _ := s.Value(n)
	return (u.middle[n] - v) / max(u.spread[n], 0.01*math.Abs(u.middle[n]))
}

// What mishits look like beside the usual ball, as shares of it (common practice,
// no source): the figures are wide of what an ordinary poor ball does.
const (
	topLaunch, topCarry = 0.3, 0.4
	topCarryAlone       = 0.12 // where launch was not measured

	shankAside, shankSpeed  = 20 * analysis.Degree, 0.85
	shankFinish, shankCarry = 12 * analysis.Degree, 0.55 // where the start line was not

	thinLaunch, thinSpeed = 0.6, 0.97  // a low ball of less loft is faster, not slower
	thinCarry, thinStrike = 0.63, 0.01 // m under the usual, where launch was not

	duffSpeed, duffClub, duffCarry = 0.8, 0.87, 0.7
	duffSmash, duffSpin            = 0.95, 0.85 // of what so slow a club gives: turf is in between
	turfSmash, turfStruck          = 0.6, 0.7   // however fast the club came; the second where the strike is known
	offMiddle                      = 0.025      // m, from which the strike has the loss
	duffLaunch                     = 0.3        // off the usual, to either side

	// What is not struck by the face does not grip it; a ball struck low on the face
	// spins more.
	topSpin, ungripped = 0.6, 0.9

	restCarry, restBelow = 0.62, 9 // in the golfer's own deviations
	restFew              = 40      // more of those, by the number of balls: few say little of them
)

// mishit reports whether a ball is one, and of what kind as far as it shows.
func (u *usual) mishit(s analysis.Shot) (k Kind, ok bool) {
	b := u.beside(s)
	short := u.below(s, analysis.Carry)
	switch {
	case b.topped():
		return Top, true
	case u.shanked(s, b):
		return Shank, true
	case b.ball() && b.speed.share < thinSpeed && b.low() < thinLaunch && u.below(s, analysis.LaunchAngle) > lowest(b.low()) && b.spins(ungripped),
		b.blind() && b.carry.share < thinCarry && short > 5 && u.middle[analysis.StrikeUp]-b.up > thinStrike:
		return Thin, true
	case b.duffed() && !(u.clubless && b.launch.share > 1+duffLaunch): // higher and slower is a shorter club
		return Duff, true
	case b.blind() && b.carry.share < restCarry && short > restBelow+restFew/float64(u.balls) && !u.sound(s, b):
		return NoKind, true
	}
	return NoKind, false
}

// sound reports whether club and strike were measured and show nothing of a
// mishit: as fast as usual, and not struck low. Such a ball is a poor one of its
// pattern, however short.
func (u *usual) sound(s analysis.Shot, b beside) bool {
	return b.club.known && b.club.share >= duffClub && s.Measured(analysis.StrikeUp) &&
		u.middle[analysis.StrikeUp]-b.up <= thinStrike
}

// lowest is how many of the golfer's own deviations a low ball is under the usual
// to be thin: the lower it is the fewer.
func lowest(low float64) float64 {
	if low < 0.5 {
		return 2.5
	}
	return 4
}

// A share is a number of a ball as a share of the usual, 1 where it was not
// measured.
type share struct {
	share float64
	known bool
}

// beside is a ball beside the usual one.
type beside struct {
	carry, launch, speed, club, spin, loft share
	up                                     float64 // strike, m
	turf                                   float64 // share of the usual smash under which turf was in between
}

func (u *usual) beside(s analysis.Shot) beside {
	up, ok := s.Value(analysis.StrikeUp)
	if !ok || s.Inferred(analysis.StrikeUp) {
		up = u.middle[analysis.StrikeUp]
	}
	turf := turfSmash
	if toe, ok := s.Value(analysis.StrikeToe); ok && !s.Inferred(analysis.StrikeToe) {
		if turf = turfStruck; math.Hypot(toe-u.middle[analysis.StrikeToe], up-u.middle[analysis.StrikeUp]) > offMiddle {
			turf = 0
		}
	}
	return beside{u.of(s, analysis.Carry), u.of(s, analysis.LaunchAngle), u.of(s, analysis.BallSpeed),
		u.of(s, analysis.ClubSpeed), u.of(s, analysis.Spin), u.of(s, analysis.DynamicLoft), up, turf}
}

// ball reports whether the ball was seen as it left, blind that it was not and
// only its carry tells.
func (b beside) ball() bool  { return b.launch.known && b.speed.known }
func (b beside) blind() bool { return !b.launch.known && !b.speed.known && b.carry.known }

// spins reports whether a ball spun less than that share of the usual, as far as it
// was measured.
func (b beside) spins(below float64) bool { return !b.spin.known || b.spin.share < below }

// low is how low a ball came out for its loft.
func (b beside) low() float64 {
	if l := b.loft.share; l > 0 && l < 1 {
		return b.launch.share / l
	}
	return b.launch.share
}

func (b beside) topped() bool {
	if !b.launch.known {
		return b.carry.known && b.carry.share < topCarryAlone
	}
	return b.launch.share < topLaunch && b.carry.share < topCarry && b.speed.share < shankSpeed && b.spins(topSpin)
}

func (b beside) duffed() bool {
	slow := b.club.share < duffClub
	switch {
	case !b.speed.known:
		return slow && b.carry.share < duffCarry
	case b.club.known && b.speed.share/b.club.share < b.turf:
		return true
	case b.speed.share >= duffSpeed:
		return false
	case b.club.known:
		return slow && (b.speed.share/b.club.share < duffSmash || b.spin.share/b.club.share < duffSpin)
	}
	return b.launch.known && math.Abs(b.launch.share-1) < duffLaunch && b.spin.share < duffSpin
}

// shanked reports whether a ball went far to the side with speed lost, by its
// start line, else by where it finished.
func (u *usual) shanked(s analysis.Shot, b beside) bool {
	if start, ok := s.Value(analysis.Direction); ok && !s.Inferred(analysis.Direction) {
		off := math.Abs(start - u.middle[analysis.Direction])
		short := b.carry.share < shankCarry
		return off > 1.5*shankAside && short ||
			off > shankAside && (b.speed.share < shankSpeed && b.spins(ungripped) || !b.speed.known && short)
	}
	y, ok := s.Value(analysis.Lateral)
	x, _ := s.Value(analysis.Carry)
	off := math.Atan2(y, x) - math.Atan2(u.middle[analysis.Lateral], u.middle[analysis.Carry])
	return ok && b.carry.share < shankCarry && math.Abs(off) > shankFinish
}
