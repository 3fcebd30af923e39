package record

import (
	"context"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/store"
)

// A time in a file without an offset is on the golfer's clock. Which clock that
// is may be said later, and was taken for UTC's in sessions of before anybody
// could say: those times are read again, from the file, and nothing else of the
// reading changes by it.

// SetZone keeps the time zone a student said and dates their sessions by it.
func (rs *Records) SetZone(ctx context.Context, server, student, zone string) (moved int, err error) {
	if err := rs.db.SetTimeZone(ctx, server, student, zone); err != nil {
		return 0, err
	}
	for {
		n, all, err := rs.redateSome(ctx, server, student)
		if moved += n; all || err != nil {
			return moved, err
		}
	}
}

// Redate dates some of the sessions whose time is to be read again.
func (rs *Records) Redate(ctx context.Context) error {
	_, _, err := rs.redateSome(ctx, "", "")
	return err
}

// redateSome says how many times have moved by it, and whether it were all.
func (rs *Records) redateSome(ctx context.Context, server, student string) (moved int, all bool, err error) {
	const most = 50
	stale, err := rs.db.ToRedate(ctx, server, student, most)
	if err != nil {
		return 0, false, err
	}
	for _, info := range stale {
		is, err := rs.redateOne(ctx, info)
		if err != nil {
			return moved, false, err
		}
		if is {
			moved++
		}
	}
	return moved, len(stale) < most, nil
}

func (rs *Records) redateOne(ctx context.Context, info store.SessionInfo) (moved bool, err error) {
	s, err := rs.db.Session(ctx, info.Server, info.ID)
	if err != nil {
		return false, err
	}
	before := s.Reading.Session
	hit, dated := before.When, before.Dated
	open := slices.DeleteFunc(slices.Clone(s.Reading.Questions), func(q analysis.Question) bool { return q.Alone })
	answer, err := rs.readAgain(ctx, s)
	switch {
	case ctx.Err() != nil:
		return false, ctx.Err()
	case err != nil:
		rs.log.WarnContext(ctx, "a kept session could not be read again for its time", "err", err)
		open = s.Reading.Questions
	default:
		hit, dated = answer.Session.When, answer.Session.Dated
		for _, q := range answer.Questions {
			if q.Alone {
				open = append(open, q)
			}
		}
	}
	return !hit.Equal(before.When), rs.db.Redate(ctx, s.Server, s.ID, hit, dated, open)
}

// readAgain reads a kept session's file, without making an answer of it.
func (rs *Records) readAgain(ctx context.Context, s store.Session) (r sessionfile.Reading, err error) {
	in, err := rs.inputsOf(ctx, s.Server, s.Student, s.Said, s.Reading.Fingerprint, s.Posted, s.At)
	if err != nil {
		return r, err
	}
	raw, err := rs.db.Raw(ctx, s.Server, s.ID)
	if err != nil {
		return r, err
	}
	file, err := sessionfile.Open(s.Name, raw)
	if err != nil {
		return r, err
	}
	r, _, err = in.read(file)
	return r, err
}

// PastDay reads a day that somebody says of what has been, on their clock: its
// beginning, or a time of it. What cannot be is refused.
func PastDay(text string, zone *time.Location, now time.Time) (time.Time, error) {
	for _, form := range []string{time.DateOnly, "2006-01-02 15:04"} {
		t, err := time.ParseInLocation(form, text, zone)
		switch {
		case err != nil:
			continue
		case t.After(now):
			return t, analysis.Refuse("Say a day that has been.", "%s is still to come.", day(t))
		case t.Before(now.AddDate(-analysis.LongAgo, 0, 0)):
			return t, analysis.Refuse("Say a day of the last ten years.", "%s is too long ago.", day(t))
		}
		return t, nil
	}
	return time.Time{}, analysis.Refuse("Write it as year-month-day: 2026-09-30, or with its time: 2026-09-30 18:00.", "that is not a day.")
}
