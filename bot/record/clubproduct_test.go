package record

import (
	"cmp"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"log/slog"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/clubyear"
	"rangepost/analysis/season"
	"rangepost/analysis/sessionfile"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
	"rangepost/store/pgtest"
)

// A ground is a database on which simulated clubs play, each a server of its own,
// one after the other.
type ground struct {
	t     *testing.T
	db    *store.DB
	rs    *Records
	now   time.Time
	clubs int
	asked map[string]int // what files left open, by question and answer
	made  map[[sha256.Size]byte]store.Reading

	unjudged bool // see readingOf
}

func newGround(t *testing.T) *ground {
	t.Helper()
	g := &ground{t: t, asked: map[string]int{}, made: map[[sha256.Size]byte]store.Reading{}}
	clock := func() time.Time { return g.now }
	var err error
	g.db, err = store.Open(t.Context(), pgtest.Path(t, filepath.Join(t.TempDir(), "club")), store.WithClock(clock))
	must(t, err)
	t.Cleanup(func() { must(t, g.db.Close()) })
	g.rs = New(g.db, clock, slog.New(slog.DiscardHandler))
	return g
}

// A kind is the ball of a challenge: distances compare only among balls of one
// kind, so a club whose members hit two holds every challenge for each of them,
// with a season of its own.
type kind = analysis.Ball

// A clubProduct is Rangepost as the simulated club knows it, without the chat.
// Nothing is opened for a rule that we have not: its entries are then neither
// accepted, waiting nor refused.
type clubProduct struct {
	*ground
	server  string
	zone    *time.Location
	hits    map[string]kind // by member
	seasons map[kind]map[int]string
	held    map[string]map[kind]string // challenges by the club's name for them
	ended   map[string]map[kind]clubyear.Result
	had     [2]map[string]float64 // what those had in the seasons who left
}

func (g *ground) club(zone *time.Location) *clubProduct {
	g.t.Helper()
	g.clubs++
	p := &clubProduct{ground: g, server: fmt.Sprint("club", g.clubs), zone: zone, hits: map[string]kind{},
		seasons: map[kind]map[int]string{}, held: map[string]map[kind]string{}, ended: map[string]map[kind]clubyear.Result{}, had: [2]map[string]float64{{}, {}}}
	house, err := g.db.Clubhouse(g.t.Context(), p.server)
	must(g.t, err)
	house.TimeZone, house.ChallengeChannels = zone.String(), []string{"challenges"}
	must(g.t, g.db.SetClubhouse(g.t.Context(), house))
	return p
}

func (p *clubProduct) Join(m clubyear.Member, at time.Time) {
	p.now = at
	ctx, hand, units := p.t.Context(), analysis.RightHanded, analysis.Units{Distance: analysis.Yards, Speed: analysis.MilesPerHour}
	if m.Left {
		hand = analysis.LeftHanded
	}
	if m.Metric {
		units = analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}
	}
	must(p.t, p.db.SetName(ctx, p.server, m.Name, m.Name))
	must(p.t, p.db.SetHand(ctx, p.server, m.Name, hand))
	must(p.t, p.db.SetUnits(ctx, p.server, m.Name, units))
	must(p.t, p.db.SetTimeZone(ctx, p.server, m.Name, m.Zone))
	must(p.t, p.db.SetJunior(ctx, p.server, m.Name, m.Junior))
	p.hits[m.Name] = analysis.NewBall
	if m.RangeBalls {
		p.hits[m.Name] = analysis.RangeBall
	}
}

// Leave keeps what somebody had in the seasons: their row stays as it is, and without
// their name nobody can tell whose it was.
func (p *clubProduct) Leave(member string, at time.Time) {
	p.now = at
	for n := range 2 {
		if had, ok := p.Season(n + 1)[member]; ok {
			p.had[n][member] = had
		}
	}
	if err := p.rs.Forget(p.t.Context(), p.server, member); !errors.Is(err, store.ErrNotFound) {
		must(p.t, err)
	}
}

