package sessionfile

import (
	"fmt"

	"rangepost/analysis"
)

// Options are what the golfer said beside the file.
type Options struct {
	Hand    analysis.Hand
	HandSet bool              // whether the hand was said; a file may then be asked about
	Club    analysis.Club     // of shots whose club the file does not say
	Answers map[string]string // question key to chosen value
}

// Reading is what was read: a session, and what is still unclear about it.
// With questions open the session holds what could be read without them.
//
// Shots stand in the order they were hit where the file tells it, by shot
// numbers or times that are all different, and else in the order of its rows.
// Shot.N is the file's own number if every row has one of its own, else it
// counts from 1; Shot.Row is the row as the golfer's program numbers it.
type Reading struct {
	Session     analysis.Session
	File        File
	Decisions   []string // one line each, for people
	Questions   []Question
	Fingerprint string // of the header: answers are remembered by it
	Labelled    bool   // the file had a column naming sets
}

// File is what is known of the bytes themselves.
type File struct {
	Name               string
	SHA256             string // hex, of the bytes handed over
	RowsRead           int    // rows that became shots
	SummaryRowsDropped int    // rows that were a statistic of the others
}

// A Question is something the file leaves open, with at most 25 choices.
type Question struct {
	Key     string // stable: see the package comment
	Text    string
	Choices []Choice
}

// Choice is one answer to a question.
type Choice struct {
	Value string // what --answer and the menus send
	Text  string
}

// A Refusal says why a file could not be read: what, where and what to do.
type Refusal struct {
	Code    string // stable: "empty", "not_a_table", "too_large", "bad_value", ...
	Message string // whole sentence for people
	Row     int    // 1-based row of the file, 0 if none
	Column  string // header of the column, "" if none
	Hint    string // what to do about it, a sentence
}

func (r *Refusal) Error() string {
	where := ""
	switch {
	case r.Row > 0 && r.Column != "":
		where = fmt.Sprintf("row %d, column %q: ", r.Row, r.Column)
	case r.Row > 0:
		where = fmt.Sprintf("row %d: ", r.Row)
	}
	return where + r.Message
}
