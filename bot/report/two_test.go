package report_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/bot/report"
)

// Two swings in one file are said to be two, each with its balls and its own
// cause, and the file as a whole has none.
func TestTwoSwingsInOneFile(t *testing.T) {
	across, inside := file(t, 14, 1, -9), file(t, 10, 0.5, 11)
	_, rows, _ := bytes.Cut(inside, []byte("\n"))
	r, err := report.Of(t.Context(), read(t, append(append(across, '\n'), rows...)), report.Options{})
	if err != nil {
		t.Fatal(err)
	}
	data, err := r.JSON()
	if err != nil {
		t.Fatal(err)
	}
	var said struct {
		Sets []struct {
			Cause struct {
				Verdict    string
				Confidence *float64
			}
			WorkBack any `json:"work_back"`
			Parts    []struct {
				Shots    []int
				Cause    struct{ Verdict, Sentence string }
				Delivery struct {
					Path struct{ Mean float64 } `json:"path_deg"`
				}
				Pattern struct {
					Lateral struct{ Mean float64 } `json:"lateral_m"`
				}
			}
		}
	}
	if err := json.Unmarshal(data, &said); err != nil {
		t.Fatal(err)
	}
	s := said.Sets[0]
	if s.Cause.Verdict != "two_patterns" || s.Cause.Confidence != nil || s.WorkBack != nil || len(s.Parts) != 2 {
		t.Fatalf("%+v", s)
	}
	for i, want := range []struct {
		balls, from int
		path, side  float64 // deg, and of where it curves
		words       string
	}{{14, 1, -9, 1, "Balls 1 to 14: "}, {10, 15, 11, -1, "Balls 15 to 24: "}} {
		p := s.Parts[i]
		if len(p.Shots) != want.balls || p.Shots[0] != want.from {
			t.Errorf("part %d has balls %v", i, p.Shots)
		}
		if d := p.Delivery.Path.Mean - want.path; d < -2 || d > 2 || p.Pattern.Lateral.Mean*want.side <= 0 {
			t.Errorf("part %d: path %.1f, lateral %.1f m", i, p.Delivery.Path.Mean, p.Pattern.Lateral.Mean)
		}
		if p.Cause.Verdict != "path" || p.Cause.Sentence == "" {
			t.Errorf("part %d: %+v", i, p.Cause)
		}
		if text := r.Text(0, 2000); !strings.Contains(text, want.words) || !strings.HasPrefix(text, "Two patterns: 14 balls ") {
			t.Errorf("%q is not in %q", want.words, text)
		}
	}
	// One swing is one.
	r, err = report.Of(t.Context(), read(t, file(t, 24, 1, -9)), report.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(r.Sets[0].Pattern.Parts); n != 0 || r.Sets[0].Set.Club.Family != analysis.Iron {
		t.Errorf("one swing has %d parts", n)
	}
}
