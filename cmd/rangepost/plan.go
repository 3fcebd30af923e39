package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/brief"
	"rangepost/analysis/plan"
	"rangepost/analysis/sessionfile"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
)

// planCommand is a plan without the chat: its card, and what files say of it.
type planCommand struct {
	New   planNew   `cmd:"" help:"Lay out a trial before it is hit, and print its card."`
	Judge planJudge `cmd:"" help:"Say how the plan of a card stands after files that were hit for it."`
}

// aFile is what a session file does not say.
type aFile struct {
	Hand   string            `help:"Which hand the golfer plays from: right or left." enum:"right,left," default:""`
	Answer map[string]string `help:"Answer to a question about a file: key=value." placeholder:"KEY=VALUE"`
	Metres bool              `help:"Say distances in metres and speeds in m/s."`
}

func (f aFile) voice() words.Voice {
	v := words.Voice{Plain: true}
	if f.Hand == "left" {
		v.Hand = analysis.LeftHanded
	}
	if f.Metres {
		v.Units = analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}
	}
	return v
}

// read reads a session as `read` does, with the club that was named where the file
// names none.
func (f aFile) read(ctx context.Context, file string, club analysis.Club, ro report.Options) (report.Report, error) {
	o := sessionfile.Options{Club: club, Answers: f.Answer}
	if f.Hand != "" {
		o.Hand, o.HandSet = f.voice().Hand, true
	}
	data, err := slurp(nil, file)
	if err != nil {
		return report.Report{}, err
	}
	reading, err := sessionfile.Read(filepath.Base(file), data, o)
	if err != nil {
		return report.Report{}, err
	}
	ro.Plain, ro.Seed, ro.Units = true, report.DefaultSeed, f.voice().Units
	return report.Of(ctx, reading, ro)
}

type planNew struct {
	aFile
	Club    string   `help:"The club: driver, 3w, 4h, 7i, pw, 56." required:""`
	Against string   `help:"What to try against the usual setup, one or two with a comma: \"stronger grip\"." required:""`
	Number  string   `help:"The number of interest: face, path, carry ..." default:"face"`
	Change  float64  `help:"How small a change of it matters, in degrees, yards (or metres) or mph (or m/s); what golfers care about if not said."`
	From    []string `help:"Earlier sessions of this golfer, whose scatter it is reckoned from." type:"path"`
	Seed    *uint64  `help:"Seed of the order of the turns, for the same card again; drawn if not said."`
	JSON    bool     `name:"json" help:"Print the card as JSON, for judge."`
}

// Run prints the card.
func (c *planNew) Run(ctx context.Context, s streams) error {
	club, err := analysis.ParseClub(c.Club)
	if err != nil {
		return err
	}
	number, ok := brief.Number(c.Number)
	if !ok {
		return analysis.Refuse("Name one as face, path, face to path or carry.", "%q is not a number I know.", c.Number).Of("number")
	}
	labels := []string{record.AsUsual}
	for label := range strings.SplitSeq(c.Against, ",") {
		labels = append(labels, strings.TrimSpace(label))
	}
	config := plan.Config{Club: club, Labels: labels, Number: number, Change: c.Change * c.voice().Scale(number.Info().Kind), Seed: rand.Uint64N(1 << 32)}
	if c.Seed != nil {
		config.Seed = *c.Seed
	}
	for _, file := range c.From {
		r, err := c.read(ctx, file, club, report.Options{})
		if err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		config.Earlier = append(config.Earlier, r.Session)
	}
	card, err := plan.New(config)
	if err != nil {
		return err
	}
	if c.JSON {
		text, err := json.MarshalIndent(card, "", "  ")
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(s.out, "%s\n", text)
		return err
	}
	v := c.voice()
	lines := append([]string{words.Sentence(v.PlanAbout(card)) + ".", v.PlanShows(card), words.PlanRules()}, v.PlanTurns(card, 0)...)
	for _, line := range append(lines, v.PlanCautions(card)...) {
		fmt.Fprintln(s.out, line)
	}
	return nil
}

