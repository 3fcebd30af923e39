package store

import (
	"encoding/json"
	"time"

	"rangepost/analysis"
)

// saidJSON is Said as it is kept: clubs by key, because the order of the
// families is nobody's promise, and nothing where nothing was said.
type saidJSON struct {
	Club    string           `json:"club,omitempty"`
	Ball    analysis.Ball    `json:"ball,omitempty"`
	Target  float64          `json:"target_m,omitempty"`
	When    time.Time        `json:"when,omitzero"`
	Sets    string           `json:"sets,omitempty"`
	Note    string           `json:"note,omitempty"`
	Answers analysis.Answers `json:"answers,omitempty"`
}

func (s Said) encode() (string, error) {
	b, err := json.Marshal(saidJSON{s.Club.Key(), s.Ball, s.Target, s.When.UTC(), s.Sets, s.Note, s.Answers})
	return string(b), err
}

func parseSaid(b []byte) (Said, error) {
	var j saidJSON
	if err := json.Unmarshal(b, &j); err != nil {
		return Said{}, err
	}
	club, err := analysis.ParseClub(j.Club)
	return Said{club, j.Ball, j.Target, j.When, j.Sets, j.Note, j.Answers}, err
}
