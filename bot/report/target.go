package report

import (
	"cmp"
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// waiting compiles a pattern when it is first asked for: most processes end, or wait
// long, before anybody writes what it reads.
func waiting(of string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(of) })
}

// targetSaid is one club with its target, in a list of them.
var targetSaid = waiting(`^\s*([^,;:=]*?[^,;:=\s])\s*[\s:=]\s*(\d+(?:[.,]\d+)?\s*[a-z]*)\s*(?:[,;]|$)`)

// ParseTargets reads the carries aimed at as people write them: "150yd", or by
// club, "7i 150yd, pw 110yd". Without a unit they are in the golfer's own. Its
// error is an *analysis.Refusal.
func ParseTargets(text string, units analysis.Units) (analysis.Targets, error) {
	one, no := ParseDistance(text, units)
	if no == nil {
		return analysis.Targets{{}: one}, nil
	}
	all := analysis.Targets{}
	for left := strings.ToLower(text); strings.TrimSpace(left) != ""; {
		m := targetSaid().FindStringSubmatch(left)
		if m == nil {
			return nil, no
		}
		club, unknown := analysis.ParseClub(m[1])
		if unknown != nil || club.Unknown() {
			return nil, analysis.Refuse("Write it as 150yd, or by club as 7i 150yd, pw 110yd.", "that is not a club I know.").In(m[1])
		}
		if _, twice := all[club]; twice {
			return nil, analysis.Refuse("Give each club one.", "the %s has two targets.", club).In(text)
		}
		carry, err := ParseDistance(m[2], units)
		if err != nil {
			return nil, err
		}
		all[club] = carry
		left = left[len(m[0]):]
	}
	if len(all) == 0 {
		return nil, no
	}
	return all, nil
}

// A Lone target was said without its club, of a session with several.
type Lone struct {
	Carry float64         // m
	Clubs []analysis.Club // whose it may be, the likeliest first: it is taken as theirs if it is one
}

// What makes a target a club's: it lies within this fraction of how far the club
// carries, where neighbouring clubs are about a tenth apart, and no other club is
// less than so many times as far off (our choice).
const (
	targetReach = 0.25
	targetClear = 2
)

// targets are what each club of the session is judged by: what was said, and what
// of the rest the file says. A target said of no club in particular is the only
// club's, or that club's whose usual carry is near it, by the sessions before
// where there are any: what one is far short of was not aimed at with it.
func targets(session analysis.Session, said, file analysis.Targets, earlier []analysis.Session) (all analysis.Targets, lone *Lone) {
	all = said.Over(file)
	carry, ok := all[analysis.Club{}]
	clubs := clubsOf(session)
	if !ok || len(clubs) == 1 {
		return all, nil
	}
	lone = &Lone{Carry: carry}
	off := map[analysis.Club]float64{}
	for _, club := range clubs {
		if _, named := all[club]; named {
			continue
		}
		usual, ok := usualCarry(earlier, club)
		if !ok {
			usual, ok = usualCarry([]analysis.Session{session}, club)
		}
		if off[club] = math.Abs(math.Log(usual / carry)); ok && off[club] <= targetReach {
			lone.Clubs = append(lone.Clubs, club)
		}
	}
	slices.SortStableFunc(lone.Clubs, func(a, b analysis.Club) int { return cmp.Compare(off[a], off[b]) })
	for len(lone.Clubs) > 1 && off[lone.Clubs[len(lone.Clubs)-1]] > targetClear*off[lone.Clubs[0]] {
		lone.Clubs = lone.Clubs[:len(lone.Clubs)-1]
	}
	if len(lone.Clubs) == 1 {
		all = analysis.Targets{lone.Clubs[0]: carry}.Over(all)
	}
	return all, lone
}

// target is what a club is judged by of targets(), m, 0 for nothing.
func target(of analysis.Targets, lone *Lone, club analysis.Club) float64 {
	if carry, ok := of[club]; ok || lone != nil {
		return carry
	}
	return of[analysis.Club{}]
}

// clubsOf are the clubs of a session, in order of first appearance.
func clubsOf(s analysis.Session) (clubs []analysis.Club) {
	for _, shot := range s.Shots {
		if !slices.Contains(clubs, shot.Club) {
			clubs = append(clubs, shot.Club)
		}
	}
	return clubs
}

// unhit are the clubs that a target was said for and no ball was hit with.
func unhit(s analysis.Session, said analysis.Targets) (clubs []analysis.Club) {
	hit := clubsOf(s)
	for club := range said {
		if !club.Unknown() && !slices.Contains(hit, club) {
			clubs = append(clubs, club)
		}
	}
	slices.SortFunc(clubs, func(a, b analysis.Club) int { return cmp.Compare(a.Key(), b.Key()) })
	return clubs
}

// usualCarry is the middle carry of a club's balls in sessions, m.
func usualCarry(sessions []analysis.Session, club analysis.Club) (carry float64, ok bool) {
	var carries []float64
	for _, s := range sessions {
		for _, shot := range s.Shots {
			if v, ok := shot.Value(analysis.Carry); ok && shot.Club == club && shot.Aside == analysis.Used {
				carries = append(carries, v)
			}
		}
	}
	return stat.Median(carries)
}
