package report

import (
	"context"
	"errors"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/ball"
	"rangepost/analysis/cause"
	"rangepost/analysis/timeline"
	"rangepost/bot/pictures"
	"rangepost/bot/words"
)

// An Unclear label may be a shot that was asked for, or may not.
type Unclear struct {
	Label string
	Why   *analysis.Refusal
}

// A Controlled club is what the shots asked of one club show of its golfer.
type Controlled struct {
	Club    analysis.Club
	Sets    []int // of the report, the usual one among them where there is one
	Control asked.Control
}

// ShotAsked is a text that asks for a shot, as a label has it. The error is an
// *analysis.Refusal.
func ShotAsked(text string, units analysis.Units) (string, error) {
	shot, err := asked.Parse(text, asked.Options{Units: units})
	return shot.Text, err
}

// OnRequest is a session with every ball of a club judged by the shots of a
// challenge: its number of asked shots done is a bit for each that it did. What was
// asked is the same for all but for how far they carry, and a left-hander's in a mirror.
func OnRequest(s analysis.Session, club analysis.Club, shots []string) analysis.Session {
	config := cause.Config{Hand: s.Hand, Ball: s.Ball, Conditions: s.Conditions, Seed: DefaultSeed}
	var balls []analysis.Shot
	for _, shot := range s.Shots {
		if shot.Club == club {
			balls = append(balls, shot)
		}
	}
	swing := cause.SwingOf(analysis.Set{Club: club, Shots: balls}, config)
	usual, known := swing.Mean()
	if !known {
		return s
	}
	did, knows := map[int]float64{}, map[int]bool{}
	for k, text := range shots {
		shot, err := asked.Parse(text, asked.Options{})
		if err != nil {
			continue // it was read when the challenge opened
		}
		if s.Hand == analysis.LeftHanded {
			shot = shot.Mirrored()
		}
		want, err := shot.Of(usual, config.HalfWidthAt(usual.Carry))
		if err != nil {
			continue
		}
		for _, seen := range swing.Balls {
			ball := want.Judge(seen)
			if knows[seen.N] = knows[seen.N] || ball.Known; ball.Did() {
				did[seen.N] += float64(int(1) << k)
			}
		}
	}
	s.Shots = slices.Clone(s.Shots)
	for i, shot := range s.Shots {
		if shot.Club == club && knows[shot.N] {
			s.Shots[i] = shot.With(analysis.AskedDone, did[shot.N])
		}
	}
	return s
}

// ShotsAsked are the shots of a challenge, parted by semicolons. A shot that is
// measured against a player's own usual ball is not the same for all.
func ShotsAsked(text string, units analysis.Units) (shots []string, err error) {
	for piece := range strings.SplitSeq(text, ";") {
		if piece = strings.TrimSpace(piece); piece == "" {
			continue
		}
		shot, err := asked.Parse(piece, asked.Options{Units: units})
		if err != nil {
			return nil, err
		}
		if h, c := shot.Asks[asked.Height], shot.Asks[asked.Carry]; h.OK && h.Amount == 0 || c.OK && c.Amount == 0 {
			return nil, analysis.Refuse("Give a figure, as in apex 20 yd or carry 140 yd.", "high, low and short are against a player's own usual ball, so they are not the same for all.").In(piece)
		}
		shots = append(shots, shot.Said(units))
	}
	return shots, nil
}

// shotOf reads a label as a shot that was asked for.
func (r *Report) shotOf(label string) (asked.Shot, bool, error) {
	return asked.Label(label, asked.Options{Hand: r.Session.Hand, Units: r.Voice.Units})
}

// judgeAsked judges the sets whose labels ask for a shot, each against that shot,
// and the golfer's control over the shots of a club.
func (r *Report) judgeAsked() {
	shots := make([]*asked.Shot, len(r.Sets))
	clubs := map[analysis.Club]bool{}
	for i, s := range r.Sets {
		shot, ok, err := r.shotOf(s.Label)
		var why *analysis.Refusal
		switch {
		case errors.As(err, &why):
			r.Unclear = append(r.Unclear, Unclear{s.Label, why})
		case ok:
			shots[i], clubs[s.Club] = &shot, true
		}
	}
	for _, s := range r.Sets {
		if clubs[s.Club] {
			clubs[s.Club] = false
			r.judgeClub(s.Club, shots)
		}
	}
	r.keepBriefs()
}

