package words

import (
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// ShortDate is a day of this year or about: "9 June".
func ShortDate(t time.Time) string { return shortDate(t) }

func shortDate(t time.Time) string { return t.Format("2 January") }

// Wanted says the whole of a brief: what it asks for, of how many balls, until
// when: "face angle between 1° left and 1° right of target, 40 balls by 14
// June".
func (v Voice) Wanted(b analysis.Brief) string {
	text := v.Asked(b)
	if b.Label != "" {
		text += ", the set " + v.Quote(b.Label)
	}
	switch {
	case b.Share > 0 && b.Until.IsZero():
	case b.Share > 0:
		text += ", by " + shortDate(b.Until)
	case b.Balls > 0 && !b.Until.IsZero():
		text += ", " + Count(b.Balls, "ball") + " by " + shortDate(b.Until)
	case b.Balls > 0:
		text += ", " + Count(b.Balls, "ball")
	case !b.Until.IsZero():
		text += ", until " + shortDate(b.Until)
	}
	return text
}

// SoFar says how far a brief has been worked on, over all the sessions since
// it was set: "So far 34 of 40 balls, 26 of them inside". "" for a brief that
// asks for no balls and of which this is the first session.
func (v Voice) SoFar(k timeline.Kept, s timeline.Standing, sessions int) string {
	asked := k.Brief.Balls
	switch {
	case k.Of == 0 || asked == 0 && sessions < 2:
		return ""
	case asked == 0:
		return "Since the brief was set: " + ofBalls(k.Inside, k.Of) + " inside" + v.shareLimits(k) + "."
	case k.Of >= asked:
		text := "That makes the " + Count(asked, "ball") + " of the brief."
		if sessions > 1 {
			text = "The " + Count(asked, "ball") + " of the brief are hit: since it was set " + ofBalls(k.Inside, k.Of) + " inside" + v.shareLimits(k) + "."
		}
		if s == timeline.Running {
			text += " They do not settle it, so it goes on."
		}
		return text
	}
	until := ""
	if !k.Brief.Until.IsZero() {
		until = ", until " + shortDate(k.Brief.Until)
	}
	return "So far " + ofBalls(k.Of, asked) + ", " + figure(float64(k.Inside), 1) + " of them inside; " +
		Count(asked-k.Of, "more ball") + " to go" + until + "."
}

// ofBalls says "12 of 40 balls".
func ofBalls(n, of int) string { return figure(float64(n), 1) + " of " + Count(of, "ball") }

// Stands says in a few words how a brief stands, for a line of a roster:
// "brief missed: 12 of 40 balls hit".
func (v Voice) Stands(k timeline.Kept, s timeline.Standing) string {
	inside := ofBalls(k.Inside, k.Of) + " inside"
	switch s {
	case timeline.Met:
		return "brief kept: " + inside
	case timeline.Missed:
		switch {
		case k.Of == 0:
			return "brief missed: no ball hit for it"
		case !k.Enough:
			return "brief missed: " + ofBalls(k.Of, k.Brief.Balls) + " hit"
		}
		return "brief missed: " + inside
	case timeline.Unclear:
		return "brief over, about half kept: " + inside
	}
	switch {
	case k.Of == 0:
		return "brief not begun"
	case k.Brief.Balls > 0 && !k.Enough:
		return "brief under way: " + ofBalls(k.Of, k.Brief.Balls) + " hit"
	}
	return "brief under way: " + inside
}

// BriefsBefore counts briefs by how they ended: "12 briefs before that: 9 kept, 2
// missed, 1 about half kept".
func BriefsBefore(stood map[timeline.Standing]int) string {
	all, says := 0, []string(nil)
	for _, s := range []struct {
		standing timeline.Standing
		name     string
	}{{timeline.Met, "kept"}, {timeline.Missed, "missed"}, {timeline.Unclear, "about half kept"}} {
		if n := stood[s.standing]; n > 0 {
			all += n
			says = append(says, figure(float64(n), 1)+" "+s.name)
		}
	}
	return Count(all, "brief") + " before that: " + strings.Join(says, ", ")
}

// SinceLast says what one number did from one session to the next, and whether
// that is more than sessions differ by themselves. r is the number over the
// sessions up to and including the later one. "" when there are not two.
func (v Voice) SinceLast(r timeline.Result) string {
	n := len(r.Points)
	if n < 2 {
		return ""
	}
	before, now := r.Points[n-2], r.Points[n-1]
	k := r.Number.Info().Kind
	d := now.Mean.Mean - before.Mean.Mean
	says := "Since the session before (" + shortDate(before.At) + ") the " + r.Number.String()
	if v.vanishes(k, d, alone) {
		return says + " stayed the same, " + v.Number(r.Number, now.Mean.Mean) + "."
	}
	says += " went " + v.Change(r.Number, d) + ", to " + v.Number(r.Number, now.Mean.Mean)
	usual, ok := timeline.Apart(r)
	switch {
	case !ok:
		return says + "; too few sessions to say whether that is more than one day differs from the next."
	case d > usual || d < -usual:
		return says + ". That is more than one day usually differs from the next (about " + v.amount(k, usual, alone) + ")."
	}
	return says + ". One day differs from the next by as much as " + v.amount(k, usual, alone) + ", so that says little."
}

// Drifted says in a few words that a number has drifted, for a line of a
// roster; "" if it has not.
func (v Voice) Drifted(r timeline.Result) string {
	d := r.Drift
	if !d.OK || d.Out < 0 || d.Out >= len(r.Points) {
		return ""
	}
	text := r.Number.Short() + " drifting since " + shortDate(r.Points[d.Out].At)
	if n := len(d.EWMA); n > 0 {
		if moved := d.EWMA[n-1] - d.Target; !v.vanishes(r.Number.Info().Kind, moved, alone) {
			text += ", now " + v.Change(r.Number, moved)
		}
	}
	if d.Watch { // too few sessions to draw its limits but roughly
		text += " (to watch)"
	}
	return text
}

// Silent says for how long nothing was posted.
func (v Voice) Silent(d time.Duration, sinceLesson bool) string {
	text := "silent for " + Count(int(d.Hours()/24), "day")
	if sinceLesson {
		text += ", since the lesson"
	}
	return text
}

// BriefFirst says in words alone how a brief stands, for the first layer of a
// reply: "Your brief: about two thirds inside so far."
func (v Voice) BriefFirst(k timeline.Kept, s timeline.Standing) string {
	switch s {
	case timeline.Met:
		return "Your brief is kept."
	case timeline.Missed:
		return "Your brief is over, and was missed."
	case timeline.Unclear:
		return "Your brief is over, about half kept."
	}
	if k.Of == 0 {
		return ""
	}
	share := fraction(k.Share)
	if k.Share < 0.05 {
		share = "hardly any"
	}
	return "Your brief: " + share + " inside so far."
}
