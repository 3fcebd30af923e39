package record

import (
	"context"

	"rangepost/store"
)

// Answer remembers an answer for every file with the same header, and reads
// all of those again.
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
