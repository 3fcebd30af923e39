package bot

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/pictures"
	"rangepost/bot/report"
)

const (
	rosterPage = 25  // most students on a page
	rosterRoom = 950 // characters of their lines
)

// runRoster is /roster: a line a student, those first who need their coach
// most.
func runRoster(ctx context.Context, b *Bot, r Request) (Reply, error) {
	return b.rosterReply(ctx, r, 0)
}

// pressRoster shows another page of it, as things stand now.
func pressRoster(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	if err := b.allowed(r, Coach); err != nil {
		return Reply{}, err
	}
	from, err := strconv.Atoi(args[0])
	if err != nil || from < 0 {
		return Reply{}, analysis.Refuse("Use `/roster` again.", "There is no such page.")
	}
	return b.rosterReply(ctx, r, from)
}

func (b *Bot) rosterReply(ctx context.Context, r Request, from int) (Reply, error) {
	lines, err := b.desk(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	if len(lines) == 0 {
		return Reply{}, analysis.Refuse("Open a thread for a student and use `/bind` there.", "No student has agreed to you yet.")
	}
	if from >= len(lines) {
		from = 0
	}
	shown := page(lines[from:])
	needy, unread := 0, 0
	for _, l := range lines {
		unread += l.Unread
		if l.weight > 0 {
			needy++
		}
	}
	var text strings.Builder
	fmt.Fprintf(&text, "%s, %s.", students(len(lines)), needing(needy))
	if len(shown) < len(lines) {
		fmt.Fprintf(&text, " Here %d to %d.", from+1, from+len(shown))
	}
	text.WriteString("\n")
	for i, l := range shown {
		if l.weight == 0 && (from+i == 0 || i == 0 || shown[i-1].weight > 0) {
			text.WriteString("Nothing to do for now:\n")
		}
		text.WriteString(l.text() + "\n")
	}
	if refused := b.digestNote(ctx, r); refused != "" {
		text.WriteString(refused)
	}
	reply := Reply{Text: strings.TrimSuffix(text.String(), "\n"), Rows: rosterRows(from, len(shown), len(lines), unread)}
	in, drawn := rosterBars(shown)
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
func page(lines []deskLine) []deskLine {
	room := rosterRoom
	for i, l := range lines {
		if room -= len([]rune(l.text())) + 1; i == rosterPage || i > 0 && room < 0 {
			return lines[:i]
		}
	}
	return lines
}

func students(n int) string {
	if n == 1 {
		return "1 student"
	}
	return fmt.Sprintf("%d students", n)
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
		buttons = append(buttons, Button{Path: path("review", everybody, "0"), Label: "Review " + posts(unread), Style: Main})
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

func posts(n int) string {
	if n == 1 {
		return "1 post"
	}
	return fmt.Sprintf("%d posts", n)
}

// rosterBars are the shares of balls inside the briefs, in the order of the
// lines; drawn counts those there is something to draw of.
func rosterBars(lines []deskLine) (in pictures.BarsInput, drawn int) {
	missed := 0
	for _, l := range lines {
		if l.kept == nil {
			continue
		}
		bar := pictures.Bar{Name: titleName(l.Student), Value: math.NaN(), Says: "no ball yet"}
		if k := l.kept; k.Of > 0 {
			drawn++
			bar.Value, bar.Low, bar.High, bar.OK = 100*k.Share, 100*k.ShareLow, 100*k.ShareHigh, true
			bar.Says = fmt.Sprintf("%d of %d", k.Inside, k.Of)
		}
		if l.standing == timeline.Missed {
			missed++
		}
		in.Rows = append(in.Rows, bar)
	}
	switch {
	case missed == 1:
		in.Title = "1 brief missed"
	case missed > 1:
		in.Title = fmt.Sprintf("%d briefs missed", missed)
	default:
		in.Title = "How the briefs are kept"
	}
	in.Below = "Balls inside the brief's limits since it was set"
	in.Axis = "% of balls inside"
	return in, drawn
}

// rosterAlt says what the picture of a roster shows.
func rosterAlt(in pictures.BarsInput) string {
	says := []string{in.Title + ". " + in.Below + ", a bar each with 95 % limits"}
	for _, r := range in.Rows {
		says = append(says, r.Name+" "+r.Says)
	}
	return clip(strings.Join(says, "; ")+".", 1000)
}
