package brief

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
)

// A Wednesday afternoon.
var now = time.Date(2026, time.June, 10, 15, 0, 0, 0, time.FixedZone("club", 2*3600))

// said is a brief in the units a golfer types, for the tables below.
func said(b analysis.Brief) string {
	k := b.Number.Info().Kind
	scale := map[analysis.Kind]float64{
		analysis.Angle: analysis.Degree, analysis.Speed: analysis.MilePerHour, analysis.Length: analysis.Yard,
		analysis.Small: analysis.Millimetre, analysis.Rate: analysis.RevPerMinute, analysis.Time: 1, analysis.Ratio: 1, analysis.Share: 1,
	}[k]
	end := func(v *float64) string {
		if v == nil {
			return ""
		}
		return fmt.Sprint(math.Round(*v/scale*1000) / 1000)
	}
	text := b.Number.Info().Key + " " + end(b.Low) + ".." + end(b.High)
	if !b.Club.Unknown() {
		text += " " + b.Club.Key()
	}
	if b.Label != "" {
		text += fmt.Sprintf(" %q", b.Label)
	}
	if b.Balls > 0 {
		text += fmt.Sprintf(" %d", b.Balls)
	}
	if !b.Until.IsZero() {
		text += b.Until.Format(" 2006-01-02T15:04:05.000-07:00")
	}
	return text
}

func TestParse(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"face to path within 2, 7-iron, 40 balls by Sunday", "face_to_path -2..2 7i 40 2026-06-14T23:59:59.999+02:00"},
		{"40 balls with the 7 iron by Sunday, face-to-path ±2°", "face_to_path -2..2 7i 40 2026-06-14T23:59:59.999+02:00"},
		{"draw 8 7 of 10, 7i", "asked_done 0.5.. 7i \"draw 8\" 10"},
		{"Low fade: 3 of 5 balls by Sunday", "asked_done 0.5.. \"Low fade\" 5 2026-06-14T23:59:59.999+02:00"},
		{"Face to path, within 2 degrees", "face_to_path -2..2"},
		{"within 2, face", "face -2..2"},
		{"face between 1 left and 2 right", "face -1..2"},
		{"face 1 to 3 left", "face -3..-1"},
		{"face 3 left to 1 left", "face -3..-1"},
		{"face -1 to 2", "face -1..2"},
		{"face −3 – −1", "face -3..-1"},
		{"face between square and 2 open", "face 0..2"},
		{"face within 1 of 2 left", "face -3..-1"},
		{"face no further left than 2", "face -2.."},
		{"face no further right than square", "face ..0"},
		{"face no further right than 1 left of target", "face ..-1"},
		{"face at most 2 left", "face -2.."},
		{"face at least 2 left", "face ..-2"},
		{"path at least 1 right", "path 1.."},
		{"path at most 4 right with driver", "path ..4 driver"},
		{"face to path no more closed than 2 closed to the path", "face_to_path -2.."},
		{"face to path no more open than square to the path", "face_to_path ..0"},
		{"attack at most 4 down", "attack -4.."},
		{"attack at least 2 down, pw", "attack ..-2 pw"},
		{"attack between 3 and 5 down", "attack -5..-3"},
		{"angle of attack -4 to -2", "attack -4..-2"},
		{"AoA level to 3 up, driver", "attack 0..3 driver"},
		{"attack angle no more down than level", "attack 0.."},
		{"club speed at least 92 mph", "club_speed 92.."},
		{"club speed 92+", "club_speed 92.."},
		{"clubhead speed 92 or more", "club_speed 92.."},
		{"swing speed over 92", "club_speed 92.."},
		{"club speed >= 41.13 m/s", "club_speed 92.005.."},
		{"club speed between 90 and 94 mph", "club_speed 90..94"},
		{"dynamic loft under 30", "dynamic_loft ..30"},
		{"loft 25-30", "dynamic_loft 25..30"},
		{"carry 145 to 155 yards", "carry 145..155"},
		{"carry between 50 and 60, 56", "carry 50..60 56"},
		{"carry 50 to 60 with the 56", "carry 50..60 56"},
		{"carry within 5 of 150", "carry 145..155"},
		{"carry 91.44-100.584 m", "carry 100..110"},
		{"lateral within 10 yards", "lateral -10..10"},
		{"strike within 5 mm", "strike_toe -5..5"},
		{"strike no further toward the heel than 3", "strike_toe -3.."},
		{"strike no nearer the toe than in the middle", "strike_toe ..0"},
		{"strike height no lower than 2 low", "strike_up -2.."},
		{"spin at least 6,800 rpm, 7i", "spin 6800.. 7i"},
		{"spin 6500 to 7200", "spin 6500..7200"},
		{"smash factor at least 1,33", "smash 1.33.."},
		{"start line within 1.5", "direction -1.5..1.5"},
		{"hang time over 5.5 s", "flight 5.5.."},
		{"face_to_path <= 3 open; sand wedge; 1 ball", "face_to_path ..3 sw 1"},
		{"face within 2\n3 wood\n25 shots until tomorrow", "face -2..2 3w 25 2026-06-11T23:59:59.999+02:00"},
		{"face within 2 by Wed", "face -2..2 2026-06-17T23:59:59.999+02:00"},
		{"face within 2 before Sunday", "face -2..2 2026-06-13T23:59:59.999+02:00"},
		{"face within 2 by 14 June", "face -2..2 2026-06-14T23:59:59.999+02:00"},
		{"face within 2 by June 14th", "face -2..2 2026-06-14T23:59:59.999+02:00"},
		{"face within 2 by the 1st of Feb", "face -2..2 2027-02-01T23:59:59.999+02:00"},
		{"face within 2 until 2026-07-01", "face -2..2 2026-07-01T23:59:59.999+02:00"},
		{"face within 2 in 10 days", "face -2..2 2026-06-20T23:59:59.999+02:00"},
		{"face within 2 for 2 weeks", "face -2..2 2026-06-24T23:59:59.999+02:00"},
		{"face within 2, set Strong grip, 7i", "face -2..2 7i \"Strong grip\""},
		{"face within 2, the set \"tee higher\"", "face -2..2 \"tee higher\""},
		{"face within 2 by today", "face -2..2 2026-06-10T23:59:59.999+02:00"},
	} {
		b, err := Parse(tt.text, Options{Now: now})
		if err != nil {
			t.Errorf("%q: %v", tt.text, err)
			continue
		}
		if got := said(b); got != tt.want {
			t.Errorf("%q is %s, want %s", tt.text, got, tt.want)
		}
	}
}

