package words

import (
	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/ball"
	"rangepost/analysis/brief"
	"rangepost/analysis/cause"
)

// A ShotBack is what is said of a shot worked back to the club, or of a change of
// the club worked forward to the ball.
type ShotBack struct {
	Club  analysis.Club
	Balls int         // that it is reckoned from
	Usual ball.Flight // their mean

	Shot  *asked.Shot // nil for a change
	Want  asked.Want
	Need  cause.Need
	First analysis.Number
	Tool  analysis.Tool

	Changes []brief.Change
	Follows [5]analysis.Estimate // start, curve, apex, carry, lateral
}

// WorkedBack says it in sentences.
func (v Voice) WorkedBack(s ShotBack) (lines []string) {
	from := "Reckoned from " + Count(s.Balls, "ball") + " with the " + s.Club.String() + ": your usual one " + v.FlightAs(s.Usual) + "."
	if s.Shot == nil {
		lines = []string{"With " + v.changed(s.Changes) + " a ball like your usual one would do this: " + v.Follows(s.Follows) + ".", from}
		if !s.Follows[0].OK {
			lines = append(lines, "One ball has no limits: the next may be quite another.")
		}
		return lines
	}
	var to, by []string
	for _, n := range asked.Controlled() {
		e, change := s.Need.To[n], s.Need.By[n]
		if e.N == 0 || n == analysis.FaceToPath {
			continue
		}
		half := v.half(n.Info().Kind, e.Low, e.High, e.OK)
		to = append(to, n.Short()+" "+v.number(n, e.Mean, half)+v.bracket(n, e))
		by = append(by, "the "+n.Short()+" "+v.MeanChange(n, change))
	}
	lines = append(lines,
		"For "+v.Quote(s.Shot.Text)+" the club has to come with "+list(to, "and")+".",
		sentence("against your usual that is "+list(by, "and")+v.firstOf(s, len(by))+"."))
	if tool := ToolPhrase(s.Tool); tool != "" {
		lines = append(lines, "Worth trying for it, in turns with your usual setup: "+tool+".")
	}
	return append(lines, "The ball then "+v.FlightAs(s.Need.Flight)+". Counted as done: one that "+v.AskedFor(s.Want)+".", from)
}

func (v Voice) firstOf(s ShotBack, moves int) string {
	if moves < 2 {
		return ""
	}
	return "; the " + s.First.Short() + " first"
}

// changed says changes of the club: "the face 2.0° further left and the path 3.0°
// further right".
func (v Voice) changed(all []brief.Change) string {
	var says []string
	for _, c := range all {
		says = append(says, "the "+c.Number.Short()+" "+v.Change(c.Number, c.By))
	}
	return list(says, "and")
}

// WorkBackTitle is the line over its picture.
func (v Voice) WorkBackTitle(s ShotBack) string {
	if s.Shot == nil {
		says := "finishes " + v.plainSide(s.Follows[4].Mean)
		if full := sentence(v.changed(s.Changes) + ": " + says); len([]rune(full)) <= oneLine {
			return full
		}
		return "With that change it " + says
	}
	by := s.Need.By[s.First]
	says := "the " + s.First.Short() + " " + v.MeanChange(s.First, by)
	if full := sentence(v.Quote(s.Shot.Text) + ": " + says); len([]rune(full)) <= oneLine {
		return full
	}
	return sentence(says + " for this shot")
}

// WorkBackAlt is what the picture shows, in words.
func (v Voice) WorkBackAlt(s ShotBack) string {
	return Clip(v.WorkBackTitle(s)+". The map of face and path, and the flights from above and from the side: the usual ball "+v.FlightAs(s.Usual)+".", 1000)
}

// AskedAlt is what a picture of asked shots shows, in words.
func (v Voice) AskedAlt(title string, names []string, results []*asked.Result) string {
	text := title + ". A map of face and path with an area for each shot, and the mean flights from above and from the side."
	for i, r := range results {
		if r != nil && r.Why.Reason != asked.Unknown && r.Flight[asked.Start].N > 0 && r.Flight[asked.Curve].N > 0 {
			text += " " + sentence(names[i]) + ": " + v.did(*r, asked.Start) + ", " + v.did(*r, asked.Curve) + "."
		}
	}
	return Clip(text, 1000)
}
