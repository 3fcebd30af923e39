package stranger

import (
	"errors"
	"testing"
	"time"
)

// A cluster keeps what was committed through every way of breaking it, and a
// process behind a proxy can be cut off from it alone.
func TestCluster(t *testing.T) {
	k, err := NewCluster()
	if errors.Is(err, ErrNoPostgres) {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer k.Close()
	x, err := newProxy(k.Dial)
	if err != nil {
		t.Fatal(err)
	}
	defer x.close()
	through := func() error { // PGCONNECT_TIMEOUT is psql's least, 2 s
		_, err := k.run("psql", "-XAtc", "SELECT count(*) FROM kept", k.Address(x.address())+"&connect_timeout=2")
		return err
	}
	if _, err := k.Query("CREATE TABLE kept (n int)"); err != nil {
		t.Fatal(err)
	}
	for i, how := range []string{"connections", "fast", "immediate", "kill"} {
		if _, err := k.Query("INSERT INTO kept VALUES (1)"); err != nil {
			t.Fatal(err)
		}
		if err := k.Break(how); err != nil {
			t.Fatalf("%s: %v", how, err)
		}
		if how != "connections" && through() == nil {
			t.Errorf("%s: it still answers", how)
		}
		if err := k.Back(); err != nil {
			t.Fatalf("%s: %v", how, err)
		}
		if n, err := k.Query("SELECT count(*) FROM kept"); err != nil || n != string(rune('1'+i)) {
			t.Errorf("after %s there are %s rows, want %d: %v", how, n, i+1, err)
		}
		if err := through(); err != nil {
			t.Errorf("after %s: %v", how, err)
		}
	}
	for _, how := range []string{"refuse", "swallow"} {
		x.cut(how)
		if through() == nil {
			t.Errorf("cut off by %s it still answers", how)
		}
		if _, err := k.Query("SELECT 1"); err != nil {
			t.Errorf("the others are cut off as well: %v", err)
		}
		x.mend()
		time.Sleep(10 * time.Millisecond)
		if err := through(); err != nil {
			t.Errorf("mended after %s: %v", how, err)
		}
	}
}
