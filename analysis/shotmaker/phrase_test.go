package shotmaker

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"rangepost/analysis"
)

// No phrase means two things to one golfer, each figure said is in the text, and a
// left-hander's named curves are a right-hander's turned.
func TestPhrasesAreInOrder(t *testing.T) {
	type typed struct {
		text string
		hand analysis.Hand
	}
	before, texts, traps, langs := map[typed]Phrase{}, map[string]bool{}, map[string]bool{}, map[string]int{}
	for _, p := range Phrases() {
		key := typed{p.Text, p.Hand}
		if other, ok := before[key]; ok && (other.Means != p.Means || other.Says != p.Says) {
			t.Errorf("%q is %s (%s) and %s (%s)", p.Text, p.Means, p.Lang, other.Means, other.Lang)
		}
		before[key] = p
		texts[p.Text], langs[p.Lang] = true, langs[p.Lang]+1
		if p.Trap {
			traps[p.Text] = true
		}
		if strings.TrimSpace(p.Text) != p.Text || p.Text == "" {
			t.Errorf("%q has spaces about it", p.Text)
		}
		s := p.Says
		if (p.Means == AShot) != (s != Says{}) || p.Trap && p.Means == AShot {
			t.Errorf("%q is %s and says %+v", p.Text, p.Means, s)
		}
		plain := strings.NewReplacer(",", ".", "８", "8").Replace(p.Text)
		for _, v := range []float64{s.StartBy, s.CurveBy, s.Apex, s.Carry} {
			if v != 0 && !strings.Contains(plain, strconv.FormatFloat(v, 'f', -1, 64)) {
				t.Errorf("%q does not say %v", p.Text, v)
			}
		}
		if s.StartBy != 0 && s.Start == 0 || s.CurveBy != 0 && s.Curve == 0 || math.Abs(float64(s.Curve)) > 1 {
			t.Errorf("%q says %+v", p.Text, s)
		}
	}
	for key, p := range before {
		lefty := before[typed{key.text, analysis.LeftHanded}]
		named := strings.Contains(strings.ToLower(key.text), "draw") || strings.Contains(strings.ToLower(key.text), "fade")
		if key.hand == analysis.RightHanded && named && p.Means == AShot && lefty.Means == AShot && p.Says.Curve != -lefty.Says.Curve {
			t.Errorf("%q curves to %d for both", key.text, p.Says.Curve)
		}
	}
	for lang, least := range map[string]int{"en": 200, "de": 80, "fr": 60, "es": 60, "it": 60, "sv": 60, "ja": 60, "ko": 60} {
		if langs[lang] < least {
			t.Errorf("%s has %d phrases, want %d", lang, langs[lang], least)
		}
	}
	t.Logf("%d texts, %d traps", len(texts), len(traps))
	if len(texts) < 150 || len(traps) < 30 || len(langs) != 9 {
		t.Errorf("%d texts, %d traps in %d languages", len(texts), len(traps), len(langs))
	}
}
