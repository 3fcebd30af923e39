package words

import (
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// Compared says how two sides differ, a line each: over how many days each is
// told, what differs, what is about the same, and what cannot be told.
func (v Voice) Compared(first, second string, all []timeline.Comparison) []string {
	if len(all) == 0 {
		return []string{"No number was measured of both " + first + " and " + second + "."}
	}
	days := all[0]
	for _, c := range all[1:] {
		if c.First.Sessions+c.Second.Sessions > days.First.Sessions+days.Second.Sessions {
			days = c
		}
	}
	head := sentence(first) + " (" + Count(days.First.Sessions, "day") + ", " + Count(days.First.Balls, "ball") + ") against " +
		second + " (" + Count(days.Second.Sessions, "day") + ", " + Count(days.Second.Balls, "ball") + ")"
	if days.Paired > 0 {
		head += ", on the same " + map[bool]string{true: "day", false: "days"}[days.Paired == 1]
	}
	lines := []string{head + "."}
	var alike, little []string
	for _, c := range all {
		name := "- " + sentence(c.Number.Short())
		half := v.half(c.Number.Info().Kind, c.Low, c.High, true)
		switch c.Contrast {
		case timeline.Differ:
			lines = append(lines, name+" "+v.change(c.Number, c.Difference, half)+v.changeBracket(c.Number, c.Low, c.High)+
				": "+v.untailed(c.Number, c.First.Mean, half)+", then "+v.untailed(c.Number, v.shownSum(c.Number.Info().Kind, c.First.Mean, c.Difference, half), half)+".")
		case timeline.Varies:
			days := make([]string, len(c.Days))
			for i, d := range c.Days {
				days[i] = v.change(c.Number, d, 1)
			}
			lines = append(lines, name+" differed from day to day: "+strings.Join(days, ", then ")+".")
		case timeline.CannotSay:
			lines = append(lines, name+" cannot be told: anywhere "+v.ChangeLimits(c.Number, c.Low, c.High)+".")
		case timeline.Alike:
			alike = append(alike, c.Number.Short())
		default:
			little = append(little, c.Number.Short())
		}
	}
	if len(alike) > 0 {
		lines = append(lines, "- About the same: "+list(alike, "and")+".")
	}
	if len(little) > 0 {
		lines = append(lines, "- Too few days to compare: "+list(little, "and")+".")
	}
	switch {
	case days.Within:
		return append(lines, "This is of "+theseDays(days.Paired)+" alone: another day may say otherwise. The limits hold for all these numbers together.")
	case len(little) == len(all):
		return append(lines, "One day differs from the next by itself, so two days a side are the least.")
	}
	return append(lines, "A day counts once, however many balls, since days differ by themselves. The limits hold for all these numbers together.")
}

func theseDays(n int) string {
	if n == 1 {
		return "this one day"
	}
	return "these " + Count(n, "day")
}

// State says where a number stands and what became of it since the lesson, for
// a line of a sheet: "face-to-path 2.5° open, 7 days; since the lesson 2.1° more
// closed".
func (v Voice) State(r timeline.Result) string {
	n := len(r.Points)
	if n == 0 {
		return ""
	}
	last := r.Points[n-1].Mean
	text := r.Number.Short() + " " + v.meanSide(r.Number, last) + " on " + shortDate(r.Points[n-1].At)
	if r.Mean.OK && n > 1 {
		text += ", over " + Count(n, "day") + " " + v.meanSide(r.Number, r.Mean)
	}
	e := r.Effect
	switch e.Change {
	case timeline.Changed:
		half := v.half(r.Number.Info().Kind, e.Low, e.High, true)
		if or := orMoving(e); or != "" {
			text += "; since the lesson " + v.change(r.Number, e.Difference, half) + ", " + or
		} else {
			text += "; with the lesson " + v.change(r.Number, e.Difference, half)
		}
		switch e.Lasts {
		case timeline.Fades:
			text += ", fading"
		case timeline.Gone:
			text += ", gone again"
		default:
			text += ", and it stayed"
		}
	}
	if d := v.Drifted(r); d != "" {
		text += "; drifting since " + shortDate(r.Points[r.Drift.Out].At)
	}
	return text
}

// ToTry says what a trial might try next: the setup that is expected to do most
// of what a set needs, and what it is known to do. "" where nothing is asked for.
func ToTry(t analysis.Tool, grounds analysis.Grounds, tried bool) string {
	phrase := ToolPhrase(t)
	switch {
	case phrase == "":
		return ""
	case tried:
		phrase += ", tried before"
	default:
		phrase += ", not tried yet"
	}
	phrase += ", in turns with the usual setup"
	switch grounds {
	case analysis.OwnTrials:
		return phrase + ", as their own trials say"
	case analysis.CoachStudents:
		return phrase + ", as your other students found"
	}
	return phrase
}
