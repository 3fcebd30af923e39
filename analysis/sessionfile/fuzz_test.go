package sessionfile

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"rangepost/analysis"
)

// Fuzzing these needs -fuzzminimizetime 10x: a whole file takes the fuzzer a
// minute to make smaller, for each it finds interesting.

// seeds adds the session files of testdata with that ending, and a few shapes
// of the known session.
func seeds(f *testing.F, ext string) {
	f.Helper()
	names, err := filepath.Glob("testdata/*" + ext)
	if err != nil || len(names) == 0 {
		f.Fatalf("no seeds in testdata: %v", err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		s := drawShape(rng)
		s.container, s.shots = ext[1:], 4
		_, data := s.bytes(rng, knownShots(rng, s.shots, 1))
		f.Add(data)
	}
}

// pastes are texts without a separator, for the fuzzer to begin with.
var pastes = []string{
	"carry 152 yd, 8 right, launch 17\ncarry 149 yd, 2 left, launch 18\n",
	"1: 7i, carry 152y, side 8R, face 1.5 open\n2: 7i, carry 149y, side 2L\n",
	"```\n| Club | Carry (yd) |\n|------|-----------:|\n| 7i   | 152 |\n| 7i | 149 |\n```\n",
	"Ball Spd   Launch   Spin   Carry yd  Side\n120.5      17.2     6100   161       8R\n118.9      18.0     6350   157       3L\n",
	"120.5 17.2 6100 161\n118.9 18.0 6350 157\n121.3 16.8 5990 163\n",
	"クラブ速度　打出角度\n38 17\n39 18\n",
	"60°\n#1 152 yd 8,5yd R 17°\n#2 149 yd 2yd L 18°\n#3 155 yd 4yd R 17°\n",
	"carry, offline, launch\n152 R 8 17\n149 L 2 18\n155 R 4 17\n",
	"1) 152 / 8R / 17\n2) 149 / 2L / 18\n3) 155 / 4R / 17\n",
	"carry 152m - R 8 - 54 m/s ball\ncarry 149m - L 2 - 53 m/s ball\n",
	"look at this\nCarry (yd)  Side (yd)\n       152        8 R\n       149        2 L\n       155        4 R\n",
	"F1 | F2 [mph] | F3 (+R)\n1 | 120.5 | 2\n2 | 118.9 | -3\n3 | 121.1 | 1\n",
	"offline, carry, attack angle\n1. 4 R 100 -4\n2. 24 R 105 -2\n3. 13 R 98 -3\n",
	"103yd volo / 8yd S / 22 gradi lancio\n102yd volo / 0yd D / 22 gradi lancio\n",
	"\"A\" ; \"B\" ; \"C\"\n\"7I\" ; \"1\" ; \"2\"\n\"7I\" ; \"3\" ; \"4\"\n",
}

// sound checks what must be true of any reading of any bytes.
func sound(t *testing.T, data []byte) {
	o := Options{Hand: analysis.LeftHanded, HandSet: true}
	r, err := Read("fuzz", data, o)
	if err != nil {
		refusal, ok := err.(*analysis.Refusal)
		if !ok || refusal.Code == "" || refusal.What() == "" || refusal.Hint == "" || refusal.Row < 0 {
			t.Fatalf("error %#v, want a whole refusal", err)
		}
		return
	}
	if n := len(r.Session.Shots); n == 0 || n > maxShots {
		t.Fatalf("%d shots", n)
	}
	numbers := map[int]bool{}
	for _, s := range r.Session.Shots {
		if s.N < 1 || numbers[s.N] || s.Row < 1 {
			t.Fatalf("shot %d in row %d: number used twice or none", s.N, s.Row)
		}
		numbers[s.N] = true
		if (s.Aside == analysis.Used) != (s.Why == "") {
			t.Fatalf("shot %d is %q because %q", s.N, s.Aside, s.Why)
		}
		for _, n := range analysis.Numbers() {
			if v, _ := s.Value(n); math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("shot %d: %v is %v", s.N, n, v)
			}
		}
	}
	for _, q := range r.Questions {
		if q.Key == "" || q.Text == "" || len(q.Choices) == 0 || len(q.Choices) > maxChoices {
			t.Fatalf("question %+v", q)
		}
	}
	again, err := Read("fuzz", data, o)
	if !reflect.DeepEqual(r, again) || err != nil {
		t.Fatalf("read twice:\n%+v\n%+v, %v", r, again, err)
	}
	if _, err := json.Marshal(r.Questions); err != nil {
		t.Fatal(err)
	}
}

func FuzzCSV(f *testing.F) {
	seeds(f, ".csv")
	f.Fuzz(sound)
}

func FuzzPaste(f *testing.F) {
	for _, text := range pastes {
		f.Add([]byte(text))
	}
	f.Fuzz(sound)
}

