package record

import (
	"context"
	"errors"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/store"
)

// A Brief is a brief with how it stands. Its day is that of its coach's zone.
type Brief struct {
	store.Brief
	Kept     timeline.Kept
	Standing timeline.Standing
	Sessions int       // its balls were hit in
	Last     time.Time // when the last of those was hit
}

// LastBrief is the brief a student was set last, unless it was ended, as it
// stands now; nil without one.
func (rs *Records) LastBrief(ctx context.Context, server, student string) (*Brief, error) {
	kept, err := rs.db.LastBrief(ctx, server, student)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	b, err := rs.stand(ctx, kept, rs.now())
	return &b, err
}

// ActiveBrief is the brief a student has, whose day has not passed; nil without
// one.
func (rs *Records) ActiveBrief(ctx context.Context, server, student string) (*analysis.Brief, error) {
	kept, err := rs.db.ActiveBrief(ctx, server, student)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	kept, err = rs.where(ctx, kept)
	return &kept.Brief, err
}

// BriefAbout keeps which set a student's running brief is about.
func (rs *Records) BriefAbout(ctx context.Context, server, student, label string) error {
	b, err := rs.LastBrief(ctx, server, student)
	if err != nil {
		return err
	}
	if b == nil || b.Standing != timeline.Running {
		return analysis.Refuse("A coach sets one with `/brief`.", "There is no brief under way.")
	}
	return rs.db.BriefAbout(ctx, b.ID, label)
}

// SetBrief sets a brief. Replaced is the one before it as it stood then, nil
// without one.
func (rs *Records) SetBrief(ctx context.Context, b store.Brief) (set store.Brief, replaced *Brief, err error) {
	before, err := rs.db.LastBrief(ctx, b.Server, b.Student)
	none := errors.Is(err, store.ErrNotFound)
	if err != nil && !none {
		return set, nil, err
	}
	if set, err = rs.db.SetBrief(ctx, b); err != nil || none {
		return set, nil, err
	}
	before.Ended = rs.now()
	stood, err := rs.stand(ctx, before, before.Ended)
	return set, &stood, err
}

// Before counts the balls of the last sessions that a brief yet to be set would
// have held, so that a coach sees how much it asks.
func (rs *Records) Before(ctx context.Context, server, student string, b analysis.Brief) (inside, of int, err error) {
	values, err := rs.db.Values(ctx, server, student, store.ValuesFilter{Number: b.Number, Club: b.Club})
	const sessions = 3
	for _, v := range values[max(0, len(values)-sessions):] {
		for _, x := range v.Values {
			if of++; b.Holds(x) {
				inside++
			}
		}
	}
	return inside, of, err
}

// stand is how a brief stands at a time. Where that settles it, it is kept.
func (rs *Records) stand(ctx context.Context, b store.Brief, now time.Time) (Brief, error) {
	b, err := rs.where(ctx, b)
	if err != nil {
		return Brief{}, err
	}
	done, err := rs.db.Progress(ctx, b)
	if err != nil {
		return Brief{}, err
	}
	stood := standing(b, done, now)
	return stood, rs.settle(ctx, &stood)
}

// settle keeps how a brief that runs no longer stands. Settled once, it stays
// so, whatever is posted after.
func (rs *Records) settle(ctx context.Context, b *Brief) error {
	if b.Standing == timeline.Running || b.Settled != nil {
		return nil
	}
	kept, err := rs.db.SettleBrief(ctx, b.ID, store.Settled{
		Standing: string(b.Standing), Inside: b.Kept.Inside, Of: b.Kept.Of, Counted: b.Kept.Counted,
	})
	if err != nil {
		return err
	}
	b.Settled = &kept
	b.Standing = timeline.Standing(kept.Standing)
	return nil
}

// standing is how a brief with that progress stands at a time.
func standing(b store.Brief, done store.Progress, now time.Time) Brief {
	kept := timeline.Keep(b.Brief, done.Balls...)
	// One that was ended is judged by the balls it asked for, if they were hit.
	stood := kept.Standing(b.Over(now) || !b.Ended.IsZero() && kept.Enough && b.Asked() > 0)
	if s := b.Settled; s != nil {
		if stood = timeline.Standing(s.Standing); s.Of > 0 {
			kept = timeline.Shared(b.Brief, s.Inside, s.Of, s.Counted)
		}
	}
	return Brief{Brief: b, Kept: kept, Standing: stood, Sessions: done.Sessions, Last: done.Last}
}

// where puts a brief's day into the zone of its coach.
func (rs *Records) where(ctx context.Context, b store.Brief) (store.Brief, error) {
	zone, err := rs.Zone(ctx, b.Server, b.Coach)
	if err != nil {
		return b, err
	}
	return in(zone, b), nil
}

func in(zone *time.Location, b store.Brief) store.Brief {
	if !b.Until.IsZero() {
		b.Until = b.Until.In(zone)
	}
	return b
}

// briefsAt is the brief a student had when a session was posted: a later one
// says nothing of it. The zero time is now.
func (rs *Records) briefsAt(ctx context.Context, server, student string, posted time.Time) ([]analysis.Brief, error) {
	if posted.IsZero() {
		return rs.activeBriefs(ctx, server, student)
	}
	all, err := rs.db.Briefs(ctx, server, student)
	if err != nil {
		return nil, err
	}
	for _, b := range slices.Backward(all) {
		if !b.At.After(posted) && (b.Ended.IsZero() || b.Ended.After(posted)) && !b.Over(posted) {
			b, err := rs.where(ctx, b)
			return []analysis.Brief{b.Brief}, err
		}
	}
	return nil, nil
}

func (rs *Records) activeBriefs(ctx context.Context, server, student string) ([]analysis.Brief, error) {
	b, err := rs.ActiveBrief(ctx, server, student)
	if b == nil || err != nil {
		return nil, err
	}
	return []analysis.Brief{*b}, nil
}
