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
	Request           string // the request it is posted by
	Name              string // of the file
	Raw               []byte
	Said              store.Said
}

// Post reads and keeps a file. One that was there before, or whose balls were in
// another, stays one session, with what is said of it now; fresh is then false.
func (rs *Records) Post(ctx context.Context, p Post) (s store.Session, answer report.Report, fresh bool, err error) {
	file, err := sessionfile.Open(p.Name, p.Raw)
	if err != nil {
		return s, answer, false, err
	}
	in, err := rs.inputsOf(ctx, p.Server, p.Student, p.Said, file.Fingerprint(), time.Time{}, rs.now())
	if err != nil {
		return s, answer, false, err
	}
	if answer, err = in.answer(ctx, file); err != nil {
		return s, answer, false, err
	}
	s, fresh, err = rs.db.PostSession(ctx, store.NewSession{
		Server: p.Server, Student: p.Student, PostedBy: p.PostedBy, Channel: p.Channel, Request: p.Request,
		Name: p.Name, Raw: p.Raw, Reading: readingOf(answer), Said: p.Said, Same: analysis.SameBalls,
	})
	if err == nil && fresh {
		// A post that was taken is not refused for what it might have settled.
		if err := rs.settles(ctx, s); err != nil {
			rs.log.WarnContext(ctx, "what a post says of a lesson could not be found", "err", err)
		}
	}
	if err != nil || fresh {
		return s, answer, fresh, err
	}
	// What was said this time is said of the same session; what was said before
	// and not now still holds.
	s, answer, err = rs.Say(ctx, s, p.Said.Over(s.Said))
	return s, answer, false, err
}

// Say keeps what is said of a session now, and the reading that makes. Sets that
// are named by hand count before those of a plan's card.
func (rs *Records) Say(ctx context.Context, s store.Session, said store.Said) (store.Session, report.Report, error) {
	if said.Sets != s.Said.Sets {
		if err := rs.db.Unplace(ctx, s.ID); err != nil {
			return s, report.Report{}, err
		}
	}
	return rs.say(ctx, s, said)
}

func (rs *Records) say(ctx context.Context, s store.Session, said store.Said) (store.Session, report.Report, error) {
	s.Said = said
	answer, err := rs.Reread(ctx, s)
	if err != nil {
		return s, answer, err
	}
	s, err = rs.db.ReplaceReading(ctx, s.Server, s.ID, readingOf(answer), said)
	return s, answer, err
}

// Reread makes the whole answer to a session from its kept file. It keeps
// nothing in the database; the answers of late are remembered for as long as
// nothing changes that they rest on.
func (rs *Records) Reread(ctx context.Context, s store.Session) (report.Report, error) {
	in, err := rs.inputsOf(ctx, s.Server, s.Student, s.Said, s.Reading.Fingerprint, s.Posted, s.At)
	if err != nil {
		return report.Report{}, err
	}
	key := in.key(s)
	if answer, ok := rs.late.find(key); ok {
		return answer, nil
	}
	file, err := rs.keptFile(ctx, s)
	if err != nil {
		return report.Report{}, err
	}
	answer, err := in.answer(ctx, file)
	if err == nil {
		rs.late.keep(key, answer)
	}
	return answer, err
}

func (rs *Records) keptFile(ctx context.Context, s store.Session) (*sessionfile.Opened, error) {
	raw, err := rs.db.Raw(ctx, s.Server, s.ID)
	if err != nil {
		return nil, err
	}
	return sessionfile.Open(s.Name, raw)
}

