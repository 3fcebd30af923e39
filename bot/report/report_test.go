package report_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/player"
	"rangepost/analysis/sessionfile"
	"rangepost/bot/report"
	"rangepost/testdata"
)

// file is a session file of n balls of a 7-iron, delivered with face and path
// (deg, right of target) on average.
func file(tb testing.TB, n int, face, path float64) []byte {
	tb.Helper()
	iron, err := analysis.ParseClub("7i")
	if err != nil {
		tb.Fatal(err)
	}
	d := player.Typical(iron)
	d.Face, d.Path = face*analysis.Degree, path*analysis.Degree
	rng := rand.New(rand.NewPCG(1, 2))
	p := player.Player{
		Club: iron, Delivery: d, Spread: player.TypicalSpread(0.8),
		World:  player.Foreign(iron, analysis.RightHanded, rng),
		Device: player.Device{Club: true, Strike: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	columns := []struct {
		head string
		n    analysis.Number
		unit float64
	}{
		{"Club Speed (mph)", analysis.ClubSpeed, analysis.MilePerHour}, {"Attack Angle (deg)", analysis.Attack, analysis.Degree},
		{"Club Path (deg)", analysis.Path, analysis.Degree}, {"Face Angle (deg)", analysis.Face, analysis.Degree},
		{"Dynamic Loft (deg)", analysis.DynamicLoft, analysis.Degree}, {"Ball Speed (mph)", analysis.BallSpeed, analysis.MilePerHour},
		{"Launch Angle (deg)", analysis.LaunchAngle, analysis.Degree}, {"Launch Direction (deg)", analysis.Direction, analysis.Degree},
		{"Spin Rate (rpm)", analysis.Spin, analysis.RevPerMinute}, {"Spin Axis (deg)", analysis.SpinAxis, analysis.Degree},
		{"Carry (yd)", analysis.Carry, analysis.Yard}, {"Offline (yd)", analysis.Lateral, analysis.Yard},
	}
	var b strings.Builder
	b.WriteString("Club")
	for _, c := range columns {
		b.WriteString("," + c.head)
	}
	for _, s := range p.Shots(n, "", rng) {
		b.WriteString("\n7-iron")
		for _, c := range columns {
			v, ok := s.Value(c.n)
			if !ok {
				tb.Fatalf("the player's device does not see %v", c.n)
			}
			// Sides as letters: nothing about signs is open.
			if c.n.Info().Sideways {
				fmt.Fprintf(&b, ",%.1f %s", math.Abs(v/c.unit), map[bool]string{true: "L", false: "R"}[v < 0])
				continue
			}
			fmt.Fprintf(&b, ",%.1f", v/c.unit)
		}
	}
	return []byte(b.String())
}

func read(tb testing.TB, data []byte) sessionfile.Reading {
	tb.Helper()
	reading, err := sessionfile.Read("session.csv", data, sessionfile.Options{HandSet: true})
	if err != nil {
		tb.Fatal(err)
	}
	if len(reading.Questions) > 0 {
		tb.Fatalf("questions are open: %+v", reading.Questions)
	}
	return reading
}

// A label may say what it likes of a body; it is echoed in quotation marks and
// never becomes a cause.
func TestLabelsAreOnlyLabels(t *testing.T) {
	body := regexp.MustCompile(`(?i)\b(elbows?|hips?|wrists?|shoulders?|knees?|spine|arms?)\b`)
	quoted := regexp.MustCompile(`"[^"]*"`)
	reading := read(t, file(t, 24, 3, 0))
	for _, label := range []string{"back elbow flies", "hip turn first", "@everyone wrists **flat**", "=spine(1)"} {
		r, err := report.Of(t.Context(), reading, report.Options{Labels: "1-12 as usual, 13-24 " + label})
		if err != nil {
			t.Fatal(err)
		}
		text := []string{r.Text(0, 1200), r.Text(1, 1200), r.TrialText(r.Trials[0], 1200)}
		text = append(text, r.Sentences()...)
		text = append(text, r.Explanations()...)
		for i := range r.Sets {
			p, err := r.Picture(t.Context(), i, "Wren")
			if err != nil {
				t.Fatal(err)
			}
			text = append(text, p.Alt)
		}
		p, err := r.TrialPicture(t.Context(), r.Trials[0], "Wren")
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range append(text, p.Alt) {
			if word := body.FindString(quoted.ReplaceAllString(line, "")); word != "" {
				t.Errorf("label %q: %q stands in our own words: %q", label, word, line)
			}
		}
	}
}

// What does not fit is left out whole, and what matters most stands first.
func TestTextFits(t *testing.T) {
	reading := read(t, file(t, 40, 3, 0))
	r, err := report.Of(t.Context(), reading, report.Options{Labels: "1-10 one, 11-20 two, 21-30 three, 31-40 four"})
	if err != nil {
		t.Fatal(err)
	}
	whole := r.Text(0, 100_000)
	for _, limit := range []int{200, 600, 1200} {
		text := r.Text(0, limit)
		if n := len([]rune(text)); n > limit || n == 0 {
			t.Errorf("%d characters, at most %d were to be", n, limit)
		}
		if first, _, _ := strings.Cut(text, "\n"); !strings.HasPrefix(whole, first) {
			t.Errorf("the cause does not stand first: %q", first)
		}
		for _, line := range strings.Split(text, "\n") {
			if !strings.Contains(whole, line) {
				t.Errorf("a line was cut: %q", line)
			}
		}
	}
	text, all := r.Explain(0, 1200)
	if len([]rune(text)) > 1200 || all == "" || !strings.Contains(text, "Every line is in the file below.") {
		t.Errorf("an explanation of %d characters, with %d more in a file", len([]rune(text)), len(all))
	}
}

// The coach's brief is what deliveries are judged against, and how many balls
// kept it is counted.
func TestBriefIsTheReference(t *testing.T) {
	low, high := 2*analysis.Degree, 4*analysis.Degree
	brief := analysis.Brief{Number: analysis.Face, Low: &low, High: &high}
	r, err := report.Of(t.Context(), read(t, file(t, 30, 3, 0)), report.Options{Briefs: []analysis.Brief{brief}})
	if err != nil {
		t.Fatal(err)
	}
	s := r.Sets[0]
	if math.Abs(s.Cause.RefFace-3*analysis.Degree) > 1e-12 {
		t.Errorf("judged against a face of %v deg, want 3", s.Cause.RefFace/analysis.Degree)
	}
	// A mishit is a ball hit under the brief like any other.
	if s.Brief == nil || s.Brief.Of != 30 || s.Brief.Inside == 0 {
		t.Errorf("brief = %+v", s.Brief)
	}
	if !strings.Contains(r.Text(0, 1200), "inside your coach's limits") {
		t.Errorf("the reply does not say how the brief was kept: %q", r.Text(0, 1200))
	}
}

func TestParseDistance(t *testing.T) {
	for _, tt := range []struct {
		text string
		unit analysis.DistanceUnit
		want float64
	}{
		{"150", "", 150 * analysis.Yard},
		{"150", analysis.Metres, 150},
		{"150 yd", analysis.Metres, 150 * analysis.Yard},
		{" 137m ", "", 137},
		{"140,5 yards", "", 140.5 * analysis.Yard},
	} {
		got, err := report.ParseDistance(tt.text, analysis.Units{Distance: tt.unit})
		if err != nil || math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("ParseDistance(%q, %v) = %v, %v, want %v", tt.text, tt.unit, got, err, tt.want)
		}
	}
	for _, bad := range []string{"", "far", "-20", "9000", "NaN", "1e300", "150 ft"} {
		if got, err := report.ParseDistance(bad, analysis.Units{}); err == nil {
			t.Errorf("ParseDistance(%q) = %v, want an error", bad, got)
		}
	}
}

// BenchmarkAnswer is the promise of speed: a 60-ball file with delivery, from
// its bytes to text and picture, and the same without the picture.
func BenchmarkAnswer(b *testing.B) {
	data := file(b, 60, 3, 0)
	answer := func(b *testing.B) report.Report {
		r, err := report.Of(b.Context(), read(b, data), report.Options{})
		if err != nil {
			b.Fatal(err)
		}
		if r.Text(0, 1200) == "" {
			b.Fatal("no text")
		}
		return r
	}
	b.Run("text", func(b *testing.B) {
		for b.Loop() {
			answer(b)
		}
	})
	b.Run("text and picture", func(b *testing.B) {
		for b.Loop() {
			if _, err := answer(b).Picture(b.Context(), 0, "Wren"); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// The shots of a challenge are judged a bit each, and a left-hander's twin in the
// mirror does the same of them.
func TestOnRequest(t *testing.T) {
	data, err := testdata.Files.ReadFile("sessions/priya-7-shots.csv")
	if err != nil {
		t.Fatal(err)
	}
	reading, err := sessionfile.Read("priya-7-shots.csv", data, sessionfile.Options{})
	if err != nil {
		t.Fatal(err)
	}
	shots, err := report.ShotsAsked("start 3 right, curve 8 left; fade 8; straight", analysis.Units{})
	if err != nil || !slices.Equal(shots, []string{"start 3° right, draw 8 yd", "fade 8 yd", "straight"}) {
		t.Fatalf("shots %q, %v", shots, err)
	}
	if _, err := report.ShotsAsked("draw; low", analysis.Units{}); err == nil {
		t.Error("a low one is taken, which is against a player's own usual ball")
	}
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	did := func(s analysis.Session) (masks []int) {
		for _, shot := range report.OnRequest(s, iron, shots).Shots {
			v, ok := shot.Value(analysis.AskedDone)
			if !ok {
				t.Fatalf("ball %d is not judged", shot.N)
			}
			masks = append(masks, int(v))
		}
		return masks
	}
	one := did(reading.Session)
	count := func(from, to, bit int) (n int) {
		for _, m := range one[from:to] {
			n += m >> bit & 1
		}
		return n
	}
	if draws, fades := count(10, 20, 0), count(20, 30, 1); draws < 2 || fades < 3 || count(20, 30, 0) > 0 || count(10, 20, 1) > 0 {
		t.Errorf("of ten draws %d are done, of ten fades %d: %v", draws, fades, one)
	}
	mirrored := reading.Session
	mirrored.Hand = analysis.LeftHanded
	mirrored.Shots = slices.Clone(mirrored.Shots)
	for i, s := range mirrored.Shots {
		mirrored.Shots[i] = s.Mirrored()
	}
	if twin := did(mirrored); !slices.Equal(twin, one) {
		t.Errorf("%v, in the mirror %v", one, twin)
	}
}
