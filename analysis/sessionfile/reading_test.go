package sessionfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
)

// reading reads a small file, which must not be refused.
func reading(t *testing.T, file string, o Options) Reading {
	t.Helper()
	r, err := Read("file.csv", []byte(file), o)
	if err != nil {
		t.Fatalf("%v\n%s", err, file)
	}
	return r
}

// number is number n of the i-th shot in the unit --json gives it in.
func number(t *testing.T, r Reading, i int, n analysis.Number) float64 {
	t.Helper()
	v, ok := r.Session.Shots[i].Value(n)
	if !ok {
		t.Fatalf("shot %d: no %v; decisions %v, questions %v", i+1, n, r.Decisions, r.Questions)
	}
	return v / n.JSONScale()
}

func keys(qs []analysis.Question) (all []string) {
	for _, q := range qs {
		all = append(all, q.Key)
	}
	return all
}

func TestValues(t *testing.T) {
	for _, c := range []struct {
		head, cell string
		number     analysis.Number
		want       float64 // in the unit of --json
	}{
		{"Side (m)", "12.4 L", analysis.Lateral, -12.4},
		{"Side (m)", "L12.4", analysis.Lateral, -12.4},
		{"Side (m)", "12.4R", analysis.Lateral, 12.4},
		{"Side (m)", "12.4 right", analysis.Lateral, 12.4},
		{"Side", "12.4 yds L", analysis.Lateral, -12.4 * 0.9144},
		{"Side", "L 30 ft", analysis.Lateral, -9.144},
		{"Side (m)", "-12.4 L", analysis.Lateral, -12.4},
		{"Seite (m)", "12,4 links", analysis.Lateral, -12.4},
		{"Écart (m)", "12,4 G", analysis.Lateral, -12.4},
		{"左右ブレ(m)", "12.4 左", analysis.Lateral, -12.4},
		{"Path", "2.0 in-out", analysis.Path, 2},
		{"Path", "2.0° out-to-in", analysis.Path, -2},
		{"Face angle", "3.1 open", analysis.Face, 3.1},
		{"Face angle", "3.1° closed", analysis.Face, -3.1},
		{"Spin axis", "8 draw", analysis.SpinAxis, -8},
		{"Attack", "-3,1 deg", analysis.Attack, -3.1},
		{"Attack", "−3.1°", analysis.Attack, -3.1},
		{"Attack", "3.1 down", analysis.Attack, -3.1},
		{"Attack", "3.1-", analysis.Attack, -3.1},
		{"Attack (rad)", "-0.1", analysis.Attack, -0.1 / degree},
		{"Spin rate", "2 650", analysis.Spin, 2650},
		{"Spin rate", "2,650", analysis.Spin, 2650},
		{"Spin rate", "2.650", analysis.Spin, 2650},
		{"Spin rate", "2'650 rpm", analysis.Spin, 2650},
		{"Spin rate", "２６５０", analysis.Spin, 2650},
		{"Spin rate", "2.65e3", analysis.Spin, 2650},
		{"Carry (yds)", "151.2", analysis.Carry, 151.2 * 0.9144},
		{"Carry [m]", "151.2", analysis.Carry, 151.2},
		{"Carry_m", "151.2", analysis.Carry, 151.2},
		{"Carry, yd", "151.2", analysis.Carry, 151.2 * 0.9144},
		{"carry distance in yards", "151.2", analysis.Carry, 151.2 * 0.9144},
		{"Carry", "151.2yd", analysis.Carry, 151.2 * 0.9144},
		{"Club Speed (MPH)", "100", analysis.ClubSpeed, 44.704},
		{"Club speed km/h", "160.9344", analysis.ClubSpeed, 44.704},
		{"ClubHeadSpeed (m/s)", "44.7", analysis.ClubSpeed, 44.7},
		{"Smash", "1.48", analysis.Smash, 1.48},
		{"Apex (ft)", "90", analysis.Apex, 27.432},
		{"Hang time", "5.8 s", analysis.FlightTime, 5.8},
		{"Impact offset (mm)", "5 toe", analysis.StrikeToe, 5},
		{"Impact offset (mm)", "5 heel", analysis.StrikeToe, -5},
		{"Impact height (in)", "0.5 low", analysis.StrikeUp, -12.7},
		{"Launch angle°", "17.1", analysis.LaunchAngle, 17.1},
	} {
		r, err := Read("v.csv", []byte("Zeta;"+c.head+"\nx;"+c.cell+"\n"), Options{Answers: map[string]string{"signs": "target"}})
		if err != nil {
			t.Errorf("%s %q: %v", c.head, c.cell, err)
			continue
		}
		v, ok := r.Session.Shots[0].Value(c.number)
		if got := v / c.number.JSONScale(); !ok || math.Abs(got-c.want) > 1e-9*max(1, math.Abs(c.want)) {
			t.Errorf("%s %q: read as %v (%v), want %v; %v %v", c.head, c.cell, got, ok, c.want, r.Decisions, r.Questions)
		}
	}
	for _, cell := range []string{"-", "N/A", "", "--", "—", "k.A.", "#N/A"} {
		r := reading(t, "Carry (m);Spin\n"+cell+";6500\n", Options{})
		if r.Session.Shots[0].Has(analysis.Carry) {
			t.Errorf("%q was read as a carry", cell)
		}
	}
}

