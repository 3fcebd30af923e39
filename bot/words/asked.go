package words

import (
	"math"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/ball"
)

// AskedFor says what a shot counts as: "starts 3° right (1.5 to 4.5°) and curves
// 8 yards left (5 to 11)"; the limits are left out of a part that only has to
// come back to the target.
func (v Voice) AskedFor(w asked.Want) string {
	var parts []string
	for _, p := range asked.Parts() {
		switch b := w[p]; {
		case !b.OK || b.Implied:
		case p == asked.Start && b.At == 0:
			parts = append(parts, "starts on line, within "+v.Angle(b.High)+" of it")
		case p == asked.Curve && b.At == 0:
			parts = append(parts, "curves no more than "+v.Distance(b.High))
		default:
			parts = append(parts, p.Verb()+" "+v.shotPart(p, b.At, alone)+v.width(p, b))
		}
	}
	if w[asked.Start].Implied {
		parts = append(parts, "comes back to the target")
	}
	return list(parts, "and")
}

// width says the edges of a part: " (1.5 to 4.5°)".
func (v Voice) width(p asked.Part, b asked.Band) string {
	k := partKind(p)
	near, far := math.Abs(b.Low), math.Abs(b.High)
	low := v.amount(k, min(near, far), alone)
	if at := strings.IndexFunc(low, func(r rune) bool { return r == ' ' || r == '°' }); at > 0 {
		low = low[:at]
	}
	return " (" + low + " to " + v.amount(k, max(near, far), alone) + ")"
}

// partNumber is the number of a ball's flight that a part is; a curve is as long
// as a finish is wide.
func partNumber(p asked.Part) analysis.Number {
	return [...]analysis.Number{analysis.Direction, analysis.Lateral, analysis.Apex, analysis.Carry}[p]
}

func partKind(p asked.Part) analysis.Kind { return partNumber(p).Info().Kind }

// shotPart says a value of a part with its side: "3° right", "8 yards left", "no
// curve", "31 yards high".
func (v Voice) shotPart(p asked.Part, x, half float64) string {
	k := partKind(p)
	amount := v.amount(k, math.Abs(x), half)
	switch {
	case p == asked.Height:
		return amount + " high"
	case p == asked.Carry:
		return amount
	case v.vanishes(k, x, half) && p == asked.Start:
		return "on line"
	case v.vanishes(k, x, half):
		return "not at all"
	}
	return amount + " " + side(x)
}

// did says what the balls did of a part in the mean: "started 3° right".
func (v Voice) did(r asked.Result, p asked.Part) string {
	e := r.Flight[p]
	verb := [...]string{"started ", "curved ", "flew ", "carried "}[p]
	return verb + v.shotPart(p, e.Mean, v.half(partKind(p), e.Low, e.High, e.OK))
}

// ShotDone says how many balls of a set did the shot they were asked for, and, of
// those that did not, why. name is the set's. Nothing of the limits in the first
// layer (brief).
func (v Voice) ShotDone(name string, r asked.Result, brief bool) (lines []string) {
	if name != "" {
		name += ": "
	}
	if r.Why.Reason == asked.Unknown {
		return []string{name + "whether the balls did the shot cannot be told without a start line and where they finished, or their launch."}
	}
	head := name + OfBalls(r.Done, r.Of) + " did it"
	if r.Of == 1 {
		head = name + [...]string{"the ball did not do it", "the ball did it"}[r.Done]
	}
	if !brief {
		low, high := percentOutward(r.ShareLow, r.ShareHigh)
		if r.Of > 1 {
			head += " (between " + low + " and " + high + " %)"
		}
		if r.Close > 0 && r.Of > 1 {
			head += "; " + Count(r.Close, "ball") + " came too near to an edge to call"
		}
	}
	lines = append(lines, head+".")
	if why := v.whyNot(r, brief); why != "" {
		lines = append(lines, why)
	}
	if !brief {
		lines = append(lines, "Counted as done: a ball that "+v.AskedFor(r.Want)+".")
	}
	return lines
}

