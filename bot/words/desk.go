package words

import (
	"math"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/tally"
	"rangepost/analysis/timeline"
)

// What a coach's desk says of a student, a few words a finding: what changed,
// in figures, and what that asks of the coach. The coach knows the trade's
// words, so none is explained here.

// Found says what a set was found to say: "12 yards right, face 3.0° right".
func (v Voice) Found(s analysis.SetGist) string {
	miss := v.plainSide(s.Miss.Mean)
	inferred := ""
	if s.Inferred {
		inferred = ", inferred"
	}
	switch cause.Verdict(s.Verdict) {
	case cause.Centred:
		if s.Wide {
			return "centred, but eight in ten over " + v.Distance(s.Width)
		}
		return "centred"
	case cause.Aim:
		return miss + ": check the aim, face and path both about " + v.untailed(analysis.Face, (s.Face.Mean+s.Path.Mean)/2, alone) + inferred
	case cause.Face:
		return miss + ", face " + v.meanSide(analysis.Face, s.Face) + inferred
	case cause.Path:
		return miss + ", path " + v.meanSide(analysis.Path, s.Path) + inferred
	case cause.FaceAndPath:
		return miss + ", face " + v.meanSide(analysis.Face, s.Face) + " and path " + v.meanSide(analysis.Path, s.Path) + inferred
	case cause.Strike:
		return miss + ", mostly the strike"
	case cause.TooFew:
		if s.MoreBalls > 0 && s.MoreBalls <= manyMore {
			return "too few balls to tell, about " + figure(float64(s.MoreBalls), 1) + " more would do"
		}
		return "too few balls to tell"
	}
	if s.Miss.N == 0 {
		return "where the balls finished was not measured"
	}
	return miss + ", cause not measured"
}

// meanSide is Mean without the words both sides share: "3.0° right".
func (v Voice) meanSide(n analysis.Number, e analysis.Estimate) string {
	return v.untailed(n, e.Mean, v.half(n.Info().Kind, e.Low, e.High, e.OK))
}

// Again says that a session was found to say what those before it did, for the
// nth time in a row, or what the one before said instead; "" where there is
// nothing to say.
func (v Voice) Again(times int, before *analysis.SetGist) string {
	ordinals := []string{"third", "fourth", "fifth"}
	switch {
	case times == 2:
		return "the same as last time"
	case times > 2 && times-3 < len(ordinals):
		return ordinals[times-3] + " time in a row"
	case times > 2:
		return figure(float64(times), 1) + " times in a row"
	case before == nil:
		return ""
	case cause.Verdict(before.Verdict) == cause.Centred:
		return "centred last time"
	case before.Miss.N > 0 && cause.Verdict(before.Verdict) != cause.TooFew:
		return v.plainSide(before.Miss.Mean) + " last time"
	}
	return ""
}

// TrialFound says what a trial found, set by set: "the stronger grip closed the
// face 2.2°, the path undid it".
func (v Voice) TrialFound(t analysis.TrialGist) string {
	const most = 2 // sets that a line has room for
	var says []string
	for _, s := range t.Sets[:min(most, len(t.Sets))] {
		says = append(says, v.setFound(s))
	}
	if n := len(t.Sets) - most; n > 0 {
		says = append(says, Count(n, "more set"))
	}
	return strings.Join(says, "; ")
}

// setFound says what one set of a trial found.
func (v Voice) setFound(s analysis.TrialSetGist) string {
	name := v.setup(s)
	if s.Asked > 0 {
		return name + ": " + OfBalls(s.Done, s.Asked)
	}
	lead, led := s.Of(s.Lead)
	lateral, gone := s.Of(analysis.Lateral)
	finish := ""
	if gone && !lateral.Little {
		finish = ", balls " + v.changeOf(lateral)
	}
	if led && s.Follow != "" {
		return name + " " + v.turned(lead) + v.answered(s) + finish
	}
	var moved []string
	for _, c := range s.Moved {
		if !c.Little && c.Number != analysis.FaceToPath && len(moved) < 2 {
			moved = append(moved, c.Number.Short()+" "+v.changeOf(c))
		}
	}
	switch {
	case len(moved) > 0:
		return name + ": " + list(moved, "and")
	case len(s.Moved) > 0:
		return name + " changed nothing that matters"
	case s.Untold == 0:
		return name + " changed nothing"
	}
	text := name + ": nothing known to have moved"
	if s.Held == 0 {
		text = name + ": too few balls to tell"
	}
	if s.MoreBalls > 0 && s.MoreBalls <= manyMore {
		text += ", " + figure(float64(s.MoreBalls), 1) + " more balls of each would tell"
	}
	return text
}

// changeOf says a change with the digits its limits allow.
func (v Voice) changeOf(c analysis.Change) string {
	return v.change(c.Number, c.Difference, v.half(c.Number.Info().Kind, c.Low, c.High, true))
}

// setup names what was tried: by the setup it is known as, else as its owner
// called it.
func (v Voice) setup(s analysis.TrialSetGist) string {
	if name := setups[s.Tool]; name != "" {
		return name
	}
	if s.Label == "" {
		return "the set without a label"
	}
	return v.Quote(s.Label)
}

