package store_test

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

// furnish gives a student one of everything. mark is in every free text.
func furnish(t testing.TB, db *store.DB, c *clock, server, student, mark string) []store.Session {
	t.Helper()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(db.SetName(t.Context(), server, student, mark))
	must(db.SetHand(t.Context(), server, student, analysis.LeftHanded))
	must(db.SetUnits(t.Context(), server, student, analysis.Units{Distance: analysis.Metres, Speed: analysis.MilesPerHour}))
	must(db.SetTimeZone(t.Context(), server, student, "America/Los_Angeles"))
	must(db.SetDetail(t.Context(), server, student, store.Figures))
	must(db.Explain(t.Context(), server, student, "path", mark))
	declined, err := db.AskConsent(t.Context(), server, "thread-r-"+mark, student, rival)
	must(err)
	_, err = db.EndBinding(t.Context(), server, declined.ID, student)
	must(err)
	c.add(time.Minute)
	asked, err := db.AskConsent(t.Context(), server, "thread-"+mark, student, coach)
	must(err)
	given, err := db.GiveConsent(t.Context(), server, asked.ID, student)
	must(err)
	must(db.CaughtUp(t.Context(), given, c.at))
	var sessions []store.Session
	for i := range 2 {
		n := full(t)
		n.Server, n.Student, n.Name = server, student, mark+".csv"
		n.Raw = []byte(mark + strings.Repeat("\n7i", i))
		n.Reading.Session.When = n.Reading.Session.When.AddDate(0, 0, i)
		n.Reading.Gist = gist(t, mark)
		n.Reading.Session.Note, n.Said.Note, n.Said.Sets = mark, mark, "1-2 "+mark
		n.Reading.Session.Shots[0].Label, n.Reading.Session.Shots[0].Aside = mark, analysis.Used
		s, _, err := db.PostSession(t.Context(), n)
		must(err)
		sessions = append(sessions, s)
		c.add(time.Minute)
	}
	gone := full(t)
	gone.Server, gone.Student, gone.Name, gone.Raw = server, student, mark+".csv", []byte(mark+"\nwrong")
	gone.Reading.Session.Note, gone.Said.Note, gone.Said.Sets = mark, mark, "1-2 "+mark
	wrong, _, err := db.PostSession(t.Context(), gone)
	must(err)
	must(db.RemoveSession(t.Context(), server, student, wrong.ID))
	lesson, err := db.AddLesson(t.Context(), store.Lesson{Server: server, Student: student, Coach: coach, Lesson: analysis.Lesson{Note: mark}})
	must(err)
	must(db.KeepFindings(t.Context(), []store.Finding{{Lesson: lesson.ID, Number: analysis.Face, Club: club(t, "7i"), Sessions: 6, Hit: c.at, Difference: 0.03, Low: 0.01, High: 0.05}}))
	must(db.Note(t.Context(), store.Noted{Server: server, Student: student, Coach: coach, Number: analysis.Face, Club: club(t, "7i"), At: c.at}))
	brief, err := db.SetBrief(t.Context(), store.Brief{Server: server, Student: student, Coach: coach, Brief: analysis.Brief{Number: analysis.Face, High: ptr(0.02), Club: club(t, "7i"), Label: mark}})
	must(err)
	_, err = db.SettleBrief(t.Context(), brief.ID, store.Settled{Standing: "kept"})
	must(err)
	plan, err := db.SetPlan(t.Context(), store.Plan{Server: server, Student: student, Setter: student, Club: club(t, "7i"), Number: analysis.Face, Card: []byte(`"` + mark + `"`), Claim: mark})
	must(err)
	must(db.Claims(t.Context(), plan.ID, -1))
	must(db.Expect(t.Context(), store.Forecast{Plan: plan.ID, Who: student, Chance: 0.7}))
	must(db.Place(t.Context(), store.Placed{Plan: plan.ID, Session: sessions[0].ID, Reading: "whole", Turns: []int{0, 1}}))
	_, err = db.SettlePlan(t.Context(), plan.ID, "moved", &analysis.TrialGist{Club: club(t, "7i"), Base: mark})
	must(err)
	must(db.LookedAt(t.Context(), server, coach, sessions[0].ID))
	must(db.KeepComment(t.Context(), server, student, mark))
	must(db.SetDigest(t.Context(), store.Digest{Server: server, Coach: student, Weekday: time.Sunday, Hour: 18, TimeZone: "Europe/London"}))
	of := []store.DigestStudent{{Student: student, Since: c.at, Drift: mark}}
	must(db.DigestSent(t.Context(), store.Telling{Server: server, Coach: student, UpTo: c.at, Told: []store.Told{{Brief: brief.ID, Standing: "kept"}}, Students: of}))
	must(db.Sending(t.Context(), store.Telling{Server: server, Coach: "coach of " + mark[2:], UpTo: c.at, Students: of}))
	for _, closed := range []bool{true, false} {
		open, err := db.OpenChallenge(t.Context(), store.Challenge{Server: server, Name: "Straightest", Channel: "challenges", Terms: []byte("{}")})
		must(err)
		entered, err := db.Enter(t.Context(), store.Entry{Challenge: open.ID, Server: server, Player: student, Session: sessions[0].ID,
			SHA256: sessions[0].SHA256, Stretch: []byte(mark), Past: []byte(mark)}, func([]store.Entry, bool) ([]byte, error) { return nil, nil })
		must(err)
		if closed {
			_, err = db.CloseChallenge(t.Context(), server, open.ID, map[string][]byte{entered.ID: []byte("first")})
			must(err)
		}
	}
	seasons, err := db.Seasons(t.Context(), server, true)
	must(err)
	if len(seasons) == 0 { // everybody of a server is in one
		ran, err := db.OpenSeason(t.Context(), store.Season{Server: server, Name: "Spring", First: c.at, Last: c.at.AddDate(0, 0, 7)}, unbanded)
		must(err)
		seasons = append(seasons, ran)
	}
	must(db.SetHandicaps(t.Context(), server, seasons[0].ID, []store.Handicap{{Student: student, Handicap: ptr(12.4), Band: store.NoBand}}))
	tally, err := db.StartTally(t.Context(), server, student, club(t, "7i"), 9, time.Hour)
	must(err)
	_, err = db.ChangeTally(t.Context(), server, tally.ID, func(t *store.Tally) error { t.Flights[3], t.Last = 4, 3; return nil })
	must(err)
	_, err = db.RememberAnswer(t.Context(), store.Answer{Server: server, Fingerprint: mark, Key: "signs", Value: "target", Who: student})
	must(err)
	_, err = db.Accept(t.Context(), store.Intake{ID: "open-" + mark, Server: server, Asker: student, Kind: "command", Body: []byte(mark)})
	must(err)
	_, err = db.Accept(t.Context(), store.Intake{ID: "done-" + mark, Server: server, Asker: student, Kind: "command", Body: []byte(mark)})
	must(err)
	must(db.Answered(t.Context(), "done-"+mark))
	_, err = db.KeepView(t.Context(), store.View{Server: server, Owner: student, Kind: "post", Body: []byte(mark)}, time.Hour)
	must(err)
	_, err = db.KeepView(t.Context(), store.View{Server: server, Owner: coach, Student: student, Kind: "cause", Body: []byte(mark)}, time.Hour)
	must(err)
	return sessions
}

