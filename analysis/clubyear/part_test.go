package clubyear

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // so that the zone is there wherever this runs

	"gonum.org/v1/gonum/stat"

	"rangepost/analysis"
)

var london = func() *time.Location {
	zone, err := time.LoadLocation("Europe/London")
	if err != nil {
		panic(err)
	}
	return zone
}()

// small is a club of so many members and challenges.
func small(seed uint64, members, challenges int) *Links {
	l := New(seed, london)
	l.Members, l.Challenges = l.Members[:members], l.Challenges[:challenges]
	return l
}

// written is every file of a part with what is done about it.
func written(p *Part) string {
	var b bytes.Buffer
	for _, a := range p.Acts {
		b.WriteString(a.At.String() + string(a.Do) + a.Said.Ball + a.Said.Club + a.Said.Sets)
		b.Write(a.Session.File().Data)
	}
	return b.String()
}

func TestSameSeedSameYear(t *testing.T) {
	all := func(seed uint64) (text string) {
		for _, parts := range small(seed, 12, 4).Parts() {
			for _, p := range parts {
				text += string(p.Way) + string(p.Mishap) + written(p)
			}
		}
		return text
	}
	if one := all(3); one != all(3) {
		t.Error("the same seed gave another year")
	} else if one == all(4) {
		t.Error("another seed gave the same year")
	}
}

// A year has enough of everything, and acts stand in the order of their times.
func TestYearHasItAll(t *testing.T) {
	l := New(1, london)
	if len(l.Members) != 60 || len(l.Challenges) != 24 || l.Challenges[11].Season != 1 || l.Challenges[12].Season != 2 {
		t.Fatal("not sixty members and two seasons of twelve")
	}
	mishaps, ways, left := map[Mishap]int{}, map[Way]int{}, 0
	for _, parts := range small(1, 60, 12).Parts() {
		for _, p := range parts {
			mishaps[p.Mishap]++
			ways[p.Way]++
			if !slices.IsSortedFunc(p.Acts, func(a, b Act) int { return a.At.Compare(b.At) }) {
				t.Errorf("%s, %q, %q: acts out of order", p.Member.Name, p.Way, p.Mishap)
			}
			if last := p.last(); last.After(p.Challenge.Closes) != (p.Mishap == AfterClosing) {
				t.Errorf("%s, %q, %q: done by %v of a challenge to %v", p.Member.Name, p.Way, p.Mishap, last, p.Challenge.Closes)
			}
			if p.posted() < 0 {
				left++
			}
		}
	}
	for _, f := range fates {
		if mishaps[f.mishap] < 3 {
			t.Errorf("%q came %d times in twelve challenges", f.mishap, mishaps[f.mishap])
		}
	}
	for _, k := range tricks {
		if ways[k.way] < 1 {
			t.Errorf("%q never came in twelve challenges", k.way)
		}
	}
	if mishaps[LeftHander] == 0 || mishaps[ShortJunior] == 0 || left == 0 || len(l.leaves) != 6 {
		t.Errorf("%d left-handers, %d juniors, %d forgot, %d leave", mishaps[LeftHander], mishaps[ShortJunior], left, len(l.leaves))
	}
}

// part is an honest one of a member with that device, and four others'.
func part(k RuleKind, d Device, seed uint64) (p *Part, all []*Part) {
	begins := time.Date(2029, time.March, 5, 8, 0, 0, 0, london)
	c := Challenge{Number: 1, Season: 1, Rule: RuleOf(k, "7i"), Opens: begins, Closes: begins.AddDate(0, 0, 6)}
	for i := range 5 {
		m := member(string(rune('A'+i)), 1, 15, chance(seed, i))
		m.Device, m.RangeBalls = d, true
		m.golfer.improves, m.golfer.wave = 0, 0
		all = append(all, newPart(m, c, 0, seed))
	}
	return all[0], all
}

func side(s Session) []float64 {
	v, _ := analysis.Values(s.shots(), analysis.Lateral)
	return v
}

// lines is the part's entered file.
func lines(p *Part) []string {
	return strings.Split(strings.TrimSpace(string(p.session().File().Data)), "\n")
}

func posts(p *Part) (n int) {
	for _, a := range p.Acts {
		if a.Do == Posts && a.At.After(p.Challenge.Opens) {
			n++
		}
	}
	return n
}

func later(d time.Duration) func(h, g *Part) bool {
	return func(h, g *Part) bool { return g.session().Start().Sub(h.session().Start()) == d }
}