var setups = map[analysis.Tool]string{
	analysis.StrongerGrip: "the stronger grip", analysis.WeakerGrip: "the weaker grip",
	analysis.AimLeft: "aiming left", analysis.AimRight: "aiming right",
	analysis.BallForward: "the ball forward", analysis.BallBack: "the ball back",
	analysis.HandleForward: "the handle forward", analysis.HandleBack: "the handle back",
}

// turned says what a setup did to the face or the path it leads with: "closed
// the face 2.2°", "sent the path 3° further right".
func (v Voice) turned(c analysis.Change) string {
	if c.Number != analysis.Face {
		return "sent the " + c.Number.Short() + " " + v.changeOf(c)
	}
	half := v.half(analysis.Angle, c.Low, c.High, true)
	way := "opened"
	if v.openOrClosed(tally.Side(math.Copysign(1, c.Difference))) == "closed" {
		way = "closed"
	}
	return way + " the face " + v.amount(analysis.Angle, math.Abs(c.Difference), half)
}

// answered says what the number that follows did about it.
func (v Voice) answered(s analysis.TrialSetGist) string {
	other := analysis.Path
	if s.Lead == analysis.Path {
		other = analysis.Face
	}
	the := ", the " + other.Short() + " "
	switch s.Follow {
	case analysis.Cancels:
		switch {
		case s.Cancelled > 0.9:
			return the + "undid it"
		case s.Cancelled > 0.6:
			return the + "undid most of it"
		case s.Cancelled > 0.4:
			return the + "undid half of it"
		}
		return the + "undid some of it"
	case analysis.Follows:
		return the + "undid some of it"
	case analysis.Adds:
		return the + "added to it"
	case analysis.Stands:
		return the + "held"
	}
	return ""
}

// TallyAgainst says that balls counted by eye started on the other side than
// were measured: "by eye 7 of 9 started right, measured 24 of 26 left (pitching
// wedge)".
func (v Voice) TallyAgainst(club analysis.Club, counted, measured tally.Thirds) string {
	side := func(t tally.Thirds) (string, tally.Share) {
		if t.Right.N > t.Left.N {
			return "right", t.Right
		}
		return "left", t.Left
	}
	seen, by := side(counted)
	told, device := side(measured)
	text := "by eye " + ofFigures(by.N, by.Of) + " started " + seen + ", measured " + ofFigures(device.N, device.Of) + " " + told
	if !club.Unknown() {
		text += " with the " + club.String()
	}
	return text
}

func ofFigures(n, of int) string { return figure(float64(n), 1) + " of " + figure(float64(of), 1) }

// Note echoes what somebody wrote, longer than Quote does a label.
func (v Voice) Note(text string) string {
	const most = 120
	return `"` + v.Safe(Cut(strings.ReplaceAll(Clean(text), `"`, "'"), most)) + `"`
}

// Posts says how many posts wait to be looked at, and since when the oldest
// does.
func Posts(n int, oldest time.Time) string {
	if n == 1 {
		return "1 post"
	}
	return Count(n, "post") + " since " + shortDate(oldest)
}

// FileWaits says that a file could not be read without an answer.
func FileWaits(at time.Time) string {
	return "the file of " + shortDate(at) + " waits for an answer"
}

// Taught says what the last lesson changed: "since the lesson of 5 June face 2.1°
// further left".
func (v Voice) Taught(r timeline.Result) string {
	e := r.Effect
	half := v.half(r.Number.Info().Kind, e.Low, e.High, true)
	text := "since the lesson of " + shortDate(e.Lesson.At) + " the " + r.Number.Short() + " is " + v.change(r.Number, e.Difference, half)
	switch e.Lasts {
	case timeline.Fades:
		text += ", fading"
	case timeline.Gone:
		text = "what the lesson of " + shortDate(e.Lesson.At) + " changed in the " + r.Number.Short() + " is gone again"
		if orMoving(e) != "" {
			text = "what changed in the " + r.Number.Short() + " since the lesson of " + shortDate(e.Lesson.At) + " is gone again"
		}
		return text
	}
	if or := orMoving(e); or != "" {
		text += ", " + or
	}
	return text
}

// An Ask is what a finding asks of the coach: the next step, which is theirs to
// take.
type Ask string

// What findings ask.
const (
	AskEasier   Ask = "Set an easier one"
	AskWhy      Ask = "Ask what is in the way"
	AskAnother  Ask = "Set the next one"
	AskWrite    Ask = "Write to them"
	AskFirst    Ask = "Help with the first file"
	AskTimeline Ask = "See the timeline"
	AskMeasure  Ask = "Ask for ten measured balls"
	AskTrial    Ask = "Decide what to keep"
	AskBalls    Ask = "Ask for them"
	AskElse     Ask = "Try something else"
	AskAnswer   Ask = "Answer its questions"
)

// TrialAsk is what a trial asks: a decision where something moved, more balls
// where nothing can be told.
func TrialAsk(t analysis.TrialGist) Ask {
	for _, s := range t.Sets {
		if len(s.Moved) > 0 || s.Untold == 0 {
			return AskTrial
		}
	}
	return AskBalls
}
