package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"time"
)

// demoCommand plays the scripted fortnight.
type demoCommand struct {
	Out string `help:"Folder for the transcript (index.html, transcript.txt) and every picture." default:"demo" type:"path"`
}

// Run plays and writes.
func (c *demoCommand) Run(ctx context.Context, s streams) (err error) {
	ctx, cancel := context.WithTimeout(ctx, 5*time.Minute)
	defer cancel()
	st, err := newStage(ctx, fortnightBegins, io.Discard, "")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, st.close()) }()
	play := newPlay(ctx, st)
	played := play.fortnight()
	p := newPage("A fortnight at Saltmarsh Links",
		"Every reply was made by the real bot, on a stand-in for the chat platform. The club, its people and every ball are invented.",
		st.Transcript(), st.Names())
	if err := errors.Join(played, p.write(c.Out)); err != nil {
		return err // what was played until then is written all the same
	}
	fmt.Fprintf(s.out, "A fortnight at Saltmarsh Links: %d days, %d replies and questions, %d files.\nOpen %s\n",
		len(p.Days), p.lines(), len(p.files), filepath.Join(c.Out, "index.html"))
	return nil
}
