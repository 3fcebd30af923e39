package main

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
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

// summertime is how far the clubhouse's clock is ahead.
const summertime = time.Hour

// shotsOnRequest is a challenge on two shots: Finch plays them both, Heron hits the
// same ball ten times.
func (p *play) shotsOnRequest() {
	p.slash(p.coach, p.contests, "challenge open", standin.Options{
		"name": "Two shots", "rule": "on_request", "club": "7i", "balls": 10, "shots": "draw 8 yd; fade 8 yd", "fewest": 2,
	})
	p.tick()
	p.at(14, 19, 15)
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	for i, turn := range []float64{0, 1} { // how far face and path go to either side
		golfer := player.Player{
			Club: iron, Spread: player.TypicalSpread(0.7), World: player.Foreign(iron, analysis.RightHanded, rand.New(rand.NewPCG(22, 22))),
			Device: player.Device{Ball: true, Landed: true, Noise: player.UsualNoise()},
		}
		rng := rand.New(rand.NewPCG(22, uint64(i)))
		var shots []analysis.Shot
		for _, side := range []float64{turn, -turn} {
			golfer.Delivery = player.Typical(iron)
			golfer.Delivery.Face, golfer.Delivery.Path = 2*side*analysis.Degree, 5.5*side*analysis.Degree
			for _, s := range golfer.Shots(5, "", rng) {
				s.N = len(shots) + 1
				shots = append(shots, s)
			}
		}
		file := standin.File{Name: "two-shots.csv", Bytes: sheet(shots, p.st.clock.Now().Add(summertime))}
		p.slash(p.members[i], p.contests, "challenge enter", standin.Options{"challenge": p.open("Two shots"), "file": file, "ball": "range"})
	}
	p.tick()
	p.slash(p.coach, p.contests, "challenge close", standin.Options{"challenge": p.open("Two shots")})
	p.tick()
}

// drawnHalves is a challenge whose announced sessions hold two half shots that are
// drawn: Heron hits them; Finch does and is a minute late, so that a host looks; the
// next forgets them, which does not count.
func (p *play) drawnHalves() {
	p.slash(p.coach, p.contests, "challenge open", standin.Options{
		"name": "As announced", "rule": "narrow", "club": "7i", "balls": 10, "counts": "drawn", "fewest": 1,
	})
	p.tick()
	p.at(14, 19, 16)
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	for i, posted := range []int{30, 48, 59} { // minutes after seven; there are 17
		announced := p.press(p.members[i], p.board("As announced"), "My next session counts")
		if p.err != nil {
			return
		}
		begun := p.st.clock.Now().Add(summertime + time.Minute)
		p.at(14, 19, posted)
		golfer := player.Player{
			Club: iron, Spread: player.TypicalSpread(0.7), World: player.Foreign(iron, analysis.RightHanded, rand.New(rand.NewPCG(23, 23))),
			Device: player.Device{Ball: true, Landed: true, Noise: player.UsualNoise()},
		}
		rng := rand.New(rand.NewPCG(24, uint64(i)))
		var shots []analysis.Shot
		for ball := range 12 {
			golfer.Delivery = player.Typical(iron)
			if i < 2 && slices.Contains(drawnIn(announced.Text), ball+1) {
				golfer.Delivery.ClubSpeed *= 0.6
			}
			shots = append(shots, golfer.Shots(1, "", rng)...)
		}
		file := standin.File{Name: "announced.csv", Bytes: sheet(shots, begun)}
		p.slash(p.members[i], p.contests, "challenge enter", standin.Options{"challenge": p.open("As announced"), "file": file})
	}
	p.tick()
	p.press(p.coach, p.slash(p.coach, p.contests, "challenge look", standin.Options{"challenge": p.open("As announced")}), "Accept it")
	p.tick()
	p.slash(p.coach, p.contests, "challenge close", standin.Options{"challenge": p.open("As announced")})
	p.tick()
}

// drawnIn are the places of the balls that a reply to an announcement names.
func drawnIn(text string) (places []int) {
	for _, m := range regexp.MustCompile(`\bball (\d+)`).FindAllStringSubmatch(text, -1) {
		n, _ := strconv.Atoi(m[1]) // digits
		places = append(places, n)
	}
	return places
}

// endSummer ends the season long before its time: the demo ends too.
func (p *play) endSummer() {
	p.slash(p.members[0], p.contests, "season table", standin.Options{"class": "0"})
	p.slash(p.coach, p.contests, "season close", nil)
	p.tick()
	p.slash(p.members[1], p.contests, "season history", nil)
}
