package pictures

import (
	"bytes"
	"context"
	"flag"
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// Goldens are written anew, and every case is written out to be looked at, by
//
//	go test ./bot/pictures -update
//	go test ./bot/pictures -run Look -look DIR
//
// A picture is looked at, 360 pixels wide too, before its golden is committed.
var (
	update = flag.Bool("update", false, "write the golden pictures anew")
	look   = flag.String("look", "", "folder to write every case's picture to")
)

// every is every case as a picture yet to be drawn.
func every() map[string]func(context.Context) ([]byte, error) {
	all := map[string]func(context.Context) ([]byte, error){}
	for name, in := range posts() {
		all["post-"+name] = func(ctx context.Context) ([]byte, error) { return Post(ctx, in) }
	}
	for name, in := range trials() {
		all["trial-"+name] = func(ctx context.Context) ([]byte, error) { return Trial(ctx, in) }
	}
	for name, in := range timelines() {
		all["timeline-"+name] = func(ctx context.Context) ([]byte, error) { return Timeline(ctx, in) }
	}
	for name, in := range tallies() {
		all["tally-"+name] = func(ctx context.Context) ([]byte, error) { return Tally(ctx, in) }
	}
	for name, in := range askeds() {
		all["asked-"+name] = func(ctx context.Context) ([]byte, error) { return Asked(ctx, in) }
	}
	for name, in := range plans() {
		all["plan-"+name] = func(ctx context.Context) ([]byte, error) { return Plan(ctx, in) }
	}
	for name, in := range seasonTables() {
		all["season-"+name] = func(ctx context.Context) ([]byte, error) { return Season(ctx, in) }
	}
	for name, in := range bars() {
		all["bars-"+name] = func(ctx context.Context) ([]byte, error) { return Bars(ctx, in) }
	}
	return all
}

// generous is a deadline no sound picture comes near, even on a busy machine.
const generous = 30 * time.Second

func TestEveryCaseRenders(t *testing.T) {
	for name, draw := range every() {
		ctx, cancel := context.WithTimeout(context.Background(), generous)
		b, err := draw(ctx)
		cancel()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		m := decode(t, b)
		if w := m.Bounds().Dx(); w != 1200 {
			t.Errorf("%s: %d pixels wide, want 1200", name, w)
		}
		if len(b) > 256<<10 {
			t.Errorf("%s: %d bytes, over 256 KiB: slow on a phone", name, len(b))
		}
	}
}

func TestLook(t *testing.T) {
	if *look == "" {
		t.Skip("-look names no folder")
	}
	for name, draw := range every() {
		b, err := draw(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(*look, name+".png"), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func TestGoldens(t *testing.T) {
	for _, name := range []string{"post-face", "post-wild", "timeline-one"} {
		b, err := every()[name](context.Background())
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join("testdata", name+".png")
		if *update {
			if err := os.WriteFile(file, b, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if share := differ(decode(t, b), decode(t, want)); share > 0.0005 {
			got := filepath.Join(t.TempDir(), name+".png")
			if *look != "" {
				got = filepath.Join(*look, name+".got.png")
			}
			os.WriteFile(got, b, 0o644)
			t.Errorf("%s: %.2f %% of the pixels differ from %s; -look DIR keeps what was drawn", name, 100*share, file)
		}
	}
}

// differ is the share of pixels that differ to the eye. Processors that fuse
// multiplication and addition move an edge by a fraction of a pixel now and
// then, so neither a faint difference nor a handful of pixels counts.
func differ(a, b image.Image) float64 {
	if a.Bounds() != b.Bounds() {
		return 1
	}
	p, q := image.NewRGBA(a.Bounds()), image.NewRGBA(b.Bounds())
	draw.Draw(p, p.Rect, a, a.Bounds().Min, draw.Src)
	draw.Draw(q, q.Rect, b, b.Bounds().Min, draw.Src)
	n := 0
	for i := 0; i < len(p.Pix); i += 4 {
		for k := range 3 {
			if d := int(p.Pix[i+k]) - int(q.Pix[i+k]); d > 24 || d < -24 {
				n++
				break
			}
		}
	}
	return float64(4*n) / float64(len(p.Pix))
}

func decode(t *testing.T, b []byte) image.Image {
	t.Helper()
	m, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return m
}