// written is what the file of a kept session says of itself. It is read for that,
// and nothing is worked out from its balls.
func (rs *Records) written(ctx context.Context, s store.Session) (w analysis.Written, err error) {
	in, err := rs.inputsOf(ctx, s.Server, s.Student, s.Said, s.Reading.Fingerprint, s.Posted, s.At)
	if err != nil {
		return w, err
	}
	file, err := rs.keptFile(ctx, s)
	if err != nil {
		return w, err
	}
	reading, _, err := in.read(file)
	return reading.Written, err
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

// inputs are what an answer rests on besides the file.
type inputs struct {
	golfer Golfer
	zone   *time.Location // the golfer's
	posted time.Time
	said   store.Said
	own    analysis.Answers // of the student, and what was said of this very file
	lent   []store.Answer
	briefs []analysis.Brief
	taught []analysis.Observation
	pooled []analysis.Pooled // over their coach's other students

	earlier   []analysis.Session // what a miss in length is set against
	earlierID []string
	lookBack  func(context.Context, *inputs) error // gathers them
}

// inputsOf gathers them. A file with the same header that somebody answered
// questions about before is read by those answers; what was said of this very
// file counts more. posted is zero for a file that is not kept yet; hit is when
// its balls were, as far as known.
func (rs *Records) inputsOf(ctx context.Context, server, student string, said store.Said, fingerprint string, posted, hit time.Time) (in inputs, err error) {
	in.said = said
	if in.posted = posted; posted.IsZero() {
		in.posted = rs.now()
	}
	if in.zone, err = rs.Zone(ctx, server, student); err != nil {
		return in, err
	}
	if in.golfer, err = rs.Golfer(ctx, server, student); err != nil {
		return in, err
	}
	if in.own, in.lent, err = rs.answersFor(ctx, server, student, fingerprint); err != nil {
		return in, err
	}
	in.own = in.own.With(said.Answers)
	if in.briefs, err = rs.briefsAt(ctx, server, student, posted); err != nil {
		return in, err
	}
	if in.taught, err = rs.db.Taught(ctx, server, student, analysis.Club{}); err != nil {
		return in, err
	}
	if in.pooled, err = rs.Pooled(ctx, server, student); err != nil {
		return in, err
	}
	in.lookBack = func(ctx context.Context, in *inputs) error { return rs.lookBack(ctx, in, server, student, hit) }
	if len(said.Targets) > 0 {
		err = in.lookBack(ctx, &in)
	}
	return in, err
}

// usualSessions is of how many sessions a golfer's usual is taken, among the
// last so many: fewer say little, and of more some are too long ago (our choice).
const usualSessions = 6

// lookBack gathers the sessions hit before one.
func (rs *Records) lookBack(ctx context.Context, in *inputs, server, student string, hit time.Time) error {
	infos, err := rs.db.Sessions(ctx, server, student, store.SessionFilter{})
	if err != nil {
		return err
	}
	for _, info := range infos {
		if !info.At.Before(hit) {
			continue
		}
		if len(in.earlier) == usualSessions {
			break
		}
		s, err := rs.db.SessionWithBalls(ctx, server, info.ID)
		if err != nil {
			return err
		}
		in.earlier, in.earlierID = append(in.earlier, s.Reading.Session), append(in.earlierID, s.ID)
	}
	return nil
}

// read is the file read by them.
func (in inputs) read(file *sessionfile.Opened) (reading sessionfile.Reading, borrowed []report.Borrowed, err error) {
	o := sessionfile.Options{Club: in.said.Club, Answers: in.own, Zone: in.zone, Posted: in.posted}
	if in.golfer.Hand != nil {
		o.Hand, o.HandSet = *in.golfer.Hand, true
	}
	o.Lengths, o.Ball, o.Sets = in.golfer.Shown.Distance, in.said.Ball, in.said.Sets != ""
	if speed, from, ok := analysis.NotedWind(in.said.Note); ok {
		o.Air.WindSpeed, o.Air.WindFrom = &speed, &from
	}
	if reading, borrowed, err = readLent(file, o, in.lent); err != nil {
		return reading, nil, err
	}
	if !in.said.When.IsZero() {
		reading.Session.When, reading.Session.Dated = in.said.When, analysis.ByInstant
	}
	reading.Session.Note = in.said.Note
	return reading, borrowed, nil
}

// answer makes the whole answer to a file.
func (in inputs) answer(ctx context.Context, file *sessionfile.Opened) (report.Report, error) {
	reading, borrowed, err := in.read(file)
	if err != nil {
		return report.Report{}, err
	}
	if len(reading.Targets) > 0 && len(in.said.Targets) == 0 { // the file's own: nobody knew before it was read
		if err := in.lookBack(ctx, &in); err != nil {
			return report.Report{}, err
		}
	}
	answer, err := report.Of(ctx, reading, report.Options{
		Units: in.golfer.Shown, Targets: in.said.Targets, Labels: in.said.Sets, Briefs: in.briefs, Taught: in.taught, Pooled: in.pooled, Earlier: in.earlier,
	})
	answer.Borrowed = borrowed
	return answer, err
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
		Gist:        r.Gist(),
	}
}
