package record

import (
	"context"
	"slices"

	"rangepost/store"
)

// ToReview are the posts a coach has not looked at, of all students or of some:
// those first who need the coach most, of each the latest first; at most
// store.MostUnread.
func (rs *Records) ToReview(ctx context.Context, server, coach string, students ...string) (posts []string, err error) {
	lines, err := rs.Roster(ctx, server, coach, students...)
	if err != nil {
		return nil, err
	}
	for _, l := range lines {
		if l.Unread == 0 {
			continue
		}
		all, err := rs.db.ToLookAt(ctx, l.Binding, store.MostUnread-len(posts))
		if err != nil {
			return nil, err
		}
		for _, p := range slices.Backward(all) {
			posts = append(posts, p.ID)
		}
		if len(posts) == store.MostUnread {
			break
		}
	}
	return posts, nil
}

// An Entry is a post on a page of a review, with what was found in it.
type Entry struct {
	Finding
	ID      string
	Student store.Student
	Golfer  Golfer
}

// Review are those of some posts that a coach has still to look at and may see,
// in the order they are named in; any reports whether the coach may see one of
// the posts at all.
func (rs *Records) Review(ctx context.Context, server, coach string, posts []string) (entries []Entry, any bool, err error) {
	shown, err := rs.db.Shown(ctx, server, coach, posts)
	if err != nil {
		return nil, false, err
	}
	any = len(shown) > 0
	zone, err := rs.Zone(ctx, server, coach)
	if err != nil {
		return nil, any, err
	}
	house, err := rs.db.Clubhouse(ctx, server)
	if err != nil {
		return nil, any, err
	}
	found := map[string]Finding{}
	golfers := map[string]Golfer{}
	for _, s := range shown {
		if !s.Unread {
			continue
		}
		if _, ok := golfers[s.Student]; !ok {
			student, err := rs.db.Student(ctx, server, s.Student)
			if err != nil {
				return nil, any, err
			}
			golfers[s.Student] = Golfer{student, student.Units.Or(house.Units)}
			if err := rs.foundOf(ctx, server, s.Student, found); err != nil {
				return nil, any, err
			}
		}
		f, ok := found[s.ID]
		if !ok { // of long ago
			one := []store.Gisted{s}
			stale := 1
			if err := rs.gists(ctx, one, &stale); err != nil {
				return nil, any, err
			}
			f = Found(one, func(store.Gisted) bool { return true })[0]
		}
		f.At = f.At.In(zone)
		entries = append(entries, Entry{f, s.ID, golfers[s.Student].Student, golfers[s.Student]})
	}
	return entries, any, nil
}

// foundOf adds what was found in each of a student's latest sessions.
func (rs *Records) foundOf(ctx context.Context, server, student string, found map[string]Finding) error {
	b, err := rs.db.StudentBinding(ctx, server, student)
	if err != nil {
		return err
	}
	recent, err := rs.db.Recent(ctx, b, 2*mostSince)
	if err != nil {
		return err
	}
	stale := mostStale
	if err := rs.gists(ctx, recent, &stale); err != nil {
		return err
	}
	for _, f := range Found(recent, func(store.Gisted) bool { return true }) {
		found[f.Session] = f
	}
	return nil
}
