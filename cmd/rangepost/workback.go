package main

import (
	"context"
	"errors"
	"fmt"
	"os"

	"rangepost/analysis"
	"rangepost/bot/report"
)

// workBackCommand works back from a shot to the club, or forward from a change of
// the club to the ball, without the chat.
type workBackCommand struct {
	File    string `arg:"" name:"file" help:"The session file whose swing it starts from."`
	Shot    string `help:"Either the shot: \"start 3 right, curve 8 left\", draw, low fade, \"carry 140\";" xor:"what"`
	Change  string `help:"or the change of the club: \"face 2 left, path 3 right, 4 less loft\"." xor:"what"`
	Club    string `help:"The club: driver, 3w, 4h, 7i, pw, 56; the one with the most balls if not said."`
	Sets    string `help:"Which balls were which: \"1-10 normal, 11-20 draw\"."`
	JSON    bool   `name:"json" help:"Print the whole result as JSON."`
	Picture string `help:"Write the picture to this PNG file." type:"path"`
	aFile
}

// Validate wants one of the two. The parser would show both as needed.
func (c *workBackCommand) Validate() error {
	if c.Shot == "" && c.Change == "" {
		return errors.New("give either --shot or --change")
	}
	return nil
}

// Run prints the work-back. The status is 2 where the file leaves a question open.
func (c *workBackCommand) Run(ctx context.Context, s streams) error {
	club, err := analysis.ParseClub(c.Club)
	if err != nil {
		return err
	}
	r, err := c.read(ctx, c.File, club, report.Options{Labels: c.Sets})
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	if len(r.Reading.Questions) > 0 {
		printQuestions(s.out, r.Reading.Questions)
		return exit(exitQuestions)
	}
	var w report.WorkBack
	if c.Shot != "" {
		w, err = r.ForShot(club, c.Shot)
	} else {
		w, err = r.ForChange(club, c.Change)
	}
	var refusal *analysis.Refusal
	if c.JSON && errors.As(err, &refusal) {
		doc, err := report.RefusalJSON(refusal)
		if err == nil {
			_, err = s.out.Write(doc)
		}
		return errors.Join(err, exit(exitFailed))
	}
	if err != nil {
		return err
	}
	if c.Picture != "" {
		picture, err := w.Picture(ctx, "")
		if err != nil {
			return err
		}
		if err := os.WriteFile(c.Picture, picture.PNG, 0o644); err != nil {
			return err
		}
	}
	if c.JSON {
		doc, err := w.JSON()
		if err != nil {
			return err
		}
		_, err = s.out.Write(doc)
		return err
	}
	for _, line := range w.Lines() {
		fmt.Fprintln(s.out, line)
	}
	return nil
}
