package bot

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/season"
	"rangepost/bot/record"
	"rangepost/store"
	"rangepost/store/pgtest"
)

// A clubYear is a season of challenges under a bot whose process ends in the
// middle of things.
type clubYear struct {
	t        *testing.T
	rng      *rand.Rand
	path     string
	now      time.Time
	db       *store.DB
	b        *Bot
	messages []*said
	calm     bool
	cuts     map[string]int
}

// A said is a message in the channel.
type said struct {
	id, nonce string
	at        time.Time
	reply     Reply
}

func (y *clubYear) must(err error) {
	y.t.Helper()
	if err != nil {
		y.t.Fatal(err)
	}
}

func (y *clubYear) start() {
	y.t.Helper()
	clock := func() time.Time { return y.now }
	var err error
	y.db, err = store.Open(y.t.Context(), y.path, store.WithClock(clock))
	y.must(err)
	y.b, err = New(y.t.Context(), Config{DB: y.db, Now: clock, Log: slog.New(slog.DiscardHandler)})
	y.must(err)
	y.b.drawWithin = time.Nanosecond // pictures are looked at elsewhere
}

// cut may end the process, at one point.
func (y *clubYear) cut(where string) {
	if !y.calm && y.rng.Float64() < 0.15 {
		panic(killed(where))
	}
}

func (y *clubYear) Put(_ context.Context, _, nonce string, reply Reply) (string, error) {
	y.cut("before a message")
	for _, m := range y.messages {
		if m.nonce == nonce && y.now.Sub(m.at) < 3*time.Minute {
			return m.id, nil
		}
	}
	m := &said{fmt.Sprint("m", len(y.messages)), nonce, y.now, reply}
	y.messages = append(y.messages, m)
	y.cut("after a message")
	return m.id, nil
}

func (y *clubYear) Edit(_ context.Context, _, message string, reply Reply) error {
	y.cut("before writing one anew")
	for _, m := range y.messages {
		if m.id == message {
			m.reply = reply
			y.cut("after writing one anew")
			return nil
		}
	}
	return ErrNoMessage
}

func (y *clubYear) Open(context.Context, Thread) (string, error)            { return "", nil }
func (y *clubYear) Pin(context.Context, string, string) error               { return nil }
func (y *clubYear) Delete(context.Context, string, string) error            { return nil }
func (y *clubYear) Direct(context.Context, string, string, Reply) error     { return nil }
func (y *clubYear) Roles(context.Context, string, string) ([]string, error) { return nil, nil }
func (y *clubYear) Sent(context.Context, string, func(string) bool) (bool, error) {
	return false, nil
}

// tick ticks until it comes to its end, over as many restarts as that takes.
func (y *clubYear) tick() {
	for !y.ticked() {
		y.now = y.now.Add(time.Duration(1+y.rng.IntN(20)) * time.Second)
	}
}

func (y *clubYear) ticked() (done bool) {
	defer func() {
		switch where := recover().(type) {
		case nil:
		case killed:
			y.cuts[string(where)]++
			y.must(y.db.Close())
			y.start()
		default:
			panic(where)
		}
	}()
	y.must(y.b.Tick(y.t.Context(), y))
	return true
}

// enters posts balls of a member's, scattered by so many metres, and enters them
// in what is open.
func (y *clubYear) enters(member string, scatter float64) {
	ctx := y.t.Context()
	open, err := y.db.Challenges(ctx, club, true, 0)
	y.must(err)
	for _, c := range open {
		iron := analysis.Club{Family: analysis.Iron, Number: 7}
		var shots []analysis.Shot
		for i := range 10 {
			shots = append(shots, analysis.Shot{N: i + 1, Row: i + 2, Club: iron}.With(analysis.Lateral, scatter*y.rng.NormFloat64()).With(analysis.Carry, 130))
		}
		_, _, err := y.db.PostSession(ctx, store.NewSession{
			Server: club, Student: member, Name: "s.csv", Raw: fmt.Append(nil, member, y.now, scatter, shots),
			Reading: store.Reading{Session: analysis.Session{When: y.now, Dated: analysis.ByInstant, Ball: analysis.RangeBall, Shots: shots}},
		})
		y.must(err)
		var refusal *analysis.Refusal
		if _, err := y.b.records.Enter(ctx, c, member, ""); !errors.As(err, &refusal) { // they may be in
			y.must(err)
		}
	}
}