// whyNot says what the balls that did not do it have in common.
func (v Voice) whyNot(r asked.Result, brief bool) string {
	w := r.Why
	switch w.Reason {
	case asked.Off:
		return v.off(r, brief)
	case asked.Scatter:
		return "In the mean they did it; single balls vary in " + partName(w.Part) + " by about " + v.amount(partKind(w.Part), w.SD, alone) + " either way."
	case asked.TooFew:
		if r.Of == 1 {
			return "One ball does not tell whether it was the swing or chance."
		}
		if r.Flight[w.Part].N < 5 {
			return "Too few balls to say why."
		}
		if brief {
			return ""
		}
		return "Whether the middle of the balls is off or single ones are, these balls do not tell."
	}
	return ""
}

// off says what of the shot was as asked and what was not, and what the club would
// have to do.
func (v Voice) off(r asked.Result, brief bool) string {
	w := r.Why
	b := r.Want[w.Part]
	text := ""
	for _, p := range asked.Parts() {
		if e := r.Flight[p]; p != w.Part && r.Want[p].OK && !r.Want[p].Implied && e.N > 0 && r.Want[p].Holds(e.Mean) {
			text = v.did(r, p) + " as asked, but "
		}
	}
	counts := v.shotPart(w.Part, b.At, alone)
	switch {
	case w.Part == asked.Curve && b.At == 0:
		counts = "no more than " + v.Distance(b.High)
	case b.Implied:
		counts = "about " + counts + " to come back to the target"
	default:
		counts = "about " + counts
	}
	text = sentence("they " + text + v.did(r, w.Part) + ", where this shot asks for " + counts)
	if w.By.N == 0 {
		return text + "."
	}
	n := w.Number
	was, to := v.Mean(n, w.Was), v.number(n, w.To.Mean, v.half(n.Info().Kind, w.To.Low, w.To.High, w.To.OK))
	text += ": " + n.Short() + " was " + was + ", this shot needs about " + to
	if !brief {
		text += v.bracket(n, w.To)
	}
	return text + "."
}

// partName is a part inside a sentence.
func partName(p asked.Part) string {
	return [...]string{"start line", "curve", "height", "carry"}[p]
}

// OfBalls says how many did it: "7 of 10".
func OfBalls(done, of int) string { return figure(float64(done), 1) + " of " + figure(float64(of), 1) }

// AskedTitle is the line over a picture of asked shots: "Draw 8: 7 of 10, fade: 2
// of 10".
func (v Voice) AskedTitle(names []string, results []*asked.Result) string {
	var parts []string
	for i, r := range results {
		if r == nil {
			continue
		}
		parts = append(parts, names[i]+": "+OfBalls(r.Done, r.Of))
	}
	if says := sentence(strings.Join(parts, ", ")); len([]rune(says)) <= oneLine {
		return says
	}
	done, of := 0, 0
	for _, r := range results {
		if r != nil {
			done, of = done+r.Done, of+r.Of
		}
	}
	return OfBalls(done, of) + " did the shot they were asked for"
}

// oneLine is how many characters a picture's title has in a line.
const oneLine = 48

