package sessionfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
)

// sidesInWords is a session as a file that gives its sides in words, so that no sign
// is left to find.
func sidesInWords(shots []analysis.Shot) string { return asFile(shots, true) }

// asFile is the same with sides in words or as signs, + to the right.
func asFile(shots []analysis.Shot, words bool) string {
	columns := []struct {
		head   string
		n      analysis.Number
		format string
	}{
		{"Club Speed (m/s)", analysis.ClubSpeed, "%.2f"}, {"Attack Angle (deg)", analysis.Attack, "%.1f"},
		{"Club Path (deg)", analysis.Path, "%.1f"}, {"Face to Target (deg)", analysis.Face, "%.1f"},
		{"Dynamic Loft (deg)", analysis.DynamicLoft, "%.1f"}, {"Ball Speed (m/s)", analysis.BallSpeed, "%.2f"},
		{"Launch Angle (deg)", analysis.LaunchAngle, "%.1f"}, {"Launch Direction (deg)", analysis.Direction, "%.1f"},
		{"Spin Rate (rpm)", analysis.Spin, "%.0f"}, {"Spin Axis (deg)", analysis.SpinAxis, "%.1f"},
		{"Carry (m)", analysis.Carry, "%.1f"}, {"Lateral (m)", analysis.Lateral, "%.1f"},
		{"Apex (m)", analysis.Apex, "%.1f"}, {"Descent Angle (deg)", analysis.Descent, "%.1f"},
	}
	var b strings.Builder
	b.WriteString("Shot,Club")
	for _, c := range columns {
		b.WriteString("," + c.head)
	}
	for _, s := range shots {
		fmt.Fprintf(&b, "\n%d,%s", s.N, s.Club.Key())
		for _, c := range columns {
			v, ok := s.Value(c.n)
			if !ok {
				b.WriteString(",")
				continue
			}
			v /= c.n.JSONScale()
			side := ""
			if words && c.n.Info().Sideways {
				side = map[bool]string{true: " R", false: " L"}[v > 0]
				v = math.Abs(v)
			}
			fmt.Fprintf(&b, ","+c.format+side, v)
		}
	}
	return b.String() + "\n"
}

// TestWholeColumns spoils a column of a whole session, and wants to be asked,
// with the numbers left out meanwhile, and the true ones back once that is
// answered.
func TestWholeColumns(t *testing.T) {
	each := func(change func(s analysis.Shot) analysis.Shot) func([]analysis.Shot) {
		return func(shots []analysis.Shot) {
			for i, s := range shots {
				shots[i] = change(s)
			}
		}
	}
	late := func(shots []analysis.Shot) {
		was := slices.Clone(shots)
		for i := 1; i < len(shots); i++ {
			if was[i-1].Club != was[i].Club {
				continue
			}
			for _, n := range clubNumbers {
				if v, ok := was[i-1].Value(n); ok {
					shots[i] = shots[i].With(n, v)
				}
			}
		}
	}
	for _, c := range []struct {
		name  string
		spoil func([]analysis.Shot)
		key   string
		n     analysis.Number
	}{
		{"spin halved", each(func(s analysis.Shot) analysis.Shot {
			v, _ := s.Value(analysis.Spin)
			return s.With(analysis.Spin, v/2)
		}), "doubt:spin_half", analysis.Spin},
		{"speeds swapped", each(func(s analysis.Shot) analysis.Shot {
			ball, _ := s.Value(analysis.BallSpeed)
			club, _ := s.Value(analysis.ClubSpeed)
			return s.With(analysis.BallSpeed, club).With(analysis.ClubSpeed, ball)
		}), "doubt:speeds", analysis.BallSpeed},
		{"lateral turned round", each(func(s analysis.Shot) analysis.Shot {
			v, _ := s.Value(analysis.Lateral)
			return s.With(analysis.Lateral, -v)
		}), "doubt:lateral", analysis.Lateral},
		{"club a row late", late, "doubt:club_rows", analysis.Face},
		{"nothing", func([]analysis.Shot) {}, "", 0},
	} {
		for seed := range uint64(10) {
			rng := rand.New(rand.NewPCG(seed, 77))
			clean := knownShots(rng, 40, 1)
			shots := slices.Clone(clean)
			c.spoil(shots)
			data := sidesInWords(shots)
			r := reading(t, data, Options{HandSet: true})
			keys := ""
			for _, q := range r.Questions {
				if !q.Alone {
					t.Errorf("%s: %q would be remembered for other files", c.name, q.Text)
				}
				keys += q.Key
			}
			if keys != c.key {
				t.Errorf("%s, seed %d: asked %q, want %q", c.name, seed, keys, c.key)
				continue
			}
			if c.key == "" {
				continue
			}
			for _, s := range r.Session.Shots {
				if s.Has(c.n) {
					t.Fatalf("%s: %s stands while it is asked about", c.name, c.n)
				}
			}
			r = reading(t, data, Options{HandSet: true, Answers: analysis.Answers{c.key: doubtMended}})
			asIs := reading(t, data, Options{HandSet: true, Answers: analysis.Answers{c.key: doubtAsIs}})
			again := slices.ContainsFunc(asIs.Questions, func(q analysis.Question) bool { return q.Key == c.key })
			if len(r.Questions) > 0 || again {
				t.Errorf("%s: asked again: %v, %v", c.name, r.Questions, asIs.Questions)
			}
			whole, good := 0, 0
			for i, s := range r.Session.Shots {
				if v, ok := s.Value(c.n); ok {
					want, _ := clean[i].Value(c.n)
					whole++
					if math.Abs(v-want) < 0.01*math.Abs(want)+0.06*c.n.JSONScale() {
						good++
					}
				}
			}
			if whole < 36 || good != whole {
				t.Errorf("%s, seed %d: mended, %d of 40 balls have their %s and %d the true one", c.name, seed, whole, c.n, good)
			}
		}
	}
}

