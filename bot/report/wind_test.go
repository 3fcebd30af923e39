package report

import (
	"math"
	"testing"

	"rangepost/analysis"
)

func TestParseWind(t *testing.T) {
	for text, want := range map[string][2]float64{
		"5mps@270": {5, 270}, "5 m/s from the left": {5, 270}, "10 mph right": {4.4704, 90},
		"36km/h@0": {10, 0}, "10 knots from behind": {5.1444, 180}, "2,5 m/s @ 45°": {2.5, 45},
	} {
		speed, from, err := ParseWind(text)
		if err != nil || math.Abs(speed-want[0]) > 1e-4 || math.Abs(from/analysis.Degree-want[1]) > 1e-9 {
			t.Errorf("%q: %.4f m/s from %.1f, %v", text, speed, from/analysis.Degree, err)
		}
	}
	for _, text := range []string{"", "5", "5@270", "5mps", "left", "50mps@10", "5mps@400", "5mps@-3", "windy", "5mps@270x"} {
		if speed, from, err := ParseWind(text); err == nil {
			t.Errorf("%q was read as %.1f m/s from %.1f", text, speed, from)
		}
	}
}

func TestNotedWind(t *testing.T) {
	for note, want := range map[string][2]float64{
		"Felt slow. Wind 5 m/s from the left, cold": {5, 270},
		"wind: 10mph@90":    {4.4704, 90},
		"headwind of 4 m/s": {4, 0},
	} {
		speed, from, ok := NotedWind(note)
		if !ok || math.Abs(speed-want[0]) > 1e-4 || math.Abs(from/analysis.Degree-want[1]) > 1e-9 {
			t.Errorf("%q: %.4f m/s from %.1f, %v", note, speed, from/analysis.Degree, ok)
		}
	}
	for _, note := range []string{"", "windy", "wind from the left", "a window 5 m/s wide", "5 balls left", "wind 5 from the left", "wind 90 m/s from the left"} {
		if _, _, ok := NotedWind(note); ok {
			t.Errorf("%q: has a wind", note)
		}
	}
}