// TestGolfersWords reads open and closed by the golfer's own hand.
func TestGolfersWords(t *testing.T) {
	for _, hand := range []analysis.Hand{analysis.RightHanded, analysis.LeftHanded} {
		r := reading(t, "Face to target,Path,Side (m)\n2 open,3 out-in,5 L\n", Options{Hand: hand, HandSet: true})
		if len(r.Questions) > 0 {
			t.Errorf("%v: asked %v, though every side is given in words", hand, r.Questions)
		}
		want := hand.Mirror()
		if f, p, l := number(t, r, 0, analysis.Face), number(t, r, 0, analysis.Path), number(t, r, 0, analysis.Lateral); math.Abs(f-2*want) > 1e-9 || math.Abs(p+3*want) > 1e-9 || l != -5 {
			t.Errorf("%v: face %.1f, path %.1f, lateral %.1f", hand, f, p, l)
		}
	}
}

func TestHandNotSaid(t *testing.T) {
	r := reading(t, "Face to target,Carry (m)\n2 open,150\n", Options{})
	if said := strings.Join(r.Decisions, "; "); !strings.Contains(said, "for a right-hander") {
		t.Errorf("decisions %q do not say whose open it is", said)
	}
}

// TestHeaderSaysTheSign reads what a plus means from the header.
func TestHeaderSaysTheSign(t *testing.T) {
	for head, want := range map[string]float64{
		"Side (m, + right)": 5, "Side [R+] (m)": 5, "Side (L-/R+) m": 5, "Side (+ = left) (m)": -5, "Side (L+) (m)": -5,
	} {
		r := reading(t, head+";Zeta\n5;x\n", Options{Hand: analysis.LeftHanded, HandSet: true})
		if len(r.Questions) > 0 {
			t.Errorf("%s: asked %v", head, r.Questions)
			continue
		}
		if got := number(t, r, 0, analysis.Lateral); got != want {
			t.Errorf("%s: 5 read as %v, want %v", head, got, want)
		}
	}
}

// TestSigns asks what nothing in the file can tell, and follows the answer.
func TestSigns(t *testing.T) {
	const file = "Club,Side (m)\n7i,5\n7i,-3\n7i,2\n"
	for _, c := range []struct {
		hand   analysis.Hand
		answer string
		want   float64 // of the first shot, 0 if it must be asked
	}{
		{analysis.RightHanded, "", 5},
		{analysis.LeftHanded, "", 0},
		{analysis.LeftHanded, "nonsense", 0},
		{analysis.LeftHanded, "target", 5},
		{analysis.LeftHanded, "golfer", -5},
		{analysis.LeftHanded, "target-left", -5},
		{analysis.RightHanded, "golfer", 5},
		{analysis.RightHanded, "target-left", -5},
	} {
		o := Options{Hand: c.hand, HandSet: true}
		if c.answer != "" {
			o.Answers = map[string]string{"signs": c.answer}
		}
		r := reading(t, file, o)
		if c.want == 0 {
			if !slices.Equal(keys(r.Questions), []string{"signs"}) {
				t.Errorf("%v, %q: asked %v, want signs", c.hand, c.answer, keys(r.Questions))
			} else if got := r.Questions[0].Choices; got[0].Value != "target" || got[1].Value != "target-left" || got[2].Value != "golfer" {
				t.Errorf("choices %v", got)
			}
			if r.Session.Shots[0].Has(analysis.Lateral) {
				t.Errorf("%v, %q: lateral read before it was answered", c.hand, c.answer)
			}
			if !slices.Equal(r.Session.Shots, reading(t, file, o).Session.Shots) || r.Session.Shots[0].Club.Key() != "7i" {
				t.Errorf("the rest was not read")
			}
			continue
		}
		if len(r.Questions) > 0 {
			t.Errorf("%v, %q: asked %v", c.hand, c.answer, r.Questions)
			continue
		}
		if got := number(t, r, 0, analysis.Lateral); got != c.want {
			t.Errorf("%v, %q: 5 read as %v, want %v", c.hand, c.answer, got, c.want)
		}
		if said := strings.Join(r.Decisions, "; "); !strings.Contains(said, "+ read as "+map[bool]string{true: "right", false: "left"}[c.want > 0]+" of target") {
			t.Errorf("%v, %q: decisions %q do not say what + was read as", c.hand, c.answer, said)
		}
	}
}

