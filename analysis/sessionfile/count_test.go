package sessionfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rangepost/analysis"
)

// verdict is what became of one shape.
type verdict string

const (
	readRight verdict = "read right"
	asked     verdict = "asked"
	refused   verdict = "refused"
	readWrong verdict = "read wrongly"
)

// judge compares a reading with the known session, number by number.
func judge(s shape, shots []analysis.Shot, r Reading, err error) (verdict, string) {
	if err != nil {
		return refused, err.Error()
	}
	open := len(r.Questions) > 0
	got := r.Session.Shots
	if len(got) != len(shots) {
		return readWrong, fmt.Sprintf("%d shots, want %d", len(got), len(shots))
	}
	for i, want := range shots {
		if s.has(clubField) && got[i].Club != want.Club {
			return readWrong, fmt.Sprintf("shot %d: club %v, want %v", i+1, got[i].Club, want.Club)
		}
		if s.has(labelField) && got[i].Label != want.Label {
			return readWrong, fmt.Sprintf("shot %d: label %q, want %q", i+1, got[i].Label, want.Label)
		}
		for _, f := range s.fields {
			if f.text() || f == shotField || f == backSpin || f == sideSpin {
				continue
			}
			w, ok := s.written(want, f)
			w *= s.unit(f).scale
			if turn, turned := s.signs[f]; turned && !s.letters[f] {
				w *= turn
			}
			n, _ := f.number()
			if f == face && s.faceLoose {
				n = analysis.FaceToPath
			}
			v, has := got[i].Value(n)
			if ok && !has {
				if open || doubtedOf(r, got[i].N) {
					continue
				}
				return readWrong, fmt.Sprintf("shot %d: %v is missing", i+1, n)
			}
			tolerance := 1e-9 + s.unit(f).scale*1e-6
			if open && (n == analysis.Face || n == analysis.Path || n == analysis.FaceToPath) {
				tolerance = 0.16 * degree // it may follow from the other two, each rounded
			}
			if math.Abs(v-w) > tolerance {
				return readWrong, fmt.Sprintf("shot %d: %v is %.4g, want %.4g", i+1, n, v, w)
			}
		}
		if s.has(backSpin) && s.has(sideSpin) {
			for _, n := range []analysis.Number{analysis.Spin, analysis.SpinAxis} {
				w, _ := want.Value(n)
				v, has := got[i].Value(n)
				tolerance := 1.5 * analysis.RevPerMinute
				if n == analysis.SpinAxis {
					tolerance = 0.1 * degree
				}
				if !has && !open || has && math.Abs(v-w) > tolerance {
					return readWrong, fmt.Sprintf("shot %d: %v is %.4g, want %.4g", i+1, n, v, w)
				}
			}
		}
	}
	if open {
		return asked, r.Questions[0].Key
	}
	return readRight, ""
}

// doubtedOf reports whether the reading says that it leaves a number of a ball out,
// which is no silence: TestShapes counts how often it does so of a clean ball.
func doubtedOf(r Reading, ball int) bool {
	return slices.ContainsFunc(r.Decisions, func(d string) bool {
		return strings.HasPrefix(d, fmt.Sprintf("ball %d: ", ball)) && strings.Contains(d, " left out")
	})
}

// shapesToTry is how many shapes the test writes; EXPORT_SHAPES sets another
// number for a longer study.
func shapesToTry(t *testing.T) int {
	if s := os.Getenv("EXPORT_SHAPES"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	return 450
}

// TestShapes writes one known session in many shapes and counts how they are
// read. None may be read wrongly.
func TestShapes(t *testing.T) {
	shapes := shapesToTry(t)
	rng := rand.New(rand.NewPCG(4, 2026))
	count, full, fullAsked := map[verdict]int{}, 0, 0
	why := map[string]int{}
	aside, asides, doubted, balls := map[string]int{}, 0, 0, 0
	for i := range shapes {
		s := drawShape(rng)
		shots := knownShots(rng, s.shots, 1)
		name, data := s.bytes(rng, shots)
		r, err := Read(name, data, Options{Hand: s.hand, HandSet: true, Answers: s.answers})
		v, detail := judge(s, shots, r, err)
		count[v]++
		for _, shot := range r.Session.Shots {
			balls++
			if doubtedOf(r, shot.N) {
				doubted++
			}
			if shot.Aside != analysis.Used {
				aside[shot.Why]++
				asides++
			}
		}
		if s.has(face) && s.has(path) && s.has(direction) && (s.has(spinAxis) || s.has(sideSpin) && s.has(backSpin)) && s.has(lateral) {
			full++
			if v == asked {
				fullAsked++
				why[detail]++
			}
		}
		if v == readWrong {
			t.Errorf("shape %d read wrongly: %s\n%v\n%v", i, detail, s, r.Decisions)
		}
		if v == readRight && s.hand == analysis.LeftHanded && len(s.answers) == 0 && s.plusses() {
			t.Errorf("shape %d: a left-hander's first file was read without a question\n%v", i, s)
		}
		if v == refused {
			t.Logf("shape %d refused: %s\n%v", i, detail, s)
		}
	}
	t.Logf("%d shapes: %d read right, %d asked, %d refused, %d read wrongly; of %d with face, path, direction, axis and lateral %d asked (%.1f %%): %v",
		shapes, count[readRight], count[asked], count[refused], count[readWrong], full, fullAsked, 100*float64(fullAsked)/float64(full), why)
	// Of normal noises six spreads wide none is left out; the models' own spread
	// is not quite normal.
	t.Logf("%d of %d clean shots set aside: %v; a number of %d left out", asides, balls, aside, doubted)
	// Devices here are usual ones: a quarter of the one in 1,000 that is promised of all.
	if doubted*4000 > balls {
		t.Errorf("of %d of %d clean shots a number was left out, want at most 1 in 4,000", doubted, balls)
	}
	if asides*500 > balls {
		t.Errorf("%d of %d clean shots were set aside, want at most 1 in 500", asides, balls)
	}
	if full < 100 || fullAsked*10 >= full {
		t.Errorf("%d of %d full files were asked about, want under a tenth of at least 100", fullAsked, full)
	}
}

// TestFewAndRough is the same with so few shots, measured so badly, that most
// files must be asked about. Still none may be read wrongly.
func TestFewAndRough(t *testing.T) {
	shapes := shapesToTry(t)
	count := map[verdict]int{}
	rng := rand.New(rand.NewPCG(5, 2026))
	for i := range shapes {
		s := drawShape(rng)
		s.container = "csv"
		s.shots = pick(rng, 1, 2, 3, 4, 5, 6, 8, 10)
		if s.shots == 1 && s.summary == "unnamed" {
			s.summary = "" // one row and its mean are the same row twice
		}
		shots := knownShots(rng, s.shots, 2)
		name, data := s.bytes(rng, shots)
		r, err := Read(name, data, Options{Hand: s.hand, HandSet: true, Answers: s.answers})
		v, detail := judge(s, shots, r, err)
		count[v]++
		if v == readWrong || v == refused {
			t.Errorf("shape %d %s: %s\n%v\n%v", i, v, detail, s, r.Decisions)
		}
	}
	t.Logf("%d shapes: %d read right, %d asked, %d refused, %d read wrongly", shapes, count[readRight], count[asked], count[refused], count[readWrong])
}
