package record

import (
	"log/slog"
	"testing"
	"time"

	"rangepost/store"
	"rangepost/store/pgtest"
)

// A junior is not to be named while the clubhouse keeps juniors private.
func TestPlayer(t *testing.T) {
	db, err := store.Open(t.Context(), pgtest.Path(t, ""))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rs, ctx := New(db, time.Now, slog.New(slog.DiscardHandler)), t.Context()
	if err := db.SetName(ctx, "saltmarsh", "wren", "Wren"); err != nil {
		t.Fatal(err)
	}
	house, err := db.Clubhouse(ctx, "saltmarsh")
	if err != nil {
		t.Fatal(err)
	}
	is := func(player string, want Player) {
		t.Helper()
		if got, err := rs.player(ctx, house, store.Entry{Player: player}); err != nil || got != want {
			t.Errorf("%q is %+v, %v, want %+v", player, got, err, want)
		}
	}
	is("wren", Player{ID: "wren", Name: "Wren"})
	is("", Player{})
	is("nameless", Player{ID: "nameless"})
	if err := db.SetJunior(ctx, "saltmarsh", "wren", true); err != nil {
		t.Fatal(err)
	}
	is("wren", Player{ID: "wren", Name: "Wren", Junior: true})
	house.JuniorsPrivate = false
	is("wren", Player{ID: "wren", Name: "Wren"})
}
