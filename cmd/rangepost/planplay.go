package main

import (
	"encoding/json"
	"math/rand/v2"

	"rangepost/analysis"
	"rangepost/analysis/plan"
	"rangepost/analysis/player"
	"rangepost/bot/standin"
)

// layPlan is a plan from its card on: Odell's coach lays it out with a theory to
// be answered, both say what they expect, and Odell hits it over some evenings, of
// which the first stops early and the second begins with balls to warm up.
func (p *play) layPlan() {
	p.at(11, 9, 0)
	card := p.slash(p.coach, p.odells, "plan", standin.Options{
		"against": "ball forward", "club": "pw", "change": "1.5", "claim": "the ball forward sends it left, since the shoulders open",
	})
	card = p.press(p.coach, card, "Path further left")
	p.press(p.coach, card, "70 % sure")
	p.press(p.odell, card, "30 % sure")
	p.at(11, 17, 0)
	p.press(p.odell, p.hit(0, 6, 0), "Stopped after turn 6")
}

func (p *play) hitPlan() {
	p.at(12, 17, 0)
	p.press(p.odell, p.hit(6, 99, 6), "6 warm-up balls first")
}

func (p *play) endPlan() {
	p.at(13, 17, 0)
	if _, next, runs := p.plan(); runs {
		p.hit(next, 99, 0)
	}
	p.slash(p.coach, p.odells, "plan", nil)
}

// plan is the card of the plan Odell has, and the turn it is at.
func (p *play) plan() (card plan.Plan, next int, runs bool) {
	if p.err != nil {
		return card, 0, false
	}
	kept, err := p.st.db.LastPlan(p.ctx, p.server.ID, p.odell.ID)
	if err == nil {
		err = json.Unmarshal(kept.Card, &card)
	}
	if err != nil {
		p.err = err
		return card, 0, false
	}
	placed, err := p.st.db.PlacedOn(p.ctx, kept.ID)
	p.err = err
	for _, session := range placed {
		for _, turn := range session.Turns {
			next = max(next, turn+1)
		}
	}
	return card, next, kept.Ended.IsZero()
}

// hit is Odell hitting the turns from one on, until before another or the visit's
// end, behind some balls to warm up, and posting them.
func (p *play) hit(from, until, warm int) *standin.Outcome {
	card, _, _ := p.plan()
	if p.err != nil {
		return nil
	}
	rng := rand.New(rand.NewPCG(19, uint64(from)))
	wedge := card.Club
	golfer := player.Player{
		Club: wedge, Delivery: player.Typical(wedge), Spread: player.TypicalSpread(1.1), World: player.Foreign(wedge, analysis.RightHanded, rand.New(rand.NewPCG(19, 19))),
		Device: player.Device{Club: true, Strike: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	golfer.Delivery.Face, golfer.Delivery.Path = 0.5*analysis.Degree, 2*analysis.Degree
	shots := golfer.Shots(warm, "", rng)
	for i := from; i < min(until, len(card.Turns)) && card.Turns[i].Visit == card.Turns[from].Visit; i++ {
		so := golfer
		if card.Turns[i].Set > 0 {
			so.Delivery.Path -= 3 * analysis.Degree
			so.Delivery.Face -= 1 * analysis.Degree
		}
		shots = append(shots, so.Shots(card.Turns[i].Balls, "", rng)...)
	}
	file := standin.File{Name: "odell-plan.csv", Bytes: sheet(shots, p.st.clock.Now())}
	return p.answer(p.odell, p.slash(p.odell, p.odells, "post", standin.Options{"file": file, "ball": "range"}))
}
