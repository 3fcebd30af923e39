package sessionfile

import (
	"strings"
	"testing"

	"rangepost/analysis"
)

// TestUnitsAbove reads the units of a table from a line above it, and takes none
// from a line that names two of a kind or is about something else.
func TestUnitsAbove(t *testing.T) {
	const table = "Club,Ball speed,Launch angle,Spin,Carry\n7i,50.1,17.2,6510,140.3\n7i,51.4,16.1,6120,146.8\n7i,48.2,18.9,6930,133.1\n7i,50.8,15.7,6640,143.9\n"
	for _, c := range []struct {
		line        string
		speed, far  float64 // of the first ball, m/s and m
		asked, what string
	}{
		{"Units,m/s,m\n", 50.1, 140.3, "", "in cells"},
		{"Einheiten: m/s; Meter\n\n", 50.1, 140.3, "", "in a sentence"},
		{"単位,m/s,ヤード\n", 50.1, 140.3 * 0.9144, "", "in Japanese"},
		{"Units,m/s,yd,m\n", 50.1, 0, "unit:carry", "of two lengths"},
		{"Place,M,m\nUnits,m/s\n", 50.1, 0, "unit:carry", "of a place"},
	} {
		r := reading(t, c.line+table, Options{})
		if got := strings.Join(keys(r.Questions), " "); got != c.asked {
			t.Errorf("%s: asked %q, want %q", c.what, got, c.asked)
			continue
		}
		if got, _ := r.Session.Shots[0].Value(analysis.BallSpeed); got < c.speed-0.01 || got > c.speed+0.01 {
			t.Errorf("%s: ball speed %v m/s, want %v", c.what, got, c.speed)
		}
		if got, ok := r.Session.Shots[0].Value(analysis.Carry); c.far != 0 && (!ok || got < c.far-0.01 || got > c.far+0.01) {
			t.Errorf("%s: carry %v m, want %v", c.what, got, c.far)
		}
	}
}

// TestHeaderSaysTheSignInItsLanguage reads sides that a heading names by the
// letters of its own language.
func TestHeaderSaysTheSignInItsLanguage(t *testing.T) {
	for head, want := range map[string]float64{
		"Écart latéral (+D/-G) (m)": 5, "Écart latéral [G+ D-] (m)": -5, "Écart latéral (+D) (m)": 5,
		"Sidavvikelse [H+ V-], m": 5, "Sidavvikelse (+V) (m)": -5,
		"Desviación lateral (+I/-D) (m)": -5, "左右ブレ [右+ 左-] (m)": 5, "좌우 편차 (+좌/-우) (m)": -5,
		"Deviazione laterale (+D/-S) (m)": 5,
	} {
		r := reading(t, head+";Carry (m)\n5;150\n", Options{Hand: analysis.LeftHanded, HandSet: true})
		if len(r.Questions) > 0 {
			t.Errorf("%s: asked %v", head, r.Questions)
			continue
		}
		if got := number(t, r, 0, analysis.Lateral); got != want {
			t.Errorf("%s: 5 read as %v, want %v", head, got, want)
		}
	}
}

// TestOddValues sets aside a value that is none where most of its column are, and
// says so; everything else of its ball stays. Where too much is odd, the file is
// refused as before.
func TestOddValues(t *testing.T) {
	const head = "Club;Carry (m);Side (m)\n"
	good := "7i;150,2;3,5 L\n7i;151,0;2,0 R\n7i;149,5;4,1 R\n7i;152,4;0,5 L\n7i;150,9;1,2 R\n"
	for odd, why := range map[string]string{
		"3,1":      "has no side",
		"test":     "is not a length",
		"09:12:40": "is a date or a time",
		"-2,0 R":   "disagree",
	} {
		r := reading(t, head+good+"7i;148,8;"+odd+"\n", Options{})
		last := r.Session.Shots[5]
		said := strings.Join(r.Decisions, "; ")
		if len(r.Questions) > 0 || last.Has(analysis.Lateral) || !last.Has(analysis.Carry) || !r.Session.Shots[4].Has(analysis.Lateral) {
			t.Errorf("%q: %s, asked %v", odd, told(last), r.Questions)
		}
		if !strings.Contains(said, "row 7") || !strings.Contains(said, why) {
			t.Errorf("%q: decisions %q do not say that it %s in row 7", odd, said, why)
		}
	}
	if _, err := Read("file.csv", []byte(head+"7i;150,2;3,5 L\n7i;151,0;test\n"), Options{}); err == nil {
		t.Error("a column half of which is none was read")
	}
}

// TestBlockMeans leaves out the mean that ends every club's block, whatever
// column its name stands in, and keeps a ball that is merely labelled so.
func TestBlockMeans(t *testing.T) {
	const file = "Club,Carry (m),Ball speed (m/s),Launch angle (deg),Spin (rpm),Clip\n" +
		"7i,140.2,50.1,17.2,6500,clip-1.mp4\n7i,144.0,51.3,16.8,6300,clip-2.mp4\n7i,138.6,49.6,18.0,6700,clip-3.mp4\n,140.9,50.3,17.3,6500,Average\n" +
		"9i,118.1,44.0,22.1,8100,clip-4.mp4\n9i,121.7,45.2,21.5,7900,clip-5.mp4\n9i,119.0,44.3,22.4,8250,clip-6.mp4\n,119.6,44.5,22.0,8083,Average\n"
	if r := reading(t, file, Options{}); len(r.Session.Shots) != 6 || r.File.SummaryRowsDropped != 2 {
		t.Errorf("%d shots and %d summaries, want 6 and 2", len(r.Session.Shots), r.File.SummaryRowsDropped)
	}
	const labelled = "Club,Carry (m),Ball speed (m/s),Label\n7i,140.2,50.1,drill 1\n7i,144.0,51.3,drill 2\n7i,138.6,49.6,range\n"
	if r := reading(t, labelled, Options{}); len(r.Session.Shots) != 3 {
		t.Errorf("%d labelled shots, want 3", len(r.Session.Shots))
	}
}

// TestQuotedApart reads quoted cells that stand apart from their separator, and
// headings with two spaces in them.
func TestQuotedApart(t *testing.T) {
	for _, file := range []string{
		"\"Club\" | \"Carry (m)\" | \"Launch angle\" | \n\"7i\" | \"150.2\" | \"17.1\" | \n\"7i\" | \"151.0\" | \"16.8\" | \n",
		"Club\tCarry  (m)\tAngle  of  launch\n7i\t150.2\t17.1\n7i\t151.0\t16.8\n7i\t149.1\t17.7\n",
	} {
		r := reading(t, file, Options{})
		if got, _ := r.Session.Shots[0].Value(analysis.Carry); got != 150.2 {
			t.Errorf("carry %v m, want 150.2\n%s", got, file)
		}
		if got := number(t, r, 1, analysis.LaunchAngle); got < 16.79 || got > 16.81 {
			t.Errorf("launch %v, want 16.8\n%s", got, file)
		}
	}
}
