package words

import (
	"math"
	"slices"
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
	var says []string
	switch r.Verdict {
	case cause.Strike:
		says = append(says, "What has to move is the strike, nearer the middle of the face; face and path can stay as they are.")
	case cause.Aim:
		return v.realign(r)
	default:
		says = append(says, "To bring the middle back: "+v.needs(w)+".", v.smallest(w))
	}
	if tool := toolPhrase(w.Tool); tool != "" {
		says = append(says, "Worth a labelled trial: "+tool+", in turns with your usual setup.")
	}
	return strings.Join(slices.DeleteFunc(says, func(s string) bool { return s == "" }), " ")
}

// realign says what an aim that was off needs: nothing of the club.
func (v Voice) realign(r cause.Result) string {
	off := r.Delivery[analysis.Face].Mean - r.RefFace + r.Delivery[analysis.Path].Mean - r.RefPath
	aim := "aiming about " + v.Change(analysis.Face, -off/2)
	if v.vanishes(analysis.Angle, off/2, alone) {
		aim = "a check with a stick on the ground"
	}
	return "If it was the aim, " + aim + " brings the middle back; if it was the device, nothing about the club has to change."
}

// needs says the single number that has to move and by how much.
func (v Voice) needs(w cause.WorkBack) string {
	switch w.Number {
	case analysis.Path:
		return "the path about " + v.move(analysis.Path, w.PathAlone)
	case analysis.FaceToPath:
		return "the face against the path about " + v.change(analysis.FaceToPath, w.FaceBy-w.PathBy, alone)
	}
	return "the face about " + v.move(analysis.Face, w.FaceAlone)
}

// move says a change with its limits: "2.9° further right (2.1 to 3.7°)".
func (v Voice) move(n analysis.Number, e analysis.Estimate) string {
	text := v.change(n, e.Mean, v.half(n.Info().Kind, e.Low, e.High, e.OK))
	if !e.OK {
		return text
	}
	return text + v.changeBracket(n, e.Low, e.High)
}

// smallest says the change of face and path together that is the least against
// this golfer's own ball-to-ball spread, when both have a part in it worth
// half a degree.
func (v Voice) smallest(w cause.WorkBack) string {
	if math.Abs(w.FaceBy) < analysis.Degree/2 || math.Abs(w.PathBy) < analysis.Degree/2 {
		return ""
	}
	return "The smallest change for you: face " + v.Change(analysis.Face, w.FaceBy) +
		" with path " + v.Change(analysis.Path, w.PathBy) + "."
}

// toolPhrase is a setup tool as something to try.
func toolPhrase(t analysis.Tool) string {
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
