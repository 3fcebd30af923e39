package try

import (
	"html/template"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// markup is a message's text as the chat platform shows it: of its markup what
// the bot uses, which is bold, italic, code, quotes, lists, mentions and times.
// Everything else stands as it is.
func markup(text string, names map[string]string) template.HTML {
	var b strings.Builder
	list := false
	for _, line := range strings.Split(text, "\n") {
		item, isItem := strings.CutPrefix(line, "- ")
		if isItem != list {
			b.WriteString(map[bool]string{true: "<ul>", false: "</ul>"}[isItem])
			list = isItem
		}
		quoted, isQuote := strings.CutPrefix(line, "> ")
		switch {
		case isItem:
			b.WriteString("<li>" + inline(item, names) + "</li>")
		case isQuote:
			b.WriteString("<blockquote>" + inline(quoted, names) + "</blockquote>")
		case strings.TrimSpace(line) != "":
			b.WriteString("<p>" + inline(line, names) + "</p>")
		}
	}
	if list {
		b.WriteString("</ul>")
	}
	return template.HTML(b.String())
}

var (
	stampPattern   = regexp.MustCompile(`^<t:(\d{1,12})(?::([tTdDfFR]))?>`)
	mentionPattern = regexp.MustCompile(`^<(?:@!?|@&|#)\d+>`)
)

// inline is a line of it. What is opened is closed at its end.
func inline(line string, names map[string]string) string {
	var b strings.Builder
	var open []string
	plain := template.HTMLEscapeString
	mark := func(tag string) {
		for i := len(open) - 1; i >= 0; i-- {
			if open[i] == tag {
				for j := len(open) - 1; j >= i; j-- {
					b.WriteString("</" + open[j] + ">")
				}
				open = open[:i]
				return
			}
		}
		open = append(open, tag)
		b.WriteString("<" + tag + ">")
	}
	for len(line) > 0 {
		rest := line[1:]
		switch c := line[0]; {
		case c == '\\' && rest != "" && strings.ContainsRune("\\*_~`|<>#[]().-+", rune(rest[0])):
			b.WriteString(plain(rest[:1]))
			rest = rest[1:]
		case c == '`' && strings.Contains(rest, "`"):
			code, after, _ := strings.Cut(rest, "`")
			b.WriteString("<code>" + plain(code) + "</code>")
			rest = after
		case strings.HasPrefix(line, "**"):
			mark("strong")
			rest = line[2:]
		case c == '*':
			mark("em")
		case c == '<' && stampPattern.MatchString(line):
			m := stampPattern.FindStringSubmatch(line)
			b.WriteString(plain(stamp(m[1], m[2])))
			rest = line[len(m[0]):]
		case c == '<' && mentionPattern.MatchString(line):
			m := mentionPattern.FindString(line)
			name, ok := names[strings.Replace(m, "@!", "@", 1)]
			if !ok {
				name = "@somebody"
			}
			b.WriteString(`<span class="mention">` + plain(name) + "</span>")
			rest = line[len(m):]
		default:
			next := strings.IndexAny(rest, "\\`*<")
			if next < 0 {
				next = len(rest)
			}
			b.WriteString(plain(line[:next+1]))
			rest = rest[next:]
		}
		line = rest
	}
	for i := len(open) - 1; i >= 0; i-- {
		b.WriteString("</" + open[i] + ">")
	}
	return b.String()
}

// stamp is a moment on the reader's clock, which is this machine's.
func stamp(unix, style string) string {
	seconds, _ := strconv.ParseInt(unix, 10, 64) // at most twelve digits
	layout := map[string]string{
		"t": "15:04", "T": "15:04:05", "d": "02/01/2006", "D": "2 January 2006", "F": "Monday 2 January 2006 15:04",
	}[style]
	if layout == "" {
		layout = "2 January 2006 15:04"
	}
	return time.Unix(seconds, 0).Local().Format(layout)
}
