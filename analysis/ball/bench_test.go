package ball

import "testing"

// BenchmarkLand is what one changed delivery costs: an impact and a flight.
func BenchmarkLand(b *testing.B) {
	m := of("7i")
	d := m.Head.Usual.Delivery()
	d.Face, d.Path = deg(2), deg(-1)
	b.ReportAllocs()
	for b.Loop() {
		m.Land(d, Departure{})
	}
}
