package panel

import "rangepost/analysis"

// Worlds are the panel, in a fixed order. The package comment has the table.
func Worlds() []*World {
	return []*World{
		middle(), tunnel(), stillAir(), shares(), matted(), faceHeavy(),
		pathHeavy(), skewed(), rough(), gusty(), crisis(), damp(),
	}
}

// middle is the middle of what is published.
func middle() *World {
	return &World{
		Name: "middle", Ball: analysis.NewBall,
		air: air{density: 1.204, viscosity: 1.51e-5}, law: tuned{quartic2004{}, 0.90, 0.95}, decay: decay{moment: 2.0e-5},
		contact: rigid{},
		golfer:  golfer{speed: 45, spread: middling, match: 0.3, streak: 0.10},
		device:  device{noise: 1},
	}
}

// tunnel is the oldest measurements with the textbook's impact: a ball that
// rolls off the face.
func tunnel() *World {
	return &World{
		Name: "tunnel", Ball: analysis.NewBall,
		air: air{density: 1.225, viscosity: 1.46e-5}, law: tuned{newTunnel1976(), 0.90, 1}, decay: decay{moment: 2.5e-5},
		contact: rigid{},
		change:  func(c analysis.Club, h *head) { h.grip = 0.05 },
		golfer:  golfer{speed: 48, attack: 1 * deg, spread: skilled, match: 0.5},
		device:  device{noise: 0.8, metric: true},
	}
}

// stillAir is the newest ball measured in still air off a face it springs on.
func stillAir() *World {
	return &World{
		Name: "still air", Ball: analysis.NewBall,
		air: air{density: 1.18, viscosity: 1.56e-5}, law: tuned{stillAir2018{}, 1.05, 0.94}, decay: decay{share: 0.04},
		contact: compliant{across: 0.92, damp: 0.2},
		golfer:  golfer{speed: 46, loft: -0.5 * deg, spread: middling, openLoft: 0.3, streak: 0.20},
		device:  device{noise: 1},
		told:    true, kelvin: 298, metres: 50,
	}
}

// shares has the launch by measured shares, with gear effect in the middle of
// what is said of it and a ball of 1994.
func shares() *World {
	return &World{
		Name: "shares", Ball: analysis.NewBall,
		air: air{density: 1.204, viscosity: 1.51e-5}, law: tuned{tunnel1994{}, 0.95, 0.95}, decay: decay{moment: 2.0e-5},
		contact: shared{gear: 1},
		golfer:  golfer{speed: 44.5, attack: -1 * deg, spread: middling, match: 0.45, streak: 0.15},
		device:  device{noise: 1, metric: true},
	}
}

// matted is a range: slow draggy balls off mats, a golfer with streaks and wild
// ones among them, flat faces that do not gear.
func matted() *World {
	return &World{
		Name: "mat", Ball: analysis.RangeBall,
		air: air{density: 1.215, viscosity: 1.48e-5}, law: tuned{indoor1998{}, 1.06, 0.97}, decay: decay{moment: 2.5e-5},
		contact: rigid{},
		change: func(c analysis.Club, h *head) {
			h.depth, h.bulge, h.top = 0, 0, 0
			if c.Family == analysis.Wedge {
				h.grip -= 0.04
			}
		},
		golfer: golfer{speed: 45, spread: middling, match: 0.2, tail: t5, streak: 0.35},
		device: device{noise: 1.2},
	}
}

// faceHeavy is the edge where the ball starts most by the face, and where a
// strike off the middle costs speed and nothing else.
func faceHeavy() *World {
	return &World{
		Name: "face heavy", Ball: analysis.NewBall,
		air: air{density: 1.19, viscosity: 1.54e-5}, law: tuned{stillAir2018{}, 1.08, 0.90}, decay: decay{moment: 2.5e-5},
		contact: shared{gear: 0},
		change: func(c analysis.Club, h *head) {
			// A standard deviation above the measured mean of each club.
			h.share += 0.05
			h.bulge, h.top = 0, 0
			if c.Family == analysis.Driver {
				h.transfer *= 0.88
			}
		},
		golfer: golfer{speed: 47, attack: 1 * deg, loft: -1 * deg, spread: skilled, match: 0.6, openLoft: 0.2, streak: 0.05},
		device: device{noise: 0.7},
	}
}

