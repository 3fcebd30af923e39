package sessionfile

import (
	"slices"
	"testing"
)

// The time between two balls is read where the file tells it for every ball, in
// the order they were hit, and not from times that are written to the minute.
func TestPauses(t *testing.T) {
	const day = "2026-06-14 "
	for _, c := range []struct {
		name  string
		times []string
		want  []float64
	}{
		{"to the second", []string{day + "10:00:00", day + "10:00:21", day + "10:01:30"}, []float64{0, 21, 69}},
		{"newest first", []string{day + "10:01:30", day + "10:00:21", day + "10:00:00"}, []float64{0, 21, 69}},
		{"to the minute", []string{day + "10:00", day + "10:00", day + "10:01"}, []float64{0, 0, 0}},
		{"one is missing", []string{day + "10:00:00", "", day + "10:01:30"}, []float64{0, 0, 0}},
		{"days", []string{"2026-06-14", "2026-06-15", "2026-06-16"}, []float64{0, 0, 0}},
	} {
		file := "Time,Carry (yd),Ball Speed (mph)\n"
		for i, at := range c.times {
			file += at + "," + []string{"150,110", "152,111", "149,109"}[i] + "\n"
		}
		var got []float64
		for _, shot := range reading(t, file, Options{}).Session.Shots {
			got = append(got, shot.Pause)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
