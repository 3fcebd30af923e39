package sessionfile

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
)

// windFile is a session of a 7-iron with columns beside it, a cell for each ball by
// turns.
func windFile(heads []string, cells ...[]string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Shot,Club,%s,Ball Speed (mph),Launch Angle (deg),Carry (yd)\n", strings.Join(heads, ","))
	for i := range 12 {
		var row []string
		for k := range heads {
			row = append(row, cells[k][i%len(cells[k])])
		}
		fmt.Fprintf(&b, "%d,7 iron,%s,%.1f,%.1f,%.1f\n", i+1, strings.Join(row, ","), 117.2+0.37*float64((i*i+3)%11), 17.1+0.43*float64((i*i+2)%7), 158.0+0.9*float64(i*3%7))
	}
	return b.String()
}

func TestWindColumns(t *testing.T) {
	const mph = analysis.MilePerHour
	for name, c := range map[string]struct {
		heads   []string
		cells   [][]string
		answers analysis.Answers
		speed   float64
		from    float64 // degrees
	}{
		"to the target":       {[]string{"Wind Speed (m/s)", "Wind Direction to Target (deg)"}, [][]string{{"6.0"}, {"350", "10"}}, nil, 6 * math.Cos(10*degree), 0},
		"from target line":    {[]string{"Wind Speed (mph)", "Wind Direction from Target Line (deg)"}, [][]string{{"10"}, {"270"}}, nil, 10 * mph, 270},
		"relative":            {[]string{"Wind Speed (mph)", "Wind Direction relative to Target (deg)"}, [][]string{{"10"}, {"-90"}}, nil, 10 * mph, 270},
		"angle":               {[]string{"Wind (km/h)", "Wind Angle to Target Line (deg)"}, [][]string{{"18"}, {"90"}}, nil, 5, 90},
		"German":              {[]string{"Windgeschwindigkeit (m/s)", "Windrichtung zur Ziellinie (Grad)"}, [][]string{{"4"}, {"180"}}, nil, 4, 180},
		"knots":               {[]string{"Wind Speed (knots)", "Wind Direction to Target (deg)"}, [][]string{{"10"}, {"90"}}, nil, 5.14444, 90},
		"answered from":       {[]string{"Wind Speed (m/s)", "Wind Direction (deg)"}, [][]string{{"6"}, {"90"}}, analysis.Answers{"column:winddirectiondeg": "wind_from"}, 6, 90},
		"answered to":         {[]string{"Wind Speed (m/s)", "Wind Direction (deg)"}, [][]string{{"6"}, {"90"}}, analysis.Answers{"column:winddirectiondeg": "wind_to"}, 6, 270},
		"in words":            {[]string{"Wind Speed (m/s)", "Wind Direction"}, [][]string{{"6"}, {"from the left"}}, nil, 6, 270},
		"by the clock":        {[]string{"Wind Speed (m/s)", "Wind Direction"}, [][]string{{"6"}, {"12 o'clock", "2 o'clock"}}, nil, 6 * math.Cos(30*degree), 30},
		"head":                {[]string{"Headwind (mph)"}, [][]string{{"10", "12"}}, nil, 11 * mph, 0},
		"head below nothing":  {[]string{"Headwind (mph)"}, [][]string{{"-10"}}, nil, 10 * mph, 180},
		"tail":                {[]string{"Tailwind (m/s)"}, [][]string{{"4"}}, nil, 4, 180},
		"head and cross":      {[]string{"Headwind (m/s)", "Crosswind from the left (m/s)"}, [][]string{{"3"}, {"4"}}, nil, 5, 360 - math.Atan2(4, 3)/degree},
		"cross, answered":     {[]string{"Crosswind (m/s)"}, [][]string{{"4"}}, analysis.Answers{"column:crosswindms": "cross_wind_right"}, 4, 90},
		"unit answered":       {[]string{"Wind Speed", "Wind Direction to Target (deg)"}, [][]string{{"6"}, {"0"}}, analysis.Answers{"unit:wind_speed": "m/s"}, 6, 0},
		"no cell for a ball":  {[]string{"Wind Speed (m/s)", "Wind Direction to Target (deg)"}, [][]string{{"6", ""}, {"0", "0", ""}}, nil, 6, 0},
		"both of one session": {[]string{"Wind Speed (m/s)", "Wind Direction (deg)", "Headwind (m/s)"}, [][]string{{"6"}, {"0"}, {"6"}}, analysis.Answers{"column:winddirectiondeg": "ignore"}, 6, 0},
	} {
		r := reading(t, windFile(c.heads, c.cells...), Options{Answers: c.answers})
		w := r.Session.Conditions
		if len(r.Questions) > 0 || w.WindSpeed == nil || w.WindFrom == nil {
			t.Errorf("%s: wind %v from %v; asked %v; %v", name, w.WindSpeed, w.WindFrom, r.Questions, r.Decisions)
			continue
		}
		off := math.Remainder(*w.WindFrom-c.from*degree, 2*math.Pi)
		if math.Abs(*w.WindSpeed-c.speed) > 1e-3 || math.Abs(off) > 1e-6 {
			t.Errorf("%s: %.3f m/s from %.1f, want %.3f from %.1f", name, *w.WindSpeed, *w.WindFrom/degree, c.speed, c.from)
		}
		if !slices.ContainsFunc(r.Decisions, func(d string) bool { return strings.HasPrefix(d, "wind read from ") }) {
			t.Errorf("%s: nobody is told: %v", name, r.Decisions)
		}
	}
}

