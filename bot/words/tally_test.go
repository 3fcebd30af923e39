package words

import (
	"regexp"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/tally"
)

// The trade's names of the nine flights, from the golfer's own side (common
// practice, no source): away from the body is push and fade, toward it pull and
// draw, and curving further the way it started slice and hook.
func TestFlightsByName(t *testing.T) {
	for i, want := range []struct{ shown, right, left string }{
		{"Left, curves left", "pull-hook", "push-slice"},
		{"Left, no curve", "pull", "push"},
		{"Left, curves right", "pull-fade", "push-draw"},
		{"Straight, curves left", "draw", "fade"},
		{"Straight, no curve", "straight", "straight"},
		{"Straight, curves right", "fade", "draw"},
		{"Right, curves left", "push-draw", "pull-fade"},
		{"Right, no curve", "push", "pull"},
		{"Right, curves right", "push-slice", "pull-hook"},
	} {
		f := tally.Flights()[i]
		check(t, FlightName(f), want.shown)
		check(t, Voice{}.FlightCall(f), want.right)
		check(t, Voice{Hand: analysis.LeftHanded}.FlightCall(f), want.left)
	}
}

// Twenty of each flight alone, for both hands: the side of the face, open or
// closed to the path, the side of the path or that it cannot be known.
func TestTallyOfEachFlight(t *testing.T) {
	for i, want := range []struct{ face, toPath, path string }{
		{"left of target, closed", "closed to the path", "cannot be known of any"},
		{"left of target, closed", "face and path agreed", "to the left of target"},
		{"cannot be known of any", "open to the path", "to the left of target"},
		{"at the target", "closed to the path", "to the right of target"},
		{"at the target", "face and path agreed", "at the target"},
		{"at the target", "open to the path", "to the left of target"},
		{"cannot be known of any", "closed to the path", "to the right of target"},
		{"right of target, open", "face and path agreed", "to the right of target"},
		{"right of target, open", "open to the path", "cannot be known of any"},
	} {
		counts := make([]int, 9)
		counts[i] = 20
		for _, hand := range []analysis.Hand{analysis.RightHanded, analysis.LeftHanded} {
			face, toPath := want.face, want.toPath
			if hand == analysis.LeftHanded {
				swap := strings.NewReplacer("open", "closed", "closed", "open")
				face, toPath = swap.Replace(face), swap.Replace(toPath)
			}
			lines := Voice{Hand: hand}.Tally(tally.Of(counts))
			for line, part := range map[int]string{2: toPath + " (20 of 20", 3: face, 4: want.path} {
				if !strings.Contains(lines[line], part) {
					t.Errorf("flight %d, %v: %q, want %q in it", i, hand, lines[line], part)
				}
			}
		}
	}
}

func TestTallySaysWhatItDoesNotKnow(t *testing.T) {
	check(t, Voice{}.Tally(tally.Of([]int{0, 0, 0, 0, 3}))[0], "3 balls counted: too few to tell. From about 10 on the flights begin to say something.")
	mixed := Voice{}.Tally(tally.Of([]int{2, 2, 2, 2, 2, 2, 2, 2, 2}))
	check(t, mixed[1], "The start: most often on line (6 of 18, between 16 and 57 %), which may be luck.")
	check(t, mixed[3], "So the face: most often at the target (6 of 18, between 16 and 57 %), which may be luck; of 4 balls it cannot be known.")
	check(t, mixed[4], "So the path: most often to the left of target (6 of 18, between 16 and 57 %), which may be luck; of 4 balls it cannot be known.")
	if !strings.Contains(mixed[5], "on which side of the target the path was") || strings.Contains(strings.Join(mixed, " "), "Measure first") {
		t.Errorf("%q", mixed)
	}
	pushes := Voice{}.Tally(tally.Of([]int{0, 0, 0, 0, 1, 0, 0, 12, 0}))
	if last := pushes[len(pushes)-2]; last != "Measure first: the face angle." {
		t.Errorf("%q", last)
	}
	body := regexp.MustCompile(`(?i)\b(arms?|elbows?|wrists?|hips?|shoulders?|knees?|legs?|feet|hands|head|body|swing)\b`)
	for _, lines := range [][]string{mixed, pushes} {
		if word := body.FindString(strings.Join(lines, " ")); word != "" {
			t.Errorf("a tally speaks of the %s", word)
		}
		for _, l := range lines {
			if !strings.HasSuffix(l, ".") && !strings.HasSuffix(l, ".)") {
				t.Errorf("no whole sentence: %q", l)
			}
		}
	}
}
