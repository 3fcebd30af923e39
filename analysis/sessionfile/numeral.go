package sessionfile

import (
	"strconv"
	"strings"
	"sync"
)

// A numeral is a cell split into its one number and the words around it, with
// the decimal mark still open.
type numeral struct {
	negative, signed bool
	body             string // digits, dots and commas
	exponent         string // "e-3", or ""
	before, after    string // words, trimmed
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// splitNumeral finds the number in a plain text. ok is false if there is none,
// or more than one (a date, a range).
func splitNumeral(s string) (n numeral, ok bool) {
	start := strings.IndexFunc(s, func(r rune) bool { return r >= '0' && r <= '9' })
	if start < 0 {
		return n, false
	}
	if start > 0 && (s[start-1] == '.' || s[start-1] == ',') {
		start--
	}
	var body strings.Builder
	i := start
	for i < len(s) {
		c := s[i]
		switch {
		case digit(c):
			body.WriteByte(c)
		case (c == '.' || c == ',') && i+1 < len(s) && digit(s[i+1]):
			body.WriteByte(c)
		case (c == ' ' || c == '\'') && groupFollows(s[start:i], s[i+1:]):
		default:
			goto done
		}
		i++
	}
done:
	n.body = body.String()
	if i < len(s) && (s[i] == '.' || s[i] == ',') { // "12."
		i++
	}
	if i+1 < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if s[j] == '+' || s[j] == '-' {
			j++
		}
		k := j
		for k < len(s) && digit(s[k]) {
			k++
		}
		if k > j {
			n.exponent, i = s[i:k], k
		}
	}
	n.before, n.after = strings.TrimSpace(s[:start]), strings.TrimSpace(s[i:])
	if strings.HasSuffix(n.before, "-") || strings.HasSuffix(n.before, "+") {
		n.signed, n.negative = true, strings.HasSuffix(n.before, "-")
		n.before = strings.TrimSpace(n.before[:len(n.before)-1])
	} else if n.after == "-" || n.after == "+" {
		n.signed, n.negative, n.after = true, n.after == "-", ""
	}
	return n, !strings.ContainsAny(n.after, "0123456789") && !strings.ContainsAny(n.before+n.after, ":=")
}

// groupFollows reports whether a space or apostrophe after these digits groups
// thousands: one to three digits before it, exactly three after it.
func groupFollows(before, after string) bool {
	if i := strings.LastIndexAny(before, " '"); i >= 0 {
		before = before[i+1:]
	}
	if len(before) == 0 || len(before) > 3 || strings.ContainsAny(before, ".,") {
		return false
	}
	return len(after) >= 3 && digit(after[0]) && digit(after[1]) && digit(after[2]) &&
		(len(after) == 3 || !digit(after[3]))
}

// A markVote is what one numeral says about the file's decimal mark.
type markVote uint8

const (
	anyMark   markVote = iota
	dotMark            // the decimal mark can only be a dot
	commaMark          // only a comma
	oneDot             // "2.650": a decimal, or thousands
	oneComma           // "2,650"
	noMark             // no reading at all: "1,2,3"
)

func (n numeral) mark() markVote {
	dots, commas := strings.Count(n.body, "."), strings.Count(n.body, ",")
	switch {
	case dots == 0 && commas == 0:
		return anyMark
	case dots > 0 && commas > 0:
		if strings.LastIndexByte(n.body, '.') > strings.LastIndexByte(n.body, ',') {
			return only(n, '.', dotMark)
		}
		return only(n, ',', commaMark)
	case dots > 1:
		return only(n, ',', commaMark)
	case commas > 1:
		return only(n, '.', dotMark)
	case dots == 1:
		if _, ok := n.value(','); ok {
			return oneDot
		}
		return dotMark
	}
	if _, ok := n.value('.'); ok {
		return oneComma
	}
	return commaMark
}

func only(n numeral, mark byte, vote markVote) markVote {
	if _, ok := n.value(mark); ok {
		return vote
	}
	return noMark
}

// value reads the numeral with that decimal mark. The other mark may only
// group thousands.
func (n numeral) value(mark byte) (float64, bool) {
	group := byte(',')
	if mark == ',' {
		group = '.'
	}
	whole, fraction, _ := strings.Cut(n.body, string(mark))
	if strings.IndexByte(fraction, mark) >= 0 || strings.IndexByte(fraction, group) >= 0 {
		return 0, false
	}
	if strings.IndexByte(whole, group) >= 0 {
		groups := strings.Split(whole, string(group))
		for i, g := range groups {
			if i == 0 && (len(g) == 0 || len(g) > 3 || g == "0") || i > 0 && len(g) != 3 {
				return 0, false
			}
		}
		whole = strings.Join(groups, "")
	}
	v, err := strconv.ParseFloat(whole+"."+fraction+n.exponent, 64)
	if err != nil || v > 1e7 {
		return 0, false
	}
	if n.negative {
		v = -v
	}
	return v, true
}

// decimals is how many digits follow the decimal mark.
func (n numeral) decimals(mark byte) int {
	if i := strings.IndexByte(n.body, mark); i >= 0 {
		return len(n.body) - i - 1
	}
	return 0
}

// missing lists what files write where nothing was measured.
var missing = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq("- -- --- ---- . .. ... … ? * n/a na n.a. #n/a null none nil k.a. ka s.o. nd n.d. n/d ej なし 欠測 없음 _ /") {
		m[w] = true
	}
	return m
})

func isMissing(plain string) bool {
	return plain == "" || !digit(plain[0]) && missing()[strings.ToLower(plain)]
}
