package bot

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"regexp"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
	"rangepost/store/pgtest"
	"rangepost/testdata"
)

// alone is a bot with a database of its own and the demo's files to fetch, by
// their names.
func alone(t *testing.T, now func() time.Time) (*Bot, *bytes.Buffer) {
	t.Helper()
	db, err := store.Open(t.Context(), pgtest.Path(t, ""), store.WithClock(now))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	log := &bytes.Buffer{}
	b, err := New(t.Context(), Config{
		DB: db, Now: now, Log: slog.New(slog.NewTextHandler(log, nil)),
		Fetch: func(_ context.Context, a Attachment) ([]byte, error) {
			return testdata.Files.ReadFile("sessions/" + a.Name)
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	return b, log
}

func posting(name string) Request {
	return Request{
		ID: NewIncident(), Kind: CommandRequest, Server: "saltmarsh", Channel: "practice", Asker: Person{ID: "wren", Name: "Wren"},
		Command: "post", Options: map[string]string{"file": "f", "ball": "range"}, Files: map[string]Attachment{"f": {ID: "f", Name: name}},
	}
}

// A picture that cannot be drawn in time costs the reply its picture and
// nothing else.
func TestTextWithoutPicture(t *testing.T) {
	b, log := alone(t, time.Now)
	ask := func(command string, options map[string]string) Reply {
		r := posting("wren-4-grip-trial.tsv")
		r.Command = command
		for key, value := range options {
			r.Options[key] = value
		}
		return b.Handle(t.Context(), r)
	}
	commands := []string{"post", "trial", "timeline"}
	for _, command := range commands { // what was taught and explained changes what the next reply says
		ask(command, nil)
	}
	drawn := map[string]Reply{}
	for _, command := range commands {
		if drawn[command] = ask(command, nil); drawn[command].Picture == nil {
			t.Fatalf("/%s has no picture: %q", command, drawn[command].Text)
		}
	}
	b.drawWithin = time.Nanosecond
	for _, command := range commands {
		got := ask(command, nil)
		text, told := strings.CutSuffix(got.Text, "\n(The picture could not be drawn this time.)")
		if got.Picture != nil || !told {
			t.Errorf("/%s: picture %v, text %q", command, got.Picture != nil, got.Text)
		}
		text = strings.TrimSuffix(text, "…")
		if text == "" || !strings.HasPrefix(drawn[command].Text, text) {
			t.Errorf("/%s without a picture says %q, with one %q", command, text, drawn[command].Text)
		}
		if len(got.Rows) != len(drawn[command].Rows) {
			t.Errorf("/%s loses its buttons", command)
		}
	}
	if n := strings.Count(log.String(), "picture failed"); n != len(commands) {
		t.Errorf("%d lines of the log tell of %d pictures", n, len(commands))
	}

	// A process that ends is no fault of a picture's.
	ended, end := context.WithCancel(t.Context())
	end()
	var reply Reply
	b.illustrate(ended, &reply, "post.png", func(ctx context.Context) (report.Picture, error) {
		return report.Picture{}, fmt.Errorf("picture not drawn: %w", ctx.Err())
	})
	if n := strings.Count(log.String(), "picture failed"); n != len(commands) || reply.Text != "" {
		t.Errorf("a picture cut short by the end of the process: %d lines of the log, reply %q", n, reply.Text)
	}
}

// What is wrong with the database is said in plain sentences, one for each
// fault, and noted under the number that is told.
func TestDatabaseFaultsInWords(t *testing.T) {
	b, log := alone(t, time.Now)
	number := regexp.MustCompile(`incident ([0-9a-z]{6})\b`)
	said := map[string]bool{}
	for _, fault := range []error{store.ErrFull, store.ErrBusy, store.ErrCrowded, store.ErrUnreachable, store.ErrInDoubt, store.ErrReadOnly, store.ErrDamaged, store.ErrNewer, errors.New("anything else")} {
		asked := posting("x.csv")
		asked.Incident = NewIncident()
		reply := b.explain(t.Context(), asked, fmt.Errorf("store: posting a session: %w: sqlite code 13", fault))
		m := number.FindStringSubmatch(reply.Text)
		if !reply.Private || m == nil {
			t.Fatalf("%v: %q, for the asker alone: %v", fault, reply.Text, reply.Private)
		}
		if !strings.Contains(log.String(), m[1]) {
			t.Errorf("%v: the log has no %s", fault, m[1])
		}
		plain := number.ReplaceAllString(reply.Text, "")
		if said[plain] {
			t.Errorf("%v: said of another fault too: %q", fault, plain)
		}
		said[plain] = true
		for _, jargon := range []string{"sqlite", "store:", "code"} {
			if strings.Contains(strings.ToLower(plain), jargon) {
				t.Errorf("%v: %q is not for the asker", fault, plain)
			}
		}
	}
}

// One file too many is refused in words before it is fetched, and there is room
// again when it is said that there is.
func TestQuota(t *testing.T) {
	db, err := store.Open(t.Context(), "", store.Sharing())
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	t.Run("in memory", func(t *testing.T) { testQuota(t, &quota{}) })
	t.Run("shared", func(t *testing.T) { testQuota(t, &quota{db: db}) })
}

func testQuota(t *testing.T, q *quota) {
	now := time.Date(2026, time.June, 1, 8, 0, 0, 0, time.UTC)
	post := func(n int) (taken int, last error) {
		for range n {
			now = now.Add(10 * time.Second)
			if last = q.take(t.Context(), "wren", now); last == nil {
				taken++
			}
		}
		return taken, last
	}
	taken, err := post(filesPerHour + 5)
	if taken != filesPerHour || err == nil {
		t.Fatalf("%d files are read within an hour, want %d: %v", taken, filesPerHour, err)
	}
	var refusal *analysis.Refusal
	if !errors.As(err, &refusal) {
		t.Fatalf("%v is no refusal", err)
	}
	for _, want := range []string{"one file too many", "120 of one person within an hour", "Nothing of it was kept", "Post it again in 40 minutes."} {
		if said := refusal.Say(words.Escape); !strings.Contains(said, want) {
			t.Errorf("%q does not say %q", said, want)
		}
	}
	if err := q.take(t.Context(), "odell", now); err != nil {
		t.Errorf("somebody else is refused: %v", err)
	}
	now = now.Add(40 * time.Minute)
	if taken, err := post(1); taken != 1 {
		t.Errorf("when it said there would be room: %v", err)
	}
	for total := filesPerHour + 1; total < filesPerDay; {
		now = now.Add(time.Hour)
		n, _ := post(min(100, filesPerDay-total))
		total += n
	}
	now = now.Add(time.Hour)
	if taken, err := post(1); taken != 0 || !strings.Contains(err.Error(), "400 of one person within a day") {
		t.Errorf("after %d files in a day: %v", filesPerDay, err)
	}
	// A clock that had been wrong does not shut anybody out.
	now = now.Add(-365 * 24 * time.Hour)
	if taken, err := post(1); taken != 1 {
		t.Errorf("after the clock was set back: %v", err)
	}
	now = now.Add(365 * 24 * time.Hour)
	q.take(t.Context(), "odell", now.Add(25*time.Hour))
	if q.db != nil {
		return // what is old is dropped by Prune
	}
	if len(q.times) != 1 {
		t.Errorf("%d people are remembered who handed over nothing today", len(q.times)-1)
	}
	if q.forget(t.Context(), "odell"); len(q.times) != 0 {
		t.Error("who had everything deleted is still remembered")
	}
}

// The quota is asked before the platform and the database are.
func TestQuotaComesFirst(t *testing.T) {
	b, _ := alone(t, time.Now)
	for range filesPerHour {
		if err := b.quota.take(t.Context(), "wren", time.Now()); err != nil {
			t.Fatal(err)
		}
	}
	b.fetch = func(context.Context, Attachment) ([]byte, error) {
		t.Error("the file is fetched all the same")
		return nil, errors.New("not to be fetched")
	}
	if reply := b.Handle(t.Context(), posting("wren-1-first.csv")); !reply.Private || !strings.Contains(reply.Text, "one file too many") {
		t.Errorf("one file too many: %q, for the asker alone: %v", reply.Text, reply.Private)
	}
}
