package main

import (
	"bytes"
	"context"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/store/pgtest"
)

// Both engines give the same answers: the fortnight and a season, played on each,
// are the same transcript and the same files, byte for byte.
func TestSameAnswers(t *testing.T) {
	plays := map[string]func(*testing.T, context.Context, string) *page{
		"fortnight": func(t *testing.T, ctx context.Context, path string) *page {
			p := newPlay(ctx, repeatable(t, ctx, fortnightBegins, path))
			if err := p.fortnight(); err != nil {
				t.Error(err)
			}
			return newPage("", "", p.st.Transcript(), p.st.Names())
		},
	}
	if !testing.Short() {
		plays["season"] = func(t *testing.T, ctx context.Context, path string) *page {
			s := newSeason(ctx, t, repeatable(t, ctx, seasonBegins, path), seasonBegins, 12, 10)
			s.whole()
			return newPage("", "", s.st.Transcript(), s.st.Names())
		}
	}
	for name, play := range plays {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			ctx, cancel := context.WithTimeout(t.Context(), 15*time.Minute)
			defer cancel()
			there := pgtest.Database(t, nil)
			here := play(t, ctx, "")
			same(t, here, play(t, ctx, there))
		})
	}
}

// repeatable is a stage that nothing random is drawn on.
func repeatable(t *testing.T, ctx context.Context, begins time.Time, path string) *stage {
	st, err := newStage(ctx, begins, kept.log(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := st.close(); err != nil {
			t.Error(err)
		}
	})
	return st
}

// same fails at the first line of two pages that is not the same, and at every
// file.
func same(t *testing.T, a, b *page) {
	t.Helper()
	as, bs := strings.Split(a.text(), "\n"), strings.Split(b.text(), "\n")
	for i := range min(len(as), len(bs)) {
		if as[i] != bs[i] {
			t.Errorf("line %d is\n%s\non one and\n%s\non the other", i+1, as[i], bs[i])
			break
		}
	}
	if len(as) != len(bs) {
		t.Errorf("%d lines on one, %d on the other", len(as), len(bs))
	}
	for _, name := range slices.Sorted(maps.Keys(a.files)) {
		if !bytes.Equal(a.files[name], b.files[name]) {
			t.Errorf("file %s is another: %d and %d bytes", name, len(a.files[name]), len(b.files[name]))
		}
	}
	if len(a.files) != len(b.files) {
		t.Errorf("%d files on one, %d on the other", len(a.files), len(b.files))
	}
}
