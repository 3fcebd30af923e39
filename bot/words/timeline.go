package words

import (
	"math"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// date says a day: "3 June 2026".
func date(t time.Time) string { return t.Format("2 January 2006") }

// Timeline says what a number did over sessions, a line each: since the last
// lesson and how sure that is, then drift and trend if there are any.
func (v Voice) Timeline(r timeline.Result) []string {
	if len(r.Points) == 0 {
		return []string{sentence(r.Number.String()) + " was measured in no session yet."}
	}
	lines := v.since(r)
	if s := v.drift(r); s != "" {
		lines = append(lines, s)
	}
	if s := v.trend(r); s != "" {
		lines = append(lines, s)
	}
	return lines
}

// since says what changed with the last lesson, and with the one before where
// that was found and of this nothing can be said yet.
func (v Voice) since(r timeline.Result) []string {
	e := r.Effect
	lesson := lessons(e)
	sessions := Count(e.Before, "session") + " before, " + figure(float64(e.After), 1) + " since"
	switch e.Change {
	case timeline.TooEarly:
		lines := []string{"Too early to say what " + lesson + " changed in the " + r.Number.String() + ": " + sessions +
			", and three each side are needed."}
		if n := len(r.Effects); n > 1 && r.Effects[n-2].Change == timeline.Changed {
			lines = append(lines, v.found(r.Number, r.Effects[n-2])...)
		}
		return lines
	case timeline.Changed:
		return append(v.found(r.Number, e), "That is more than sessions differ by themselves ("+sessions+").")
	case timeline.NotYet:
		lines := []string{"Whether " + lesson + " changed the " + r.Number.String() + " cannot be told yet: the difference may be anywhere " +
			v.ChangeLimits(r.Number, e.Low, e.High) + " (" + sessions + ")."}
		if e.Low*e.High > 0 {
			lines = append(lines, "A change is said only when it stands stricter limits than these: it is looked for more than once, and the number may have been moving without a lesson.")
		}
		if e.Next > 0 {
			lines = append(lines, "It is judged next with "+Count(e.Next, "session")+" since.")
		}
		return append(lines, v.provisos(r.Number, e)...)
	}
	if len(r.Lessons) > 0 { // before all of them
		return []string{v.mean(r)}
	}
	return []string{noLesson + v.mean(r)}
}

// lessons names the lesson of an effect, or the last of several that share it.
func lessons(e timeline.Effect) string {
	if e.Together > 1 {
		return "the " + figure(float64(e.Together), 1) + " lessons up to " + date(e.Lesson.At)
	}
	return "the lesson on " + date(e.Lesson.At)
}

// theLesson is a lesson that was named already.
func theLesson(e timeline.Effect) string {
	if e.Together > 1 {
		return "the lessons"
	}
	return "the lesson"
}

// found says a change that was found, and what has become of it.
func (v Voice) found(n analysis.Number, e timeline.Effect) []string {
	half := v.half(n.Info().Kind, e.Low, e.High, true)
	after := v.shownSum(n.Info().Kind, e.MeanBefore, e.Difference, half)
	text := "Since " + lessons(e) + " the " + n.String() + " is "
	if e.Lasts == timeline.Fades || e.Lasts == timeline.Gone {
		text = "After " + lessons(e) + " the " + n.String() + " was "
	}
	text += v.change(n, e.Difference, half) + v.changeBracket(n, e.Low, e.High) + ": from " +
		v.untailed(n, e.MeanBefore, half) + " to " + v.untailed(n, after, half)
	switch {
	case e.Lasts == timeline.Gone:
		text += ". It did not last: that is gone again"
	case e.Lasts == timeline.Fades:
		text += ". It is fading: about " + v.amount(n.Info().Kind, max(e.Left, -e.Left), half) + " of it is left"
	case e.Shape == timeline.Gradual:
		text += ". It came bit by bit, and it stayed"
	case e.Shape == timeline.Sudden:
		text += ". It came at once, and it stayed"
	}
	return append([]string{text + "."}, v.provisos(n, e)...)
}

// orMoving says of a change that is not credited to its lesson what else it may
// be, "" of one that is.
func orMoving(e timeline.Effect) string {
	if e.Change != timeline.Changed || e.Credited {
		return ""
	}
	return "or was moving that way already"
}

// provisos are what else may have had a part in a difference.
func (v Voice) provisos(n analysis.Number, e timeline.Effect) (lines []string) {
	if e.Together > 1 {
		lines = append(lines, "With fewer than three sessions between them, these lessons cannot be told apart.")
	}
	switch {
	case orMoving(e) != "":
		lines = append(lines, "It changed with "+theLesson(e)+", "+orMoving(e)+": these sessions cannot tell which, so it is not put down to "+theLesson(e)+".")
	case e.Improving:
		lines = append(lines, "The "+n.String()+" was moving that way before the lesson already; what it would have moved anyway is taken off.")
	}
	if e.WorstBefore && e.Change == timeline.Changed && !e.Improving {
		lines = append(lines, "The lesson followed the worst session, so some of this would have come anyway.")
	}
	return lines
}

const noLesson = "No lesson is marked among these sessions. "

// shownSum is before plus difference, each as it is shown, so that the figures
// of one sentence add up.
func (v Voice) shownSum(k analysis.Kind, before, difference, half float64) float64 {
	unit := step(k, half) * v.Scale(k)
	return (math.Round(before/unit) + math.Round(difference/unit)) * unit
}

// mean says the mean over sessions.
func (v Voice) mean(r timeline.Result) string {
	return "Over " + Count(len(r.Points), "session") + " the " + r.Number.String() + " was " + v.Mean(r.Number, r.Mean) +
		v.bracket(r.Number, r.Mean) + "."
}

// drift says where the number left its usual limits.
func (v Voice) drift(r timeline.Result) string {
	d := r.Drift
	if !d.OK || d.Out < 0 || d.Out >= len(r.Points) {
		return ""
	}
	text := "From the session on " + date(r.Points[d.Out].At) + " on, the " + r.Number.String() + " has drifted outside its usual limits"
	if n := len(d.EWMA); n == len(r.Points) {
		if moved := d.EWMA[n-1] - d.Target; !v.vanishes(r.Number.Info().Kind, moved, alone) {
			text += ", about " + v.Change(r.Number, moved) + " than before"
		}
	}
	if d.Watch {
		text += "; something to watch, as so few sessions draw those limits only roughly"
	}
	return text + "."
}

// trend says a steady movement, only when it is one.
func (v Voice) trend(r timeline.Result) string {
	const month = 30 // days
	if !r.Trend.OK || r.Trend.P >= 0.05 || r.Trend.Low*r.Trend.High <= 0 {
		return ""
	}
	half := v.half(r.Number.Info().Kind, r.Trend.Low*month, r.Trend.High*month, true)
	if v.vanishes(r.Number.Info().Kind, r.Trend.PerDay*month, half) {
		return ""
	}
	return "Over " + Count(len(r.Points), "session") + " the " + r.Number.String() + " has moved steadily, about " +
		v.change(r.Number, r.Trend.PerDay*month, half) + " a month."
}

// AltTimeline says what the picture of a timeline shows, at most 1,024
// characters.
func (v Voice) AltTimeline(r timeline.Result) string {
	v.Plain = true
	says := sentence(r.Number.String())
	if !r.Club.Unknown() {
		says += ", " + r.Club.String()
	}
	says += ": " + Count(len(r.Points), "session")
	if n := len(r.Points); n > 0 {
		first, last := r.Points[0], r.Points[n-1]
		says += ", each a point with its limits. First, " + date(first.At) + ": " + v.Mean(r.Number, first.Mean) + "."
		if n > 1 {
			says += " Last, " + date(last.At) + ": " + v.Mean(r.Number, last.Mean) + "."
		}
	} else {
		says += "."
	}
	switch n := len(r.Lessons); {
	case n == 1:
		says += " An upright line marks the lesson on " + date(r.Lessons[0].At) + "."
	case n > 1:
		says += " Upright lines mark " + Count(n, "lesson") + ", the last on " + date(r.Lessons[n-1].At) + "."
	}
	return fit(slices.Concat([]string{says}, v.Setups([]timeline.Result{r}), v.Timeline(r)), maxAlt)
}

// TimelineTitle is the finding of a timeline, for the head of its picture: at
// most 60 characters, no full stop.
func (v Voice) TimelineTitle(r timeline.Result) string {
	name := sentence(r.Number.String())
	e := r.Effect
	half := v.half(r.Number.Info().Kind, e.Low, e.High, true)
	switch {
	case len(r.Points) == 0:
		return name + ": not measured yet"
	case orMoving(e) != "":
		return name + ": changed, " + orMoving(e)
	case e.Change == timeline.Changed:
		return name + ": " + v.change(r.Number, e.Difference, half) + " since the lesson"
	case e.Change == timeline.TooEarly:
		return name + ": too early since the lesson"
	case e.Change == timeline.NotYet:
		return name + ": no change to be told yet"
	}
	return name + " over " + Count(len(r.Points), "session")
}

// Brief says how a brief was kept: "14 of 20 inside your coach's limits
// (between 48 and 86 %)".
func (v Voice) Brief(k timeline.Kept) string {
	head := "Brief, " + v.Asked(k.Brief) + ": "
	if k.Of == 0 {
		return head + "no ball here was measured for it."
	}
	return head + figure(float64(k.Inside), 1) + " of " + figure(float64(k.Of), 1) + " inside your coach's limits" +
		v.shareLimits(k) + "."
}

func (v Voice) shareLimits(k timeline.Kept) string {
	low, high := percentOutward(k.ShareLow, k.ShareHigh)
	return " (between " + low + " and " + high + " %)"
}

// Asked says what a brief asks for: "face angle between 1° left and 1° right of
// target", "club speed at least 92 mph".
func (v Voice) Asked(b analysis.Brief) string {
	if b.Share > 0 {
		text := figure(math.Round(b.Share*float64(b.Balls)), 1) + " of " + figure(float64(b.Balls), 1) + " to do the shot"
		if !b.Club.Unknown() {
			text += " with the " + b.Club.String()
		}
		return text
	}
	text := b.Number.String()
	if !b.Club.Unknown() {
		text += " with the " + b.Club.String()
	}
	sided := b.Number.Info().Sides != nil
	lower, higher := b.Number.Changes(v.Hand)
	switch {
	case b.Low != nil && b.High != nil:
		return text + " " + v.setting(b.Number, *b.Low, *b.High)
	case b.Low != nil && sided:
		return text + " no " + lower + " than " + v.exact(b.Number, *b.Low)
	case b.High != nil && sided:
		return text + " no " + higher + " than " + v.exact(b.Number, *b.High)
	case b.Low != nil:
		return text + " at least " + v.exact(b.Number, *b.Low)
	case b.High != nil:
		return text + " at most " + v.exact(b.Number, *b.High)
	}
	return text
}

// setting says limits somebody chose, as they chose them.
func (v Voice) setting(n analysis.Number, low, high float64) string {
	k := n.Info().Kind
	s, ok := n.Sides(v.Hand)
	lo, hi := v.chosen(k, low), v.chosen(k, high)
	say := func(x float64) string { return trimmed(max(x, -x)) }
	switch {
	case !ok:
		return "between " + trimmed(lo) + " and " + v.unit(trimmed(hi), k)
	case lo >= 0:
		return "between " + say(lo) + " and " + v.unit(say(hi), k) + " " + s.Plus + s.Tail
	case hi <= 0:
		return "between " + say(hi) + " and " + v.unit(say(lo), k) + " " + s.Minus + s.Tail
	}
	return "between " + v.unit(say(lo), k) + " " + s.Minus + " and " + v.unit(say(hi), k) + " " + s.Plus + s.Tail
}

// exact says one value somebody chose.
func (v Voice) exact(n analysis.Number, x float64) string {
	k := n.Info().Kind
	shown := v.chosen(k, x)
	s, ok := n.Sides(v.Hand)
	switch {
	case !ok:
		return v.unit(trimmed(shown), k)
	case shown < 0:
		return v.unit(trimmed(-shown), k) + " " + s.Minus + s.Tail
	case shown > 0:
		return v.unit(trimmed(shown), k) + " " + s.Plus + s.Tail
	}
	return s.Zero
}
