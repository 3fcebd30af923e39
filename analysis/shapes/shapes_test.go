package shapes

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"rangepost/analysis"
)

func TestTheSameSeedMakesTheSame(t *testing.T) {
	for name, make2 := range map[string]func(uint64, int, ...Tier) []Shape{"shapes": Shapes, "pastes": Pastes, "typed": Typed} {
		a, b, longer, other := make2(3, 60), make2(3, 60), make2(3, 70), make2(4, 60)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s: two runs of a seed differ", name)
		}
		if !reflect.DeepEqual(a, longer[:60]) {
			t.Errorf("%s: the first 60 depend on how many follow", name)
		}
		same := 0
		for i := range a {
			if bytes.Equal(a[i].Data, other[i].Data) {
				same++
			}
		}
		if same > 0 {
			t.Errorf("%s: %d of two seeds are alike", name, same)
		}
	}
}

// Where a file is plain enough for the standard library to read it, its cells
// are the truth.
func TestTruthIsWhatTheCellsSay(t *testing.T) {
	files, cells := 0, 0
	for _, s := range Shapes(11, 1500, Ordinary, Unseen, Wordless) {
		if s.Format != "csv" || s.Packed != "" || s.Encoding != "utf-8" || s.Separator == "|" {
			continue
		}
		r := csv.NewReader(bytes.NewReader(s.Data))
		r.Comma, _ = utf8.DecodeRuneInString(s.Separator)
		r.FieldsPerRecord = -1
		all, err := r.ReadAll()
		if err != nil {
			t.Errorf("shape %d: %v", s.I, err)
			continue
		}
		// Rows that have a figure in every column of the ball's that has one
		// in the truth, in order.
		next := 0
		for _, row := range all {
			if next < len(s.Truth.Shots) && sameRow(s.Truth, s.Truth.Shots[next], row, &cells) {
				next++
			}
		}
		if next != len(s.Truth.Shots) {
			t.Errorf("shape %d: found %d of %d balls in order", s.I, next, len(s.Truth.Shots))
		}
		files++
	}
	t.Logf("%d files, %d cells", files, cells)
	if files < 200 || cells < 50000 {
		t.Errorf("compared %d files and %d cells, too few to say anything", files, cells)
	}
}

// sameRow reads a row by the truth's columns, in this test's own way.
func sameRow(tr Truth, s Shot, row []string, cells *int) bool {
	if len(row) < len(tr.Columns) {
		return false
	}
	for i, c := range tr.Columns {
		want, ok := s.Values[c.Number]
		if !c.Known || !ok {
			continue
		}
		got, ok := figure(row[i])
		if !ok {
			return false
		}
		wantWritten := want / inSI[c.Unit]
		if math.Abs(math.Abs(got)-math.Abs(wantWritten)) > 1e-6*math.Max(1, math.Abs(wantWritten)) {
			return false
		}
		if !c.Lettered && c.Positive != NoSide && got*wantWritten*c.Positive.sign(tr.Hand) < 0 {
			return false
		}
		if !c.Lettered && c.Positive == NoSide && got*wantWritten < 0 {
			return false
		}
		*cells++
	}
	return true
}

// figure is the number in a cell, whatever stands around it: the last of point
// and comma is the decimal sign, unless three figures follow it and four or
// more are meant.
func figure(cell string) (float64, bool) {
	cell = strings.ReplaceAll(cell, "\u2212", "-")
	var b strings.Builder
	started := false
	runes := []rune(cell)
	for i, c := range runes {
		switch {
		case c >= '0' && c <= '9', c == '-' && !started:
			b.WriteRune(c)
			started = true
		case (c == ',' || c == '.') && started:
			rest := 0
			for j := i + 1; j < len(runes) && runes[j] >= '0' && runes[j] <= '9'; j++ {
				rest++
			}
			if rest > 0 && rest < 3 {
				b.WriteByte('.')
			}
		case (c == ' ' || c == '\u00a0' || c == '\u202f') && started && i+1 < len(runes) && runes[i+1] >= '0' && runes[i+1] <= '9':
		case started:
			v, err := strconv.ParseFloat(b.String(), 64)
			return v, err == nil
		}
	}
	v, err := strconv.ParseFloat(b.String(), 64)
	return v, err == nil
}

