package pictures

import (
	"context"
	"fmt"
	"runtime"
	"sync"

	"github.com/wcharczuk/go-chart/v2"
	"golang.org/x/sync/semaphore"
)

// seats bounds how many pictures are drawn at once: each holds some 6 MB and
// keeps a core busy.
var seats = semaphore.NewWeighted(int64(runtime.GOMAXPROCS(0)))

// typeface is go-chart's font. Its getter is a data race unless called once.
var typeface = sync.OnceValues(chart.GetDefaultFont)

// render gives paint a blank canvas of w by h pixels and returns it as a PNG.
// It waits for a seat and draws until ctx ends; on any error the picture is
// thrown away.
func render(ctx context.Context, w, h int, paint func(*canvas)) ([]byte, error) {
	if err := seats.Acquire(ctx, 1); err != nil {
		return nil, fmt.Errorf("picture not drawn: %w", err)
	}
	defer seats.Release(1)
	c, err := newCanvas(ctx, w, h)
	if err != nil {
		return nil, err
	}
	paint(c)
	if c.err != nil {
		return nil, fmt.Errorf("picture not finished: %w", c.err)
	}
	return encode(c.raster)
}