type planJudge struct {
	aFile
	Card  string   `arg:"" help:"The card, as new --json printed it." type:"path"`
	Files []string `arg:"" name:"file" help:"Session files in the order they were hit." type:"path"`
	JSON  bool     `name:"json" help:"Print the whole result as JSON."`
}

// Run judges the files. The status is 2 where something has to be asked first:
// what a file leaves open, or which of its balls are which of the card's, which is
// answered by plan:1=KEY for the first file.
func (c *planJudge) Run(ctx context.Context, s streams) error {
	text, err := os.ReadFile(c.Card)
	if err != nil {
		return err
	}
	j := report.Judged{Voice: c.voice()}
	if err := json.Unmarshal(text, &j.Card); err != nil {
		return err
	}
	var worths plan.Worths
	open := false
	for i, file := range c.Files {
		r, err := c.read(ctx, file, j.Card.Club, report.Options{})
		if err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		f := report.JudgedFile{Name: filepath.Base(file)}
		if len(r.Reading.Questions) > 0 {
			f.Question, open = &r.Reading.Questions[0], true
			j.Files = append(j.Files, f)
			continue
		}
		placed, err := c.place(j.Card, j.Visits, r.Session, fmt.Sprintf("plan:%d", i+1), &f)
		if err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		j.Files = append(j.Files, f)
		if f.Question != nil {
			open = true
			continue
		}
		j.Visits = append(j.Visits, placed)
		if m := r.MainOf(j.Card.Club); m >= 0 && r.Sets[m].Cause.FaceWorth != 0 {
			cause := r.Sets[m].Cause
			worths = plan.Worths{Face: cause.FaceWorth, Path: cause.PathWorth, Doubt: cause.WorthDoubt}
		}
	}
	if err := j.Judge(worths); err != nil {
		return err
	}
	if err := c.print(s, j); err != nil {
		return err
	}
	if open {
		return exit(exitQuestions)
	}
	return nil
}

// place finds the places of a file's balls, or what has to be asked.
func (c *planJudge) place(card plan.Plan, before []plan.Placed, session analysis.Session, key string, f *report.JudgedFile) (plan.Placed, error) {
	var placed plan.Placed
	match, err := card.Match(before, session)
	if err != nil {
		return placed, err
	}
	placed, f.Reading = match.Placed, match.Reading
	if len(match.Likely) > 0 {
		chosen, answered := c.Answer[key]
		if !answered {
			f.Question = &analysis.Question{Key: key, Text: c.voice().PlanAsks(card, len(session.Shots)), Alone: true}
			for _, r := range match.Likely {
				f.Question.Choices = append(f.Question.Choices, analysis.Choice{Value: r.Key, Text: words.PlanReading(r)})
			}
			return placed, nil
		}
		if placed, err = card.Take(before, session, chosen); err != nil {
			return placed, err
		}
		f.Reading = plan.Reading{Key: chosen}
	}
	for _, turn := range placed.Turn {
		label := ""
		if turn != plan.Nowhere {
			label = card.Labels[card.Turns[turn].Set]
		}
		f.Sets = append(f.Sets, label)
	}
	return placed, nil
}

func (c *planJudge) print(s streams, j report.Judged) error {
	if c.JSON {
		doc, err := j.JSON()
		if err != nil {
			return err
		}
		_, err = s.out.Write(doc)
		return err
	}
	for _, f := range j.Files {
		if q := f.Question; q != nil {
			fmt.Fprintf(s.out, "%s: %s\n", f.Name, q.Text)
			for _, choice := range q.Choices {
				fmt.Fprintf(s.out, "  --answer %s=%s  %s\n", q.Key, choice.Value, choice.Text)
			}
		}
		if len(f.Reading.Parts) > 0 {
			fmt.Fprintf(s.out, "%s: %s\n", f.Name, words.PlanTaken(f.Reading))
		}
	}
	for _, line := range j.Sentences() {
		fmt.Fprintln(s.out, line)
	}
	return nil
}
