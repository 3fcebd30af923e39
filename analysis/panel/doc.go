// Package panel is test support: a panel of worlds, each with flight, impact,
// golfer and device of its own, that hand over sessions as a device would and
// know the truth of them. None of its physics is the product's; what the
// product says of a session is judged by flights of the world it came from.
package panel
