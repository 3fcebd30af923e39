package sessionfile

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rangepost/analysis"
)

// told is everything a shot holds, on one line, but for its place in the file.
func told(s analysis.Shot) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%v %q %s %q", s.Club, s.Label, s.Aside, s.Why)
	for _, n := range analysis.Numbers() {
		if v, ok := s.Value(n); ok {
			fmt.Fprintf(&b, " %s=%.9g", n.Info().Key, v)
		}
	}
	return b.String()
}

// content is a reading without the order of its shots.
func content(r Reading, err error) []string {
	if err != nil {
		return []string{err.(*analysis.Refusal).Code}
	}
	var all []string
	for _, s := range r.Session.Shots {
		all = append(all, told(s))
	}
	slices.Sort(all)
	// Which ball a question points at goes by where it stands.
	questions := regexp.MustCompile(`Ball \d+ of the file`).ReplaceAllString(fmt.Sprint(r.Questions), "A ball of the file")
	all = append(all, questions, fmt.Sprint(r.File.RowsRead, r.File.SummaryRowsDropped, r.Labelled, r.Session.When, r.Session.Hand))
	return append(all, slices.Sorted(slices.Values(r.Decisions))...)
}

func written(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = ';'
	if err := w.WriteAll(rows); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// drawFile draws a shape as rows of cells, header first.
func drawFile(t *rapid.T, prepare func(*shape)) (rows [][]string, o Options) {
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
	s := drawShape(rng)
	s.container, s.preamble, s.repeat, s.blanks, s.separator = "csv", 0, false, false, ';'
	s.shots = rapid.IntRange(1, 25).Draw(t, "shots")
	prepare(&s)
	for _, r := range s.cells(rng, knownShots(rng, s.shots, 1)) {
		row := make([]string, len(r))
		for i, c := range r {
			if c != nil {
				row[i] = fmt.Sprint(c)
			}
		}
		rows = append(rows, row)
	}
	return rows, Options{Hand: s.hand, HandSet: true, Answers: s.answers}
}

func TestColumnOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, o := drawFile(t, func(*shape) {})
		order := rapid.Permutation(slices.Collect(span(len(rows[0])))).Draw(t, "order")
		turned := make([][]string, len(rows))
		for i, r := range rows {
			for _, from := range order {
				turned[i] = append(turned[i], r[from])
			}
		}
		a, errA := Read("a.csv", written(rows), o)
		b, errB := Read("b.csv", written(turned), o)
		if diff := cmp.Diff(content(a, errA), content(b, errB)); diff != "" {
			t.Fatalf("column order matters:\n%s", diff)
		}
		if a.Fingerprint != b.Fingerprint {
			t.Fatalf("fingerprints %s and %s of one header", a.Fingerprint, b.Fingerprint)
		}
	})
}

var inRow = regexp.MustCompile(`\brow \d+`)

func TestRowOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, o := drawFile(t, func(s *shape) {
			if s.unitPlace == "row" {
				s.unitPlace = "bracket"
			}
		})
		shots := rapid.Permutation(rows[1:]).Draw(t, "order")
		a, errA := Read("a.csv", written(rows), o)
		b, errB := Read("b.csv", written(append([][]string{rows[0]}, shots...)), o)
		// Whether times and numbers had to be put in order is for the file to
		// differ in, and in which row a value was none.
		drop := func(all []string) []string {
			for i, s := range all {
				all[i] = inRow.ReplaceAllString(s, "row")
			}
			return slices.DeleteFunc(all, func(s string) bool { return strings.HasPrefix(s, "shots put in the order") })
		}
		if diff := cmp.Diff(drop(content(a, errA)), drop(content(b, errB))); diff != "" {
			t.Fatalf("row order matters:\n%s", diff)
		}
	})
}

// TestNewestFirst reads a file that lists the last shot first.
func TestNewestFirst(t *testing.T) {
	for _, c := range []struct{ name, file string }{
		{"by number", "Shot,Club,Carry (yd)\n12,7i,150\n11,7i,140\n10,7i,130\n"},
		{"by time", "Time,Club,Carry (yd)\n2026-05-01 10:12,7i,150\n2026-05-01 10:11,7i,140\n2026-05-01 10:10,7i,130\n"},
	} {
		r, err := Read("a.csv", []byte(c.file), Options{})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, s := range r.Session.Shots {
			v, _ := s.Value(analysis.Carry)
			got = append(got, fmt.Sprintf("%d: %.0f in row %d", s.N, v/analysis.Yard, s.Row))
		}
		want := []string{"10: 130 in row 4", "11: 140 in row 3", "12: 150 in row 2"}
		if c.name == "by time" {
			want = []string{"1: 130 in row 4", "2: 140 in row 3", "3: 150 in row 2"}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: got %v, want %v", c.name, got, want)
		}
	}
}

func span(n int) func(func(int) bool) {
	return func(yield func(int) bool) {
		for i := range n {
			if !yield(i) {
				return
			}
		}
	}
}