// Open and closed are the golfer's own; left and right are everybody's.
func TestHand(t *testing.T) {
	for _, tt := range []struct{ text, right, left string }{
		{"face to path between 1 closed and 3 open", "face_to_path -1..3", "face_to_path -3..1"},
		{"face to path no more closed than 2", "face_to_path -2..", "face_to_path ..2"},
		{"face at most 2 open", "face ..2", "face -2.."},
		{"face at most 2 left", "face -2..", "face -2.."},
		{"strike at most 5 toe", "strike_toe ..5", "strike_toe ..5"},
	} {
		for hand, want := range map[analysis.Hand]string{analysis.RightHanded: tt.right, analysis.LeftHanded: tt.left} {
			b, err := Parse(tt.text, Options{Hand: hand, Now: now})
			if err != nil || said(b) != want {
				t.Errorf("%q of a %v-handed golfer is %s, %v, want %s", tt.text, hand, said(b), err, want)
			}
		}
	}
}

// A figure without a unit is in the golfer's own; with one it is in that.
func TestUnits(t *testing.T) {
	metres := Options{Units: analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}, Now: now}
	for text, want := range map[string]float64{"carry at least 100": 100, "carry at least 100 yd": 91.44, "club speed at least 40": 40, "club speed at least 90 mph": 40.2336} {
		b, err := Parse(text, metres)
		if err != nil || b.Low == nil || math.Abs(*b.Low-want) > 1e-9 {
			t.Errorf("%q is %v, %v, want %v", text, b.Low, err, want)
		}
	}
}

