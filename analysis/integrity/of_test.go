package integrity_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/integrity"
	"rangepost/analysis/player"
	"rangepost/analysis/sessionfile"
	"rangepost/analysis/shapes"
)

// session is an honest one by a golfer of a world that is not the model's.
func session(club string, seed uint64, balls int) analysis.Session {
	rng := rand.New(rand.NewPCG(seed, 21))
	c, _ := analysis.ParseClub(club)
	hand := analysis.Hand(rng.IntN(2))
	p := player.Player{
		Hand: hand, Club: c, Delivery: player.Typical(c), Spread: player.TypicalSpread(1 + rng.Float64()), World: player.Foreign(c, hand, rng),
		Device: player.Device{Club: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	p.Delivery.Face, p.Spread.Mishits = 2*analysis.Degree*rng.NormFloat64(), 0.05
	return analysis.Session{Hand: hand, Shots: p.Shots(balls, "", rng)}
}

// changed is a session with one number of every ball made another.
func changed(s analysis.Session, n analysis.Number, to func(float64) float64) analysis.Session {
	s.Shots = slices.Clone(s.Shots)
	for i, shot := range s.Shots {
		v, _ := shot.Value(n)
		s.Shots[i] = shot.With(n, to(v))
	}
	return s
}

// Figures that were scaled, turned round or put together do not hang together
// by the flight; honest ones of other worlds do, in all but two of a hundred.
func TestFiguresHangTogether(t *testing.T) {
	const n = 300
	times := func(k float64) func(float64) float64 { return func(v float64) float64 { return k * v } }
	for _, c := range []struct {
		name string
		by   func(s analysis.Session, seed uint64) analysis.Session
		code string
		// the least, or of honest ones the most, share that is doubtful
		least, most float64
	}{
		{"honest", func(s analysis.Session, _ uint64) analysis.Session { return s }, "", 0, 0.02},
		{"sides quartered", func(s analysis.Session, _ uint64) analysis.Session { return changed(s, analysis.Lateral, times(0.25)) }, integrity.SideOff, 0.95, 1},
		{"sides halved", func(s analysis.Session, _ uint64) analysis.Session { return changed(s, analysis.Lateral, times(0.5)) }, integrity.SideOff, 0.8, 1},
		{"sides in a mirror", func(s analysis.Session, _ uint64) analysis.Session { return changed(s, analysis.Lateral, times(-1)) }, integrity.SideOff, 0.9, 1},
		{"sides of another's", func(s analysis.Session, seed uint64) analysis.Session {
			other, i := session("7i", seed+10000, len(s.Shots)), -1
			return changed(s, analysis.Lateral, func(float64) float64 {
				i++
				v, _ := other.Shots[i].Value(analysis.Lateral)
				return v
			})
		}, integrity.SideOff, 0.8, 1},
		{"yards called feet", func(s analysis.Session, _ uint64) analysis.Session {
			return changed(changed(s, analysis.Lateral, times(1.0/3)), analysis.Carry, times(1.0/3))
		}, integrity.CarryOff, 0.95, 1},
	} {
		odd := 0
		for seed := range uint64(n) {
			club := []string{"driver", "7i", "pw"}[seed%3]
			if c.code != "" {
				club = "7i"
			}
			s := c.by(session(club, seed, 10+int(seed%21)), seed)
			found := integrity.Doubtful(integrity.Of(analysis.Written{}, s), s)
			if c.code == "" && len(found) > 0 || slices.ContainsFunc(found, func(w analysis.Warning) bool { return w.Code == c.code }) {
				odd++
			}
		}
		share := float64(odd) / n
		t.Logf("%s: %.1f %% of %d", c.name, 100*share, n)
		if share < c.least || share > c.most {
			t.Errorf("%s: doubtful in %.3f, want %.2f to %.2f", c.name, share, c.least, c.most)
		}
	}
}

// rows is a file whose rows have these numbers and times, and carries as
// written.
func rows(t *testing.T, numbers []int, times, carries []string) (analysis.Written, analysis.Session) {
	t.Helper()
	file := "Shot,Time,Club,Carry (m),Ball speed (m/s)\n"
	for i, n := range numbers {
		at, carry := "", fmt.Sprintf("%.1f", 130+float64(i%7)*1.3)
		if times != nil {
			at = "2026-06-14 " + times[i]
		}
		if carries != nil {
			carry = carries[i]
		}
		file += fmt.Sprintf("%d,%s,7i,%s,%.1f\n", n, at, carry, 50+float64(i%5)*0.7)
	}
	r, err := sessionfile.Read("file.csv", []byte(file), sessionfile.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r.Written, r.Session
}

func TestWhatRowsTell(t *testing.T) {
	count := func(from, to int) (ns []int) {
		for n := from; n <= to; n++ {
			ns = append(ns, n)
		}
		return ns
	}
	clock := func(minutes ...int) (times []string) {
		for _, m := range minutes {
			times = append(times, fmt.Sprintf("%02d:%02d:00", 10+m/60, m%60))
		}
		return times
	}
	backwards := count(1, 12)
	slices.Reverse(backwards)
	for _, c := range []struct {
		name           string
		numbers        []int
		times, carries []string
		want           string // codes with counts; those of doubt after a stroke
	}{
		{"whole", count(1, 12), clock(count(1, 12)...), nil, " / "},
		{"newest first", backwards, clock(backwards...), nil, " / "},
		{"numbers begin again", append(count(1, 6), count(1, 6)...), nil, nil, " / "},
		{"one lost", append(count(1, 5), count(7, 12)...), nil, nil, "numbers-missing 1 / "},
		{"27 of 40 deleted", append(count(1, 5), count(33, 40)...), nil, nil, "numbers-missing 27 / numbers-missing 27"},
		{"the first ten deleted", count(11, 22), nil, nil, "numbers-start-late 10 / numbers-start-late 10"},
		{"a row twice", append(count(1, 11), 11), nil, nil, "numbers-repeated 1 / "},
		{"the clock set once", count(1, 12), clock(61, 62, 63, 64, 5, 6, 7, 8, 9, 10, 11, 12), nil, "times-go-back 1 / "},
		{"two days put together", count(1, 12), clock(61, 5, 63, 7, 65, 9, 67, 11, 69, 13, 71, 15), nil, "times-go-back 6 / times-go-back 6"},
		{"one typed", count(1, 12), nil, strings.Fields("130.0 131.2 129.9 130.4 133.0 128.7 131 130.2 129.1 132.5 130.8 131.7"), "decimals-otherwise 1 / decimals-otherwise 1"},
		{"a spreadsheet's", count(1, 12), nil, strings.Fields("130 131.2 129.9 130.4 133 128.7 131 130.2 129.1 132.5 130.8 131.7"), " / "},
		{"three digits", count(1, 12), nil, strings.Fields("99.0 98.2 97.9 99.4 98.3 97.7 101 98.2 99.1 98.5 97.8 96.7"), " / "},
	} {
		w, s := rows(t, c.numbers, c.times, c.carries)
		say := func(all []analysis.Warning) string {
			var codes []string
			for _, w := range all {
				codes = append(codes, fmt.Sprintf("%s %d", w.Code, w.Count))
			}
			return strings.Join(codes, ", ")
		}
		found := integrity.Of(w, s)
		if got := say(found) + " / " + say(integrity.Doubtful(found, s)); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Honest files by another hand, of every layout it knows, are hardly ever in
// doubt.
func TestHonestFilesAreNotInDoubt(t *testing.T) {
	read, odd := 0, map[string]int{}
	for _, s := range shapes.Shapes(21, 400, shapes.Ordinary) {
		r, err := sessionfile.Read(s.Name, s.Data, sessionfile.Options{Hand: s.Truth.Hand, HandSet: true})
		if err != nil || len(r.Questions) > 0 {
			continue
		}
		read++
		for _, w := range integrity.Doubtful(integrity.Of(r.Written, r.Session), r.Session) {
			odd[w.Code]++
		}
	}
	total := 0
	for _, n := range odd {
		total += n
	}
	t.Logf("%d honest files read without a question: %d in doubt %v", read, total, odd)
	if read < 200 || float64(total) > 0.02*float64(read) {
		t.Errorf("%d of %d honest files are in doubt", total, read)
	}
}