// TestMirrorImage reads a right-hander's file mirrored as a whole: nothing in
// it can tell, so it is read with + right of target and says so.
func TestMirrorImage(t *testing.T) {
	rng, s := shapeOf(t, "csv")
	for f := range s.signs {
		s.signs[f] = -1
	}
	shots := knownShots(rng, 20, 1)
	_, data := s.bytes(rng, shots)
	r := reading(t, string(data), Options{})
	if len(r.Questions) > 0 {
		t.Fatalf("asked %v", r.Questions)
	}
	said := strings.Join(r.Decisions, "; ")
	if !strings.Contains(said, "+ read as right of target; path checked against") {
		t.Errorf("decisions %q", said)
	}
	for i, want := range shots {
		w, _ := want.Value(analysis.Face)
		if got, _ := r.Session.Shots[i].Value(analysis.Face); math.Abs(got+w) > 0.06*degree {
			t.Errorf("shot %d: face %.2f, want the mirror image of %.2f", i+1, got/degree, w/degree)
		}
	}
	r = reading(t, string(data), Options{Answers: map[string]string{"signs": "target-left"}})
	if v, detail := judge(s, shots, r, nil); v != readRight {
		t.Errorf("answered, it was %s: %s", v, detail)
	}
}

// shapeOf is a plain shape with all the core columns.
func shapeOf(t *testing.T, container string) (*rand.Rand, shape) {
	t.Helper()
	rng := rand.New(rand.NewPCG(9, 9))
	return rng, plainShape(rng, container)
}

func plainShape(rng *rand.Rand, container string) shape {
	s := drawShape(rng)
	s.hand, s.container, s.language, s.encoding, s.separator, s.comma, s.thousands = analysis.RightHanded, container, 0, "utf-8", ',', false, ""
	s.units = map[dimension]string{speed: "mph", length: "yd", angle: "deg", rate: "rpm", duration: "s"}
	s.unitPlace, s.preamble, s.extra, s.summary, s.blanks, s.repeat, s.faceLoose = "bracket", 0, 0, "", false, false, false
	s.fields = []field{clubField, clubSpeed, attack, path, face, dynamicLoft, ballSpeed, launch, direction, spin, spinAxis, carry, lateral}
	s.letters, s.answers = map[field]bool{}, map[string]string{}
	for f := range s.signs {
		s.signs[f] = 1
	}
	return s
}

