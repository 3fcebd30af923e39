package bot

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/record"
	"rangepost/store"
	"rangepost/store/pgtest"
)

var (
	seasons     = flag.Int("seasons", 6, "seasons of briefs; 1000 for the promise")
	seasonFirst = flag.Int("seasons.first", 0, "the seed of the first of them")
)

// A toldSeason is the coaching of some students for a season, and what their
// coach was told of it. As a platform it is a crowd that loses messages, their
// answers, and the process.
type toldSeason struct {
	*crowd
	t        *testing.T
	b        *Bot
	db       *store.DB
	now      time.Time
	rng      *rand.Rand
	path     string
	over     bool // every message comes through
	students []string
	told     map[string][]string // how each brief stood, each time it was told
	mail     []letter
	cuts     map[string]int // restarts, by where they fell
}

// A letter is a message that the coach can read.
type letter struct {
	nonce, text string
	at          time.Time
}

// Settled briefs are told exactly once, as they were settled, whatever else
// happens in a season: briefs replaced and ended, rosters and catch-ups opened,
// digests without room for everybody, digests that could not be sent or whose
// answer was lost, and restarts at any of these: before a message, between
// sending it and writing down that it was sent, with posts and new briefs before
// the next look, after minutes or days. (The platform posts a nonce once within
// three minutes.)
func TestSettledBriefsAreToldOnce(t *testing.T) {
	settled, undecided, cuts := 0, 0, map[string]int{}
	for seed := *seasonFirst; seed < *seasonFirst+*seasons; seed++ {
		s := &toldSeason{
			crowd: present(), t: t, now: time.Date(2026, time.March, 2, 8, 0, 0, 0, time.UTC),
			path: pgtest.Path(t, filepath.Join(t.TempDir(), "season")), rng: rand.New(rand.NewPCG(uint64(seed), 1000)),
			told: map[string][]string{}, cuts: cuts,
		}
		s.open()
		(&desktop{Bot: s.b, t: t}).ask(manager, "clubhouse coach", "role", "coaches")
		s.live()
		n, open := s.judge(seed)
		settled, undecided = settled+n, undecided+open
		s.must(s.db.Close())
	}
	t.Logf("%d seasons: %d briefs settled, %d of them undecided; restarts %v", *seasons, settled, undecided, cuts)
	if settled < 3**seasons || undecided == 0 || len(cuts) < 3 {
		t.Errorf("%d briefs settled, %d of them undecided, restarts %v: the seasons test little", settled, undecided, cuts)
	}
}

const club = "saltmarsh"

func (s *toldSeason) must(err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
}

func (s *toldSeason) open() {
	s.t.Helper()
	clock := func() time.Time { return s.now }
	db, err := store.Open(s.t.Context(), s.path, store.WithClock(clock))
	s.must(err)
	s.db = db
	s.b, err = New(s.t.Context(), Config{
		DB: db, Now: clock, Log: slog.New(slog.DiscardHandler),
		Fetch: func(context.Context, Attachment) ([]byte, error) { return nil, errors.New("nothing is posted") },
	})
	s.must(err)
}

// cut is a restart.
func (s *toldSeason) cut(where string) {
	s.must(s.db.Close())
	s.open()
	s.cuts[where]++
}

func (s *toldSeason) chance(p float64) bool { return s.rng.Float64() < p }

