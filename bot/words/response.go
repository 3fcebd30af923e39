package words

import (
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// Response says what each setup tool does to this golfer's delivery, a line a
// tool that was tried, then what the trade expects of the rest. The responses
// are those of trial.Learn, of one club; name heads the lines.
func (v Voice) Response(name string, responses []trial.Response) []string {
	var lines, lent, untried []string
	for _, tool := range analysis.Tools() {
		var of []trial.Response
		for _, r := range responses {
			if r.Tool == tool {
				of = append(of, r)
			}
		}
		switch {
		case len(of) == 0:
		case tried(of) == 0 && slices.ContainsFunc(of, func(r trial.Response) bool { return r.Golfers > 0 }):
			lent = append(lent, ToolPhrase(tool)+v.clear(of))
		case tried(of) == 0:
			untried = append(untried, string(tool))
		default:
			lines = append(lines, v.responseOf(tool, of))
		}
	}
	if len(lines) == 0 {
		lines = []string{name + ": no trial of a setup change yet, so nothing is known of what moves what for this golfer."}
	} else {
		lines[0] = name + ". " + lines[0]
	}
	lines = append(lines, sentencesOf("Not tried yet, but known of your coach's students: ", lent)...)
	if len(untried) > 0 {
		lines = append(lines, "Not tried yet: "+list(untried, "and")+". Of those only what the trade expects is known (common practice, no source).")
	}
	return append(lines, "To try one: hit it in turns with the usual setup, a few balls of each, and name the two sets.")
}

// clear says of a tool in brackets how it is known to move face and path, by which
// a tool is chosen; "" where it is not.
func (v Voice) clear(of []trial.Response) string {
	var moves []string
	for _, r := range of {
		if (r.Number == analysis.Face || r.Number == analysis.Path) && r.Low*r.High > 0 {
			moves = append(moves, r.Number.Short()+" "+v.change(r.Number, r.Mean, v.half(r.Number.Info().Kind, r.Low, r.High, true)))
		}
	}
	if len(moves) == 0 {
		return ""
	}
	return " (" + list(moves, "and") + ")"
}

func tried(of []trial.Response) (trials int) {
	for _, r := range of {
		trials = max(trials, r.Trials)
	}
	return trials
}

// responseOf says what one tool moves and what it leaves, each mean with its
// limits.
func (v Voice) responseOf(tool analysis.Tool, of []trial.Response) string {
	var moves, unsure []string
	balls := 0
	for _, r := range of {
		if r.Trials == 0 {
			continue
		}
		balls = max(balls, r.Balls)
		if r.Low*r.High > 0 {
			half := v.half(r.Number.Info().Kind, r.Low, r.High, true)
			moves = append(moves, r.Number.Short()+" "+v.change(r.Number, r.Mean, half)+v.changeBracket(r.Number, r.Low, r.High))
			continue
		}
		unsure = append(unsure, r.Number.Short())
	}
	head := sentence(ToolPhrase(tool)) + " (" + Count(tried(of), "trial") + ", " + Count(balls, "ball") + ")"
	says := sentencesOf(head+" moves: ", moves)
	switch {
	case len(unsure) > 0 && len(moves) == 0:
		says = append(says, head+": what it does to "+list(unsure, "or")+" cannot be told yet.")
	case len(unsure) > 0:
		says = append(says, "What it does to "+list(unsure, "or")+" cannot be told yet.")
	}
	return strings.Join(says, " ")
}