// TestUnitsByPhysics leaves the units out: what hangs together only one way is
// read that way and said, the rest is asked.
func TestUnitsByPhysics(t *testing.T) {
	for _, c := range []struct {
		speed, length, drop string // units written with; headers that lose them
		want                []string
		said                string
	}{
		{"mph", "yd", "Ball Speed,Club Speed", nil, "no unit given for 'Ball Speed' and 'Club Speed': read in mph, the only one that fits"},
		{"km/h", "m", "Ball Speed,Club Speed", nil, "read in km/h, the only one that fits"},
		{"m/s", "yd", "Ball Speed,Club Speed", nil, "read in m/s, the only one that fits"},
		{"mph", "yd", "Side", nil, "no unit given for 'Side': read in yd, the only one that fits"},
		{"mph", "yd", "Club Speed", nil, "read in mph, like its neighbour"},
		{"mph", "yd", "Spin Rate", nil, "read in rpm, the only one that fits"},
		{"mph", "yd", "Launch Angle", nil, "read in deg, like its neighbour"},
		{"mph", "yd", "Carry", nil, "no unit given for 'Carry': read in yd"}, // as the finish is
		{"mph", "m", "Carry", nil, "no unit given for 'Carry': read in m"},
		{"mph", "yd", "Carry,Side", []string{"unit:carry"}, "'Side' wait for that answer"}, // nine per cent: a range ball loses as much
		{"mph", "m", "Carry,Side", []string{"unit:carry"}, "'Side' wait for that answer"},
	} {
		rng, s := shapeOf(t, "csv")
		s.units[speed], s.units[length] = c.speed, c.length
		shots := knownShots(rng, 20, 1)
		_, data := s.bytes(rng, shots)
		file := string(data)
		for name := range strings.SplitSeq(c.drop, ",") {
			i := strings.Index(file, name)
			end := i + strings.IndexAny(file[i:], ",\r\n")
			file = file[:i] + name + file[end:]
		}
		r := reading(t, file, Options{})
		if !slices.Equal(keys(r.Questions), c.want) {
			t.Errorf("%s, without units of %s: asked %v, want %v", c.speed, c.drop, r.Questions, c.want)
		}
		if said := strings.Join(r.Decisions, "; "); !strings.Contains(said, c.said) {
			t.Errorf("without units of %s: %q does not say %q", c.drop, said, c.said)
		}
		if len(c.want) > 0 {
			r = reading(t, file, Options{Answers: map[string]string{c.want[0]: c.length}})
		}
		if v, detail := judge(s, shots, r, nil); v != readRight {
			t.Errorf("without units of %s: %s, %s", c.drop, v, detail)
		}
	}
}

// TestSidewaysFeet tells feet from yards by the start lines.
func TestSidewaysFeet(t *testing.T) {
	rng, s := shapeOf(t, "csv")
	shots := knownShots(rng, 40, 1)
	for _, name := range []string{"yd", "ft"} {
		rows := s.cells(rng, shots)
		at := slices.Index(s.fields, lateral)
		rows[0][at] = "Side"
		for i, shot := range shots {
			v, _ := shot.Value(analysis.Lateral)
			rows[i+1][at] = fmt.Sprintf("%.1f", v/unitNamed(name, length).scale)
		}
		var file strings.Builder
		for _, r := range rows {
			for _, c := range r {
				fmt.Fprint(&file, c, ",")
			}
			file.WriteString("\n")
		}
		r := reading(t, file.String(), Options{})
		if len(r.Questions) > 0 {
			t.Errorf("%s: asked %v", name, r.Questions)
			continue
		}
		want, _ := shots[0].Value(analysis.Lateral)
		if got := number(t, r, 0, analysis.Lateral); math.Abs(got-want) > 0.06 {
			t.Errorf("%s: lateral %.2f m, want %.2f", name, got, want)
		}
	}
}

func TestQuestions(t *testing.T) {
	for _, c := range []struct {
		name, file string
		key        string
		answers    map[string]string
		check      analysis.Number
		want       float64
	}{
		{"a loose word", "Distance (m),Spin\n150,6500\n", "column:distancem", map[string]string{"column:distancem": "carry"}, analysis.Carry, 150},
		{"two columns of one number", "Side (m),Offline (m)\n5,9\n-3,2\n", "which:lateral", map[string]string{"which:lateral": "offlinem"}, analysis.Lateral, 9},
		{"a remark", "Carry (calculated) (m),Spin\n150,6500\n", "column:carrycalculatedm", map[string]string{"column:carrycalculatedm": "carry"}, analysis.Carry, 150},
		{"a club nobody knows", "Club,Carry (m)\nOld Faithful,150\n", "club:oldfaithful", map[string]string{"club:oldfaithful": "7i"}, analysis.Carry, 150},
		{"two players", "Name,Carry (m)\nWren,150\nOdell,160\n", "player", map[string]string{"player": "odell"}, analysis.Carry, 160},
	} {
		r := reading(t, c.file, Options{})
		if !slices.Contains(keys(r.Questions), c.key) {
			t.Errorf("%s: asked %v, want %s", c.name, keys(r.Questions), c.key)
			continue
		}
		for _, q := range r.Questions {
			if q.Key == c.key && !slices.ContainsFunc(q.Choices, func(x analysis.Choice) bool { return x.Value == c.answers[c.key] }) {
				t.Errorf("%s: choices %v lack %q", c.name, q.Choices, c.answers[c.key])
			}
		}
		r = reading(t, c.file, Options{Answers: c.answers})
		if len(r.Questions) > 0 {
			t.Errorf("%s: answered, still asked %v", c.name, r.Questions)
		}
		if got := number(t, r, 0, c.check); got != c.want {
			t.Errorf("%s: %v is %v, want %v", c.name, c.check, got, c.want)
		}
	}
}

