// Command generate writes the demo session files of Saltmarsh Links.
//
//	go run ./testdata/generate
//
// Everything in them is invented: the club, its remote coach, the students
// Wren, Tamsin, Odell and Priya, and every ball. The balls come from package
// player, golfers whose club, ball and air are not the standard model's (lift
// and drag after another source, other spin, a little wind nobody wrote down),
// with a covariance between face and path, strikes off the centre, a heavy tail
// of scatter, now and then a mishit, and the noise of a measuring device. What
// each file shows is therefore known from outside the analysis that reads it,
// and the test beside this file holds the analysis to it.
//
// The files are in as many shapes as people export: see the table in story.go,
// which also records the seed of each. The same table always writes the same
// bytes. A fortnight passes in them, from 1 to 14 June 2026, with Wren's lesson
// on the 5th.
//
// testdata/broken holds files no reader should accept, made here as well.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	out := flag.String("out", "testdata", "folder to write sessions and broken files into")
	flag.Parse()
	if err := generate(*out); err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(1)
	}
}

// generate writes every file below dir.
func generate(dir string) error {
	files, err := all()
	if err != nil {
		return err
	}
	for name, data := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// all are the bytes of every file by its path below testdata.
func all() (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, s := range story {
		data, err := s.bytes()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.file, err)
		}
		files["sessions/"+s.file] = data
	}
	broken, err := broken(files)
	if err != nil {
		return nil, err
	}
	for name, data := range broken {
		files["broken/"+name] = data
	}
	return files, nil
}

// broken are files that are not what their names say.
func broken(sessions map[string][]byte) (map[string][]byte, error) {
	book, ok := sessions["sessions/tamsin-2-alignment.xlsx"]
	if !ok {
		return nil, fmt.Errorf("the workbook to cut short is not in the story")
	}
	return map[string][]byte{
		"letter.csv": []byte("Dear coach,\n\nthe machine was down, so here is how it felt instead.\n" +
			"Most of them went right. I will bring the numbers next week.\n\nOdell\n"),
		"empty.csv":      {},
		"truncated.xlsx": book[:len(book)/2],
	}, nil
}
