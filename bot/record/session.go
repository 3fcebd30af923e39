package record

import (
	"context"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/bot/report"
	"rangepost/store"
)

// A Post is a file handed over, with what was said beside it.
type Post struct {
	Server, Student   string
	PostedBy, Channel string
	Name              string // of the file
	Raw               []byte
	Said              store.Said
}

// Post reads and keeps a file. One that was there before stays one session,
// with what is said of it now; fresh is then false.
func (rs *Records) Post(ctx context.Context, p Post) (s store.Session, answer report.Report, fresh bool, err error) {
	answer, err = rs.read(ctx, p, time.Time{})
	if err != nil {
		return s, answer, false, err
	}
	s, fresh, err = rs.db.PostSession(ctx, store.NewSession{
		Server: p.Server, Student: p.Student, PostedBy: p.PostedBy, Channel: p.Channel,
		Name: p.Name, Raw: p.Raw, Reading: readingOf(answer), Said: p.Said,
	})
	if err != nil || fresh {
		return s, answer, fresh, err
	}
	// What was said this time is said of the same session; what was said before
	// and not now still holds.
	s, answer, err = rs.Say(ctx, s, p.Said.Over(s.Said))
	return s, answer, false, err
}

// Say keeps what is said of a session now, and the reading that makes.
func (rs *Records) Say(ctx context.Context, s store.Session, said store.Said) (store.Session, report.Report, error) {
	s.Said = said
	answer, err := rs.Reread(ctx, s)
	if err != nil {
		return s, answer, err
	}
	s, err = rs.db.ReplaceReading(ctx, s.Server, s.ID, readingOf(answer), said)
	return s, answer, err
}

// Reread makes the whole answer to a session from its kept file. It keeps
// nothing.
func (rs *Records) Reread(ctx context.Context, s store.Session) (report.Report, error) {
	raw, err := rs.db.Raw(ctx, s.Server, s.ID)
	if err != nil {
		return report.Report{}, err
	}
	return rs.read(ctx, Post{Server: s.Server, Student: s.Student, Name: s.Name, Raw: raw, Said: s.Said}, s.Posted)
}

// Reading is a session by its id, with the whole answer to it.
func (rs *Records) Reading(ctx context.Context, server, id string) (store.Session, report.Report, error) {
	s, err := rs.db.Session(ctx, server, id)
	if err != nil {
		return s, report.Report{}, err
	}
	answer, err := rs.Reread(ctx, s)
	return s, answer, err
}

// read makes the whole answer to a post. A file with the same header that
// somebody answered questions about before is read by those answers; what was
// said of this very file counts more. posted is zero for one not kept yet.
func (rs *Records) read(ctx context.Context, p Post, posted time.Time) (report.Report, error) {
	student, err := rs.Golfer(ctx, p.Server, p.Student)
	if err != nil {
		return report.Report{}, err
	}
	file, err := sessionfile.Open(p.Name, p.Raw)
	if err != nil {
		return report.Report{}, err
	}
	remembered, err := rs.db.Answers(ctx, p.Server, file.Fingerprint())
	if err != nil {
		return report.Report{}, err
	}
	o := sessionfile.Options{Club: p.Said.Club, Answers: remembered.With(p.Said.Answers)}
	if student.Hand != nil {
		o.Hand, o.HandSet = *student.Hand, true
	}
	reading, err := file.Read(o)
	if err != nil {
		return report.Report{}, err
	}
	if p.Said.Ball != "" {
		reading.Session.Ball = p.Said.Ball
	}
	if !p.Said.When.IsZero() {
		reading.Session.When = p.Said.When
	}
	reading.Session.Note = p.Said.Note

	briefs, err := rs.briefsAt(ctx, p.Server, p.Student, posted)
	if err != nil {
		return report.Report{}, err
	}
	taught, err := rs.db.Taught(ctx, p.Server, p.Student, analysis.Club{})
	if err != nil {
		return report.Report{}, err
	}
	return report.Of(reading, report.Options{Units: student.Shown, Target: p.Said.Target, Labels: p.Said.Sets, Briefs: briefs, Taught: taught})
}

// readingOf is a report's reading as the store keeps it: with mishits flagged
// and what could be inferred filled in, so that timelines rest on what the
// replies rested on.
func readingOf(r report.Report) store.Reading {
	return store.Reading{
		Session:     r.Session,
		Fingerprint: r.Reading.Fingerprint,
		RowsRead:    r.Reading.File.RowsRead,
		RowsDropped: r.Reading.File.SummaryRowsDropped,
		Labelled:    r.Reading.Labelled,
		Decisions:   r.Reading.Decisions,
		Questions:   r.Reading.Questions,
		Taught:      r.Teaches(),
	}
}
