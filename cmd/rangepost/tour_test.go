package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The tour leads through rooms that exist, and through all of them.
func TestTourIsTrue(t *testing.T) {
	const root = "../.."
	data, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{}
	for _, m := range regexp.MustCompile("`((?:analysis|bot|cmd|store|testdata)[a-z/_.]*)`").FindAllStringSubmatch(string(data), -1) {
		path := strings.TrimSuffix(m[1], "/")
		named[path] = true
		// bench.md and the like are files, the rest are folders.
		if _, err := os.Stat(filepath.Join(root, path)); err != nil {
			t.Errorf("DEVELOPERS.md names %s: %v", m[1], err)
		}
	}
	for _, p := range packages(t) {
		room := strings.TrimPrefix(p.ImportPath, "rangepost/")
		// A room within a room is led to by the outer one; the two houses,
		// analysis and bot, are too large to count.
		outer := filepath.Dir(room)
		if !named[room] && (!named[outer] || outer == "analysis" || outer == "bot") {
			t.Errorf("the tour does not lead to %s", p.ImportPath)
		}
	}
}