// Whatever step a restart falls into, every challenge of a season opens once, is
// said once and won once, and so is the season; a member who is deleted in the
// middle of it moves nobody's points.
func TestSeasonsOverRestarts(t *testing.T) {
	cuts, years := map[string]int{}, 8
	if testing.Short() {
		years = 3
	}
	for seed := range years {
		y := &clubYear{t: t, rng: rand.New(rand.NewPCG(uint64(seed), 21)), path: pgtest.Path(t, filepath.Join(t.TempDir(), "year")), now: time.Date(2026, time.May, 30, 8, 0, 0, 0, time.UTC), cuts: cuts}
		y.start()
		kept := y.begin()
		members := []string{"wren", "tamsin", "odell", "priya"}
		end, gone := y.now.AddDate(0, 0, 35), y.now.AddDate(0, 0, 12+y.rng.IntN(8))
		for y.now.Before(end) {
			y.now = y.now.Add(time.Duration(1+y.rng.IntN(9)) * time.Hour)
			y.tick()
			if i := y.rng.IntN(len(members)); y.rng.Float64() < 0.5 {
				y.enters(members[i], float64(2+3*i))
			}
			if members[0] == "wren" && y.now.After(gone) {
				y.forget(kept, members[0])
				members = members[1:]
			}
		}
		y.calm = true
		y.now = y.now.Add(2 * time.Minute)
		y.tick()
		y.judge(seed, kept)
		y.must(y.db.Close())
	}
	t.Logf("%d years, ended in the middle: %v", years, cuts)
	if len(cuts) < 4 {
		t.Errorf("ended in the middle %v: the years test little", cuts)
	}
}

// begin opens a season of four Mondays.
func (y *clubYear) begin() store.Season {
	ctx := y.t.Context()
	house, err := y.db.Clubhouse(ctx, club)
	y.must(err)
	house.ChallengeChannels, house.TimeZone = []string{"challenges"}, "Europe/London"
	y.must(y.db.SetClubhouse(ctx, house))
	day := func(d int) time.Time { return time.Date(2026, time.June, d, 0, 0, 0, 0, time.UTC) }
	kept, err := y.b.records.OpenSeason(ctx, store.Season{Server: club, Name: "June", Club: "Saltmarsh Links", Channel: "challenges", First: day(1), Last: day(28)}, record.SeasonTerms{Best: 3})
	y.must(err)
	terms := challenge.Terms{Rule: challenge.Narrow, Club: analysis.Club{Family: analysis.Iron, Number: 7}, Balls: 10, Ball: analysis.RangeBall}
	y.must(y.b.records.KeepTemplate(ctx, club, "Sevens", terms, 9))
	templates, err := y.db.Templates(ctx, club)
	y.must(err)
	days, err := season.Days("every Monday", kept.First, kept.Last)
	y.must(err)
	var all []store.Scheduled
	for _, d := range days {
		all = append(all, store.Scheduled{Day: d, Name: "Sevens", Days: 4, Terms: templates[0].Terms})
	}
	_, err = y.db.Schedule(ctx, club, kept.ID, all, 9)
	y.must(err)
	return kept
}

func (y *clubYear) season(kept store.Season) record.Season {
	kept, err := y.db.Season(y.t.Context(), club, kept.ID)
	y.must(err)
	s, err := y.b.records.Season(y.t.Context(), kept)
	y.must(err)
	return s
}

// forget deletes a member, whose row stays with its points.
func (y *clubYear) forget(kept store.Season, member string) {
	before := y.season(kept)
	y.must(y.b.records.Forget(y.t.Context(), club, member))
	after := y.season(kept)
	if len(before.Rows) != len(after.Rows) {
		y.t.Fatalf("%d rows, and %d after somebody was deleted", len(before.Rows), len(after.Rows))
	}
	for i, r := range after.Rows {
		if r.Total != before.Rows[i].Total || r.Played != before.Rows[i].Played {
			y.t.Errorf("row %d was %+v and is %+v after somebody was deleted", i, before.Rows[i], r)
		}
	}
}

// judge holds what was said against what is kept.
func (y *clubYear) judge(seed int, kept store.Season) {
	s := y.season(kept)
	if s.Closed.IsZero() || len(s.Parts) != 4 {
		y.t.Errorf("year %d: closed %v, %d challenges", seed, s.Closed, len(s.Parts))
	}
	all, err := y.db.Challenges(y.t.Context(), club, false, 0)
	y.must(err)
	if len(all) != 4 {
		y.t.Errorf("year %d: %d challenges were opened for 4 that were planned", seed, len(all))
	}
	count := func(begins string) (n int, last string) {
		for _, m := range y.messages {
			if strings.HasPrefix(m.reply.Text, begins) {
				n, last = n+1, m.reply.Text
			}
		}
		return n, last
	}
	for _, p := range s.Parts {
		if p.Held.Closed.IsZero() {
			y.t.Errorf("year %d: %v is not over", seed, p.Day)
		}
		for _, begins := range []string{"**" + p.Held.Name + "**\n", "**" + p.Held.Name + "** is over"} {
			if n, _ := count(begins); n != 1 {
				y.t.Errorf("year %d: %q is said %d times", seed, begins, n)
			}
		}
	}
	n, table := count("**June**, ")
	if n != 1 || strings.Contains(table, "Wren") {
		y.t.Errorf("year %d: %d tables: %s", seed, n, table)
	}
	for _, r := range s.Rows {
		if !strings.Contains(table, fmt.Sprintf("\n%d. %s: %d point", r.Place, playerName(s.Members[r.Who].Player), r.Total)) {
			y.t.Errorf("year %d: %+v is not in the table: %s", seed, r, table)
		}
	}
	if n, _ := count("**June** is over"); n != 1 {
		y.t.Errorf("year %d: its end is said %d times", seed, n)
	}
}
