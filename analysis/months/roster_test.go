package months_test

import (
	"math"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/months"
	"rangepost/analysis/sessionfile"
)

func TestRoster(t *testing.T) {
	now := time.Date(2026, time.June, 15, 9, 0, 0, 0, time.UTC)
	for _, unread := range []int{0, 1, 6} {
		places := map[int]bool{}
		for seed := range uint64(12) {
			needs := map[months.Need]int{}
			for i, s := range months.Roster(unread, now, seed) {
				needs[s.Need]++
				if s.Need != months.None {
					places[i] = true
				}
				last := s.Sessions[len(s.Sessions)-1]
				ago := now.Sub(last.At)
				if ago < 0 || (ago > 6*24*time.Hour) != (s.Need == months.Silent) {
					t.Errorf("%s, need %d, posted %v ago", s.Name, s.Need, ago)
				}
				n := 0
				for _, v := range s.Sessions {
					if v.Unread {
						n++
					}
				}
				if want := unread; s.Need == months.Silent && n != 0 || s.Need != months.Silent && n != want {
					t.Errorf("%s has %d posts not looked at, want %d", s.Name, n, want)
				}
				if s.Brief != nil {
					kept(t, s)
				}
			}
			if needs[months.None] != 27 || needs[months.MissedBrief] != 1 || needs[months.Drifts] != 1 || needs[months.Silent] != 1 {
				t.Errorf("seed %d: %v", seed, needs)
			}
		}
		if len(places) < 15 { // 36 draws of 30 places
			t.Errorf("those in need are always in one of %d places", len(places))
		}
	}
}

// kept counts a brief's first 40 balls: a missed one has under a third inside,
// the others over two thirds.
func kept(t *testing.T, s months.Rostered) {
	t.Helper()
	inside, of := 0, 0
	for _, v := range s.Sessions {
		for _, x := range v.Values {
			if v.At.After(s.Set) && of < s.Brief.Balls {
				of++
				if s.Brief.Holds(x) {
					inside++
				}
			}
		}
	}
	if of != s.Brief.Balls || (s.Need == months.MissedBrief) != (3*inside < of) || (s.Need == months.None) != (3*inside > 2*of) {
		t.Errorf("%s, need %d: %d of %d balls inside", s.Name, s.Need, inside, of)
	}
}

// A visit's file says what was hit, with nothing left to ask.
func TestVisitFile(t *testing.T) {
	now := time.Date(2026, time.June, 15, 9, 0, 0, 0, time.UTC)
	for _, s := range months.Roster(0, now, 1)[:5] {
		for _, v := range s.Sessions {
			r, err := sessionfile.Read("visit.csv", v.File(), sessionfile.Options{})
			if err != nil || len(r.Questions) > 0 {
				t.Fatalf("%v, %v", err, r.Questions)
			}
			got, _ := analysis.Values(r.Session.Shots, analysis.FaceToPath)
			if len(got) != len(v.Values) {
				t.Fatalf("%d balls, want %d", len(got), len(v.Values))
			}
			for i, x := range v.Values {
				if math.Abs(got[i]-x) > 0.006*analysis.Degree {
					t.Errorf("ball %d: %.3f deg, want %.3f", i, got[i]/analysis.Degree, x/analysis.Degree)
				}
			}
			if d := r.Session.When.Sub(v.At); d < -time.Second || d > time.Second {
				t.Errorf("hit at %v, want %v", r.Session.When, v.At)
			}
		}
	}
}
