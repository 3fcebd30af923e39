package analysis

import "time"

// SessionValues is one number of the used balls of one club in one session.
// Ball, Conditions and Launch matter to what the ball does alone; their zero
// values are unknown.
type SessionValues struct {
	Session  string // opaque id of the session
	At       time.Time
	Club     Club
	Ball     Ball
	Inferred int       // balls of which it was worked back rather than measured
	Mean, SD float64   // SI; SD (n-1) means nothing with one ball
	Values   []float64 // SI, in the order they were hit

	Conditions Conditions
	Launch     Launch  // the mean of those balls
	Normalised bool    // distances have been brought to one air already
	AirDoubt   float64 // SI, a standard deviation with the sign of its share: what that added is off by so much, in every session at once
}
