package cause

import "rangepost/analysis"

// A Verdict names whose yards the miss is.
type Verdict string

// The verdicts. A cause is named only when the balls and the model together
// make it probable enough.
const (
	Centred     Verdict = "centred"       // the miss is inside the practical zero
	Aim         Verdict = "aim"           // face and path off together: aimed there, or the device was
	Face        Verdict = "face"          // the face owns the most of it; the path may own some
	Path        Verdict = "path"          // the path owns the most of it; the face may own some
	FaceAndPath Verdict = "face_and_path" // each a third or more, the way of the miss
	Strike      Verdict = "strike"        // where on the face the ball was struck
	TooFew      Verdict = "too_few"       // limits too wide to choose
	Unmeasured  Verdict = "unmeasured"    // a needed number is missing
	TwoPatterns Verdict = "two_patterns"  // the balls are of two patterns, each judged by itself: Result.Parts
)

// Result is the cause of a pattern's sideways miss, and what would put it right.
type Result struct {
	Verdict  Verdict
	Inferred bool // face or path were worked back from the ball

	// Or is the neighbour that the verdict may be instead, "" when it stands
	// alone. Of face or path it is face and path (the other may have a share as
	// well) or aim (the other may be off with it).
	Or Verdict

	// Confidence is the probability over balls and model, 0..1, of exactly this
	// verdict, or of it and its neighbour; of too_few, that of the likeliest.
	Confidence float64

	// The miss and whose it is, m, positive right. Face + Path + Rest = Miss,
	// ball by ball and in the mean.
	Miss, Face, Path, Rest analysis.Estimate

	// Strike is the part of Rest that a measured strike, or a spin axis and a
	// start line off what face and path give, speak for. N is 0 without them.
	Strike analysis.Estimate

	// StrikeSide is the side of the face's middle the balls were struck on: as
	// measured, else where start line and spin axis tell it.
	StrikeSide Side

	// Wind is the part of Rest that the wind of the session speaks for, m; 0
	// when it was not said.
	Wind float64

	PracticalZero float64 // m: larger of 3 yd and 2 % of carry
	HalfWidth     float64 // m: the target's half-width the corridor is drawn for

	// The reference deliveries are judged against: the target line, or the
	// middle of the coach's brief.
	RefFace, RefPath float64 // rad

	// What one more unit (rad) of each is worth here, m of carry lateral.
	FaceWorth, PathWorth float64

	// WorthDoubt is how far PathWorth over FaceWorth may be off: a standard deviation
	// over the possible models.
	WorthDoubt float64

	Delivery [analysis.NumNumbers]analysis.Estimate // of the used balls, N = 0 where unknown
	Balls    []Split                                // per used ball with a full split

	Scatter   *Shares // of the sideways variance, nil when too few balls or not measured
	MoreBalls int     // balls more that would settle a too_few, 0 otherwise
	Missing   []analysis.Number

	Distance Distance
	Corridor Corridor
	WorkBack WorkBack

	// Parts are the results of the two patterns of the set (pattern.Pattern.Parts),
	// where it has two. What the whole is said to be then is of neither.
	Parts []Result

	Warnings []analysis.Warning
}

// A Split is one ball's miss and whose it was, m, positive right.
type Split struct {
	N                        int
	Face, Path               float64 // delivery, rad
	Miss, FaceM, PathM, Rest float64
	Strike                   float64 // of Rest, m
}

// Shares are fractions of the sideways variance; they are not negative and add
// up to 1.
type Shares struct {
	Face, Path, Strike, Speed, Unexplained float64
	PhysicsSlopes                          bool // few balls: slopes from the model, not fitted
}

// Distance is the cause of finishing short or long of the target carry.
type Distance struct {
	Known      bool // a target carry was said and carries were measured
	Verdict    DistanceVerdict
	Confidence float64           // probability of the verdict over balls and model
	Miss       analysis.Estimate // m, positive long

	// m owed to each, against the golfer's usual or the better of two kinds of
	// swing in the set, as the mean over what balls, reference and model leave
	// possible; Rest is what is left, another club's distance. They add up to the
	// mean miss of the balls they could be told of.
	Speed, Strike, Loft, Spin, Air, Rest analysis.Estimate

	// Clubless says that club speed was not measured: speed is then the ball's, and
	// what of it the club owes and what the strike is not known.
	Clubless bool

	// Said is what was said of air and ball speaks for, against the usual where it
	// is known. Spoken says that air and ball are named because of it: they explain
	// the miss, and no other owner is as likely.
	Said   Said
	Spoken bool

	Against int // earlier sessions that the usual is of, 0 when the set itself is all there is
}

// A DistanceVerdict names what owns a short or long carry.
type DistanceVerdict string

// The distance verdicts.
const (
	DistanceCentred DistanceVerdict = "centred"
	DistanceSpeed   DistanceVerdict = "speed"
	DistanceStrike  DistanceVerdict = "strike"
	DistanceLoft    DistanceVerdict = "loft"
	DistanceSpin    DistanceVerdict = "spin"
	DistanceAir     DistanceVerdict = "air" // wind, air or the ball itself
	DistanceClub    DistanceVerdict = "club"
	DistanceTwo     DistanceVerdict = "two_things" // a third of the miss each
	DistanceTooFew  DistanceVerdict = "luck"       // the limits of the miss have no miss in them
	DistanceUnknown DistanceVerdict = "not_known"  // a miss, and no owner probable enough
	DistanceNone    DistanceVerdict = "unmeasured"
)

// Corridor is the band of face and path that lands inside the target's
// half-width at this set's speed, attack and loft.
type Corridor struct {
	OK    bool
	Edges []CorridorEdge // by rising path
}

// CorridorEdge is the faces that find the target at one path, rad.
type CorridorEdge struct{ Path, FaceLow, FaceHigh float64 }

// WorkBack is what would put the centre on target, found by flying the ball
// until the miss is gone, less what a wind that was said has of it.
type WorkBack struct {
	OK bool

	// FaceBy and PathBy are what the verdict asks for, rad, positive right: the
	// number it names alone, or where that alone will not do, or both share the
	// miss, both by the same part of what each is off. Each is toward the target;
	// 0 is a number that stays.
	FaceBy, PathBy float64

	// FaceAlone and PathAlone are the change of one number that would do, rad,
	// positive right; not OK where none within 20 degrees does or its limits are
	// too wide to use: that number alone will not do.
	FaceAlone, PathAlone analysis.Estimate

	Number analysis.Number // the number that has to move: Face, Path, FaceToPath for both, StrikeToe

	// Tool is the setup tool worth a labelled trial, "" if none or where the aim, which
	// is looked to first, may be it, ToolShare what part
	// of the need it is expected to do, 1 for all of it, and Grounds what that
	// expectation rests on.
	Tool      analysis.Tool
	ToolShare float64
	Grounds   analysis.Grounds
}

// A Side is one of the two sides of a face, or neither told.
type Side int8

// The sides.
const (
	SideUnknown Side = 0
	Toe         Side = 1
	Heel        Side = -1
)
