package store

import (
	"testing"

	"rangepost/analysis"
)

// What was read before gists were kept is stale until its gist is kept, once.
func TestStaleGist(t *testing.T) {
	db := openFile(t)
	ctx := t.Context()
	asked, err := db.AskConsent(ctx, "s", "thread", "wren", "coach")
	if err != nil {
		t.Fatal(err)
	}
	b, err := db.GiveConsent(ctx, "s", asked.ID, "wren")
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := db.PostSession(ctx, NewSession{Server: "s", Student: "wren", Name: "x.csv", Raw: []byte("x")})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.write.ExecContext(ctx, `UPDATE sessions SET gist = NULL`); err != nil {
		t.Fatal(err)
	}
	stale := func() Gisted {
		t.Helper()
		all, err := db.Recent(ctx, b, 5)
		if err != nil || len(all) != 1 {
			t.Fatal(all, err)
		}
		return all[0]
	}
	if g := stale(); !g.Stale || g.Gist != nil {
		t.Errorf("before: %+v", g)
	}
	for _, verdict := range []string{"face", "path"} {
		if err := db.KeepGist(ctx, s.ID, &analysis.Gist{Set: analysis.SetGist{Verdict: verdict}}); err != nil {
			t.Fatal(err)
		}
		if g := stale(); g.Stale || g.Gist == nil || g.Gist.Set.Verdict != "face" {
			t.Errorf("kept: %+v", g)
		}
	}
}
