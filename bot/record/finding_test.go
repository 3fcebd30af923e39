package record

import (
	"io"
	"log/slog"
	"reflect"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/store"
	"rangepost/store/pgtest"
	"rangepost/testdata"
)

// Each kind of finding weighs more than all below it together, so that no
// ordinary post outranks somebody who is lost; a drift does at its most.
func TestWeights(t *testing.T) {
	kinds := []FindingKind{ToLookAt, FileWaits, SameAgain, BriefOver, LessonTold, TrialFound, PlanSettled, TallyAgainst, PlanStuck, Drifting, Silent, BriefMissed}
	sum := 0
	for _, kind := range kinds {
		if weights[kind] <= sum {
			t.Errorf("%s weighs %d, all below it %d", kind, weights[kind], sum)
		}
		most := weights[kind]
		if kind == Drifting {
			f := Finding{Kind: kind}
			f.Series.Number, f.Series.Drift.EWMA = analysis.Face, []float64{1}
			most = f.Weight()
		}
		sum += most
	}
	if len(weights) != len(kinds)+2 || weights[SilentSinceLesson] != weights[Silent] || weights[NeverPosted] != weights[Silent] {
		t.Errorf("the table has %d kinds", len(weights))
	}
}

// What is found again and again is counted, with the same club, on the same side;
// what cannot be told is never the same.
func TestAgain(t *testing.T) {
	set := func(verdict cause.Verdict, miss float64) store.Gisted {
		return store.Gisted{Gist: &analysis.Gist{Set: analysis.SetGist{Verdict: string(verdict), Miss: analysis.Estimate{Mean: miss}}}}
	}
	driver := set(cause.Face, 9)
	driver.Gist.Set.Club = analysis.Club{Family: analysis.Driver}
	for name, c := range map[string]struct {
		all    []store.Gisted // the latest first
		times  int
		before cause.Verdict
		kind   FindingKind
	}{
		"first":             {[]store.Gisted{set(cause.Face, 9)}, 1, "", ToLookAt},
		"twice":             {[]store.Gisted{set(cause.Face, 9), set(cause.Face, 4)}, 2, "", ToLookAt},
		"thrice":            {[]store.Gisted{set(cause.Face, 9), set(cause.Face, 4), set(cause.Face, 5), set(cause.Path, 5)}, 3, "", SameAgain},
		"past another club": {[]store.Gisted{set(cause.Face, 9), driver, set(cause.Face, 4), {}, set(cause.Face, 4)}, 3, "", SameAgain},
		"other side":        {[]store.Gisted{set(cause.Face, 9), set(cause.Face, -4)}, 1, cause.Face, ToLookAt},
		"better":            {[]store.Gisted{set(cause.Centred, 0), set(cause.Path, 9)}, 1, cause.Path, ToLookAt},
		"centred thrice":    {[]store.Gisted{set(cause.Centred, 0), set(cause.Centred, 1), set(cause.Centred, -1)}, 3, "", ToLookAt},
		"too few twice":     {[]store.Gisted{set(cause.TooFew, 9), set(cause.TooFew, 4)}, 1, cause.TooFew, ToLookAt},
	} {
		f := Found(c.all, func(s store.Gisted) bool { return s.Gist == c.all[0].Gist })[0]
		before := cause.Verdict("")
		if f.Before != nil {
			before = cause.Verdict(f.Before.Verdict)
		}
		if f.Again != c.times || before != c.before || f.Kind != c.kind {
			t.Errorf("%s: %d times, before %q, %s; want %d, %q, %s", name, f.Again, before, f.Kind, c.times, c.before, c.kind)
		}
	}
}

// What a session says that was read before gists were kept is found by reading
// it again, once, and so many at a time.
func TestStaleGists(t *testing.T) {
	now := func() time.Time { return time.Date(2026, time.June, 20, 9, 0, 0, 0, time.UTC) }
	db, err := store.Open(t.Context(), pgtest.Path(t, ""), store.WithClock(now))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rs := New(db, now, slog.New(slog.NewTextHandler(io.Discard, nil)))
	raw, err := testdata.Files.ReadFile("sessions/wren-4-grip-trial.tsv")
	if err != nil {
		t.Fatal(err)
	}
	s, _, _, err := rs.Post(t.Context(), Post{Server: "saltmarsh", Student: "wren", Name: "s.tsv", Raw: raw, Said: store.Said{Ball: analysis.RangeBall}})
	if err != nil {
		t.Fatal(err)
	}
	stale := store.Gisted{SessionInfo: s.SessionInfo, Stale: true, Unread: true}
	all, left := []store.Gisted{stale, stale}, 1
	if err := rs.gists(t.Context(), all, &left); err != nil || left != 0 {
		t.Fatal(left, err)
	}
	if !reflect.DeepEqual(all[0].Gist, s.Reading.Gist) || all[0].Gist.Trial == nil || all[0].Stale || !all[1].Stale {
		t.Errorf("read again: %+v, %+v; posted: %+v", all[0], all[1], s.Reading.Gist)
	}
	// One that cannot be read any more says nothing, and stops nobody.
	bad, _, err := db.PostSession(t.Context(), store.NewSession{Server: "saltmarsh", Student: "wren", Name: "x.csv", Raw: []byte("Dear coach")})
	if err != nil {
		t.Fatal(err)
	}
	all, left = []store.Gisted{{SessionInfo: bad.SessionInfo, Stale: true, Unread: true}, stale}, 2
	if err := rs.gists(t.Context(), all, &left); err != nil || all[0].Gist != nil || all[0].Stale || all[1].Gist == nil {
		t.Errorf("unreadable: %+v, %v", all, err)
	}
	// By the story its file was made from, the grip closed the face and the path
	// followed it.
	grip := s.Reading.Gist.Trial.Sets[0]
	if face, ok := grip.Of(analysis.Face); !ok || face.Difference >= 0 || grip.Follow != analysis.Cancels || grip.Tool != analysis.StrongerGrip {
		t.Errorf("the grip: %+v", grip)
	}
}
