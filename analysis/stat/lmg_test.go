package stat

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	gonum "gonum.org/v1/gonum/stat"
)

// Fertility of 47 Swiss provinces in 1888 on five regressors: R datasets::swiss,
// relaimpo 2.2-7 (Groemping 2006, J. Stat. Softw. 17(1)), LMG. [C]
func TestLMG(t *testing.T) {
	cov := mat.NewSymDense(6, []float64{
		156.042497687327, 100.16914893617, -64.3669287696577, -79.7295097132285, 241.563203052729, 15.1561933395005,
		100.16914893617, 515.799417206291, -124.392830712303, -139.657400555042, 379.904375578168, -4.02585106382978,
		-64.3669287696577, -124.392830712303, 63.6466234967623, 53.5758556891767, -190.560610545791, -2.6495374653099,
		-79.7295097132285, -139.657400555042, 53.5758556891767, 92.4560592044403, -61.698829787234, -2.78168362627197,
		241.563203052729, 379.904375578168, -190.560610545791, -61.698829787234, 1739.29453718779, 21.3181160962072,
		15.1561933395005, -4.02585106382978, -2.6495374653099, -2.78168362627197, 21.3181160962072, 8.48380203515264,
	})
	parts, r2, ok := LMG(cov)
	if !ok {
		t.Fatal("no parts")
	}
	within(t, "R2", r2, 0.706735001592726, 1e-12)
	for i, want := range []float64{0.0570912207680913, 0.171173028900234, 0.260134678624385, 0.105570150373494, 0.112765922926522} {
		within(t, "part", parts[i], want, 1e-12)
	}
}

// Twenty-four invented balls whose path compensates for the face: the product
// of slope and covariance gives the path -11 % of the spread, LMG 8 %. R 4.2.2
// lm and relaimpo. [C]
func TestLMGOfCompensatingPath(t *testing.T) {
	lateral := []float64{11, -0.4, 5.9, 16, 4.1, 5.9, 9.5, 0, 15.1, 7.1, 19.1, 19.6, -1.6, 7.1, 8.2, 4.2, 8.1, -8.2, -5.6, 9.8, 6.1, -2.6, 6.6, 6.5}
	face := []float64{3.7, 0.2, 1.9, 2.3, 1.9, 1, 3.9, 1, 4.8, 1.1, 3.5, 5.3, -1.3, 0.7, 1, 2.3, 0.7, -3.6, -3.2, 3.6, 0.6, -2, 0.9, 3.4}
	path := []float64{4, -2.7, -1.4, -4.1, 0.1, -2.7, 1.3, 0, 3, -2.6, 1.1, -2.3, -4.3, -3.3, -6.2, -0.5, -1.2, -4.9, -2.4, -1.3, -4.4, -2.3, -3.1, 2.9}
	strike := []float64{-0.6, 5.9, 3.9, -2.7, 11.5, 5.9, 2.5, 3.7, 6.1, 2.5, -16, 3.7, -0.2, 3.1, 5.5, 10.4, -2.4, 9.8, 4, 8.2, 7.5, 6.3, -4.3, 1.5}
	data := mat.NewDense(len(lateral), 4, nil)
	for i := range lateral {
		data.SetRow(i, []float64{lateral[i], face[i], path[i], strike[i]})
	}
	var cov mat.SymDense
	gonum.CovarianceMatrix(&cov, data, nil)
	parts, r2, _ := LMG(&cov)
	within(t, "R2", r2, 0.917957278756445, 1e-12)
	for i, want := range []float64{0.684384318072695, 0.082458974956841, 0.151113985726909} {
		within(t, "part", parts[i], want, 1e-12)
	}
}

func TestLMGOfDependentColumns(t *testing.T) {
	// The second regressor is twice the first, the third is constant.
	cov := mat.NewSymDense(4, []float64{2, 1, 2, 0, 1, 1, 2, 0, 2, 2, 4, 0, 0, 0, 0, 0})
	parts, r2, ok := LMG(cov)
	if !ok {
		t.Fatal("no parts")
	}
	within(t, "R2", r2, 0.5, 1e-12)
	within(t, "first", parts[0], 0.25, 1e-12)
	within(t, "its double", parts[1], 0.25, 1e-12)
	within(t, "constant", parts[2], 0, 0)
	if _, _, ok := LMG(mat.NewSymDense(2, []float64{0, 0, 0, 1})); ok {
		t.Error("a response that does not vary has parts")
	}
	if math.IsNaN(parts[2]) {
		t.Error("NaN")
	}
}
