package panel

import "rangepost/analysis"

// Columns is which of its numbers a device's file holds.
type Columns string

// The sets of columns. Total, lateral at rest and lie are in none: no world
// has a ground.
const (
	Everything   Columns = "everything"
	NoStrike     Columns = "no strike"
	NoAxis       Columns = "no spin axis"
	BallOnly     Columns = "ball and finish"
	ClubAndEnd   Columns = "club and finish"
	FacePathEnd  Columns = "face, path and finish"
	NoClubSpeed  Columns = "no club speed"
	NoLoftAttack Columns = "no loft or attack"
	SpeedSmash   Columns = "launch, club speed and smash"

	// Asked only by harnesses of their own.
	NoFlight   Columns = "club and launch"
	ClubOnly   Columns = "club only"
	LaunchOnly Columns = "launch only"
	FlightOnly Columns = "flight only"
)

// AllColumns lists, in a fixed order, the sets that the panel's own cases have.
func AllColumns() []Columns {
	return []Columns{Everything, NoStrike, NoAxis, BallOnly, ClubAndEnd, FacePathEnd, NoClubSpeed, NoLoftAttack, SpeedSmash}
}

// Has reports whether the set holds number n.
func (c Columns) Has(n analysis.Number) bool {
	finish := n == analysis.Carry || n == analysis.Lateral
	strike := n == analysis.StrikeToe || n == analysis.StrikeUp
	launch := n == analysis.LaunchAngle || n == analysis.Direction || n == analysis.Spin || n == analysis.SpinAxis
	late := finish || n == analysis.Apex || n == analysis.Descent || n == analysis.FlightTime
	switch c {
	case Everything:
		return true
	case NoStrike:
		return !strike
	case NoAxis:
		return n != analysis.SpinAxis
	case BallOnly:
		return launch || late || n == analysis.BallSpeed
	case ClubAndEnd:
		return n.Info().Of == analysis.OfClub || finish
	case FacePathEnd:
		return n == analysis.Face || n == analysis.Path || finish
	case NoClubSpeed:
		return n != analysis.ClubSpeed && n != analysis.Smash
	case NoLoftAttack:
		return n != analysis.DynamicLoft && n != analysis.Attack && n != analysis.SpinLoft
	case SpeedSmash:
		// No ball speed: it has to be worked out of the other two.
		return launch || late || n == analysis.ClubSpeed || n == analysis.Smash
	case NoFlight:
		return !late
	case ClubOnly:
		return n.Info().Of == analysis.OfClub
	case LaunchOnly:
		return launch || n == analysis.BallSpeed
	case FlightOnly:
		return late
	}
	return false
}

// keep is the shot with only the set's numbers.
func (c Columns) keep(full, bare analysis.Shot) analysis.Shot {
	for _, n := range analysis.Numbers() {
		if v, ok := full.Value(n); ok && c.Has(n) {
			bare = bare.With(n, v)
		}
	}
	return bare
}
