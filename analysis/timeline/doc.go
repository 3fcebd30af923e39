// Package timeline follows a student's numbers over sessions: means with
// honest limits, the effect of lessons, drift, trend, and briefs kept or not.
//
// # Sessions, not balls
//
// The balls of one session are not independent: the same day, the same warm-up
// and the same alignment move them together, and each resembles the one before
// (stat.StreakAcross). Nor are the sessions: the player changes. Every
// statement here rests on a level that walks,
//
//	session mean ~ N(level + effects of lessons, between + within/n)
//	next level   ~ N(level + trend, walk)
//
// the local-level model with interventions of Harvey (1989) and Durbin & Koopman
// (2012) (stat.LocalLevel), where within is the variance of one ball in its
// session and n counts the balls that are as good as independent. Sixty balls
// of one evening weigh little more than twenty, and last week more than last
// year. A Welch test on the balls before and after a lesson finds effects that
// are not there; the test in this package has such a case.
//
// # Lesson
//
// The effect of a lesson may come at once, bit by bit, or go again (form.go).
// How much the level walks, whether it was moving anyway and which form an
// effect has are not known: each is weighed by its restricted likelihood and
// by what is thought of golfers beforehand (walk.go), and limits are those of
// the mixture of Student's t that comes of it. It takes three sessions on
// either side. Lessons with fewer between them share what they did, and the one
// before may still be at work: its effect comes or goes on in a form of its own.
//
// A change is told by how many times likelier the sessions are with an effect
// than with none, where a level without one may walk. It is credited to the
// lesson only where they are so too against a level that most likely was moving
// anyway. Else the number changed, or was moving already, and which cannot be
// said: 2 degrees that come at once and 0.25 a session that come anyway are 1.8
// standard errors apart in six and six sessions [C], so that no test credits the
// one in seven of ten and the other in one of twenty.
//
// The effect is judged at fixed numbers of sessions after the lesson, each at
// its own level (effect.go), so that a look after every post finds no more
// than one look. What was found stays found, whatever comes after; what is
// left of it is said beside it. A lesson booked after bad sessions looks
// effective whatever it did, because the next would have been nearer the mean
// anyway (Galton 1886): a level that may have walked there takes that into its
// limits.
//
// # How narrow limits can be
//
// With as many sessions on either side, 6 to 20, the limits of an effect hold 93
// to 97 % of golfers whose level walks by 0.2 degrees a session, and 96 to 99 % of
// those whose level does not: few sessions do not tell the one from the other. An
// oracle that knows everything of a golfer but the level and the effect has these
// limits (TestSimulatedOracle, 4,000 golfers of each kind; half of the limits of
// face-to-path, in degrees):
//
//	sessions   level stands still   level walks     the most powerful   taken for the other kind,
//	a side     oracle    ours       oracle   ours   test tells a walk   the oracle's hold of still, walking
//	 6         1.05      1.49       1.29     1.55    7 %                98.0 %  88.5 %
//	10         0.81      1.17       1.21     1.28   14 %                99.0 %  78.0 %
//	20         0.57      1.01       1.19     1.19   40 %                99.5 %  52.6 %
//
// The test is wrong of one in twenty who stand still. So ours are as wide as those
// of a golfer who walks have to be, and six a side pay for days and trends besides,
// which are not known either. What makes all of it hold 93 to 97 % was looked for
// among golfers of another hand, 500 to 1,000 of each world and number of sessions,
// and judged by as many others. A level that goes by the chance of a walk, with
// none at all among the walks or not, leaves walkers at 92 % for 98 of the others.
// A long walk for everybody (.12 for all of walks) does come to 94.8 to 97.0 % with
// twenty a side, since it goes by the sessions next to the lesson alone; but who
// stands still then has limits an eighth wider, about an effect that is a third
// further off: they hold less often because they know less.
//
// # Drift and trend
//
// Drift follows the level of the same model from session to session. A shift is
// told by a step with any of the last dozen sessions (drift.go) and held
// against the level before it: it stands, however many sessions follow, until
// the level comes back or somebody has noted it. A lesson explains the shift
// that begins with it if it came after a pause; where lessons come every few
// sessions, they explain none. Trend is Theil & Sen's slope with Mann & Kendall's
// test over all sessions.
//
// # Briefs
//
// A brief is settled once: with the balls it asks for, with twice or four times
// as many where those do not say, or with its date (standing.go).
package timeline
