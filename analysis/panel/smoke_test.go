package panel

import "testing"

func TestSmoke(t *testing.T) {
	for _, c := range Cases(1, 60) {
		s, tr := c.Play()
		t.Logf("%s: %d shots label %s/%s margin %.2f miss %.1f face %.1f path %.1f strike %.1f wind %.1f other %.1f zero %.1f alone %.1f %.1f", c, len(s.Shots), tr.Label, tr.SampleLabel, tr.Margin, tr.LongRun.Miss, tr.LongRun.Face, tr.LongRun.Path, tr.LongRun.Strike, tr.LongRun.Wind, tr.LongRun.Other, tr.Zero, tr.FaceAlone/deg, tr.PathAlone/deg)
	}
}

func BenchmarkPlay20(b *testing.B) {
	cases := Cases(1, 50)
	for i := range b.N {
		c := cases[i%len(cases)]
		c.Balls = 20
		c.Play()
	}
}
