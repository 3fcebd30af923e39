package sessionfile

import (
	"time"

	"rangepost/analysis"
)

// Options are what the golfer said beside the file.
type Options struct {
	Hand    analysis.Hand
	HandSet bool                  // whether the hand was said; a file may then be asked about
	Club    analysis.Club         // of shots whose club the file does not say
	Air     analysis.Conditions   // what was said of air and wind: it goes before what the file says
	Ball    analysis.Ball         // likewise, "" if nobody said
	Sets    bool                  // which balls were which was said: no column is asked about for that
	Lengths analysis.DistanceUnit // what the golfer, or their clubhouse, measures in; "" if nobody said
	Answers analysis.Answers
	Zone    *time.Location // the golfer's, of times without an offset; nil is UTC
	Posted  time.Time      // when the file was handed over; zero leaves its dates unjudged
}

// Reading is what was read: a session, and what is still unclear about it.
// With questions open the session holds what could be read without them.
//
// Shots stand in the order they were hit where the file tells it, by shot
// numbers or times that are all different, and else in the order of its rows.
// Shot.N is the file's own number if every row has one of its own, else it
// counts from 1; Shot.Row is the row as the golfer's program numbers it.
type Reading struct {
	Session   analysis.Session
	Targets   analysis.Targets // by the file's own column
	File      File
	Decisions []string            // one line each, for people
	Questions []analysis.Question // at most MaxQuestions, those first that settle others

	// LeftOut are the decisions that took a number away from a ball because
	// others contradict it, one sentence each; they stand in Decisions too.
	LeftOut []string

	// Customary is what custom alone decided, or an answer did where custom would
	// have: it can be answered the other way, for this file and all of its kind.
	// Its Choices begin with what was taken. nil if there is no such thing.
	Customary *Customary

	Written     analysis.Written // what the rows say of themselves, as they stand in the file
	Fingerprint string           // of the header: answers are remembered by it
	Labelled    bool             // the file had a column naming sets
}

// A Customary question is one that custom answers where nobody else does.
type Customary struct {
	analysis.Question
	Answered bool   // somebody did
	Only     string // the number it is about, where the sides of others were answered
}

// MaxQuestions is the most that is asked in one go.
const MaxQuestions = 3

// File is what is known of the bytes themselves.
type File struct {
	Name               string
	SHA256             string // hex, of the bytes handed over
	RowsRead           int    // rows that became shots
	SummaryRowsDropped int    // rows that were a statistic of the others
}
