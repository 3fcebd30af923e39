package analysis

import (
	"math"
	"testing"
)

func TestParseWind(t *testing.T) {
	for text, want := range map[string][2]float64{
		"5mps@270": {5, 270}, "5 m/s from the left": {5, 270}, "10 mph right": {4.4704, 90},
		"36km/h@0": {10, 0}, "10 knots from behind": {5.1444, 180}, "2,5 m/s @ 45°": {2.5, 45},

		"12 mph headwind": {5.36448, 0}, "headwind 12 mph": {5.36448, 0}, "headwind of 12 mph": {5.36448, 0}, "12mph head wind": {5.36448, 0},
		"13 mph tailwind": {5.81152, 180}, "tail 13 mph": {5.81152, 180}, "5 m/s downwind": {5, 180}, "5 m/s at my back": {5, 180},
		"12 mph into the face": {5.36448, 0}, "12 mph in the face": {5.36448, 0}, "12 mph against": {5.36448, 0}, "wind 12 mph into": {5.36448, 0},
		"5 m/s from in front": {5, 0}, "5 m/s from ahead": {5, 0}, "5 m/s from the front": {5, 0},
		"12 mph left to right": {5.36448, 270}, "12 mph right-to-left": {5.36448, 90}, "5 m/s L to R": {5, 270},
		"5 m/s crosswind from the left": {5, 270}, "crosswind from the right, 5 m/s": {5, 90}, "5 m/s left crosswind": {5, 270},
		"5 m/s from 2 o'clock": {5, 60}, "5 m/s from 12 o’clock": {5, 0}, "10 o'clock, 5 m/s": {5, 300}, "5 m/s 6 oclock": {5, 180},
		"5 m/s from the front left": {5, 315}, "5 m/s from behind and from the right": {5, 135},
		"5 m/s Gegenwind": {5, 0}, "5 m/s von links": {5, 270}, "5 m/s vent de face": {5, 0}, "5 m/s de gauche à droite": {5, 270}, "5 m/s viento a favor": {5, 180}, "5 m/s från höger": {5, 90},
	} {
		speed, from, err := ParseWind(text)
		if err != nil || math.Abs(speed-want[0]) > 1e-4 || math.Abs(from/Degree-want[1]) > 1e-9 {
			t.Errorf("%q: %.4f m/s from %.1f, %v", text, speed, from/Degree, err)
		}
	}
	for _, text := range []string{
		"", "5", "5@270", "5mps", "left", "50mps@10", "5mps@400", "5mps@-3", "windy", "5mps@270x",
		"12 mph crosswind", "12 mph to the left", "12 mph left and right", "12 mph headwind from the left and right", "10-15 mph headwind", "12 mph north",
		"12 mph headwind 3 o'clock", "12 mph from 13 o'clock", "12 mph from 0 o'clock", "headwind", "1200 mph headwind",
	} {
		if speed, from, err := ParseWind(text); err == nil {
			t.Errorf("%q was read as %.1f m/s from %.1f", text, speed, from/Degree)
		}
	}
}

func TestNotedWind(t *testing.T) {
	for note, want := range map[string][2]float64{
		"Felt slow. Wind 5 m/s from the left, cold": {5, 270},
		"wind: 10mph@90":                          {4.4704, 90},
		"headwind of 4 m/s":                       {4, 0},
		"felt slow, 4 m/s headwind, left misses":  {4, 0},
		"4 m/s headwind left misses with the 7i":  {4, 0},
		"crosswind from the left of 5 m/s today":  {5, 270},
		"wind was 5 m/s left to right all day":    {5, 270},
		"5 m/s wind from 2 o'clock":               {5, 60},
		"about 5 m/s into the face, 7i short":     {5, 0},
		"ball speed 55 m/s, tailwind about 3 m/s": {3, 180},
		"5 m/s from 2 o'clock and gusty":          {5, 60},
	} {
		speed, from, ok := NotedWind(note)
		if !ok || math.Abs(speed-want[0]) > 1e-4 || math.Abs(from/Degree-want[1]) > 1e-9 {
			t.Errorf("%q: %.4f m/s from %.1f, %v", note, speed, from/Degree, ok)
		}
	}
	for _, note := range []string{
		"", "windy", "wind from the left", "a window 5 m/s wide", "5 balls left", "wind 5 from the left", "wind 90 m/s from the left",
		"club speed 34 m/s left to right misses", "ball went left in the wind of 5 m/s", "75 mph into the ball", "no wind. 34 m/s left", "70 mph right, windy",
	} {
		if speed, from, ok := NotedWind(note); ok {
			t.Errorf("%q: has a wind, %.1f from %.1f", note, speed, from/Degree)
		}
	}
}
