package bot

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/pictures"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runCatchUp is /catch-up: what happened with a student since the coach last
// caught up, in ten lines and one picture. Reading it marks nothing; its button
// does.
func runCatchUp(ctx context.Context, b *Bot, r Request) (Reply, error) {
	id, err := b.pupil(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	binding, err := b.db.StudentBinding(ctx, r.Server, id)
	if err != nil {
		return Reply{}, err
	}
	since, err := b.lastLooked(ctx, binding)
	if err != nil {
		return Reply{}, err
	}
	now := b.now()
	lines, number, err := b.caughtUp(ctx, binding, since, now)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{about: id, Text: clip(strings.Join(words.Plainly(lines), "\n"), MaxText)}
	reply.Rows = []Row{{Buttons: []Button{
		{Path: path("caught", id, strconv.FormatInt(now.UnixMilli(), 36)), Label: "Caught up", Style: Main},
		{Path: path("review", id, "0"), Label: "Review"},
		{Path: path("brief", id), Label: "Brief"},
	}}}
	if len(number.Points) == 0 {
		return reply, nil
	}
	student, err := b.db.Student(ctx, r.Server, id)
	if err != nil {
		return Reply{}, err
	}
	return b.withTimeline(ctx, reply, student, []timeline.Result{number})
}

// lastLooked is until when a coach has seen everything of a student: since they
// last caught up, or looked at a post with none before it left over.
func (b *Bot) lastLooked(ctx context.Context, binding store.Binding) (time.Time, error) {
	caught, err := b.db.LastLook(ctx, binding.Server, binding.Coach, binding.Thread)
	if err != nil {
		return caught, err
	}
	looked, err := b.db.LastLooked(ctx, binding.Server, binding.Coach, binding.Student)
	if err != nil {
		return caught, err
	}
	unread, _, err := b.db.Unread(ctx, binding.Server, binding.Coach, store.UnreadFilter{Student: binding.Student, Limit: 1})
	if err != nil {
		return caught, err
	}
	if len(unread) > 0 && !looked.Before(unread[0].Posted) {
		looked = unread[0].Posted.Add(-time.Millisecond)
	}
	for _, t := range []time.Time{looked, binding.Given} {
		if t.After(caught) {
			caught = t
		}
	}
	return caught, nil
}

// mostSessions is how many sessions a catch-up names, the latest.
const mostSessions = 4

// caughtUp is what happened since a time, in at most ten lines, and the number
// the student works on over all sessions.
func (b *Bot) caughtUp(ctx context.Context, binding store.Binding, since, now time.Time) (lines []string, number timeline.Result, err error) {
	server, id := binding.Server, binding.Student
	student, err := b.db.Student(ctx, server, id)
	if err != nil {
		return nil, number, err
	}
	voice, err := b.voice(ctx, student)
	if err != nil {
		return nil, number, err
	}
	posted, err := b.db.Sessions(ctx, server, id, store.SessionFilter{PostedSince: since.Add(time.Millisecond)})
	if err != nil {
		return nil, number, err
	}
	balls := 0
	for _, s := range posted {
		balls += s.Balls
	}
	head := fmt.Sprintf("**%s** since %s: ", nameOf(student), day(since))
	if len(posted) == 0 {
		head += "no post."
	} else {
		head += fmt.Sprintf("%s, %s.", posts(len(posted)), ballsOf(balls))
	}
	lines = append(lines, head)
	if n := len(posted) - mostSessions; n > 0 {
		lines = append(lines, fmt.Sprintf("The latest %d of them:", mostSessions))
		posted = posted[:mostSessions]
	}
	for i := len(posted) - 1; i >= 0; i-- {
		line, err := b.oneLine(ctx, server, posted[i].ID)
		if err != nil {
			return nil, number, err
		}
		lines = append(lines, line)
	}
	lessons, err := b.db.Lessons(ctx, server, id)
	if err != nil {
		return nil, number, err
	}
	if n := len(lessons); n > 0 && lessons[n-1].At.After(since) {
		lines = append(lines, fmt.Sprintf("- Lesson on %s: %s", day(lessons[n-1].At), voice.Quote(lessons[n-1].Note)))
	}
	kept, _, err := b.progress(ctx, server, id)
	if err != nil {
		return nil, number, err
	}
	if kept != nil {
		ended := !kept.Brief.Until.IsZero() && now.After(kept.Brief.Until)
		lines = append(lines, "- "+words.Sentence(voice.Stands(*kept, kept.Standing(ended)))+". It asks for "+voice.Wanted(kept.Brief)+".")
	}
	q, err := b.usualQuestion(ctx, server, id)
	if err != nil {
		return nil, number, err
	}
	all, err := b.timelines(ctx, server, id, q)
	if err != nil || len(all) == 0 {
		return lines, number, err
	}
	number = all[0]
	for _, line := range voice.Timeline(number) {
		if len(lines) < 10 {
			lines = append(lines, line)
		}
	}
	return lines, number, nil
}

// oneLine is a session in one line.
func (b *Bot) oneLine(ctx context.Context, server, id string) (string, error) {
	s, err := b.db.Session(ctx, server, id)
	if err != nil {
		return "", err
	}
	answer, err := b.reread(ctx, s)
	if err != nil {
		return "", err
	}
	i := answer.Main()
	if i < 0 || len(answer.Reading.Questions) > 0 {
		return fmt.Sprintf("- %s: the file waits for an answer.", day(s.At)), nil
	}
	set := answer.Sets[i]
	line := fmt.Sprintf("- %s, %s: %s.", day(s.At), escape(setTitle(set)), answer.Voice.Title(set.Pattern, set.Cause))
	if n := len(answer.Sets) - 1; n == 1 {
		line += " And 1 more set."
	} else if n > 1 {
		line += fmt.Sprintf(" And %d more sets.", n)
	}
	return line, nil
}

// pressCaught marks what a catch-up showed as looked at.
func pressCaught(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	if err := b.coaches(ctx, r, args[0]); err != nil {
		return Reply{}, err
	}
	ms, err := strconv.ParseInt(args[1], 36, 64)
	if err != nil || time.UnixMilli(ms).After(b.now()) {
		return Reply{}, analysis.Refuse("Use `/catch-up` again.", "That button is not mine.")
	}
	binding, err := b.db.StudentBinding(ctx, r.Server, args[0])
	if err != nil {
		return Reply{}, err
	}
	until := time.UnixMilli(ms)
	if err := b.db.CaughtUp(ctx, binding, until); err != nil {
		return Reply{}, err
	}
	student, err := b.db.Student(ctx, r.Server, args[0])
	if err != nil {
		return Reply{}, err
	}
	zone, err := b.zone(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	return Reply{about: args[0], Text: fmt.Sprintf("Caught up with %s until %s: every post until then counts as looked at.", nameOf(student), until.In(zone).Format("2 January 2006, 15:04 MST"))}, nil
}

// withTimeline adds the picture of some timelines to a reply.
func (b *Bot) withTimeline(ctx context.Context, reply Reply, student store.Student, results []timeline.Result) (Reply, error) {
	voice, err := b.voice(ctx, student)
	if err != nil {
		return Reply{}, err
	}
	briefs, err := b.briefs(ctx, student.Server, student.ID)
	if err != nil {
		return Reply{}, err
	}
	voice.Plain = true
	title := voice.TimelineTitle(results[0])
	if len(results) > 1 {
		title = voice.TimelinesTitle(results)
	}
	b.illustrate(ctx, &reply, "timeline.png", func(ctx context.Context) (report.Picture, error) {
		png, err := pictures.Timeline(ctx, pictures.TimelineInput{Voice: voice, Title: title, Who: student.Name, Numbers: results, Briefs: briefs})
		return report.Picture{PNG: png, Alt: voice.AltTimelines(results)}, err
	})
	return reply, nil
}
