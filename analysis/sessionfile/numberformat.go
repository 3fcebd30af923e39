package sessionfile

import (
	"math"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"

	"github.com/xuri/nfp"
)

// A look is what a number's format shows beside the number: that it is a date or
// a time, or its unit or side.
type look struct {
	clock    bool
	sections []section // the first whose numbers it is
}

// A section is how a format shows some numbers.
type section struct {
	holds         func(float64) bool
	before, after string
	size          bool // without its sign, which the section itself stands for
}

// The formats of their own numbers that show dates and times (ECMA-376 part 1,
// 18.8.30 [M]): everywhere, and where dates are written in Chinese characters.
func isClockFormat(id int) bool {
	return 14 <= id && id <= 22 || 27 <= id && id <= 36 || 45 <= id && id <= 47 || 50 <= id && id <= 58
}

// readStyles reads the looks of the styles that cells may have.
func (w *spreadsheet) readStyles(name string) *analysis.Refusal {
	var styles struct {
		Formats []struct {
			ID   int    `xml:"numFmtId,attr"`
			Code string `xml:"formatCode,attr"`
		} `xml:"numFmts>numFmt"`
		Cells []struct {
			Format int `xml:"numFmtId,attr"`
		} `xml:"cellXfs>xf"`
	}
	if refusal := w.decode(name, &styles); refusal != nil {
		return refusal
	}
	own := map[int]look{}
	for _, f := range styles.Formats {
		own[f.ID] = lookOf(f.Code)
	}
	w.looks = make([]look, len(styles.Cells))
	for i, c := range styles.Cells {
		l, ok := own[c.Format]
		if !ok {
			l.clock = isClockFormat(c.Format)
		}
		w.looks[i] = l
	}
	return nil
}

// lookOf reads the code of a format, such as `0.0" R";0.0" L"`. Of a code that
// makes no sense nothing is read.
func lookOf(code string) (l look) {
	if len(code) > maxCell || strings.Count(code, ";") > 3 { // of the parser's own making beyond that
		return look{}
	}
	parser := nfp.NumberFormatParser()
	sections := parser.Parse(code)
	for i, s := range sections {
		if i == 3 {
			break // how texts are shown
		}
		one := section{holds: []func(float64) bool{
			func(x float64) bool { return x > 0 || len(sections) < 3 && x == 0 || len(sections) < 2 },
			func(x float64) bool { return x < 0 },
			func(float64) bool { return true },
		}[i], size: i == 1}
		number, scaled := false, false
		for _, t := range s.Items {
			switch t.TType {
			case nfp.TokenTypeDateTimes, nfp.TokenTypeElapsedDateTimes:
				return look{clock: true}
			case nfp.TokenTypeCondition:
				if one.holds = condition(t); one.holds == nil {
					return look{}
				}
				one.size = one.holds(-1) && !one.holds(1)
			case nfp.TokenTypeZeroPlaceHolder, nfp.TokenTypeHashPlaceHolder, nfp.TokenTypeDigitalPlaceHolder, nfp.TokenTypeGeneral:
				number, scaled = true, false
			case nfp.TokenTypeThousandsSeparator:
				scaled = true // unless digits follow
			case nfp.TokenTypePercent, nfp.TokenTypeExponential, nfp.TokenTypeFraction:
				return look{}
			case nfp.TokenTypeLiteral:
				if number {
					one.after += t.TValue
				} else {
					one.before += t.TValue
				}
			}
		}
		if !number || scaled || strings.Trim(one.before+one.after, " ()+-") == "" {
			one.before, one.after, one.size = "", "", false
		}
		l.sections = append(l.sections, one)
	}
	return l
}

// condition is what a section's own condition asks, such as [<0], nil if it
// makes no sense.
func condition(t nfp.Token) func(float64) bool {
	if len(t.Parts) != 2 {
		return nil
	}
	than, err := strconv.ParseFloat(t.Parts[1].Token.TValue, 64)
	if err != nil {
		return nil
	}
	return map[string]func(float64) bool{
		"<":  func(x float64) bool { return x < than },
		"<=": func(x float64) bool { return x <= than },
		">":  func(x float64) bool { return x > than },
		">=": func(x float64) bool { return x >= than },
		"=":  func(x float64) bool { return x == than },
		"<>": func(x float64) bool { return x != than },
	}[t.Parts[0].Token.TValue]
}

// of is a number with what its format says beside it, in full however few digits
// the format shows, but without what is beyond the fifteen that spreadsheet
// programs reckon with: 117.36999999999999 was 117.37.
func (l look) of(number string, by1904 bool) string {
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return number
	}
	if l.clock {
		return clockOf(x, number, by1904)
	}
	if len(number) > 15 {
		x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
		if short := strconv.FormatFloat(x, 'g', -1, 64); !strings.Contains(short, "e") {
			number = short
		}
	}
	for _, s := range l.sections {
		if s.holds(x) {
			if s.size {
				number = strings.TrimPrefix(number, "-")
			}
			return s.before + number + s.after
		}
	}
	return number
}

// clockOf is a number of days as the date, the time of day or both that it
// stands for (ECMA-376 part 1, 18.17.4 [M]); days before March 1900, which count
// one that never was, are not told apart.
func clockOf(days float64, number string, by1904 bool) string {
	const last = 2958466 // the year 10000
	if !(days >= 0 && days < last) {
		return number
	}
	from := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	if by1904 {
		from = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	whole := math.Floor(days)
	t := from.AddDate(0, 0, int(whole)).Add(time.Duration(math.Round((days-whole)*86400)) * time.Second)
	switch {
	case days < 1:
		return t.Format(time.TimeOnly)
	case t.Format(time.TimeOnly) == "00:00:00":
		return t.Format(time.DateOnly)
	}
	return t.Format(time.DateTime)
}
