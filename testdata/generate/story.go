package main

import (
	"time"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/flight"
	"rangepost/analysis/player"
)

// A visit is one session file: who hit it, with what, and the shape it is
// exported in.
type visit struct {
	file  string
	who   golfer
	day   int // of June 2026
	seed  uint64
	ball  analysis.Ball
	parts []part
	shape shape

	misreads []misread   // what the device got wrong
	wind     flight.Wind // beside that of the golfer's world, said in the note
	target   float64     // carry aimed at, yd, 0 for none said

	// What the story says of the first part, and what to answer when the reader
	// asks: a left-handed golfer's signs cannot be told from the file, nor those
	// of five balls.
	verdict  cause.Verdict
	inferred bool
	length   cause.DistanceVerdict
	answers  map[string]string
}

// A golfer is a student. Each has clubs and a world of their own.
type golfer struct {
	name  string
	hand  analysis.Hand
	seed  uint64  // of the world their balls fly in
	skill float64 // of player.TypicalSpread
	speed float64 // of the club, against player.Typical
}

var (
	wren   = golfer{"Wren", analysis.RightHanded, 11, 0.8, 1}
	tamsin = golfer{"Tamsin", analysis.LeftHanded, 12, 0.8, 1}
	odell  = golfer{"Odell", analysis.RightHanded, 13, 0.8, 1}
	priya  = golfer{"Priya", analysis.RightHanded, 14, 1, 0.9}
)

// A part is a run of balls with one club under one label.
type part struct {
	club  string
	label string
	balls int

	// The mean delivery, deg right of target, and what else is not usual for
	// the club.
	face, path float64
	attack     float64 // deg, added
	loft       float64 // deg, added
	speed      float64 // factor, 0 is 1
	mishits    float64 // share of balls
}

// A misread is a number of one ball that the device got wrong, SI.
type misread struct {
	ball   int // from 1
	number analysis.Number
	value  float64
}

