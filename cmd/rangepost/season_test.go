package main

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/player"
	"rangepost/bot"
	"rangepost/bot/standin"
)

// A season is a coach with students over weeks: they post, some of them seldom;
// the coach gives three lessons each and looks twice a week.
type season struct {
	*play
	t        *testing.T
	begins   time.Time
	weeks    int
	students []*pupil
	rivals   *standin.User // another coach of the same club
	rng      *rand.Rand
}

// A pupil is one student of the season.
type pupil struct {
	*standin.User
	thread  *standin.Channel
	hand    analysis.Hand
	face    float64 // degrees right of target, before any lesson
	gain    float64 // what a lesson takes off it
	busy    float64 // sessions a week
	lessons int
	gone    bool
}

// TestSeason plays a season of 12 students, 10 weeks and 3 lessons each, with
// every command used (a shorter one when short). With
// RANGEPOST_TRANSCRIPT=DIR its transcript is written there, to be read as a
// coach would.
func TestSeason(t *testing.T) {
	students, weeks := 12, 10
	full := !testing.Short()
	if !full {
		students, weeks = 3, 4
	}
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 15*time.Minute)
	t.Cleanup(cancel)
	st := staged(t, ctx, seasonBegins, "", nil)
	s := newSeason(ctx, t, st, seasonBegins, students, weeks)
	s.whole()
	entries := st.Transcript()
	if dir := os.Getenv("RANGEPOST_TRANSCRIPT"); dir != "" {
		if err := newPage("A season", "", entries, st.Names()).write(dir); err != nil {
			t.Error(err)
		}
	}
	s.must(t)
	s.check(entries, full)
}

// seasonBegins is a Monday.
var seasonBegins = time.Date(2026, time.March, 2, 7, 0, 0, 0, time.UTC)

// whole plays all of it.
func (s *season) whole() {
	s.open()
	for week := range s.weeks {
		s.week(week)
	}
	s.close()
}

func newSeason(ctx context.Context, t *testing.T, st *stage, begins time.Time, students, weeks int) *season {
	p := newPlay(ctx, st)
	s := &season{play: p, t: t, begins: begins, weeks: weeks, rng: rand.New(rand.NewPCG(12, 10))}
	club := p.practice.Server()
	s.rivals = club.Join(st.User("Second Coach"), p.coachRole)
	names := []string{"Wren", "Tamsin", "Odell", "Priya", "Heron", "Finch", "Lark", "Plover", "Dunlin", "Teal", "Linnet", "Martlet"}
	for i := range students {
		pupil := &pupil{face: 3.5 - 0.6*float64(i%7), busy: []float64{1.5, 1, 2, 0.4}[i%4], gain: []float64{2, 0, 1}[i%3]}
		switch i {
		case 0:
			pupil.User, pupil.thread = p.wren, p.wrens
		case 1:
			pupil.User, pupil.thread, pupil.hand = p.tamsin, p.tamsins, analysis.LeftHanded
		case 2:
			pupil.User, pupil.thread = p.odell, p.odells
		case 3:
			pupil.User, pupil.thread = p.priya, p.practice.Thread("priya")
		default:
			pupil.User = club.Join(st.User(names[i]))
			pupil.thread = p.practice.Thread(strings.ToLower(names[i]))
		}
		s.students = append(s.students, pupil)
	}
	return s
}

// on moves the calendar to an hour of a day of a week, both from nought.
func (s *season) on(week, day, hour int) {
	if s.err == nil {
		s.err = s.st.clock.set(s.begins.AddDate(0, 0, 7*week+day).Add(time.Duration(hour-7) * time.Hour))
	}
}

