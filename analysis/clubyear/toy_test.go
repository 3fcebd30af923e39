package clubyear

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
)

// toy is a product that believes whatever is readable: a plain scorer, fair to the
// honest and blind to everybody else, with faults to plant.
type toy struct {
	unfair   bool // mirrors face and path of left-handers twice
	nervous  bool // lets files wait whose numbers begin again
	strict   bool // lets every file wait
	sure     bool // says 90 in 100 of every leader
	members  map[string]Member
	open     map[string]*toyChallenge
	sessions map[string]toySession
	points   [seasons]map[string]float64
	now      time.Time
	read     int      // bytes so far, which no two contests share: lots are drawn by it
	misuse   []string // what no product should be asked
}

type toyChallenge struct {
	Challenge
	entered, waits map[string]float64
}

type toySession struct {
	balls  []Ball
	posted time.Time
}

func newToy() *toy {
	return &toy{
		members: map[string]Member{}, open: map[string]*toyChallenge{}, sessions: map[string]toySession{},
		points: [seasons]map[string]float64{{}, {}},
	}
}

func (t *toy) Join(m Member, at time.Time)                     { t.members[m.Name] = m }
func (t *toy) Leave(member string, at time.Time)               { delete(t.members, member) }
func (t *toy) Announce(challenge, member string, at time.Time) {}
func (t *toy) Season(season int) map[string]float64            { return t.points[season-1] }
func (t *toy) Withdraw(challenge, member string, at time.Time) {
	delete(t.open[challenge].entered, member)
}

func (t *toy) Open(c Challenge) string {
	id := strconv.Itoa(c.Number)
	t.open[id] = &toyChallenge{c, map[string]float64{}, map[string]float64{}}
	return id
}

func (t *toy) Post(member string, f File, said Said, at time.Time) (string, Verdict) {
	if t.members[member].Name == "" || at.Before(t.now) {
		t.misuse = append(t.misuse, fmt.Sprintf("%s posts at %v", member, at))
	}
	t.now = at
	t.read += len(f.Data)
	id := fmt.Sprint(member, "/", len(t.sessions))
	t.sessions[id] = toySession{readToy(string(f.Data)), at}
	return id, Verdict{State: Accepted}
}

func (t *toy) Enter(challenge, member, session string, at time.Time) Verdict {
	c, s := t.open[challenge], t.sessions[session]
	if at.After(c.Closes) {
		return Verdict{Refused, "closed"}
	}
	start := Session{Balls: s.balls}.Start()
	if !start.IsZero() && start.Year() > 2000 && start.Before(c.Opens) {
		return Verdict{Refused, "hit before the opening"}
	}
	var past [][]analysis.Shot
	for id, o := range t.sessions {
		if strings.HasPrefix(id, member+"/") && o.posted.Before(c.Opens) {
			past = append(past, Session{Balls: o.balls}.shots())
		}
	}
	score, ok := c.Rule.Score(Session{Balls: s.balls}.shots(), t.members[member].Left && !t.unfair, past...)
	if !ok {
		return Verdict{Refused, "too few balls"}
	}
	if t.strict || t.nervous && !slices.IsSortedFunc(s.balls, func(a, b Ball) int { return a.N - b.N }) {
		c.waits[member] = score
		return Verdict{Waits, "numbers begin again"}
	}
	c.entered[member] = score
	return Verdict{State: Accepted}
}

func (t *toy) Decide(challenge, member string, accept bool, at time.Time) {
	if c := t.open[challenge]; accept {
		c.entered[member] = c.waits[member]
	}
}

func (t *toy) Close(challenge string, at time.Time) Result {
	c := t.open[challenge]
	var r Result
	for m := range c.entered {
		r.Placings = append(r.Placings, Placing{Member: m, Chance: 1 / float64(len(c.entered))})
	}
	slices.SortFunc(r.Placings, func(a, b Placing) int {
		return cmp.Or(cmp.Compare(c.entered[a.Member], c.entered[b.Member]), cmp.Compare(lot(t.read, a.Member), lot(t.read, b.Member)))
	})
	for i := range r.Placings {
		p := &r.Placings[i]
		p.Place = i + 1
		// Equal scores, as shares of 15 balls often are, share their place.
		if i > 0 && c.entered[p.Member] == c.entered[r.Placings[i-1].Member] {
			p.Place = r.Placings[i-1].Place
		}
		if t.sure {
			p.Chance = math.NaN()
			if i == 0 {
				p.Chance = 0.9
			}
		}
		t.points[c.Season-1][p.Member] += float64(len(r.Placings)-1-i) / float64(len(r.Placings))
	}
	return r
}

// lot orders equal scores by chance, the same each time.
func lot(of ...any) float64 { return chance(1, of...).Float64() }

// readToy reads what the four devices write, and no more.
func readToy(text string) (balls []Ball) {
	sep := ","
	if strings.Contains(text, ";") {
		sep, text = ";", strings.ReplaceAll(text, ",", ".")
	}
	var head []column
	var day time.Time
	for line := range strings.Lines(text) {
		row := strings.Split(strings.TrimSpace(line), sep)
		switch {
		case row[0] == "Date":
			day, _ = time.Parse("2006-01-02 15:04", row[1])
		case row[0] == "Shot":
			for _, h := range row {
				head = append(head, toyColumn(h))
			}
		case head != nil:
			balls = append(balls, toyBall(head, row, day))
		}
	}
	return balls
}

// toyColumn is what a heading is of; without a unit it is no number's.
func toyColumn(heading string) column {
	for _, d := range Devices() {
		for _, c := range d.columns() {
			if !strings.Contains(strings.ToLower(heading), strings.ToLower(c.head)+" (") {
				continue
			}
			for name, unit := range map[string]float64{
				"(yd": analysis.Yard, "(m)": 1, "(ft": analysis.Foot, "(mph": analysis.MilePerHour,
				"(m/s": 1, "(deg": analysis.Degree, "(rpm": analysis.RevPerMinute,
			} {
				if strings.Contains(heading, name) {
					c.unit = unit
				}
			}
			return c
		}
	}
	return column{head: heading}
}

func toyBall(head []column, row []string, day time.Time) Ball {
	b := Ball{At: day}
	b.N, _ = strconv.Atoi(row[0])
	for i, c := range head {
		switch {
		case c.head == "Time" || c.head == "Date":
			for _, layout := range []string{time.RFC3339, "2006-01-02 15:04:05", "02.01.2006 15:04:05"} {
				if at, err := time.Parse(layout, row[i]); err == nil {
					b.At = at
				}
			}
		case c.head == "Club":
			b.Club, _ = analysis.ParseClub(row[i])
		case c.unit > 0:
			cell, left := strings.CutSuffix(row[i], "L")
			if v, err := strconv.ParseFloat(strings.TrimRight(cell, " R"), 64); err == nil && left {
				b.Shot = b.With(c.n, -v*c.unit)
			} else if err == nil {
				b.Shot = b.With(c.n, v*c.unit)
			}
		}
	}
	return b
}
