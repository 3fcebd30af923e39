package report

import (
	"context"
	"math"

	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/ball"
	"rangepost/analysis/brief"
	"rangepost/analysis/cause"
	"rangepost/bot/pictures"
	"rangepost/bot/words"
)

// WorkBackSchema names the JSON document of a work-back.
const WorkBackSchema = "rangepost.work_back/1"

// A WorkBack is what a shot asks of a golfer's club, or what becomes of the ball if
// the club changes, from the swing of one set.
type WorkBack struct {
	Set   Set
	Swing cause.Swing

	// Of a shot:
	Shot  *asked.Shot
	Want  asked.Want
	Need  cause.Need
	First analysis.Number // the number that has to move most
	Tool  analysis.Tool   // that does some of it, "" for none

	// Of a change:
	Changes []brief.Change
	Move    cause.Move
	Follows [5]analysis.Estimate // start, curve, apex, carry, lateral

	report Report
}

// usualAt is the set with a club that a work-back starts from: the usual one, else
// the one with the most balls. The zero club is any.
func (r Report) usualAt(club analysis.Club) int {
	best := r.Main()
	if !club.Unknown() {
		best = r.MainOf(club)
	}
	if best < 0 {
		return best
	}
	var sets []analysis.Set
	var at []int
	for i, s := range r.Sets {
		if s.Club == r.Sets[best].Club {
			sets, at = append(sets, s.Set), append(at, i)
		}
	}
	if i := analysis.UsualSet(sets); analysis.UsualLabel(sets[i].Label) {
		return at[i]
	}
	return best
}

// start is a work-back from a club's swing. Errors are *analysis.Refusal.
func (r Report) start(club analysis.Club) (w WorkBack, config cause.Config, err error) {
	i := r.usualAt(club)
	if i < 0 {
		return w, config, analysis.Refuse("Leave the club out to take the one with the most balls.", "That session has no ball with the %s.", club)
	}
	config = r.configs[i]
	w = WorkBack{Set: r.Sets[i], Swing: cause.SwingOf(r.Sets[i].Set, config), report: r}
	if !w.Swing.OK {
		return w, config, analysis.Refuse("It takes where the balls finished and face and path, or a full launch that tells them.", "What the club did with the %s is not known of these balls.", w.Set.Club)
	}
	return w, config, nil
}

// ForShot works back from a shot to the club. Errors are *analysis.Refusal.
func (r Report) ForShot(club analysis.Club, text string) (w WorkBack, err error) {
	w, config, err := r.start(club)
	if err != nil {
		return w, err
	}
	shot, err := asked.Parse(text, asked.Options{Hand: r.Session.Hand, Units: r.Voice.Units})
	if err != nil {
		return w, err
	}
	w.Shot = &shot
	if w.Want, err = shot.Of(w.Swing.Flight, config.HalfWidthAt(w.Swing.Flight.Carry)); err != nil {
		return w, err
	}
	if w.Need = w.Swing.Reach(w.Want.Goal()); !w.Need.OK {
		return w, analysis.Refuse("Ask for less of it, or take another club.", "no delivery within 25 degrees of the usual one does that with the %s at this speed and loft.", w.Set.Club).In(text).Coded("impossible_shot")
	}
	w.First = first(w.Need)
	w.Tool = toolFor(w.Need.Move, config)
	return w, nil
}

// ForChange says what follows from a change of the club. Errors are
// *analysis.Refusal.
func (r Report) ForChange(club analysis.Club, text string) (w WorkBack, err error) {
	w, _, err = r.start(club)
	if err != nil {
		return w, err
	}
	if w.Changes, err = brief.Changes(text, brief.Options{Hand: r.Session.Hand, Units: r.Voice.Units}); err != nil {
		return w, err
	}
	for _, c := range w.Changes {
		switch c.Number {
		case analysis.Face, analysis.FaceToPath: // against the path where it is
			w.Move.Face += c.By
		case analysis.Path:
			w.Move.Path += c.By
		case analysis.DynamicLoft:
			w.Move.DynamicLoft += c.By
		case analysis.ClubSpeed:
			w.Move.ClubSpeed += c.By
		case analysis.Attack:
			w.Move.Attack += c.By
		default:
			return w, analysis.Refuse("Say face, path, face to path, attack, loft or club speed.", "the %s follows from what the club does, and is not changed by itself.", c.Number).In(text)
		}
		most := 20 * analysis.Degree
		if c.Number == analysis.ClubSpeed {
			most = w.Swing.Usual.ClubSpeed / 2
		}
		if math.Abs(c.By) > most {
			return w, analysis.Refuse("Ask for at most 20 degrees, or half the speed.", "that much of the %s is another swing, of which these balls say nothing.", c.Number).In(text)
		}
	}
	w.Follows = w.Swing.Follows(w.Move)
	return w, nil
}

// first is the number that has to move most, by what a golfer can tell of each.
func first(need cause.Need) (n analysis.Number) {
	most := 0.0
	for _, k := range asked.Controlled() {
		tell := analysis.Degree
		if k == analysis.ClubSpeed {
			tell = 0.02 * need.To[k].Mean
		}
		if by := need.By[k]; k != analysis.FaceToPath && by.N > 0 && math.Abs(by.Mean)/tell > most {
			n, most = k, math.Abs(by.Mean)/tell
		}
	}
	return n
}