// termsOf are a rule's terms for a kind of ball, false for a rule we have not.
func termsOf(r clubyear.Rule, ball kind) (t challenge.Terms, ok bool) {
	club, err := analysis.ParseClub(r.Club)
	t = challenge.Terms{Club: club, Balls: r.Balls, Ball: ball, Target: r.Target, Look: true, Step: analysis.Yard / 10}
	t.Rule, ok = map[clubyear.RuleKind]challenge.Rule{
		clubyear.Narrow: challenge.Narrow, clubyear.Nearest: challenge.Nearest, clubyear.Progress: challenge.Progress, clubyear.Within: challenge.Brief,
	}[r.Kind]
	if r.Kind == clubyear.Within {
		t.Number, t.Low, t.High = r.Number, &r.Low, &r.High
	}
	return t, ok && err == nil
}

// Open opens a challenge on its day, in its season, for each kind of ball.
func (p *clubProduct) Open(c clubyear.Challenge) string {
	p.now = c.Opens
	ctx, name := p.t.Context(), fmt.Sprintf("Challenge %d", c.Number)
	p.held[name], p.ended[name] = map[kind]string{}, map[kind]clubyear.Result{}
	for _, ball := range []kind{analysis.NewBall, analysis.RangeBall} {
		terms, ok := termsOf(c.Rule, ball)
		if !ok {
			continue
		}
		must(p.t, terms.Check())
		data, err := encodeTerms(terms.Fairly(analysis.Yard))
		must(p.t, err)
		day, id := season.Day(c.Opens, p.zone), p.season(c, ball)
		_, err = p.db.Schedule(ctx, p.server, id, []store.Scheduled{{Day: day, Name: name, Days: 7, Terms: data}}, 100)
		must(p.t, err)
		must(p.t, p.rs.OpenScheduled(ctx))
		all, err := p.db.ScheduledOf(ctx, id)
		must(p.t, err)
		p.held[name][ball] = all[len(all)-1].Challenge
	}
	return name
}

// season is that of a kind of ball in which a challenge is.
func (p *clubProduct) season(c clubyear.Challenge, ball kind) (id string) {
	if p.seasons[ball] == nil {
		p.seasons[ball] = map[int]string{}
	}
	if p.seasons[ball][c.Season] == "" {
		first := season.Day(c.Opens, p.zone)
		kept, err := p.rs.OpenSeason(p.t.Context(), store.Season{
			Server: p.server, Name: fmt.Sprintf("Season %d, %s balls", c.Season, ball), Club: "Saltmarsh Links", Channel: "challenges", First: first, Last: first.AddDate(0, 6, 0),
		}, SeasonTerms{})
		must(p.t, err)
		p.seasons[ball][c.Season] = kept.ID
	}
	return p.seasons[ball][c.Season]
}

// challengeFor is the one of a name that is for what a member hits.
func (p *clubProduct) challengeFor(name, member string) (c store.Challenge, ok bool) {
	id := p.held[name][p.hits[member]]
	if id == "" {
		return c, false
	}
	c, err := p.db.Challenge(p.t.Context(), p.server, id)
	must(p.t, err)
	return c, true
}

// Announce does nothing: in these challenges the first session counts.
func (p *clubProduct) Announce(string, string, time.Time) {}

func (p *clubProduct) Post(member string, f clubyear.File, said clubyear.Said, at time.Time) (string, clubyear.Verdict) {
	p.now = at
	ctx := p.t.Context()
	club, err := analysis.ParseClub(said.Club)
	must(p.t, err)
	s, err := p.keep(member, f, store.Said{Club: club, Ball: kind(said.Ball), Sets: said.Sets})
	for range 8 {
		if err != nil || len(s.Reading.Questions) == 0 {
			break
		}
		q := s.Reading.Questions[0]
		value := p.answer(q)
		if q.Alone {
			said := s.Said
			said.Answers = said.Answers.With(analysis.Answers{q.Key: value})
			s, _, err = p.rs.Say(ctx, s, said)
			continue
		}
		must(p.t, p.rs.Answer(ctx, store.Answer{Server: p.server, Fingerprint: s.Reading.Fingerprint, Key: q.Key, Value: value, Who: member, Student: member}))
		s, _, err = p.rs.Reading(ctx, p.server, s.ID)
	}
	return s.ID, p.verdict(err, nil)
}

