package pictures

import (
	"context"
	"os"
	"testing"
)

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	in := invent(plan{balls: 24, face: -2.9, path: -.8, sdFace: 1.3, sdPath: 1.5, rest: .6, spread: 3, carry: 140, seed: 1})
	png, err := Post(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	os.WriteFile(dir+"/post.png", png, 0o644)
}
