package integrity_test

import (
	"flag"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/clubyear"
	"rangepost/analysis/integrity"
	"rangepost/analysis/sessionfile"
)

// -many 3 -v looks at so many times the files of TestTwins, and at those of so many
// years of a club: minutes.
var many = flag.Int("many", 0, "times the files of twins, and years of a club")

// twice writes so many balls over others, a share changed and as a device rounds.
func twice(s analysis.Session, balls int, change float64, rng *rand.Rand) analysis.Session {
	s.Shots = slices.Clone(s.Shots)
	order := rng.Perm(len(s.Shots))
	for k := range balls {
		from, to := s.Shots[order[k]], &s.Shots[order[len(order)-1-k]]
		for _, n := range analysis.Numbers() {
			if v, ok := from.Value(n); ok {
				*to = to.With(n, v*(1+change))
			}
		}
	}
	return s
}

// Balls written twice show, and those that were hit do not: neither of the
// golfers of other worlds, nor of another hand's, whose devices round.
func TestTwins(t *testing.T) {
	n := 100 * max(1, *many)
	for _, c := range []struct {
		name        string
		balls       int // written over
		change      float64
		least, most float64 // the share of files in which it shows
	}{
		{"honest", 0, 0, 0, 0.01},
		{"three", 3, 0.01, 0.8, 1},
		{"five, a hundredth more", 5, 0.01, 0.95, 1},
		{"five, a fiftieth less", 5, -0.02, 0.8, 1},
	} {
		shows := 0
		for seed := range uint64(n) {
			rng := rand.New(rand.NewPCG(seed, 22))
			s := session([]string{"driver", "7i", "pw"}[seed%3], seed, 17+int(seed%14))
			if c.balls == 0 {
				s = session([]string{"driver", "7i", "pw"}[seed%3], seed, 8+int(seed%80))
			}
			if len(integrity.Twins(twice(s, c.balls, c.change, rng))) > 0 {
				shows++
			}
		}
		share := float64(shows) / float64(n)
		t.Logf("%s: shows in %.1f %% of %d", c.name, 100*share, n)
		if share < c.least || share > c.most {
			t.Errorf("%s: shows in %.3f, want %.3f to %.3f", c.name, share, c.least, c.most)
		}
	}
}

// The same of the files of another hand's club.
func TestTwinsOfAClub(t *testing.T) {
	if *many == 0 {
		t.Skip("needs -many")
	}
	files, shows, gamed, caught := 0, 0, 0, 0
	for seed := range uint64(*many) {
		for _, parts := range clubyear.New(seed+1, time.UTC).Parts() {
			for _, p := range parts {
				for _, a := range p.Acts {
					if a.Do != clubyear.Posts || p.Way != "" && p.Way != clubyear.GoodTwice {
						continue
					}
					f := a.Session.File()
					r, err := sessionfile.Read(f.Name, f.Data, sessionfile.Options{})
					if err != nil {
						continue
					}
					twins := len(integrity.Twins(r.Session)) > 0
					switch {
					case p.Way == clubyear.GoodTwice && a.At.After(p.Challenge.Opens):
						gamed++
						if twins {
							caught++
						}
					case p.Way == "":
						files++
						if twins {
							shows++
						}
					}
				}
			}
		}
	}
	t.Logf("%d of %d honest files, %d of %d of which the best rows are there twice", shows, files, caught, gamed)
	if files < 500 || float64(shows) > 0.003*float64(files) || caught < 1 {
		t.Errorf("%d of %d honest files, %d of %d others", shows, files, caught, gamed)
	}
}
