package words

import (
	"math"
	"strings"
	"testing"

	"rangepost/analysis"
)

const (
	deg  = analysis.Degree
	yard = analysis.Yard
)

func TestFigure(t *testing.T) {
	for _, c := range []struct {
		x, step float64
		want    string
	}{
		{0, 1, "0"}, {math.Copysign(0, -1), 1, "0"}, {-0.04, 0.1, "0.0"}, {-0.1, 0.1, "-0.1"},
		{6810, 10, "6,810"}, {1234567, 1, "1,234,567"}, {999, 1, "999"}, {2.9000000001, 0.1, "2.9"}, {1.48, 0.01, "1.48"},
	} {
		if got := figure(c.x, c.step); got != c.want {
			t.Errorf("figure(%v, %v) = %q, want %q", c.x, c.step, got, c.want)
		}
	}
}

func TestNumber(t *testing.T) {
	right, left := Voice{}, Voice{Hand: analysis.LeftHanded, Units: analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}}
	for _, c := range []struct {
		v    Voice
		n    analysis.Number
		x    float64
		want string
	}{
		{right, analysis.Face, -2.94 * deg, "2.9° left of target"},
		{left, analysis.Face, -2.94 * deg, "2.9° left of target"},
		{right, analysis.FaceToPath, 2 * deg, "2.0° open to the path"},
		{left, analysis.FaceToPath, 2 * deg, "2.0° closed to the path"},
		{right, analysis.FaceToPath, -2 * deg, "2.0° closed to the path"},
		{left, analysis.FaceToPath, -2 * deg, "2.0° open to the path"},
		{right, analysis.Attack, -4.1 * deg, "4.1° down"},
		{right, analysis.Lateral, -0.4 * yard, "on the target line"},
		{right, analysis.Lateral, -1 * yard, "1 yard left of target"},
		{left, analysis.Lateral, 9, "9 metres right of target"},
		{right, analysis.Carry, 152 * yard, "152 yards"},
		{left, analysis.Carry, 1, "1 metre"},
		{right, analysis.ClubSpeed, 93 * analysis.MilePerHour, "93 mph"},
		{left, analysis.ClubSpeed, 41.6, "42 m/s"},
		{right, analysis.Spin, 6812 * analysis.RevPerMinute, "6,810 rpm"},
		{right, analysis.StrikeToe, -0.006, "6 mm toward the heel"},
		{right, analysis.Smash, 1.333, "1.33"},
		{right, analysis.FlightTime, 6.12, "6.1 s"},
		{right, analysis.Face, 0.01 * deg, "square to the target"},
	} {
		if got := c.v.Number(c.n, c.x); got != c.want {
			t.Errorf("Number(%v, %v) = %q, want %q", c.n, c.x, got, c.want)
		}
	}
}

// Limits says a range of number n from low to high (SI), rounded outward:
// "between 2.1 and 3.7° left of target", "between 2 yards left and 11 yards
// right of target".
func (v Voice) Limits(n analysis.Number, low, high float64) string {
	minus, plus, tail := "", "", ""
	if s, ok := n.Sides(v.Hand); ok {
		minus, plus, tail = " "+s.Minus, " "+s.Plus, s.Tail
	}
	return v.between(n.Info().Kind, low, high, minus, plus, tail)
}

func TestLimits(t *testing.T) {
	v := Voice{}
	for _, c := range []struct {
		n         analysis.Number
		low, high float64
		want      string
	}{
		{analysis.Lateral, 4.2 * yard, 10.1 * yard, "between 4 and 11 yards right of target"},
		{analysis.Lateral, -10.1 * yard, -4.2 * yard, "between 4 and 11 yards left of target"},
		{analysis.Lateral, -1.5 * yard, 10.5 * yard, "between 2 yards left and 11 yards right of target"},
		{analysis.Lateral, 0.5 * yard, 0.9 * yard, "between 0 and 1 yard right of target"},
		{analysis.Face, -3.7 * deg, -2.1 * deg, "between 2.1 and 3.7° left of target"},
		{analysis.Face, -4.7 * deg, -1.1 * deg, "between 1 and 5° left of target"},
		{analysis.Carry, 140.2 * yard, 151.9 * yard, "between 140 and 152 yards"},
	} {
		if got := v.Limits(c.n, c.low, c.high); got != c.want {
			t.Errorf("Limits(%v, %v, %v) = %q, want %q", c.n, c.low, c.high, got, c.want)
		}
	}
}

