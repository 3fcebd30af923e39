package record

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// practise keeps a session of a student that taught of a tool, and says its id.
func (d *desk) practise(name string, tool analysis.Tool, face float64) string {
	d.t.Helper()
	d.now = d.now.Add(time.Minute)
	iron, err := analysis.ParseClub("7i")
	d.must(err)
	var taught []analysis.Observation
	for _, n := range []analysis.Number{analysis.Face, analysis.Path} {
		taught = append(taught, analysis.Observation{Club: iron, Tool: tool, Number: n, Difference: face * analysis.Degree, SE: 0.6 * analysis.Degree, Balls: 12})
	}
	s, _, err := d.db.PostSession(d.t.Context(), store.NewSession{
		Server: club, Student: name, PostedBy: name, Name: "s.csv", Raw: []byte(fmt.Sprint(name, d.now, tool)),
		Reading: store.Reading{Session: analysis.Session{When: d.now}, Taught: taught},
		Same:    func(a, b []analysis.Shot) bool { return false },
	})
	d.must(err)
	return s.ID
}

func (d *desk) pool() (told []analysis.Pooled, short []Pooling) {
	d.t.Helper()
	d.now = d.now.Add(time.Minute)
	told, short, err := d.rs.Pool(d.t.Context(), club, coach)
	d.must(err)
	return told, short
}

// With four students nothing is told, with five it is; a sixth whose tool does
// something quite different moves no figure, nor does what they go on to do, until
// as many have changed as it takes.
func TestPoolStands(t *testing.T) {
	d := newDesk(t, "", time.Date(2026, time.May, 1, 17, 0, 0, 0, time.UTC))
	defer d.db.Close()
	if told, short := d.pool(); told != nil || short != nil {
		t.Fatalf("of nobody: %+v, %+v", told, short)
	}
	for i := range 5 {
		name := fmt.Sprint("student-", i)
		d.bind(name)
		d.practise(name, analysis.StrongerGrip, -2-float64(i)/4)
		told, short := d.pool()
		switch {
		case i < 4 && (told != nil || len(short) != 1 || short[0].Missing != 4-i || short[0].Held):
			t.Fatalf("of %d students: %+v, %+v", i+1, told, short)
		case i == 4 && (len(told) == 0 || short != nil):
			t.Fatalf("of five students: %+v, %+v", told, short)
		}
	}
	before, _ := d.pool()
	same := func(when string) {
		t.Helper()
		if now, _ := d.pool(); !slices.Equal(before, now) {
			t.Errorf("%s: %+v, before %+v", when, now, before)
		}
	}
	x := d.bind("x")
	same("a student came who tried nothing")
	d.practise("x", analysis.StrongerGrip, 20)
	same("a student came")
	if own, err := d.rs.Pooled(t.Context(), club, "x"); err != nil || !slices.Equal(own, before) {
		t.Errorf("the student who came goes by %+v, %v", own, err)
	}
	if own, err := d.rs.Pooled(t.Context(), club, "student-1"); err != nil || own != nil {
		t.Errorf("of five, one of them goes by the other four: %+v, %v", own, err)
	}
	d.practise("x", analysis.StrongerGrip, 20)
	same("they practised")
	_, err := d.db.EndBinding(t.Context(), club, x.ID, "x")
	d.must(err)
	same("they went")
	d.bind("x")
	for i := range 4 {
		d.practise(fmt.Sprint("student-", i), analysis.StrongerGrip, -2)
		if i < 3 {
			same("a few practised")
		}
	}
	after, _ := d.pool()
	if len(after) == 0 || after[0].Golfers != 6 || slices.Equal(before, after) {
		t.Errorf("five have changed: %+v", after)
	}
	// Now x is among them: held back when they go.
	_, err = d.db.EndBinding(t.Context(), club, mustBinding(d, "x").ID, "x")
	d.must(err)
	told, short := d.pool()
	if told != nil || len(short) != 1 || !short[0].Held || short[0].Missing != 4 {
		t.Errorf("one it rests on is gone: %+v, %+v", told, short)
	}
}

func mustBinding(d *desk, name string) store.Binding {
	d.t.Helper()
	b, err := d.db.StudentBinding(d.t.Context(), club, name)
	d.must(err)
	return b
}