// pathHeavy is the other edge: shares down to the 0.61 of Wood, Henrikson &
// Broadie for the most lofted club, face and path that go their own ways.
func pathHeavy() *World {
	return &World{
		Name: "path heavy", Ball: analysis.NewBall,
		air: air{density: 1.225, viscosity: 1.46e-5}, law: tuned{quartic2004{}, 0.88, 0.92}, decay: decay{moment: 2.0e-5},
		contact: shared{gear: 0.6},
		change: func(c analysis.Club, h *head) {
			h.share -= 0.08
			if c.Family == analysis.Wedge {
				h.share = 0.67
			}
		},
		golfer: golfer{speed: 44, loft: 0.5 * deg, spread: loose, match: 0, swingToe: -0.2, streak: 0.20},
		device: device{noise: 1.2, metric: true},
	}
}

// skewed is a device set down a little askew, outdoors in a light air.
func skewed() *World {
	return &World{
		Name: "skewed", Ball: analysis.NewBall,
		air: air{density: 1.204, viscosity: 1.51e-5}, law: tuned{newTunnel1976(), 0.88, 0.97}, decay: decay{moment: 2.0e-5},
		contact: rigid{},
		change:  func(c analysis.Club, h *head) { h.bulge, h.top = h.bulge*1.1, h.top*1.2 },
		golfer:  golfer{speed: 46, attack: 0.5 * deg, spread: middling, match: 0.35, streak: 0.10},
		device:  device{noise: 1, askew: 0.7 * deg},
		wind:    0.6,
	}
}

// rough is a device with wild readings, and heads that twist easily, set deep:
// the most gear effect on the panel, a little of it in the irons too.
func rough() *World {
	return &World{
		Name: "rough", Ball: analysis.RangeBall,
		air: air{density: 1.24, viscosity: 1.43e-5}, law: tuned{indoor1998{}, 1.04, 0.98}, decay: decay{moment: 2.0e-5},
		contact: compliant{across: 0.85, damp: 0.3},
		change: func(c analysis.Club, h *head) {
			h.twist, h.tilt = h.twist*0.80, h.tilt*0.85
			h.bulge *= 0.7
			h.depth *= 1.1
			switch c.Family {
			case analysis.Driver:
				h.spin = 0.90
			case analysis.Iron:
				h.depth = 0.004
			}
		},
		golfer: golfer{speed: 46.5, spread: middling, match: 0.25, streak: 0.25},
		device: device{noise: 1, heavy: true},
	}
}

// gusty always has some wind, stronger higher up.
func gusty() *World {
	return &World{
		Name: "gusty", Ball: analysis.NewBall,
		air: air{density: 1.16, viscosity: 1.57e-5, shear: 1.0 / 7}, law: tuned{quartic2004{}, 0.92, 0.92}, decay: decay{share: 0.04},
		contact: rigid{},
		change: func(c analysis.Club, h *head) {
			if c.Family == analysis.Driver {
				h.spin = 0.92
			}
		},
		golfer: golfer{speed: 47, spread: loose, match: 0.4, tail: t5, streak: 0.15},
		device: device{noise: 1, metric: true},
		wind:   1.2,
		told:   true, kelvin: 301, metres: 150,
	}
}

// crisis is held out: a ball that loses its lift where it is slow, a springy
// face, too flat for its gear effect, that spins a driver's ball less, a golfer whose face runs from the path
// and whose loft opens with it.
func crisis() *World {
	return &World{
		Name: "crisis", HeldOut: true, Ball: analysis.NewBall,
		air: air{density: 1.21, viscosity: 1.50e-5}, law: tuned{crisis2020{}, 1.04, 0.96}, decay: decay{moment: 2.0e-5},
		contact: compliant{across: 0.90, damp: 0.25},
		change: func(c analysis.Club, h *head) {
			if c.Family == analysis.Driver {
				h.spin = 0.88
			}
			h.depth *= 1.1
			h.bulge *= 0.7
		},
		golfer: golfer{speed: 46, attack: -0.5 * deg, spread: middling, match: -0.2, openLoft: 0.4, tail: t5, streak: 0.25},
		device: device{noise: 1.1},
	}
}

// damp is held out: wet faces that a lofted club's ball slides up, range balls,
// warm high air, streaks, wild readings and a breath of wind.
func damp() *World {
	return &World{
		Name: "damp", HeldOut: true, Ball: analysis.RangeBall,
		air: air{density: 1.09, viscosity: 1.68e-5, shear: 0.1}, law: tuned{tunnel1994{}, 1.04, 0.92}, decay: decay{moment: 2.5e-5},
		contact: rigid{},
		change: func(c analysis.Club, h *head) {
			h.friction = 0.21
			if c.Family == analysis.Driver {
				h.spin = 0.94
			}
			h.twist *= 0.9
			h.bulge *= 0.85
		},
		golfer: golfer{speed: 46.5, spread: middling, match: 0.15, swingToe: 0.2, streak: 0.30},
		device: device{noise: 1, heavy: true, metric: true},
		wind:   0.5,
	}
}
