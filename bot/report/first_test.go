package report_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/analysis/timeline"
	"rangepost/bot/report"
	"rangepost/bot/words"
)

// The first layer of 500 posts: at most 60 words and 3 figures, no bracket, and
// read by whoever reads at the eighth grade (Flesch and Kincaid 1975: 0.39 words
// a sentence + 11.8 syllables a word - 15.59 [M]).
func TestFirstLayerIsRead(t *testing.T) {
	posts := 500
	if testing.Short() {
		posts = 60
	}
	rng := rand.New(rand.NewPCG(18, 1))
	figure := regexp.MustCompile(`(^|\s)\d`)
	var grades, wordsSaid float64
	kinds := map[string]bool{}
	for i := range posts {
		n := []int{4, 12, 20, 40}[rng.IntN(4)]
		labels := ""
		if n >= 20 {
			labels = []string{"", fmt.Sprintf("1-10 as usual, 11-%d strong grip", n), fmt.Sprintf("1-12 normal, 13-%d tee higher", n)}[rng.IntN(3)]
		}
		reading, err := sessionfile.Read("session.csv", file(t, n, 12*rng.Float64()-6, 16*rng.Float64()-8),
			sessionfile.Options{HandSet: true, Answers: analysis.Answers{"column:faceangledeg": "face"}})
		if err != nil || len(reading.Questions) > 0 {
			t.Fatal(err, reading.Questions)
		}
		r, err := report.Of(t.Context(), reading, report.Options{Labels: labels, Seed: uint64(i + 1)})
		if err != nil {
			t.Fatal(err)
		}
		past := timeline.Past{Again: 1 + rng.IntN(3)}
		if past.Sessions = rng.IntN(7); past.Sessions > 0 {
			past.Last, past.Mean = 20*rng.NormFloat64(), 20*rng.NormFloat64()
			past.Low, past.High, past.OK = past.Mean-8, past.Mean+8, past.Sessions > 2
		}
		must, may, tool := r.First(r.Main(), past)
		_, says := words.Explained(append(must, may...), nil)
		may = append(may, says...)
		if tool != "" {
			may = append(may, r.Voice.SetupMeans(tool))
		}
		text := words.Within(words.FirstWords, append([]string{strings.Join(must, "\n")}, may...)...)
		kinds[string(r.Sets[r.Main()].Cause.Verdict)] = true
		grade, said := readingGrade(text)
		grades, wordsSaid = grades+grade, wordsSaid+float64(said)
		if said > words.FirstWords {
			t.Errorf("%d words: %q", said, text)
		}
		if f := len(figure.FindAllString(text, -1)); f > 3 {
			t.Errorf("%d figures: %q", f, text)
		}
		if strings.ContainsAny(text, "()[]") {
			t.Errorf("a bracket: %q", text)
		}
		if len(must) == 0 || !strings.HasSuffix(text, ".") {
			t.Errorf("no sentence: %q", text)
		}
	}
	t.Logf("%d posts, verdicts %v: grade %.1f, %.0f words on average", posts, kinds, grades/float64(posts), wordsSaid/float64(posts))
	if mean := grades / float64(posts); mean > 8 {
		t.Errorf("grade %.1f on average, want at most 8", mean)
	}
	if len(kinds) < 5 && posts == 500 {
		t.Errorf("only %v were seen", kinds)
	}
}

var vowels = regexp.MustCompile(`[aeiouy]+`)

// readingGrade is the grade of a text by Flesch and Kincaid, and its words.
// Syllables are groups of vowels, a last e not counted.
func readingGrade(text string) (grade float64, n int) {
	all := strings.Fields(text)
	sentences, syllables := 0, 0
	for _, w := range all {
		if strings.HasSuffix(w, ".") {
			sentences++
		}
		w = strings.TrimSuffix(strings.Trim(strings.ToLower(w), `.,;:"`), "e")
		syllables += max(1, len(vowels.FindAllString(w, -1)))
	}
	n = len(all)
	return 0.39*float64(n)/float64(max(sentences, 1)) + 11.8*float64(syllables)/float64(n) - 15.59, n
}

// A grade known from the formula: ten words of one syllable in one sentence.
func TestReadingGrade(t *testing.T) {
	grade, n := readingGrade("The ball went to the left of the old flag.")
	if got := fmt.Sprintf("%d words, %.2f", n, grade); got != "10 words, 0.11" {
		t.Error(got)
	}
}

// What is said next is what the first layer of the figures says too: the tool,
// and the side the balls finished on.
func TestFirstLayerAgrees(t *testing.T) {
	rng := rand.New(rand.NewPCG(18, 2))
	for range 60 {
		r, err := report.Of(t.Context(), read(t, file(t, 20, 10*rng.Float64()-5, 10*rng.Float64()-5)), report.Options{})
		if err != nil {
			t.Fatal(err)
		}
		must, _, tool := r.First(0, timeline.Past{})
		text, figures := strings.Join(must, "\n"), r.Text(0, 2000)
		miss := r.Sets[0].Cause.Miss.Mean
		for side, other := range map[string]string{"yards left": "yards right", "yards right": "yards left"} {
			if first, _, _ := strings.Cut(must[0], "because"); strings.Contains(first, side) && strings.Contains(first, "finished") {
				if (side == "yards left") != (miss < 0) || !strings.Contains(figures, side) {
					t.Errorf("%q, and the figures %q (not %q)", first, figures, other)
				}
			}
		}
		if tool != "" && strings.Contains(figures, "Worth a labelled trial") {
			phrase := figures[strings.Index(figures, "Worth a labelled trial: ")+len("Worth a labelled trial: "):]
			phrase, _, _ = strings.Cut(phrase, ",")
			if !strings.Contains(text, phrase) {
				t.Errorf("%q does not say %q", text, phrase)
			}
		}
	}
}