// keepBriefs counts what briefs ask of shots, now that these are judged.
func (r *Report) keepBriefs() {
	for i, s := range r.Sets {
		if b := s.Brief; b != nil && b.Brief.Number == analysis.AskedDone {
			kept := timeline.All(b.Brief, timeline.Count(b.Brief, s.Shots))
			r.Sets[i].Brief = &kept
		}
	}
}

// judgeClub judges the asked shots of one club.
func (r *Report) judgeClub(club analysis.Club, shots []*asked.Shot) {
	swings := map[int]cause.Swing{}
	c := Controlled{Club: club}
	for i, s := range r.Sets {
		if s.Club == club && (shots[i] != nil || analysis.UsualLabel(s.Label)) {
			swings[i] = cause.SwingOf(s.Set, r.configs[i])
			c.Sets = append(c.Sets, i)
		}
	}
	usual := usualOf(c.Sets, shots, swings)
	hits := make([]asked.Hit, len(c.Sets))
	for k, i := range c.Sets {
		hits[k].Swing = swings[i]
		if shots[i] == nil {
			continue
		}
		as := flightFor(swings[usual], swings[i], club, r.configs[i])
		want, err := shots[i].Of(as, r.configs[i].HalfWidthAt(as.Carry))
		var why *analysis.Refusal
		if errors.As(err, &why) {
			r.Unclear = append(r.Unclear, Unclear{r.Sets[i].Label, why})
			continue
		}
		hits[k].Want = want
		result := asked.Of(*shots[i], want, swings[i])
		r.Sets[i].Asked, r.Sets[i].Corridor = &result, want.Corridor(swings[usual])
		r.Sets[i].Shots = result.Mark(r.Sets[i].Shots)
	}
	c.Control = asked.ControlOf(swings[usual], hits)
	r.Controlled = append(r.Controlled, c)
}

// usualOf is the set the others are worked back from: the one hit as usual, else
// the first shot of the usual height and length, else the first.
func usualOf(sets []int, shots []*asked.Shot, swings map[int]cause.Swing) int {
	for _, plain := range []func(*asked.Shot) bool{
		func(s *asked.Shot) bool { return s == nil },
		func(s *asked.Shot) bool { return s != nil && !s.Asks[asked.Height].OK && !s.Asks[asked.Carry].OK },
	} {
		for _, i := range sets {
			if plain(shots[i]) && swings[i].OK {
				return i
			}
		}
	}
	return sets[0]
}

// flightFor is the usual ball that a shot is judged against: the usual set's; where
// that has none, the balls' own, and last the club's.
func flightFor(usual, own cause.Swing, club analysis.Club, c cause.Config) ball.Flight {
	for _, s := range []cause.Swing{usual, own} {
		if f, ok := s.Mean(); ok {
			return f
		}
	}
	m := cause.ModelOf(club, c)
	return m.Fly(m.Head.Usual.Delivery(), ball.Departure{})
}

// Asks reports whether any set with the club of set i was asked for a shot.
func (r Report) Asks(i int) bool {
	return slices.ContainsFunc(r.Sets, func(s Set) bool { return s.Club == r.Sets[i].Club && s.Asked != nil })
}

// mostAsked is how many sets a picture of asked shots shows.
const mostAsked = 7

// askedPicture draws the asked shots of the club of set i beside its usual set.
func (r Report) askedPicture(ctx context.Context, i int, who string) (Picture, error) {
	v := r.plain()
	in := pictures.AskedInput{Voice: v, Who: who, Club: r.Sets[i].Club}
	var names []string
	var results []*asked.Result
	for j, s := range r.Sets {
		if s.Club != r.Sets[i].Club || s.Asked == nil && !analysis.UsualLabel(s.Label) {
			continue
		}
		set := pictures.AskedSet{Name: s.Label, Says: "as usual", Cause: s.Cause, Corridor: s.Corridor}
		at := len(in.Sets)
		if s.Asked == nil {
			at = 0 // the usual one is the first of the marks
			swing := cause.SwingOf(s.Set, r.configs[j])
			set.Flight, _ = swing.Mean()
		} else {
			goal := s.Asked.Want.Goal()
			set.Says, set.Flight, set.Wanted = words.OfBalls(s.Asked.Done, s.Asked.Of), s.Asked.Mean(), &goal
		}
		if len(in.Sets) < mostAsked {
			in.Sets = slices.Insert(in.Sets, at, set)
		}
		names, results = append(names, s.Label), append(results, s.Asked)
	}
	in.Title = v.AskedTitle(names, results)
	png, err := pictures.Asked(ctx, in)
	return Picture{PNG: png, Alt: v.AskedAlt(in.Title, names, results)}, err
}