func (s *season) open() {
	s.slash(s.steward, s.practice, "clubhouse coach", standin.Options{"role": s.coachRole})
	s.slash(s.steward, s.practice, "clubhouse units", standin.Options{"distance": "yd", "speed": "mph"})
	s.slash(s.coach, s.practice, "help", nil)
	for _, p := range s.students {
		s.press(p.User, s.slash(s.coach, p.thread, "bind", standin.Options{"student": p.User}), "I agree")
	}
	s.slash(s.tamsin, s.tamsins, "mine hand", standin.Options{"hand": "left"})
	s.slash(s.odell, s.odells, "mine units", standin.Options{"distance": "m"})
	s.slash(s.odell, s.odells, "mine zone", standin.Options{"zone": "Europe/Stockholm"})
	s.slash(s.odell, s.odells, "mine detail", standin.Options{"detail": "figures"})
	s.slash(s.coach, s.practice, "roster", nil)
	s.slash(s.coach, s.practice, "digest", standin.Options{"day": "0", "hour": 18, "zone": "Europe/London"})
}

func (s *season) week(week int) {
	for day := range 7 {
		s.on(week, day, 18)
		for i, p := range s.students {
			if s.err == nil && !p.gone && s.rng.Float64() < p.busy/7 {
				s.visit(p, week, i)
			}
		}
		switch day {
		case 1, 4:
			s.on(week, day, 20)
			s.look(week, day)
		case 2:
			s.on(week, day, 20)
			if lesson := map[int]int{1: 1, s.weeks / 2: 2, s.weeks - 3: 3}[week]; lesson > 0 {
				s.teach(lesson)
			}
		case 6:
			s.on(week, day, 19)
			s.tick()
			s.events(week)
		}
	}
}

// visit is one visit of a student to the range.
func (s *season) visit(p *pupil, week, i int) {
	name := fmt.Sprintf("%s-%d.csv", strings.ToLower(p.Name), s.rng.IntN(1000000))
	trial := week == 1 && i == 0
	face := p.face - p.gain*float64(p.lessons) + 0.8*s.rng.NormFloat64()
	file := standin.File{Name: name, Bytes: s.balls(p, face, trial)}
	posted := s.slash(p.User, p.thread, "post", standin.Options{"file": file, "ball": "range"})
	if trial {
		s.press(p.User, posted, "Compare the sets")
		s.slash(p.User, p.thread, "trial", standin.Options{"baseline": "normal"})
		if sessions := s.complete(p.User, p.thread, "sets", "session"); len(sessions) > 0 {
			s.slash(p.User, p.thread, "sets", standin.Options{"session": sessions[0].Value, "text": "1-12 normal, 13-24 stronger grip"})
		}
	}
}