var waysDo = map[Way]func(h, g *Part) bool{
	OtherClub: func(h, g *Part) bool {
		return posts(g)%2 == 1 && g.Acts[1+at(g)].Said.Club == "8-iron" &&
			slices.Equal(side(g.Acts[at(g)].Session), side(g.Acts[1+at(g)].Session))
	},
	OtherBall: func(h, g *Part) bool { return posts(g) > 1 && g.Acts[1+at(g)].Said.Ball == "new" },
	NineBalls: func(h, g *Part) bool {
		return len(g.session().Balls) > 9 && len(g.Acts[at(g)].Session.Balls) == 9
	},
	EntersAnew: func(h, g *Part) bool {
		return posts(g) > 1 && slices.ContainsFunc(g.Acts, func(a Act) bool { return a.Do == Withdraws })
	},
	NoDate:    func(h, g *Part) bool { return !strings.Contains(strings.Join(lines(g), ""), "2029") },
	Dated2031: func(h, g *Part) bool { return strings.Contains(lines(g)[1], "2031") },
	Redated:   func(h, g *Part) bool { return later(0)(h, g) && !slices.Equal(side(g.session()), side(h.session())) },
	DeletesRows: func(h, g *Part) bool {
		b := g.session().Balls
		return len(b) == g.Challenge.Rule.Balls && b[len(b)-1].N > len(b)+5
	},
	BlanksSide: func(h, g *Part) bool {
		return len(g.session().Balls)-len(side(g.session())) == 3
	},
	YardsAsFeet: func(h, g *Part) bool {
		return strings.Contains(lines(g)[0], "Carry (ft") && slices.Equal(lines(h)[1:], lines(g)[1:])
	},
	OthersReversed: func(h, g *Part) bool {
		return slices.ContainsFunc(g.others, func(o Session) bool { s := side(o); slices.Reverse(s); return slices.Equal(s, side(g.session())) })
	},
	OthersScaled: func(h, g *Part) bool {
		return slices.ContainsFunc(g.others, func(o Session) bool { return side(g.session())[3] == 0.98*side(o)[3] })
	},
	OthersMirrored: func(h, g *Part) bool {
		return slices.ContainsFunc(g.others, func(o Session) bool { return side(g.session())[3] == -side(o)[3] })
	},
	BestOfFive: func(h, g *Part) bool { return g.score(g.session()) < h.score(h.session()) && posts(g) == 1 },
	Sandbag15:  aimed(15),
	Sandbag30:  aimed(30),
	LoosePast:  func(h, g *Part) bool { return stat.StdDev(pastSide(g), nil) > 1.3*stat.StdDev(pastSide(h), nil) },
	ShortChips: func(h, g *Part) bool {
		carry, _ := analysis.Values(g.session().shots(), analysis.Carry)
		return math.Abs(stat.Mean(carry, nil)-20*analysis.Yard) < 3
	},
	Quartered: func(h, g *Part) bool { return 4*side(g.session())[2] == side(h.session())[2] && sameButSide(h, g) },
	TypesFigures: func(h, g *Part) bool {
		return !slices.ContainsFunc(side(g.session()), func(v float64) bool { return math.Abs(math.Remainder(v, analysis.Yard/2)) > 1e-9 })
	},
	BetterHalf: func(h, g *Part) bool {
		s := g.session()
		return len(s.Balls) == g.Challenge.Rule.Balls && s.Balls[len(s.Balls)-1].N == len(s.Balls)
	},
	WorstOtherClub: func(h, g *Part) bool {
		n := 0
		for _, b := range g.session().Balls {
			if b.Club != g.Challenge.Rule.club() {
				n++
			}
		}
		return n == 3
	},
	CalledWarmUp: func(h, g *Part) bool {
		s := g.Acts[g.posted()].Said.Sets
		return strings.HasPrefix(s, "1-") && strings.HasSuffix(s, " warm-up")
	},
	GoodTwice:   func(h, g *Part) bool { return scaledAlike(g, 1.01) == 5 },
	HalvedAlike: func(h, g *Part) bool { return 2*side(g.session())[2] == side(h.session())[2] && !sameButSide(h, g) },
	SomebodyBetter: func(h, g *Part) bool {
		return len(g.session().Balls) == len(h.session().Balls) && !slices.Equal(side(g.session()), side(h.session()))
	},
}

