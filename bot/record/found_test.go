package record

import (
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/months"
	"rangepost/analysis/timeline"
	"rangepost/store"
)

// What a post settles about a lesson is found with that post, whoever opens a
// timeline and when: a lesson that moved face-to-path by 8 degrees is found with
// the third session after it, dated by that, and not before.
func TestAPostFindsWhatALessonChanged(t *testing.T) {
	day := func(n int) time.Time { return time.Date(2026, time.May, 1+n, 17, 0, 0, 0, time.UTC) }
	d := newDesk(t, "", day(0))
	defer d.db.Close()
	d.bind("wren")
	student := months.Worlds()[0].Student(months.Course{Before: 6, After: 3, When: months.Booked, Form: months.Sudden, Size: -8 * analysis.Degree}, 7)
	for i, s := range student.Sessions {
		if i == 6 {
			d.now = day(3*i - 1)
			_, err := d.db.AddLesson(t.Context(), store.Lesson{Server: club, Student: "wren", Coach: coach})
			d.must(err)
		}
		d.now = day(3 * i)
		_, _, fresh, err := d.rs.Post(t.Context(), Post{Server: club, Student: "wren", PostedBy: "wren", Name: "s.csv", Raw: months.Visit{At: d.now, Values: s.Values}.File()})
		d.must(err)
		if !fresh {
			t.Fatal("not kept")
		}
		found, err := d.db.Findings(t.Context(), club, "wren")
		d.must(err)
		switch {
		case i < 8 && len(found) > 0:
			t.Errorf("found with session %d: %+v", i+1, found)
		case i == 8 && len(found) != 1:
			t.Fatalf("%d findings with the third session after the lesson", len(found))
		case i == 8:
			f := found[0]
			if f.Number != analysis.FaceToPath || f.Sessions != 3 || !f.At.Equal(d.now) || f.High > -4*analysis.Degree {
				t.Errorf("found %v after %d sessions at %v, at most %.1f deg", f.Number, f.Sessions, f.At, f.High/analysis.Degree)
			}
		}
	}
}

// What was found of a lesson, and that it was credited to it, stays so in every
// zone and however few sessions are asked for.
func TestFoundInEveryZone(t *testing.T) {
	day := func(n int) time.Time { return time.Date(2026, time.May, 1+n, 17, 0, 0, 0, time.UTC) }
	d := newDesk(t, "", day(0))
	defer d.db.Close()
	d.bind("wren")
	student := months.Worlds()[0].Student(months.Course{Before: 10, After: 6, When: months.Booked, Form: months.Sudden, Size: -8 * analysis.Degree}, 7)
	for i, s := range student.Sessions {
		if i == 10 {
			d.now = day(3*i - 1)
			_, err := d.db.AddLesson(t.Context(), store.Lesson{Server: club, Student: "wren", Coach: coach})
			d.must(err)
		}
		d.now = day(3 * i)
		d.post("wren", s.Values)
	}
	_, err := d.rs.Timelines(t.Context(), club, "wren", Query{Numbers: []analysis.Number{analysis.FaceToPath}})
	d.must(err)
	for _, name := range []string{"UTC", "Pacific/Auckland", "America/Los_Angeles"} {
		zone, err := time.LoadLocation(name)
		d.must(err)
		for what, q := range map[string]Query{"all": {}, "since": {Since: day(3 * 9)}, "the last eight": {Last: 8}} {
			q.Numbers, q.Zone = []analysis.Number{analysis.FaceToPath}, zone
			all, err := d.rs.Timelines(t.Context(), club, "wren", q)
			d.must(err)
			if e := all[0].Effect; e.Change != timeline.Changed || !e.Credited || e.FoundAt.IsZero() {
				t.Errorf("%s, %s: %q, credited %v, found at %v", name, what, e.Change, e.Credited, e.FoundAt)
			}
		}
	}
}
