package store_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

// gist is one with a figure in every field.
func gist(t testing.TB, label string) *analysis.Gist {
	t.Helper()
	e := analysis.Estimate{N: 12, Mean: 0.1, Low: 0.05, High: 0.15, SD: 0.02, OK: true}
	return &analysis.Gist{
		Set:    analysis.SetGist{Club: club(t, "7i"), Label: label, Used: 12, Verdict: "face", Miss: e, Face: e, Path: e, Inferred: true, Width: 9, Wide: true, MoreBalls: 3},
		Others: 1, Control: []analysis.ControlGist{{Club: club(t, "7i"), Number: analysis.Path, Made: e}},
		Trial: &analysis.TrialGist{Club: club(t, "56"), Base: label, Sets: []analysis.TrialSetGist{{
			Label: label, Tool: analysis.StrongerGrip, Used: 12, Asked: 12, Done: 7, Held: 2, Untold: 1, MoreBalls: 11, Follow: analysis.Cancels, Cancelled: 0.9, Lead: analysis.Path,
			Moved: []analysis.Change{{Number: analysis.Face, Difference: -0.03, Low: -0.05, High: -0.01, Little: true}},
		}}},
	}
}

// What a session was found to say comes back as it was kept, goes with another
// reading, and is waited for where it was read before gists were kept.
func TestGists(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	asked, err := db.AskConsent(t.Context(), saltmarsh, "thread", wren, coach)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.GiveConsent(t.Context(), saltmarsh, asked.ID, wren); err != nil {
		t.Fatal(err)
	}
	var posted []store.Session
	for i := range 3 {
		c.add(time.Hour)
		n := full(t)
		n.Server, n.Student, n.Raw = saltmarsh, wren, fmt.Append(nil, i)
		n.Reading.Session.When = c.at
		if n.Reading.Gist = nil; i > 0 {
			n.Reading.Gist = gist(t, fmt.Sprint("set ", i))
		}
		s, _, err := db.PostSession(t.Context(), n)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(n.Reading.Gist, s.Reading.Gist); d != "" {
			t.Errorf("posted (-want +got):\n%s", d)
		}
		posted = append(posted, s)
	}
	if err := db.LookedAt(t.Context(), saltmarsh, coach, posted[2].ID, posted[1].ID); err != nil {
		t.Fatal(err)
	}
	binding, err := db.StudentBinding(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	recent, err := db.Recent(t.Context(), binding, 2)
	if err != nil || len(recent) != 2 || recent[0].ID != posted[2].ID || recent[0].Unread || recent[0].Stale {
		t.Fatalf("recent: %+v, %v", recent, err)
	}
	if d := cmp.Diff(gist(t, "set 2"), recent[0].Gist); d != "" {
		t.Errorf("read back (-want +got):\n%s", d)
	}
	before, err := db.Before(t.Context(), posted[2].SessionInfo, 1)
	if err != nil || len(before) != 1 || before[0].ID != posted[1].ID {
		t.Errorf("before the last: %+v, %v", before, err)
	}
	left, err := db.ToLookAt(t.Context(), binding, 10)
	if err != nil || len(left) != 1 || left[0].ID != posted[0].ID || !left[0].Unread || left[0].Gist != nil || left[0].Stale {
		t.Errorf("to look at: %+v, %v", left, err)
	}
	if err := db.LookedAt(t.Context(), saltmarsh, coach, posted[0].ID, "nothing"); err == nil {
		t.Error("a post that is not there was looked at")
	}
	if left, err := db.ToLookAt(t.Context(), binding, 10); err != nil || len(left) != 1 {
		t.Errorf("all or nothing: %+v, %v", left, err)
	}
	ids := []string{posted[2].ID, "nothing", posted[0].ID}
	for who, want := range map[string]int{coach: 2, rival: 0} {
		if shown, err := db.Shown(t.Context(), saltmarsh, who, ids); err != nil || len(shown) != want || want > 0 && shown[0].ID != ids[0] {
			t.Errorf("shown to %s: %+v, %v", who, shown, err)
		}
	}
	if _, err := db.EndBinding(t.Context(), saltmarsh, binding.ID, wren); err != nil {
		t.Fatal(err)
	}
	if shown, err := db.Shown(t.Context(), saltmarsh, coach, ids); err != nil || len(shown) != 0 {
		t.Errorf("shown once consent was taken back: %+v, %v", shown, err)
	}
}

// The comments a coach sent last are kept, each once.
func TestComments(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	for i := range store.MostComments + 2 {
		c.add(time.Minute)
		if err := db.KeepComment(t.Context(), saltmarsh, coach, fmt.Sprint("comment ", i%(store.MostComments+1))); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.KeepComment(t.Context(), saltmarsh, rival, "another's"); err != nil {
		t.Fatal(err)
	}
	all, err := db.Comments(t.Context(), saltmarsh, coach)
	if err != nil || len(all) != store.MostComments || all[0] != "comment 0" || all[1] != fmt.Sprint("comment ", store.MostComments) {
		t.Errorf("%d comments, %q first, %v", len(all), all[:2], err)
	}
	if err := db.DropComment(t.Context(), saltmarsh, coach, "comment 0"); err != nil {
		t.Fatal(err)
	}
	if all, err := db.Comments(t.Context(), saltmarsh, coach); err != nil || len(all) != store.MostComments-1 {
		t.Errorf("%d comments, %v", len(all), err)
	}
}
