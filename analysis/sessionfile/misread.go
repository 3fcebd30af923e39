package sessionfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"rangepost/analysis"
)

// setAside takes back what was misread: numbers no ball has, rows that are there
// twice, club cells that stand still, and numbers that the rest of their ball
// contradicts. The number is left out, not the ball; where it cannot be told which of a
// ball's numbers is wrong, the ball is set aside. Nothing is deleted from the file.
//
// shots have the numbers of the file and no others; what follows from them by
// definition is filled in here, after what is not to be believed is gone.
func setAside(shots []analysis.Shot, sky *sky, o Options) (decisions, leftOut []string, questions []analysis.Question) {
	for i := range shots {
		leftOut = append(leftOut, leaveOutImpossible(&shots[i])...)
	}
	duplicates(shots)
	leftOut = append(leftOut, frozen(shots)...)
	decisions, questions = wholeColumns(shots, sky, o)
	lines, notes := wholeRows(shots, sky, o.Hand)
	decisions, leftOut = append(decisions, lines...), append(leftOut, notes...)
	for i, s := range shots {
		shots[i] = s.Derived()
		if why := contradiction(shots[i]); why != "" {
			mark(&shots[i], analysis.Inconsistent, why)
		}
		if v, ok := shots[i].Value(analysis.Smash); ok && v > analysis.Smash.Info().Most {
			mark(&shots[i], analysis.Impossible, fmt.Sprintf("the ball came off at %.2f times the club's speed; %.2f is the most there is", v, analysis.Smash.Info().Most))
		}
	}
	return decisions, leftOut, questions
}

// mark sets a shot aside unless it is already.
func mark(s *analysis.Shot, aside analysis.Aside, why string) {
	if s.Aside == analysis.Used {
		s.Aside, s.Why = aside, why
	}
}

// leaveOutImpossible takes the numbers that no ball has out of a shot. Where
// several are, or nothing is left, it is no ball.
func leaveOutImpossible(s *analysis.Shot) (notes []string) {
	if !slices.ContainsFunc(analysis.Numbers(), s.Has) {
		mark(s, analysis.Impossible, "nothing was measured of it")
		return nil
	}
	left := *s
	var whys []string
	for _, n := range analysis.Numbers() {
		v, ok := s.Value(n)
		// A topped ball comes off at any fraction of the club's speed, and more
		// than there is says that one of the two speeds is wrong, not which.
		if !ok || n == analysis.Smash {
			continue
		}
		switch info := n.Info(); {
		case nearlyNothing(n, v), beyondTheFace(n, v):
			continue
		case v < info.Least:
			whys = append(whys, fmt.Sprintf("no shot has so little %s", n))
		case v > info.Most:
			whys = append(whys, fmt.Sprintf("no shot has so much %s", n))
		default:
			continue
		}
		for _, n := range withIt(*s, n) {
			left = left.With(n, math.NaN())
		}
		notes = append(notes, fmt.Sprintf("ball %d: %s left out, %s", s.N, n, whys[len(whys)-1]))
	}
	if len(whys) >= mostWrong || len(whys) > 0 && !slices.ContainsFunc(analysis.Numbers(), left.Has) {
		mark(s, analysis.Impossible, whys[0])
		return nil
	}
	*s = left
	return notes
}

// nearlyNothing reports whether a number is what a device makes of a ball that was
// topped and went nowhere: no more than its noise below nothing.
func nearlyNothing(n analysis.Number, v float64) bool {
	return n.Info().Of == analysis.OfFlight && v > -1 && v < n.Info().Least
}

// beyondTheFace reports whether a strike is off the face by no more than a club
// is long there: the ball was hardly hit, and the device says where it was.
func beyondTheFace(n analysis.Number, v float64) bool {
	return (n == analysis.StrikeToe || n == analysis.StrikeUp) && math.Abs(v) < 0.15
}

