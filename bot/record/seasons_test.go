package record

import (
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/store"
)

var seasons = flag.Int("seasons", 6, "seasons of briefs; 1000 for the promise")

// A toldSeason is the coaching of some students for a season, and what their
// coach was told of it.
type toldSeason struct {
	*desk
	rng      *rand.Rand
	path     string
	students []string
	told     map[string][]string // how each brief stood, each time it was told
	posted   map[string]int      // under the nonce of a message, how many students it named
	cuts     int
}

// Settled briefs are told exactly once, as they were settled, whatever else
// happens in a season: briefs replaced and ended, rosters and catch-ups opened,
// digests without room for everybody, digests that could not be sent, and
// restarts at any of these, also between sending a message and writing down
// that it was sent. (The platform posts a nonce once within some minutes. A
// restart then takes less, and here nothing is posted meanwhile.)
func TestSettledBriefsAreToldOnce(t *testing.T) {
	settled, undecided, cuts := 0, 0, 0
	for seed := range *seasons {
		s := &toldSeason{
			desk: newDesk(t, filepath.Join(t.TempDir(), "season"), time.Date(2026, time.March, 2, 8, 0, 0, 0, time.UTC)),
			path: "", rng: rand.New(rand.NewPCG(uint64(seed), 1000)),
			told: map[string][]string{}, posted: map[string]int{},
		}
		s.path = s.db.Path()
		s.live()
		n, open := s.judge(seed)
		settled, undecided, cuts = settled+n, undecided+open, cuts+s.cuts
		s.must(s.db.Close())
	}
	t.Logf("%d seasons: %d briefs settled, %d of them undecided; %d restarts", *seasons, settled, undecided, cuts)
	if settled < 3**seasons || undecided == 0 || cuts < *seasons {
		t.Errorf("%d briefs settled, %d of them undecided, %d restarts: the seasons test little", settled, undecided, cuts)
	}
}

// cut is a restart.
func (s *toldSeason) cut() {
	s.must(s.db.Close())
	s.open(s.path)
	s.cuts++
}

func (s *toldSeason) chance(p float64) bool { return s.rng.Float64() < p }

func (s *toldSeason) live() {
	for i := range 4 {
		name := fmt.Sprintf("student%d", i+1)
		s.students = append(s.students, name)
		s.bind(name)
	}
	s.must(s.db.SetDigest(s.t.Context(), store.Digest{Server: club, Coach: coach, Weekday: time.Monday, Hour: 7, TimeZone: "UTC"}))
	end := s.now.AddDate(0, 0, 7*(6+s.rng.IntN(5)))
	for s.now.Before(end) {
		s.now = s.now.Add(time.Duration(2+s.rng.IntN(30)) * time.Hour)
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
		if s.chance(0.1) {
			s.cut()
		}
		s.tick(s.rng.IntN(len(s.students) + 1))
	}
	// Every date passes, and every message comes through.
	for range 16 {
		s.now = s.now.AddDate(0, 0, 7)
		s.tick(len(s.students))
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
	_, replaced, err := s.rs.SetBrief(s.t.Context(), store.Brief{Server: club, Student: name, Coach: coach, Brief: b})
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
	_, err := s.rs.LastBrief(ctx, club, name)
	s.must(err)
	_, err = s.rs.Roster(ctx, club, coach)
	s.must(err)
	binding, err := s.db.StudentBinding(ctx, club, name)
	s.must(err)
	_, err = s.rs.CatchUp(ctx, binding)
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
		_, err := s.rs.LastBrief(s.t.Context(), club, name)
		s.must(err)
	}
}

// tick sends the message that is due, if one is, with room for so many
// students.
func (s *toldSeason) tick(room int) {
	due, err := s.rs.DueNews(s.t.Context(), s.now)
	s.must(err)
	for _, n := range due {
		nonce := n.At.String()
		room := min(room, len(n.Students))
		switch was, posted := s.posted[nonce]; {
		case posted: // the platform has it already
			room = was
		case s.chance(0.1): // it cannot be sent for now
			s.cut()
			return
		default:
			s.posted[nonce] = room
			for _, c := range n.Students[:room] {
				s.tell(c)
			}
		}
		if s.chance(0.15) {
			s.now = s.now.Add(time.Minute)
			s.cut()
			s.tick(room)
			return
		}
		told, of := n.Telling(len(n.Left), room)
		s.must(s.db.DigestSent(s.t.Context(), club, coach, n.UpTo, told, of))
	}
}

// tell is a coach reading what is said of one student.
func (s *toldSeason) tell(c Changes) {
	for _, b := range c.Earlier {
		s.told[b.ID] = append(s.told[b.ID], string(b.Standing))
	}
	ended := slices.ContainsFunc(c.Found, func(f Finding) bool { return f.Kind == BriefMissed || f.Kind == BriefOver })
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
