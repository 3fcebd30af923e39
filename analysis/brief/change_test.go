package brief_test

import (
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/brief"
)

func TestChanges(t *testing.T) {
	const deg = analysis.Degree
	for text, want := range map[string][]brief.Change{
		"face 2 left, path 3 right, 4 less loft": {{Number: analysis.Face, By: -2 * deg}, {Number: analysis.Path, By: 3 * deg}, {Number: analysis.DynamicLoft, By: -4 * deg}},
		"face 2° further right":                  {{Number: analysis.Face, By: 2 * deg}},
		"club speed 3 mph faster":                {{Number: analysis.ClubSpeed, By: 3 * analysis.MilePerHour}},
		"attack 2 down and path -1.5":            {{Number: analysis.Attack, By: -2 * deg}, {Number: analysis.Path, By: -1.5 * deg}},
		"face to path 1 more closed":             {{Number: analysis.FaceToPath, By: -1 * deg}},
	} {
		got, err := brief.Changes(text, brief.Options{})
		if err != nil || len(got) != len(want) {
			t.Errorf("%q: %v, %v", text, got, err)
			continue
		}
		for i := range want {
			if got[i].Number != want[i].Number || got[i].By-want[i].By > 1e-9 || want[i].By-got[i].By > 1e-9 {
				t.Errorf("%q: %v, want %v", text, got, want)
			}
		}
	}
	for _, text := range []string{"", "face", "face 2", "2 left", "face 2 banana", "face 2 left, face 3 right", "loft 4 left"} {
		if got, err := brief.Changes(text, brief.Options{}); err == nil {
			t.Errorf("%q gave %v", text, got)
		}
	}
	left, err := brief.Changes("face to path 1 more open", brief.Options{Hand: analysis.LeftHanded})
	if err != nil || left[0].By > 0 {
		t.Errorf("a left-hander's face 1 more open is %v (%v)", left, err)
	}
}