func TestErrors(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"", "There is nothing to read."},
		{" , ;", "There is nothing to read."},
		{strings.Repeat("face ", 100), "The text is too long."},
		{"within 2, 7i", "'within 2, 7i': which number is it about?"},
		{"face, 7i", "'face, 7i': the face angle needs limits."},
		{"face within 2, 40 bols", "'40 bols': I do not understand '40' there."},
		{"elbow within 2", "'elbow within 2': I do not understand 'elbow' there."},
		{"face within", "'face within': there is no figure."},
		{"face between 1 left", "there are no two figures."},
		{"face between 1 left and", "there is no second figure."},
		{"face 1 to 3", "'face 1 to 3': 1 which way, left or right?"},
		{"attack at most 4", "4 which way, down or up?"},
		{"face to path 2 open", "no ball has one exact value."},
		{"face between 2 left and 2 left", "both ends are the same."},
		{"club speed within 2", "within 2 of what?"},
		{"carry within 5 of", "within 5 of what?"},
		{"face within 2 left", "within means to either side."},
		{"path at most 2 open", "'path at most 2 open': the club path has no 'open'."},
		{"carry at least 150 left", "the carry has no 'left'."},
		{"carry at least 2 degrees", "the carry is not measured in degrees. Leave the unit out or write yards."},
		{"face at most 200 left", "no ball has such a face angle."},
		{"club speed at least -3", "never below nothing"},
		{"face within 2 path within 1", "'face within 2 path within 1': the face angle is named, and so is the club path."},
		{"face within 2, within 3", "'within 3': there are limits already."},
		{"face within 2, 7i, driver", "'driver': the 7-iron is named, and so is the driver."},
		{"face within 2, 20 balls, 40 balls", "'40 balls': the balls are counted twice."},
		{"face within 2, 9000 balls", "no number of balls to hit."},
		{"face within 2, 2.5 balls", "no number of balls to hit."},
		{"face within 2 by Sunday by Monday", "there is a day already."},
		{"face within 2 by whenever", "that is no day I know."},
		{"face within 2 by 31 June", "that is no day I know."},
		{"face within 2 by 2026-06-01", "1 June 2026 is over."},
		{"face within 2 by 2028-01-01", "more than a year away."},
		{"face within 2 by 2026-13-01", "that is no day I know."},
		{"face no further left", "no further left than what?"},
	} {
		b, err := Parse(tt.text, Options{Now: now})
		var e *analysis.Refusal
		if !errors.As(err, &e) {
			t.Errorf("%q is %s, %v, want an *analysis.Refusal", tt.text, said(b), err)
			continue
		}
		if !strings.Contains(err.Error()+" "+e.Hint, tt.want) {
			t.Errorf("%q: %q, want something with %q", tt.text, err, tt.want)
		}
		if e.Hint == "" {
			t.Errorf("%q: no hint what to do", tt.text)
		}
	}
}

func TestNumber(t *testing.T) {
	for _, n := range analysis.Numbers() {
		for _, text := range []string{n.Info().Key, n.Info().Name, strings.ToUpper(n.Info().Name)} {
			if got, ok := Number(text); !ok || got != n {
				t.Errorf("%q is %v, %v, want %v", text, got, ok, n)
			}
		}
	}
	for text, want := range map[string]analysis.Number{"ftp": analysis.FaceToPath, "swing speed": analysis.ClubSpeed, " AoA ": analysis.Attack} {
		if got, ok := Number(text); !ok || got != want {
			t.Errorf("%q is %v, %v, want %v", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "elbow", "face within 2", "face face"} {
		if got, ok := Number(text); ok {
			t.Errorf("%q is %v", text, got)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"face to path within 2, 7-iron, 40 balls by Sunday", "attack between 3 and 5 down", "carry 50 to 60 with the 56",
		"face no further left than 2", "spin at least 6,800 rpm", "by 2026-06-14", "±", "- - -", "in 9e99 days, 1,1,1",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b, err := Parse(text, Options{Now: now})
		if err != nil {
			if e := new(analysis.Refusal); !errors.As(err, &e) || e.What() == "" {
				t.Errorf("%q: %v", text, err)
			}
			return
		}
		if b.Low == nil && b.High == nil || b.Low != nil && b.High != nil && *b.Low >= *b.High {
			t.Errorf("%q: %s", text, said(b))
		}
		if b.Balls < 0 || b.Balls > maxBalls || !b.Until.IsZero() && b.Until.Before(now) {
			t.Errorf("%q: %s", text, said(b))
		}
	})
}

func ExampleParse() {
	b, err := Parse("attack at most 4 down, 7-iron, 40 balls by Sunday", Options{Now: time.Date(2026, time.June, 10, 9, 0, 0, 0, time.UTC)})
	fmt.Printf("%v at least %.3f rad, %v, %d balls, %s, %v\n", b.Number, *b.Low, b.Club, b.Balls, b.Until.Format("2 January"), err)
	_, err = Parse("attack at most 4", Options{})
	var refusal *analysis.Refusal
	errors.As(err, &refusal)
	fmt.Println(err)
	fmt.Println(refusal.Hint)
	// Output:
	// attack angle at least -0.070 rad, 7-iron, 40 balls, 14 June, <nil>
	// 'attack at most 4': 4 which way, down or up?
	// Add the side, as in: between 1 down and 2 up. For both sides write: within 4.
}
