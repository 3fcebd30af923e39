package words

import (
	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/challenge"
	"rangepost/analysis/impact"
	"rangepost/analysis/integrity"
	"rangepost/analysis/pattern"
	"rangepost/analysis/plan"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
)

// caveats has a sentence for every warning code of the analysis packages. A
// test reads their sources and fails when one is missing here.
var caveats = map[string]func(v Voice, w analysis.Warning) string{
	pattern.FewBalls: func(v Voice, w analysis.Warning) string {
		if w.Count == 0 {
			return "No ball has a landing place, so there is no pattern to draw."
		}
		return sentence(balls(w.Count)) + " with a landing place: too few to draw where the next one falls."
	},
	pattern.NoSpread: func(v Voice, w analysis.Warning) string {
		return "The balls lie on one spot or one line, so the file may hold repeated rows; no region is drawn."
	},
	pattern.NoLateral: func(v Voice, w analysis.Warning) string {
		return sentence(balls(w.Count)) + " without a sideways finish, left out of the centre."
	},
	// A trial warns by the same code, with no count, that it has no carry to
	// measure a sideways change by.
	pattern.NoCarry: func(v Voice, w analysis.Warning) string {
		if w.Count == 0 {
			return "Carry was not measured, so " + v.Distance(3*analysis.Yard) + " is taken as the sideways change that matters."
		}
		return sentence(balls(w.Count)) + " without a carry, left out of the distance."
	},
	pattern.Flown: func(v Voice, w analysis.Warning) string {
		return "Where " + balls(w.Count) + " landed is worked out from the launch, not measured."
	},
	pattern.ManyMishits: func(v Voice, w analysis.Warning) string {
		return Count(w.Count, "mishit") + " is a quarter of the balls or more: what is said of the others is of the good ones alone."
	},

	pattern.TwoPatterns: func(v Voice, w analysis.Warning) string {
		return "Two patterns in one set are told apart by the " + w.Number.Short() + "; what is said of the set as a whole is of neither."
	},

	pattern.Streaks: func(v Voice, w analysis.Warning) string {
		return "Your balls came in streaks, each much like the one before, so they count as about " + balls(w.Count) + " that do not."
	},

	cause.NotSplit: func(v Voice, w analysis.Warning) string {
		return sentence(balls(w.Count)) + " without face or path, left out of the cause."
	},
	cause.Unexplained: func(v Voice, w analysis.Warning) string {
		if w.Number == analysis.StrikeToe {
			return "Most of the miss is in neither face nor path: look to the wind, the ball and the device before the swing. A column of the strike would tell its share."
		}
		return "Most of the miss is in neither face, path nor strike: look to the wind, the ball and the device before the swing."
	},
	cause.ModelLimits: func(v Voice, w analysis.Warning) string {
		return "More balls alone would not settle the cause: two answers lie closer together than what is known of this club, ball and air tells apart."
	},
	cause.RangeBalls: func(v Voice, w analysis.Warning) string {
		return "Range balls fly shorter than new ones, so these distances compare only with other range balls; what the club did compares with everything."
	},
	cause.PresumedLoft: func(v Voice, w analysis.Warning) string {
		if w.Number == analysis.LaunchAngle {
			return "Dynamic loft was not measured for " + balls(w.Count) + "; what the launch points to stands in."
		}
		return "Dynamic loft was not measured for " + balls(w.Count) + "; what is usual for the club stands in."
	},

	cause.PresumedSpeed: func(v Voice, w analysis.Warning) string {
		return "No speed was measured for " + balls(w.Count) + "; what the carry asks for stands in."
	},

	impact.StrikeUnknown: func(v Voice, w analysis.Warning) string {
		return singly(w) + ": where the face was struck was not measured, and that moves the ball as face and path do. Columns of the strike, or of face and path, would tell it."
	},
	impact.AxisUnknown: func(v Voice, w analysis.Warning) string {
		return singly(w) + ": the tilt of the spin was not measured. A column of the spin axis, or of face and path, would tell it."
	},
	impact.TooNoisy: func(v Voice, w analysis.Warning) string {
		return singly(w) + ": what was measured leaves more than four degrees to either side. Columns of face and path would tell it."
	},
	impact.UsualLoft: func(v Voice, w analysis.Warning) string {
		return "Neither spin nor loft was measured for " + balls(w.Count) + ", so the club's usual attack stands in."
	},
	impact.Sliding: func(v Voice, w analysis.Warning) string {
		return "The loft worked back may be off for " + balls(w.Count) + ": a ball that slides up the face spins no more for more loft."
	},
	impact.Misfit: func(v Voice, w analysis.Warning) string {
		return "No likely delivery sends a ball as " + balls(w.Count) + " went: a number may be misread, or the club is not the one named."
	},

	trial.OtherClub: func(v Voice, w analysis.Warning) string {
		return Count(w.Count, "set") + " with another club left out of the trial: only like clubs compare."
	},
	trial.SmallSets: func(v Voice, w analysis.Warning) string {
		return Count(w.Count, "set") + " of under five balls: such a set proves very little."
	},
	trial.OneAfterOther: func(v Voice, w analysis.Warning) string {
		return "The sets were hit one after the other, so warming up or tiring looks like a change; next time take turns, a few balls of each."
	},
	trial.NotCompared: func(v Voice, w analysis.Warning) string {
		return sentence(w.Number.String()) + " was not measured on both sides, so it is not compared."
	},
	trial.Shape: func(v Voice, w analysis.Warning) string {
		return "That " + w.Number.Short() + " moved rests on a few far balls: dealing the same balls out at random does not show it. Take it with care."
	},
	trial.SpreadsDiffer: func(v Voice, w analysis.Warning) string {
		return "The sets scatter differently in " + w.Number.Short() + ", so its limits are rougher than they look."
	},

	plan.ManyBalls: func(v Voice, w analysis.Warning) string {
		return sentence(balls(w.Count)) + " is a lot to hit for one answer. A larger change to look for needs far fewer."
	},
	plan.WeakPlan: func(v Voice, w analysis.Warning) string {
		return "So small a change of " + w.Number.Short() + " hardly shows with these balls: not in half of such plans."
	},
	plan.UsualScatter: func(v Voice, w analysis.Warning) string {
		return "The balls were reckoned from how a usual golfer scatters, as too few of yours are known; yours may need more or fewer."
	},

	timeline.OtherBall: func(v Voice, w analysis.Warning) string {
		return Count(w.Count, "session") + " with another kind of ball left out: distances compare only within one."
	},
	timeline.OtherAir: func(v Voice, w analysis.Warning) string {
		return Count(w.Count, "session") + " in unknown or other air: distances there may be a little longer or shorter for that alone."
	},
	integrity.Missing: func(v Voice, w analysis.Warning) string {
		return "By the file's own counting, between its first shot and its last " + balls(w.Count) + " missing."
	},
	integrity.StartsLate: func(v Voice, w analysis.Warning) string {
		return "By the file's own counting, before its first shot " + balls(w.Count) + " missing."
	},
	integrity.Repeated: func(v Voice, w analysis.Warning) string {
		return sentence(balls(w.Count)) + " with the shot number of another in the file."
	},
	integrity.TimesBack: func(v Voice, w analysis.Warning) string {
		return "The times in the file go back at " + balls(w.Count) + "."
	},
	integrity.Alike: func(v Voice, w analysis.Warning) string {
		return sentence(balls(w.Count)) + " nearly the same as another in all that the club did, or the ball: rows may be in the file twice."
	},
	integrity.SideOff: func(v Voice, w analysis.Warning) string {
		return "Where the balls finished sideways does not go with how they started and curved: that column may be in another unit, or turned round."
	},
	integrity.CarryOff: func(v Voice, w analysis.Warning) string {
		return "How far the balls carried does not go with their speed, launch and spin: that column may be in another unit."
	},
	integrity.Otherwise: func(v Voice, w analysis.Warning) string {
		return sentence(balls(w.Count)) + " with a figure written to other decimals than the rest of its column."
	},

	challenge.ManyUnmeasured: func(v Voice, w analysis.Warning) string {
		return sentence(balls(w.Count)) + " of those that count without a figure."
	},
	challenge.NotMeasured: func(v Voice, w analysis.Warning) string {
		return "What is scored here was not measured in " + Count(w.Count, "session") + " posted before."
	},
	challenge.StrayBalls: func(v Voice, w analysis.Warning) string {
		return sentence(balls(w.Count)) + " called another club's, one by one among those that count."
	},
	challenge.LikeAnothers: func(v Voice, w analysis.Warning) string {
		return "The balls are more like those of another entry than two people's are."
	},
	challenge.LeftBefore: func(v Voice, w analysis.Warning) string {
		return "An entry or an announcement was taken back before, or a session posted since the opening deleted."
	},
	challenge.DatedAhead: func(v Voice, w analysis.Warning) string {
		return "The file says that it was hit after it was posted."
	},
	challenge.Undated: func(v Voice, w analysis.Warning) string {
		return "The file does not say when it was hit, and the player's other files do."
	},
	challenge.TypedIn: func(v Voice, w analysis.Warning) string {
		return "The balls were typed or pasted, not handed over as a file."
	},
	challenge.PostedLate: func(v Voice, w analysis.Warning) string {
		return "The session was posted later than the rules allow after it was announced."
	},
	challenge.NotHalf: func(v Voice, w analysis.Warning) string {
		if w.Count == challenge.HalfShots {
			return "The file leaves it open whether the two drawn balls are half shots."
		}
		return "The file leaves it open whether one of the two drawn balls is a half shot."
	},
	challenge.OtherHalf: func(v Voice, w analysis.Warning) string {
		return sentence(balls(w.Count)) + " besides the drawn ones as short as half shots."
	},
	challenge.AnnouncedAgain: func(v Voice, w analysis.Warning) string {
		return "A session for it was announced before, and not entered: if that was hit and kept back, this is the better of two. Ask what became of it."
	},

	timeline.OneBall: func(v Voice, w analysis.Warning) string {
		return "No session has two balls with this number, so nothing is known of how it varies within one."
	},
}

// singly says that a number cannot be told of single balls; the mean of the set
// rests on all of them and may well be.
func singly(w analysis.Warning) string {
	return "Ball by ball the " + w.Number.String() + " cannot be told (" + balls(w.Count) + ")"
}

// balls says how many balls a warning is about; one that counts none is about
// single balls and says "some balls".
func balls(n int) string {
	if n == 0 {
		return "some balls"
	}
	return Count(n, "ball")
}

// Caveats say what the data cannot say, a line a warning, each only once.
func (v Voice) Caveats(warnings ...[]analysis.Warning) []string {
	var lines []string
	said := map[string]bool{}
	for _, ws := range warnings {
		for _, w := range ws {
			line := "Something about this data asks for care (" + w.Code + ")."
			if say, ok := caveats[w.Code]; ok {
				line = say(v, w)
			}
			if !said[line] {
				said[line] = true
				lines = append(lines, line)
			}
		}
	}
	return lines
}