// TestLooseWordTaken reads "Speed" as the speed no other column holds.
func TestLooseWordTaken(t *testing.T) {
	r := reading(t, "Speed (mph),Club speed (mph)\n104,78\n", Options{})
	if len(r.Questions) > 0 {
		t.Fatalf("asked %v", r.Questions)
	}
	if got := number(t, r, 0, analysis.BallSpeed); math.Abs(got-46.49216) > 1e-6 {
		t.Errorf("ball speed %v", got)
	}
}

// TestUnitOfAnotherKind asks about a column whose unit cannot be that of what
// its name says, rather than read it in some other, or leave it out by a note
// alone.
func TestUnitOfAnotherKind(t *testing.T) {
	for _, file := range []string{"Face (mm),Carry (m)\n2,150\n", "Face,Carry\nmm,m\n2,150\n"} {
		r := reading(t, file, Options{})
		asked := slices.ContainsFunc(r.Questions, func(q analysis.Question) bool { return strings.HasPrefix(q.Key, "column:face") })
		if r.Session.Shots[0].Has(analysis.Face) || !asked {
			t.Errorf("%q: %s; %v, asked %v", file, told(r.Session.Shots[0]), r.Decisions, r.Questions)
		}
	}
}

// TestAgreeingColumns takes one of two columns that say the same.
func TestAgreeingColumns(t *testing.T) {
	r := reading(t, "Carry (yd),Carry distance (m)\n150,137.2\n160,146.3\n", Options{})
	if len(r.Questions) > 0 {
		t.Fatalf("asked %v", r.Questions)
	}
	if got := number(t, r, 0, analysis.Carry); math.Abs(got-137.16) > 0.06 {
		t.Errorf("carry %v m, want 137.2", got)
	}
}

// TestGroupedHeader reads a header in two rows.
func TestGroupedHeader(t *testing.T) {
	r := reading(t, "Club,,,Ball,\nName,Speed (mph),Path,Speed (mph),Carry (yd)\n7i,78,1.5,104,150\n", Options{})
	if len(r.Questions) > 0 {
		t.Fatalf("asked %v", r.Questions)
	}
	if c, b := number(t, r, 0, analysis.ClubSpeed), number(t, r, 0, analysis.BallSpeed); math.Abs(c-78*0.44704) > 1e-6 || math.Abs(b-104*0.44704) > 1e-6 {
		t.Errorf("club speed %v, ball speed %v", c, b)
	}
}

// TestRowsThatAreNoShots leaves everything out that is none.
func TestRowsThatAreNoShots(t *testing.T) {
	const head = "Club,Ball speed (mph),Launch angle,Spin,Carry (yd)\n"
	const shots = "7i,104.3,17.1,6500,151.2\n7i,103.1,17.9,6620,149.4\n7i,105.0,16.4,6390,153.9\n7i,102.2,18.3,6710,147.7\n"
	for name, file := range map[string]string{
		"named":                                head + shots + "Average,103.7,17.4,6555,150.6\nStd. Dev.,1.2,0.8,138,2.6\n",
		"named with the club":                  head + shots + "7i average,103.7,17.4,6555,150.6\n",
		"mean without a name":                  head + shots + ",103.7,17.4,6555,150.6\n",
		"mean under the club":                  head + shots + "7i,103.7,17.4,6555,150.6\n",
		"mean first":                           head + ",103.7,17.4,6555,150.6\n" + shots,
		"mean, spread, most and least":         head + shots + ",103.65,17.42,6555,150.55\n,1.24,0.85,140,2.65\n,105.0,18.3,6710,153.9\n,102.2,16.4,6390,147.7\n",
		"blank rows, notes and a header again": head + shots[:50] + "\n , ,\nWindy today\n" + head + shots[50:],
	} {
		r := reading(t, file, Options{})
		if len(r.Session.Shots) != 4 {
			t.Errorf("%s: %d shots, want 4: %v", name, len(r.Session.Shots), r.Decisions)
		}
	}
	r := reading(t, head+shots+"Average,103.7,17.4,6555,150.6\n", Options{})
	if r.File.SummaryRowsDropped != 1 || r.File.RowsRead != 4 {
		t.Errorf("%+v, want 4 rows read and 1 summary row dropped", r.File)
	}
	// With the word under a label, the numbers must bear it out.
	labelled := strings.ReplaceAll("Label,"+head[5:]+shots, "7i,", "normal,")
	if r := reading(t, labelled+"average,103.7,17.4,6555,150.6\n", Options{}); len(r.Session.Shots) != 4 {
		t.Errorf("average as a label: %d shots, want 4", len(r.Session.Shots))
	}
	if r := reading(t, "Player,Carry (m),Spin\nMax,150,6500\nMax,140,6400\n", Options{}); len(r.Session.Shots) != 2 {
		t.Errorf("a player called Max: %d shots, want 2", len(r.Session.Shots))
	}
	if r := reading(t, "Carry (m),Effort,Spin\n150,max,6500\n140,min,6400\n", Options{}); len(r.Session.Shots) != 2 {
		t.Errorf("an unknown column saying max: %d shots, want 2", len(r.Session.Shots))
	}
	// A label is only ever a label, whatever it says.
	r = reading(t, "Label,Carry (m),Spin\nmax,150,6500\naverage,140,6400\n", Options{})
	if len(r.Session.Shots) != 2 || !r.Labelled || r.Session.Shots[0].Label != "max" {
		t.Errorf("labels that sound like statistics: %+v", r.Session.Shots)
	}
}

