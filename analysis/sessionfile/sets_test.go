package sessionfile

import (
	"slices"
	"testing"

	"rangepost/analysis"
)

// turns is a column of words, each of so many balls running.
func turns(balls int, words ...string) (cells []string) {
	for i := range 12 {
		cells = append(cells, words[i/balls%len(words)])
	}
	return cells
}

func TestFindSets(t *testing.T) {
	two := turns(6, "normal", "strong grip")
	for name, c := range map[string]struct {
		head  string
		cells []string
		sets  int    // found without a question
		asked string // or with one
	}{
		"setup":               {"Setup", two, 2, ""},
		"trial":               {"Trial", turns(4, "usual", "ball back", "ball forward"), 3, ""},
		"feel":                {"Feel", turns(3, "slow", "fast"), 2, ""},
		"block":               {"Block", turns(1, "A grip", "B grip"), 2, ""},
		"German":              {"Gefühl", two, 2, ""},
		"swing thought":       {"Swing thought", two, 1, "column:swingthought"},
		"technique":           {"Technique", turns(1, "old", "new move"), 1, "column:technique"},
		"capitals":            {"Setup", turns(2, "Normal", "normal", "NORMAL", "Grip", "grip", "GRIP"), 2, ""},
		"constant":            {"Technique", []string{"old"}, 1, ""},
		"ball by ball":        {"Technique", []string{"a b", "b c", "c d", "d e", "e f", "f g", "g h", "h i", "i j", "j k", "k l", "l m"}, 1, ""},
		"two balls of one":    {"Setup", append(turns(6, "normal")[:10], "strong grip", "strong grip"), 1, ""},
		"shapes":              {"Shot Type", turns(1, "Draw", "Fade", "Straight"), 1, ""},
		"shapes, other words": {"Curvature kind", turns(1, "push draw", "pull hook"), 1, ""},
		"quality":             {"Verdict", turns(1, "good", "bad"), 1, ""},
		"yes and no":          {"Counted", turns(2, "yes", "no"), 1, ""},
		"place":               {"Location", turns(6, "Saltmarsh", "Links"), 1, ""},
		"mode":                {"Mode", turns(6, "indoor", "outdoor"), 1, ""},
		"times":               {"Started", turns(6, "10:15", "10:45"), 1, ""},
		"figures":             {"Setup", turns(6, "1", "2"), 1, ""},
		"notes":               {"Notes", two, 1, ""},
		"no heading":          {"Column 3", two, 1, ""},
		"empty for some":      {"Setup", turns(4, "normal", "", "strong grip"), 3, ""},
		"one word and none":   {"Setup", turns(6, "", "strong grip"), 2, ""},
		"a mark for some":     {"Flagged", turns(3, "", "yes"), 1, ""},
		"hardly any":          {"Setup", turns(4, "", "", "strong grip"), 1, ""},
	} {
		file := windFile([]string{c.head}, c.cells)
		r := reading(t, file, Options{})
		var want []string
		if c.asked != "" {
			want = []string{c.asked}
		}
		if got := keys(r.Questions); !slices.Equal(got, want) || len(r.Session.Sets()) != c.sets || r.Labelled != (c.sets > 1) {
			t.Errorf("%s: %d sets, asked %v; %v", name, len(r.Session.Sets()), r.Questions, r.Decisions)
		}
		if c.asked == "" {
			continue
		}
		if r = reading(t, file, Options{Sets: true}); len(r.Questions) > 0 {
			t.Errorf("%s: asked though the sets were said", name)
		}
		if r = reading(t, file, Options{Answers: analysis.Answers{c.asked: "set"}}); len(r.Questions) > 0 || len(r.Session.Sets()) != 2 {
			t.Errorf("%s: answered yes, %d sets, asked %v", name, len(r.Session.Sets()), r.Questions)
		}
		if r = reading(t, file, Options{Answers: analysis.Answers{c.asked: "ignore"}}); len(r.Questions) > 0 || len(r.Session.Sets()) != 1 {
			t.Errorf("%s: answered no, %d sets, asked %v", name, len(r.Session.Sets()), r.Questions)
		}
	}
}

// TestSetsBesideOthers: a column that names sets leaves no other to ask about, and
// words that merely say the club again are no sets.
func TestSetsBesideOthers(t *testing.T) {
	r := reading(t, windFile([]string{"Set", "Technique"}, turns(6, "one", "two"), turns(3, "old", "new move")), Options{})
	if len(r.Questions) > 0 || len(r.Session.Sets()) != 2 {
		t.Errorf("beside a set: %v", r.Questions)
	}
	file := "Shot,Club,Family,Ball Speed (mph),Launch Angle (deg),Carry (yd)\n"
	for i, shot := range []string{"117.2,17.1,158", "118.9,17.9,161", "116.4,16.2,156", "117.7,17.4,159", "139.2,12.5,221", "141.1,13.3,226", "138.0,11.8,217", "140.3,12.2,224"} {
		file += string(rune('1'+i)) + []string{",7i,mid irons,", ",3w,woods,"}[i/4] + shot + "\n"
	}
	if r := reading(t, file, Options{}); len(r.Questions) > 0 || len(r.Session.Sets()) != 2 || r.Labelled {
		t.Errorf("the club again: %v, %v", r.Questions, r.Decisions)
	}
	r = reading(t, windFile([]string{"Technique", "Rhythm"}, turns(6, "old", "new move"), turns(3, "slow move", "fast move")), Options{})
	if got := keys(r.Questions); !slices.Equal(got, []string{"column:technique"}) {
		t.Errorf("two columns that may be sets: %v", got)
	}
}
