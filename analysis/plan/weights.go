package plan

// primary is the share of alpha that the number of interest has, all sets
// together; the other numbers that trials compare share the rest alike. The
// shares do not depend on what was measured, which is known only afterwards: a
// number nobody measured leaves its share unspent. With shares that add up to
// one the chance of any false "moved" is at most alpha whatever the numbers have
// to do with each other (Bonferroni's inequality on Ville's).
const primary = 0.5

// alphaPrimary is the part of alpha that the number of interest of one set has.
func alphaPrimary(others int) float64 { return alpha * primary / float64(others) }

// alphaRest is the part that every other number of one set has.
func alphaRest(others int) float64 {
	return alpha * (1 - primary) / float64(others*(rowsASet()-1))
}