// contradiction says where a shot's own numbers break a definition.
func contradiction(s analysis.Shot) string {
	v := func(n analysis.Number) float64 { x, _ := s.Value(n); return x }
	has := func(ns ...analysis.Number) bool {
		return !slices.ContainsFunc(ns, func(n analysis.Number) bool { return !s.Has(n) })
	}
	switch {
	case has(analysis.Face, analysis.Path, analysis.FaceToPath) && math.Abs(v(analysis.Face)-v(analysis.Path)-v(analysis.FaceToPath)) > 1.6*degree:
		return "face-to-path is not face minus path"
	case has(analysis.Smash, analysis.BallSpeed, analysis.ClubSpeed) && math.Abs(v(analysis.Smash)*v(analysis.ClubSpeed)-v(analysis.BallSpeed)) > 0.06*v(analysis.BallSpeed)+0.5:
		return "smash factor is not ball speed over club speed"
	case has(analysis.Carry, analysis.Total) && v(analysis.Total) < 0.9*v(analysis.Carry)-5:
		return "total is shorter than carry"
	}
	return ""
}

// duplicates marks every row but the first that repeats all the numbers of
// another. Five numbers with a dozen digits between them do not come twice.
func duplicates(shots []analysis.Shot) {
	seen := map[string]bool{}
	var key, digits []byte
	for i := range shots {
		key = append(key[:0], shots[i].Club.Key()+"|"+shots[i].Label...)
		known, told := 0, 0
		for _, n := range analysis.Numbers() {
			v, ok := shots[i].Value(n)
			key = append(key, '|')
			if ok {
				key = strconv.AppendFloat(key, v, 'g', 9, 64)
			}
			if ok && v != 0 {
				known++
				told += len(strconv.AppendFloat(digits[:0], math.Abs(v), 'g', 3, 64))
			}
		}
		if known < 5 || told < 12 {
			continue
		}
		if seen[string(key)] {
			mark(&shots[i], analysis.Duplicate, "the same row is there twice")
		}
		seen[string(key)] = true
	}
}

const (
	// allOff is how far a session's carries may be off what their launches give
	// before it is said.
	allOff = 0.20
	// enough shots show what they are off together.
	enough = 5
)

// wholeRows holds every ball against all that ties its numbers together, beside
// the other balls of its club.
func wholeRows(shots []analysis.Shot, sky *sky, hand analysis.Hand) (decisions, leftOut []string) {
	var carried []float64
	for _, st := range stretches(shots) {
		rows := st.rows
		for k := range rows {
			rows[k].independent()
		}
		h := newCompany(physicsOf(st.club, hand, sky), rows)
		for k, i := range st.at {
			leftOut = append(leftOut, h.judge(&shots[i], rows[k])...)
			if v := h.all[k].by[carryLaw]; !math.IsNaN(v) {
				carried = append(carried, v)
			}
		}
	}
	if off := math.Exp(median(carried)) - 1; math.Abs(off) > allOff && len(carried) >= enough {
		decisions = append(decisions, fmt.Sprintf("carries are about %.0f %% %s what ball speed, launch and spin give: short-flight balls, thin air or another unit than the file says", 100*math.Abs(off), overUnder(off)))
	}
	return decisions, leftOut
}

func overUnder(off float64) string {
	if off < 0 {
		return "under"
	}
	return "over"
}

// judge leaves out what is not to be believed of one ball.
func (h *company) judge(s *analysis.Shot, x ballRow) (notes []string) {
	held := h.held(x)
	for range mostWrong {
		doubts, sure := h.doubted(x, held)
		if len(doubts) == 0 {
			break
		}
		if !sure && len(doubts) > 2 {
			var ns []analysis.Number
			for _, d := range doubts {
				ns = append(ns, d.n)
			}
			mark(s, analysis.Inconsistent, "its "+listed(ns)+" do not go together")
			break
		}
		for _, d := range doubts {
			notes = append(notes, d.note(*s))
			for _, n := range withIt(*s, d.n) {
				*s = s.With(n, math.NaN())
				x[n] = math.NaN()
			}
		}
	}
	return notes
}
