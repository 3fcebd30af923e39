package sessionfile

import (
	"slices"
	"strings"
)

// A grid is a file as rows of cells, before anything is understood of it.
type grid struct {
	name  string // of the sheet or list, "" in a text file
	typed bool   // numbers come as numbers: a bare "12.5" has a decimal dot
	rows  []row
}

// A row is one row of the file, numbered as the golfer's own program numbers
// it.
type row struct {
	at    int // 1-based
	cells []string
}

func (r row) cell(i int) string {
	if i < len(r.cells) {
		return r.cells[i]
	}
	return ""
}

// blank reports whether a row says nothing: it is empty, or a line drawn around
// a table.
func (r row) blank() bool {
	if len(r.cells) > 0 && strings.HasPrefix(r.cells[0], "```") {
		return true
	}
	return !slices.ContainsFunc(r.cells, func(c string) bool {
		text := plainText(c)
		return text != "" && !(len(text) > 2 && isRule(text))
	})
}

// The most a file may hold. 5,000 shots is the promise; the rest leaves room
// for summaries, blank rows and columns nobody needs, and keeps hostile files
// small in memory.
const (
	maxBytes   = 10 << 20
	maxShots   = 5000
	maxRows    = 20000
	maxColumns = 512
	maxCells   = 600000
	maxCell    = 10000 // bytes of a cell
)
