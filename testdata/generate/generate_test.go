package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/export"
	"rangepost/analysis/trial"
	"rangepost/bot/report"
)

// TestUpToDate fails when the files on disk are not the ones the table makes:
// go run ./testdata/generate.
func TestUpToDate(t *testing.T) {
	files, err := all()
	if err != nil {
		t.Fatal(err)
	}
	again, err := all()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range files {
		if !bytes.Equal(again[name], want) {
			t.Errorf("%s is not the same twice", name)
		}
		got, err := os.ReadFile(filepath.Join("..", filepath.FromSlash(name)))
		if err != nil {
			t.Error(err)
		} else if !bytes.Equal(got, want) {
			t.Errorf("%s is not what the table makes", name)
		}
	}
}

func (v visit) options() export.Options {
	return export.Options{Hand: v.who.hand, HandSet: true, Answers: v.answers}
}

func (v visit) read(t *testing.T) export.Reading {
	t.Helper()
	data, err := v.bytes()
	if err != nil {
		t.Fatal(err)
	}
	reading, err := export.Read(v.file, data, v.options())
	if err != nil {
		t.Fatal(err)
	}
	reading.Session.Ball = v.ball
	return reading
}

// TestReadsRight: every number comes back as it was measured, to the digits
// the file holds.
func TestReadsRight(t *testing.T) {
	for _, v := range story {
		t.Run(v.file, func(t *testing.T) {
			reading := v.read(t)
			for _, q := range reading.Questions {
				t.Errorf("asks %s: %s", q.Key, q.Text)
			}
			want, err := v.shots()
			if err != nil {
				t.Fatal(err)
			}
			got := reading.Session.Shots
			if len(got) != len(want) {
				t.Fatalf("%d shots, want %d", len(got), len(want))
			}
			for i := range want {
				if got[i].Club != want[i].Club || got[i].Label != want[i].Label {
					t.Fatalf("shot %d is %v %q, want %v %q", i+1, got[i].Club, got[i].Label, want[i].Club, want[i].Label)
				}
				for _, c := range v.shape.columns {
					x, ok := got[i].Value(c.number)
					y, _ := want[i].Value(c.number)
					if !ok || math.Abs(x-y) > 0.501*math.Pow(10, -float64(c.decimals))*c.scale {
						t.Fatalf("shot %d, %s is %v (%v), want %v", i+1, c.number, x/c.scale, ok, y/c.scale)
					}
				}
			}
			if when := reading.Session.When; when.Day() != v.day || when.Month() != v.when().Month() {
				t.Errorf("hit on %v, want %v", when, v.when())
			}
		})
	}
}

// TestUnclearSignsAreAsked: a file of signs alone cannot tell whether they are
// mirrored for a left-handed golfer, and five balls cannot tell much.
func TestUnclearSignsAreAsked(t *testing.T) {
	for _, v := range story {
		if v.answers == nil {
			continue
		}
		v.answers = nil
		if reading := v.read(t); len(reading.Questions) == 0 {
			t.Errorf("%s asks nothing", v.file)
		}
	}
}

// TestTellsTheStory: the analysis finds the cause that each golfer was made
// with.
func TestTellsTheStory(t *testing.T) {
	for _, v := range story {
		t.Run(v.file, func(t *testing.T) {
			r, err := report.Of(v.read(t), report.Options{})
			if err != nil {
				t.Fatal(err)
			}
			t.Log("\n" + r.Text(0, 1200))
			if r.Trial != nil {
				t.Log("\n" + r.TrialText(1200))
			}
			got := r.Sets[0].Cause
			if got.Verdict != v.verdict || got.Inferred != v.inferred {
				t.Errorf("verdict %s (inferred %v), want %s (%v)", got.Verdict, got.Inferred, v.verdict, v.inferred)
			}
		})
	}
}

// TestTrials: what the second set of each trial was made to show.
func TestTrials(t *testing.T) {
	for file, want := range map[string]map[analysis.Number]trial.Verdict{
		"wren-4-grip-trial.tsv":   {analysis.Face: trial.Moved, analysis.Path: trial.Moved},
		"wren-5-second-trial.csv": {analysis.Face: trial.Moved, analysis.Lateral: trial.Moved},
		"priya-2-hurried.csv":     {analysis.Face: trial.CannotTell, analysis.Path: trial.CannotTell},
	} {
		for _, v := range story {
			if v.file != file {
				continue
			}
			r, err := report.Of(v.read(t), report.Options{})
			if err != nil || r.Trial == nil {
				t.Fatalf("%s: no trial (%v)", file, err)
			}
			for _, row := range r.Trial.Rows {
				if verdict, ok := want[row.Number]; ok && row.Set == 1 && row.Verdict != verdict {
					t.Errorf("%s: %s %s, want %s", file, row.Number, row.Verdict, verdict)
				}
			}
		}
	}
}

// TestNothingMovedInTheTheory: the set named for somebody's theory was hit with
// the same delivery, and no number is said to have moved.
func TestNothingMovedInTheTheory(t *testing.T) {
	for _, v := range story {
		if v.file != "wren-6-theory.json" {
			continue
		}
		r, err := report.Of(v.read(t), report.Options{})
		if err != nil || r.Trial == nil {
			t.Fatalf("no trial (%v)", err)
		}
		for _, row := range r.Trial.Rows {
			if row.Verdict == trial.Moved || row.Verdict == trial.MovedLittle {
				t.Errorf("%s %s", row.Number, row.Verdict)
			}
		}
	}
}

// TestBrokenFilesAreRefused: none is read, and each refusal says what to do.
func TestBrokenFilesAreRefused(t *testing.T) {
	files, err := all()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"letter.csv", "empty.csv", "truncated.xlsx"} {
		data, ok := files["broken/"+name]
		if !ok {
			t.Fatalf("no %s", name)
		}
		_, err := export.Read(name, data, export.Options{})
		refusal, ok := err.(*export.Refusal)
		if !ok || refusal.Message == "" || refusal.Hint == "" {
			t.Errorf("%s: %v, want a refusal with a hint", name, err)
		}
	}
}
