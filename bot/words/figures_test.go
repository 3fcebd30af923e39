package words

import (
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
)

// shownParts reads the yards back out of a Split sentence, positive right.
var shownParts = regexp.MustCompile(`^In (?:yards|metres): face (\S+)( left| right)?(?: \([^)]*\))?, path (\S+)( left| right)?(?: \([^)]*\))?, ` +
	`the rest \(strike, wind, model\) (\S+)( left| right)?(?: \([^)]*\))?; together (\S+?)( left| right)?\.$`)

func readParts(t *testing.T, text string) (face, path, rest, miss int) {
	t.Helper()
	m := shownParts.FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("cannot read %q", text)
	}
	read := func(i int) int {
		n, err := strconv.Atoi(strings.ReplaceAll(m[i], ",", ""))
		if err != nil {
			t.Fatalf("cannot read %q in %q: %v", m[i], text, err)
		}
		if m[i+1] == " left" {
			return -n
		}
		return n
	}
	return read(1), read(3), read(5), read(7)
}

// TestYardsAddUp: face + path + rest = miss in the figures as shown, each is
// within a unit of its own value, and the miss is the one the cause says.
func TestYardsAddUp(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 0))
	for i := 0; i < 20000; i++ {
		v := voices[i%len(voices)]
		scale := math.Exp(3 * rng.NormFloat64())
		r := cause.Result{Verdict: cause.Face}
		part := func() analysis.Estimate { return estimate(20, scale*rng.NormFloat64(), scale*rng.Float64()) }
		r.Face, r.Path, r.Rest = part(), part(), part()
		if i%3 == 0 { // halves, where rounding is decided
			r.Face.Mean = math.Round(r.Face.Mean) / 2 * v.Scale(analysis.Length)
			r.Path.Mean = math.Round(r.Path.Mean) / 2 * v.Scale(analysis.Length)
			r.Rest.Mean = -r.Face.Mean
		}
		r.Miss = estimate(20, r.Face.Mean+r.Path.Mean+r.Rest.Mean, 1)
		face, path, rest, miss := readParts(t, v.Split(r))
		if face+path+rest != miss {
			t.Fatalf("%d + %d + %d is not %d: %q", face, path, rest, miss, v.Split(r))
		}
		for _, p := range []struct {
			shown int
			exact float64
		}{{face, r.Face.Mean}, {path, r.Path.Mean}, {rest, r.Rest.Mean}} {
			if d := math.Abs(float64(p.shown) - p.exact/v.Scale(analysis.Length)); d > 1+1e-6 {
				t.Fatalf("shown %d for %v: %q", p.shown, p.exact/v.Scale(analysis.Length), v.Split(r))
			}
		}
		if want := v.plainSide(r.Miss.Mean); miss != 0 && !strings.Contains(v.Cause("", pattern.Pattern{}, r), want) || v.Parts(r).Miss != miss {
			t.Fatalf("the cause says %q, the split together %d", v.Cause("", pattern.Pattern{}, r), miss)
		}
	}
}

// TestLimitsAreNeverNarrowed: the range said holds the range computed and the
// mean said.
func TestLimitsAreNeverNarrowed(t *testing.T) {
	figures := regexp.MustCompile(`-?[\d,]+(?:\.\d+)?`)
	rng := rand.New(rand.NewPCG(8, 0))
	for i := 0; i < 20000; i++ {
		v := voices[i%len(voices)]
		n := []analysis.Number{analysis.Carry, analysis.ClubSpeed, analysis.Spin, analysis.Smash, analysis.DynamicLoft}[i%5]
		scale := v.Scale(n.Info().Kind)
		low := scale * (20 + 100*rng.Float64())
		high := low + scale*math.Exp(2*rng.NormFloat64())
		text := v.Limits(n, low, high)
		f := figures.FindAllString(text, -1)
		if len(f) != 2 {
			t.Fatalf("no two figures in %q", text)
		}
		lo, _ := strconv.ParseFloat(strings.ReplaceAll(f[0], ",", ""), 64)
		hi, _ := strconv.ParseFloat(strings.ReplaceAll(f[1], ",", ""), 64)
		if lo > low/scale+1e-6 || hi < high/scale-1e-6 {
			t.Fatalf("%v to %v is said %q", low/scale, high/scale, text)
		}
		mean, _ := strconv.ParseFloat(strings.ReplaceAll(figures.FindString(v.Mean(n, estimate(9, (low+high)/2, (high-low)/2))), ",", ""), 64)
		if mean < lo-1e-9 || mean > hi+1e-9 {
			t.Fatalf("mean %v outside %q", mean, text)
		}
	}
}

// unitBehind is what may stand behind a figure: a unit, or the thing counted.
var unitBehind = regexp.MustCompile(`^(°|-degree| %| yards?\b| metres?\b| mph\b| m/s\b| mm\b| rpm\b| s\b| balls?\b| more\b| other sets?\b| of \d| of 100\b| or more\b| times in 100| redraws| redraws\b|` +
	` sessions?\b|( earlier)? lessons?\b| mishits?\b| students?\b| trials?\b| swings?\b| sets?\b| full swings?\b| since\b| inside\b| had\b| was\b| were\b| in this set|-iron| in 10\b| over\b| (June|January|May)\b| are needed)`)

// rangeBehind is the first figure of a range, whose unit stands behind the
// second.
var rangeBehind = regexp.MustCompile(`^( left| right| open| closed)? (and|to) (between )?[\d,.]*\d`)

// TestEveryFigureHasItsUnit reads every figure of the corpus.
func TestEveryFigureHasItsUnit(t *testing.T) {
	figure := regexp.MustCompile(`\d[\d,]*(?:\.\d+)?`)
	for _, s := range corpus() {
		text := withoutLabels(s.text)
		if s.kind == "Split" || strings.HasPrefix(text, "In yards: ") || strings.HasPrefix(text, "In metres: ") {
			continue // the unit is named once, at the head
		}
		for _, at := range figure.FindAllStringIndex(text, -1) {
			before, behind := text[:at[0]], text[at[1]:]
			switch {
			case unitBehind.MatchString(behind), rangeBehind.MatchString(behind):
			case strings.Contains(strings.ToLower(before), "smash factor"): // a ratio has none
			case regexp.MustCompile(`\b(ball|balls) [\d, and]*$|^Balls [\d, andto]*$`).MatchString(before): // numbers of balls
			case regexp.MustCompile(`(June|January|May) $|\((after )?[A-Za-z ]*$|times in $|Penner $|others \($|Shapley $|in 10 over $`).MatchString(before): // a year
			default:
				t.Fatalf("%s: the figure %s has no unit: %q", s.kind, text[at[0]:at[1]], s.text)
			}
		}
	}
}

// TestNoFalsePrecision: no length has decimals and no angle more than one, but
// where somebody chose the figure or a degree's worth is told.
func TestNoFalsePrecision(t *testing.T) {
	fine := regexp.MustCompile(`\d\.\d+ (yards?|metres?|mm|rpm)\b|\d\.\d\d+(°| mph| m/s)`)
	for _, s := range corpus() {
		if s.kind == "Brief" || strings.HasPrefix(s.text, "Here a degree of face") {
			continue
		}
		if m := fine.FindString(withoutLabels(s.text)); m != "" {
			t.Fatalf("%s: %q is finer than the data: %q", s.kind, m, s.text)
		}
	}
}