func TestEscape(t *testing.T) {
	for in, want := range map[string]string{
		"plain grip, 5.5 and a half":  "plain grip, 5.5 and a half",
		"*bold* _it_ ~s~ `code` ||s|": `\*bold\* \_it\_ \~s\~ ` + "\\`code\\`" + ` \|\|s\|`,
		"@everyone":                   "@\u200beveryone",
		"<@123> <#4> <:x:5>":          "\\<@\u200b123\\> \\<\\#4\\> \\<:x:5\\>",
		"[a](https://x.example/y)":    "\\[a\\]\\(https:\u200b//x.\u200bexample/y\\)",
		"# head\n> quote\n- list":     `\# head \> quote - list`,
		"- list":                      `\- list`,
		"12. list":                    `12\. list`,
		"a\u202eb\u200bc\x00d":        "abcd",
		"back\\slash":                 `back\\slash`,
	} {
		if got := Escape(in); got != want {
			t.Errorf("Escape(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestQuoteCannotBeEnded(t *testing.T) {
	got := Voice{}.Quote(`strong" grip @everyone and a great deal more text than anybody needs here`)
	if want := "\"strong' grip @\u200beveryone and a great deal…\""; got != want {
		t.Errorf("Quote = %q, want %q", got, want)
	}
}

// FuzzEscape: whatever somebody writes, nothing of it acts, and nothing but
// layout and the invisible is lost.
func FuzzEscape(f *testing.F) {
	for _, s := range []string{"", "plain", "@everyone @here <@1> <@&2> <#3>", "**b** __u__ ~~s~~ ||x|| `c` ```d```", "[a](http://b.example)",
		"# h\n> q\n- l\n1. n", "a\u202eb\u2066c\u200dd", "\xff\xfe", "\\", "x.y.z/…://", "<t:0:R> <:e:1>", "1.2.a"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := Escape(s)
		shown := strings.ReplaceAll(got, string(zeroWidthSpace), "")
		var plain strings.Builder
		for i, r := 0, []rune(shown); i < len(r); i++ {
			if r[i] == '\\' {
				if i++; i == len(r) {
					t.Fatalf("Escape(%q) = %q ends in a bare backslash", s, got)
				}
			} else if strings.ContainsRune("*_~`|<>#[]()", r[i]) {
				t.Fatalf("Escape(%q) = %q leaves %q bare", s, got, r[i])
			}
			plain.WriteRune(r[i])
		}
		if plain.String() != Clean(s) {
			t.Fatalf("Escape(%q) shows %q, want %q", s, plain.String(), Clean(s))
		}
		for _, acts := range []string{"@everyone", "@here", "://", "\n", "\r", "\u202e"} {
			if strings.Contains(got, acts) {
				t.Fatalf("Escape(%q) = %q holds %q", s, got, acts)
			}
		}
	})
}

// TestBeforeAndAfterAddUp: the figures of one sentence agree with each other.
func TestBeforeAndAfterAddUp(t *testing.T) {
	v := Voice{}
	for before := -4.0; before < 4; before += 0.37 {
		for d := -3.0; d < 3; d += 0.21 {
			after := v.shownSum(analysis.Angle, before*deg, d*deg, 2)
			if got := math.Round(after/deg) - math.Round(before); math.Abs(got-math.Round(d)) > 1e-9 {
				t.Fatalf("from %.0f to %.0f is said to be %.0f", before, after/deg, d)
			}
		}
	}
}
