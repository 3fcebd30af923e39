// Package testdata carries the session files of the demo, so that the one
// binary plays it wherever it is run. All of it is invented; the generator
// beside it (go run ./testdata/generate) makes it again.
package testdata

import "embed"

// Files are the session files ("sessions/...") and files no session can be read
// from ("broken/...").
//
//go:embed sessions broken
var Files embed.FS
