package plan

import (
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis"
)

// Labelled writes the places of a session's balls as one would type them, by the
// grammar of package label: "1-5 as usual, 6-10 stronger grip". Balls of the
// plan's club that are none of the card's are called warm-ups in front of it and
// extra behind, so that they are in no comparison. Balls of other clubs are left
// out; it is "" for a session without a ball of the card's.
func (p Plan) Labelled(placed Placed) string {
	first := slices.IndexFunc(placed.Turn, func(turn int) bool { return turn != Nowhere })
	if first < 0 {
		return ""
	}
	var pieces []string
	run := func(of func(i int) (label string, ok bool)) {
		from, last, label := 0, 0, ""
		end := func() {
			if label == "" {
				return
			}
			span := fmt.Sprint(from)
			if last > from {
				span = fmt.Sprintf("%d-%d", from, last)
			}
			pieces = append(pieces, span+" "+label)
			label = ""
		}
		for i, shot := range placed.Session.Shots {
			here, ok := of(i)
			if !ok || here != label || shot.N != last+1 {
				end()
			}
			if !ok {
				continue
			}
			if label == "" {
				from = shot.N
			}
			label, last = here, shot.N
		}
		end()
	}
	set := func(i int) (string, bool) {
		if !p.ofClub(placed.Session.Shots[i]) {
			return "", false
		}
		return p.Labels[max(0, p.setOf(placed.Turn[i]))], true
	}
	run(set)
	run(func(i int) (string, bool) {
		_, ours := set(i)
		why := analysis.WarmUp
		if i > first {
			why = analysis.Extra
		}
		return string(why), ours && placed.Turn[i] == Nowhere && placed.Session.Shots[i].Aside == analysis.Used
	})
	return strings.Join(pieces, ", ")
}