// keep is Records.Post, of people who have no lessons. What it made of a file it
// remembers for other clubs: contests of one seed have the same honest members, and
// working out why their balls finished where they did is a third of the time.
func (p *clubProduct) keep(member string, f clubyear.File, said store.Said) (s store.Session, err error) {
	ctx := p.t.Context()
	file, err := sessionfile.Open(f.Name, f.Data)
	if err != nil {
		return s, err
	}
	in, err := p.rs.inputsOf(ctx, p.server, member, said, file.Fingerprint(), time.Time{}, p.now)
	if err != nil {
		return s, err
	}
	key := in.key(store.Session{SessionInfo: store.SessionInfo{SHA256: fmt.Sprintf("%x %v", sha256.Sum256(f.Data), p.now)}})
	reading, ok := p.made[key]
	if !ok {
		if reading, err = p.readingOf(ctx, in, file); err != nil {
			return s, err
		}
		p.made[key] = reading
	}
	s, fresh, err := p.db.PostSession(ctx, store.NewSession{
		Server: p.server, Student: member, PostedBy: member, Channel: "range", Name: f.Name, Raw: f.Data,
		Reading: reading, Said: said, Same: analysis.SameBalls,
	})
	if err == nil && !fresh {
		s, _, err = p.rs.Say(ctx, s, said.Over(s.Said))
	}
	return s, err
}

// answer is how a golfer answers what their file leaves open: that it is right as
// it is, that a heading holds what it says, and otherwise the first that is
// offered, which is right of the target where the figure is positive, a face
// against the target, and the day of the posting for a clock that is years off.
func (p *clubProduct) answer(q analysis.Question) string {
	c := q.Choices[0]
	for _, other := range q.Choices {
		for heading, is := range map[string]string{"my carry": "carry", "speed of ball": "ball speed"} {
			if strings.Contains(q.Text, heading) && other.Text == is {
				c = other
			}
		}
		if strings.HasPrefix(other.Text, "No, the file is right") {
			c = other
		}
	}
	p.asked[fmt.Sprintf("%s: %s", q.Key, c.Text)]++
	return c.Value
}

// readingOf is what is kept of a file; of a club that asks for scores alone nothing is
// worked out from its balls, so that none is flagged a mishit and no set has a name.
func (g *ground) readingOf(ctx context.Context, in inputs, file *sessionfile.Opened) (store.Reading, error) {
	if g.unjudged {
		reading, _, err := in.read(file)
		return readingOf(report.Report{Session: reading.Session, Reading: reading}), err
	}
	answer, err := in.answer(ctx, file)
	return readingOf(answer), err
}

// verdict is what somebody is told.
func (p *clubProduct) verdict(err error, why []analysis.Warning) clubyear.Verdict {
	p.t.Helper()
	var refusal *analysis.Refusal
	switch {
	case errors.As(err, &refusal):
		return clubyear.Verdict{State: clubyear.Refused, Reason: refusal.Say(func(s string) string { return s })}
	case err != nil:
		p.t.Fatal(err)
	case len(why) > 0:
		return clubyear.Verdict{State: clubyear.Waits, Reason: strings.Join(words.Voice{}.Caveats(why), " ")}
	}
	return clubyear.Verdict{State: clubyear.Accepted}
}

func (p *clubProduct) Enter(name, member, session string, at time.Time) clubyear.Verdict {
	p.now = at
	c, ok := p.challengeFor(name, member)
	if !ok {
		return clubyear.Verdict{}
	}
	e, err := p.rs.Enter(p.t.Context(), c, member, session)
	return p.verdict(err, e.Why)
}

func (p *clubProduct) Withdraw(_, member string, at time.Time) {
	p.now = at
	_, err := p.db.LeaveChallenges(p.t.Context(), p.server, member, true)
	must(p.t, err)
}

