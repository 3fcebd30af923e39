package words

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"
)

var aloud = flag.Int("aloud", 0, "print this many sentences at random, to be read aloud")
var aloudSeed = flag.Uint64("seed", 1, "seed of -aloud")

// TestAloud prints sentences to be read as a student would hear them:
//
//	go test ./bot/words -run Aloud -aloud 50 -v
func TestAloud(t *testing.T) {
	if *aloud == 0 {
		t.Skip("for reading: -aloud 50 -v")
	}
	all := corpus()
	byKind := map[string][]said{}
	var kinds []string
	for _, s := range all {
		if byKind[s.kind] == nil {
			kinds = append(kinds, s.kind)
		}
		byKind[s.kind] = append(byKind[s.kind], s)
	}
	r := rand.New(rand.NewPCG(*aloudSeed, 0))
	for i := 0; i < *aloud; i++ {
		of := byKind[kinds[i%len(kinds)]]
		s := of[r.IntN(len(of))]
		fmt.Printf("%-13s %-20s %s\n", s.kind, s.from, s.text)
	}
}

// bodyWords are parts and positions of a body. No sentence may hold one, but
// for somebody's label echoed in quotation marks.
var bodyWords = regexp.MustCompile(`(?i)\b(elbows?|wrists?|hips?|shoulders?|knees?|arms?|hands|spine|head|feet|foot|legs?|torso|chest|pelvis|` +
	`forearms?|thumbs?|fingers?|palms?|neck|back leg|lead side|trail side|posture|stance|weight shift|weight transfer|body|sway|slide|` +
	`early extension|over the top|casting|cast|flip|lag|release|takeaway|backswing|downswing|follow-through|cupped|bowed)\b`)

// blameWords blame somebody.
var blameWords = regexp.MustCompile(`(?i)\b(fault|wrong|bad|poor|failed|fail|mistake|should have|unfortunately|error)\b`)

// american are spellings from the other side.
var american = regexp.MustCompile(`(?i)\b(center|centered|meter|meters|color|labeled|favor|gray|analyze|practise range)\b`)

// broken is what no sentence holds: numbers that are none, a minus in front of
// nothing, one of many, and the seams of a badly joined template.
var broken = regexp.MustCompile(`\bNaN\b|\bInf\b|-0(\.0+)?([^.0-9]|$)|  | ,| \.|\.\.|\(\)|%!|\n|` +
	`(^|[^0-9.,])1 (yards|metres|balls|sessions|mishits|lessons|swings|sets)\b|\b(\w+) (between between|about about)\b|about on |about hardly`)

// quotation is somebody's label, echoed.
var quotation = regexp.MustCompile(`"[^"]*"`)

func withoutLabels(text string) string { return quotation.ReplaceAllString(text, `"…"`) }

// sentencesIn splits text into its sentences.
func sentencesIn(text string) []string {
	text = withoutLabels(text)
	return regexp.MustCompile(`[.!?] `).Split(text, -1)
}

func TestSentences(t *testing.T) {
	for _, s := range corpus() {
		plain := withoutLabels(s.text)
		fail := func(why string) {
			t.Helper()
			t.Errorf("%s (%s): %s: %q", s.kind, s.from, why, s.text)
		}
		if m := bodyWords.FindString(plain); m != "" && !allowedBody(s, plain, m) {
			fail("names a body part or position, " + m)
		}
		if m := blameWords.FindString(plain); m != "" {
			fail("blames: " + m)
		}
		if m := american.FindString(plain); m != "" {
			fail("American spelling: " + m)
		}
		if m := broken.FindString(plain); m != "" {
			fail(fmt.Sprintf("holds %q", m))
		}
		switch {
		case strings.HasPrefix(s.kind, "Alt"):
			if utf8.RuneCountInString(s.text) > maxAlt {
				fail("over 1,024 characters")
			}
		case strings.HasSuffix(s.kind, "Title"):
			if utf8.RuneCountInString(s.text) > maxTitle || strings.HasSuffix(s.text, ".") {
				fail(fmt.Sprintf("not a title of at most %d characters without a full stop (%d)", maxTitle, utf8.RuneCountInString(s.text)))
			}
		default:
			if !strings.HasSuffix(s.text, ".") {
				fail("does not end in a full stop")
			}
			for _, one := range sentencesIn(s.text) {
				if n := utf8.RuneCountInString(one); n > 230 {
					fail(fmt.Sprintf("a sentence of %d characters", n))
				}
			}
		}
		if t.Failed() && testing.Short() {
			t.FailNow()
		}
	}
}

// allowedBody lists the two uses that are no body: how a ball lands well ahead
// and what the impact model calls the club's head.
func allowedBody(s said, plain, word string) bool {
	return s.kind == "Explain" && word == "head" && strings.Contains(plain, "a rigid head that grips")
}