var mishapsDo = map[Mishap]func(h, g *Part) bool{
	LostShot:    func(h, g *Part) bool { return len(lines(g)) == len(lines(h))-1 && last(g).N == last(h).N },
	RepeatedRow: func(h, g *Part) bool { return len(lines(g)) == len(lines(h))+1 && last(g).N == last(h).N },
	Restarted: func(h, g *Part) bool {
		return last(g).N < last(h).N-5 && slices.Equal(side(g.session()), side(h.session()))
	},
	HourOff:    later(-time.Hour),
	OtherZone:  func(h, g *Part) bool { return later(0)(h, g) && !slices.Equal(lines(h), lines(g)) },
	ClockReset: func(h, g *Part) bool { return strings.Contains(lines(g)[2], "2000") },
	TwoDevices: func(h, g *Part) bool {
		return posts(g) == 2 && last(g) == last(h) && g.Acts[1+at(g)].Session.Device == Box
	},
	Battery: func(h, g *Part) bool { return last(g).At.Sub(last(h).At) == 13*time.Minute && last(g).N == last(h).N },
	TeeShot: func(h, g *Part) bool {
		return len(lines(g)) == len(lines(h))+1 && slices.Max(speeds(g)) > 1.2*slices.Max(speeds(h)) && drivers(g) == 1
	},
	TeeShotUnnamed: func(h, g *Part) bool { return slices.Max(speeds(g)) > 1.2*slices.Max(speeds(h)) && drivers(g) == 0 },
	WarmUp: func(h, g *Part) bool {
		return len(lines(g)) == len(lines(h))+4 && slices.Max(speeds(g)[:4]) < 0.8*slices.Min(speeds(g)[4:])
	},
	MissingColumn: func(h, g *Part) bool { return strings.Count(lines(g)[0], ",") == strings.Count(lines(h)[0], ",")-1 },
	DecimalComma:  func(h, g *Part) bool { return strings.Contains(lines(g)[1], ",") && strings.Contains(lines(g)[1], ";") },
	ExportedTwice: func(h, g *Part) bool { return posts(g) == 2 && written(h) != written(g) && last(g) == last(h) },
	LastWeek: func(h, g *Part) bool {
		return posts(g) == 2 && g.Acts[at(g)].Session.Start().Before(g.Challenge.Opens) && last(g) == last(h)
	},
	BorrowedMetric: func(h, g *Part) bool {
		return strings.Contains(lines(g)[0], "Carry (m)") && strings.Contains(lines(h)[0], "Carry (yd)")
	},
	Windy: func(h, g *Part) bool {
		return len(lines(g)) == len(lines(h)) && !slices.Equal(side(g.session()), side(h.session()))
	},
	RangeLate: func(h, g *Part) bool {
		return posts(g) == 2 && g.Acts[at(g)].Said.Ball == "" && g.Acts[1+at(g)].Said.Ball == "range"
	},
	BeforeOpening: func(h, g *Part) bool {
		return g.session().Start().Before(g.Challenge.Opens) && !g.Acts[at(g)].At.Before(g.Challenge.Opens)
	},
	AfterClosing: func(h, g *Part) bool { return g.last().After(g.Challenge.Closes) },
	PartThenWhole: func(h, g *Part) bool {
		return posts(g) == 2 && len(g.Acts[at(g)].Session.Balls) < len(g.session().Balls) && last(g) == last(h)
	},
	EditedHeader: func(h, g *Part) bool {
		return strings.Contains(lines(g)[0], "my carry") && slices.Equal(lines(g)[1:], lines(h)[1:])
	},
	Spreadsheet: func(h, g *Part) bool {
		return !strings.Contains(lines(g)[1], ".") && strings.Contains(lines(h)[1], ".")
	},
	TooFew: func(h, g *Part) bool { return len(g.session().Balls) < g.Challenge.Rule.Balls },
	SideAlone: func(h, g *Part) bool {
		return strings.HasPrefix(lines(g)[0], "Shot,Time,Club,Lateral") && !strings.Contains(lines(g)[1], ".")
	},
	SecondVisit: func(h, g *Part) bool { return posts(g) == 2 && g.session().Start().After(h.last().Add(-time.Hour)) },
}

// at is the first post since the opening.
func at(p *Part) int {
	return slices.IndexFunc(p.Acts, func(a Act) bool { return a.Do == Posts && a.At.After(p.Challenge.Opens) })
}

func last(p *Part) Ball { b := p.session().Balls; return b[len(b)-1] }

func speeds(p *Part) []float64 {
	v, _ := analysis.Values(p.session().shots(), analysis.BallSpeed)
	return v
}

func drivers(p *Part) (n int) {
	for _, b := range p.session().Balls {
		if b.Club.Family == analysis.Driver {
			n++
		}
	}
	return n
}

