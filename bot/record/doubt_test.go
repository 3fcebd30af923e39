package record

import (
	"errors"
	"fmt"
	"log/slog"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/player"
	"rangepost/store"
	"rangepost/store/pgtest"
)

// A visited is a file of one visit, row by row, as a device writes it.
type visited struct {
	shots   []analysis.Shot
	numbers []int
	times   []time.Time
	header  string
	line    func(i int, v *visited) string
	when    bool // whether it says when
}

var (
	opened = time.Date(2026, time.June, 1, 9, 0, 0, 0, time.UTC)
	seven  = analysis.Club{Family: analysis.Iron, Number: 7}
)

// visit makes one up, by a golfer of a world that is not the model's.
func visit(rng *rand.Rand, balls int) *visited {
	hand := analysis.Hand(0)
	p := player.Player{
		Hand: hand, Club: seven, Delivery: player.Typical(seven), Spread: player.TypicalSpread(1 + rng.Float64()), World: player.Foreign(seven, hand, rng),
		Device: player.Device{Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	p.Delivery.Face, p.Spread.Mishits = 1.5*analysis.Degree*rng.NormFloat64(), 0.04
	v := &visited{shots: p.Shots(balls, "", rng), when: true, header: "Shot,Time,Club,Ball Speed (m/s),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Spin Axis (deg),Carry (m),Offline (m)"}
	at := opened.Add(3 * time.Hour)
	for i := range v.shots {
		at = at.Add(time.Duration(20+rng.IntN(40)) * time.Second)
		v.numbers, v.times = append(v.numbers, i+1), append(v.times, at)
	}
	v.line = func(i int, v *visited) string {
		s := v.shots[i]
		x := func(n analysis.Number, unit float64, d int) string {
			value, ok := s.Value(n)
			if !ok {
				return ""
			}
			return fmt.Sprintf("%.*f", d, value/unit)
		}
		stamp := ""
		if v.when {
			stamp = v.times[i].Format(time.DateTime)
		}
		return fmt.Sprintf("%d,%s,7i,%s,%s,%s,%s,%s,%s,%s", v.numbers[i], stamp, x(analysis.BallSpeed, 1, 1), x(analysis.LaunchAngle, analysis.Degree, 1),
			x(analysis.Direction, analysis.Degree, 1), x(analysis.Spin, analysis.RevPerMinute, 0), x(analysis.SpinAxis, analysis.Degree, 1), x(analysis.Carry, 1, 1), x(analysis.Lateral, 1, 1))
	}
	return v
}

func (v *visited) drop(i int) {
	v.shots, v.numbers, v.times = slices.Delete(v.shots, i, i+1), slices.Delete(v.numbers, i, i+1), slices.Delete(v.times, i, i+1)
}

func (v *visited) change(n analysis.Number, to func(float64) float64) {
	for i, s := range v.shots {
		if value, ok := s.Value(n); ok {
			v.shots[i] = s.With(n, to(value))
		}
	}
}

func (v *visited) file() string {
	lines := []string{v.header}
	for i := range v.shots {
		lines = append(lines, v.line(i, v))
	}
	return strings.Join(lines, "\n") + "\n"
}

func times(k float64) func(float64) float64 { return func(v float64) float64 { return k * v } }

// files are what members hand over: honest ones, mishaps among them, and others.
// files hands back the text of one.
var files = []struct {
	name   string
	honest bool
	by     func(v *visited, rng *rand.Rand) string
}{
	{"as it is", true, func(v *visited, _ *rand.Rand) string { return v.file() }},
	{"the device loses one shot in thirty", true, func(v *visited, rng *rand.Rand) string {
		for i := len(v.shots) - 1; i >= 0; i-- {
			if rng.Float64() < 1.0/30 {
				v.drop(i)
			}
		}
		return v.file()
	}},
	{"a row twice", true, func(v *visited, _ *rand.Rand) string { return v.file() + v.line(len(v.shots)-1, v) + "\n" }},
	{"numbers begin again at the middle", true, func(v *visited, _ *rand.Rand) string {
		for i := range v.numbers {
			v.numbers[i] = i%(len(v.numbers)/2) + 1
		}
		return v.file()
	}},
	{"the clock an hour ahead", true, func(v *visited, _ *rand.Rand) string {
		for i := range v.times {
			v.times[i] = v.times[i].Add(time.Hour)
		}
		return v.file()
	}},
	{"newest first", true, func(v *visited, _ *rand.Rand) string {
		slices.Reverse(v.shots)
		slices.Reverse(v.numbers)
		slices.Reverse(v.times)
		return v.file()
	}},
	{"no times", true, func(v *visited, _ *rand.Rand) string { v.when = false; return v.file() }},
	{"saved by a spreadsheet", true, func(v *visited, _ *rand.Rand) string { return strings.ReplaceAll(v.file(), ".0,", ",") }},
	{"one side not measured", true, func(v *visited, rng *rand.Rand) string {
		i := rng.IntN(len(v.shots))
		v.shots[i] = v.shots[i].With(analysis.Lateral, math.NaN())
		return v.file()
	}},
	{"range balls of a cold day", true, func(v *visited, _ *rand.Rand) string {
		v.change(analysis.Carry, times(0.85))
		v.change(analysis.Lateral, times(0.85))
		return v.file()
	}},
	{"a junior", true, func(v *visited, _ *rand.Rand) string {
		for _, n := range []analysis.Number{analysis.BallSpeed, analysis.Carry, analysis.Lateral} {
			v.change(n, times(0.75))
		}
		v.change(analysis.Carry, times(0.9))
		v.change(analysis.Lateral, times(0.9))
		return v.file()
	}},

	{"27 of 40 rows deleted", false, func(v *visited, rng *rand.Rand) string {
		for len(v.shots) > 13 {
			v.drop(1 + rng.IntN(len(v.shots)-2))
		}
		return v.file()
	}},
	{"the first ten deleted", false, func(v *visited, _ *rand.Rand) string {
		for range 10 {
			v.drop(0)
		}
		return v.file()
	}},
	{"the first ten deleted, numbered anew", false, func(v *visited, _ *rand.Rand) string {
		for range 10 {
			v.drop(0)
		}
		for i := range v.numbers {
			v.numbers[i] = i + 1
		}
		return v.file()
	}},
	{"sides quartered", false, func(v *visited, _ *rand.Rand) string { v.change(analysis.Lateral, times(0.25)); return v.file() }},
	{"sides and their causes quartered", false, func(v *visited, _ *rand.Rand) string {
		for _, n := range []analysis.Number{analysis.Lateral, analysis.Direction, analysis.SpinAxis} {
			v.change(n, times(0.25))
		}
		return v.file()
	}},
	{"yards called feet", false, func(v *visited, _ *rand.Rand) string {
		v.change(analysis.Carry, times(1/0.9144))
		v.change(analysis.Lateral, times(1/0.9144))
		return strings.NewReplacer("Carry (m)", "Carry (ft)", "Offline (m)", "Offline (ft)").Replace(v.file())
	}},
	{"three sides typed", false, func(v *visited, rng *rand.Rand) string {
		text := strings.Split(strings.TrimSpace(v.file()), "\n")
		for i := range 3 {
			text[i+1] = text[i+1][:strings.LastIndex(text[i+1], ",")+1] + fmt.Sprint(1+rng.IntN(3))
		}
		return strings.Join(text, "\n") + "\n"
	}},
	{"dated 2031", false, func(v *visited, _ *rand.Rand) string {
		for i := range v.times {
			v.times[i] = v.times[i].AddDate(5, 0, 0)
		}
		return v.file()
	}},
	{"three sides blanked", false, func(v *visited, _ *rand.Rand) string {
		for i := range 3 {
			v.shots[2*i] = v.shots[2*i].With(analysis.Lateral, math.NaN())
		}
		return v.file()
	}},
}

// Honest entries are held in fewer than two of a hundred, and never refused for
// what their file tells; of the others the table says which are held. What is
// worked out with care is not caught.
func TestWhatWaitsForAHost(t *testing.T) {
	if testing.Short() {
		t.Skip("a few hundred files are read")
	}
	const each = 20
	db, err := store.Open(t.Context(), pgtest.Path(t, ""), store.WithClock(func() time.Time { return opened.Add(6 * time.Hour) }))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rs, ctx := New(db, func() time.Time { return opened.Add(6 * time.Hour) }, slog.New(slog.DiscardHandler)), t.Context()
	open := func() store.Challenge {
		s, err := rs.OpenChallenge(ctx, store.Challenge{Server: "saltmarsh", Name: "Straightest"}, challenge.Terms{Rule: challenge.Narrow, Club: seven, Balls: 10, Ball: analysis.RangeBall})
		if err != nil {
			t.Fatal(err)
		}
		s.Opened = opened
		return s.Challenge
	}
	held, honest := 0, 0
	for k, f := range files {
		c := open()
		waits, refused, why := 0, 0, map[string]int{}
		for i := range each {
			rng := rand.New(rand.NewPCG(uint64(i), uint64(k)))
			who := fmt.Sprintf("member-%d-%d", k, i)
			if err := db.SetHand(ctx, "saltmarsh", who, analysis.RightHanded); err != nil {
				t.Fatal(err)
			}
			_, _, _, err := rs.Post(ctx, Post{
				Server: "saltmarsh", Student: who, PostedBy: who, Name: who + ".csv", Raw: []byte(f.by(visit(rng, 40), rng)),
				Said: store.Said{Ball: analysis.RangeBall},
			})
			if err != nil {
				t.Fatal(f.name, err)
			}
			e, err := rs.Enter(ctx, c, who, "")
			var no *analysis.Refusal
			switch {
			case errors.As(err, &no):
				refused++
				why[no.What()]++
			case err != nil:
				t.Fatal(f.name, err)
			case len(e.Why) > 0:
				waits++
				for _, w := range e.Why {
					why[w.Code]++
				}
			}
		}
		t.Logf("%-40s waits %2d, refused %2d of %d %v", f.name, waits, refused, each, why)
		if f.honest {
			honest, held = honest+each, held+waits+refused
		}
	}
	t.Logf("honest entries held or refused: %d of %d", held, honest)
	if float64(held) > 0.02*float64(honest) {
		t.Errorf("%d of %d honest entries are held", held, honest)
	}
}

// What is typed in, dated ahead, or for once without a date waits.
func TestOddFilesWait(t *testing.T) {
	now := opened.Add(6 * time.Hour)
	db, err := store.Open(t.Context(), pgtest.Path(t, ""), store.WithClock(func() time.Time { return now }))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rs, ctx := New(db, func() time.Time { return now }, slog.New(slog.DiscardHandler)), t.Context()
	post := func(who, name string, seed uint64, by func(v *visited)) store.Session {
		t.Helper()
		v := visit(rand.New(rand.NewPCG(seed, 5)), 14)
		by(v)
		s, _, _, err := rs.Post(ctx, Post{Server: "saltmarsh", Student: who, PostedBy: who, Name: name, Raw: []byte(v.file()), Said: store.Said{Ball: analysis.RangeBall}})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	asIs := func(*visited) {}
	undated := func(v *visited) { v.when = false }
	for _, who := range []string{"wren", "tamsin", "odell", "priya"} {
		if err := db.SetHand(ctx, "saltmarsh", who, analysis.RightHanded); err != nil {
			t.Fatal(err)
		}
		for k := range uint64(3) {
			post(who, "before.csv", 10+k+uint64(len(who))*10, map[bool]func(*visited){false: asIs, true: undated}[who == "priya"])
		}
	}
	now = now.Add(time.Hour)
	s, err := rs.OpenChallenge(ctx, store.Challenge{Server: "saltmarsh", Name: "Straightest"}, challenge.Terms{Rule: challenge.Narrow, Club: seven, Balls: 10, Ball: analysis.RangeBall})
	if err != nil {
		t.Fatal(err)
	}
	now = now.Add(8 * time.Hour)
	later := func(v *visited) {
		for i := range v.times {
			v.times[i] = v.times[i].Add(8 * time.Hour)
		}
	}
	post("wren", Pasted, 101, later)
	post("tamsin", "tamsin.csv", 102, undated)
	post("priya", "priya.csv", 103, undated) // hers never say when
	ahead := post("odell", "odell.csv", 104, func(v *visited) {
		for i := range v.times {
			v.times[i] = v.times[i].AddDate(5, 0, 0)
		}
	})
	said := ahead.Said
	said.Answers = analysis.Answers{ahead.Reading.Questions[0].Key: ahead.Reading.Questions[0].Choices[0].Value}
	if _, _, err := rs.Say(ctx, ahead, said); err != nil {
		t.Fatal(err)
	}
	for who, want := range map[string]string{"wren": challenge.TypedIn, "tamsin": challenge.Undated, "odell": challenge.DatedAhead, "priya": ""} {
		e, err := rs.Enter(ctx, s.Challenge, who, "")
		got := ""
		if len(e.Why) > 0 {
			got = e.Why[0].Code
		}
		if err != nil || got != want || len(e.Why) > 1 {
			t.Errorf("%s waits for %v, %v, want %q", who, e.Why, err, want)
		}
	}
}
