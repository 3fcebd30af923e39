package sessionfile

import (
	"slices"
	"strings"
	"testing"
)

// TestLexicon checks the table itself: every line names a field, every
// language has words for everything, and no word means two things in two lines
// unless both lines say so.
func TestLexicon(t *testing.T) {
	held := map[string]map[string]bool{} // language to what it has words for
	meant := map[string]string{}
	for _, line := range headingWords() {
		if held[line.language] == nil {
			held[line.language] = map[string]bool{}
		}
		held[line.language][line.holds] = true
		for word := range strings.SplitSeq(line.words, ", ") {
			s := squeezed(word)
			if s == "" {
				t.Errorf("%s %s: %q is no word", line.holds, line.language, word)
			}
			if before := meant[s]; before != "" && before != line.holds {
				t.Errorf("%q means %s and %s", word, before, line.holds)
			}
			meant[s] = line.holds
			if h := readHeading(word); len(h.meaning.fields) == 0 {
				t.Errorf("%q is not found in a header", word)
			}
		}
	}
	languages := []string{"en", "de", "fr", "es", "it", "sv", "ja", "ko"}
	for language := range held {
		if !slices.Contains(languages, language) {
			t.Errorf("language %q is not in the list of this test", language)
		}
	}
	for holds := range held["en"] {
		for _, language := range languages {
			if !held[language][holds] {
				t.Errorf("%s has no word for %s", language, holds)
			}
		}
	}
	for f := field(0); int(f) < numFields; f++ {
		if n, ok := f.number(); ok && n.Info().Judged {
			continue // no file has it
		}
		if !slices.ContainsFunc(headingWords(), func(l headingLine) bool {
			return slices.Contains(strings.Fields(l.holds), f.key())
		}) {
			t.Errorf("no header word for %s", f.key())
		}
		if got, ok := fieldByKey(f.key()); !ok || got != f || f.name() == "" {
			t.Errorf("field %d: key %q, name %q", f, f.key(), f.name())
		}
	}
}

// TestUnknownHeadersAreLeftOut does not take a part of a header for the whole.
func TestUnknownHeadersAreLeftOut(t *testing.T) {
	for _, head := range []string{"Carry rank", "Face wear", "Path of the ball", "Speed of sound", "Spin class", "Player carry average", "Zeta"} {
		if h := readHeading(head); len(h.meaning.fields) > 0 {
			t.Errorf("%q was taken for %v", head, h.meaning.fields)
		}
	}
}
