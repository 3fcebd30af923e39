package timeline

// A Setup is the sessions in which a number was hit with another setup than the
// usual one, as the sets of their trials are labelled. No mean, lesson or drift
// of a Result takes any of it in.
type Setup struct {
	Label  string  // in lower case; untrusted
	Points []Point // by time
}
