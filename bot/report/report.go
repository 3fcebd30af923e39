// Package report is the whole answer to one session: every set with its
// pattern and cause, the trial between labelled sets, the brief, and what all
// of that says in words, as JSON and as a picture.
//
// It is the one path from a reading to an answer. The chat, the command line
// and the demo differ only in where the bytes come from and where the answer
// goes.
package report

import (
	"context"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/cause"
	"rangepost/analysis/label"
	"rangepost/analysis/pattern"
	"rangepost/analysis/sessionfile"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

// Options are what was said beside the file, and how to speak of it.
type Options struct {
	Units    analysis.Units // to speak in
	Plain    bool           // without markdown
	Targets  analysis.Targets
	Labels   string // "1-10 normal, 11-20 strong grip", "" to keep the file's own
	Baseline string // label of the trial's baseline, "" to choose
	Briefs   []analysis.Brief
	Taught   []analysis.Observation // by this golfer's trials before
	Pooled   []analysis.Pooled      // over their coach's other students
	Earlier  []analysis.Session     // of this golfer, whose usual a miss in length is set against
	Seed     uint64                 // of the sampled limits, 0 for the default
}

// Chosen is the answer in words.
func (b Borrowed) Chosen() string {
	for _, c := range b.Question.Choices {
		if c.Value == b.Value {
			return c.Text
		}
	}
	return b.Value
}

// Other is the one other answer; ok is false where there are more.
func (b Borrowed) Other() (value string, ok bool) {
	for _, c := range b.Question.Choices {
		if c.Value != b.Value {
			value = c.Value
		}
	}
	return value, len(b.Question.Choices) == 2
}

// DefaultSeed is the seed of the sampled limits unless another is asked for:
// the same file gives the same answer.
const DefaultSeed = 1

// Report is the answer to one session.
type Report struct {
	Reading sessionfile.Reading
	Session analysis.Session // labelled, mishits flagged, what could be inferred filled in
	Sets    []Set
	Trials  []trial.Result // of every club with two sets or more, the most sets first
	NoTrial []Uncompared   // clubs whose sets were not compared
	Voice   words.Voice
	Seed    uint64

	// Left are the sets that were not judged, after the first MaxSets by number
	// of balls; Lone is the target that was said of no club of several; Borrowed the answers of others that the file was read by.
	Left       []analysis.Set
	Unclear    []Unclear    // labels that may be shots, which is asked
	Controlled []Controlled // clubs that shots were asked of

	configs  []cause.Config  // what each set was judged with
	Lone     *Lone           // nil where every target is some club's
	Unhit    []analysis.Club // a target was said for, and no ball was hit with
	Borrowed []Borrowed
}

// MaxSets is how many sets of a session are judged: as many as a menu offers.
// A file may have thousands, and nobody asks about the last of them.
const MaxSets = 24

// A Borrowed answer to a question about a file is one that somebody else gave,
// as a coach or a manager, for the whole server.
type Borrowed struct {
	Question analysis.Question
	Value    string
	Coach    bool // a coach gave it, else a manager
}

// A Set is one set of the session and what can be said of it.
type Set struct {
	analysis.Set
	Setup   analysis.Setup
	Target  float64 // carry aimed at, m; 0 without
	Pattern pattern.Pattern
	Cause   cause.Result
	Asked   *asked.Result  // nil where the label asks for no shot
	Brief   *timeline.Kept // nil without a brief on this club

	Corridor []asked.Delivered // that does the asked shot, from the usual swing
}

// Of answers a reading. Its errors are for people: *analysis.Refusal for a Labels
// text that cannot be followed, *analysis.Refusal for a Baseline no set has.
func Of(ctx context.Context, reading sessionfile.Reading, o Options) (Report, error) {
	session := reading.Session
	if o.Labels != "" {
		shot := func(name string) bool {
			_, ok, err := asked.Label(name, asked.Options{Hand: session.Hand})
			return ok || err != nil
		}
		ranges, err := label.Parse(o.Labels, shot)
		if err != nil {
			return Report{}, err
		}
		if session, err = ranges.Apply(session); err != nil {
			return Report{}, err
		}
	}
	aimed, lone := targets(session, o.Targets, reading.Targets, o.Earlier)
	session.Target = aimed[analysis.Club{}]
	if o.Seed == 0 {
		o.Seed = DefaultSeed
	}
	voice := words.Voice{Hand: session.Hand, Units: o.Units, Plain: o.Plain}
	r := Report{Reading: reading, Voice: voice, Seed: o.Seed, Lone: lone, Unhit: unhit(session, o.Targets)}

	setups := map[[2]string]analysis.Setup{}
	for i, setup := range session.Setups() {
		setups[[2]string{session.Shots[i].Club.Key(), session.Shots[i].Label}] = setup
	}
	var judged []analysis.Set
	judged, r.Left = largest(session.Sets())
	for _, set := range judged {
		if ctx.Err() != nil { // nobody waits any more
			return Report{}, ctx.Err()
		}
		setup := setups[[2]string{set.Club.Key(), set.Label}]
		brief := briefFor(o.Briefs, set, setup)
		config := causeConfig(session, brief, o.Seed)
		config.Target = target(aimed, lone, set.Club)
		config.Responses = responses(Responses(o.Taught, o.Pooled, set.Club, session.Hand))
		if usual, ok := cause.UsualOf(o.Earlier, set.Club, config); ok {
			config.Usual = map[analysis.Club]cause.Usual{set.Club: usual}
		}
		set, p, c := cause.Judge(set, config)
		answered := Set{Set: set, Setup: setup, Target: config.Target, Pattern: p, Cause: c}
		if brief != nil {
			// How the balls of this post kept it, however many it asks for.
			kept := timeline.All(*brief, timeline.Count(*brief, set.Shots))
			answered.Brief = &kept
		}
		r.Sets, r.configs = append(r.Sets, answered), append(r.configs, config)
	}
	r.Session = session
	r.judgeAsked()
	r.Session = gather(session, r.Sets, r.Left)

	return r.Against(o.Baseline)
}

// largest are the MaxSets sets with the most balls, in their own order, and the
// others.
func largest(sets []analysis.Set) (judged, left []analysis.Set) {
	if len(sets) <= MaxSets {
		return sets, nil
	}
	bySize := slices.Clone(sets)
	slices.SortStableFunc(bySize, func(a, b analysis.Set) int { return len(b.Shots) - len(a.Shots) })
	least := len(bySize[MaxSets-1].Shots)
	over := MaxSets // how many of the smallest judged size there is room for
	for _, s := range bySize[:MaxSets] {
		if len(s.Shots) > least {
			over--
		}
	}
	for _, s := range sets {
		switch n := len(s.Shots); {
		case n > least:
			judged = append(judged, s)
		case n == least && over > 0:
			judged, over = append(judged, s), over-1
		default:
			left = append(left, s)
		}
	}
	return judged, left
}

// gather puts the sets' shots, as they were judged, back into file order.
func gather(session analysis.Session, sets []Set, left []analysis.Set) analysis.Session {
	session.Shots = nil
	for _, s := range sets {
		session.Shots = append(session.Shots, s.Shots...)
	}
	for _, s := range left {
		session.Shots = append(session.Shots, s.Shots...)
	}
	slices.SortStableFunc(session.Shots, func(a, b analysis.Shot) int { return a.N - b.N })
	return session
}

// briefFor is the newest brief that is about a set, nil if none is. A brief
// without a club speaks of all.
func briefFor(briefs []analysis.Brief, set analysis.Set, setup analysis.Setup) *analysis.Brief {
	for i := len(briefs) - 1; i >= 0; i-- {
		if (briefs[i].Club == set.Club || briefs[i].Club.Unknown()) && briefs[i].About(set.Label, setup) {
			return &briefs[i]
		}
	}
	return nil
}

func causeConfig(s analysis.Session, brief *analysis.Brief, seed uint64) cause.Config {
	c := cause.Config{Hand: s.Hand, Ball: s.Ball, Conditions: s.Conditions, Seed: seed}
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

// Against is the report with its trials run against another baseline set, named
// by its label; an empty one chooses, as does one that a club has no set of.
func (r Report) Against(baseline string) (Report, error) {
	var err error
	r.Trials, r.NoTrial, err = compare(r.Sets, baseline, r.Seed)
	return r, err
}

// TrialOf is the trial of the club of set i, nil where its sets were not compared.
func (r Report) TrialOf(i int) *trial.Result {
	for k := range r.Trials {
		if r.Trials[k].Sets[0].Club == r.Sets[i].Club {
			return &r.Trials[k]
		}
	}
	return nil
}

// Main is the index of the set the first picture shows: the one with the most
// balls, the first of them if several have, and one without a club only if there is no
// other. -1 when there is no set.
func (r Report) Main() int { return r.main(func(Set) bool { return true }) }

// MainOf is Main among the sets of one club.
func (r Report) MainOf(club analysis.Club) int {
	return r.main(func(s Set) bool { return s.Club == club })
}

func (r Report) main(among func(Set) bool) int {
	best := -1
	for i, s := range r.Sets {
		if !among(s) {
			continue
		}
		if best < 0 || s.Club.Unknown() == r.Sets[best].Club.Unknown() && len(s.Shots) > len(r.Sets[best].Shots) ||
			!s.Club.Unknown() && r.Sets[best].Club.Unknown() {
			best = i
		}
	}
	return best
}
