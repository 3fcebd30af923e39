package bot

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/pictures"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

const (
	rosterPage = 25  // most students on a page
	rosterRoom = 850 // characters of their lines
)

// runRoster is /roster: what was found about each student who needs their coach
// and what that asks of them, the most pressing first, and the names of the
// others.
func runRoster(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return rosterReply(ctx, b, r, 0)
}

// pressRoster shows another page of it, as things stand now.
func pressRoster(ctx context.Context, b *Bot, r Call) (Reply, error) {
	from, err := strconv.Atoi(r.Args[0])
	if err != nil || from < 0 {
		return Reply{}, analysis.Refuse("Use `/roster` again.", "There is no such page.")
	}
	return rosterReply(ctx, b, r, from)
}

func rosterReply(ctx context.Context, b *Bot, r Call, from int) (Reply, error) {
	lines, err := b.records.Roster(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	if len(lines) == 0 {
		return Reply{}, analysis.Refuse("Open a thread for a student and use `/bind` there.", "No student has agreed to you yet.")
	}
	unread := 0
	for _, l := range lines {
		unread += l.Unread
	}
	all := len(lines)
	needy := slices.IndexFunc(lines, func(l record.Line) bool { return l.Weight() == 0 })
	if needy < 0 {
		needy = all
	}
	var idlers []record.Line
	lines, idlers = lines[:needy], lines[needy:]
	if from >= len(lines) {
		from = 0
	}
	shown := page(lines[from:])
	var text strings.Builder
	fmt.Fprintf(&text, "%s, %s.", words.Count(all, "student"), needing(needy))
	if len(shown) < len(lines) {
		fmt.Fprintf(&text, " Here %d to %d.", from+1, from+len(shown))
	}
	text.WriteString("\n")
	for _, l := range shown {
		text.WriteString(rosterLine(l) + "\n")
	}
	if from+len(shown) == len(lines) {
		text.WriteString(idle(idlers))
	}
	if refused := digestNote(ctx, b, r); refused != "" {
		text.WriteString(refused)
	}
	reply := Reply{Text: strings.TrimSuffix(text.String(), "\n"), Rows: rosterRows(from, len(shown), len(lines), unread)}
	pictured := append(slices.Clone(lines[from:]), idlers...)
	for _, l := range pictured {
		reply.among = append(reply.among, l.Student.ID)
	}
	in, drawn := rosterBars(pictured)
	if drawn == 0 {
		return reply, nil
	}
	b.illustrate(ctx, &reply, "roster.png", func(ctx context.Context) (report.Picture, error) {
		png, err := pictures.Bars(ctx, in)
		return report.Picture{PNG: png, Alt: rosterAlt(in)}, err
	})
	return reply, nil
}

// page is as many lines, from the first, as a reply has room for.
func page(lines []record.Line) []record.Line {
	room := rosterRoom
	for i, l := range lines {
		if room -= len([]rune(rosterLine(l))) + 1; i == rosterPage || i > 0 && room < 0 {
			return lines[:i]
		}
	}
	return lines
}

// rosterLine is what a roster says of a student who needs their coach.
func rosterLine(l record.Line) string {
	return "**" + nameOf(l.Student) + "**: " + findingLine(l.Golfer, l.Findings, 2)
}

// idle names the students with whom there is nothing to do, as far as there is
// room.
func idle(lines []record.Line) string {
	const room = 200
	if len(lines) == 0 {
		return ""
	}
	text, left := "Nothing to do for now: ", room
	for i, l := range lines {
		name := nameOf(l.Student)
		if left -= len([]rune(name)) + 2; left < 0 && i > 0 {
			return text + fmt.Sprintf(" and %d more.\n", len(lines)-i)
		}
		if i > 0 {
			text += ", "
		}
		text += name
	}
	return text + ".\n"
}

func needing(n int) string {
	switch n {
	case 0:
		return "none needs you now"
	case 1:
		return "1 needs you"
	}
	return fmt.Sprintf("%d need you, the most pressing first", n)
}

func rosterRows(from, shown, all, unread int) []Row {
	var buttons []Button
	if unread > 0 {
		buttons = append(buttons, Button{Path: path("review", everybody, "0"), Label: "Review " + words.Count(unread, "post"), Style: Main})
	}
	if from > 0 {
		// Pages differ in length, so there is no page before this one but the
		// first.
		buttons = append(buttons, Button{Path: path("roster", "0"), Label: "From the top"})
	}
	if from+shown < all {
		buttons = append(buttons, Button{Path: path("roster", strconv.Itoa(from+shown)), Label: "Next page"})
	}
	if len(buttons) == 0 {
		return nil
	}
	return []Row{{Buttons: buttons}}
}

// rosterBars are all students in the order of the lines, with the shares of
// balls inside the briefs of those that have one; drawn counts those there is
// something to draw of.
func rosterBars(lines []record.Line) (in pictures.BarsInput, drawn int) {
	missed := 0
	for _, l := range lines {
		bar := pictures.Bar{Name: titleName(l.Student), Value: math.NaN(), Says: "no brief"}
		if l.Brief != nil {
			bar.Says = "no ball yet"
			if k := l.Brief.Kept; k.Of > 0 {
				drawn++
				bar.Value, bar.Low, bar.High, bar.OK = 100*k.Share, 100*k.ShareLow, 100*k.ShareHigh, true
				bar.Says = fmt.Sprintf("%d of %d", k.Inside, k.Of)
			}
			if s := l.Brief.Standing; s == timeline.Running {
				bar.Says += " so far"
			} else {
				bar.Says += ", " + string(s)
			}
			if l.Brief.Standing == timeline.Missed {
				missed++
			}
		}
		in.Rows = append(in.Rows, bar)
	}
	in.Title = "How the briefs are kept"
	if missed > 0 {
		in.Title = words.Count(missed, "brief") + " missed"
	}
	in.Below = "Balls inside the brief's limits since it was set"
	in.Axis, in.Share = "% of balls inside", true
	return in, drawn
}

// rosterAlt says what the picture of a roster shows.
func rosterAlt(in pictures.BarsInput) string {
	says := []string{in.Title + ". " + in.Below + ", a bar each with 95 % limits, from 0 to 100 % with the half marked"}
	for _, r := range in.Rows {
		says = append(says, r.Name+" "+r.Says)
	}
	return words.Clip(strings.Join(says, "; ")+".", 1000)
}

// digestNote is what /roster says about the digest, "" if nothing.
func digestNote(ctx context.Context, b *Bot, r Call) string {
	switch d, err := b.db.Digest(ctx, r.Server, r.Asker.ID); {
	case errors.Is(err, store.ErrNotFound):
		return "`/digest` sends you the changes once a week."
	case err == nil && !d.Refused.IsZero():
		return "I could not send you the weekly message: allow direct messages from this server, or end it with `/digest day:off`."
	}
	return ""
}
