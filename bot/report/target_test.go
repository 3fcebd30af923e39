package report_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/bot/report"
)

func club(tb testing.TB, name string) analysis.Club {
	tb.Helper()
	c, err := analysis.ParseClub(name)
	if err != nil {
		tb.Fatal(err)
	}
	return c
}

func TestParseTargets(t *testing.T) {
	seven, pitching := club(t, "7i"), club(t, "pw")
	for text, want := range map[string]analysis.Targets{
		"150":                       {{}: 150 * analysis.Yard},
		"137,5 m":                   {{}: 137.5},
		"7i 150yd, pw 110yd":        {seven: 150 * analysis.Yard, pitching: 110 * analysis.Yard},
		"7i 150,pw 110":             {seven: 150 * analysis.Yard, pitching: 110 * analysis.Yard},
		"7i 137,5 m, pw 100m":       {seven: 137.5, pitching: 100},
		"7 iron: 150yd; PW = 110":   {seven: 150 * analysis.Yard, pitching: 110 * analysis.Yard},
		"pitching wedge 110 yards,": {pitching: 110 * analysis.Yard},
		"56 90, 60-degree wedge 80": {club(t, "56"): 90 * analysis.Yard, club(t, "60"): 80 * analysis.Yard},
	} {
		got, err := report.ParseTargets(text, analysis.Units{})
		if err != nil || len(got) != len(want) {
			t.Errorf("ParseTargets(%q) = %v, %v, want %v", text, got, err, want)
			continue
		}
		for c, v := range want {
			if math.Abs(got[c]-v) > 1e-9 {
				t.Errorf("ParseTargets(%q): the %s's is %v m, want %v", text, c, got[c], v)
			}
		}
		// As it is written into a form's path it is read back.
		again, err := report.ParseTargets(got.String(), analysis.Units{})
		if err != nil || again.String() != got.String() {
			t.Errorf("%q read back is %v, %v", got, again, err)
		}
	}
	for _, bad := range []string{"", ",", "far", "7i", "7i far", "7i 150yd, 8i", "spoon 150", "7i 9000, pw 110", "7i 150, 7-iron 140", "7i 150yd pw 110yd"} {
		if got, err := report.ParseTargets(bad, analysis.Units{}); err == nil {
			t.Errorf("ParseTargets(%q) = %v, want an error", bad, got)
		}
	}
}

// bagFile is a session of ten balls a club that carry so many yards, more or
// less; aims are a column of targets, yd, where there are any.
func bagFile(carries map[string]float64, aims map[string][]float64) []byte {
	var b strings.Builder
	b.WriteString("Club,Club Speed (mph),Ball Speed (mph),Launch Angle (deg),Spin Rate (rpm),Carry (yd)")
	if aims != nil {
		b.WriteString(",Target Distance (yd)")
	}
	for _, name := range []string{"Driver", "6 Iron", "7 Iron", "PW"} {
		carry, ok := carries[name]
		if !ok {
			continue
		}
		speed, smash, launch, spin := 87.0, 1.38, 17.0, 6300.0
		switch name {
		case "Driver":
			speed, smash, launch, spin = 100, 1.48, 13, 2600
		case "PW":
			speed, smash, launch, spin = 76, 1.25, 27, 9100
		}
		for i := range 10 {
			off := []float64{-1.3, 0.2, 0.9, -0.4, 1.6, -0.8, 0.5, 1.1, -1.5, -0.3}[i]
			fmt.Fprintf(&b, "\n%s,%.1f,%.1f,%.1f,%.0f,%.1f", name, speed+off/2, (speed+off/2)*smash, launch+off/3, spin+50*off, carry+2*off)
			if aim := aims[name]; len(aim) > 0 {
				fmt.Fprintf(&b, ",%.0f", aim[i%len(aim)])
			} else if aims != nil {
				b.WriteString(",")
			}
		}
	}
	return []byte(b.String())
}

