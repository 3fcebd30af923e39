package analysis

import "time"

// Written is what a session's file says of itself beside what was measured. It
// shows rows that were taken out, moved or written anew; nothing else is read
// from it.
type Written struct {
	Numbers   []int       // the shot number of each row, 0 where it has none, in the order of the rows; nil if no column has them
	Times     []time.Time // when each row was hit, the zero time where it does not say; nil likewise
	Otherwise int         // figures written to other decimals than all others of a column that keeps its zeros
}
