package analysis

// A Warning is something a reader of a result should know: not an error, the
// result stands. Code is one of the constants of the package that gives it;
// package words has a sentence for each.
type Warning struct {
	Code   string
	Count  int    // balls, sessions or sets it is about, 0 if none
	Number Number // the number it is about, where the code says so
}
