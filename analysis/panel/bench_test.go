package panel

import "testing"

func BenchmarkPlay20(b *testing.B) {
	cases := Cases(1, 60)
	for i := range b.N {
		c := cases[i%len(cases)]
		c.Balls = 20
		c.Play()
	}
}

func BenchmarkHit(b *testing.B) {
	w := Worlds()[0]
	c := Clubs()[0]
	d := w.golfer.mean(c)
	b.ReportAllocs()
	for range b.N {
		w.Hit(c, 0, d, Wind{})
	}
}
