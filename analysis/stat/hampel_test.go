package stat

import "testing"

// Thirteen good values and two planted far ones, 14 and 15; invented. Expected
// figures: R 4.2.2 mad. [C]
var plantedX = append(append([]float64{}, twelveX...), 2.9, 31, -18.5)

func TestHampel(t *testing.T) {
	z, ok := Hampel(plantedX)
	if !ok {
		t.Fatal("no distances")
	}
	for i, want := range []float64{0, -1.16738785294026, 0.804200520914402, 0.441013188888543, -0.674490759476595, 1.24521370980295,
		-0.233477570588052, 0.648548807189034, -1.58245908954124, 0.259419522875613, -0.363187332025859, 0.933910282352209,
		-0.0518839045751228, 7.23780468822962, -5.60346169411325} {
		within(t, "z", z[i], want, 1e-12)
	}
	if _, ok := Hampel([]float64{1, 1, 1, 5}); ok {
		t.Error("a spread of zero measures nothing")
	}
}
