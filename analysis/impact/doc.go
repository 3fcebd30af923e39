// Package impact turns what a club does at impact into what the ball does just
// after it, and back again.
//
// # Forwards
//
// A rigid head of mass M meets a ball of mass m and radius r that grips the
// face. With n the face normal and d the head's direction of motion,
//
//	n = (cos L cos F, cos L sin F, sin L)    L dynamic loft, F face
//	d = (cos a cos P, cos a sin P, sin a)    a attack, P path
//	cosPhi = n.d                             Phi is the spin loft
//	A = (1 + e)/(1 + m/M)                    e restitution
//	c = (1 + et)/(1 + m/M + 5/2 + m C^2/I)   et tangential restitution
//
// where C is how far behind the face the centre of gravity is and I the moment of
// inertia that a pull along the face turns the head against, the ball leaves, from a
// head moving at V, with
//
//	velocity   V [(A - c) cosPhi n + c d]
//	spin       c V sinPhi / (0.4 r), about an axis square to n and d
//
// This is Penner (2001), The physics of golf: the optimum loft of a driver, Am.
// J. Phys. 69:563 [S], written in vectors [C], with a head that turns by the pull as
// well [C]: one that turns more easily up and down than across, as woods do, gives
// their ball a fortieth more of its motion across the face. That velocity and spin lie in
// and square to the plane of n and d is an idea of Jorgensen's, The Physics of
// Golf [M]. Friction can give no more than mu A cosPhi, so c is never more than
// mu A / tanPhi: mu 0.40, Henrikson et al. (2020), Proceedings 49(1):27 [S].
//
// A strike an arm b off the centre of gravity meets less mass,
// 1/(1/M + b^2/I), a face turned by its bulge and roll, and a gear effect: the
// ball's push on a free head, m A cosPhi V, turns it by b/I of that, its face slides
// along by C times the turn, C the depth of the centre of gravity, and drags the ball
// with it. One pull along the face gives the ball speed and spin, 2/5 r of speed for
// each of spin as above, so that gear effect moves the start line too, to the side
// that bulge does and about a third as far with a driver. Of the spin m A V C b/(I r)
// a share is taken, GearScale; a ball that rolls takes (5/2)/(7/2 + m/M + m C^2/I),
// 0.65 for a driver. Conservation about the point of contact [C], as Cross and Nathan
// (2007), Experimental study of the gear effect in ball collisions, Am. J. Phys.
// 75:658 [M].
//
// # Calibration
//
// Two numbers bring the rigid contact to what is measured. Sideways multiplies
// what of the head's motion across the face reaches the ball, so that the start
// direction is shared between face and path as the mean of what is published has
// it: Wood, Henrikson and Broadie (2018), Proceedings 2(6):249, and four others,
// in a table at the constant. SpinScale multiplies the spin, by family of club; a
// driver's is the mean of three sources. A spin that was measured should always
// replace the model's. Of friction one source was found, and of tangential
// restitution none that could be read: it is 0, and Sideways and SpinScale stand
// in for what it would do.
//
// The spin axis keeps to the plane of n and d, but for what a head gives way more up
// than across. Its tilt (Launch.Axis) is about
// the direction the ball leaves in; above the horizon it is less, sin(tilt)
// cos(launch). For small angles tan(tilt) is tan(F - P)/tan(Phi).
//
// # Backwards
//
// Infer takes what was measured of ball and club and finds the most probable
// delivery, with limits that carry the noise of the device, what the model
// does not know of the head, and an unknown strike. What the balls of a set
// share is kept apart, because more balls do not make it smaller. Where club and
// ball speed say how far off the middle a ball was struck and not to which side,
// the whole face is weighed. Otherwise the limits are those of a linear problem; in simulation over random golfers, heads and
// strikes they hold the truth 93 to 97 % of the time for every class of club.
//
// # What it is good for
//
// Full swings with spin lofts of about 5 to 60 degrees. Beyond the grip limit
// (about 60 degrees with a wedge) friction has no more spin to give, two lofts
// give the same spin, and loft cannot be told from it. With drivers and fairway woods a strike a
// centimetre off tilts the axis by ten degrees and more, so that without a
// measured strike the path of one ball cannot be told; Infer says so.
//
// # What is not modelled
//
// Flex of head, face and shaft; the head turning and closing during contact; the
// give of the ball along the face (it is why Sideways is needed); restitution
// falling with speed and toward the edge of the face; grass and water between
// ball and face; lie angle, other than through the face angle it makes; grooves.
// Whether a device gives the face at its middle or where the ball was struck
// differs from device to device; here it is the middle, and bulge comes on top.
//
// Constants and checks carry where they were seen: [P] the primary text, [S] a
// later text or open code that quotes it, [C] computed from the formulas here,
// [M] memory.
package impact