func TestWindAsked(t *testing.T) {
	for name, c := range map[string]struct {
		heads []string
		cells [][]string
		want  []string
	}{
		"direction":    {[]string{"Wind Speed (m/s)", "Wind Direction (deg)"}, [][]string{{"6"}, {"350"}}, []string{"column:winddirectiondeg"}},
		"crosswind":    {[]string{"Headwind (m/s)", "Crosswind (m/s)"}, [][]string{{"3"}, {"2", "-2"}}, []string{"column:crosswindms"}},
		"unit":         {[]string{"Headwind"}, [][]string{{"3"}}, []string{"unit:head_wind"}},
		"calm":         {[]string{"Wind Speed (m/s)", "Wind Direction (deg)"}, [][]string{{"0"}, {"0"}}, nil},
		"calm, across": {[]string{"Headwind", "Crosswind"}, [][]string{{"0"}, {"0.0"}}, nil},
		"north":        {[]string{"Wind Speed (m/s)", "Wind Direction from North (deg)"}, [][]string{{"6"}, {"350"}}, nil},
		"no speed":     {[]string{"Wind Direction (deg)"}, [][]string{{"350"}}, nil},
		"no direction": {[]string{"Wind Speed (m/s)"}, [][]string{{"5"}}, nil},
	} {
		file := windFile(c.heads, c.cells...)
		r := reading(t, file, Options{})
		if got := keys(r.Questions); !slices.Equal(got, c.want) {
			t.Errorf("%s: asked %v, want %v; %v", name, r.Questions, c.want, r.Decisions)
		}
		if c.want == nil && r.Session.Conditions.WindFrom != nil {
			t.Errorf("%s: a wind from %.0f", name, *r.Session.Conditions.WindFrom/degree)
		}
		speed, from := 3.0, 1.0
		r = reading(t, file, Options{Air: analysis.Conditions{WindSpeed: &speed, WindFrom: &from}})
		if w := r.Session.Conditions; len(r.Questions) > 0 || *w.WindSpeed != speed || *w.WindFrom != from {
			t.Errorf("%s: with a wind that was said, %v and %v", name, w, r.Questions)
		}
	}
}

func TestWindTurns(t *testing.T) {
	for _, c := range []struct {
		cells []string
		said  bool
	}{{[]string{"345", "0", "15", "5"}, false}, {[]string{"0", "30", "60", "90"}, true}} {
		r := reading(t, windFile([]string{"Wind Speed (m/s)", "Wind Direction to Target (deg)"}, []string{"5"}, c.cells), Options{})
		if said := strings.Contains(strings.Join(r.Decisions, "\n"), "it turned by some"); said != c.said {
			t.Errorf("%v: turned %v; %v", c.cells, said, r.Decisions)
		}
	}
}

// TestBesidesNeverCost: what is said beside the shots and cannot be read costs no
// session.
func TestBesidesNeverCost(t *testing.T) {
	for head, cells := range map[string][]string{
		"Wind Direction":        {"N", "NNE"},
		"Wind Direction (deg)":  {"N", "head", "from the left", "12 o'clock", "?!"},
		"Wind Speed (m/s)":      {"light", "gusty"},
		"Wind":                  {"left", "head"},
		"Headwind (mph)":        {"some"},
		"Temperature (C)":       {"warm", "cold"},
		"Altitude (m)":          {"sea level"},
		"Target Distance (yd)":  {"the green", "the flag"},
		"Target":                {"red flag", "blue flag"},
		"Temperature":           {"\"12,5\"", "\"12,25\"", "\"13,125\""},
		"Wind Direction (word)": {"up", "down"},
	} {
		r := reading(t, windFile([]string{head}, cells), Options{})
		if len(r.Session.Shots) != 12 || len(r.Questions) > 0 {
			t.Errorf("%s: %d balls, asked %v", head, len(r.Session.Shots), r.Questions)
			continue
		}
		if v := number(t, r, 1, analysis.Carry); math.Abs(v-160.7*analysis.Yard) > 1e-6 {
			t.Errorf("%s: carry %v", head, v)
		}
		if w := r.Session.Conditions; w.WindFrom != nil || len(r.Targets) > 0 {
			t.Errorf("%s: read as %v, %v", head, w, r.Targets)
		}
		if !strings.Contains(strings.Join(r.Decisions, "\n"), head) {
			t.Errorf("%s: nobody is told: %v", head, r.Decisions)
		}
	}
}
