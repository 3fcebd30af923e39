package challenge

import (
	"fmt"

	"rangepost/analysis"
)

// A Rule is how a challenge is scored.
type Rule string

// The rules.
const (
	Nearest  Rule = "nearest"
	Narrow   Rule = "narrow"
	Zone     Rule = "zone"
	Brief    Rule = "brief"
	Progress Rule = "progress"

	// OnRequest is the share of balls that did the shot they were asked for: the
	// same shots for all, one after the other, as many balls of each.
	OnRequest Rule = "on_request"
)

// The numbers of balls a challenge may ask for: under five no limits say
// anything, and over a hundred nobody should be asked to hit.
const (
	FewestBalls = 5
	MostBalls   = 100
)

// FewestEntries is how many entries a winner takes where nobody said: the
// better of two is a duel.
const FewestEntries = 3

// Terms are what a challenge is about. They never change once somebody has
// entered.
type Terms struct {
	Rule   Rule
	Club   analysis.Club
	Balls  int
	Ball   analysis.Ball // distances compare only among balls of one kind
	Target float64       // carry, m: nearest and zone

	Wide, Deep float64 // the zone, m across and along, centred on the target

	Shots []string // on request: as a host wrote them, in the order they are hit

	Number    analysis.Number // brief; on request the shots that a ball did, a bit each
	Low, High *float64        // SI; nil is open

	// Least is the carry under which no full shot lies, and Across the distance
	// to which sideways figures are brought, m: of the rules of dispersion; 0 in
	// terms of before there were such.
	Least, Across float64

	Inferred  bool // numbers worked back from others count beside measured ones
	Announced bool // a player says beforehand which session counts
	Drawn     bool // and is then told which of its balls to hit as half shots
	Minutes   int  // until when it is to be posted if some are; 0 is as many as usual
	Look      bool // hosts may look at an entry's balls
	Fewest    int  // entries it takes for a winner

	draw []int // of one player, see For

	// Step is the finest difference of distances that counts, m: a tenth of the
	// unit they are shown in, so that what looks the same is the same. 0 is a
	// tenth of a metre. Measuring devices resolve no more (common practice, no
	// source).
	Step float64
}

// Check is nil, or an *analysis.Refusal that says what is missing of the terms.
func (t Terms) Check() error {
	switch t.Rule {
	case Nearest, Narrow, Zone, Brief, Progress, OnRequest:
	default:
		return analysis.Refuse("It is nearest, narrow, zone, brief, progress or on request.", "There is no such rule.")
	}
	switch {
	case t.Club.Unknown():
		return analysis.Refuse("Write it as driver, 3w, 4h, 7i, pw or 56.", "A challenge is for one club.")
	case t.Balls < FewestBalls || t.Balls > MostBalls:
		return analysis.Refuse(fmt.Sprintf("It may be from %d to %d.", FewestBalls, MostBalls), "That is no number of balls for a challenge.")
	case (t.Rule == Nearest || t.Rule == Zone) && !(t.Target > 0):
		return analysis.Refuse("Say the carry aimed at, as in 150yd or 137m.", "This rule needs a target.")
	case t.Rule == Zone && !(t.Wide > 0 && t.Deep > 0):
		return analysis.Refuse("Say how wide and how deep it is, as in 20yd.", "This rule needs a zone.")
	case t.Rule == OnRequest && (len(t.Shots) == 0 || len(t.Shots) > MostShots || t.Balls < len(t.Shots)):
		return analysis.Refuse(fmt.Sprintf("Name up to %d with semicolons, and a ball for each at least: draw 8; fade 8; straight.", MostShots), "This rule needs the shots that are asked for.")
	case t.Drawn && !t.Announced:
		return analysis.Refuse("A session is announced before balls of it are drawn.", "Half shots are drawn when a player announces a session.")
	case t.Drawn && t.Rule == OnRequest:
		return analysis.Refuse("Let the first balls count, or an announced session.", "Half shots cannot be drawn among shots that are asked for in order.")
	case t.Minutes != 0 && !t.Drawn:
		return analysis.Refuse("Leave them out, or let half shots be drawn.", "Minutes to post a session are of challenges with drawn half shots.")
	case t.Minutes < 0 || t.Minutes > MostMinutes:
		return analysis.Refuse(fmt.Sprintf("It may be up to %d; leave it out for what so many balls usually take.", MostMinutes), "That is no number of minutes to post a session.")
	case t.Rule == Brief && t.Low == nil && t.High == nil:
		return analysis.Refuse("Say the number, and its low or high limit or both.", "This rule needs limits.")
	case t.Low != nil && t.High != nil && *t.Low >= *t.High:
		return analysis.Refuse("Swap the two, or leave one out.", "The low limit is not under the high one.")
	case t.Least < 0 || t.Dispersion() && t.Least > UsualCarry(t.Club):
		return analysis.Refuse("Give one that every full shot of your members reaches, or leave it out.", "That floor is more than a club like this usually carries.")
	case t.OfTheBall() && t.Ball != analysis.NewBall && t.Ball != analysis.RangeBall:
		return analysis.Refuse("It is new or range.", "Distances compare only among balls of one kind, so this rule needs to know which.")
	}
	return nil
}

// OfTheBall reports whether the score depends on the kind of ball: where balls
// finish does, what the club did does not.
func (t Terms) OfTheBall() bool {
	return t.Rule != Brief || t.Number.Info().Of != analysis.OfClub && t.Number != analysis.Direction
}

// Less reports whether the smaller score is the better one.
func (t Terms) Less() bool { return t.Rule == Nearest || t.Rule == Narrow }

// Shares reports whether scores are shares, of 0 to 1.
func (t Terms) Shares() bool { return t.Rule == Zone || t.Rule == Brief || t.Rule == OnRequest }

// MostShots is how many shots a challenge may ask for.
const MostShots = 6

// shotOf is which of the shots ball i of an entry is asked for.
func (t Terms) shotOf(i int) int { return i * len(t.Shots) / t.Balls }

// needs are the numbers every ball must have.
func (t Terms) needs() []analysis.Number {
	switch t.Rule {
	case Brief, OnRequest:
		return []analysis.Number{t.Number}
	}
	return []analysis.Number{analysis.Carry, analysis.Lateral}
}
