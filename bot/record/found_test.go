package record

import (
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/months"
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
