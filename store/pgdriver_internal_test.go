package store

import (
	"database/sql/driver"
	"math"
	"testing"

	"rangepost/analysis"
)

func TestDollars(t *testing.T) {
	for query, want := range map[string]string{
		`SELECT 1`:                               `SELECT 1`,
		`a = ? AND b = ?`:                        `a = $1 AND b = $2`,
		`a = ?2 AND b = ?1 OR c = ?2 LIMIT ?`:    `a = $2 AND b = $1 OR c = $2 LIMIT $3`,
		`a = ?12`:                                `a = $12`,
		`a = '?' AND "b?" = ? AND c = 'it''s ?'`: `a = '?' AND "b?" = $1 AND c = 'it''s ?'`,
		"a = ? -- why?\nAND b = ?":               "a = $1 -- why?\nAND b = $2",
		"a = ? -- why?":                          "a = $1 -- why?",
	} {
		for range 2 { // made, and known
			if got := dollars(query); got != want {
				t.Errorf("%s becomes %s, want %s", query, got, want)
			}
		}
	}
}

func TestBound(t *testing.T) {
	type named string
	for _, tt := range []struct{ in, want any }{
		{true, int64(1)}, {false, int64(0)}, {math.NaN(), nil}, {math.Copysign(0, -1), 0.0}, {math.Inf(1), math.Inf(1)},
		{"as it is \u00e9", "as it is \u00e9"}, {named("a\x00b"), "a\ufffdb"}, {"a\xff\xfeb", "a\ufffdb"}, {7, int64(7)}, {(*float64)(nil), nil},
	} {
		v := driver.NamedValue{Value: tt.in}
		if err := bound(&v); err != nil || v.Value != tt.want {
			t.Errorf("%#v becomes %#v, %v, want %#v", tt.in, v.Value, err, tt.want)
		}
		if f, ok := v.Value.(float64); ok && math.Signbit(f) {
			t.Errorf("%v keeps its sign", tt.in)
		}
	}
}

// What PostgreSQL would refuse is kept, and alike on both engines.
func TestLegible(t *testing.T) {
	db := openFile(t)
	const typed, want = "stick\x00on\xff\xfe the ground", "stick\ufffdon\ufffd the ground"
	kept, err := db.AddLesson(t.Context(), Lesson{Server: "s", Student: "u", Lesson: analysis.Lesson{Note: typed}})
	if err != nil {
		t.Fatal(err)
	}
	got, err := db.Lessons(t.Context(), "s", "u")
	if err != nil || len(got) != 1 || got[0].ID != kept.ID || got[0].Note != want {
		t.Errorf("%+v, %v, want %q", got, err, want)
	}
	for _, s := range []string{"", "as it is \u00e9", "\ufffd"} {
		if l := legible(s); l != s {
			t.Errorf("%q becomes %q", s, l)
		}
	}
}
