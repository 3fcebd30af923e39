package sessionfile_test

import (
	"flag"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/analysis/shapes"

	"golang.org/x/text/unicode/norm"
)

var answeredLog = flag.Bool("shape-answers", false, "log every question of TestAnswered")

// mirrored is the scorer's word for sides changed round.
const mirrored = "left and right are changed round"

// plainKey is a heading as questions' keys have it.
func plainKey(heading string) string {
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, norm.NFD.String(heading))
}

var quoted = regexp.MustCompile(`(?:column|in) '([^']*)'`)

// columnOf is the truth's column that a key names, nil if none.
func columnOf(truth *shapes.Truth, key string) *shapes.Column {
	for i := range truth.Columns {
		c := &truth.Columns[i]
		if c.Heading != "" && plainKey(c.Heading) == plainKey(key) || c.Heading == "" && plainKey(key) == "column"+string(rune('a'+i)) {
			return c
		}
	}
	return nil
}

// answer is what somebody who knows the truth says to a question; ok is false
// for one that is about nothing of it.
func answer(truth *shapes.Truth, q analysis.Question) (value string, ok bool) {
	kind, key, _ := strings.Cut(q.Key, ":")
	switch kind {
	case "column":
		c := columnOf(truth, key)
		switch {
		case c == nil:
			return "", false
		case !c.Known:
			return "ignore", true
		}
		for _, n := range append([]analysis.Number{c.Number}, c.Accept...) {
			for _, choice := range q.Choices {
				if choice.Value == n.Info().Key {
					return choice.Value, true
				}
			}
		}
		return "ignore", true
	case "unit":
		for _, c := range truth.Columns {
			if c.Known && c.Number.Info().Key == key {
				return c.Unit, true
			}
		}
	case "signs":
		if m := quoted.FindStringSubmatch(q.Text); m != nil {
			if c := columnOf(truth, m[1]); c != nil {
				switch c.Positive {
				case shapes.Right:
					return "target", true
				case shapes.Left:
					return "target-left", true
				case shapes.Golfer:
					return "golfer", true
				}
			}
		}
	}
	return "", false
}

// TestAnswered reads files whose columns have no names and answers what is
// asked by the truth, until nothing is: most must then be whole, none wrong but
// few, and after few questions.
func TestAnswered(t *testing.T) {
	type tally struct{ n, questions, columns, rounds, stuck, whole, left, wrong, custom int }
	by := map[string]*tally{}
	n := *shapeCount / 15
	all := slices.Concat(shapes.Shapes(*shapeSeed, n, shapes.Wordless), shapes.Pastes(*shapeSeed, n/2, shapes.Wordless), shapes.Typed(*shapeSeed, n/2, shapes.Wordless))
	for _, s := range all {
		kind := "files"
		if s.Name == "" {
			kind = s.Format
		}
		c := by[kind]
		if c == nil {
			c = &tally{}
			by[kind] = c
		}
		c.n++
		c.columns += len(s.Truth.Columns)
		o := sessionfile.Options{Hand: s.Truth.Hand, HandSet: true, Answers: analysis.Answers{}}
		asked, stuck := map[string]bool{}, false
		var r sessionfile.Reading
		var err error
		for range 20 {
			if r, err = sessionfile.Read(s.Name, s.Data, o); err != nil || len(r.Questions) == 0 {
				break
			}
			c.rounds++
			for _, q := range r.Questions {
				a, ok := answer(&s.Truth, q)
				if stuck = stuck || !ok || asked[q.Key]; stuck {
					if *answeredLog {
						t.Logf("stuck at %s %s", q.Key, q.Text)
					}
					break
				}
				asked[q.Key] = true
				o.Answers[q.Key] = a
				if *answeredLog {
					t.Logf("%s %d: %s %s -> %s", kind, s.I, q.Key, q.Text, a)
				}
			}
			if stuck {
				break
			}
		}
		c.questions += len(asked)
		got := shapes.Got{Refused: err != nil}
		for _, shot := range r.Session.Shots {
			g := shapes.GotShot{Club: shot.Club, Values: map[analysis.Number]float64{}}
			for _, n := range analysis.Numbers() {
				if v, ok := shot.Value(n); ok && (n != analysis.SpinLoft && !stuck || !derived(shot, n)) {
					g.Values[n] = v
				}
			}
			got.Shots = append(got.Shots, g)
		}
		score := shapes.Score(s.Truth, got)
		switch {
		case stuck:
			c.stuck++
		case score.Kind == shapes.Whole:
			c.whole++
		case score.Kind == shapes.Wrong && r.Customary != nil && !slices.ContainsFunc(score.Faults, func(f shapes.Fault) bool { return f.What != mirrored }):
			c.custom++ // no question was asked: the reading says so, and can be told
		case score.Kind == shapes.Wrong:
			c.wrong++
		default:
			c.left++
		}
		if *answeredLog {
			t.Logf("%s %s %d: %d columns, %d questions, stuck %v %v %v %v %v\n%.400s\n%v", kind, s.Format, s.I, len(s.Truth.Columns), len(asked), stuck, score.Kind, err, score.LeftOut, score.Faults, s.Data, strings.Join(r.Decisions, "\n"))
		}
	}
	for _, key := range slices.Sorted(maps.Keys(by)) {
		c := by[key]
		// Bounds a little over what was measured.
		if most := map[string]float64{"files": 0.4, "paste": 1, "typed": 1.5}[key]; c.whole*100 < 75*c.n || float64(c.questions) > most*float64(c.columns) || c.wrong*100 > 8*c.n {
			t.Errorf("%s: of %d %d whole and %d wrong after %d questions about %d columns", key, c.n, c.whole, c.wrong, c.questions, c.columns)
		}
		share := func(k int) float64 { return 100 * float64(k) / float64(c.n) }
		t.Logf("%-6s %3d of %.1f columns: %.1f questions in %.1f rounds; then whole %.0f %%, something left out %.0f %%, wrong %.0f %%, mirrored by custom %.0f %%, stuck %.0f %%",
			key, c.n, float64(c.columns)/float64(c.n), float64(c.questions)/float64(c.n), float64(c.rounds)/float64(c.n), share(c.whole), share(c.left), share(c.wrong), share(c.custom), share(c.stuck))
	}
}
