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

// mostCaughtUp is how many posts a catch-up tells of one by one, the latest.
const mostCaughtUp = 4

// runCatchUp is /catch-up: what happened with a student since the coach last
// caught up, in ten lines and one picture. Reading it marks nothing; its button
// does.
func runCatchUp(ctx context.Context, b *Bot, r Call) (Reply, error) {
	binding, err := b.db.StudentBinding(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	c, err := b.records.CatchUp(ctx, binding)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{about: r.Student, Text: words.Clip(strings.Join(catchUpLines(c), "\n"), MaxText)}
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

// catchUpLines is what was found and what it asks, then what happened, in at
// most ten lines.
func catchUpLines(c record.CatchUp) []string {
	voice := voiceOf(c.Golfer)
	lines := []string{fmt.Sprintf("**%s** since %s: no post.", nameOf(c.Student), day(c.Since))}
	if c.Posts > 0 {
		lines[0] = fmt.Sprintf("**%s** since %s: %s, %s.", nameOf(c.Student), day(c.Since), words.Count(c.Posts, "post"), words.Count(c.Balls, "ball"))
	}
	add := func(text string, ask words.Ask) {
		if ask != "" {
			text += ". " + string(ask)
		}
		lines = append(lines, "- "+words.Sentence(text)+".")
	}
	for _, f := range c.Findings {
		switch f.Kind {
		case record.TrialFound, record.SameAgain, record.FileWaits, record.ToLookAt: // told with their posts
			continue
		}
		add(findingText(c.Golfer, f), findingAsk(f))
	}
	posted := c.Posted[:min(mostCaughtUp, len(c.Posted))]
	for _, f := range posted {
		ask := findingAsk(f)
		if f.Session != posted[0].Session { // the next step goes by the latest
			ask = ""
		}
		add(postText(c.Golfer, f), ask)
	}
	if n := c.Posts - len(posted); n > 0 {
		lines = append(lines, fmt.Sprintf("And %s before.", words.Count(n, "post")))
	}
	for i, gone := range c.Removed {
		if i == 2 {
			add(fmt.Sprintf("and %d more", len(c.Removed)-i), "")
			break
		}
		add(fmt.Sprintf("they deleted a session of %s, %s", words.ShortDate(gone.Hit.In(c.Since.Location())), words.Count(gone.Balls, "ball")), "")
	}
	if c.Taught != nil {
		add(fmt.Sprintf("lesson of %s: %s", words.ShortDate(c.Taught.At), voice.Note(c.Taught.Note)), "")
	}
	if b := c.Line.Brief; b != nil {
		text := "the brief asks for " + voice.Wanted(b.Kept.Brief)
		if b.Standing == timeline.Running {
			text = voice.Stands(b.Kept, b.Standing) + "; it asks for " + voice.Wanted(b.Kept.Brief)
		}
		add(text, "")
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

// postText says what was found in one post: "6 June: the stronger grip closed
// the face 2.2°, the path undid it". Of a trial it says where the usual setup
// stands as well.
func postText(g record.Golfer, f record.Finding) string {
	at := words.ShortDate(f.At) + ": "
	switch {
	case f.Kind == record.FileWaits:
		return at + "the file waits for an answer"
	case f.Gist == nil:
		return at + "nothing can be told of it"
	}
	text := findingText(g, f)
	if f.Kind == record.TrialFound {
		text += ". As usual " + voiceOf(g).Found(f.Gist.Set)
	}
	return at + text
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
