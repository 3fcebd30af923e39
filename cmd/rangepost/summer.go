package main

import (
	"fmt"
	"math/rand/v2"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/player"
	"rangepost/bot/standin"
)

// summer opens the club's season: one kind of challenge every week, classes
// by handicap, and a day too many that is taken off again.
func (p *play) summer() {
	p.slash(p.coach, p.contests, "season open", standin.Options{
		"name": fmt.Sprintf("Summer %d", p.date(1).Year()), "until": p.date(120).Format(time.DateOnly), "best": 10, "classes": "12, juniors", "clubname": "Saltmarsh Links",
	})
	p.slash(p.coach, p.contests, "season template", standin.Options{"name": "Weekly sevens", "rule": "narrow", "club": "7i", "balls": 10})
	p.slash(p.coach, p.contests, "season add", standin.Options{"template": "Weekly sevens", "when": "every " + p.date(2).Weekday().String(), "days": 3})
	p.slash(p.coach, p.contests, "season add", standin.Options{"template": "Weekly sevens", "when": p.date(20).Format(time.DateOnly)})
	for _, planned := range p.complete(p.coach, p.contests, "season drop", "challenge") {
		if planned.Text == "Weekly sevens, "+p.date(20).Format("2 January 2006") {
			p.slash(p.coach, p.contests, "season drop", standin.Options{"challenge": planned.Value})
		}
	}
	p.slash(p.coach, p.contests, "season handicap", standin.Options{
		"members": fmt.Sprintf("<@%s> 8.4 <@%s> +1 <@%s> 21", p.members[0].ID, p.members[1].ID, p.members[2].ID),
	})
	p.slash(p.steward, p.practice, "clubhouse junior", standin.Options{"member": p.members[2]})
}

// sevens is the members, by turn, entering a challenge with balls of so many
// times the usual scatter.
func (p *play) sevens(challenge string, scatter ...float64) {
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	for i, s := range scatter {
		golfer := player.Player{
			Club: iron, Delivery: player.Typical(iron), Spread: player.TypicalSpread(s), World: player.Foreign(iron, analysis.RightHanded, rand.New(rand.NewPCG(21, 21))),
			Device: player.Device{Club: true, Strike: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
		}
		rng := rand.New(rand.NewPCG(uint64(p.st.clock.Now().Unix()), uint64(i)))
		file := standin.File{Name: "sevens.csv", Bytes: sheet(golfer.Shots(12, "", rng), p.st.clock.Now())}
		who := p.members[i]
		p.slash(who, p.contests, "challenge enter", standin.Options{"challenge": p.open(challenge), "file": file, "ball": "range"})
	}
}

// endSummer ends the season long before its time: the demo ends too.
func (p *play) endSummer() {
	p.slash(p.members[0], p.contests, "season table", standin.Options{"class": "0"})
	p.slash(p.coach, p.contests, "season close", nil)
	p.tick()
	p.slash(p.members[1], p.contests, "season history", nil)
}
