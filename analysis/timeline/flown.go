package timeline

import (
	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// Flown reports whether the air matters to a number: only then are Conditions
// and Launch of its sessions looked at.
func Flown(n analysis.Number) bool {
	_, ok := flown(n, flight.Landing{}, nil)
	return ok
}
