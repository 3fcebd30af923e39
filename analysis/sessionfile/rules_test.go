package sessionfile

import (
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
)

// TestHeadingRules has a heading for every rule by which words outside the lexicon
// are understood: what it is taken for first, and what it is not taken for.
func TestHeadingRules(t *testing.T) {
	for _, c := range []struct {
		rule, heading string
		want          field
		not           []field
		unit          string
	}{
		{"a first part cut without a mark", "abflricht", direction, nil, ""},
		{"a slip in one half of a compound", "Nedslagsivknel", descent, nil, ""},
		{"a slip in either half of a long compound", "Sbinnlokt", field(analysis.SpinLoft), nil, ""},
		{"what a face is measured against", "Blad mot klubbv.", faceToPath, []field{face, path}, ""},
		{"a unit behind words nobody knows", "Zwyx. mph", ignored, nil, "mph"},
		{"a compound cut to a letter is no slip of its first word", "Klubbv.", path, nil, ""},
		{"a slip in a half, where it may be cut off too", "Blad till klubväg", faceToPath, []field{clubSpeed}, ""},
		{"a remark cut short that makes it another", "Club (vitess.", clubSpeed, nil, ""},
		{"a remark that says where it was taken", "Lateral (roll)", lateralTotal, []field{lateral}, ""},
	} {
		h := readHeading(c.heading).guessing()
		got := ignored
		if len(h.guesses) > 0 {
			got = h.guesses[0].field
		} else if len(h.meaning.fields) > 0 {
			got = h.meaning.fields[0]
		}
		if got != c.want {
			t.Errorf("%s: %q is first taken for %s, want %s: %v", c.rule, c.heading, got.name(), c.want.name(), h.guesses)
		}
		if slices.ContainsFunc(h.guesses, func(g guess) bool { return slices.Contains(c.not, g.field) && g.weight > h.guesses[0].weight/2 }) {
			t.Errorf("%s: %q may be %v, want none of %v", c.rule, c.heading, h.guesses, c.not)
		}
		if c.unit != "" && !slices.Contains(h.units, c.unit) {
			t.Errorf("%s: %q has units %q, want %s", c.rule, c.heading, h.units, c.unit)
		}
	}
}

