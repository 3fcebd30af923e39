package store_test

import (
	"testing"

	"rangepost/store"
)

// due are the pins that wait, by what has to be done with them.
func due(t *testing.T, db *store.DB) (post, away []store.Pin) {
	t.Helper()
	all, err := db.DuePins(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range all {
		if p.Binding.Live() {
			post = append(post, p)
		} else {
			away = append(away, p)
		}
	}
	return post, away
}

// A pin waits from the moment consent is given until it is posted, and from the
// moment that consent ends until it is taken away, however it ends.
func TestPins(t *testing.T) {
	for name, end := range map[string]func(db *store.DB, b store.Binding) error{
		"taken back": func(db *store.DB, b store.Binding) error {
			_, err := db.EndBinding(t.Context(), saltmarsh, b.ID, wren)
			return err
		},
		"unbound": func(db *store.DB, b store.Binding) error {
			_, err := db.EndBinding(t.Context(), saltmarsh, b.ID, coach)
			return err
		},
		"forgotten": func(db *store.DB, _ store.Binding) error { return db.ForgetStudent(t.Context(), saltmarsh, wren) },
		"another coach": func(db *store.DB, _ store.Binding) error {
			asked, err := db.AskConsent(t.Context(), saltmarsh, "elsewhere", wren, rival)
			if err != nil {
				return err
			}
			_, err = db.GiveConsent(t.Context(), saltmarsh, asked.ID, wren)
			return err
		},
	} {
		t.Run(name, func(t *testing.T) {
			db := open(t)
			must := func(err error) {
				t.Helper()
				if err != nil {
					t.Fatal(err)
				}
			}
			asked, err := db.AskConsent(t.Context(), saltmarsh, "wrens", wren, coach)
			must(err)
			if post, away := due(t, db); len(post)+len(away) > 0 {
				t.Errorf("before consent %v and %v wait", post, away)
			}
			b, err := db.GiveConsent(t.Context(), saltmarsh, asked.ID, wren)
			must(err)
			post, away := due(t, db)
			if len(post) != 1 || len(away) != 0 || post[0].Thread != "wrens" || post[0].Message != "" || post[0].Binding.Coach != coach {
				t.Fatalf("consent given: %v to post, %v to take away", post, away)
			}
			must(db.KeepPin(t.Context(), b.ID, "m1", false))
			if post, _ = due(t, db); len(post) != 1 || post[0].Message != "m1" {
				t.Errorf("posted and not done with: %v", post)
			}
			must(db.KeepPin(t.Context(), b.ID, "m1", true))
			must(db.WantMissingPins(t.Context()))
			if post, away = due(t, db); len(post)+len(away) > 0 {
				t.Errorf("done with: %v to post, %v to take away", post, away)
			}
			must(db.WantPin(t.Context(), b.ID))
			if post, _ = due(t, db); len(post) != 1 {
				t.Errorf("wanted again: %v", post)
			}
			// It ends while the message is being written anew.
			must(end(db, b))
			must(db.KeepPin(t.Context(), b.ID, "m2", true))
			_, away = due(t, db)
			if len(away) != 1 || away[0].Message != "m2" || away[0].Thread != "wrens" || away[0].Binding.ID != b.ID {
				t.Fatalf("ended: %v to take away", away)
			}
			must(db.DropPin(t.Context(), b.ID))
			if _, away = due(t, db); len(away) > 0 {
				t.Errorf("taken away: %v", away)
			}
			if _, err := db.Check(t.Context()); err != nil {
				t.Error(err)
			}
		})
	}
}

// A pin that could not be posted is wanted again when all that are missing are.
func TestMissingPins(t *testing.T) {
	db := open(t)
	asked, err := db.AskConsent(t.Context(), saltmarsh, "wrens", wren, coach)
	if err != nil {
		t.Fatal(err)
	}
	b, err := db.GiveConsent(t.Context(), saltmarsh, asked.ID, wren)
	if err != nil {
		t.Fatal(err)
	}
	if err := db.KeepPin(t.Context(), b.ID, "", true); err != nil {
		t.Fatal(err)
	}
	if post, _ := due(t, db); len(post) != 0 {
		t.Errorf("given up: %v wait", post)
	}
	if err := db.WantMissingPins(t.Context()); err != nil {
		t.Fatal(err)
	}
	if post, _ := due(t, db); len(post) != 1 {
		t.Errorf("wanted again: %v wait, want 1", post)
	}
}