// Control says how much of the change that the shots ask for the golfer made, and
// what moved along unasked. names are the sets'. brief leaves out the limits, and
// all but the numbers of which most was asked.
func (v Voice) Control(c asked.Control, names []string, brief bool) (lines []string) {
	gained := map[analysis.Number]bool{}
	for _, g := range c.Gains {
		gained[g.Number] = true
	}
	var made, unknown []string
	for _, g := range c.Gains {
		name := "the " + g.Number.Short()
		switch {
		case g.Number == analysis.FaceToPath && gained[analysis.Face] && gained[analysis.Path]: // the two say it
		case g.Made.High-g.Made.Low > untold:
			unknown = append(unknown, name)
		case brief:
			made = append(made, name+" made "+ofChange(g.Made))
		default:
			made = append(made, name+" made "+ofChange(g.Made)+" ("+percentRange(g.Made.Low, g.Made.High)+")")
		}
	}
	if len(made) > 0 {
		lines = append(lines, "Of the change these shots ask of the club, "+list(made, "and")+".")
	}
	if len(unknown) > 0 && !brief {
		lines = append(lines, "How much "+list(unknown, "and")+" made of it these balls do not tell.")
	}
	for i, a := range c.Along {
		if brief && i > 0 {
			break
		}
		text := "With " + v.Quote(names[a.Set]) + " the " + a.Number.Short() + " went " + v.change(a.Number, a.By.Mean, v.half(a.Number.Info().Kind, a.By.Low, a.By.High, true))
		if !brief {
			text += v.changeBracket(a.Number, a.By.Low, a.By.High)
		}
		lines = append(lines, text+" as well, though that shot does not ask for it.")
	}
	return lines
}

// ControlOver says control over sessions: "Over 3 sessions with the 7-iron: of the
// change that was asked, the path made about 85 % of it (70 to 100 %)".
func (v Voice) ControlOver(club analysis.Club, gains []asked.Gain) string {
	sessions := 0
	for _, g := range gains {
		sessions = max(sessions, g.Made.N)
	}
	lines := v.Control(asked.Control{Gains: gains}, nil, false)
	if len(lines) == 0 {
		return ""
	}
	return "Over " + Count(sessions, "session") + " with the " + club.String() + ": " + strings.ToLower(lines[0][:1]) + lines[0][1:]
}

// untold is how wide the limits of a share of a change may be before it is not told
// (our choice).
const untold = 1.2

// ofChange says a share of a change: "about 90 % of it", "none of it to speak of"; a
// change the wrong way is the other way.
func ofChange(e analysis.Estimate) string {
	share := math.Round(e.Mean*20) / 20
	amount := "about " + figure(math.Abs(share)*100, 5) + " % of it"
	switch {
	case !e.Excludes(0) && math.Abs(share) < 0.3:
		return "none of it to speak of"
	case share < 0:
		return amount + " the other way"
	case share >= 0.95 && share <= 1.05:
		return "all of it"
	}
	return amount
}

func percentRange(low, high float64) string {
	lo, hi := math.Floor(low*20)*5, math.Ceil(high*20)*5
	return figure(lo, 5) + " to " + figure(hi, 5) + " %"
}

// Unclear says of a label that may be a shot what has to be said.
func (v Voice) Unclear(label string, why *analysis.Refusal) string {
	return v.Quote(label) + " may be a shot: " + why.What() + " " + why.Hint
}

// Follows says the ball that follows from a change of the club, with limits.
func (v Voice) Follows(f [5]analysis.Estimate) string {
	say := func(p asked.Part, e analysis.Estimate) string {
		k := partKind(p)
		text := p.Verb() + " " + v.shotPart(p, e.Mean, v.half(k, e.Low, e.High, e.OK))
		if e.OK {
			text += v.bracket(partNumber(p), e)
		}
		return text
	}
	finish := "finishes " + v.plainSide(f[4].Mean)
	if f[4].OK {
		finish += v.bracket(analysis.Lateral, f[4])
	}
	return "it " + list([]string{say(asked.Start, f[0]), say(asked.Curve, f[1]), say(asked.Height, f[2]), say(asked.Carry, f[3]), finish}, "and")
}

// FlightAs says a flight in words, without limits.
func (v Voice) FlightAs(f ball.Flight) string {
	return "starts " + v.shotPart(asked.Start, f.Start, alone) + ", curves " + v.shotPart(asked.Curve, f.Curve, alone) +
		", flies " + v.shotPart(asked.Height, f.Apex, alone) + " and carries " + v.Distance(f.Carry)
}
