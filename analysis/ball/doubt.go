package ball

// The things the model is unsure of, the same for every ball of a set.
const (
	Lift = iota
	LiftTilt
	Drag
	DragTilt
	Decay
	FaceShare
	SpinScale
	Restitution
	Friction
	Gear

	// NumDoubts is how many there are.
	NumDoubts = iota
)

// A Doubt is how far a model may be off in each, in standard deviations of what
// published sources differ by.
type Doubt [NumDoubts]float64

// Off is the model off by so much.
func (m Model) Off(by Doubt) Model {
	m.Flight = m.Flight.Off(by[Lift], by[LiftTilt], by[Drag], by[DragTilt], by[Decay])
	m.Head = m.Head.Off(by[FaceShare], by[SpinScale], by[Restitution], by[Friction], by[Gear])
	return m
}
