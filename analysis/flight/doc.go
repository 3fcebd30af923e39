// Package flight flies a golf ball from its launch to its landing, and bounces
// and rolls it to rest.
//
// # Equations
//
// With v the ball's velocity less the wind, V its size, omega the spin about a
// unit axis a that stays put in space, and A the cross-section of the ball:
//
//	drag        rho A CD V^2 / 2, against v
//	lift        rho A CL V^2 / 2, along a x v
//	weight      m g
//	spin        d(omega)/dt = -lambda V omega / r
//
// CD and CL are taken at the spin ratio S = r omega / V and the Reynolds number
// Re = rho V D / mu. Penner (2001), The physics of golf: the optimum loft of a
// driver, Am. J. Phys. 69:563, eqs 12-16 [S]. The part of the spin along the
// flight makes no lift. The ball is the heaviest and smallest the rules allow.
//
// # Coefficients
//
// Evidence is the default: the mean over published sources with random effects,
// at the spin ratio and Reynolds number where golf balls have them. How far the
// sources lie apart is what a verdict has to allow for (Model.Off).
// TestEvidenceIsTheMeanOfItsSources makes this table:
//
//	lift at S              0.05  0.10  0.15  0.20  0.25  0.30  0.40  0.50
//	Bearman, Harvey 1976      .  .169  .213  .252  .289  .320     .     .
//	Smits, Smith 1994      .163  .215  .253  .284  .310  .334  .374  .409
//	US 6,186,002, 2001     .119  .161  .210  .267     .     .     .     .
//	Quintavalla 2002       .127  .172  .216  .260  .304  .349     .     .
//	Naruo et al. 2004         .  .171  .215  .253  .284  .309  .339  .343
//	US 6,916,255, 2005        .  .162  .194  .226     .     .     .     .
//	USGA and R&A 2006         .  .131  .191  .232  .262  .285  .321  .349
//	Lyu et al. 2018        .091  .167  .225  .268  .294  .304     .     .
//	mean                   .125  .168  .215  .255  .291  .317  .345  .367
//	between sources        .028  .021  .016  .016  .014  .020  .025  .035
//
//	drag, balls since 2000
//	US 6,186,002, 2001     .232  .237  .258  .295     .     .     .     .
//	Quintavalla 2002       .202  .233  .264  .295  .326  .357     .     .
//	Naruo et al. 2004         .  .236  .257  .279  .301  .323  .368  .414
//	US 6,916,255, 2005        .  .220  .253  .287     .     .     .     .
//	USGA and R&A 2006         .  .216  .255  .285  .310  .330  .361  .384
//	mean                   .217  .228  .258  .288  .312  .337  .365  .399
//	between sources        .019     0     0     0  .008  .015     0  .019
//
// Where each was read is in Sources. Blended, which joins two of them, HighSpin,
// LowSpin, SmitsSmith and Patent are there to see how much hangs on the choice.
// Air comes from the standard atmosphere or the CIPM-2007 formula, wind from a
// logarithmic profile.
//
// # Numerics
//
// An embedded Runge-Kutta pair of order 5(4) with adaptive steps; apex and
// landing are found on its continuous extension. Over ball speeds of 15 to 95
// m/s, launches of 0 to 60 degrees, 0 to 13,000 rpm, tilts to 60 degrees and
// wind to 15 m/s the landing is within a centimetre of a reference at a
// tolerance of 1e-12. A flight allocates nothing.
//
// # Bounce and run
//
// Rest bounces a rigid sphere on a plane that leans toward it, with restitution
// and friction, then rolls it: Penner (2002) and Biber et al. (2023); see Turf.
// Between bounces it flies as it flew before, air and spin included: a hop of a
// drive loses a quarter of its speed to the air, and without that a low ball
// would run for ever.
//
// # What it is good for
//
// Golf shots from about 15 m/s up, on level ground. The distance standard of the
// R&A and USGA, of which no part was used, comes out within a yard of its 317. Single
// measurements of lift and drag are mostly within 0.03; the tests list each and
// what is missed. Production balls differ by as much:
// 18 m of carry at one launch (Lyu et al. 2018, Proceedings 2(6):238 [P]).
//
// # What is not modelled
//
// The drag crisis and the reversed lift of a slow ball near Re 5e4 to 7.5e4
// (Lyu, Kensrud and Smith 2020, Sports Eng. 23:3 [S]); the difference between
// balls, and range balls; a cold ball, which leaves the club slower; gusts,
// vertical wind and trees; rain; slopes; how firm or wet the turf is beyond the
// two turfs given; the ground beyond a bounce model fitted on one natural and
// one artificial tee.
//
// # Tags
//
// Constants and checks carry where they were seen: [P] the primary text, [S] a
// later text or open code that quotes it, [C] computed from the formulas here,
// [N] a published notice as reported, [M] memory.
package flight
