// Package report is the whole answer to one session: every set with its
// pattern and cause, the trial between labelled sets, the brief, and what all
// of that says in words, as JSON and as a picture.
//
// It is the one path from a reading to an answer. The chat, the command line
// and the demo differ only in where the bytes come from and where the answer
// goes.
package report

import (
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/export"
	"rangepost/analysis/label"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

// Options are what was said beside the file, and how to speak of it.
type Options struct {
	Voice    words.Voice // its hand is overwritten by the session's
	Target   float64     // carry aimed at, m; 0 leaves the session's
	Labels   string      // "1-10 normal, 11-20 strong grip", "" to keep the file's own
	Baseline string      // label of the trial's baseline, "" to choose
	Briefs   []timeline.Brief
	Taught   []Taught // by this golfer's trials before
	Seed     uint64   // of the sampled limits, 0 for the default
}

// Taught is what an earlier trial with a club saw a setup tool do.
type Taught struct {
	Club analysis.Club
	trial.Observation
}

// DefaultSeed is the seed of the sampled limits unless another is asked for:
// the same file gives the same answer.
const DefaultSeed = 1

// Report is the answer to one session.
type Report struct {
	Reading export.Reading
	Session analysis.Session // labelled, mishits flagged, what could be inferred filled in
	Sets    []Set
	Trial   *trial.Result // nil without two sets of one club
	Voice   words.Voice
	Seed    uint64
}

// A Set is one set of the session and what can be said of it.
type Set struct {
	analysis.Set
	Pattern pattern.Pattern
	Cause   cause.Result
	Brief   *timeline.Kept // nil without a brief on this club
}

// Of answers a reading. Its errors are for people: *label.Error for a Labels
// text that cannot be followed, *trial.Error for a Baseline no set has.
func Of(reading export.Reading, o Options) (Report, error) {
	session := reading.Session
	if o.Labels != "" {
		ranges, err := label.Parse(o.Labels)
		if err != nil {
			return Report{}, err
		}
		if session, err = ranges.Apply(session); err != nil {
			return Report{}, err
		}
	}
	if o.Target > 0 {
		session.Target = o.Target
	}
	if o.Seed == 0 {
		o.Seed = DefaultSeed
	}
	o.Voice.Hand = session.Hand
	r := Report{Reading: reading, Voice: o.Voice, Seed: o.Seed}

	for _, set := range session.Sets() {
		brief := briefFor(o.Briefs, set.Club)
		config := causeConfig(session, brief, o.Seed)
		config.Responses = responses(Responses(o.Taught, set.Club, session.Hand))
		set, p, c := cause.Judge(set, config)
		answered := Set{Set: set, Pattern: p, Cause: c}
		if brief != nil {
			kept := timeline.KeepBrief(*brief, set.Shots)
			answered.Brief = &kept
		}
		r.Sets = append(r.Sets, answered)
	}
	r.Session = gather(session, r.Sets)

	compared, err := r.Against(o.Baseline)
	if err != nil && o.Baseline == "" {
		// Nobody asked for a trial, and the sets do not make one (too many of
		// them, say). Whoever asks is told why.
		return r, nil
	}
	return compared, err
}

// gather puts the sets' shots, as they were judged, back into file order.
func gather(session analysis.Session, sets []Set) analysis.Session {
	session.Shots = nil
	for _, s := range sets {
		session.Shots = append(session.Shots, s.Shots...)
	}
	slices.SortStableFunc(session.Shots, func(a, b analysis.Shot) int { return a.N - b.N })
	return session
}

// briefFor is the newest brief that speaks of club, nil if none does. A brief
// without a club speaks of all.
func briefFor(briefs []timeline.Brief, club analysis.Club) *timeline.Brief {
	for i := len(briefs) - 1; i >= 0; i-- {
		if briefs[i].Club == club || briefs[i].Club.Unknown() {
			return &briefs[i]
		}
	}
	return nil
}

func causeConfig(s analysis.Session, brief *timeline.Brief, seed uint64) cause.Config {
	c := cause.Config{Hand: s.Hand, Ball: s.Ball, Conditions: s.Conditions, Target: s.Target, Seed: seed}
	if brief == nil || brief.Low == nil || brief.High == nil {
		return c
	}
	// A coach who asks for a face or a path sets what deliveries are judged
	// against: the middle of what was asked for.
	switch middle := (*brief.Low + *brief.High) / 2; brief.Number {
	case analysis.Face:
		c.RefFace = middle
	case analysis.Path:
		c.RefPath = middle
	}
	return c
}

// Against is the report with its trial run against another baseline set, named
// by its label; an empty one chooses.
func (r Report) Against(baseline string) (Report, error) {
	var err error
	r.Trial, err = compare(r.Sets, baseline, r.Seed)
	return r, err
}

// Main is the index of the set the first picture shows: the one with the most
// balls, the first of them if several have. -1 when there is no set.
func (r Report) Main() int { return r.main(func(Set) bool { return true }) }

// MainOf is Main among the sets of one club.
func (r Report) MainOf(club analysis.Club) int {
	return r.main(func(s Set) bool { return s.Club == club })
}

func (r Report) main(among func(Set) bool) int {
	best := -1
	for i, s := range r.Sets {
		if among(s) && (best < 0 || len(s.Shots) > len(r.Sets[best].Shots)) {
			best = i
		}
	}
	return best
}
