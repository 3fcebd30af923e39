package clubyear

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"time"

	"rangepost/analysis"
)

// members and challenges are the size of a year, seasons how many it has.
const (
	members    = 60
	challenges = 24
	seasons    = 2
)

// Links is a club with its calendar. The same seed gives the same one.
type Links struct {
	Members    []Member
	Challenges []Challenge
	Begins     time.Time

	seed   uint64
	leaves map[string]time.Time // members who go for good
	plays  map[string]float64   // how often they play
}

// New is a club of 60 with handicaps from 0 to 36, 7 left-handers, 8 juniors and 6
// who leave before the year is out. Challenges open every second Monday at 8 and
// close the Sunday after at 20, on the zone's clock, from January 2029 on, so that
// 2031 is still to come.
func New(seed uint64, zone *time.Location) *Links {
	l := &Links{
		seed: seed, Begins: time.Date(2029, time.January, 1, 8, 0, 0, 0, zone),
		leaves: map[string]time.Time{}, plays: map[string]float64{},
	}
	rng := chance(seed, "members")
	order := rng.Perm(members)
	for i, k := range order {
		m := member(fmt.Sprintf("Member%02d", i+1), k, 36*rng.Float64(), rng)
		m.Zone = zone.String()
		l.Members = append(l.Members, m)
		l.plays[m.Name] = 0.55 + 0.4*rng.Float64()
		if k%10 == 3 {
			l.leaves[m.Name] = l.Begins.AddDate(0, 2+rng.IntN(9), 2)
		}
	}
	for i := range challenges {
		opens := l.Begins.AddDate(0, 0, 14*(i+4)) // practice comes before
		l.Challenges = append(l.Challenges, Challenge{
			Number: i + 1, Season: 1 + seasons*i/challenges, Rule: l.rule(i),
			Opens: opens, Closes: opens.AddDate(0, 0, 6).Add(12 * time.Hour),
		})
	}
	return l
}

// rule is that of challenge i: the five kinds in turn, every second round with the
// other club.
func (l *Links) rule(i int) Rule {
	return RuleOf(Kinds()[i%len(Kinds())], []string{"7i", "pw"}[i/len(Kinds())%2])
}

// RuleOf is the year's rule of a kind, for a 7-iron or a pitching wedge: 15 balls,
// 20 to progress; a target a short hitter reaches; a face within 2 degrees of the
// path, or a wedge's path between 0 and 4 degrees in-to-out.
func RuleOf(k RuleKind, club string) Rule {
	r := Rule{Kind: k, Club: club, Balls: 15}
	switch k {
	case Progress:
		r.Balls = 20
	case Nearest:
		r.Target = map[string]float64{"7i": 110, "pw": 80}[club]
	case Within:
		r.Number, r.Low, r.High = analysis.FaceToPath, -2*analysis.Degree, 2*analysis.Degree
		if club == "pw" {
			r.Number, r.Low, r.High = analysis.Path, 0, 4*analysis.Degree
		}
	}
	return r
}

// member is number k of a club: what they are goes round, how well they play is the
// handicap's.
func member(name string, k int, handicap float64, rng *rand.Rand) Member {
	m := Member{
		Name: name, Handicap: math.Round(10*handicap) / 10,
		Left: k%8 == 5, Junior: k%8 == 2, Metric: k%3 == 1,
		RangeBalls: k%5 < 2, Device: Devices()[k/2%len(Devices())],
	}
	m.golfer = golfer{
		world: []string{"middle", "still air", "shares", "tunnel"}[k%4],
		speed: 50 - 0.35*handicap + 1.5*rng.NormFloat64(),
		face:  (1.1 + 0.05*handicap) * analysis.Degree, bias: (rng.NormFloat64() - 1) * analysis.Degree,
		improves: 0.2 * rng.NormFloat64(),
		wave:     0.15 * rng.NormFloat64(), phase: 2 * math.Pi * rng.Float64(),
	}
	if m.Junior {
		m.golfer.speed = 26 + 6*rng.Float64()
	}
	if m.RangeBalls {
		m.golfer.world = "mat"
	}
	return m
}

// chance is a stream of its own for every purpose.
func chance(seed uint64, of ...any) *rand.Rand {
	h := fnv.New64a()
	fmt.Fprint(h, of...)
	return rand.New(rand.NewPCG(seed, h.Sum64()))
}

// years is how far a time is into the year.
func (l *Links) years(at time.Time) float64 { return at.Sub(l.Begins).Hours() / 24 / 365.25 }
