package bot

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/record"
	"rangepost/bot/words"
)

// mostCaughtUp is how many sessions a catch-up names, the latest.
const mostCaughtUp = 4

// runCatchUp is /catch-up: what happened with a student since the coach last
// caught up, in ten lines and one picture. Reading it marks nothing; its button
// does.
func runCatchUp(ctx context.Context, b *Bot, r Call) (Reply, error) {
	binding, err := b.db.StudentBinding(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	c, err := b.records.CatchUp(ctx, binding, mostCaughtUp)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{about: r.Student, Text: words.Clip(strings.Join(words.Plainly(catchUpLines(c)), "\n"), MaxText)}
	reply.Rows = []Row{{Buttons: []Button{
		{Path: path("caught", r.Student, strconv.FormatInt(c.Until.UnixMilli(), 36)), Label: "Caught up", Style: Main},
		{Path: path("review", r.Student, "0"), Label: "Review"},
		{Path: path("brief", r.Student), Label: "Brief"},
	}}}
	if len(c.Number.Points) == 0 {
		return reply, nil
	}
	return withTimeline(ctx, b, reply, c.Golfer, []timeline.Result{c.Number})
}

// catchUpLines is what happened, in at most ten lines.
func catchUpLines(c record.CatchUp) []string {
	voice := voiceOf(c.Golfer)
	head := fmt.Sprintf("**%s** since %s: no post.", nameOf(c.Golfer.Student), day(c.Since))
	if c.Posts > 0 {
		head = fmt.Sprintf("**%s** since %s: %s, %s.", nameOf(c.Golfer.Student), day(c.Since), words.Count(c.Posts, "post"), words.Count(c.Balls, "ball"))
	}
	lines := []string{head}
	if c.Posts > len(c.Latest) {
		lines = append(lines, fmt.Sprintf("The latest %d of them:", len(c.Latest)))
	}
	for _, s := range c.Latest {
		lines = append(lines, oneLine(s))
	}
	if c.Lesson != nil {
		lines = append(lines, fmt.Sprintf("- Lesson on %s: %s", day(c.Lesson.At), voice.Quote(c.Lesson.Note)))
	}
	if b := c.Brief; b != nil {
		lines = append(lines, "- "+words.Sentence(voice.Stands(b.Kept, b.Standing))+". It asks for "+voice.Wanted(b.Kept.Brief)+".")
	}
	if len(c.Number.Points) > 0 {
		for _, line := range voice.Timeline(c.Number) {
			if len(lines) < 10 {
				lines = append(lines, line)
			}
		}
	}
	return lines
}

// oneLine is a session in one line.
func oneLine(s record.Read) string {
	i := s.Report.Main()
	if i < 0 || len(s.Report.Reading.Questions) > 0 {
		return fmt.Sprintf("- %s: the file waits for an answer.", day(s.At))
	}
	set := s.Report.Sets[i]
	line := fmt.Sprintf("- %s, %s: %s.", day(s.At), words.Escape(setTitle(set)), s.Report.Voice.Title(set.Pattern, set.Cause))
	if n := len(s.Report.Sets) - 1; n > 0 {
		line += fmt.Sprintf(" And %s.", words.Count(n, "more set"))
	}
	return line
}

// pressCaught marks what a catch-up showed as looked at.
func pressCaught(ctx context.Context, b *Bot, r Call) (Reply, error) {
	ms, err := strconv.ParseInt(r.Args[1], 36, 64)
	if err != nil || time.UnixMilli(ms).After(b.now()) {
		return Reply{}, analysis.Refuse("Use `/catch-up` again.", "That button is not mine.")
	}
	binding, err := b.db.StudentBinding(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	until := time.UnixMilli(ms)
	if err := b.records.Caught(ctx, binding, until); err != nil {
		return Reply{}, err
	}
	student, err := b.db.Student(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	return Reply{about: r.Student, Text: fmt.Sprintf("Caught up with %s until %s: every post until then counts as looked at.", nameOf(student), until.In(r.Zone).Format("2 January 2006, 15:04 MST"))}, nil
}
