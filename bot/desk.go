package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/words"
	"rangepost/store"
)

// A deskLine is one of a coach's students with what needs the coach.
type deskLine struct {
	store.RosterLine
	voice    words.Voice
	followed timeline.Result // the brief's number, or face-to-path
	kept     *timeline.Kept  // nil without a brief
	standing timeline.Standing
	needs    []string // what needs the coach, the most pressing first
	weight   int
}

// How long a coach waits before asking what is the matter (common practice, no
// source).
const (
	silentAfterLesson = 7 * 24 * time.Hour  // without a post since the lesson
	silentAtAll       = 14 * 24 * time.Hour // without any post
)

// desk is every student of a coach, those first who need the coach most: a
// brief that was missed, a number that drifts, posts not looked at, silence
// since the lesson. Among equals the one waiting longest is first.
func (b *Bot) desk(ctx context.Context, server, coach string) ([]deskLine, error) {
	roster, err := b.db.Roster(ctx, server, coach)
	if err != nil {
		return nil, err
	}
	house, err := b.db.Clubhouse(ctx, server)
	if err != nil {
		return nil, err
	}
	zone, err := b.zone(ctx, server, coach)
	if err != nil {
		return nil, err
	}
	now := b.now()
	lines := make([]deskLine, len(roster))
	for i, l := range roster {
		lines[i] = newDeskLine(l, voiceOf(l.Student, house), now, zone)
	}
	slices.SortStableFunc(lines, func(x, y deskLine) int {
		if x.weight != y.weight {
			return y.weight - x.weight
		}
		return x.heard().Compare(y.heard())
	})
	return lines, nil
}

func newDeskLine(l store.RosterLine, voice words.Voice, now time.Time, zone *time.Location) deskLine {
	d := deskLine{RosterLine: l, voice: voice}
	d.followed = follow(l)
	need := func(weight int, text string) {
		if text != "" {
			d.needs = append(d.needs, text)
			d.weight += weight
		}
	}
	stands := ""
	if k := l.Brief; k != nil {
		kept := keptOf(briefIn(zone, *k), l.Progress)
		d.kept, d.standing = &kept, kept.Standing(over(*k, now))
		if d.standing != timeline.Running {
			stands = voice.Stands(kept, d.standing)
		}
	}
	// Each weighs more than all of those after it.
	if d.standing == timeline.Missed {
		need(16, stands)
	}
	need(8, voice.Drifted(d.followed))
	if l.Unread > 0 {
		need(4, voice.ToLookAt(l.Unread, l.Oldest))
	}
	need(2, d.silence(now))
	if d.standing != timeline.Missed {
		need(1, stands) // time for another one
	}
	return d
}

// silence is what there is to say when nothing comes any more.
func (d deskLine) silence(now time.Time) string {
	switch last, lesson := d.Last, d.Lesson; {
	case lesson != nil && (last == nil || last.Posted.Before(lesson.At)) && now.Sub(lesson.At) >= silentAfterLesson:
		return d.voice.Silent(now.Sub(lesson.At), true)
	case last == nil && now.Sub(d.Binding.Given) >= silentAfterLesson:
		return "never posted"
	case last != nil && now.Sub(last.Posted) >= silentAtAll:
		return d.voice.Silent(now.Sub(last.Posted), false)
	}
	return ""
}

// heard is when the student was last heard of.
func (d deskLine) heard() time.Time {
	if d.Last != nil {
		return d.Last.Posted
	}
	return d.Binding.Given
}

// name is how a reply names a student.
func (d deskLine) name() string { return nameOf(d.Student) }

func nameOf(s store.Student) string {
	if s.Name == "" {
		return fmt.Sprintf("<@%s>", s.ID)
	}
	return escape(s.Name)
}

// text is the student's line.
func (d deskLine) text() string {
	says := slices.Clone(d.needs)
	if d.kept != nil && d.standing == timeline.Running {
		says = append(says, d.voice.Stands(*d.kept, d.standing))
	}
	if d.Last != nil {
		since := ""
		if d.Lesson != nil {
			since = " since the lesson"
		}
		says = append(says, fmt.Sprintf("last post %s, %s%s", d.Last.Posted.Format("2 January"), ballsOf(d.Balls), since))
	}
	if len(says) == 0 {
		says = []string{"nothing posted yet"}
	}
	return "**" + d.name() + "**: " + strings.Join(says, "; ") + "."
}

// follow watches a roster line's number with the club most of its
// sessions have for drift.
func follow(l store.RosterLine) timeline.Result {
	club := commonest(l.Values)
	var sessions []analysis.SessionValues
	for _, v := range l.Values {
		if v.Club == club {
			sessions = append(sessions, v)
		}
	}
	var lessons []analysis.Lesson
	if l.Lesson != nil {
		lessons = []analysis.Lesson{l.Lesson.Lesson}
	}
	return timeline.Drifting(l.Number, club, sessions, lessons)
}

// over reports whether a brief's date has passed.
func over(b store.Brief, now time.Time) bool { return !b.Until.IsZero() && now.After(b.Until) }

// briefIn is a brief as the timeline package speaks of it, its day that of a
// time zone.
func briefIn(zone *time.Location, b store.Brief) analysis.Brief {
	asked := b.Brief
	if !asked.Until.IsZero() {
		asked.Until = asked.Until.In(zone)
	}
	return asked
}

// briefOf is briefIn where its coach is.
func (b *Bot) briefOf(ctx context.Context, k store.Brief) (analysis.Brief, error) {
	zone, err := b.zone(ctx, k.Server, k.Coach)
	if err != nil {
		return analysis.Brief{}, err
	}
	return briefIn(zone, k), nil
}

// progress is how a student's last brief is kept so far, nil without one.
func (b *Bot) progress(ctx context.Context, server, student string) (*timeline.Kept, store.Progress, error) {
	set, err := b.db.LastBrief(ctx, server, student)
	if errors.Is(err, store.ErrNotFound) {
		return nil, store.Progress{}, nil
	}
	if err != nil {
		return nil, store.Progress{}, err
	}
	done, err := b.db.Progress(ctx, set)
	if err != nil {
		return nil, store.Progress{}, err
	}
	asked, err := b.briefOf(ctx, set)
	kept := keptOf(asked, done)
	return &kept, done, err
}

func keptOf(b analysis.Brief, done store.Progress) timeline.Kept {
	return timeline.Keep(b, done.Inside, done.Of)
}

func ballsOf(n int) string {
	if n == 1 {
		return "1 ball"
	}
	return fmt.Sprintf("%d balls", n)
}
