package bot

import (
	"context"
	"fmt"
	"strings"

	"rangepost/bot/pictures"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
)

// seasonCertificate is the message that says who won a season.
func seasonCertificate(ctx context.Context, b *Bot, s record.Season) Reply {
	if len(record.Top(s.Rows)) == 0 {
		return Reply{Text: fmt.Sprintf("**%s** is over. Nobody has points.", words.Escape(s.Name))}
	}
	score := words.SeasonRow(s.Rows[0])
	top := firsts(s, s.Rows, true)
	won, has := "won by ", score
	if len(top) > 1 {
		won, has = "shared by ", words.Points(s.Rows[0].Total)
	}
	reply := Reply{Text: words.Lines(fmt.Sprintf("**%s** is over, %s%s: %s.", words.Escape(s.Name), won, words.Escape(words.List(top)), has), words.Escape(classWinners(s)))}
	b.illustrate(ctx, &reply, "certificate.png", func(ctx context.Context) (report.Picture, error) {
		rule := strings.TrimSpace(words.SeasonBest(s.Best, len(s.Over)) + " " + classWinners(s))
		over := fmt.Sprintf("Of %s, %s to %s", words.Count(len(s.Rows), "member"), day(s.First), day(s.LastDay()))
		png, err := pictures.Certificate(ctx, pictures.CertificateInput{
			Club: s.Club, Challenge: s.Name, Winners: firsts(s, s.Rows, false), Score: has, Rule: rule, Over: over,
		})
		return report.Picture{PNG: png, Alt: words.Cut(fmt.Sprintf("A certificate of %s: %s, %s%s with %s. %s", s.Club, s.Name, won, words.List(top), has, rule), 1024)}, err
	})
	return reply
}

// classWinners says who is first of each class, as plain text; "" where there
// are none.
func classWinners(s record.Season) string {
	var said []string
	for class := range s.Classes.Num() {
		if top := firsts(s, s.Class(class), true); len(top) > 0 {
			said = append(said, words.SeasonClass(s.Classes, class)+": "+words.List(top))
		}
	}
	if len(said) == 0 {
		return ""
	}
	return "First of each class: " + strings.Join(said, "; ") + "."
}