func TestEverythingComesUp(t *testing.T) {
	count := map[string]int{}
	shots, columns := 0, 0
	all := Shapes(5, 1500)
	for _, s := range all {
		tr := s.Truth
		for _, k := range []string{
			"language " + tr.Language, "tier " + tr.Tier.String(), "format " + s.Format, "encoding " + s.Encoding,
			"packed " + cmp.Or(s.Packed, "no"), "separator " + strconv.Quote(s.Separator), "hand " + tr.Hand.String(),
			"ball " + string(tr.Ball), "club in " + tr.ClubIn.String(), "questions " + strconv.Itoa(min(len(tr.Questions), 4)),
		} {
			count[k]++
		}
		if tr.Summaries > 0 {
			count["summaries"]++
		}
		seen := map[string]bool{}
		for _, c := range tr.Columns {
			if seen["heading "+c.Heading] {
				t.Errorf("shape %d has two columns %q", s.I, c.Heading)
			}
			seen["heading "+c.Heading] = true
			if c.Known {
				seen["unit "+c.Unit] = true
				seen["unit in "+c.UnitIn.String()] = true
				seen["positive "+c.Positive.String()] = true
				seen["number "+c.Number.Info().Key] = true
				if c.Lettered {
					seen["lettered"] = true
				}
				if c.SideSaid {
					seen["side said"] = true
				}
				if c.UnitKnowable && c.UnitIn == Nowhere && (c.Number == analysis.Carry || c.Number == analysis.BallSpeed) {
					seen["decided by figures or another column: unit of "+c.Number.Info().Key] = true
				}
				if !c.UnitKnowable {
					seen["unit unknowable"] = true
				}
				if !c.SideKnowable {
					seen["side unknowable"] = true
				}
			}
		}
		for k := range seen {
			if !strings.HasPrefix(k, "heading ") {
				count[k]++
			}
		}
		shots += len(tr.Shots)
		columns += len(tr.Columns)
		for _, sh := range tr.Shots {
			if sh.Misread {
				count["misread row"]++
				break
			}
		}
		if n := len(tr.Shots); n < 10 || n > 60 {
			t.Errorf("shape %d has %d balls, want 10 to 60", s.I, n)
		}
	}
	want := []string{
		"tier ordinary", "tier unseen", "tier wordless", "format csv", "format aligned", "format xlsx", "format json",
		"encoding utf-8", "encoding utf-8-bom", "encoding utf-16le", "encoding utf-16be", "encoding windows-1252",
		"encoding shift_jis", "encoding euc-kr", "packed gz", "packed zip", `separator ","`, `separator ";"`,
		`separator "\t"`, `separator "|"`, "hand left", "ball range", "club in column", "club in blocks",
		"club in preamble", "club in nowhere", "summaries", "misread row", "lettered", "side said", "unit unknowable",
		"side unknowable", "positive right", "positive left", "positive golfer", "unit in heading", "unit in row",
		"unit in value", "unit in nowhere", "unit in preamble", "unit ft", "unit cm", "unit in", "unit km/h", "unit m/s",
	}
	for _, l := range languages {
		want = append(want, "language "+l.code)
	}
	for _, n := range analysis.Numbers() {
		if !n.Info().Judged {
			want = append(want, "number "+n.Info().Key)
		}
	}
	for _, k := range want {
		if count[k] == 0 {
			t.Errorf("%s never comes up in %d shapes", k, len(all))
		}
	}
	for _, k := range sortedKeys(count) {
		t.Logf("%-60s %5.1f %%", k, 100*float64(count[k])/float64(len(all)))
	}
	t.Logf("%.1f balls and %.1f columns a shape", float64(shots)/float64(len(all)), float64(columns)/float64(len(all)))
}

func TestMessagesFitTheirPlace(t *testing.T) {
	for _, s := range append(Pastes(2, 300), Typed(2, 300)...) {
		if n := utf8.RuneCount(s.Data); n > messageLimit {
			t.Errorf("%s %d has %d characters, want at most %d", s.Format, s.I, n, messageLimit)
		}
		if !utf8.Valid(s.Data) {
			t.Errorf("%s %d is no UTF-8", s.Format, s.I)
		}
		if n := len(s.Truth.Shots); s.Format == "typed" && (n < 3 || n > 10) {
			t.Errorf("typed %d has %d balls, want 3 to 10", s.I, n)
		}
	}
}

// At most one unseen heading in ten is an ordinary one after all: the tier is
// what it says.
func TestUnseenIsUnseen(t *testing.T) {
	ordinary := map[string]bool{}
	for _, l := range languages {
		for _, words := range l.full {
			for _, w := range words {
				ordinary[w] = true
			}
		}
	}
	r := source(1, 0, 9)
	known, all := 0, 0
	for _, l := range languages {
		for n := range l.full {
			for range 20 {
				all++
				if ordinary[l.heading(r, n, Unseen)] {
					known++
				}
			}
		}
	}
	if known*10 > all {
		t.Errorf("%d of %d unseen headings are ordinary ones", known, all)
	}
}

// Cut words must not fall together: no heading may stand for two numbers.
func TestNoHeadingMeansTwoNumbers(t *testing.T) {
	r := source(1, 0, 8)
	for _, l := range languages {
		meant := map[string]analysis.Number{}
		for _, n := range analysis.Numbers() {
			for _, words := range [][]string{l.full[n], l.rare[n]} {
				for _, w := range words {
					forms := []string{w}
					if l.legacy == "windows-1252" { // the others are not cut
						forms = append(forms, strings.ReplaceAll(clipped(r, w), ".", ""))
					}
					for _, form := range forms {
						key := strings.ToLower(strings.Join(fields(form), ""))
						if other, taken := meant[key]; taken && other != n {
							t.Errorf("%s: %q stands for %v and for %v", l.code, form, other, n)
						}
						meant[key] = n
					}
				}
			}
		}
	}
}

func BenchmarkShapes(b *testing.B) {
	for i := 0; b.Loop(); i++ {
		Make(1, i, Tier(i%NumTiers))
	}
}