type exported struct {
	store.StudentExport
	Sessions []store.Session
	Files    []string
}

func export(t testing.TB, db *store.DB, server, student string) (e exported, err error) {
	t.Helper()
	e.StudentExport, err = db.ExportStudent(t.Context(), server, student, func(s store.Session, raw []byte) error {
		e.Sessions, e.Files = append(e.Sessions, s), append(e.Files, string(raw))
		return nil
	})
	return e, err
}

func TestExportStudent(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	sessions := furnish(t, db, c, saltmarsh, wren, "zqwren")
	furnish(t, db, c, saltmarsh, tamsin, "zqtamsin")
	got, err := export(t, db, saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(sessions, got.Sessions, compareShots); d != "" {
		t.Errorf("sessions (-want +got):\n%s", d)
	}
	if d := cmp.Diff([]string{"zqwren", "zqwren\n7i"}, got.Files); d != "" {
		t.Errorf("files (-want +got):\n%s", d)
	}
	s, err := db.Student(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	bindings, err := db.BindingHistory(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	lessons, err := db.Lessons(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	findings, err := db.Findings(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	noted, err := db.Noted(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	briefs, err := db.Briefs(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	answers, err := db.AnswerHistory(t.Context(), saltmarsh)
	answers = slices.DeleteFunc(answers, func(a store.Answer) bool { return a.Fingerprint != "zqwren" })
	if err != nil {
		t.Fatal(err)
	}
	removed, err := db.RemovedSince(t.Context(), saltmarsh, wren, time.Time{})
	if err != nil || len(removed) != 1 {
		t.Fatal(removed, err)
	}
	tallies, err := db.Tallies(t.Context(), saltmarsh, wren, time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	challenges, err := db.Challenges(t.Context(), saltmarsh, false, 0)
	if err != nil {
		t.Fatal(err)
	}
	var entries []store.Entry
	for _, c := range slices.Backward(challenges) {
		in, err := db.Entries(t.Context(), c.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range in {
			if e.Player == wren {
				entries = append(entries, e)
			}
		}
	}
	slices.SortFunc(entries, func(a, b store.Entry) int { return bytes.Compare(b.Final, a.Final) })
	plans, err := db.Plans(t.Context(), saltmarsh, wren)
	if err != nil || len(plans) != 1 {
		t.Fatal(plans, err)
	}
	placed, err := db.PlacedOn(t.Context(), plans[0].ID)
	if err != nil || len(placed) != 1 {
		t.Fatal(placed, err)
	}
	forecasts, err := db.Forecasts(t.Context(), saltmarsh, wren, "")
	if err != nil || len(forecasts) != 1 {
		t.Fatal(forecasts, err)
	}
	seasons, err := db.Seasons(t.Context(), saltmarsh, true)
	if err != nil || len(seasons) != 1 {
		t.Fatal(seasons, err)
	}
	handicaps := []store.Handicap{{Season: seasons[0].ID, Server: saltmarsh, Student: wren, Handicap: ptr(12.4), Band: store.NoBand}}
	want := store.StudentExport{
		Student: s, Bindings: bindings, Lessons: lessons, Findings: findings, Noted: noted, Briefs: briefs, Answers: answers,
		Entries: entries, Tallies: tallies, Removed: removed, Comments: []string{"zqwren"},
		Plans: plans, Placed: placed, Forecasts: forecasts, Handicaps: handicaps,
	}
	if d := cmp.Diff(want, got.StudentExport); d != "" {
		t.Errorf("the rest (-want +got):\n%s", d)
	}
	if len(bindings) != 2 || len(lessons) != 1 || len(briefs) != 1 || len(findings) != 1 || len(noted) != 1 || len(entries) != 2 || len(tallies) != 1 {
		t.Errorf("%d bindings, %d lessons, %d briefs, %d entries, %d tallies: the test compared nothing",
			len(bindings), len(lessons), len(briefs), len(entries), len(tallies))
	}

	stop := errors.New("stop")
	if _, err := db.ExportStudent(t.Context(), saltmarsh, wren, func(store.Session, []byte) error { return stop }); !errors.Is(err, stop) {
		t.Errorf("the receiver's error: %v", err)
	}
	if _, err := export(t, db, saltmarsh, "nobody"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("nobody's data: %v, want ErrNotFound", err)
	}
}

// Forgetting leaves no row of the student, and no byte on disk; everybody else
// keeps everything.
func TestForgetStudent(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	furnish(t, db, c, saltmarsh, wren, "zqwren")
	furnish(t, db, c, saltmarsh, tamsin, "zqtamsin")
	furnish(t, db, c, elsewhere, wren, "zqaway")
	// What the student did as somebody's coach is that somebody's.
	if _, err := db.AddLesson(t.Context(), store.Lesson{Server: saltmarsh, Student: tamsin, Coach: wren}); err != nil {
		t.Fatal(err)
	}
	plan, err := db.SetPlan(t.Context(), store.Plan{Server: saltmarsh, Student: tamsin, Setter: wren, Club: club(t, "7i"), Claim: "zqtamsin"})
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Expect(t.Context(), store.Forecast{Plan: plan.ID, Who: wren, Chance: 0.9}); err != nil {
		t.Fatal(err)
	}
	asCoach, err := db.RememberAnswer(t.Context(), store.Answer{Server: saltmarsh, Fingerprint: "zqtamsin", Key: "unit:carry", Value: "m", Who: wren, Coach: true})
	if err != nil {
		t.Fatal(err)
	}
	away, err := db.KeepView(t.Context(), store.View{Server: elsewhere, Owner: wren, Student: wren}, time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	before := map[string]exported{}
	for _, who := range [][2]string{{saltmarsh, tamsin}, {elsewhere, wren}} {
		e, err := export(t, db, who[0], who[1])
		if err != nil {
			t.Fatal(err)
		}
		before[who[0]+who[1]] = e
	}
	if !inFiles(t, db, []byte("zqwren")) {
		t.Fatal("the student's words were never there: the test sees nothing")
	}
	if err := db.ForgetStudent(t.Context(), saltmarsh, wren); err != nil {
		t.Fatal(err)
	}
	if inFiles(t, db, []byte("zqwren")) {
		t.Error("the student's words are still on disk")
	}
	for _, row := range store.RowsNaming(t, db, saltmarsh, wren) {
		if row != "lessons.coach" && row != "answers.who" && row != "plans.setter" {
			t.Errorf("%s still names the student", row)
		}
	}
	for _, who := range [][2]string{{saltmarsh, tamsin}, {elsewhere, wren}} {
		e, err := export(t, db, who[0], who[1])
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(before[who[0]+who[1]], e, compareShots); d != "" {
			t.Errorf("%s on %s lost something (-want +got):\n%s", who[1], who[0], d)
		}
	}
	if left, err := db.AnswerHistory(t.Context(), saltmarsh); err != nil || !slices.Contains(left, asCoach) || len(left) != 2 {
		t.Errorf("answers left: %+v, %v", left, err)
	}
	if _, err := db.View(t.Context(), elsewhere, away); err != nil {
		t.Errorf("a view on another server: %v", err)
	}
	if _, err := db.Check(t.Context()); err != nil {
		t.Error(err)
	}
	if _, err := export(t, db, saltmarsh, wren); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("export after forgetting: %v, want ErrNotFound", err)
	}
	if err := db.ForgetStudent(t.Context(), saltmarsh, wren); err != nil {
		t.Errorf("forgetting twice: %v", err)
	}
}
