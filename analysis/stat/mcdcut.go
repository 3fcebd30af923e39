package stat

// MCDCut is the squared distance by MinimumCovariance (its D2) that a clean
// normal set of n exceeds anywhere with a chance of 5 %: the whole set is
// controlled, not the point. The usual chi-square cut-off, 7.38, flags a good
// point in every second clean set. ok is false under 6 points.
//
// The cut-offs were simulated with this package's own estimator, 20,000 sets a
// size (about 2 % off); they step up and down with n because h does.
func MCDCut(n int) (cut float64, ok bool) {
	return cutAt(n, mcdSizes, mcdCuts)
}

var (
	mcdSizes = []float64{6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 35, 40, 50, 60, 80, 100, 150, 200}
	mcdCuts  = []float64{40.13, 27.72, 51.61, 35.79, 29.37, 24.90, 30.87, 26.10, 23.59, 21.85, 24.03, 21.84, 20.63, 20.48, 20.60, 20.11, 19.03, 18.89, 18.97, 18.84, 18.30, 18.00, 18.05, 17.76, 17.65, 17.09, 17.00, 16.41, 16.66, 16.56, 16.67, 16.90, 17.41}
)