// TestReadingRules has a small file for every rule of a whole table: what is asked,
// what a ball has, and what is said.
func TestReadingRules(t *testing.T) {
	for _, c := range []struct {
		rule, text string
		shots      int
		asked      []string // the keys, and of the first question the choices that must be there
		choices    []string
		has        []analysis.Number // of the first ball
		said       string
	}{
		{"every number that fits can be answered",
			"A,B,C\n7 Iron,31.1,18.1\n7 Iron,31.8,17.7\n7 Iron,30.2,18.9\n7 Iron,31.5,18.3\n", 4,
			[]string{"column:b", "column:c"}, []string{"club_speed", "ball_speed", "apex", "launch", "dynamic_loft", "descent", "side_spin", "ignore"}, nil, ""},
		{"a carry that nobody has in yards may be in feet",
			"1) carry 340; launch direction -0.5; spin rate 7187\n2) carry 338; launch direction 1.1; spin rate 6943\n3) carry 354; launch direction 1.8; spin rate 7221\n4) carry 332; launch direction 2.1; spin rate 6815\n", 4,
			[]string{"unit:carry"}, []string{"yd", "ft"}, nil, ""},
		{"yards or metres, and sides, are asked in one go",
			"Carry,Lateral,Path\n152,-8,-3.1\n149,3,-2.2\n150,-2,-4.0\n147,9,-1.5\n", 4,
			[]string{"unit:carry", "signs"}, []string{"yd", "m"}, nil, ""},
		{"a carry is in the unit that is given of the finish and the height",
			"Ball Speed (mph),Launch (deg),Carry,Offline,Apex\n117,17.1,140,8 m R,24 m\n118,16.8,142,3 m L,25 m\n116,17.4,139,2 m L,25 m\n117,17.0,141,9 m R,24 m\n", 4,
			nil, nil, []analysis.Number{analysis.Carry}, "no unit given for 'Carry': read in m"},
		{"the language of the headings speaks for metres",
			"Ballgeschwindigkeit (km/h);Startwinkel;Spinrate;Carry\n187;17,1;6400;135\n190;16,8;6300;138\n186;17,4;6500;133\n188;17,0;6350;136\n184;17,2;6420;131\n", 5,
			nil, nil, []analysis.Number{analysis.Carry}, "no unit given for 'Carry': read in m"},
		{"a unit is not asked before a column that may be the carry",
			"Zwyx,Total,Ball Speed\n141,150,50.1\n139,149,49.2\n143,151,50.4\n140,149.5,49.9\n142,152,50.2\n", 5,
			[]string{"column:zwyx"}, []string{"carry"}, nil, "waits for the answer about a column"},
		{"which way columns count is not asked before a column that may tell",
			"Club,Side (yd),Path (deg),Zwyx (deg)\n7i,8,3.1,1.2\n7i,-3,-2.2,-2.0\n7i,2,0.4,3.9\n7i,-9,1.5,-5.2\n7i,4,-1.7,2.6\n7i,6,2.2,0.3\n", 6,
			[]string{"column:zwyxdeg"}, []string{"face"}, nil, "count waits for the answer about a column"},
		{"a typed line that is not understood is counted",
			"carry 150yd, 3 right, launch 17\ncarry 152yd, 8 right, launch 16\ncarry 149 or 151?, 2 left\ncarry 149yd, 2 left, launch 16\n", 3,
			nil, nil, []analysis.Number{analysis.Carry}, "1 row that is no shot left out"},
		{"up is of a name where it does not stand at the figure",
			"portée 209 m - 7m G - haut. maxi 28 m\nportée 191 m - 4m G - haut. maxi 25 m\nportée 202 m - 4m D - haut. maxi 27 m\n", 3,
			nil, nil, []analysis.Number{analysis.Carry, analysis.Apex}, ""},
		{"a letter ends a name that the lexicon holds",
			"car. 140yd - launch v 12.3 - 7 Left\ncar. 150yd - launch v 12.9 - 4 Left\ncar. 153yd - launch v 11.9 - 20 Left\n", 3,
			nil, nil, []analysis.Number{analysis.Carry, analysis.LaunchAngle, analysis.Lateral}, ""},
		{"a club above figures says that they are golf's",
			"SW\n1) 77,2; S 6,8; S 4,9; S 3,6\n2) 73,8; S 6,5; S 5,0; S 2,5\n3) 73,4; S 2,7; S 2,1; S 2,0\n4) 66,0; S 3,3; S 2,9; S 1,4\n", 4,
			[]string{"column:columna", "column:columnb", "column:columnc"}, []string{"carry"}, nil, ""},
	} {
		r, err := Read("rules", []byte(c.text), Options{Hand: analysis.RightHanded, HandSet: true})
		if err != nil {
			t.Errorf("%s: %v", c.rule, err)
			continue
		}
		var asked []string
		for _, q := range r.Questions {
			asked = append(asked, q.Key)
		}
		if !slices.Equal(asked, c.asked) {
			t.Errorf("%s: asked %q, want %q: %q", c.rule, asked, c.asked, r.Decisions)
		} else if len(asked) > 0 {
			for _, want := range c.choices {
				if !slices.ContainsFunc(r.Questions[0].Choices, func(ch analysis.Choice) bool { return ch.Value == want }) {
					t.Errorf("%s: %s cannot be answered by %s: %v", c.rule, asked[0], want, r.Questions[0].Choices)
				}
			}
		}
		if len(r.Session.Shots) != c.shots {
			t.Errorf("%s: %d shots, want %d: %q", c.rule, len(r.Session.Shots), c.shots, r.Decisions)
			continue
		}
		for _, n := range c.has {
			if !r.Session.Shots[0].Has(n) {
				t.Errorf("%s: ball 1 has no %s: asked %q, %q", c.rule, n, asked, r.Decisions)
			}
		}
		if said := strings.Join(r.Decisions, "; "); !strings.Contains(said, c.said) {
			t.Errorf("%s: said %q, want %q", c.rule, said, c.said)
		}
	}
}