func (s *toldSeason) live() {
	for i := range 4 {
		name := fmt.Sprintf("student%d", i+1)
		s.students = append(s.students, name)
		b, err := s.db.AskConsent(s.t.Context(), club, "thread of "+name, name, coach)
		s.must(err)
		_, err = s.db.GiveConsent(s.t.Context(), club, b.ID, name)
		s.must(err)
		// With names as long as these there is room for one to four of the students.
		s.must(s.db.SetName(s.t.Context(), club, name, strings.Repeat(name, 1+s.rng.IntN(50))))
	}
	s.must(s.db.SetDigest(s.t.Context(), store.Digest{Server: club, Coach: coach, Weekday: time.Monday, Hour: 7, TimeZone: "UTC"}))
	end := s.now.AddDate(0, 0, 7*(6+s.rng.IntN(5)))
	for s.now.Before(end) {
		s.now = s.now.Add(time.Duration(2+s.rng.IntN(30)) * time.Hour)
		s.happen()
		if s.chance(0.1) {
			s.cut("idle")
		}
		for !s.tick() {
			if s.chance(0.5) {
				s.now = s.now.Add(time.Duration(20+s.rng.IntN(100)) * time.Second)
			} else {
				s.now = s.now.Add(time.Duration(4+s.rng.IntN(3000)) * time.Minute)
			}
			for range s.rng.IntN(4) {
				s.happen()
			}
		}
	}
	// Every date passes, and every message comes through.
	s.over = true
	for range 16 {
		s.now = s.now.AddDate(0, 0, 7)
		s.tick()
	}
}

// happen is one thing that happens with one student.
func (s *toldSeason) happen() {
	name := s.students[s.rng.IntN(len(s.students))]
	switch {
	case s.chance(0.15):
		s.set(name)
	case s.chance(0.03):
		if err := s.db.EndBrief(s.t.Context(), club, name); !errors.Is(err, store.ErrNotFound) {
			s.must(err)
		}
	case s.chance(0.15):
		s.look(name)
	default:
		s.hit(name)
	}
}

// set sets a brief; as it replaces another, the coach is told how that stood,
// or left to the digest.
func (s *toldSeason) set(name string) {
	high := []float64{-0.5, 0, 0, 0.5, 2}[s.rng.IntN(5)] * analysis.Degree
	b := analysis.Brief{Number: analysis.FaceToPath, High: &high, Balls: []int{0, 10, 20}[s.rng.IntN(3)]}
	if s.chance(0.5) {
		b.Until = s.now.AddDate(0, 0, 3+s.rng.IntN(18))
	}
	_, replaced, err := s.b.records.SetBrief(s.t.Context(), store.Brief{Server: club, Student: name, Coach: coach, Brief: b})
	s.must(err)
	if replaced == nil || replaced.Standing == timeline.Running || len(s.told[replaced.ID]) > 0 || s.chance(0.5) {
		return
	}
	s.must(s.db.Tell(s.t.Context(), store.Told{Brief: replaced.ID, Standing: string(replaced.Standing)}))
	s.told[replaced.ID] = append(s.told[replaced.ID], string(replaced.Standing))
}

// look is somebody looking at how things stand, which tells the digest nothing.
func (s *toldSeason) look(name string) {
	ctx := s.t.Context()
	_, err := s.b.records.LastBrief(ctx, club, name)
	s.must(err)
	_, err = s.b.records.Roster(ctx, club, coach)
	s.must(err)
	binding, err := s.db.StudentBinding(ctx, club, name)
	s.must(err)
	_, err = s.b.records.CatchUp(ctx, binding)
	s.must(err)
}

func (s *toldSeason) hit(name string) {
	values := make([]float64, 5+s.rng.IntN(16))
	day := 0.8 * s.rng.NormFloat64()
	for i := range values {
		values[i] = (day + 2.5*s.rng.NormFloat64()) * analysis.Degree
	}
	s.post(name, values)
	if s.chance(0.7) { // the reply says how far the brief is
		_, err := s.b.records.LastBrief(s.t.Context(), club, name)
		s.must(err)
	}
}

// post keeps balls of face-to-path, rad, hit now.
func (s *toldSeason) post(name string, values []float64) {
	s.t.Helper()
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	var shots []analysis.Shot
	for i, v := range values {
		shots = append(shots, analysis.Shot{N: i + 1, Row: i + 2, Club: iron}.With(analysis.FaceToPath, v))
	}
	_, _, err := s.db.PostSession(s.t.Context(), store.NewSession{
		Server: club, Student: name, Name: "s.csv", Raw: fmt.Append(nil, name, s.now, values),
		Reading: store.Reading{Session: analysis.Session{When: s.now, Dated: analysis.ByInstant, Ball: analysis.RangeBall, Shots: shots}},
	})
	s.must(err)
}

