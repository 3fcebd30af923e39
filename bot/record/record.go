// Package record is what happens to a student's record: a session posted, read
// and read again, numbers followed over sessions, briefs and how they stand,
// the coach's roster and what there is to tell them, the club's challenges
// scored and added up.
//
// It lies below the conversations: it returns data and errors, never a reply,
// and knows no request, no button and no sentence. What it refuses, it refuses
// with an analysis.Refusal. It asks nobody who may see what: the conversations
// have settled that before they call.
package record

import (
	"context"
	"log/slog"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// Records are the records of every student in a database. Their methods may be
// called from many goroutines.
type Records struct {
	db  *store.DB
	now func() time.Time
	log *slog.Logger

	late late // the answers of late
}

// New returns the records a database holds.
func New(db *store.DB, now func() time.Time, log *slog.Logger) *Records {
	return &Records{db: db, now: now, log: log}
}

// A Golfer is a student with the units they are shown: their own, else the
// clubhouse's.
type Golfer struct {
	store.Student
	Shown analysis.Units
}

// Golfer is a student, who is written down if new.
func (rs *Records) Golfer(ctx context.Context, server, id string) (g Golfer, err error) {
	if g.Student, err = rs.db.Student(ctx, server, id); err != nil {
		return g, err
	}
	house, err := rs.db.Clubhouse(ctx, server)
	g.Shown = g.Units.Or(house.Units)
	return g, err
}

// ForgetLate drops the answers that are remembered.
func (rs *Records) ForgetLate() { rs.late.forget() }

// Remove deletes one session of a student.
func (rs *Records) Remove(ctx context.Context, s store.Session) error {
	defer rs.late.forget()
	return rs.db.RemoveSession(ctx, s.Server, s.Student, s.ID)
}

// Forget deletes everything kept of a student on a server.
func (rs *Records) Forget(ctx context.Context, server, student string) error {
	defer rs.late.forget()
	return rs.db.ForgetStudent(ctx, server, student)
}