// scaledAlike is how many balls have another's speed times a factor.
func scaledAlike(p *Part, by float64) (n int) {
	for _, v := range speeds(p) {
		if slices.ContainsFunc(speeds(p), func(o float64) bool { return math.Abs(o-by*v) < 1e-9 }) {
			n++
		}
	}
	return n
}

// sameButSide reports whether two files differ in the last column alone, which is
// the side.
func sameButSide(h, g *Part) bool {
	cut := func(line string) string { return line[:strings.LastIndex(line, ",")] }
	return slices.EqualFunc(lines(h), lines(g), func(a, b string) bool { return cut(a) == cut(b) })
}

func pastSide(p *Part) (all []float64) {
	for _, shots := range p.past() {
		v, _ := analysis.Values(shots, analysis.Lateral)
		all = append(all, v...)
	}
	return all
}

// aimed reports whether the past is so many metres further right, give or take how
// its mean scatters.
func aimed(m float64) func(h, g *Part) bool {
	return func(h, g *Part) bool {
		return math.Abs(stat.Mean(pastSide(g), nil)-stat.Mean(pastSide(h), nil)-m) < 5 && last(g) == last(h)
	}
}

// Every way and every mishap does to the file and its handing over what it says, and
// an untouched part is not taken for it. Some ways wait for a bad session.
func TestWaysAndMishapsDoWhatTheySay(t *testing.T) {
	for _, k := range tricks {
		rule, done := Narrow, 0
		if len(k.alone) > 0 {
			rule = k.alone[len(k.alone)-1]
		}
		do := waysDo[k.way]
		for seed := range uint64(3) {
			honest, _ := part(rule, Bay, seed)
			gamed, all := part(rule, Bay, seed)
			gamed.game(k.way, all)
			if do(honest, honest) {
				t.Errorf("%q, seed %d: an untouched part passes for it", k.way, seed)
			}
			if written(gamed) == written(honest) || k.way == CalledWarmUp && gamed.Acts[gamed.posted()].Said.Sets == "" {
				continue
			}
			done++
			if !do(honest, gamed) || gamed.Way != k.way || gamed.Due != "" {
				t.Errorf("%q, seed %d, does not do what it says:\n%.600s", k.way, seed, written(gamed))
			}
		}
		if done == 0 {
			t.Errorf("%q did nothing three times", k.way)
		}
	}
	for _, f := range fates {
		device := Bay
		if f.mishap == DecimalComma {
			device = Box
		}
		do := mishapsDo[f.mishap]
		honest, _ := part(Narrow, device, 1)
		erring, _ := part(Narrow, device, 1)
		erring.befall(f.mishap, chance(1))
		if do(honest, honest) {
			t.Errorf("%q: an untouched part passes for it", f.mishap)
		}
		if !do(honest, erring) {
			t.Errorf("%q does not do what it says:\n%.600s", f.mishap, written(erring))
		}
	}
}

// The toy reads back what each device wrote, as nearly as it is written.
func TestFilesHoldWhatWasMeasured(t *testing.T) {
	for _, d := range Devices() {
		p, _ := part(Narrow, d, 5)
		s := p.session()
		for i, b := range readToy(string(s.File().Data)) {
			for _, c := range d.columns() {
				got, ok := b.Value(c.n)
				want, _ := s.Balls[i].Value(c.n)
				if !ok || math.Abs(got-want) > 0.501*c.unit {
					t.Errorf("%s, ball %d: %s is %v, want %v", d, i+1, c.head, got, want)
				}
			}
			if d != BayLine && !b.At.Equal(s.Balls[i].At) || b.Club != s.Balls[i].Club || b.N != i+1 {
				t.Errorf("%s, ball %d: %v, %v, %v", d, i+1, b.N, b.Club, b.At)
			}
		}
	}
}

// A left-hander is a right-hander in a mirror, so equals are equal.
func TestLeftIsRightMirrored(t *testing.T) {
	for _, k := range Kinds() {
		m := member("A", 1, 15, chance(1))
		right := RuleOf(k, "7i").skill(m, 0)
		m.Left = !m.Left
		if left := RuleOf(k, "7i").skill(m, 0); math.Abs(left-right) > 1e-9 {
			t.Errorf("%s: %v left-handed, %v right-handed", k, left, right)
		}
		m.golfer.face *= 1.3
		if worse := RuleOf(k, "7i").skill(m, 0); k != Progress && worse <= right {
			t.Errorf("%s: %v for 1.3 times the scatter of %v", k, worse, right)
		}
	}
}
