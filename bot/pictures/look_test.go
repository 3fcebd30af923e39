package pictures

import (
	"context"
	"fmt"
	"maps"
	"os"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
	"rangepost/bot/words"
)

// posts are the cases a post picture has to stand up to.
func posts() map[string]PostInput {
	face := plan{balls: 24, face: -2.9, path: -.8, sdFace: 1.3, sdPath: 1.5, rest: .6, spread: 3, carry: 140, seed: 1}
	all := map[string]PostInput{"face": invent(face)}

	few := face
	few.balls, few.seed = 5, 4
	all["five"] = invent(few)

	many := face
	many.balls, many.path, many.seed = 200, 3.5, 2
	many.face = 1
	in := invent(many)
	in.Title = "Curves left, path 3.5° right of target"
	in.Cause.Verdict = cause.Path
	all["many"] = in

	spot := plan{balls: 12, face: -1, path: 1, carry: 150, seed: 3}
	in = invent(spot)
	for i, s := range in.Set.Shots {
		in.Set.Shots[i] = s.With(analysis.Carry, 147)
	}
	in.Pattern = pattern.Of(in.Set)
	in.Title = "Finishes left, face 1.0° left of target"
	all["spot"] = in

	wild := face
	wild.seed = 9
	in = invent(wild)
	in.Set.Shots[3] = in.Set.Shots[3].With(analysis.Lateral, 55).With(analysis.Carry, 70)
	in.Set.Shots[3].Aside = analysis.Mishit
	in.Set.Shots[8] = in.Set.Shots[8].With(analysis.Lateral, -17).With(analysis.Carry, 128)
	in.Set.Shots[8].Aside = analysis.Mishit
	in.Pattern = pattern.Of(in.Set)
	in.Cause.Balls = slices.Delete(in.Cause.Balls, 3, 4)
	in.Cause.Balls[5].Face = .35
	low, high := -1*analysis.Degree, 1*analysis.Degree
	in.Brief = &timeline.Kept{Brief: timeline.Brief{Number: analysis.Face, Low: &low, High: &high}, Inside: 6, Of: 22}
	all["wild"] = in

	left := face
	left.hand, left.face, left.path, left.seed = analysis.LeftHanded, 3.1, 1.5, 5
	in = invent(left)
	in.Title = "Starts right, face 3.1° right of target"
	in.Who, in.Voice.Metres = "Odell", true
	in.Set.Label = "強い grip"
	in.Cause.Inferred = true
	low2 := 1 * analysis.Degree
	in.Brief = &timeline.Kept{Brief: timeline.Brief{Number: analysis.FaceToPath, Low: &low2, High: ptr(3 * analysis.Degree)}, Inside: 9, Of: 24}
	all["left"] = in

	one := face
	one.balls = 1
	in = invent(one)
	in.Title, in.Cause.Verdict = "Too few balls to tell: 12 more would do", cause.TooFew
	all["one"] = in

	two := face
	two.balls = 2
	in = invent(two)
	in.Title, in.Cause.Verdict = "Too few balls to tell: 11 more would do", cause.TooFew
	all["two"] = in

	all["empty"] = PostInput{Title: "No ball that could be used", Cause: cause.Result{Verdict: cause.Unmeasured}}

	in = invent(face)
	in.Title = "11 yards left, cause not measured"
	in.Target = 0
	in.Cause = cause.Result{Verdict: cause.Unmeasured, Miss: in.Cause.Miss, Missing: []analysis.Number{analysis.Face, analysis.Path}}
	all["unmeasured"] = in

	comp := plan{balls: 30, face: 3, path: 7.5, sdFace: 1, sdPath: 1.2, rest: .2, spread: 2.5, carry: 150, seed: 11}
	in = invent(comp)
	in.Title, in.Cause.Verdict = "Centred: 1 yard right of target", cause.Centred
	low3 := 2 * analysis.Degree
	in.Brief = &timeline.Kept{Brief: timeline.Brief{Number: analysis.Path, High: &low3}, Inside: 0, Of: 30}
	all["compensated"] = in

	in = invent(face)
	in.Title = "A title that somebody made far too long for the two lines there are to hold it, and which therefore has to become smaller and in the end be cut"
	in.Who, in.Set.Label = "Somebody with quite a long name for a student", "a label of the longest kind that fits nowhere"
	all["long"] = in
	return all
}

func ptr(v float64) *float64 { return &v }

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip("LOOK names a folder to write every picture to")
	}
	cases := posts()
	for _, name := range slices.Sorted(maps.Keys(cases)) {
		png, err := Post(context.Background(), cases[name])
		if err != nil {
			t.Fatal(err)
		}
		fmt.Println(name, len(png))
		os.WriteFile(dir+"/post-"+name+".png", png, 0o644)
	}
	_ = words.Voice{}
}
