package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
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

func (v visit) options() sessionfile.Options {
	return sessionfile.Options{Hand: v.who.hand, HandSet: true, Answers: v.answers}
}

func (v visit) read(t *testing.T) sessionfile.Reading {
	t.Helper()
	shots, err := v.shots()
	if err != nil {
		t.Fatal(err)
	}
	return v.readShots(t, shots)
}

func (v visit) readShots(t *testing.T, shots []analysis.Shot) sessionfile.Reading {
	t.Helper()
	data, err := v.export(shots)
	if err != nil {
		t.Fatal(err)
	}
	reading, err := sessionfile.Read(v.file, data, v.options())
	if err != nil {
		t.Fatal(err)
	}
	reading.Session.Ball = v.ball
	if v.wind.Speed > 0 {
		reading.Session.Conditions.WindSpeed, reading.Session.Conditions.WindFrom = &v.wind.Speed, &v.wind.From
	}
	return reading
}

// TestReadsRight: every number comes back as it was measured, to the digits
// the file holds, but for those that the device got wrong.
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
					if slices.ContainsFunc(v.misreads, func(m misread) bool { return m.ball == i+1 && m.number == c.number }) {
						if ok {
							t.Errorf("shot %d: %s is believed", i+1, c.number)
						}
						continue
					}
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
			o := report.Options{}
			if v.target > 0 {
				o.Targets = analysis.Targets{{}: v.target * analysis.Yard}
				o.Earlier = v.before(t)
			}
			r, err := report.Of(t.Context(), v.read(t), o)
			if err != nil {
				t.Fatal(err)
			}
			t.Log("\n" + r.Text(0, 1200))
			for _, of := range r.Trials {
				t.Log("\n" + r.TrialText(of, 1200))
			}
			got := r.Sets[0].Cause
			if got.Verdict != v.verdict || got.Inferred != v.inferred {
				t.Errorf("verdict %s (inferred %v), want %s (%v)", got.Verdict, got.Inferred, v.verdict, v.inferred)
			}
			if v.length != "" && got.Distance.Verdict != v.length {
				t.Errorf("the length is %s's, want %s's: %+v", got.Distance.Verdict, v.length, got.Distance)
			}
		})
	}
}

// before are the sessions of the same golfer before a visit, as the bot keeps
// them: read, with mishits set aside.
func (v visit) before(t *testing.T) (sessions []analysis.Session) {
	t.Helper()
	for _, other := range story {
		if other.who == v.who && other.day < v.day {
			r, err := report.Of(t.Context(), other.read(t), report.Options{})
			if err != nil {
				t.Fatal(err)
			}
			sessions = append(sessions, r.Session)
		}
	}
	return sessions
}

// TestMirrorImage: what a left-handed golfer is told of a right-handed one's
// file seen in a mirror is the mirror image of what the other is told, and
// nothing else; and the other way about.
func TestMirrorImage(t *testing.T) {
	change := strings.NewReplacer("left", "right", "right", "left")
	leftEndFirst := regexp.MustCompile(`between (\d+ yards?) right and (\d+ yards?) left`)
	swapped := func(text string) string {
		return leftEndFirst.ReplaceAllString(change.Replace(text), "between $2 left and $1 right")
	}
	// How many more balls it takes is drawn, and what is drawn has no mirror image.
	drawn := regexp.MustCompile(`about \d+ more balls`)
	for _, v := range story {
		shots, err := v.shots()
		if err != nil {
			t.Fatal(err)
		}
		mirror := v
		mirror.who.hand = analysis.LeftHanded - v.who.hand
		mirror.wind.From = -mirror.wind.From
		if mirror.who.hand == analysis.LeftHanded && !v.shape.columns[2].letters {
			mirror.answers = map[string]string{"signs": "target"}
		}
		if v.who.hand == analysis.LeftHanded {
			mirror.answers = nil
		}
		mirrored := make([]analysis.Shot, len(shots))
		for i, s := range shots {
			mirrored[i] = s.Mirrored()
		}
		one, err := report.Of(t.Context(), v.readShots(t, shots), report.Options{})
		if err != nil {
			t.Fatal(err)
		}
		other, err := report.Of(t.Context(), mirror.readShots(t, mirrored), report.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i := range one.Sets {
			want, got := swapped(one.Verdict(one.Sets[i])), other.Verdict(other.Sets[i])
			if drawn.ReplaceAllString(got, "") != drawn.ReplaceAllString(want, "") {
				t.Errorf("%s: %q mirrored is %q", v.file, want, got)
			}
		}
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
			r, err := report.Of(t.Context(), v.read(t), report.Options{})
			if err != nil || len(r.Trials) == 0 {
				t.Fatalf("%s: no trial (%v)", file, err)
			}
			for _, row := range r.Trials[0].Rows {
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
		r, err := report.Of(t.Context(), v.read(t), report.Options{})
		if err != nil || len(r.Trials) == 0 {
			t.Fatalf("no trial (%v)", err)
		}
		for _, row := range r.Trials[0].Rows {
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
		_, err := sessionfile.Read(name, data, sessionfile.Options{})
		refusal, ok := err.(*analysis.Refusal)
		if !ok || refusal.What() == "" || refusal.Hint == "" {
			t.Errorf("%s: %v, want a refusal with a hint", name, err)
		}
	}
}
