package words

import (
	"math"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/cause"
)

// WorkBack says what would put the centre on target: which number has to move
// and by how much, and which setup tool is worth a labelled trial. "" when
// there is nothing to put right or it cannot be told.
func (v Voice) WorkBack(r cause.Result) string {
	w := r.WorkBack
	if !w.OK || r.Verdict == cause.Centred || r.Verdict == cause.TooFew || r.Verdict == cause.Unmeasured {
		return ""
	}
	switch r.Verdict {
	case cause.Strike:
		return "What has to move is the strike, nearer the middle of the face; face and path can stay as they are."
	case cause.Aim:
		return v.realign(r)
	}
	text := "To bring the middle back: " + v.needs(r) + "."
	if math.Abs(r.Wind) > r.PracticalZero {
		text = "To bring the middle back without the wind: " + v.needs(r) + "."
	}
	if r.Or == cause.Aim {
		return text + " If it was the aim, aiming further " + side(-r.Miss.Mean) + " does it, and the club can stay as it is."
	}
	if tool := ToolPhrase(w.Tool); tool != "" {
		text += " Worth a labelled trial: " + tool + ", in turns with your usual setup" + toolDoes(w) + "."
	}
	return text
}

// realign says what an aim that was off needs: nothing of the club.
func (v Voice) realign(r cause.Result) string {
	w := r.WorkBack
	face, path := r.Delivery[analysis.Face], r.Delivery[analysis.Path]
	half := max(v.half(analysis.Angle, face.Low, face.High, face.OK), v.half(analysis.Angle, path.Low, path.High, path.OK))
	aim := "aiming about " + v.change(analysis.Face, w.FaceBy, half)
	if v.vanishes(analysis.Angle, w.FaceBy, half) {
		aim = "a check with a stick on the ground"
	}
	return "If it was the aim, " + aim + " brings the middle back; if it was the device, nothing about the club has to change."
}

// needs says what has to move and by how much: the number the verdict names,
// or, where that alone will not do or both share the miss, the two together.
func (v Voice) needs(r cause.Result) string {
	w := r.WorkBack
	switch {
	case r.Verdict == cause.Face && w.FaceAlone.OK:
		return "the face about " + v.move(analysis.Face, w.FaceAlone)
	case r.Verdict == cause.Path && w.PathAlone.OK:
		return "the path about " + v.move(analysis.Path, w.PathAlone)
	}
	both := v.parts(w)
	what := strings.Join(both, " with ")
	switch len(both) {
	case 0:
		what = "face and path nearer the target, both"
	case 1:
		return what + ", which may not be all of it"
	}
	switch r.Verdict {
	case cause.Face:
		return "the face alone will not do; " + what
	case cause.Path:
		return "the path alone will not do; " + what
	}
	return what
}

// parts say what has to move of face and path, each with the digits its own
// limits allow, or whole degrees where it has none.
func (v Voice) parts(w cause.WorkBack) (says []string) {
	for _, part := range []struct {
		name  string
		n     analysis.Number
		by    float64
		alone analysis.Estimate
	}{{"the face", analysis.Face, w.FaceBy, w.FaceAlone}, {"the path", analysis.Path, w.PathBy, w.PathAlone}} {
		half := 1.0
		if part.alone.OK {
			half = v.half(analysis.Angle, part.alone.Low, part.alone.High, true)
		}
		if !v.vanishes(analysis.Angle, part.by, half) {
			says = append(says, part.name+" about "+v.change(part.n, part.by, half))
		}
	}
	return says
}

// move says a change with its limits: "2.9° further right (2.1 to 3.7°)".
func (v Voice) move(n analysis.Number, e analysis.Estimate) string {
	return v.change(n, e.Mean, v.half(n.Info().Kind, e.Low, e.High, e.OK)) + v.changeBracket(n, e.Low, e.High)
}

// toolDoes says what part of the need a tool is expected to do, and by what: "; by
// your own trials it does about a fifth of it".
func toolDoes(w cause.WorkBack) string {
	for _, s := range []struct {
		below float64
		text  string
	}{
		{0.05, ""}, {0.15, "a tenth"}, {0.225, "a fifth"}, {0.29, "a quarter"}, {0.415, "a third"}, {0.58, "half"},
		{0.7, "two thirds"}, {0.85, "three quarters"},
	} {
		if w.ToolShare < s.below {
			if s.text == "" {
				return ""
			}
			return "; " + grounds(w.Grounds) + " it does about " + s.text + " of it"
		}
	}
	if w.ToolShare < 1.2 {
		return "; " + grounds(w.Grounds) + " it does about as much"
	}
	return "; " + grounds(w.Grounds) + " it does more than that"
}

// grounds says what an expectation of a tool rests on.
func grounds(g analysis.Grounds) string {
	switch g {
	case analysis.OwnTrials:
		return "by your own trials"
	case analysis.CoachStudents:
		return "by what it did to your coach's students"
	}
	return "by common practice"
}

// ToolPhrase is a setup tool as something to try.
func ToolPhrase(t analysis.Tool) string {
	switch t {
	case analysis.StrongerGrip:
		return "a stronger grip"
	case analysis.WeakerGrip:
		return "a weaker grip"
	case analysis.AimLeft:
		return "aiming further left"
	case analysis.AimRight:
		return "aiming further right"
	case analysis.BallForward:
		return "the ball further forward"
	case analysis.BallBack:
		return "the ball further back"
	case analysis.HandleForward:
		return "the handle further forward"
	case analysis.HandleBack:
		return "the handle further back"
	}
	return ""
}