// askedLines are what is said of set i and its shot, nil where none was asked for.
func (r Report) askedLines(v words.Voice, i int, brief bool) []string {
	s := r.Sets[i]
	if s.Asked == nil {
		return nil
	}
	return v.ShotDone(r.name(v, s), *s.Asked, brief)
}

// controlLines are what is said of the control over the shots with the club of set
// i.
func (r Report) controlLines(v words.Voice, i int, brief bool) []string {
	for _, c := range r.Controlled {
		if c.Club == r.Sets[i].Club {
			names := make([]string, len(c.Sets))
			for k, at := range c.Sets {
				names[k] = r.Sets[at].Label
			}
			return v.Control(c.Control, names, brief)
		}
	}
	return nil
}

// unclear are what has to be said of labels that may be shots.
func (r Report) unclear(v words.Voice) (lines []string) {
	for _, u := range r.Unclear {
		lines = append(lines, v.Unclear(u.Label, u.Why))
	}
	return lines
}

func askedObject(s Set) any {
	if s.Asked == nil {
		return nil
	}
	a := *s.Asked
	var why any
	if w := a.Why; w.Reason != asked.NoReason {
		why = object{{"reason", string(w.Reason)}, {"part", w.Part.Key()}, {"confidence", figure(w.Confidence, 1)}}
		if w.By.N > 0 {
			scale := w.Number.JSONScale()
			why = append(why.(object), member{"number", w.Number.JSONKey()}, member{"was", estimate(w.Was, scale)}, member{"needs", estimate(w.To, scale)}, member{"change", estimate(w.By, scale)})
		}
	}
	balls := make([]object, 0, len(a.Balls))
	for _, b := range a.Balls {
		var did any
		if b.Known {
			did = b.Did()
		}
		balls = append(balls, object{{"n", b.N}, {"done", did}, {"close", b.Close()}, {"probability", figure(b.P, 1)}})
	}
	return object{
		{"shot", a.Shot.Text},
		{"wants", wantObject(a.Want, a.Flight[:]...)},
		{"done", a.Done}, {"of", a.Of}, {"close", a.Close},
		{"share", object{{"mean", figure(a.Share, 1)}, {"low", figure(a.ShareLow, 1)}, {"high", figure(a.ShareHigh, 1)}}},
		{"why_not", why},
		{"balls", balls},
	}
}

// wantObject is a shot, with the means of the balls that were hit for it where there
// are any.
func wantObject(w asked.Want, means ...analysis.Estimate) (wants object) {
	for _, p := range asked.Parts() {
		b := w[p]
		if !b.OK {
			continue
		}
		n := partNumbers[p]
		key, scale := p.Key()+n.JSONKey()[len(n.Info().Key):], n.JSONScale()
		want := object{{"at", figure(b.At, scale)}, {"low", figure(b.Low, scale)}, {"high", figure(b.High, scale)}, {"implied", b.Implied}}
		if means != nil {
			want = append(want, member{"mean", estimate(means[p], scale)})
		}
		wants = append(wants, member{key, want})
	}
	return wants
}

// partNumbers are the numbers whose units the parts of a shot are given in.
var partNumbers = [asked.NumParts]analysis.Number{analysis.Direction, analysis.Lateral, analysis.Apex, analysis.Carry}

func (r Report) controlObjects() []object {
	all := make([]object, 0, len(r.Controlled))
	for _, c := range r.Controlled {
		gains, along := make([]object, 0), make([]object, 0)
		for _, g := range c.Control.Gains {
			gains = append(gains, object{{"number", g.Number.Info().Key}, {"shots", g.Shots}, {"asked", figure(g.Asked, g.Number.JSONScale())}, {"share", estimate(g.Made, 1)}})
		}
		for _, a := range c.Control.Along {
			along = append(along, object{{"number", a.Number.JSONKey()}, {"set", r.Sets[c.Sets[a.Set]].Label}, {"change", estimate(a.By, a.Number.JSONScale())}})
		}
		all = append(all, object{{"club", c.Club.Key()}, {"gains", gains}, {"along", along}})
	}
	return all
}
