package timeline_test

import (
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
)

// All that the judge of the months knows of package timeline is in this file.

// A verdict is what is said of a lesson, or of several that share an effect.
type verdict struct {
	lesson    time.Time // the last of them
	alone     bool      // it is said of one lesson only
	early     bool
	changed   bool
	credited  bool // to the lesson, not to a number that may have been moving already
	low, high float64
	shape     string // how the effect came and went: "gradual", "fading", ...; "" if it is not said
	lasts     string // what is left of it: "kept", "fading", "gone"; "" if it is not said
}

func verdicts(n analysis.Number, sessions []analysis.SessionValues, lessons []analysis.Lesson) []verdict {
	return said(timeline.Of(n, sessions[0].Club, sessions, lessons))
}

// asked is what is said of several numbers that are asked for at once.
func asked(ns []analysis.Number, sessions [][]analysis.SessionValues, lessons []analysis.Lesson) (all []verdict) {
	var results []timeline.Result
	for i, n := range ns {
		results = append(results, timeline.Of(n, sessions[i][0].Club, sessions[i], lessons))
	}
	timeline.Together(results)
	for _, r := range results {
		all = append(all, said(r)...)
	}
	return all
}

func said(r timeline.Result) (all []verdict) {
	for _, e := range r.Effects {
		all = append(all, verdict{
			lesson: e.Lesson.At, alone: e.Together == 1,
			early: e.Change == timeline.TooEarly, changed: e.Change == timeline.Changed,
			credited: e.Change == timeline.Changed && e.Credited,
			low:      e.Low, high: e.High,
			shape: string(e.Shape), lasts: string(e.Lasts),
		})
	}
	return all
}

// drifted is whether a drift stands, of those nobody has noted.
func drifted(n analysis.Number, sessions []analysis.SessionValues, lessons []analysis.Lesson, noted []time.Time) bool {
	return timeline.Drifting(n, sessions[0].Club, sessions, lessons, noted...).Drift.Out >= 0
}

// stands is "kept", "missed" or "", by the balls of each session that count.
func stands(b analysis.Brief, sessions [][]float64, over bool) string {
	inside := make([][]bool, len(sessions))
	for i, s := range sessions {
		for _, v := range s {
			inside[i] = append(inside[i], b.Holds(v))
		}
	}
	switch s := timeline.Keep(b, inside...).Standing(over); s {
	case timeline.Met, timeline.Missed:
		return string(s)
	}
	return ""
}
