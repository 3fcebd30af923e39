package stranger

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"rangepost/store/pgtest"
)

// A cluster keeps what was committed through every way of breaking it, and a
// process behind a proxy can be cut off from it alone.
func TestCluster(t *testing.T) {
	k, err := NewCluster()
	if errors.Is(err, pgtest.ErrNone) {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer k.Remove()
	x, err := newProxy(k.Dial)
	if err != nil {
		t.Fatal(err)
	}
	defer x.close()
	through := func() error {
		return pgtest.ExecAt(k.Address(x.address())+"&connect_timeout=2", "SELECT count(*) FROM kept")
	}
	if err := k.ExecOn("rangepost", "CREATE TABLE kept (n int)"); err != nil {
		t.Fatal(err)
	}
	for i, how := range []string{"connections", "fast", "immediate", "kill"} {
		if err := k.ExecOn("rangepost", "INSERT INTO kept VALUES (1)"); err != nil {
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
		if err := k.ExecOn("rangepost", fmt.Sprintf("SELECT 1 / (count(*) = %d)::int FROM kept", i+1)); err != nil {
			t.Errorf("after %s there are not %d rows: %v", how, i+1, err)
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
		if err := k.Exec("SELECT 1"); err != nil {
			t.Errorf("the others are cut off as well: %v", err)
		}
		x.mend()
		time.Sleep(10 * time.Millisecond)
		if err := through(); err != nil {
			t.Errorf("mended after %s: %v", how, err)
		}
	}
}