// story is the fortnight. Wren's 7-iron starts right with an open face; the
// first trial of a stronger grip moves the face, the path follows it, and the
// balls finish where they did; by the second the path has stayed. Tamsin's
// driver path runs across to the right, so the ball curves left; then her
// alignment is off, and on her last day her swing is slow. Odell's device sees only the ball. Priya brings five balls,
// then two a set, then enough; on one file her device slips twice, one
// has two swings in it; then she plays shots on request and they come, as Tamsin's
// do not; and on the last the wind blows.
var story = []visit{
	{file: "wren-1-first.csv", who: wren, day: 1, seed: 101, ball: analysis.RangeBall, verdict: cause.Face,
		parts: []part{{club: "7i", balls: 20, face: 3.2, path: 0.6, mishits: 0.06}},
		shape: shape{columns: letters(imperial(clubAndBall)), comma: ','}},
	{file: "wren-2-german.csv", who: wren, day: 3, seed: 102, ball: analysis.RangeBall, verdict: cause.Face,
		parts: []part{{club: "7i", balls: 18, face: 3.0, path: 0.2}},
		shape: shape{columns: german(metric(clubAndBall)), heads: []string{"Schlag", "Uhrzeit", "Schläger"}, comma: ';', decimalComma: true}},
	{file: "wren-3-before-lesson.csv", who: wren, day: 4, seed: 103, ball: analysis.RangeBall, verdict: cause.Face,
		parts: []part{{club: "7i", balls: 16, face: 3.4, path: 0.9}},
		shape: shape{columns: letters(imperial(clubAndBall)), comma: ',', unitRow: true}},
	{file: "wren-4-grip-trial.tsv", who: wren, day: 6, seed: 104, ball: analysis.RangeBall, verdict: cause.Face,
		parts: alternating(20, 4,
			part{club: "7i", label: "normal", face: 3.1, path: 0.5},
			part{club: "7i", label: "strong grip", face: 0.9, path: -4.9, speed: 0.985}),
		shape: shape{columns: imperial(clubAndBall), comma: '\t', label: "Set"}},
	{file: "wren-5-second-trial.csv", who: wren, day: 9, seed: 105, ball: analysis.RangeBall, verdict: cause.Face,
		parts: alternating(20, 5,
			part{club: "7i", label: "normal", face: 3.0, path: 0.4},
			part{club: "7i", label: "strong grip", face: 0.5, path: 0.2}),
		shape: shape{columns: imperial(clubAndBall), comma: ',', label: "Tag", utf16: true}},
	{file: "wren-6-theory.json", who: wren, day: 11, seed: 106, ball: analysis.NewBall, verdict: cause.Centred,
		parts: alternating(20, 5,
			part{club: "7i", label: "as usual", face: 0.1, path: 0.1},
			part{club: "7i", label: "quiet back elbow", face: 0.2, path: 0.2}),
		shape: shape{columns: imperial(clubAndBall), label: "label", json: true}},
	{file: "wren-7-last.csv.gz", who: wren, day: 14, seed: 107, ball: analysis.NewBall, verdict: cause.Centred,
		parts: []part{{club: "7i", balls: 24, face: 0.2, path: 0.4}},
		shape: shape{columns: letters(imperial(clubAndBall)), comma: ',', gzip: true, summary: true}},

	{file: "tamsin-1-driver.csv", who: tamsin, day: 2, seed: 201, ball: analysis.RangeBall, verdict: cause.Path,
		parts: []part{{club: "driver", balls: 22, face: 0.1, path: 5.5}},
		shape: shape{columns: french(imperial(clubAndBall)), heads: []string{"Coup", "Heure", "Club"},
			comma: ';', decimalComma: true, windows1252: true},
		answers: map[string]string{"signs": "target"}},
	{file: "tamsin-2-alignment.xlsx", who: tamsin, day: 7, seed: 202, ball: analysis.NewBall, verdict: cause.Aim,
		parts: []part{{club: "6i", balls: 20, face: 4.2, path: 4.4}},
		shape: shape{columns: imperial(clubAndBall), xlsx: true}, answers: map[string]string{"signs": "target"}},
	{file: "tamsin-3-driver.zip", who: tamsin, day: 12, seed: 205, ball: analysis.RangeBall, verdict: cause.Centred,
		parts: []part{{club: "driver", balls: 32, face: 0.4, path: 0.7}},
		shape: shape{columns: letters(imperial(clubAndBall)), comma: ',', zip: true}},
	{file: "tamsin-4-slow.csv", who: tamsin, day: 14, seed: 206, ball: analysis.RangeBall, verdict: cause.Centred,
		parts: []part{{club: "driver", balls: 24, face: 0.3, path: 0.5, speed: 0.92}}, target: 198, length: cause.DistanceSpeed,
		shape: shape{columns: letters(imperial(clubAndBall)), comma: ','}},

	{file: "tamsin-5-shots.csv", who: tamsin, day: 14, seed: 207, ball: analysis.RangeBall, verdict: cause.Centred,
		parts: []part{{club: "7i", balls: 10, face: 0.3, path: 0.5}, {club: "7i", balls: 10, face: 0.6, path: 0.2}, {club: "7i", balls: 10, face: 0.1, path: 0.8}},
		shape: shape{columns: letters(imperial(clubAndBall)), comma: ','}},

	{file: "odell-1-wedge.csv", who: odell, day: 3, seed: 301, ball: analysis.NewBall, verdict: cause.Face, inferred: true,
		parts: []part{{club: "pw", balls: 26, face: -4.6, path: -1.6}},
		shape: shape{columns: letters(mixed(ballOnly)), comma: ',', preamble: true}},
	{file: "odell-2-wedge.csv", who: odell, day: 10, seed: 302, ball: analysis.NewBall, verdict: cause.Centred, inferred: true,
		parts: []part{{club: "pw", balls: 24, face: 0.1, path: 0.4}},
		shape: shape{columns: letters(mixed(ballOnly)), comma: ',', preamble: true, summary: true}},

	{file: "priya-1-five.csv", who: priya, day: 4, seed: 401, ball: analysis.RangeBall, verdict: cause.TooFew,
		parts: []part{{club: "7i", balls: 5, face: 0.8, path: -1}, {club: "5i", balls: 5, face: 0.9, path: -1.2}},
		shape: shape{columns: imperial(clubAndBall), comma: '|'}, answers: map[string]string{"signs": "target", "signs:path": "target"}},
	{file: "priya-2-hurried.csv", who: priya, day: 8, seed: 402, ball: analysis.RangeBall, verdict: cause.TooFew,
		parts: []part{{club: "7i", label: "normal", balls: 2, face: 1.5, path: -1.5},
			{club: "7i", label: "ball forward", balls: 2, face: 2.2, path: -3, attack: 1.2},
			{club: "7i", label: "ball back", balls: 2, face: 0.8, path: 0.2, attack: -1.3}},
		shape: shape{columns: letters(imperial(clubAndBall)), comma: ',', label: "Drill"}},
	{file: "priya-3-draw.json", who: priya, day: 13, seed: 403, ball: analysis.NewBall, verdict: cause.Centred,
		parts: []part{{club: "7i", balls: 30, face: 1.75, path: 3.3}},
		shape: shape{columns: metric(clubAndBall), json: true}},
	{file: "priya-4-device.csv", who: priya, day: 13, seed: 404, ball: analysis.RangeBall, verdict: cause.Face,
		parts:    []part{{club: "7i", balls: 16, face: 3.2, path: 0.4}},
		shape:    shape{columns: letters(imperial(clubAndBall)), comma: ','},
		misreads: []misread{{6, analysis.Path, -34 * analysis.Degree}, {11, analysis.Spin, 2900 * analysis.RevPerMinute}}},
	{file: "priya-5-two-swings.csv", who: priya, day: 14, seed: 404, ball: analysis.RangeBall, verdict: cause.TwoPatterns,
		parts: []part{{club: "7i", balls: 12, face: 0.5, path: -9}, {club: "7i", balls: 12, face: 1, path: 11}},
		shape: shape{columns: letters(imperial(clubAndBall)), comma: ','}},
	{file: "priya-7-shots.csv", who: priya, day: 14, seed: 408, ball: analysis.NewBall, verdict: cause.TooFew,
		parts: []part{{club: "7i", label: "normal", balls: 10, face: 0.2, path: 0.3}, {club: "7i", label: "draw 8", balls: 10, face: 2.2, path: 6},
			{club: "7i", label: "fade 8", balls: 10, face: -2.2, path: -5.6}, {club: "7i", label: "low", balls: 10, face: -0.4, path: -2.4, loft: -6}},
		shape: shape{columns: letters(imperial(clubAndBall)), comma: ',', label: "Set"}},
	{file: "priya-6-windy.csv", who: priya, day: 14, seed: 405, ball: analysis.NewBall, verdict: cause.Unmeasured,
		parts: []part{{club: "7i", balls: 20, face: 0.2, path: 0.4}}, wind: flight.Wind{Speed: 12 * analysis.MilePerHour, From: -90 * analysis.Degree},
		shape: shape{columns: letters(imperial(clubAndBall)), comma: ','}},
}

// alternating is two parts hit in turns of a few balls, so that warming up
// falls on both.
func alternating(balls, turn int, parts ...part) []part {
	var all []part
	for left := balls; left > 0; left -= turn {
		for _, p := range parts {
			p.balls = min(turn, left)
			all = append(all, p)
		}
	}
	return all
}

// when is the time of the first ball.
func (v visit) when() time.Time { return time.Date(2026, time.June, v.day, 17, 30, 0, 0, time.UTC) }

// device is what the student's device sees: everything but the strike for some,
// only the ball for Odell.
func (v visit) device() player.Device {
	d := player.Device{Club: true, Strike: true, Ball: true, Landed: true, Noise: player.UsualNoise()}
	if v.who == odell {
		d.Club, d.Strike = false, false
	}
	return d
}
