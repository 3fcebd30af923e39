package words

import (
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// Sentence starts text with a capital.
func Sentence(text string) string { return sentence(text) }

// Timelines says what several numbers, or one with several clubs, did over
// sessions; of one it is Timeline with what the data cannot say.
func (v Voice) Timelines(results []timeline.Result) (lines []string) {
	var warnings [][]analysis.Warning
	said := false // that there is no lesson
	for _, r := range results {
		own := v.Timeline(r)
		if rest, none := strings.CutPrefix(own[0], noLesson); none {
			if said {
				own[0] = rest
			}
			said = true
		}
		if severalClubs(results) && !r.Club.Unknown() {
			own[0] = sentence(r.Club.String()) + ": " + own[0]
		}
		lines = append(lines, own...)
		warnings = append(warnings, r.Warnings)
	}
	if slices.ContainsFunc(results, normalised) {
		lines = append(lines, "Distances are brought to the air of the latest session that says its own, as the flight model has it; they are not the measured ones.")
	}
	return append(lines, v.Caveats(warnings...)...)
}

// normalised reports whether a result has distances brought to one air.
func normalised(r timeline.Result) bool {
	return slices.ContainsFunc(r.Points, func(p timeline.Point) bool { return p.Normalised })
}

func severalClubs(results []timeline.Result) bool {
	return slices.ContainsFunc(results, func(r timeline.Result) bool { return r.Club != results[0].Club })
}

// TimelinesTitle is the finding of several timelines, for the head of their
// picture: what changed since the lesson, else what they are of.
func (v Voice) TimelinesTitle(results []timeline.Result) string {
	var changed, moving, names []string
	for _, r := range results {
		name := r.Number.Short()
		if severalClubs(results) {
			name = r.Club.String()
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
		switch {
		case orMoving(r.Effect) != "":
			moving = append(moving, name)
		case r.Effect.Change == timeline.Changed:
			changed = append(changed, name)
		}
	}
	of := ""
	if severalClubs(results) {
		of = results[0].Number.Short() + ", "
	}
	title := sentence(of + list(names, "and") + " over the sessions")
	switch {
	case len(changed) == 0 && len(moving) > 0:
		title = sentence(of + "changed, or moving already: " + list(moving, "and"))
	case len(changed) > 0:
		title = sentence(of + "changed since the lesson: " + list(changed, "and"))
	}
	if len(title) > maxTitle {
		return sentence(Count(len(results), "number")) + " over the sessions"
	}
	return title
}

// AltTimelines says what the picture of several timelines shows, at most 1,024
// characters.
func (v Voice) AltTimelines(results []timeline.Result) string {
	if len(results) == 1 {
		return v.AltTimeline(results[0])
	}
	v.Plain = true
	says := []string{v.TimelinesTitle(results) + ".", sentence(Count(len(results), "panel")) + ", one below the other on one calendar."}
	for _, r := range results {
		name := sentence(r.Number.String())
		if !r.Club.Unknown() {
			name += ", " + r.Club.String()
		}
		text := name + ": " + Count(len(r.Points), "session")
		if n := len(r.Points); n > 0 {
			text += ", last " + v.Mean(r.Number, r.Points[n-1].Mean)
		}
		says = append(says, text+". "+v.Timeline(r)[0])
	}
	return fit(append(says, v.Setups(results)...), maxAlt)
}