func (p *clubProduct) Decide(name, member string, accept bool, at time.Time) {
	p.now = at
	ctx := p.t.Context()
	c, _ := p.challengeFor(name, member)
	s, err := p.rs.Standings(ctx, c)
	must(p.t, err)
	look, ok := s.LookOf(member)
	if !ok {
		p.t.Fatalf("%s's entry does not wait", member)
	}
	if accept {
		must(p.t, p.rs.Accept(ctx, p.server, look.Entry, "host"))
		return
	}
	must(p.t, p.db.TakeOutEntry(ctx, p.server, look.Entry, "host", "The file does not hold what was hit."))
}

// Close closes a challenge for either kind of ball. What the club is told goes
// through both, those of new balls first.
func (p *clubProduct) Close(name string, at time.Time) (both clubyear.Result) {
	p.now = at
	ctx := p.t.Context()
	for _, ball := range []kind{analysis.NewBall, analysis.RangeBall} {
		id := p.held[name][ball]
		if id == "" {
			continue
		}
		c, err := p.db.Challenge(ctx, p.server, id)
		must(p.t, err)
		must(p.t, p.rs.Rescore(ctx, c)) // as the bot does each minute
		c, err = p.rs.CloseChallenge(ctx, c)
		must(p.t, err)
		s, err := p.rs.Standings(ctx, c)
		must(p.t, err)
		r := resultOf(s)
		p.ended[name][ball] = r
		both.Placings = append(both.Placings, r.Placings...)
	}
	// In a contest all hit balls of one kind, and the other challenge is empty.
	if r := p.ended[name][analysis.NewBall]; len(p.ended[name][analysis.RangeBall].Placings) == 0 {
		return r
	}
	return both
}

func resultOf(s Standings) (r clubyear.Result) {
	r.Void = len(s.Won) == 0
	for i, row := range s.Rows {
		place := clubyear.Placing{Member: s.Players[row.Entry].ID, Place: row.Place, Chance: math.NaN()}
		if slices.ContainsFunc(s.Won, func(w challenge.Standing) bool { return w.Entry == row.Entry }) {
			place.Place = 1
		}
		if i == 0 && s.Best > 0 {
			place.Chance = s.Best
		}
		r.Placings = append(r.Placings, place)
	}
	return r
}

// Season is the points of either kind's season, in which nobody is in both.
func (p *clubProduct) Season(n int) map[string]float64 {
	all := maps.Clone(p.had[n-1])
	for _, ball := range []kind{analysis.NewBall, analysis.RangeBall} {
		id := p.seasons[ball][n]
		if id == "" {
			continue
		}
		kept, err := p.db.Season(p.t.Context(), p.server, id)
		must(p.t, err)
		s, err := p.rs.Season(p.t.Context(), kept)
		must(p.t, err)
		for _, r := range s.Rows {
			if m := s.Members[r.Who]; m.ID != "" {
				all[m.ID] = r.Total
			}
		}
	}
	return all
}

// of is the year of those who hit one kind of ball: what was said of chances and
// points holds among them alone.
func (p *clubProduct) of(y clubyear.Year, ball kind) clubyear.Year {
	y.Results, y.Skills = slices.Clone(y.Results), slices.Clone(y.Skills)
	for i := range y.Results {
		y.Results[i] = p.ended[fmt.Sprintf("Challenge %d", i+1)][ball]
		skills := map[string]float64{}
		for m, s := range y.Skills[i] {
			if p.hits[m] == ball {
				skills[m] = s
			}
		}
		y.Skills[i] = skills
	}
	return y
}

// clubZone is where Saltmarsh Links is.
func clubZone(t *testing.T) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation("Europe/London")
	must(t, err)
	return zone
}

// sortedAsked is what was asked, the most often first.
func (g *ground) sortedAsked() (lines []string) {
	for q, n := range g.asked {
		lines = append(lines, fmt.Sprintf("%5d %s", n, q))
	}
	slices.SortFunc(lines, func(a, b string) int { return cmp.Compare(b, a) })
	return lines
}
