package plan

import (
	"encoding/json"
	"fmt"

	"rangepost/analysis"
)

// Schema names the JSON document of a card; its number changes only if a key
// changes meaning or goes.
const Schema = "rangepost.plan/1"

// cardJSON is a plan as JSON: clubs, numbers and sets by their names, angles in
// degrees and the rest in SI as in `read --json`, counts of blocks and visits
// from 1.
type cardJSON struct {
	Schema    string     `json:"schema"`
	Club      string     `json:"club"`
	Sets      []string   `json:"sets"` // the usual one first
	Number    string     `json:"number"`
	Unit      string     `json:"measured_as"` // the number's key in `read --json`, with its unit
	Change    float64    `json:"change"`
	BallsASet int        `json:"balls_a_set"`
	Power     float64    `json:"power"`
	SD        float64    `json:"sd"`
	Own       int        `json:"sd_from_own_balls"`
	Seed      uint64     `json:"seed"`
	Turns     []turnJSON `json:"turns"`
}

type turnJSON struct {
	Set   string `json:"set"`
	Balls int    `json:"balls"`
	Block int    `json:"block"`
	Visit int    `json:"visit"`
}

// MarshalJSON implements json.Marshaler: the card.
func (p Plan) MarshalJSON() ([]byte, error) {
	scale := p.Number.JSONScale()
	c := cardJSON{
		Schema: Schema, Club: p.Club.Key(), Sets: p.Labels, Number: p.Number.Info().Key, Unit: p.Number.JSONKey(), Change: p.Change / scale,
		BallsASet: p.BallsASet, Power: p.Power, SD: p.SD / scale, Own: p.Own, Seed: p.Seed,
	}
	for _, t := range p.Turns {
		c.Turns = append(c.Turns, turnJSON{p.Labels[t.Set], t.Balls, t.Block + 1, t.Visit + 1})
	}
	return json.Marshal(c)
}

// UnmarshalJSON implements json.Unmarshaler. A card that cannot be one is an
// *analysis.Refusal.
func (p *Plan) UnmarshalJSON(text []byte) error {
	const made = "Use a card as `rangepost plan new --json` printed it."
	refuse := func(format string, args ...any) error { return analysis.Refuse(made, format, args...) }
	var c cardJSON
	if err := json.Unmarshal(text, &c); err != nil {
		return refuse("This is no card of a plan: %s.", err)
	}
	if c.Schema != Schema {
		return refuse("This is no card of a plan: its schema is %q.", c.Schema)
	}
	club, err := analysis.ParseClub(c.Club)
	if err != nil {
		return refuse("The card is for a club that is none: %q.", c.Club)
	}
	number, known := analysis.NumberByKey(c.Number)
	if !known {
		return refuse("The card is about a number that is none: %q.", c.Number)
	}
	scale := number.JSONScale()
	out := Plan{
		Club: club, Labels: c.Sets, Number: number, Change: c.Change * scale, BallsASet: c.BallsASet, Power: c.Power,
		SD: c.SD * scale, Own: c.Own, Seed: c.Seed,
	}
	if n := len(c.Sets); n < 2 || n > 1+mostOthers {
		return refuse("The card has %d sets.", n)
	}
	if !(out.Change > 0) || !(out.SD > 0) {
		return refuse("The card wants a change of %v and knows a scatter of %v; both are above 0.", c.Change, c.SD)
	}
	at := map[string]int{}
	for i, s := range c.Sets {
		at[s] = i
	}
	for i, t := range c.Turns {
		set, ok := at[t.Set]
		if !ok || t.Balls < 1 || t.Block < 1 || t.Visit < 1 {
			return refuse("Turn %d of the card is none: %s.", i+1, fmt.Sprintf("%+v", t))
		}
		out.Turns = append(out.Turns, Turn{Set: set, Balls: t.Balls, Block: t.Block - 1, Visit: t.Visit - 1})
	}
	if len(out.Turns) == 0 {
		return refuse("The card has no turns.")
	}
	*p = out
	return nil
}
