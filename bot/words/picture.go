package words

import (
	"math"
	"strings"
	"unicode/utf8"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
)

// Title is the finding of a posted set, for the head of its picture: how far
// and to which side the balls finished, and who owns that. It has at most 60
// characters and no full stop.
func (v Voice) Title(p pattern.Pattern, r cause.Result) string {
	missed := sentence(v.plainSide(r.Miss.Mean))
	switch r.Verdict {
	case cause.Centred:
		if Wide(p, r) {
			return "Centred but wide: 8 in 10 over " + v.Distance(p.Width80)
		}
		if v.vanishes(analysis.Length, r.Miss.Mean, alone) {
			return "Centred on the target line"
		}
		return "Centred: " + v.plainSide(r.Miss.Mean) + " of target"
	case cause.Aim:
		title := missed + ": check alignment"
		off := strings.TrimPrefix(v.offBoth(r), "about ")
		if whole := title + ", face and path " + strings.TrimSuffix(off, " of target"); strings.HasSuffix(off, " of target") && len(whole) <= maxTitle {
			return whole
		}
		return title
	case cause.Face:
		return missed + ": face " + v.stood(r, analysis.Face)
	case cause.Path:
		return missed + ": path " + v.stood(r, analysis.Path)
	case cause.FaceAndPath:
		return missed + ": face and path share it"
	case cause.Strike:
		return missed + ": mostly the strike"
	case cause.TwoPatterns:
		if len(p.Parts) == 2 {
			return "Two patterns: " + figure(float64(len(p.Parts[0].Shots)), 1) + " and " + balls(len(p.Parts[1].Shots))
		}
		return "Two patterns"
	case cause.TooFew:
		switch {
		case p.Used == 0:
			return "No ball that could be used"
		case beyondBalls(r):
			return "No cause can be named yet"
		case r.MoreBalls > 0 && r.MoreBalls <= manyMore:
			return "Too few balls to tell: " + figure(float64(r.MoreBalls), 1) + " more would do"
		}
		return "Too few balls to tell"
	}
	switch {
	case r.Miss.N == 0:
		return "Cause not measured"
	case len(r.Balls) > 0:
		if v.partOf(r) != "" {
			return missed + ": only in part by face or path"
		}
		return missed + ": not by face or path"
	}
	return missed + ": cause not measured"
}

// stood is delivered, cut to what fits a title: against the target in the
// golfer's own word, "3.0° open", and against what the coach asked for by side.
func (v Voice) stood(r cause.Result, n analysis.Number) string {
	e := r.Delivery[n]
	half := v.half(analysis.Angle, e.Low, e.High, e.OK)
	if reference(r, n) != 0 || v.vanishes(analysis.Angle, e.Mean, half) {
		return strings.Replace(v.delivered(r, n), "what your coach asked for", "the brief", 1)
	}
	return v.amount(analysis.Angle, math.Abs(e.Mean), half) + " " + v.Toward(n, e.Mean)
}

// Toward is the golfer's own word for the side of target that a face points to
// or a path goes to (rad, positive right): open or closed, in-to-out or
// out-to-in.
func (v Voice) Toward(n analysis.Number, rad float64) string {
	away := (rad > 0) == (v.Hand == analysis.RightHanded) // from the golfer
	switch {
	case n == analysis.Path && away:
		return "in-to-out"
	case n == analysis.Path:
		return "out-to-in"
	case away:
		return "open"
	}
	return "closed"
}

// maxAlt is the most characters an alt text may have on the platform.
const maxAlt = 1024

