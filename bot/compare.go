package bot

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/bot/words"
)

// runCompare is /compare: two clubs, two spans of time or two setups of a
// student, number by number with limits.
func runCompare(ctx context.Context, b *Bot, r Call) (Reply, error) {
	first, firstName, err := sideAsked(ctx, b, r, "first")
	if err != nil {
		return Reply{}, err
	}
	second, secondName, err := sideAsked(ctx, b, r, "second")
	if err != nil {
		return Reply{}, err
	}
	if first.Kind != second.Kind {
		return Reply{}, analysis.Refuse("Name two clubs, two spans of time or two setups.", "One of them is a %s and the other a %s.", first.Kind, second.Kind)
	}
	numbers, err := numbersAsked(r.Options["number"])
	if err != nil {
		return Reply{}, err
	}
	with, err := clubAsked(r.Options["club"])
	if err != nil {
		return Reply{}, err
	}
	if first.Kind == record.ClubSide {
		with = analysis.Club{}
	}
	all, with, err := b.records.Comparisons(ctx, r.Server, r.Student, first, second, numbers, with)
	if err != nil {
		return Reply{}, err
	}
	if len(all) == 0 {
		return Reply{}, analysis.Refuse("Choose from what is offered while you type.", "Nothing was measured of both %s and %s.", firstName, secondName)
	}
	student, voice, err := spokenTo(ctx, b, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	lines := voice.Compared(firstName, secondName, all)
	of := nameOf(student.Student)
	if !with.Unknown() {
		of += ", " + with.String()
	}
	lines[0] = "**" + of + "**. " + lines[0]
	if r.Student == r.Asker.ID {
		lines = words.Plainly(lines)
	}
	return Reply{about: r.Student, Text: words.Clip(strings.Join(lines, "\n"), MaxText)}, nil
}

// sideAsked reads one side: a span of time, a club, else what a set is called.
// name is what to call it in a sentence.
func sideAsked(ctx context.Context, b *Bot, r Call, option string) (s record.Side, name string, err error) {
	text := strings.ToLower(strings.TrimSpace(r.Options[option]))
	if s, name, ok, err := spanOf(ctx, b, r, text); ok || err != nil {
		return s, name, of(option, err)
	}
	if club, err := analysis.ParseClub(text); err == nil && !club.Unknown() {
		return record.Side{Kind: record.ClubSide, Club: club}, "the " + club.String(), nil
	}
	own := strings.TrimSpace(r.Options[option])
	if own == "" {
		return s, "", analysis.Refuse("A club, a span of time or what a set is called: 7i, since lesson, strong grip.", "that says nothing.").Of(option)
	}
	if analysis.UsualLabel(own) {
		return record.Side{Kind: record.SetupSide, Set: own}, "the usual setup", nil
	}
	return record.Side{Kind: record.SetupSide, Set: own}, words.Voice{}.Quote(own), nil
}

// spanOf reads a span of time: "since lesson", "before lesson", "last 5",
// "before last 5", "since 2026-06-01", "before 2026-06-01", "2026-06-01 to
// 2026-06-07". ok is false for what is none.
func spanOf(ctx context.Context, b *Bot, r Call, text string) (s record.Side, name string, ok bool, err error) {
	s.Kind = record.SpanSide
	if from, to, both := strings.Cut(text, " to "); both {
		first, errFrom := record.PastDay(strings.TrimSpace(from), r.Zone, b.now())
		last, errTo := record.PastDay(strings.TrimSpace(to), r.Zone, b.now())
		if errFrom != nil && errTo != nil {
			return s, "", false, nil // a label, perhaps
		}
		if errFrom != nil || errTo != nil || last.Before(first) {
			return s, "", true, analysis.Refuse("Write it as 2026-06-01 to 2026-06-07.", "that is no span of time.")
		}
		s.From, s.To = first, last.AddDate(0, 0, 1)
		return s, fmt.Sprintf("%s to %s", words.ShortDate(first), words.ShortDate(last)), true, nil
	}
	what, before := strings.CutPrefix(text, "before ")
	if !before {
		what = strings.TrimPrefix(strings.TrimPrefix(text, "since "), "after ")
	}
	if n, is := strings.CutPrefix(what, "last "); is && n != "lesson" {
		s.Last, err = strconv.Atoi(n)
		if err != nil || s.Last < 1 || s.Last > 9999 {
			return s, "", true, analysis.Refuse("Write it as last 5, or before last 5.", "that is no number of sessions.")
		}
		if s.Earlier = before; before {
			return s, "those before the last " + words.Count(s.Last, "day"), true, nil
		}
		return s, "the last " + words.Count(s.Last, "day"), true, nil
	}
	var at time.Time
	called := ""
	switch _, err := time.Parse(time.DateOnly, what); {
	case what == "lesson" || what == "the lesson" || what == "last lesson":
		if at, err = b.records.LastLesson(ctx, r.Server, r.Student); err != nil {
			return s, "", true, err
		}
		if at.IsZero() {
			return s, "", true, analysis.Refuse("A coach marks one with `/lesson`; until then ask from a day on.", "no lesson is marked yet.")
		}
		called = "the lesson of " + words.ShortDate(at.In(r.Zone))
	case err == nil && what != text: // "since" or "before" a day
		if at, err = record.PastDay(what, r.Zone, b.now()); err != nil {
			return s, "", true, err
		}
		called = words.ShortDate(at)
	default:
		return s, "", false, nil
	}
	if before {
		s.To = at
		return s, "before " + called, true, nil
	}
	s.From = at
	return s, "since " + called, true, nil
}

// completeCompare offers the clubs a student has, spans of time, and what their
// sets are called.
func completeCompare(ctx context.Context, b *Bot, r Call) (choices []Choice, err error) {
	measured, err := b.db.Measured(ctx, r.Server, r.Student)
	if err != nil {
		return nil, err
	}
	typed := strings.ToLower(strings.TrimSpace(r.Options[r.Focused]))
	switch r.Focused {
	case "number":
		before, last := lastPiece(r.Options[r.Focused])
		return completeNumber(measured, before, last), nil
	case "club":
		return completeClub(measured, "", typed), nil
	}
	add := func(value, text string) {
		if len(choices) < 25 && contains(typed, value, text) {
			choices = append(choices, choice(value, text))
		}
	}
	lessons, err := b.db.Lessons(ctx, r.Server, r.Student)
	if err != nil {
		return nil, err
	}
	if n := len(lessons); n > 0 {
		add("before lesson", "before the last lesson, "+r.day(lessons[n-1].At))
		add("since lesson", "since the last lesson, "+r.day(lessons[n-1].At))
	}
	names, err := b.records.SetNames(ctx, r.Server, r.Student)
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		add(name, "the set "+words.Clean(name))
	}
	for _, c := range completeClub(measured, "", typed) {
		if len(choices) < 25 {
			choices = append(choices, c)
		}
	}
	for _, n := range []int{5, 10} {
		add(fmt.Sprintf("last %d", n), fmt.Sprintf("the last %d sessions", n))
		add(fmt.Sprintf("before last %d", n), fmt.Sprintf("those before the last %d", n))
	}
	return choices, nil
}
