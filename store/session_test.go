package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

var compareShots = cmp.AllowUnexported(analysis.Shot{})

func ptr[T any](v T) *T { return &v }

// byColumn lists the numbers in the order in which they got their columns,
// which a number added in the middle of the table of numbers does not change.
func byColumn(tb testing.TB) (numbers []analysis.Number) {
	tb.Helper()
	files, err := filepath.Glob(filepath.Join("migrations", "sqlite", "*.sql"))
	if err != nil || len(files) == 0 {
		tb.Fatal(files, err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			tb.Fatal(err)
		}
		for _, column := range regexp.MustCompile(`(\w+)\s+REAL`).FindAllStringSubmatch(string(text), -1) {
			if n, ok := analysis.NumberByKey(column[1]); ok && !slices.Contains(numbers, n) {
				numbers = append(numbers, n)
			}
		}
	}
	for _, n := range analysis.Numbers() { // one in a build of its own
		if !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	return numbers
}

// full is a session with nothing left at its zero value that can be kept.
func full(tb testing.TB) store.NewSession {
	shot := analysis.Shot{
		N: 1, Row: 3, Club: club(tb, "56"), Label: "strong grip",
		Aside: analysis.Inconsistent, Why: "carry does not fit ball speed",
		Pause: 21.5,
	}
	for place, n := range byColumn(tb) {
		v := 0.1 + float64(place)/3
		if place%2 == 0 {
			shot = shot.With(n, v)
		} else {
			shot = shot.WithInferred(n, -v)
		}
	}
	return store.NewSession{
		Server: saltmarsh, Student: wren, PostedBy: coach, Request: "event-7", Channel: "thread-1", Name: "Tuesday; drop table.csv",
		Raw: []byte("club;face\r\n56;-1,5\r\n"),
		Reading: store.Reading{
			Gist:   gist(tb, "slow"),
			Taught: []analysis.Observation{{Club: club(tb, "56"), Tool: "stronger grip", Number: analysis.Face, Difference: -0.05, SE: 0.01, Balls: 12}},
			Session: analysis.Session{
				Hand: analysis.LeftHanded, Ball: analysis.RangeBall, Target: 91.44,
				When: time.Date(2026, 3, 30, 17, 5, 6, 7e6, time.UTC), Dated: analysis.ByClock,
				Conditions: analysis.Conditions{
					Temperature: ptr(283.15), Altitude: ptr(0.0), WindSpeed: ptr(4.5), WindFrom: ptr(-1.2),
				},
				Shots: []analysis.Shot{shot, {N: 2, Row: 5, Club: club(tb, "driver")}},
				Note:  "into the wind",
			},
			Fingerprint: "club|face", RowsRead: 4, RowsDropped: 1, Labelled: true,
			Decisions: []string{"+ read as right of target"},
			Questions: []analysis.Question{{Key: "signs", Text: "Which way is +?", Choices: []analysis.Choice{{Value: "target", Text: "right"}}, Alone: true}},
		},
		Said: store.Said{
			Club: club(tb, "56"), Ball: analysis.NewBall, Targets: analysis.Targets{{}: 90}, When: time.Date(2026, 3, 30, 0, 0, 0, 0, time.UTC),
			Sets: "1-10 normal", Note: "it happens when I hurry", Answers: map[string]string{"unit:carry": "yd"},
		},
		Same: func(a, b []analysis.Shot) bool { return false },
	}
}

// A field added to a reading, or to what was said, has to be kept too.
func TestSessionComesBackWhole(t *testing.T) {
	n := full(t)
	for _, v := range []any{n, n.Reading, n.Said, n.Reading.Session, n.Reading.Session.Conditions, n.Reading.Questions[0], n.Reading.Session.Shots[0],
		*n.Reading.Gist, n.Reading.Gist.Set, *n.Reading.Gist.Trial, n.Reading.Gist.Trial.Sets[0], n.Reading.Gist.Trial.Sets[0].Moved[0]} {
		rv := reflect.ValueOf(v)
		for i := range rv.NumField() {
			if f := rv.Type().Field(i); f.IsExported() && rv.Field(i).IsZero() {
				t.Errorf("the example leaves %T.%s empty, so the test could not see it lost", v, f.Name)
			}
		}
	}
	c := newClock()
	db := open(t, store.WithClock(c.now))
	posted, created, err := db.PostSession(t.Context(), n)
	if err != nil || !created {
		t.Fatalf("PostSession = created %v, %v", created, err)
	}
	want := store.Session{
		SessionInfo: store.SessionInfo{
			ID: posted.ID, Server: saltmarsh, Student: wren, PostedBy: coach, Posted: c.at,
			At: n.Reading.Session.When, Dated: analysis.ByClock, Channel: "thread-1", Name: n.Name,
			// printf 'club;face\r\n56;-1,5\r\n' | sha256sum
			SHA256: "4eb229f18a7fe3b544ebbca30132e656217e10887098b494609002adceb14809",
			Balls:  2, Used: 1, Open: 1,
		},
		Reading: n.Reading,
		Said:    n.Said, FirstBall: n.Said.Ball,
	}
	read, err := db.SessionWithBalls(t.Context(), saltmarsh, posted.ID)
	if err != nil {
		t.Fatal(err)
	}
	for name, got := range map[string]store.Session{"posted": posted, "read back": read} {
		if d := cmp.Diff(want, got, compareShots); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
	raw, err := db.Raw(t.Context(), saltmarsh, posted.ID)
	if err != nil || string(raw) != string(n.Raw) {
		t.Errorf("Raw = %q, %v", raw, err)
	}
}

func TestSameFileIsOneSession(t *testing.T) {
	db := open(t)
	n := full(t)
	first, _, err := db.PostSession(t.Context(), n)
	if err != nil {
		t.Fatal(err)
	}
	again := n
	again.Name, again.Request, again.Reading.Session.Shots = "copy.csv", "event-8", nil
	second, created, err := db.PostSession(t.Context(), again)
	if err == nil {
		second, err = db.SessionWithBalls(t.Context(), saltmarsh, second.ID)
	}
	if err != nil || created {
		t.Fatalf("second post: created %v, %v", created, err)
	}
	if d := cmp.Diff(first, second, compareShots); d != "" {
		t.Errorf("the second post changed the first (-want +got):\n%s", d)
	}
	for name, change := range map[string]func(*store.NewSession){
		"another student": func(n *store.NewSession) { n.Student = tamsin },
		"another server":  func(n *store.NewSession) { n.Server = elsewhere },
		"another byte":    func(n *store.NewSession) { n.Raw = append([]byte("\ufeff"), n.Raw...) },
	} {
		other := n
		change(&other)
		if _, created, err := db.PostSession(t.Context(), other); err != nil || !created {
			t.Errorf("%s: created %v, %v", name, created, err)
		}
	}
}

func TestSameFileAtTheSameTime(t *testing.T) {
	db := open(t)
	n := full(t)
	var wg sync.WaitGroup
	ids, fresh := make([]string, 16), make([]bool, 16)
	for i := range ids {
		wg.Go(func() {
			n := n
			n.Request = fmt.Sprint("event-", i)
			s, created, err := db.PostSession(background, n)
			if err != nil {
				t.Error(err)
			}
			ids[i], fresh[i] = s.ID, created
		})
	}
	wg.Wait()
	count := 0
	for i := range ids {
		if ids[i] != ids[0] {
			t.Errorf("post %d is session %s, post 0 is %s", i, ids[i], ids[0])
		}
		if fresh[i] {
			count++
		}
	}
	if count != 1 {
		t.Errorf("%d posts say they created the session, want 1", count)
	}
}

// Whoever reads while readings are replaced sees one or the other, never a mix.
func TestReadersSeeWholeReadings(t *testing.T) {
	db, r := open(t), seeded()
	small, large := newSession(t, r, saltmarsh, wren, time.Time{}, 2).Reading, newSession(t, r, saltmarsh, wren, time.Time{}, 40).Reading
	s := post(t, db, r, saltmarsh, wren, time.Time{}, 2)
	done := make(chan bool)
	go func() {
		defer close(done)
		for i := range 40 {
			reading := small
			if i%2 == 0 {
				reading = large
			}
			if _, err := db.ReplaceReading(background, saltmarsh, s.ID, reading, store.Said{}); err != nil {
				t.Error(err)
			}
		}
	}()
	seen := map[int]bool{}
	for running := true; running; {
		got, err := db.SessionWithBalls(t.Context(), saltmarsh, s.ID)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(got.Reading.Session.Shots); n != got.Balls || n != 2 && n != 40 {
			t.Fatalf("%d shots in a session of %d balls", n, got.Balls)
		}
		seen[got.Balls] = true
		select {
		case <-done:
			running = false
		default:
		}
	}
	if len(seen) != 2 {
		t.Errorf("saw only sessions of %v balls: the test compared nothing", seen)
	}
}

func TestReplaceReading(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	n := full(t)
	posted, _, err := db.PostSession(t.Context(), n)
	if err != nil {
		t.Fatal(err)
	}
	c.add(time.Hour)
	r := store.Reading{Session: analysis.Session{Shots: shots(t, seeded(), 5, "8i")}, Fingerprint: "club|face",
		Decisions: []string{}, Questions: []analysis.Question{}}
	said := store.Said{Sets: "1-2 normal, 3-5 weak"}
	replaced, err := db.ReplaceReading(t.Context(), saltmarsh, posted.ID, r, said)
	if err != nil {
		t.Fatal(err)
	}
	want := posted
	want.Reading, want.Said = r, said
	// What stands in rows 3 and 5 was posted as these.
	want.Was = []analysis.Club{{}, club(t, "56"), {}, club(t, "driver"), {}}
	// The file no longer says when it was hit.
	want.At, want.Dated, want.Balls, want.Used, want.Open = posted.Posted, analysis.Undated, 5, 5, 0
	read, err := db.SessionWithBalls(t.Context(), saltmarsh, posted.ID)
	if err != nil {
		t.Fatal(err)
	}
	for name, got := range map[string]store.Session{"returned": replaced, "read back": read} {
		if d := cmp.Diff(want, got, compareShots); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
	old, err := db.Values(t.Context(), saltmarsh, wren, store.ValuesFilter{Number: analysis.Face, Club: club(t, "56")})
	if err != nil || len(old) != 0 {
		t.Errorf("values of the old reading are still there: %v, %v", old, err)
	}
	if raw, err := db.Raw(t.Context(), saltmarsh, posted.ID); err != nil || string(raw) != string(n.Raw) {
		t.Errorf("Raw after replacing = %q, %v", raw, err)
	}
}

// What would come back as something else is refused, and whole.
func TestUnnamedClubsAreRefused(t *testing.T) {
	db := open(t)
	for name, c := range map[string]analysis.Club{
		"no such club":          {Family: analysis.Iron, Number: 12},
		"comes back as an iron": {Family: analysis.Wedge, Wedge: "7i"},
		"comes back without 1":  {Family: analysis.Driver, Number: 1},
	} {
		shot, said := full(t), full(t)
		shot.Reading.Session.Shots[1].Club = c
		said.Said.Club = c
		for where, n := range map[string]store.NewSession{"of a shot": shot, "said": said} {
			if _, _, err := db.PostSession(t.Context(), n); err == nil {
				t.Errorf("%s, %s: kept", name, where)
			}
		}
	}
	if all, err := db.Sessions(t.Context(), saltmarsh, wren, store.SessionFilter{}); err != nil || len(all) != 0 {
		t.Errorf("after the refusals: %v, %v", all, err)
	}
}

func TestSessionsInOrder(t *testing.T) {
	c := newClock()
	db, r := open(t, store.WithClock(c.now)), seeded()
	day := func(d int) time.Time { return time.Date(2026, 3, d, 12, 0, 0, 0, time.UTC) }
	march5 := post(t, db, r, saltmarsh, wren, day(5), 3)
	c.add(time.Minute)
	march2 := post(t, db, r, saltmarsh, wren, day(2), 3) // posted late
	c.add(time.Minute)
	march9 := post(t, db, r, saltmarsh, wren, day(9), 3)
	post(t, db, r, saltmarsh, tamsin, day(7), 3)
	post(t, db, r, elsewhere, wren, day(7), 3)

	for _, tt := range []struct {
		name string
		f    store.SessionFilter
		want []string
	}{
		{"all", store.SessionFilter{}, []string{march9.ID, march5.ID, march2.ID}},
		{"since", store.SessionFilter{Since: day(5)}, []string{march9.ID, march5.ID}},
		{"posted since", store.SessionFilter{PostedSince: march2.Posted}, []string{march9.ID, march2.ID}},
		{"limit", store.SessionFilter{Limit: 1}, []string{march9.ID}},
	} {
		all, err := db.Sessions(t.Context(), saltmarsh, wren, tt.f)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, s := range all {
			got = append(got, s.ID)
		}
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, d)
		}
	}
	latest, err := db.LatestSession(t.Context(), saltmarsh, wren)
	if err != nil || latest.ID != march9.ID || latest.Balls != 3 {
		t.Errorf("LatestSession = %s with %d balls, %v", latest.ID, latest.Balls, err)
	}
}

// An id is worth nothing on another server.
func TestSessionsStayOnTheirServer(t *testing.T) {
	db := open(t)
	s := post(t, db, seeded(), saltmarsh, wren, time.Time{}, 3)
	for name, try := range map[string]func() error{
		"SessionWithBalls": func() error { _, err := db.SessionWithBalls(t.Context(), elsewhere, s.ID); return err },
		"Session":          func() error { _, err := db.Session(t.Context(), elsewhere, s.ID); return err },
		"Raw":              func() error { _, err := db.Raw(t.Context(), elsewhere, s.ID); return err },
		"LatestSession":    func() error { _, err := db.LatestSession(t.Context(), elsewhere, wren); return err },
		"ReplaceReading": func() error {
			_, err := db.ReplaceReading(t.Context(), elsewhere, s.ID, store.Reading{}, store.Said{})
			return err
		},
	} {
		if err := try(); !errors.Is(err, store.ErrNotFound) {
			t.Errorf("%s from another server: %v, want ErrNotFound", name, err)
		}
	}
	got, err := db.SessionWithBalls(t.Context(), saltmarsh, s.ID)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(s, got, compareShots); d != "" {
		t.Errorf("the session changed (-want +got):\n%s", d)
	}
}

func TestPostAgainAfterForgetting(t *testing.T) {
	db, r := open(t), seeded()
	n := newSession(t, r, saltmarsh, wren, time.Time{}, 3)
	if _, _, err := db.PostSession(t.Context(), n); err != nil {
		t.Fatal(err)
	}
	if err := db.ForgetStudent(t.Context(), saltmarsh, wren); err != nil {
		t.Fatal(err)
	}
	if v, err := db.Values(t.Context(), saltmarsh, wren, store.ValuesFilter{Number: analysis.Face}); err != nil || len(v) != 0 {
		t.Errorf("values after deletion: %v, %v", v, err)
	}
	if _, created, err := db.PostSession(t.Context(), n); err != nil || !created {
		t.Errorf("posting a deleted file again: created %v, %v", created, err)
	}
}

// A request that is taken up again after a crash posted its file itself: that
// is not the same file posted again.
func TestSameRequestPostsOnce(t *testing.T) {
	db := open(t)
	n := full(t)
	first, created, err := db.PostSession(t.Context(), n)
	if err != nil || !created {
		t.Fatal(created, err)
	}
	again, created, err := db.PostSession(t.Context(), n)
	if err != nil || !created || again.ID != first.ID {
		t.Errorf("taken up again: session %s, created %v, %v; want %s, true", again.ID, created, err, first.ID)
	}
	n.Request = ""
	if _, created, err := db.PostSession(t.Context(), n); err != nil || created {
		t.Errorf("by no request: created %v, %v", created, err)
	}
}

// Nobody waits for the one writer while a file's balls are compared with those of
// the sessions before.
func TestComparedBeforeTheWriter(t *testing.T) {
	db, n := open(t), full(t)
	if _, _, err := db.PostSession(t.Context(), n); err != nil {
		t.Fatal(err)
	}
	compared := 0
	n.Raw = append(slices.Clone(n.Raw), '\n')
	n.Same = func(_, _ []analysis.Shot) bool {
		compared++
		ctx, cancel := context.WithTimeout(t.Context(), 2*time.Second)
		defer cancel()
		if _, err := db.Accept(ctx, store.Intake{ID: "meanwhile", Body: []byte("{}")}); err != nil {
			t.Errorf("while balls are compared: %v", err)
		}
		return true
	}
	if _, created, err := db.PostSession(t.Context(), n); err != nil || created || compared != 1 {
		t.Errorf("created %v, compared %d times, %v", created, compared, err)
	}
}
