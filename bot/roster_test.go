package bot

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// A club of thirty, three of whom need their coach: one missed the brief, one
// has drifted by six degrees (so far that it is seen: how small a drift is, is
// the timelines' matter), one has been silent for three weeks since the lesson.
// The others post every third day, a session's level 0.8 degrees apart
// from the next and balls 2.5.
type thirty struct {
	*desktop
	rng   *rand.Rand
	names []string
}

func newThirty(t *testing.T, seed uint64) *thirty {
	c := &thirty{desktop: newDesktop(t), rng: rand.New(rand.NewPCG(seed, 30))}
	for i := range 30 {
		c.names = append(c.names, fmt.Sprintf("student-%02d", i))
	}
	// Whoever is in need stands anywhere in the order of consents.
	c.rng.Shuffle(len(c.names), func(i, j int) { c.names[i], c.names[j] = c.names[j], c.names[i] })
	for _, name := range c.names {
		c.bind(name, coach)
	}
	c.rng.Shuffle(len(c.names), func(i, j int) { c.names[i], c.names[j] = c.names[j], c.names[i] })
	missed, drifting, silent := c.names[0], c.names[1], c.names[2]
	c.days(1)
	for day := range 39 {
		for i, name := range c.names {
			if (day+i)%3 > 0 || name == silent && day >= 18 || name == missed && day >= 30 {
				continue
			}
			level := 0.0
			if name == drifting && day >= 24 {
				level = 6
			}
			c.hit(name, level)
		}
		switch day {
		case 16:
			c.ask(coach, "lesson", "student", silent, "note", "aim")
		case 28:
			c.ask(coach, "brief", "student", missed, "text", "face to path within 1, 7-iron, 200 balls by 8 July")
		}
		c.days(1)
	}
	c.lookedAtAll()
	return c
}

// hit posts ten balls at a level of face-to-path.
func (c *thirty) hit(name string, level float64) {
	c.t.Helper()
	level += 0.8 * c.rng.NormFloat64()
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	var shots []analysis.Shot
	for i := range 10 {
		shots = append(shots, analysis.Shot{N: i + 1, Row: i + 2, Club: iron}.With(analysis.FaceToPath, (level+2.5*c.rng.NormFloat64())*analysis.Degree))
	}
	at := c.Bot.now()
	if _, _, err := c.db.PostSession(c.t.Context(), store.NewSession{
		Server: "saltmarsh", Student: name, Name: "s.csv", Raw: fmt.Append(nil, name, at),
		Reading: store.Reading{Session: analysis.Session{When: at, Dated: analysis.ByInstant, Ball: analysis.RangeBall, Shots: shots}},
	}); err != nil {
		c.t.Fatal(err)
	}
}

func (c *thirty) lookedAtAll() {
	c.t.Helper()
	for _, name := range c.names {
		binding, err := c.db.StudentBinding(c.t.Context(), "saltmarsh", name)
		if err != nil {
			c.t.Fatal(err)
		}
		if err := c.db.CaughtUp(c.t.Context(), binding, c.now); err != nil {
			c.t.Fatal(err)
		}
	}
}

// first reports whether the three in need are the first three, and who is in
// their place.
func (c *thirty) first() (ok bool, others []string) {
	c.t.Helper()
	lines, err := c.records.Roster(c.t.Context(), "saltmarsh", coach)
	if err != nil || len(lines) != 30 {
		c.t.Fatal(len(lines), err)
	}
	need := map[string]bool{c.names[0]: true, c.names[1]: true, c.names[2]: true}
	for _, l := range lines[:3] {
		if !need[l.Student.ID] {
			others = append(others, findingLine(l.Golfer, l.Findings, 2))
		}
	}
	return len(others) == 0, others
}

// Those who need their coach are the first three of thirty, however many
// ordinary posts of the others wait.
func TestThoseInNeedAreFirst(t *testing.T) {
	clubs, bound := 12, 10
	if testing.Short() {
		clubs, bound = 3, 2
	}
	right := map[string]int{}
	for seed := range clubs {
		c := newThirty(t, uint64(seed))
		count := func(load string) {
			ok, others := c.first()
			if ok {
				right[load]++
			} else {
				t.Logf("club %d, %s: in their place %v", seed, load, others)
			}
		}
		count("nothing unread")
		for _, name := range c.names[3:] {
			c.hit(name, 0)
		}
		count("one unread each")
		for range 4 {
			c.now = c.now.Add(time.Hour)
			for _, name := range c.names[3:] {
				c.hit(name, 0)
			}
		}
		count("many unread each")
	}
	for _, load := range []string{"nothing unread", "one unread each", "many unread each"} {
		t.Logf("%s: the three in need are the first three in %d of %d clubs", load, right[load], clubs)
		if right[load] < bound {
			t.Errorf("%s: in %d of %d, want %d", load, right[load], clubs, bound)
		}
	}
}
