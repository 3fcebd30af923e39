package report

import (
	"rangepost/analysis"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

// Gist is the report in figures, for the coach's desk. It is nil while nothing
// can be said of the session.
func (r Report) Gist() *analysis.Gist {
	i := r.Usual()
	if i < 0 || len(r.Reading.Questions) > 0 {
		return nil
	}
	g := analysis.Gist{Others: len(r.Sets) - 1, Set: r.Sets[i].Gist()}
	if len(r.Trials) > 0 {
		g.Trial = TrialGist(r.Trials[0])
		for i := range g.Trial.Sets {
			for _, s := range r.Sets {
				if set := &g.Trial.Sets[i]; s.Asked != nil && s.Club == g.Trial.Club && s.Label == set.Label {
					set.Done, set.Asked, set.MoreBalls = s.Asked.Done, s.Asked.Of, 0
				}
			}
		}
	}
	for _, c := range r.Controlled {
		for _, gain := range c.Control.Gains {
			g.Control = append(g.Control, analysis.ControlGist{Club: c.Club, Number: gain.Number, Made: gain.Made})
		}
	}
	return &g
}

// Gist is one set in figures.
func (s Set) Gist() analysis.SetGist {
	g := analysis.SetGist{
		Club: s.Club, Label: s.Label, Used: s.Pattern.Used, Verdict: string(s.Cause.Verdict), Miss: s.Cause.Miss,
		Face: s.Cause.Delivery[analysis.Face], Path: s.Cause.Delivery[analysis.Path], Inferred: s.Cause.Inferred,
		Wide: words.Wide(s.Pattern, s.Cause), MoreBalls: s.Cause.MoreBalls,
	}
	if s.Pattern.Width80OK {
		g.Width = s.Pattern.Width80
	}
	return g
}

// Usual is the index of the set that speaks for a session: the baseline of its
// first trial, which is the usual setup, else Main.
func (r Report) Usual() int {
	if len(r.Trials) > 0 {
		base := r.Trials[0].Sets[0]
		for i, s := range r.Sets {
			if s.Club == base.Club && s.Label == base.Label {
				return i
			}
		}
	}
	return r.Main()
}

// TrialGist is a trial in figures.
func TrialGist(t trial.Result) *analysis.TrialGist {
	g := &analysis.TrialGist{Club: t.Sets[0].Club, Base: t.Sets[0].Label}
	for i, side := range t.Sets[1:] {
		set := analysis.TrialSetGist{Label: side.Label, Tool: side.Tool, Used: side.Used}
		rows := map[analysis.Number]trial.Row{}
		for _, row := range t.Rows {
			if row.Set != i+1 {
				continue
			}
			rows[row.Number] = row
			switch row.Verdict {
			case trial.Moved, trial.MovedLittle:
				set.Moved = append(set.Moved, analysis.Change{Number: row.Number, Difference: row.Difference, Low: row.Low, High: row.High,
					Little: row.Verdict == trial.MovedLittle})
			case trial.Held:
				set.Held++
			default:
				set.Untold++
			}
		}
		for _, n := range []analysis.Number{analysis.Lateral, analysis.Face} {
			if row := rows[n]; row.Verdict == trial.CannotTell {
				set.MoreBalls = max(set.MoreBalls, row.MoreBase, row.MoreSet)
			}
		}
		for _, c := range t.Compensations {
			if c.Set == i+1 {
				set.Lead, set.Follow, set.Cancelled = followed(c, rows)
			}
		}
		g.Sets = append(g.Sets, set)
	}
	return g
}

// followed is what the number that follows a setup did about the one it leads
// with.
func followed(c trial.Compensation, rows map[analysis.Number]trial.Row) (lead analysis.Number, f analysis.Follow, part float64) {
	lead, follow, share := c.Led()
	moved := func(n analysis.Number) bool {
		return rows[n].Verdict == trial.Moved || rows[n].Verdict == trial.MovedLittle
	}
	switch {
	case !moved(lead):
		return lead, "", 0
	case rows[follow].Verdict == trial.Held:
		return lead, analysis.Stands, 0
	case !moved(follow):
		return lead, analysis.NotKnown, 0
	case !c.Opposed:
		return lead, analysis.Adds, 0
	case !share.OK:
		return lead, analysis.Follows, 0
	}
	return lead, analysis.Cancels, share.Value
}