// sheet is a file of 24 balls with a face so many degrees right of target.
func (s *season) balls(p *pupil, face float64, trial bool) []byte {
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	d := player.Typical(iron)
	d.Face, d.Path = face*analysis.Degree, -0.5*analysis.Degree
	golfer := player.Player{
		Hand: p.hand, Club: iron, Delivery: d, Spread: player.TypicalSpread(1.3), World: player.Foreign(iron, p.hand, rand.New(rand.NewPCG(5, 5))),
		Device: player.Device{Club: true, Strike: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	shots := golfer.Shots(24, "", s.rng)
	if trial {
		golfer.Delivery.Face -= 3 * analysis.Degree
		shots = append(golfer.Shots(12, "strong grip", s.rng), golfer.Shots(12, "", s.rng)...)
		for i := range shots {
			shots[i].N = i + 1
			if shots[i].Label == "" {
				shots[i].Label = "normal"
			}
		}
	}
	return sheet(shots, s.st.clock.Now())
}

// look is ten minutes at the desk.
func (s *season) look(week, day int) {
	s.slash(s.coach, s.practice, "roster", nil)
	const says = "Better. Now ten balls along the stick before each set.\nAnd *slowly*, @everyone."
	page := s.slash(s.coach, s.practice, "review", nil)
	if s.err == nil && len(page.Menus) > 0 {
		post := s.choose(s.coach, page, "Open one", "1.")
		if s.err == nil && slices.Contains(post.Labels(), "Why, in full") {
			s.press(s.coach, post, "Why, in full")
		}
		switch (week + day) % 3 {
		case 0:
			s.submit(s.coach, s.press(s.coach, post, "Comment"), "text", says)
		case 1:
			s.submit(s.coach, s.press(s.coach, post, "Brief"), "text", "face within 2.5, 7i, 30 balls in 2 weeks")
		default:
			s.press(s.coach, post, "Next")
		}
		if picked := s.choose(s.coach, page, "Comment on one or several", "1.", "2."); s.err == nil && len(picked.Menus) > 0 {
			s.submitAsIs(s.coach, s.choose(s.coach, picked, "One you sent before", "Better"))
		}
	}
	for s.err == nil {
		at := slices.IndexFunc(page.Labels(), func(l string) bool { return strings.HasPrefix(l, "Looked at") })
		if at < 0 {
			break
		}
		page = s.press(s.coach, page, page.Labels()[at])
	}
	p := s.students[(2*week+day)%len(s.students)]
	if !p.gone {
		caught := s.slash(s.coach, p.thread, "catch-up", nil)
		s.press(s.coach, caught, "Caught up")
		s.slash(s.coach, p.thread, "brief", nil)
		s.press(s.coach, s.slash(s.coach, p.thread, "sheet", nil), "Take the numbers away")
		s.slash(s.coach, p.thread, "work-back", standin.Options{"shot": "draw 8", "student": p.User})
		s.slash(s.coach, p.thread, "compare", standin.Options{"first": "before last 3", "second": "last 3"})
		if offered := s.complete(s.coach, p.thread, "timeline", "since"); len(offered) > 0 && week > 2 {
			s.slash(s.coach, p.thread, "timeline", standin.Options{"number": "face, path", "since": offered[0].Value})
		}
	}
}

// teach gives everybody a lesson, and a brief to work on.
func (s *season) teach(lesson int) {
	briefs := []string{
		"face to path within 2.5, 7-iron, 40 balls in 10 days", "face between 1 left and 2 right, 7i, 30 balls by Sunday",
		"attack at most 5 down, 7i, 40 balls in 2 weeks", "club speed at least 80, 7i, 20 balls in 2 weeks", "face within 3, 24 balls",
	}
	for i, p := range s.students {
		if p.gone {
			continue
		}
		p.lessons++
		s.slash(s.coach, p.thread, "lesson", standin.Options{"note": []string{"Grip", "Aim and alignment", "Ball position"}[lesson-1]})
		s.slash(s.coach, p.thread, "brief", standin.Options{"text": briefs[(i+lesson)%len(briefs)]})
	}
	wrong := s.slash(s.coach, s.students[0].thread, "brief", standin.Options{"text": "face 1 to 3, 7i"})
	if s.err == nil && !strings.Contains(wrong.Text, "which way, left or right?") {
		s.t.Errorf("a brief that leaves the side open: %q", wrong.Text)
	}
}

// events are what happens once in a season.
func (s *season) events(week int) {
	if len(s.students) < 12 {
		return
	}
	p := s.students[5+week%5]
	switch week {
	case 5: // changes coach
		s.press(p.User, s.slash(s.rivals, s.practice.Thread(strings.ToLower(p.Name)+" anew"), "bind", standin.Options{"student": p.User}), "I agree")
		refused := s.slash(s.coach, s.practice, "timeline", standin.Options{"student": p.User})
		if s.err == nil && !strings.Contains(refused.Text, "not yours to see") {
			s.t.Errorf("the former coach sees %q", refused.Text)
		}
		p.gone = true
	case 6: // leaves the server
		s.practice.Server().Leave(p.User)
		if err := s.st.bot.Sweep(s.ctx, s.st.on); err != nil && s.err == nil {
			s.err = err
		}
		refused := s.slash(s.coach, s.practice, "timeline", standin.Options{"student": p.User})
		if s.err == nil && !strings.Contains(refused.Text, "not yours to see") {
			s.t.Errorf("of somebody who left the coach sees %q", refused.Text)
		}
		p.gone = true
	case 7: // the thread is deleted, and another one takes its place
		p.thread.Delete()
		told := s.slash(s.coach, s.practice, "brief", standin.Options{"student": p.User, "text": "face within 2, 20 balls"})
		if s.err == nil && !strings.Contains(told.Text, "no longer exists") {
			s.t.Errorf("a brief for a thread that is gone: %q", told.Text)
		}
		p.thread = s.practice.Thread(strings.ToLower(p.Name) + " again")
		s.press(p.User, s.slash(s.coach, p.thread, "bind", standin.Options{"student": p.User}), "I agree")
	}
}

// close uses what a season has not used yet.
func (s *season) close() {
	s.on(s.weeks, 0, 9)
	w := s.students[0]
	s.use(s.coach, w.Say(w.thread, "From the other bay", s.file("sessions/wren-2-german.csv")), "Read this session")
	s.slash(s.coach, s.practice, "response", standin.Options{"student": w.User})
	s.slash(s.coach, s.practice, "response", standin.Options{"students": "all"})
	s.slash(w.User, w.thread, "task", nil)
	s.slash(w.User, w.thread, "plan", standin.Options{"against": "strong grip", "club": "7i"})
	s.slash(s.coach, s.practice, "cause", standin.Options{"student": w.User})
	s.slash(s.coach, s.practice, "timeline", standin.Options{"student": w.User, "since": "last 5"})
	s.slash(s.coach, s.practice, "roster", nil)
	s.slash(s.coach, s.practice, "brief", standin.Options{"student": w.User, "text": "none"})
	s.slash(w.User, s.practice, "mine consent", nil)
	if sessions := s.complete(w.User, s.practice, "mine remove", "session"); len(sessions) > 0 {
		s.press(w.User, s.slash(w.User, s.practice, "mine remove", standin.Options{"session": sessions[0].Value}), "Delete this session")
	}
	s.slash(w.User, s.practice, "mine export", nil)
	s.slash(s.steward, s.practice, "clubhouse answers", nil)
	s.slash(s.steward, s.practice, "clubhouse show", nil)
	s.slash(s.coach, s.practice, "digest", standin.Options{"day": "off"})
	s.press(w.User, s.press(w.User, s.slash(w.User, s.practice, "mine forget", nil), "Delete it all"), "Yes, delete it all")
	gone := s.slash(s.coach, s.practice, "roster", nil)
	if s.err == nil && strings.Contains(gone.Text, "Wren") {
		s.t.Errorf("after everything was deleted the roster says %q", gone.Text)
	}
}

// briefEnd is how a brief ended, in a line of a digest: who, and which one how.
var briefEnd = regexp.MustCompile(`^\*\*(\w+)\*\*.*?([\w-]+ brief [^;.]*)`)

// check holds the season to what must be true of every one.
func (s *season) check(entries []standin.Entry, full bool) {
	t := s.t
	typed := map[string]bool{}
	digests := 0
	outcomes := map[string]int{} // of briefs told by digest, by line
	for _, e := range entries {
		switch e.Kind {
		case standin.Typed:
			typed[e.Text] = true
		case standin.Posted, standin.Edited:
			if e.Actor != s.st.Bot().Name || e.Message.Text == "" {
				continue
			}
			checkReply(t, e)
			if strings.HasPrefix(e.Message.Text, "Your students since") {
				digests++
				if !e.Direct {
					t.Errorf("a digest in %s", e.Channel)
				}
				for line := range strings.Lines(e.Message.Text) {
					if m := briefEnd.FindStringSubmatch(line); m != nil {
						outcomes[strings.ToLower(m[1]+" "+m[2])]++
					}
				}
			}
		case standin.Unsettled:
			t.Errorf("%s got no answer to %s", e.Actor, e.Text)
		}
	}
	if digests == 0 || digests > s.weeks {
		t.Errorf("%d weekly messages in %d weeks", digests, s.weeks)
	}
	if len(outcomes) == 0 {
		t.Error("no brief's end was told")
	}
	for what, n := range outcomes {
		if n > 1 {
			t.Errorf("told %d times: %s", n, what)
		}
	}
	if !full {
		return
	}
	for _, c := range bot.Listing() {
		name := strings.Trim(c.Usage, "`*")
		if strings.HasPrefix(name, "/challenge") || strings.HasPrefix(name, "/season") || strings.HasPrefix(name, "/clubhouse") || name == "/tally" {
			continue // the fortnight's
		}
		if !slices.ContainsFunc(slices.Collect(maps.Keys(typed)), func(text string) bool { return text == name || strings.HasPrefix(text, name+" ") }) {
			t.Errorf("the season never uses %s", name)
		}
	}
}
