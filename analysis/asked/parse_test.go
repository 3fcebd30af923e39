package asked_test

import (
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/asked"
)

func TestParse(t *testing.T) {
	const deg, yd = analysis.Degree, analysis.Yard
	on := func(side int, amount float64) asked.Ask { return asked.Ask{OK: true, Side: side, Amount: amount} }
	type asks map[asked.Part]asked.Ask
	for _, c := range []struct {
		text string
		want asks
	}{
		{"draw", asks{asked.Curve: on(-1, 0)}},
		{"Fade 5", asks{asked.Curve: on(1, 5*yd)}},
		{"8 yd draw", asks{asked.Curve: on(-1, 8*yd)}},
		{"Draw 8m", asks{asked.Curve: on(-1, 8)}},
		{"start 3 right, curve 8 left", asks{asked.Start: on(1, 3*deg), asked.Curve: on(-1, 8*yd)}},
		{"start 3 right curve 8 left", asks{asked.Start: on(1, 3*deg), asked.Curve: on(-1, 8*yd)}},
		{"3° right start and 8 yards left curve", asks{asked.Start: on(1, 3*deg), asked.Curve: on(-1, 8*yd)}},
		{"starte 3 rechts, Kurve 8 links", asks{asked.Start: on(1, 3*deg), asked.Curve: on(-1, 8*yd)}},
		{"départ 2,5 à gauche", asks{asked.Start: on(-1, 2.5*deg)}},
		{"low fade 6", asks{asked.Height: on(-1, 0), asked.Curve: on(1, 6*yd)}},
		{"high draw", asks{asked.Height: on(1, 0), asked.Curve: on(-1, 0)}},
		{"apex 20 yd", asks{asked.Height: on(0, 20*yd)}},
		{"carry 140", asks{asked.Carry: on(0, 140*yd)}},
		{"short", asks{asked.Carry: on(-1, 0)}},
		{"straight", asks{asked.Curve: on(0, 0)}},
		{"straigt, start on line", asks{asked.Curve: on(0, 0), asked.Start: on(0, 0)}},
		{"ドロー8ヤード", asks{asked.Curve: on(-1, 8*yd)}},
		{"오른쪽 3도 출발, 왼쪽 8 커브", asks{asked.Start: on(1, 3*deg), asked.Curve: on(-1, 8*yd)}},
		{"start 5 yd left", asks{asked.Start: {OK: true, Side: -1, Amount: 5 * yd, Metres: true}}},
		{"start -3", asks{asked.Start: on(-1, 3*deg)}},
	} {
		got, err := asked.Parse(c.text, asked.Options{})
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		var want [asked.NumParts]asked.Ask
		for p, a := range c.want {
			want[p] = a
		}
		if got.Asks != want {
			t.Errorf("%q asks for %+v, want %+v", c.text, got.Asks, want)
		}
	}
}

// A label is a shot where it can be nothing else.
func TestLabel(t *testing.T) {
	for label, want := range map[string]string{
		"draw": "shot", "high fade": "shot", "draw 2 yd": "shot", "start left": "shot",
		"normal": "label", "strong grip": "label", "low handle": "label", "draw drill": "label", "short backswing": "label",
		"straight left arm": "label", "high tee": "label", "": "label", "7 iron draw": "label",
		"draw 2": "ask", "left": "ask", "straight left": "ask", "draw fade": "ask", "low 20": "ask", "curve": "ask", "carry": "ask",
	} {
		_, ok, err := asked.Label(label, asked.Options{})
		got := "label"
		if ok {
			got = "shot"
		} else if err != nil {
			got = "ask"
		}
		if got != want {
			t.Errorf("%q is taken for %s, want %s (%v)", label, got, want, err)
		}
	}
}

func TestLeftHandersDraw(t *testing.T) {
	right, _ := asked.Parse("draw 8", asked.Options{})
	left, err := asked.Parse("draw 8", asked.Options{Hand: analysis.LeftHanded})
	if err != nil || left.Asks != right.Mirrored().Asks {
		t.Errorf("a left-hander's draw asks for %+v, a right-hander's for %+v (%v)", left.Asks, right.Asks, err)
	}
}