// aimed answers a bag, with what was said of targets, and lists what each club is
// judged by, yd.
func aimed(t *testing.T, data []byte, said string, earlier ...analysis.Session) (report.Report, map[string]float64) {
	t.Helper()
	reading, err := sessionfile.Read("bag.csv", data, sessionfile.Options{})
	if err != nil || len(reading.Questions) > 0 {
		t.Fatal(err, reading.Questions)
	}
	o := report.Options{Plain: true, Earlier: earlier}
	if said != "" {
		if o.Targets, err = report.ParseTargets(said, o.Units); err != nil {
			t.Fatal(err)
		}
	}
	r, err := report.Of(t.Context(), reading, o)
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]float64{}
	for _, s := range r.Sets {
		if s.Target > 0 {
			by[s.Club.Key()] = math.Round(s.Target / analysis.Yard)
		}
		if judged := s.Cause.Distance.Known; judged != (s.Target > 0) {
			t.Errorf("the %s: judged by its length %v, target %v m", s.Club, judged, s.Target)
		}
	}
	return r, by
}

// TestTargetsByClub: a target belongs to the club it was said of, or can be of.
func TestTargetsByClub(t *testing.T) {
	bag := map[string]float64{"Driver": 240, "7 Iron": 155, "PW": 112}
	earlier := func(name string, carry float64) analysis.Session {
		var s analysis.Session
		for range 10 {
			s.Shots = append(s.Shots, analysis.Shot{Club: club(t, name)}.With(analysis.Carry, carry*analysis.Yard))
		}
		return s
	}
	for name, c := range map[string]struct {
		carries map[string]float64
		aims    map[string][]float64
		said    string
		earlier []analysis.Session
		want    map[string]float64
		says    string
	}{
		"named": {carries: bag, said: "7i 150yd, pw 110yd", want: map[string]float64{"7i": 150, "pw": 110}},
		"the driver's, of no wedge": {carries: bag, said: "240", want: map[string]float64{"driver": 240},
			says: "The target of 240 yards is taken as the driver's; for others, say it as 7-iron 150 yards, PW 110 yards."},
		"nobody's": {carries: map[string]float64{"7 Iron": 155, "PW": 112}, said: "250", want: map[string]float64{},
			says: "The target of 250 yards is far from what any club here carries, so none is judged by it: say it as 7-iron 150 yards, PW 110 yards."},
		"between two": {carries: map[string]float64{"7 Iron": 150, "6 Iron": 164}, said: "157", want: map[string]float64{},
			says: "The target of 157 yards may be the 6-iron's or the 7-iron's, so none is judged by it: say it as 7-iron 150 yards, PW 110 yards."},
		"between two, by what they carried before": {carries: map[string]float64{"7 Iron": 150, "6 Iron": 164}, said: "157",
			earlier: []analysis.Session{earlier("7i", 158), earlier("6i", 172)}, want: map[string]float64{"7i": 157},
			says: "The target of 157 yards is taken as the 7-iron's;"},
		"one club, however far": {carries: map[string]float64{"7 Iron": 155}, said: "250", want: map[string]float64{"7i": 250}},
		"a column":              {carries: bag, aims: map[string][]float64{"7 Iron": {160}, "PW": {110}}, want: map[string]float64{"7i": 160, "pw": 110}},
		"a column of several":   {carries: bag, aims: map[string][]float64{"7 Iron": {140, 160}, "PW": {110}}, want: map[string]float64{"pw": 110}},
		"said over a column":    {carries: bag, aims: map[string][]float64{"7 Iron": {160}, "PW": {110}}, said: "7i 150", want: map[string]float64{"7i": 150, "pw": 110}},
		"said beside a column": {carries: bag, aims: map[string][]float64{"7 Iron": {160}, "PW": {110}}, said: "240", want: map[string]float64{"driver": 240, "7i": 160, "pw": 110},
			says: "The target of 240 yards is taken as the driver's;"},
	} {
		t.Run(name, func(t *testing.T) {
			r, by := aimed(t, bagFile(c.carries, c.aims), c.said, c.earlier...)
			if fmt.Sprint(by) != fmt.Sprint(c.want) {
				t.Errorf("judged by %v, want %v", by, c.want)
			}
			all := strings.Join(r.Sentences(), "\n")
			if c.says != "" && !strings.Contains(all, c.says) || c.says == "" && strings.Contains(all, "The target of") {
				t.Errorf("want %q in %s", c.says, all)
			}
		})
	}
}
