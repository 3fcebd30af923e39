package bot

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis/season"
	"rangepost/bot/pictures"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
)

// runSeasonTable is /season table.
func runSeasonTable(ctx context.Context, b *Bot, r Call) (Reply, error) {
	s, err := chosenSeason(ctx, b, r, false)
	if err != nil {
		return Reply{}, err
	}
	class, err := classAsked(s.Classes, r.Options["class"])
	if err != nil {
		return Reply{}, err
	}
	return tableFor(ctx, b, r, s, class)
}

// pressSeason is the button and the menu under a table.
func pressSeason(ctx context.Context, b *Bot, r Call) (Reply, error) {
	kept, err := b.db.Season(ctx, r.Server, r.Args[0])
	if err != nil {
		return Reply{}, err
	}
	s, err := b.records.Season(ctx, kept)
	if err != nil {
		return Reply{}, err
	}
	chosen := everyClass
	if len(r.Values) > 0 {
		chosen = r.Values[0]
	}
	class, err := classAsked(s.Classes, chosen)
	if err != nil {
		return Reply{}, err
	}
	return tableFor(ctx, b, r, s, class)
}

// tableFor is the table of a class for whoever asks, with their own place if
// they have one.
func tableFor(ctx context.Context, b *Bot, r Call, s record.Season, class int) (Reply, error) {
	rows := s.Class(class)
	var mine []string
	if row, ok := s.Of(rows, r.Asker.ID); ok {
		mine = append(mine, fmt.Sprintf("You: %s of %d, %s. %s", words.Ordinal(row.Place), len(rows), words.SeasonRow(row), words.SeasonBehind(rows, row)))
	} else if _, ok := s.Of(s.Rows, r.Asker.ID); ok {
		mine = append(mine, "You are in another class, or in none: a coach or manager enters handicaps with `/season handicap`.")
	}
	reply := Reply{Text: seasonText(s, class, MaxText, mine...), Private: true}
	if len(rows) > 0 {
		b.illustrate(ctx, &reply, "season.png", seasonPicture(s, class))
	}
	return reply, nil
}

// seasonHead says what a season is and how far it has come.
func seasonHead(s record.Season) []string {
	lines := []string{
		fmt.Sprintf("**%s**, %s", words.Escape(s.Name), words.Escape(s.Club)),
		fmt.Sprintf("%s to %s. %s", day(s.First), day(s.LastDay()), words.SeasonBest(s.Best, len(s.Parts)-missed(s))),
	}
	if !s.Closed.IsZero() {
		lines[1] += " It is over, and this is the final table."
	}
	over, open, next := 0, []string(nil), ""
	for _, p := range s.Parts {
		switch {
		case !p.Held.Closed.IsZero():
			over++
		case p.Held.ID != "":
			open = append(open, words.Escape(p.Held.Name))
		case !p.Missed && next == "":
			next = fmt.Sprintf("%s on %s", words.Escape(p.Name), day(p.Day))
		}
	}
	if !s.Closed.IsZero() || len(s.Parts) == 0 {
		return append(lines, notHeld(s)...)
	}
	says := fmt.Sprintf("%d of %d over.", over, len(s.Parts))
	if len(open) > 0 {
		says += " Open now: " + words.List(open[:min(3, len(open))]) + "."
	}
	if next != "" {
		says += " Next: " + next + "."
	}
	return append(append(lines, says), notHeld(s)...)
}

func missed(s record.Season) (n int) {
	for _, p := range s.Parts {
		if p.Missed {
			n++
		}
	}
	return n
}

// notHeld says which challenges gave nobody points, and why.
func notHeld(s record.Season) (lines []string) {
	if n := missed(s); n > 0 {
		lines = append(lines, fmt.Sprintf("Not held, since I was away on all of its days: %d.", n))
	}
	over := 0
	for _, p := range s.Parts {
		if !p.Held.Closed.IsZero() {
			over++
		}
	}
	if n := over - len(s.Over); n > 0 {
		lines = append(lines, fmt.Sprintf("Over without a winner, or with one entry alone, so without points: %d.", n))
	}
	return lines
}

// seasonText is a table as text, the best first, in at most room characters;
// after is said last and always.
func seasonText(s record.Season, class, room int, after ...string) string {
	lines, rows := seasonHead(s), s.Class(class)
	if class != record.NoClass {
		lines = append(lines, "Class: "+words.SeasonClass(s.Classes, class)+".")
	}
	var tail []string
	switch {
	case len(s.Parts) == 0:
		tail = append(tail, "No challenge is planned yet.")
	case len(rows) == 0:
		tail = append(tail, "Nobody has points yet.")
	case class == record.NoClass:
		tail = append(tail, words.Escape(classWinners(s)))
	}
	if s.Closed.IsZero() {
		tail = append(tail, words.SeasonPoints)
	}
	tail = append(tail, after...)
	room -= len([]rune(strings.Join(append(slices.Clone(lines), tail...), "\n"))) + len("\nAnd 1000 more.") + 1
	for i, r := range rows {
		line := fmt.Sprintf("%d. %s: %s", r.Place, words.Escape(playerName(s.Members[r.Who].Player)), words.SeasonRow(r))
		if room -= len([]rune(line)) + 1; room < 0 || i == 10 {
			lines = append(lines, fmt.Sprintf("And %d more.", len(rows)-i))
			break
		}
		lines = append(lines, line)
	}
	return words.Lines(append(lines, tail...)...)
}

// firsts are the names of those on top, unescaped, at most four; as they stand
// where they do not begin a sentence, or by themselves.
func firsts(s record.Season, rows []season.Row, within bool) (names []string) {
	for _, r := range record.Top(rows) {
		name := playerName(s.Members[r.Who].Player)
		if within {
			name = midSentence(name)
		}
		names = append(names, name)
	}
	if n := len(names) - 3; within && n > 1 {
		names = append(names[:3], fmt.Sprintf("%d more", n))
	}
	return names
}

// seasonPicture draws the table of a class.
func seasonPicture(s record.Season, class int) func(context.Context) (report.Picture, error) {
	return func(ctx context.Context) (report.Picture, error) {
		rows, names := s.Class(class), []string(nil)
		in := pictures.SeasonInput{Below: s.Club + " · " + s.Name}
		if class != record.NoClass {
			in.Below += " · " + words.SeasonClass(s.Classes, class)
		}
		for _, p := range s.Over {
			in.Columns = append(in.Columns, p.Day.Format("2 Jan"))
		}
		for _, r := range rows {
			names = append(names, playerName(s.Members[r.Who].Player))
			in.Rows = append(in.Rows, pictures.SeasonRow{Row: r, Name: names[len(names)-1]})
		}
		in.Title = words.SeasonTitle(rows, names[0], !s.Closed.IsZero())
		png, err := pictures.Season(ctx, in)
		return report.Picture{PNG: png, Alt: words.AltSeason(rows, names, in.Title)}, err
	}
}

// seasonMessage is the message the table stands in.
func seasonMessage(ctx context.Context, b *Bot, s record.Season) Reply {
	reply := Reply{Text: seasonText(s, record.NoClass, MaxText)}
	if len(s.Rows) > 0 {
		b.illustrate(ctx, &reply, "season.png", seasonPicture(s, record.NoClass))
	}
	reply.Rows = []Row{{Buttons: []Button{{Path: path("season", s.ID), Label: "My place in the season"}}}}
	if s.Classes.Num() > 0 {
		reply.Rows = append(reply.Rows, Row{Menu: &Menu{Path: path("class", s.ID), Placeholder: "A class by itself", Choices: classChoices(s.Classes)[1:]}})
	}
	return reply
}
