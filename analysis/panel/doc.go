// Package panel is test support: a panel of worlds, each with a flight, an
// impact, a golfer and a device of its own. A world hands over sessions as a
// device's file would and knows the truth of them: not by a formula, but by
// flying each ball again without what is asked about. None of its physics is the
// product's, and it imports none of it; what the product says of a session is
// judged by the world the session came from.
//
// Two worlds are held out: nothing is ever tuned on them, and what is promised
// is reported for them apart.
//
// # Worlds
//
//	world       flight                        impact                        golfer                    device
//	middle      Naruo et al. 2004             rigid, gripping               middling, r .3, streak .1 usual
//	tunnel      Bearman & Harvey 1976         rigid, rolling                skilled, r .5             good, metric
//	still air   Lyu et al. 2018               compliant                     middling, r 0, streak .2  usual
//	shares      Smits & Smith 1994            shares, full gear             middling, r .45, .15      usual, metric
//	mat         US 6,186,002; range ball      rigid, flat faces, no gear    middling t5, r .2, .35    noisy
//	face heavy  Lyu et al. 2018               shares +.05, no gear          skilled, r .6, .05        good
//	path heavy  Naruo et al. 2004             shares -.08, some gear        loose, r 0, .2            noisy, metric
//	skewed      Bearman & Harvey 1976, breeze rigid, rounder faces          middling, r .35, .1       0.7 deg askew
//	rough       US 6,186,002; range ball      compliant, light deep heads   middling, r .25, .25      wild readings
//	gusty       Naruo et al. 2004, wind       rigid, less driver spin       loose t5, r .4, .15       usual, metric
//	crisis*     Lyu et al. 2020               compliant, less driver spin   middling t5, r -.2, .25   usual
//	damp*       Smits & Smith; range ball,    rigid, friction .21           middling, r .15, .3       wild, metric
//	            breeze, thin air
//
// An asterisk is a world held out; r is the correlation of face and path, the
// number after it that of a ball with the one before. Middling is 1.5 deg of
// path, 1.7 of face and 8 mm across the face; in some worlds loft goes with face
// and strike with path.
//
// # Sources
//
// [P] is a primary text read, [S] seen in a later text, [C] computed from a
// stated formula, [M] from memory. What is only common practice says so where
// it stands.
//
//	Bearman & Harvey, Golf ball aerodynamics, Aeronaut. Q. 27 (1976) 112 [S]
//	Smits & Smith, A new aerodynamic model of a golf ball in flight, Science and Golf II (1994) 340 [S]
//	Naruo, Mizota & Shimozono, Trans. JSME B 70 (2004) 2371 [S]
//	Lyu, Kensrud, Smith & Tosaya, Aerodynamics of golf balls in still air, Proceedings 2(6) (2018) 238 [S; abstract P]
//	Lyu, Kensrud & Smith, The reverse Magnus effect in golf balls, Sports Eng. 23 (2020) 3 [S]
//	Lieberman, Smits, Quintavalla, Thomas & Winfield, US 6,186,002 (2001): example regression [S]
//	Tavares, Shannon & Melvin, Golf ball spin decay model, Science and Golf III (1999) 464 [S]
//	Penner, The physics of golf: the convex face of a driver, Am. J. Phys. 69 (2001) 1073 [M]
//	Cross & Nathan, Experimental study of the gear effect, Am. J. Phys. 75 (2007) 658 [S]
//	Cross & Dewhurst, Launch speed and angle in golf, Eur. J. Phys. 39 (2018) [S]
//	Wood, Henrikson & Broadie, face angle and club path, Proceedings 2(6) (2018) 249 [abstract P]
//	Henrikson, Wood, Broadie & Nuttall, friction and tangential compliance, Proceedings 49 (2020) 27 [S]
//	Maw, Barber & Fawcett, The oblique impact of elastic spheres, Wear 38 (1976) 101 [M]
//
// Each ball is a published law times a factor of its own within 0.12 of 1. Balls
// of one time differ by some 0.02 of either coefficient [S: Lyu et al. 2018],
// and a ball of 1976 has a quarter more drag than today's [S: Kensrud's thesis,
// 2010]. Range balls have the larger drag and less restitution.
//
// # Truth
//
// Face, path and launch are about the true target line, also where the device's
// is askew. The long run is the mean over 64 balls spread evenly over the
// golfer's distribution, in pairs opposite about the mean. A miss is shared
// between face and path by Shapley's value over four flights; the rest is what is
// left with both at the target line, of which the strike has what goes when the
// ball is struck in the middle, and the wind what goes in still air.
//
// # Length, shapes, mixtures and faults
//
// A LengthCase finishes off its target carry for a reason: speed, loft, strike
// or spin off in some of the balls or all, wind, thin or cold air, range balls,
// another club's target, two of these, or nothing. The golfer's usual is known:
// the mean of the long run with nothing off, at which the target is set. The miss
// is shared by Shapley's value over all that was off, each ball flown by the
// world with every part of it; what is left is the club's. Half the cases hand
// over three earlier sessions. Spin is changed at the launch alone: a wet face's
// higher launch is left out.
//
// A ShapeCase has balls spread normally, with heavy tails, skew or as a wide
// slice, of which none is a mishit, or true tops, duffs, thin balls and shanks
// among them. A MixCase has two swings in it. A FaultCase has a device's error in
// a ball or a column, and says whether other columns contradict it.
//
// Wind, speed and air are held to published figures: see length_test.go.
package panel
