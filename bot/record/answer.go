package record

import (
	"context"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/bot/report"
	"rangepost/store"
)

// answersFor are the answers a student's files with a header are read by: what
// they said, or was said of a file of theirs, and what a coach or manager lends
// to everybody.
func (rs *Records) answersFor(ctx context.Context, server, student, fingerprint string) (own analysis.Answers, lent []store.Answer, err error) {
	remembered, err := rs.db.Answers(ctx, server, fingerprint, student)
	own = analysis.Answers{}
	for _, a := range remembered {
		if a.Own(student) {
			own[a.Key] = a.Value
		} else {
			lent = append(lent, a)
		}
	}
	return own, lent, err
}

// readLent reads a file by a student's own answers, and what those leave open
// by the lent ones. Borrowed says which of them it came to.
func readLent(file *sessionfile.Opened, o sessionfile.Options, lent []store.Answer) (r sessionfile.Reading, borrowed []report.Borrowed, err error) {
	if r, err = file.Read(o); err != nil || len(lent) == 0 {
		return r, nil, err
	}
	open := r.Questions
	with := analysis.Answers{}
	for _, a := range lent {
		with[a.Key] = a.Value
	}
	o.Answers = with.With(o.Answers)
	if r, err = file.Read(o); err != nil {
		return r, nil, err
	}
	for _, a := range lent {
		for _, q := range open {
			if q.Key == a.Key {
				borrowed = append(borrowed, report.Borrowed{Question: q, Value: a.Value, Coach: a.Coach})
			}
		}
	}
	return r, borrowed, nil
}

// Answer remembers an answer for the files it counts for, and reads all with
// the same header again.
func (rs *Records) Answer(ctx context.Context, a store.Answer) error {
	if _, err := rs.db.RememberAnswer(ctx, a); err != nil {
		return err
	}
	return rs.rereadHeader(ctx, a.Server, a.Fingerprint)
}

// Unanswer takes a remembered answer back and reads every file with that
// header again, by the answers that count then.
func (rs *Records) Unanswer(ctx context.Context, server, id string) error {
	a, err := rs.db.UndoAnswer(ctx, server, id)
	if err != nil {
		return err
	}
	return rs.rereadHeader(ctx, server, a.Fingerprint)
}

func (rs *Records) rereadHeader(ctx context.Context, server, fingerprint string) error {
	ids, err := rs.db.SessionsWithHeader(ctx, server, fingerprint)
	if err != nil {
		return err
	}
	for _, id := range ids {
		if err := rs.rereadOne(ctx, server, id); err != nil {
			return err
		}
	}
	return nil
}

// RereadAll reads a student's sessions again, each kept on its own: after they
// said which hand they play from, say. One that cannot be read any more stays
// as it was.
func (rs *Records) RereadAll(ctx context.Context, server, student string) (read, failed int, err error) {
	infos, err := rs.db.Sessions(ctx, server, student, store.SessionFilter{})
	if err != nil {
		return 0, 0, err
	}
	for _, info := range infos {
		switch err := rs.rereadOne(ctx, server, info.ID); {
		case err == nil:
			read++
		case ctx.Err() != nil:
			return read, failed, ctx.Err()
		default:
			rs.log.WarnContext(ctx, "a kept session could not be read again", "err", err)
			failed++
		}
	}
	return read, failed, nil
}

func (rs *Records) rereadOne(ctx context.Context, server, id string) error {
	s, err := rs.db.Session(ctx, server, id)
	if err != nil {
		return err
	}
	_, _, err = rs.Say(ctx, s, s.Said)
	return err
}