func TestClubs(t *testing.T) {
	for text, want := range map[string]string{
		"7i": "7i", "7 Iron": "7i", "Eisen 7": "7i", "7er Eisen": "7i", "E7": "", "Fer 7": "7i", "Hierro 7": "7i", "Ferro 7": "7i", "Järn 7": "7i",
		"7番アイアン": "7i", "7번 아이언": "7i", "Holz 3": "3w", "Bois 3": "3w", "ドライバー": "driver", "SW (56°)": "sw", "56°": "56", "Pitching Wedge": "pw", "Hybride 4": "4h",
	} {
		c, ok := parseClub(text)
		if ok != (want != "") || c.Key() != want {
			t.Errorf("%q is %q, want %q", text, c.Key(), want)
		}
	}
	for name, file := range map[string]string{
		"above the header":  "Place: Saltmarsh Links\nClub: 7 Iron\nCarry (m),Spin\n150,6500\n",
		"as a heading row":  "Carry (m),Spin\n7 Iron\n150,6500\n",
		"beside the header": "Club;7 Iron\nCarry (m);Spin\n150;6500\n",
	} {
		if r := reading(t, file, Options{}); r.Session.Shots[0].Club.Key() != "7i" {
			t.Errorf("%s: club %q", name, r.Session.Shots[0].Club.Key())
		}
	}
	r := reading(t, "Club,Carry (m)\n,150\nD,200\n", Options{Club: analysis.Club{Family: analysis.Iron, Number: 7}})
	if a, b := r.Session.Shots[0].Club.Key(), r.Session.Shots[1].Club.Key(); a != "7i" || b != "driver" {
		t.Errorf("clubs %q and %q, want what the golfer said only where the file does not", a, b)
	}
}

func TestWhenAndWeather(t *testing.T) {
	day := time.Date(2026, 5, 3, 0, 0, 0, 0, time.UTC)
	for name, c := range map[string]struct {
		file string
		want time.Time
	}{
		"ISO":              {"Date,Carry (m)\n2026-05-04,150\n2026-05-03,151\n", day},
		"dots":             {"Datum;Carry (m)\n03.05.2026;150\n", day},
		"day first":        {"Date,Carry (m)\n03/05/2026,150\n14/05/2026,150\n", day},
		"month first":      {"Date,Carry (m)\n05/03/2026,150\n05/14/2026,150\n", day},
		"either way":       {"Date,Carry (m)\n03/05/2026,150\n", time.Time{}},
		"above the header": {"Session of,2026-05-03\nCarry (m),Spin\n150,6500\n", day},
		"and clock apart":  {"Time,Date,Carry (m)\n10:12:30,2026-05-03,150\n10:11,2026-05-03,151\n", time.Date(2026, 5, 3, 10, 11, 0, 0, time.UTC)},
		"with a clock":     {"Time,Carry (m)\n2026-05-03T10:11:12.345Z,150\n", time.Date(2026, 5, 3, 10, 11, 12, 0, time.UTC)},
	} {
		if r := reading(t, c.file, Options{}); !r.Session.When.Equal(c.want) {
			t.Errorf("%s: %v, want %v; %v", name, r.Session.When, c.want, r.Decisions)
		}
	}
	r := reading(t, "Carry (m),Temperature,Altitude (ft),Wind speed (mph),Wind direction\n150,68,1000,10,90\n151,70,1000,12,90\n", Options{})
	c := r.Session.Conditions
	if c.Temperature == nil || math.Abs(*c.Temperature-293.706) > 0.01 || c.Altitude == nil || math.Abs(*c.Altitude-304.8) > 1e-9 || c.WindSpeed == nil || math.Abs(*c.WindSpeed-11*0.44704) > 1e-9 || c.WindFrom != nil {
		t.Errorf("conditions %+v; %v", c, r.Decisions)
	}
	if r := reading(t, "Carry (m),Temperature,Altitude\n150,40,1000\n", Options{}); r.Session.Conditions != (analysis.Conditions{}) {
		t.Errorf("without units, 40 degrees and 1000 high were read: %v", r.Decisions)
	}
}

