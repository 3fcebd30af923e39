package sessionfile

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/encoding/korean"

	"rangepost/analysis"
)

// TestNothingWrongInSilence has a small file for every way in which one was once
// read wrongly without a word: what is asked instead, or what its first ball has.
func TestNothingWrongInSilence(t *testing.T) {
	euckr := func(text string) string {
		s, err := korean.EUCKR.NewEncoder().String(text)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	for _, c := range []struct {
		way, text string
		hand      analysis.Hand
		answers   analysis.Answers
		shots     int
		asked     []string
		number    analysis.Number // of the first ball, SI
		value     float64
	}{
		{way: "an H beside V is right, not the heel, when columns vote",
			text: "Klubba;Bladvinkel;Blad mot svingbana;Klubbv.;Carry (m)\n" +
				"7i;H 0,9;V 2,1;H 3,1;131\n7i;V 0,3;V 3,9;H 3,6;129\n7i;H 4,0;V 3,2;H 7,2;135\n7i;V 1,1;V 4,5;H 3,3;133\n7i;H 0,5;V 3,2;H 3,7;130\n7i;V 3,0;V 7,5;H 4,5;128\n",
			shots: 6, number: analysis.Path, value: 3.1 * degree},
		{way: "the encoding where headings say nothing, by the names of a mean and of clubs",
			text: euckr("A,B,C,D\n7번 아이언,31.1,18.1,121.4\n7번 아이언,31.8,17.7,124.0\n7번 아이언,30.2,18.9,119.1\n7번 아이언,31.5,18.3,122.8\n평균값,31.2,18.3,121.8\n" +
				"9번 아이언,29.1,24.1,101.4\n9번 아이언,29.8,23.7,104.0\n9번 아이언,28.2,24.9,99.1\n9번 아이언,29.5,24.3,102.8\n평균값,29.2,24.3,101.8\n"),
			shots: 8, asked: []string{"column:b", "column:c", "column:d"}},
		{way: "a row that calls itself a mean in the notes, over two clubs, with a ball misread",
			text: "Ball Speed (mph),Launch (deg),Spin (rpm),Carry (yd),Total (yd),Note,Club\n113.3,21.4,6513,149.7,158.4,Mean,\n" +
				"98.2,24.9,8334,112.3,120.6,,9i\n96.6,27.1,8241,121.4,123.4,,9i\n100.6,25.7,8052,118.4,120.4,,9i\n258.6,26.7,8212,117.0,126.5,,9i\n100.1,25.4,8232,116.7,120.0,,9i\n99.5,28.0,8205,118.4,122.7,,9i\n103.0,25.8,8075,124.2,126.2,,9i\n99.4,26.7,8657,115.6,117.6,,9i\n101.0,25.5,8123,119.2,121.6,,9i\n" +
				"140.4,12.1,3158,216.5,233.1,,Driver\n139.3,13.2,2996,208.9,231.6,,Driver\n141.6,12.4,2834,212.6,232.9,,Driver\n140.0,10.6,3250,212.6,230.4,,Driver\n",
			shots: 13, number: analysis.Carry, value: 112.3 * analysis.Yard},
		{way: "strikes near the middle, in cm or in inches",
			text: "Club,Ball Speed (mph),Strike across,Strike height\n" +
				"7i,117,0.25,-0.12\n7i,118,-0.31,0.17\n7i,116,0.22,0.08\n7i,117,-0.12,-0.21\n7i,119,0.28,0.15\n7i,118,0.19,-0.14\n",
			shots: 6, asked: []string{"unit:strike_toe"}},
		{way: "a low flight in feet beside a carry in metres, where nobody knows the launch",
			text:  "Club,Carry (m),Apex\nDriver,221,46\nDriver,218,43\nDriver,225,48\nDriver,216,44\nDriver,223,47\n",
			shots: 5, asked: []string{"unit:apex"}},
		{way: "where a ball came to rest, with a remark that says so",
			text: "Club,Carry (yd),Total (yd),Lateral (roll) (yd),Launch Direction (deg)\n" +
				"7i,150,158,8.1R,2.0R\n7i,152,160,3.2L,1.1L\n7i,149,156,12.3R,3.3R\n7i,151,159,6.4L,2.2L\n7i,148,155,1.2R,0.2R\n7i,150,157,9.7L,2.9L\n",
			shots: 6, number: analysis.LateralTotal, value: 8.1 * analysis.Yard},
		{way: "a left-hander's club beside the ball, of which alone was answered",
			text: "Club,Carry (yd),Offline (yd),Club Path (deg)\n7i,150,3.1,1\n7i,151,-21.5,2\n7i,149,4,1\n7i,152,-2,2\n7i,150,6,-1\n",
			hand: analysis.LeftHanded, answers: analysis.Answers{"signs": signTarget},
			shots: 5, asked: []string{"signs:path"}, number: analysis.Lateral, value: 3.1 * analysis.Yard},
		{way: "a speed in km/h and a carry in feet, which would suit no wedge in mph and yards",
			text:  "GW\n#1 carry 267 - offline 8R - club speed 102\n#2 carry 258 - offline 7R - club speed 102\n#3 carry 260 - offline 12L - club speed 104\n#4 carry 264 - offline 8R - club speed 104\n#5 carry 258 - offline 4L - club speed 101\n",
			shots: 5, number: analysis.ClubSpeed, value: 102 * analysis.KMPerHour},
	} {
		hand := c.hand
		if hand == 0 {
			hand = analysis.RightHanded
		}
		r, err := Read("silent", []byte(c.text), Options{Hand: hand, HandSet: true, Answers: c.answers})
		if err != nil {
			t.Errorf("%s: %v", c.way, err)
			continue
		}
		if asked := keys(r.Questions); !slices.Equal(asked, c.asked) {
			t.Errorf("%s: asked %q, want %q: %q", c.way, asked, c.asked, r.Decisions)
		}
		if len(r.Session.Shots) != c.shots {
			t.Errorf("%s: %d shots, want %d: %q", c.way, len(r.Session.Shots), c.shots, r.Decisions)
			continue
		}
		if c.value == 0 {
			continue
		}
		if v, ok := r.Session.Shots[0].Value(c.number); !ok || math.Abs(v-c.value) > 1e-6 {
			t.Errorf("%s: %s of the first ball is %v, %v, want %v: %q", c.way, c.number, v, ok, c.value, r.Decisions)
		}
	}
}

// TestSidesAskedOnce asks about one of two columns that nothing ties together,
// takes the answer for both, and says what custom alone decided of the other.
func TestSidesAskedOnce(t *testing.T) {
	rows := "Club,Carry (yd),Offline (yd),Club Path (deg)\n7i,150,3.1,1\n7i,151,-21.5,2\n7i,149,4,1\n7i,152,-2,2\n7i,150,6,-1\n"
	ask := func(answers analysis.Answers) (lateral, path float64, r Reading) {
		r = reading(t, rows, Options{Hand: analysis.RightHanded, HandSet: true, Answers: answers})
		lateral, _ = r.Session.Shots[0].Value(analysis.Lateral)
		path, _ = r.Session.Shots[0].Value(analysis.Path)
		return lateral, path, r
	}
	if _, _, r := ask(nil); !slices.Equal(keys(r.Questions), []string{"signs"}) || !strings.Contains(r.Questions[0].Text, "the answer is taken for all") {
		t.Fatalf("asked %v, want one question about all sides", r.Questions)
	}
	for answer, sign := range map[string]float64{signTarget: 1, signTargetLeft: -1} {
		lateral, path, r := ask(analysis.Answers{"signs": answer})
		if lateral*sign <= 0 || path*sign <= 0 || len(r.Questions) > 0 {
			t.Errorf("%s: lateral %v, path %v, asked %v", answer, lateral, path, r.Questions)
		}
		q := r.Customary
		if q == nil || q.Answered || q.Only != "club path" || q.Key != "signs:path" || q.Choices[0].Value != answer {
			t.Fatalf("%s: by custom %+v, want the club path, as answered", answer, q)
		}
		// Turned round, the other stays, and it can be turned back.
		lateral, path, r = ask(analysis.Answers{"signs": answer, q.Key: q.Choices[1].Value})
		if lateral*sign <= 0 || path*sign >= 0 {
			t.Errorf("%s, path turned round: lateral %v, path %v", answer, lateral, path)
		}
		if back := r.Customary; back == nil || !back.Answered || back.Choices[1].Value != answer {
			t.Errorf("%s: cannot be turned back: %+v", answer, back)
		}
	}
}

// TestLateralsTogether asks once about where balls came down and where they came
// to rest, though the sideways numbers of the file disagree with each other.
func TestLateralsTogether(t *testing.T) {
	var b strings.Builder
	b.WriteString("Club,Carry (yd),Side (yd),Side Total (yd),Launch Direction (deg),Spin Axis (deg)")
	for i, side := range []float64{-12, 9, 21, -30, 4, 15, -7, 25, -18, 11, -3, 28, -22, 6, 17, -26} {
		start := float64(i*7%13) - 6 // of another file
		fmt.Fprintf(&b, "\n7i,150,%.1f,%.1f,%.1f,%.1f", side, 1.05*side, start, 1.5*float64(i*5%11)-8)
	}
	r := reading(t, b.String(), Options{Hand: analysis.RightHanded, HandSet: true})
	if !strings.Contains(strings.Join(r.Decisions, "; "), "disagree") {
		t.Fatalf("the file agrees with itself: %q", r.Decisions)
	}
	for _, q := range r.Questions {
		if q.Key == "signs:lateral_total" {
			t.Errorf("asked apart: %v", keys(r.Questions))
		}
	}
	if len(r.Questions) == 0 || r.Questions[0].Key != "signs" {
		t.Errorf("asked %v, want the sides", keys(r.Questions))
	}
}