// toolFor is the setup tool that brings a delivery nearest to where it has to be,
// if it takes a fifth of the way at least.
func toolFor(need cause.Move, c cause.Config) (best analysis.Tool) {
	left := func(face, path, loft float64) float64 {
		return math.Hypot(math.Hypot(need.Face-face, need.Path-path), need.DynamicLoft-loft)
	}
	least := 0.8 * left(0, 0, 0)
	for _, t := range analysis.Tools() {
		does := c.ResponseOf(t)
		if d := left(does.Face, does.Path, t.Usual(analysis.DynamicLoft, c.Hand)); d < least {
			best, least = t, d
		}
	}
	return best
}

// Picture draws the usual ball and the one that is worked back to or that follows.
func (w WorkBack) Picture(ctx context.Context, who string) (Picture, error) {
	v := w.report.plain()
	in := pictures.AskedInput{Voice: v, Who: who, Club: w.Set.Club, Title: v.WorkBackTitle(w.said())}
	in.Sets = []pictures.AskedSet{{Name: w.Set.Label, Says: "as it is", Cause: w.Set.Cause, Flight: w.Swing.Flight}}
	to := pictures.AskedSet{Says: "as it would be", At: &asked.Delivered{Face: w.Swing.Usual.Face + w.move().Face, Path: w.Swing.Usual.Path + w.move().Path}}
	if w.Shot != nil {
		to.Name, to.Corridor, to.Flight = w.Shot.Text, w.Want.Corridor(w.Swing), w.Need.Flight
	} else {
		f := w.Follows
		to.Name, to.Flight = "changed", ball.Flight{Start: f[0].Mean, Curve: f[1].Mean, Apex: f[2].Mean, Carry: f[3].Mean, Lateral: f[4].Mean}
	}
	in.Sets = append(in.Sets, to)
	png, err := pictures.Asked(ctx, in)
	return Picture{PNG: png, Alt: v.WorkBackAlt(w.said())}, err
}

// said is what there is to say of it.
func (w WorkBack) said() words.ShotBack {
	return words.ShotBack{
		Club: w.Set.Club, Balls: len(w.Set.Used()), Usual: w.Swing.Flight,
		Shot: w.Shot, Want: w.Want, Need: w.Need, First: w.First, Tool: w.Tool,
		Changes: w.Changes, Follows: w.Follows,
	}
}

// Lines are what is said of it.
func (w WorkBack) Lines() []string {
	return append(w.report.Voice.WorkedBack(w.said()), words.Cautions(0, w.move().ClubSpeed > 0)...)
}

func (w WorkBack) move() cause.Move {
	if w.Shot != nil {
		return w.Need.Move
	}
	return w.Move
}

// JSON is the work-back as one object, in the units of `read --json`.
func (w WorkBack) JSON() ([]byte, error) {
	usual, delivery, change := object{}, object{}, object{}
	for _, n := range asked.Controlled() {
		scale := n.JSONScale()
		usual = append(usual, member{n.JSONKey(), estimate(w.Swing.Delivery[n], scale)})
		to, by := w.Need.To[n], w.Need.By[n]
		if by.N == 0 { // it stays
			to, by = w.Swing.Delivery[n], analysis.Estimate{N: 1, OK: true}
		}
		delivery, change = append(delivery, member{n.JSONKey(), limits(to, scale)}), append(change, member{n.JSONKey(), limits(by, scale)})
	}
	o := object{{"schema", WorkBackSchema}, {"version", Version()}, {"club", w.Set.Club.Key()}, {"set", w.Set.Label}, {"balls", w.Swing.Delivery[analysis.Face].N}, {"usual", usual}}
	if w.Shot == nil {
		changes := object{}
		for _, c := range w.Changes {
			changes = append(changes, member{c.Number.JSONKey(), figure(c.By, c.Number.JSONScale())})
		}
		o = append(o, member{"change", changes})
		for k, key := range []string{"start_deg", "curve_m", "apex_m", "carry_m", "lateral_m"} {
			scale := 1.0
			if k == 0 {
				scale = analysis.Degree
			}
			o = append(o, member{key, limits(w.Follows[k], scale)})
		}
		return indent(o)
	}
	f := w.Need.Flight
	return indent(append(o,
		member{"shot", w.Shot.Text}, member{"wants", wantObject(w.Want)},
		member{"delivery", delivery}, member{"change", change}, member{"first", w.First.Info().Key}, member{"tool", string(w.Tool)},
		member{"flight", object{{"start_deg", figure(f.Start, analysis.Degree)}, {"curve_m", figure(f.Curve, 1)}, {"apex_m", figure(f.Apex, 1)}, {"carry_m", figure(f.Carry, 1)}, {"lateral_m", figure(f.Lateral, 1)}}}))
}

// limits are a mean with its limits, null where one ball has none.
func limits(e analysis.Estimate, scale float64) any {
	if e.N == 0 {
		return nil
	}
	o := object{{"mean", figure(e.Mean, scale)}, {"low", nil}, {"high", nil}}
	if e.OK {
		o[1].value, o[2].value = figure(e.Low, scale), figure(e.High, scale)
	}
	return o
}