// TestTimeInTheAir takes a column that merely says "time" for the flight time
// if it holds seconds.
func TestTimeInTheAir(t *testing.T) {
	r := reading(t, "Time,Carry (m)\n5.8,150\n5.9,152\n", Options{})
	if got := number(t, r, 0, analysis.FlightTime); got != 5.8 {
		t.Errorf("flight time %v, want 5.8", got)
	}
}

// TestNothingMeasured takes zeros for missing where a file writes them so.
func TestNothingMeasured(t *testing.T) {
	r := reading(t, "Club speed (mph),Face,Path,Attack,Ball speed (mph),Spin,Total (m)\n0,0,0,0,104,6500,0\n78,0,1,-3,103,0,0\n79,1,0,-4,105,6400,0\n", Options{})
	first, second := r.Session.Shots[0], r.Session.Shots[1]
	if first.Has(analysis.ClubSpeed) || first.Has(analysis.Face) || first.Has(analysis.Attack) || !first.Has(analysis.BallSpeed) {
		t.Errorf("a club that did not move was measured: %s", told(first))
	}
	if !second.Has(analysis.ClubSpeed) || second.Has(analysis.Spin) || first.Has(analysis.Total) {
		t.Errorf("zeros: %s", told(second))
	}
	r = reading(t, "Face,Path,Attack,Carry (m)\n0,0,0,150\n0,0,0,151\n1,2,-3,152\n", Options{Answers: map[string]string{"signs": "target"}})
	if r.Session.Shots[1].Has(analysis.Attack) || !r.Session.Shots[2].Has(analysis.Attack) {
		t.Errorf("rows of nothing but zeros: %v", r.Decisions)
	}
	// A face may well be square.
	r = reading(t, "Face,Carry (m)\n0,150\n1,151\n2,152\n", Options{})
	if !r.Session.Shots[0].Has(analysis.Face) {
		t.Errorf("a square face was not measured: %v", r.Decisions)
	}
}

func TestSpinInParts(t *testing.T) {
	r := reading(t, "Back spin (rpm),Side spin (rpm),Carry (m)\n3000,-400 ,200\n", Options{})
	if s, a := number(t, r, 0, analysis.Spin), number(t, r, 0, analysis.SpinAxis); math.Abs(s-math.Hypot(3000, 400)) > 1e-6 || math.Abs(a+math.Atan2(400, 3000)/degree) > 1e-6 {
		t.Errorf("spin %.1f rpm, axis %.2f deg", s, a)
	}
}

func TestNothingHandedInChanges(t *testing.T) {
	data := []byte("Carry (m);Side (m)\r\n150;3\r\n")
	answers := map[string]string{"signs": "target"}
	before := string(data)
	if _, err := Read("a.csv", data, Options{Answers: answers}); err != nil {
		t.Fatal(err)
	}
	if string(data) != before || len(answers) != 1 {
		t.Error("Read changed what it was handed")
	}
}

func TestRefusalsReadWell(t *testing.T) {
	_, err := Read("a.csv", []byte("Club,Face\n7i,1.2\n7i,abc\n"), Options{})
	refusal := err.(*analysis.Refusal)
	if got, want := refusal.Error()+" "+refusal.Hint, `row 3, column 'Face': 'abc' is not an angle. Remove it or leave it empty.`; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}