// AltPost says what the picture of a posted set shows, for somebody who does not
// see it: at most 1,024 characters.
func (v Voice) AltPost(name string, p pattern.Pattern, r cause.Result) string {
	v.Plain = true
	says := []string{v.Title(p, r) + "."}
	if name != "" {
		says[0] = name + ". " + says[0]
	}
	if r.Verdict == cause.TwoPatterns {
		return fit(append(says, v.altTwo(p, r)...), maxAlt)
	}
	ground := "Seen from above with the target at the top, where " + Count(p.Balls, "ball") + " landed"
	if p.Lateral.N > 0 {
		ground += ": the middle is " + v.Mean(analysis.Lateral, p.Lateral) + v.bracket(analysis.Lateral, p.Lateral)
		if p.Carry.N > 0 {
			ground += " at " + v.Mean(analysis.Carry, p.Carry) + " of carry"
		}
	}
	says = append(says, ground+".")
	if n := p.Balls - p.Used; n > 0 {
		says = append(says, Count(n, "ball")+" set aside "+isAre(n)+" drawn hollow.")
	}
	if p.Width80OK {
		says = append(says, "Eight balls in ten fall within a width of "+v.Distance(p.Width80)+".")
	}
	if r.Face.N > 0 {
		parts := v.Parts(r)
		says = append(says, "Arrows under it: the finish, "+v.whole(parts.Miss)+", is face "+v.whole(parts.Face)+
			", path "+v.whole(parts.Path)+" and the rest "+v.whole(parts.Rest)+".")
	}
	face, path := r.Delivery[analysis.Face], r.Delivery[analysis.Path]
	if face.N > 0 && path.N > 0 {
		delivery := "Beside it the delivery of each ball, path across and face up: the middle is path " +
			v.Mean(analysis.Path, path) + ", face " + v.Mean(analysis.Face, face)
		if r.Inferred {
			delivery += ", inferred from the ball"
		}
		if in, known := inCorridor(r); known {
			delivery += map[bool]string{true: ", inside", false: ", outside"}[in] + " the band of deliveries that find the target"
		}
		says = append(says, delivery+".")
		if s, ok := strings.CutPrefix(v.Needs(r), "Needs: "); ok && r.Verdict != cause.Strike {
			says = append(says, "An arrow from there shows what it needs: "+s+".")
		}
	} else {
		says = append(says, "Face and path were not measured, so the delivery panel is empty.")
	}
	return fit(says, maxAlt)
}

// altTwo says what the picture shows of two patterns.
func (v Voice) altTwo(p pattern.Pattern, r cause.Result) []string {
	says := []string{"Seen from above with the target at the top, where " + Count(p.Balls, "ball") + " landed."}
	for i, part := range p.Parts {
		text := "A ring round " + balls(len(part.Shots))
		if part.Lateral.N > 0 {
			text += ": the middle is " + v.Mean(analysis.Lateral, part.Lateral) + v.bracket(analysis.Lateral, part.Lateral)
		}
		if face, path := r.Parts[i].Delivery[analysis.Face], r.Parts[i].Delivery[analysis.Path]; face.N > 0 && path.N > 0 {
			text += "; beside it their path " + v.Mean(analysis.Path, path) + " and face " + v.Mean(analysis.Face, face)
		}
		says = append(says, text+".")
	}
	if n := p.Balls - p.Used; n > 0 {
		says = append(says, Count(n, "ball")+" set aside "+isAre(n)+" drawn hollow.")
	}
	return says
}

// fit joins as many whole sentences as have room in most characters.
func fit(sentences []string, most int) string {
	text := ""
	for i, s := range sentences {
		if i > 0 {
			s = " " + s
		}
		if utf8.RuneCountInString(text+s) > most {
			break
		}
		text += s
	}
	return text
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// inCorridor reports whether the mean delivery lies inside the corridor; known
// is false when the corridor does not reach that path.
func inCorridor(r cause.Result) (in, known bool) {
	low, high, ok := corridorAt(r.Corridor, r.Delivery[analysis.Path].Mean)
	face := r.Delivery[analysis.Face].Mean
	return face >= low && face <= high, ok
}

// corridorAt is the range of faces of a corridor at one path, rad; ok is false
// when the corridor does not reach that path.
func corridorAt(c cause.Corridor, path float64) (low, high float64, ok bool) {
	if !c.OK {
		return 0, 0, false
	}
	for i := 1; i < len(c.Edges); i++ {
		a, b := c.Edges[i-1], c.Edges[i]
		if path < a.Path || path > b.Path || b.Path <= a.Path {
			continue
		}
		t := (path - a.Path) / (b.Path - a.Path)
		return a.FaceLow + t*(b.FaceLow-a.FaceLow), a.FaceHigh + t*(b.FaceHigh-a.FaceHigh), true
	}
	return 0, 0, false
}