// killed is the process ending in the middle of something.
type killed string

// tick is the bot's, as far as it gets; it reports whether it came to its end.
func (s *toldSeason) tick() (ended bool) {
	defer func() {
		switch where := recover().(type) {
		case nil:
		case killed:
			s.cut(string(where))
		default:
			panic(where)
		}
	}()
	err := s.b.Tick(s.t.Context(), s)
	if err != nil && !errors.Is(err, errLost) {
		s.t.Error(err)
	}
	return err == nil
}

var errLost = errors.New("a lost link")

// fail is what may go wrong at one point.
func (s *toldSeason) fail(where string) error {
	switch {
	case s.over:
		return nil
	case s.chance(0.12):
		panic(killed(where))
	case s.chance(0.12):
		return errLost
	}
	return nil
}

// Direct is the coach getting a message, and reading it.
func (s *toldSeason) Direct(_ context.Context, _, nonce string, reply Reply) error {
	if err := s.fail("before a message"); err != nil {
		return err
	}
	if !slices.ContainsFunc(s.mail, func(l letter) bool { return l.nonce == nonce && s.now.Sub(l.at) < 3*time.Minute }) {
		s.mail = append(s.mail, letter{nonce, reply.Text, s.now})
		due, err := s.b.records.DueNews(s.t.Context(), s.now)
		s.must(err)
		for _, c := range due[0].Students[:strings.Count(reply.Text, "\n**")] {
			s.tell(c)
		}
	}
	return s.fail("after a message")
}

// Sent is the bot looking whether the coach got a message.
func (s *toldSeason) Sent(_ context.Context, _ string, is func(string) bool) (bool, error) {
	if err := s.fail("asking for a message"); err != nil {
		return false, err
	}
	return slices.ContainsFunc(s.mail, func(l letter) bool { return is(l.text) }), nil
}

// tell is a coach reading what is said of one student.
func (s *toldSeason) tell(c record.Changes) {
	for _, b := range c.Earlier {
		s.told[b.ID] = append(s.told[b.ID], string(b.Standing))
	}
	ended := slices.ContainsFunc(c.Found, func(f record.Finding) bool { return f.Kind == record.BriefMissed || f.Kind == record.BriefOver })
	if ended || c.Corrected {
		s.told[c.Brief.ID] = append(s.told[c.Brief.ID], string(c.Brief.Standing))
	}
}

// judge holds what was told against what is kept.
func (s *toldSeason) judge(seed int) (settled, undecided int) {
	for _, name := range s.students {
		all, err := s.db.Briefs(s.t.Context(), club, name)
		s.must(err)
		for i, b := range all {
			told := s.told[b.ID]
			done, err := s.db.Progress(s.t.Context(), b)
			s.must(err)
			asked := b.Asked()
			over := b.Over(s.now) && (b.Ended.IsZero() || b.Ended.After(b.Until)) || asked > 0 && done.Of >= 4*asked
			switch {
			case b.Settled == nil && over:
				s.t.Errorf("season %d, %s's brief %d (%d balls until %v, %d hit) is not settled", seed, name, i, b.Balls, b.Until, done.Of)
			case b.Settled == nil && len(told) > 0:
				s.t.Errorf("season %d, %s's brief %d runs and was told %v", seed, name, i, told)
			case b.Settled != nil:
				settled++
				if b.Settled.Standing == string(timeline.Unclear) {
					undecided++
				}
				if len(told) != 1 || told[0] != b.Settled.Standing {
					s.t.Errorf("season %d, %s's brief %d is %s (%d of %d, set %v, until %v, ended %v) and was told %v",
						seed, name, i, b.Settled.Standing, b.Settled.Inside, b.Settled.Of, b.At, b.Until, b.Ended, told)
				}
			}
		}
	}
	return settled, undecided
}
