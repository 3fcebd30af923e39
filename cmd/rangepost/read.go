package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/bot/report"
)

// readCommand is the bot's own reading, cause and picture, without the chat.
type readCommand struct {
	Files    []string          `arg:"" name:"file" help:"Session files; - reads standard input."`
	Hand     string            `help:"Which hand the golfer plays from: right or left." enum:"right,left," default:""`
	Club     string            `help:"The club, where the file does not say: driver, 3w, 4h, 7i, pw, 56."`
	Ball     string            `help:"What kind of ball: new, range or unknown; the file's own if you do not say." enum:"new,range,unknown," default:""`
	Target   string            `help:"The carry aimed at: 150yd or 137m, or by club 7i 150yd, pw 110yd."`
	Wind     string            `help:"The wind: 12 mph headwind (or tailwind), 12 mph from the left, 12 mph left to right, 5 m/s from 2 o'clock (12 is from the target), or 5mps@270, in degrees clockwise from the target line (0 into the face)."`
	Sets     string            `help:"Which balls were which: \"1-10 normal, 11-20 strong grip; 3 was a shank\"."`
	Baseline string            `help:"The set the others are compared with."`
	Answer   map[string]string `help:"Answer to a question about the file: key=value." placeholder:"KEY=VALUE"`
	Metres   bool              `help:"Say distances in metres and speeds in m/s."`
	Explain  bool              `help:"Add the whole explanation, line by line."`
	JSON     bool              `name:"json" help:"Print the whole result as JSON."`
	Picture  string            `help:"Write the picture to this PNG file; a trial goes beside it as NAME-trial.png." type:"path"`
	Seed     uint64            `help:"Seed of the sampled limits." default:"1"`
}

// Run reads the files one after the other. The status is that of the worst.
func (c *readCommand) Run(ctx context.Context, s streams) error {
	worst := exit(exitOK)
	for i, file := range c.Files {
		status, err := c.read(ctx, s, file, i)
		if err != nil {
			return err
		}
		// Refused outranks questions, questions outrank read.
		if status == exitFailed || worst == exitOK {
			worst = status
		}
	}
	if worst != exitOK {
		return worst
	}
	return nil
}

func (c *readCommand) read(ctx context.Context, s streams, file string, i int) (exit, error) {
	data, err := slurp(s.in, file)
	if err != nil {
		return exitFailed, err
	}
	o, ro, err := c.options()
	if err != nil {
		return exitFailed, err
	}
	reading, err := sessionfile.Read(filepath.Base(file), data, o)
	if err != nil {
		return exitFailed, c.refuse(s, file, err)
	}
	r, err := report.Of(ctx, reading, ro)
	if err != nil {
		return exitFailed, err
	}
	if len(c.Files) > 1 && !c.JSON {
		fmt.Fprintf(s.out, "%s:\n", file)
	}
	if err := c.print(s.out, r); err != nil {
		return exitFailed, err
	}
	if len(reading.Questions) > 0 {
		return exitQuestions, nil
	}
	if c.Picture != "" {
		if err := c.draw(ctx, r, i); err != nil {
			return exitFailed, err
		}
	}
	return exitOK, nil
}

// maxFile is a byte more than the reader takes, so that the reader is the one
// to refuse.
const maxFile = 10<<20 + 1

func slurp(in io.Reader, file string) ([]byte, error) {
	if file != "-" {
		f, err := os.Open(file)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		in = f
	}
	return io.ReadAll(io.LimitReader(in, maxFile))
}

func (c *readCommand) options() (sessionfile.Options, report.Options, error) {
	var o sessionfile.Options
	ro := report.Options{
		Units: c.units(), Plain: true,
		Labels: c.Sets, Baseline: c.Baseline, Seed: c.Seed,
	}
	o.Answers = c.Answer
	var err error
	if c.Hand != "" {
		if o.Hand, err = analysis.ParseHand(c.Hand); err != nil {
			return o, ro, err
		}
		o.HandSet = true
	}
	if o.Club, err = analysis.ParseClub(c.Club); err != nil {
		return o, ro, err
	}
	if c.Wind != "" {
		speed, from, err := analysis.ParseWind(c.Wind)
		if err != nil {
			return o, ro, err
		}
		o.Air.WindSpeed, o.Air.WindFrom = &speed, &from
	}
	o.Ball, o.Sets = analysis.Ball(c.Ball), c.Sets != ""
	if c.Target != "" {
		if ro.Targets, err = report.ParseTargets(c.Target, c.units()); err != nil {
			return o, ro, err
		}
	}
	return o, ro, nil
}

func (c *readCommand) units() analysis.Units {
	if c.Metres {
		return analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}
	}
	return analysis.Units{}
}

// refuse says why a file could not be read.
func (c *readCommand) refuse(s streams, file string, err error) error {
	var refusal *analysis.Refusal
	if !errors.As(err, &refusal) {
		return err
	}
	if c.JSON {
		doc, err := report.RefusalJSON(refusal)
		if err != nil {
			return err
		}
		_, err = s.out.Write(doc)
		return err
	}
	fmt.Fprintf(s.err, "%s: %s\n", file, refusal)
	if refusal.Hint != "" {
		fmt.Fprintf(s.err, "hint: %s\n", refusal.Hint)
	}
	return nil
}

func (c *readCommand) print(out io.Writer, r report.Report) error {
	if c.JSON {
		doc, err := r.JSON()
		if err != nil {
			return err
		}
		_, err = out.Write(doc)
		return err
	}
	if len(r.Reading.Questions) > 0 {
		printQuestions(out, r.Reading.Questions)
		return nil
	}
	for _, line := range r.Sentences() {
		fmt.Fprintln(out, line)
	}
	if c.Explain {
		fmt.Fprintln(out)
		for _, line := range r.Explanations() {
			fmt.Fprintln(out, line)
		}
	}
	return nil
}

func printQuestions(out io.Writer, questions []analysis.Question) {
	for _, q := range questions {
		fmt.Fprintf(out, "Question: %s\n", q.Text)
		for _, choice := range q.Choices {
			fmt.Fprintf(out, "  --answer %s=%s  %s\n", q.Key, choice.Value, choice.Text)
		}
	}
	if len(questions) > 0 {
		fmt.Fprintln(out, "Answer in one command, with an --answer for each, those given before among them.")
	}
}

// draw writes the pictures of the i-th file. With several files each gets its
// number before the ending.
func (c *readCommand) draw(ctx context.Context, r report.Report, i int) error {
	main := r.Main()
	if main < 0 {
		return errors.New("there is no ball to draw")
	}
	ending := filepath.Ext(c.Picture)
	stem := strings.TrimSuffix(c.Picture, ending)
	if len(c.Files) > 1 {
		stem = fmt.Sprintf("%s-%d", stem, i+1)
	}
	picture, err := r.Picture(ctx, main, "")
	if err != nil {
		return err
	}
	if err := os.WriteFile(stem+ending, picture.PNG, 0o644); err != nil {
		return err
	}
	for k, t := range r.Trials {
		if picture, err = r.TrialPicture(ctx, t, ""); err != nil {
			return err
		}
		name := stem + "-trial"
		if k > 0 { // another club's
			name += "-" + t.Sets[0].Club.Key()
		}
		if err := os.WriteFile(name+ending, picture.PNG, 0o644); err != nil {
			return err
		}
	}
	return nil
}
