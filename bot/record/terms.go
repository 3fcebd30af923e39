package record

import (
	"encoding/json"
	"errors"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/store"
)

// termsJSON is a challenge's terms as they are kept: clubs and numbers by key,
// because the order of either is nobody's promise.
type termsJSON struct {
	Rule   challenge.Rule `json:"rule"`
	Club   string         `json:"club"`
	Balls  int            `json:"balls"`
	Ball   analysis.Ball  `json:"ball,omitempty"`
	Target float64        `json:"target_m,omitempty"`
	Wide   float64        `json:"wide_m,omitempty"`
	Deep   float64        `json:"deep_m,omitempty"`
	Number string         `json:"number,omitempty"`
	Shots  []string       `json:"shots,omitempty"`
	Low    *float64       `json:"low,omitempty"`
	High   *float64       `json:"high,omitempty"`
	Step   float64        `json:"step_m,omitempty"`
	Least  float64        `json:"least_m,omitempty"`
	Across float64        `json:"across_m,omitempty"`
	Fewest int            `json:"fewest,omitempty"` // 0 of challenges of before there was such a thing

	Inferred  bool `json:"inferred,omitempty"`
	Announced bool `json:"announced,omitempty"`
	Drawn     bool `json:"drawn,omitempty"`
	Minutes   int  `json:"minutes,omitempty"`
	Look      bool `json:"look,omitempty"`
}

func encodeTerms(t challenge.Terms) ([]byte, error) {
	j := termsJSON{Shots: t.Shots, Rule: t.Rule, Club: t.Club.Key(), Balls: t.Balls, Ball: t.Ball, Target: t.Target, Wide: t.Wide, Deep: t.Deep, Low: t.Low, High: t.High, Step: t.Step,
		Least: t.Least, Across: t.Across, Fewest: t.Fewest, Inferred: t.Inferred, Announced: t.Announced, Drawn: t.Drawn, Minutes: t.Minutes, Look: t.Look}
	if t.Rule == challenge.Brief || t.Rule == challenge.OnRequest {
		j.Number = t.Number.Info().Key
	}
	return json.Marshal(j)
}

func decodeTerms(data []byte) (challenge.Terms, error) {
	var j termsJSON
	if err := json.Unmarshal(data, &j); err != nil {
		return challenge.Terms{}, err
	}
	t := challenge.Terms{Shots: j.Shots, Rule: j.Rule, Balls: j.Balls, Ball: j.Ball, Target: j.Target, Wide: j.Wide, Deep: j.Deep, Low: j.Low, High: j.High, Step: j.Step,
		Least: j.Least, Across: j.Across, Fewest: j.Fewest, Inferred: j.Inferred || j.Fewest == 0, Announced: j.Announced, Drawn: j.Drawn, Minutes: j.Minutes, Look: j.Look}
	var err error
	if t.Club, err = analysis.ParseClub(j.Club); err != nil {
		return t, err
	}
	if j.Number != "" {
		var ok bool
		if t.Number, ok = analysis.NumberByKey(j.Number); !ok {
			return t, errors.New("challenge on a number this program does not know: " + j.Number)
		}
	}
	return t, nil
}

// A scored is an entry with what its balls are worth.
type scored struct {
	store.Entry
	stretch challenge.Stretch
	past    challenge.Past
}

func decodeEntry(e store.Entry) (s scored, err error) {
	s.Entry = e
	if len(e.Stretch) == 0 {
		return s, nil // its player took their data back
	}
	if err := json.Unmarshal(e.Stretch, &s.stretch); err != nil {
		return s, err
	}
	return s, json.Unmarshal(e.Past, &s.past)
}

// A final is how an entry ended, kept for ever. It names nobody and holds no
// ball.
type final struct {
	Place    int     `json:"place"`
	Value    float64 `json:"value"` // the score's, in its own unit
	Low      float64 `json:"low"`
	High     float64 `json:"high"`
	OK       bool    `json:"limits"`
	In       int     `json:"in"`
	Of       int     `json:"of"`
	RankLow  int     `json:"rank_low"`
	RankHigh int     `json:"rank_high"`
	Tie      int     `json:"tie"`
	Behind   float64 `json:"behind"`
	Best     float64 `json:"best"` // the same in all: the chance that the first truly is
}

func finalOf(r challenge.Standing, best float64) final {
	s := r.Score
	return final{r.Place, s.Value, s.Low, s.High, s.OK, s.In, s.Of, r.RankLow, r.RankHigh, r.Tie, r.Behind, best}
}

func (f final) standing(entry int) challenge.Standing {
	return challenge.Standing{
		Entry: entry, Place: f.Place, RankLow: f.RankLow, RankHigh: f.RankHigh, Tie: f.Tie, Behind: f.Behind,
		Score: challenge.Score{Value: f.Value, Low: f.Low, High: f.High, OK: f.OK, In: f.In, Of: f.Of},
	}
}
