package store

import (
	"encoding/json"
	"fmt"

	"rangepost/analysis"
)

// A gist is kept as JSON: clubs and numbers by their keys, because their order
// is nobody's promise.
type gistJSON struct {
	Set    setGistJSON    `json:"set"`
	Others int            `json:"others,omitempty"`
	Trial  *trialGistJSON `json:"trial,omitempty"`

	Control []controlGistJSON `json:"control,omitempty"`
}

type controlGistJSON struct {
	Club, Number string
	Made         analysis.Estimate
}

type setGistJSON struct {
	analysis.SetGist
	Club string
}

type trialGistJSON struct {
	Club, Base string
	Sets       []trialSetGistJSON
}

type trialSetGistJSON struct {
	analysis.TrialSetGist
	Moved []changeJSON
	Lead  string
}

type changeJSON struct {
	analysis.Change
	Number string
}

// encodeGist is "" for no gist, and for one with a figure that is none: what a
// desk says of a session is not worth losing the session for.
func encodeGist(g *analysis.Gist) string {
	if g == nil {
		return ""
	}
	out := gistJSON{Set: setGistJSON{g.Set, g.Set.Club.Key()}, Others: g.Others}
	if t := g.Trial; t != nil {
		out.Trial = &trialGistJSON{Club: t.Club.Key(), Base: t.Base}
		for _, s := range t.Sets {
			set := trialSetGistJSON{TrialSetGist: s, Lead: s.Lead.Info().Key}
			for _, c := range s.Moved {
				set.Moved = append(set.Moved, changeJSON{c, c.Number.Info().Key})
			}
			out.Trial.Sets = append(out.Trial.Sets, set)
		}
	}
	for _, c := range g.Control {
		out.Control = append(out.Control, controlGistJSON{c.Club.Key(), c.Number.Info().Key, c.Made})
	}
	text, err := json.Marshal(out)
	if err != nil {
		return ""
	}
	return string(text)
}

func parseGist(text string) (*analysis.Gist, error) {
	if text == "" {
		return nil, nil
	}
	var in gistJSON
	if err := json.Unmarshal([]byte(text), &in); err != nil {
		return nil, fmt.Errorf("reading a gist: %w", err)
	}
	g := &analysis.Gist{Set: in.Set.SetGist, Others: in.Others}
	var err error
	if g.Set.Club, err = analysis.ParseClub(in.Set.Club); err != nil {
		return g, err
	}
	number := func(key string) (analysis.Number, error) {
		n, known := analysis.NumberByKey(key)
		if !known {
			return n, fmt.Errorf("a gist has a number this program does not know: %s", key)
		}
		return n, nil
	}
	for _, c := range in.Control {
		control := analysis.ControlGist{Made: c.Made}
		if control.Club, err = analysis.ParseClub(c.Club); err != nil {
			return g, err
		}
		if control.Number, err = number(c.Number); err != nil {
			return g, err
		}
		g.Control = append(g.Control, control)
	}
	if in.Trial == nil {
		return g, nil
	}
	g.Trial = &analysis.TrialGist{Base: in.Trial.Base}
	if g.Trial.Club, err = analysis.ParseClub(in.Trial.Club); err != nil {
		return g, err
	}
	for _, s := range in.Trial.Sets {
		set := s.TrialSetGist
		set.Moved = nil
		if set.Lead, err = number(s.Lead); err != nil {
			return g, err
		}
		for _, c := range s.Moved {
			change := c.Change
			if change.Number, err = number(c.Number); err != nil {
				return g, err
			}
			set.Moved = append(set.Moved, change)
		}
		g.Trial.Sets = append(g.Trial.Sets, set)
	}
	return g, nil
}