// TestFrozen keeps the club's cells of one ball for all that follow.
func TestFrozen(t *testing.T) {
	const last = 11
	rng := rand.New(rand.NewPCG(5, 77))
	shots := knownShots(rng, 40, 1)
	for i := last + 1; i < 20; i++ {
		for _, n := range clubNumbers {
			if v, ok := shots[last].Value(n); ok {
				shots[i] = shots[i].With(n, v)
			}
		}
	}
	r := reading(t, sidesInWords(shots), Options{HandSet: true})
	for i, s := range r.Session.Shots {
		if got, want := s.Has(analysis.Face), i <= last || i >= 20; got != want {
			t.Errorf("shot %d: its face is there: %v, want %v", i+1, got, want)
		}
		if !s.Has(analysis.Carry) || s.Aside != analysis.Used {
			t.Errorf("shot %d is set aside: %s", i+1, s.Why)
		}
	}
	if len(r.LeftOut) != 1 || !strings.Contains(r.LeftOut[0], "8 balls between 13 and 20") {
		t.Errorf("it says %q", r.LeftOut)
	}
}

// TestOneSideTurned turns the finish round in a file of signs whose side had
// been answered when it was right: the other columns must not follow it in
// silence.
func TestOneSideTurned(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 77))
	clean := knownShots(rng, 40, 1)
	turned := slices.Clone(clean)
	for i, s := range turned {
		v, _ := s.Value(analysis.Lateral)
		turned[i] = s.With(analysis.Lateral, -v)
	}
	answers := analysis.Answers{"signs": signTarget}
	if r := reading(t, asFile(clean, false), Options{HandSet: true, Answers: answers}); len(r.Questions) > 0 {
		t.Errorf("the file as it was answered asks %v", r.Questions)
	}
	r := reading(t, asFile(turned, false), Options{HandSet: true, Answers: answers})
	if len(r.Questions) != 1 {
		t.Fatalf("it asks %v, want one question", r.Questions)
	}
	r = reading(t, asFile(turned, false), Options{HandSet: true, Answers: answers.With(analysis.Answers{r.Questions[0].Key: signTarget})})
	if len(r.Questions) > 0 {
		t.Fatalf("answered, it asks %v", r.Questions)
	}
	for _, n := range []analysis.Number{analysis.Lateral, analysis.Face, analysis.Path, analysis.Direction} {
		for i, s := range r.Session.Shots {
			got, ok := s.Value(n)
			want, _ := clean[i].Value(n)
			if ok && math.Abs(want) > n.JSONScale() && got*want < 0 {
				t.Fatalf("%s of shot %d is %.3g, want %.3g", n, i+1, got, want)
			}
		}
	}
}