// FuzzHeading understands any words, and never one way now and another then.
func FuzzHeading(f *testing.F) {
	for _, words := range []string{"Ball Spd (mph)", "C.Path", "Schlägerkopfgeschw.", "打ち出し角度", "클럽 헤드 속도", "Att. Ang.", "x", "Carry, yd", "facetopathangle", "S", "Face (+D/-G) °", "Side (rpm)", "Down/Up Angle [°]", "ヘッドSP", "Einfallwnkel", "Maxhö.", "H m", "左右差 [右+ 左-]"} {
		f.Add(words)
	}
	f.Fuzz(func(t *testing.T, words string) {
		h, again := readHeading(words).guessing(), readHeading(words).guessing()
		if !reflect.DeepEqual(h, again) {
			t.Fatalf("%q is %+v, and then %+v", words, h, again)
		}
		for _, g := range h.guesses {
			if !(g.weight > 0 && g.weight <= sure) {
				t.Fatalf("%q means %s with weight %v", words, g.field.key(), g.weight)
			}
		}
	})
}

func FuzzXLSX(f *testing.F) {
	seeds(f, ".xlsx")
	f.Fuzz(sound)
}

// FuzzSheet reads the XML of a sheet, which an archive hides from mutation.
func FuzzSheet(f *testing.F) {
	f.Add([]byte(`<worksheet><sheetData><row r="2"><c r="B2" t="s" s="1"><v>0</v></c><c><f>A1</f></c></row><row><c t="inlineStr"><is><t>Carry</t><rPh><t>x</t></rPh></is></c></row></sheetData></worksheet>`))
	f.Add([]byte(`<row r="1"><c r="A1" s="1"><v>-12.4</v></c><c r="C1" s="2"><v>46145.5</v></c><c t="b"><v>1</v></c></row>`))
	w := &spreadsheet{texts: []string{"Carry"}, looks: []look{{}, lookOf(`0.0" R";0.0" L"`), {clock: true}}}
	f.Fuzz(func(t *testing.T, data []byte) {
		rows, err := w.readRows(xml.NewDecoder(bytes.NewReader(data)))
		if err != nil {
			return
		}
		for _, r := range rows {
			if len(r.cells) > maxColumns || r.blank() {
				t.Fatalf("row %d of %d cells", r.at, len(r.cells))
			}
		}
	})
}

// FuzzNumberFormat shows a number in any format: the number is in it.
func FuzzNumberFormat(f *testing.F) {
	for _, code := range []string{"General", `0.00" mph"`, `"L "0.0;"R "0.0`, `[<0]0.0" L";[>=0]0.0" R"`, "yyyy-mm-dd", "#,##0.0,,", "0.0E+0", "# ?/?", `_(* #,##0_);_(* \(#,##0\)`, ";;;", "[Red][>=1e5]@"} {
		f.Add(code, "-12.4")
	}
	f.Fuzz(func(t *testing.T, code, number string) {
		l := lookOf(code)
		got := l.of(number, false)
		if x, err := strconv.ParseFloat(number, 64); err == nil && !l.clock && len(number) <= 15 && !strings.Contains(got, strings.TrimPrefix(number, "-")) {
			t.Fatalf("%v in %q is %q", x, code, got)
		}
	})
}

func FuzzJSON(f *testing.F) {
	seeds(f, ".json")
	f.Fuzz(sound)
}

// FuzzValue reads one cell under either decimal mark. Whatever it takes for a
// number must be the number that stands there.
func FuzzValue(f *testing.F) {
	for _, s := range []string{"12.4 L", "L12.4", "12.4R", "-3,1 deg", "2.0 in-out", "1 234", "-", "N/A", "", "1.234,5", "1,234.5", "1e3", "−3.1", "３.１", ".5", "5.", "1'234", "2026-05-01", "=1+1", "12.4 yds L", "0x1p4", "NaN", "d\u00ad\u032d"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		plain := plainText(s)
		if plainText(plain) != plain {
			t.Fatalf("%q is not plain after once: %q, %q", s, plain, plainText(plain))
		}
		n, ok := splitNumeral(plain)
		if !ok {
			return
		}
		for _, mark := range []byte{'.', ','} {
			v, ok := n.value(mark)
			if !ok {
				continue
			}
			if math.IsNaN(v) || math.Abs(v) > 1e7 || v < 0 != (n.negative && v != 0) {
				t.Fatalf("%q is %v with mark %c", s, v, mark)
			}
			var back float64
			text := fmt.Sprintf("%.9f", math.Abs(v))
			if m, ok := splitNumeral(text); !ok {
				t.Fatalf("%q cannot be read back", text)
			} else if back, ok = m.value('.'); !ok || math.Abs(back-math.Abs(v)) > 1e-9*math.Max(1, math.Abs(v)) {
				t.Fatalf("%q read back as %v", text, back)
			}
		}
		for _, c := range []column{{field: face}, {field: carry}, {field: path}, {field: strikeToe}} {
			c.words(n, 0)
		}
	})
}
