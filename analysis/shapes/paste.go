package shapes

import (
	"strings"
	"unicode/utf8"
)

// messageLimit is the most characters of a message on the chat platform
// (platform documentation, create message, content) [M].
const messageLimit = 2000

// MakePaste makes message i of a seed: a small table copied from somewhere,
// kept apart by tabs, bars, commas, semicolons or spaces, in a code block or
// not, at times under a line of talk.
func MakePaste(seed uint64, i int, tier Tier) Shape {
	r := source(seed, i, 2)
	l := languages[r.IntN(len(languages))]
	how := pick(r, []string{"\t", "\t", "|", "markdown", ",", ";", "  ", "  "})
	fence := pick(r, []string{"", "", "```\n", "```csv\n"})
	talk, right := chance(r, 0.2), chance(r, 0.5)
	for most := 5 + r.IntN(26); ; most-- {
		tab, truth := makeTable(source(seed, i, 3), l, options{
			tier: tier, comma: how != ",", maxShots: most, few: true, plain: true, noGrouped: true,
		})
		rows := tab.rows()
		text := ""
		switch how {
		case "markdown":
			text = markdown(rows)
		case "  ":
			text = aligned(rows, right)
			oneSpace(&truth)
		default:
			text = delimited{comma: rune(how[0])}.write(rows)
		}
		if fence != "" {
			text = fence + text + "```"
		}
		if talk {
			text = talks[l.code] + "\n" + text
		}
		if utf8.RuneCountInString(text) > messageLimit && most > 3 {
			continue
		}
		sep := how
		if how == "markdown" {
			sep = "|"
		}
		return Shape{Seed: seed, I: i, Format: "paste", Separator: sep, Encoding: "utf-8", Data: []byte(text), Truth: truth}
	}
}

// talks is what somebody writes above a table.
var talks = map[string]string{
	"en": "today's balls, what do you think?", "de": "Meine Bälle von heute", "fr": "mes balles du jour",
	"es": "mis bolas de hoy", "sv": "dagens bollar", "it": "i miei colpi di oggi", "ja": "今日の練習です", "ko": "오늘 연습입니다",
}

// markdown is a table between bars with a rule under its headings.
func markdown(rows [][]string) string {
	var b strings.Builder
	for i, row := range rows {
		b.WriteString("| " + strings.Join(row, " | ") + " |\n")
		if i == 0 {
			b.WriteString(strings.Repeat("|---", len(row)) + "|\n")
		}
	}
	return b.String()
}
