package shapes

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"rangepost/analysis"
)

// MakeTyped makes message i of a seed: three to ten balls that somebody typed
// by hand, three or four numbers each, the names of the numbers on a first
// line or in each line. A wordless one has no names at all. There is no column
// in it, but for each number of a line the truth has one, in the order of the
// line; a side step that only says "8 right" has an empty heading.
func MakeTyped(seed uint64, i int, tier Tier) Shape {
	r := source(seed, i, 4)
	l := languages[r.IntN(len(languages))]
	g := newGolfer(r)
	club := pick(r, bag)
	t := Truth{Language: l.code, Tier: tier, Hand: g.hand, Ball: g.ball, ClubIn: Nowhere}
	headed := chance(r, 0.45) || tier == Wordless
	cols := typedColumns(r, l, tier, headed)
	f := figures{minus: "-", comma: l.comma && chance(r, 0.6), plus: chance(r, 0.1)}
	sep := pick(r, []string{", ", ", ", " / ", "; ", " - "})
	if headed {
		sep = pick(r, []string{", ", " ", "  ", " / ", "; "})
	}
	if f.comma && sep == ", " {
		sep = "; "
	}
	if sep == " - " || sep == " / " {
		f.plus = false
	}
	nameLast := chance(r, 0.3)
	counted := pick(r, []string{"", "", "%d) ", "%d. ", "#%d "})

	var out []string
	if chance(r, 0.5) {
		t.ClubIn = InPreamble
		out = append(out, l.clubName(club.club))
	}
	if headed && tier != Wordless {
		var names []string
		for _, c := range cols {
			name := c.Heading
			if c.UnitIn == InHeading {
				name += " " + c.spelt
			}
			names = append(names, name)
		}
		// Names have spaces in them: spaces alone would not part them.
		part := sep
		if strings.TrimSpace(sep) == "" {
			part = ", "
		}
		out = append(out, strings.Join(names, part))
	}
	for n := range 3 + r.IntN(8) {
		values := g.hit(r, club)
		shot := Shot{Club: club.club, Values: map[analysis.Number]float64{}}
		var parts []string
		for j := range cols {
			c := &cols[j]
			text, v := c.cell(f, g.hand, values[c.Number])
			shot.Values[c.Number] = v
			switch {
			case headed || c.Heading == "":
			case nameLast:
				text += " " + c.Heading
			default:
				text = c.Heading + " " + text
			}
			parts = append(parts, text)
		}
		line := strings.Join(parts, sep)
		if counted != "" {
			line = fmt.Sprintf(counted, n+1) + line
		}
		out = append(out, line)
		t.Shots = append(t.Shots, shot)
	}
	for _, c := range cols {
		t.Columns = append(t.Columns, c.Column)
	}
	t.settle()
	return Shape{
		Seed: seed, I: i, Format: "typed", Separator: sep, Encoding: "utf-8",
		Data: []byte(strings.Join(out, "\n")), Truth: t,
	}
}

// Typed makes n messages of balls typed by hand.
func Typed(seed uint64, n int, tiers ...Tier) []Shape {
	return each(seed, n, tiers, MakeTyped)
}

// typedColumns is the three or four numbers somebody types: the carry, how far
// off, and what else the screen showed.
func typedColumns(r *rand.Rand, l *language, tier Tier, headed bool) []column {
	numbers := []analysis.Number{analysis.Carry, analysis.Lateral}
	more := []analysis.Number{
		analysis.LaunchAngle, analysis.LaunchAngle, analysis.BallSpeed, analysis.ClubSpeed, analysis.Spin,
		analysis.Apex, analysis.Path, analysis.Face, analysis.Direction, analysis.Attack,
	}
	want := 3 + r.IntN(2)
	for len(numbers) < want {
		if n := pick(r, more); !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	if chance(r, 0.3) {
		r.Shuffle(len(numbers), func(i, j int) { numbers[i], numbers[j] = numbers[j], numbers[i] })
	}
	sys := l.system(r)
	units := pick(r, []Where{Nowhere, Nowhere, InValue, InHeading})
	if tier == Wordless || !headed && units == InHeading {
		units = pick(r, []Where{Nowhere, InValue})
	}
	word := r.IntN(len(l.right))
	how := pick(r, []int{1, 1, 2, 0})
	if len([]rune(l.right[word])) > 1 && how == 2 {
		how = 1
	}
	signed := chance(r, 0.25)
	spelt := map[string]string{}
	var cols []column
	for _, n := range numbers {
		u := sys.of(n)
		c := column{Column: Column{Number: n, Known: true, Unit: u, Decimals: pick(r, []int{0, 0, 1})}, tight: chance(r, 0.4)}
		if n.Info().Kind == analysis.Rate {
			c.Decimals = 0
		}
		if n.Info().Kind == analysis.Angle && n.Info().Sideways {
			c.Decimals = 1
		}
		c.Quantum = inSI[u] * math.Pow(10, -float64(c.Decimals))
		if spelt[u] == "" {
			spelt[u] = l.spell(r, u)
		}
		c.spelt, c.UnitIn = spelt[u], units
		if n.Info().Sideways {
			c.Positive = Right
			if !signed {
				c.Lettered, c.lettered, c.words = true, how, [2]string{l.right[word], l.left[word]}
			}
		}
		if tier != Wordless {
			c.Heading = strings.ToLower(l.heading(r, n, tier))
			if tier == Ordinary {
				c.Heading = strings.ToLower(l.full[n][0])
			}
			c.Heading = strings.Join(strings.Fields(c.Heading), " ")
			if n == analysis.Lateral && c.Lettered && !headed {
				c.Heading = ""
			}
		}
		cols = append(cols, c)
	}
	return cols
}