// Ten students, of whom five go and come back with one more: that one is not to be
// had from the figures of before they went.
func TestPoolRemembersEveryMaking(t *testing.T) {
	d := newDesk(t, "", time.Date(2026, time.May, 1, 17, 0, 0, 0, time.UTC))
	defer d.db.Close()
	names := make([]string, 10)
	for i := range names {
		names[i] = fmt.Sprint("student-", i)
		d.bind(names[i])
		d.practise(names[i], analysis.AimLeft, -2)
	}
	if told, _ := d.pool(); len(told) == 0 || told[0].Golfers != 10 {
		t.Fatalf("of ten: %+v", told)
	}
	for _, name := range names[5:] {
		_, err := d.db.EndBinding(t.Context(), club, mustBinding(d, name).ID, name)
		d.must(err)
	}
	five, _ := d.pool()
	if len(five) == 0 || five[0].Golfers != 5 {
		t.Fatalf("five went: %+v", five)
	}
	for _, name := range append(names[5:], "x") {
		d.bind(name)
	}
	d.practise("x", analysis.AimLeft, 15)
	if told, _ := d.pool(); !slices.Equal(told, five) {
		t.Errorf("they are back with one more: %+v, before %+v", told, five)
	}
}

// The differencing attack: students come, go, come back, forget everything, delete
// a session, practise, are juniors and are none, in any order, and somebody reads
// the figures after every step. Kept beside it, by this test alone, is what each
// student would add to figures at that moment. Whatever was told, at whatever
// times, differs by what five students added at least; and nothing is told that
// rests on what is gone.
func TestNobodyIsGivenAwayByADifference(t *testing.T) {
	const steps = 150
	makings := 0
	for seed := range uint64(6) {
		rng := rand.New(rand.NewPCG(seed, 19))
		d := newDesk(t, "", time.Date(2026, time.May, 1, 17, 0, 0, 0, time.UTC))
		sessions := map[string][]string{} // that each has kept
		bound, junior := map[string]bool{}, map[string]bool{}
		adds := func() map[string]string { // what they add
			now := map[string]string{}
			for name, ids := range sessions {
				if bound[name] && !junior[name] && len(ids) > 0 {
					now[name] = fmt.Sprint(ids)
				}
			}
			return now
		}
		var told []map[string]string // what figures were made of, in turn
		var last []analysis.Pooled
		for step := range steps {
			name := fmt.Sprint("student-", rng.IntN(11))
			switch x := rng.IntN(20); {
			case x < 7:
				if !bound[name] {
					d.bind(name)
					bound[name] = true
				}
				if x < 5 {
					sessions[name] = append(sessions[name], d.practise(name, analysis.BallBack, 4*rng.NormFloat64()))
				}
			case x < 13:
				sessions[name] = append(sessions[name], d.practise(name, analysis.BallBack, 4*rng.NormFloat64()))
			case x < 16 && bound[name]:
				_, err := d.db.EndBinding(t.Context(), club, mustBinding(d, name).ID, name)
				d.must(err)
				bound[name] = false
			case x == 16 && len(sessions[name]) > 0:
				d.must(d.rs.db.RemoveSession(t.Context(), club, name, sessions[name][0]))
				sessions[name] = sessions[name][1:]
			case x == 17 && len(sessions[name]) > 0:
				d.must(d.rs.Forget(t.Context(), club, name))
				sessions[name], bound[name], junior[name] = nil, false, false
			case x >= 18:
				junior[name] = !junior[name]
				d.must(d.db.SetJunior(t.Context(), club, name, junior[name]))
			}
			now := adds()
			figures, _ := d.pool()
			if len(figures) > 0 && !slices.Equal(figures, last) {
				made, err := d.db.Pools(t.Context(), club, coach)
				d.must(err)
				if len(made) > len(told) {
					if len(made) != len(told)+1 || len(now) < 5 {
						t.Fatalf("seed %d, step %d: %d makings after %d, of %d students", seed, step, len(made), len(told), len(now))
					}
					for i, before := range told {
						if n := differing(before, now); n < 5 {
							t.Errorf("seed %d, step %d: figures differ from making %d by %d students", seed, step, i, n)
						}
					}
					told = append(told, now)
				}
				last = figures
			}
			if len(figures) > 0 {
				for name, what := range told[len(told)-1] {
					for _, id := range strings.Fields(strings.Trim(what, "[]")) {
						if now[name] == "" || !slices.Contains(sessions[name], id) {
							t.Errorf("seed %d, step %d: told, and rests on %s of %s, which is gone", seed, step, id, name)
						}
					}
				}
			}
		}
		makings += len(told)
		d.db.Close()
	}
	if makings < 12 {
		t.Errorf("%d makings in all: the test sees too little", makings)
	}
}

// differing is how many students add something else to the one than to the other.
func differing(a, b map[string]string) (n int) {
	for name := range a {
		if a[name] != b[name] {
			n++
		}
	}
	for name := range b {
		if _, there := a[name]; !there {
			n++
		}
	}
	return n
}
