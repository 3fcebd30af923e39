package bot

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/store"
)

// A season for the benchmarks: many sessions of one student, some of each of a
// coach's two hundred. With RANGEPOST_MILLION=FILE, the file that the store's
// benchmark of that name filled, they run on a database of a million balls.
const (
	benchSessions = 500
	benchStudents = 200
)

var benchDay = time.Date(2026, time.April, 1, 9, 0, 0, 0, time.UTC)

// crowded is a bot on such a database, and the names in it.
func crowded(b *testing.B, sessions, students, each int) (bot *Bot, server, student, coach string) {
	b.Helper()
	path := os.Getenv("RANGEPOST_MILLION")
	now := func() time.Time { return benchDay.Add(time.Hour) }
	db, err := store.Open(b.Context(), path, store.WithClock(now))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { db.Close() })
	server, student, coach = "server-saltmarsh", "user-wren", "user-coach"
	if path == "" {
		fill(b, db, server, student, sessions, 60)
		for i := range students {
			pupil := fmt.Sprintf("user-%03d", i)
			bound(b, db, server, pupil, coach)
			fill(b, db, server, pupil, each, 60)
		}
	}
	bot, err = New(b.Context(), Config{DB: db, Now: now, Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	if err != nil {
		b.Fatal(err)
	}
	return bot, server, student, coach
}

func bound(b *testing.B, db *store.DB, server, pupil, coach string) {
	b.Helper()
	asked, err := db.AskConsent(b.Context(), server, "thread-"+pupil, pupil, coach)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := db.GiveConsent(b.Context(), server, asked.ID, pupil); err != nil {
		b.Fatal(err)
	}
	low, high := -0.03, 0.03
	if _, err := db.SetBrief(b.Context(), store.Brief{Server: server, Student: pupil, Coach: coach, Brief: analysis.Brief{Number: analysis.FaceToPath, Low: &low, High: &high, Balls: 40}}); err != nil {
		b.Fatal(err)
	}
}

// fill posts sessions of so many balls, one a day up to today.
func fill(b *testing.B, db *store.DB, server, student string, sessions, balls int) {
	b.Helper()
	iron, err := analysis.ParseClub("7i")
	if err != nil {
		b.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, uint64(sessions)))
	for day := range sessions {
		shots := make([]analysis.Shot, balls)
		for i := range shots {
			shots[i] = analysis.Shot{N: i + 1, Club: iron}
			for _, n := range analysis.Numbers() {
				shots[i] = shots[i].With(n, 1+0.1*r.NormFloat64())
			}
		}
		if _, _, err := db.PostSession(b.Context(), store.NewSession{
			Server: server, Student: student, Name: "range.csv", Raw: fmt.Append(nil, student, day),
			Reading: store.Reading{Session: analysis.Session{When: benchDay.AddDate(0, 0, -day), Shots: shots}},
		}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTimeline answers a timeline over 500 sessions of 60 balls, from the
// database to the statements, without the picture.
func BenchmarkTimeline(b *testing.B) {
	bot, server, student, _ := crowded(b, benchSessions, 0, 0)
	for b.Loop() {
		results, err := bot.records.Timelines(context.Background(), server, student, record.Query{Numbers: []analysis.Number{analysis.Face}})
		if err != nil || len(results) != 1 || len(results[0].Points) != benchSessions {
			b.Fatalf("%d results, %v", len(results), err)
		}
	}
}

// BenchmarkRoster puts 200 students with a brief in order, from the database to
// the lines, without the picture.
func BenchmarkRoster(b *testing.B) {
	bot, server, _, coach := crowded(b, 0, benchStudents, 5)
	for b.Loop() {
		lines, err := bot.records.Roster(context.Background(), server, coach)
		if err != nil || len(lines) != benchStudents || rosterLine(lines[0]) == "" {
			b.Fatalf("%d lines, %v", len(lines), err)
		}
	}
}

// BenchmarkReview marks one of 10,000 unread posts as looked at and finds the
// next, which is what a press in a review asks of the database.
func BenchmarkReview(b *testing.B) {
	const students, each = 50, 200
	bot, server, _, coach := crowded(b, 0, students, 0)
	for i := range students {
		fill(b, bot.db, server, fmt.Sprintf("user-%03d", i), each, 1)
	}
	call := Call{Request: Request{Server: server, Asker: Person{ID: coach}}}
	next, more, err := unread(b.Context(), bot, call, everybody, "")
	if err != nil || more == 0 {
		b.Fatalf("%d more, %v", more, err)
	}
	for b.Loop() {
		if err := bot.db.LookedAt(b.Context(), server, coach, next.ID); err != nil {
			b.Fatal(err)
		}
		if next, more, err = unread(b.Context(), bot, call, everybody, next.ID); err != nil || next == nil {
			b.Fatalf("%d more, %v", more, err)
		}
	}
}

// BenchmarkReviewPage looks at a page of ten of 10,000 unread posts and makes the
// next, which is what a press under a page asks of the database.
func BenchmarkReviewPage(b *testing.B) {
	const students, each = 50, 200
	bot, server, _, coach := crowded(b, 0, students, 0)
	for i := range students {
		fill(b, bot.db, server, fmt.Sprintf("user-%03d", i), each, 1)
	}
	call := Call{Request: Request{Server: server, Asker: Person{ID: coach}, Roles: []string{"coaches"}}}
	posts, err := bot.records.ToReview(b.Context(), server, coach)
	if err != nil || len(posts) < 2*reviewMost {
		b.Fatalf("%d posts, %v", len(posts), err)
	}
	for b.Loop() {
		if err := bot.db.LookedAt(b.Context(), server, coach, posts[:reviewMost]...); err != nil {
			b.Fatal(err)
		}
		page, err := pageReply(b.Context(), bot, call, "view", posts, reviewMost, "")
		if err != nil || len(page.among) == 0 {
			b.Fatalf("%q, %v", page.Text, err)
		}
	}
}

// BenchmarkComplete offers the numbers of 500 sessions while somebody types.
func BenchmarkComplete(b *testing.B) {
	bot, server, student, _ := crowded(b, benchSessions, 0, 0)
	for _, option := range []string{"number", "club", "since"} {
		b.Run(option, func(b *testing.B) {
			r := Request{ID: "x", Kind: CompletionAsk, Server: server, Asker: Person{ID: student}, Command: "timeline", Focused: option, Options: map[string]string{}}
			for b.Loop() {
				if reply := bot.Handle(context.Background(), r); len(reply.Choices) == 0 {
					b.Fatal("nothing is offered")
				}
			}
		})
	}
}
