package panel

import "rangepost/analysis"

// kinematic viscosity of air at 15 to 20 C, m2/s.
const thin = 1.50e-5

// Worlds are the panel, in a fixed order. The package comment has the table.
func Worlds() []*World {
	return []*World{
		{
			Name: "middle", Ball: analysis.NewBall,
			air: air{1.204, thin, 0}, law: tuned{quartic2004{}, 0.93, 0.90}, decay: decay{moment: 2.0e-5},
			contact: rigid{},
			golfer:  golfer{speed: 45, spread: middling, match: 0.3, streak: 0.10},
			device:  device{noise: 1},
		},
		{
			Name: "tunnel", Ball: analysis.NewBall,
			air: air{1.225, 1.46e-5, 0}, law: tuned{newTunnel1976(), 0.90, 1}, decay: decay{moment: 2.5e-5},
			contact: rigid{},
			change: func(_ analysis.Club, h *head) {
				h.grip = 0.06 // near rolling, as Penner has it
			},
			golfer: golfer{speed: 48, attack: 1 * deg, spread: skilled, match: 0.5, streak: 0},
			device: device{noise: 0.8, metric: true},
		},
		{
			Name: "still air", Ball: analysis.NewBall,
			air: air{1.18, 1.55e-5, 0}, law: stillAir2018{}, decay: decay{share: 0.04},
			contact: compliant{across: 0.60, damp: 0.3},
			golfer:  golfer{speed: 46, loft: -0.5 * deg, spread: middling, match: 0, openLoft: 0.3, streak: 0.20},
			device:  device{noise: 1},
			told:    true, kelvin: 298, metres: 50,
		},
		{
			Name: "shares", Ball: analysis.NewBall,
			air: air{1.204, thin, 0}, law: tunnel1994{}, decay: decay{moment: 2.0e-5},
			contact: shared{gear: 1},
			golfer:  golfer{speed: 44, attack: -1 * deg, spread: middling, match: 0.45, streak: 0.15},
			device:  device{noise: 1, metric: true},
		},
	}
}
