package bot

import (
	"context"
	"errors"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// A post is a file with what was said beside it: all that an answer is made
// from, whether it comes from the chat or from the store.
type post struct {
	server, student string
	name            string
	raw             []byte
	said            store.Said
	posted          time.Time // zero for one that is not kept yet
}

// read makes the whole answer to a post. A file with the same header that
// somebody answered questions about before is read by those answers; what was
// said of this very file counts more.
func (b *Bot) read(ctx context.Context, p post) (report.Report, error) {
	student, err := b.db.Student(ctx, p.server, p.student)
	if err != nil {
		return report.Report{}, err
	}
	o := sessionfile.Options{Club: p.said.Club, Answers: p.said.Answers}
	if student.Hand != nil {
		o.Hand, o.HandSet = *student.Hand, true
	}
	reading, err := sessionfile.Read(p.name, p.raw, o)
	if err != nil {
		return report.Report{}, err
	}
	remembered, err := b.db.Answers(ctx, p.server, reading.Fingerprint)
	if err != nil {
		return report.Report{}, err
	}
	if len(remembered) > 0 {
		o.Answers = remembered.With(p.said.Answers)
		if reading, err = sessionfile.Read(p.name, p.raw, o); err != nil {
			return report.Report{}, err
		}
	}
	if p.said.Ball != "" {
		reading.Session.Ball = p.said.Ball
	}
	if !p.said.When.IsZero() {
		reading.Session.When = p.said.When
	}
	reading.Session.Note = p.said.Note

	voice, err := b.voice(ctx, student)
	if err != nil {
		return report.Report{}, err
	}
	briefs, err := b.briefsAt(ctx, p.server, p.student, p.posted)
	if err != nil {
		return report.Report{}, err
	}
	taught, err := b.db.Taught(ctx, p.server, p.student, analysis.Club{})
	if err != nil {
		return report.Report{}, err
	}
	return report.Of(reading, report.Options{Voice: voice, Target: p.said.Target, Labels: p.said.Sets, Briefs: briefs, Taught: taught})
}

// reread makes the whole answer to a kept session from its kept file.
func (b *Bot) reread(ctx context.Context, s store.Session) (report.Report, error) {
	raw, err := b.db.Raw(ctx, s.Server, s.ID)
	if err != nil {
		return report.Report{}, err
	}
	return b.read(ctx, post{server: s.Server, student: s.Student, name: s.Name, raw: raw, said: s.Said, posted: s.Posted})
}

// opened is a session the asker may see, with the whole answer to it.
func (b *Bot) opened(ctx context.Context, r Request, id string) (store.Session, report.Report, error) {
	s, err := b.readable(ctx, r, id)
	if err != nil {
		return s, report.Report{}, err
	}
	answer, err := b.reread(ctx, s)
	return s, answer, err
}

// keepReading is a report's reading as the store keeps it: with mishits
// flagged and what could be inferred filled in, so that timelines rest on what
// the replies rested on.
func keepReading(r report.Report) store.Reading {
	return store.Reading{
		Session:     r.Session,
		Fingerprint: r.Reading.Fingerprint,
		RowsRead:    r.Reading.File.RowsRead,
		RowsDropped: r.Reading.File.SummaryRowsDropped,
		Labelled:    r.Reading.Labelled,
		Decisions:   r.Reading.Decisions,
		Questions:   r.Reading.Questions,
		Taught:      r.Teaches(),
	}
}

// spokenTo is a student and how they are spoken to.
func (b *Bot) spokenTo(ctx context.Context, server, id string) (store.Student, words.Voice, error) {
	student, err := b.db.Student(ctx, server, id)
	if err != nil {
		return student, words.Voice{}, err
	}
	voice, err := b.voice(ctx, student)
	return student, voice, err
}

// voice is how a student is spoken to: their own units, else the clubhouse's.
func (b *Bot) voice(ctx context.Context, s store.Student) (words.Voice, error) {
	house, err := b.db.Clubhouse(ctx, s.Server)
	if err != nil {
		return words.Voice{}, err
	}
	return voiceOf(s, house), nil
}

func voiceOf(s store.Student, house store.Clubhouse) words.Voice {
	v := words.Voice{Units: s.Units.Or(house.Units)}
	if s.Hand != nil {
		v.Hand = *s.Hand
	}
	return v
}

// briefsAt is the brief a student had when a session was posted: a later one
// says nothing of it. The zero time is now.
func (b *Bot) briefsAt(ctx context.Context, server, student string, posted time.Time) ([]analysis.Brief, error) {
	if posted.IsZero() {
		return b.briefs(ctx, server, student)
	}
	all, err := b.db.Briefs(ctx, server, student)
	if err != nil {
		return nil, err
	}
	for _, k := range slices.Backward(all) {
		running := !k.At.After(posted) && (k.Ended.IsZero() || k.Ended.After(posted)) && (k.Until.IsZero() || !k.Until.Before(posted))
		if running {
			asked, err := b.briefOf(ctx, k)
			return []analysis.Brief{asked}, err
		}
	}
	return nil, nil
}

// briefs is the student's brief as the timeline package speaks of it.
func (b *Bot) briefs(ctx context.Context, server, student string) ([]analysis.Brief, error) {
	kept, err := b.db.ActiveBrief(ctx, server, student)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	asked, err := b.briefOf(ctx, kept)
	return []analysis.Brief{asked}, err
}

// chosen is the session a command's option names, or the student's latest.
func (b *Bot) chosen(ctx context.Context, r Request) (store.Session, error) {
	if id := r.Options["session"]; id != "" {
		return b.readable(ctx, r, id)
	}
	student, err := b.subject(ctx, r)
	if err != nil {
		return store.Session{}, err
	}
	s, err := b.db.LatestSession(ctx, r.Server, student)
	if errors.Is(err, store.ErrNotFound) {
		return s, analysis.Refuse("Post a file with `/post` first.", "There is no session yet.")
	}
	return s, err
}

// club reads the option "club"; the zero club when it was not given.
func club(r Request) (analysis.Club, error) {
	c, err := analysis.ParseClub(r.Options["club"])
	if err != nil {
		return c, analysis.Refuse("Write it as driver, 3w, 4h, 7i, pw or 56.", "\"%s\" is not a club I know.", words.Cut(r.Options["club"], 40))
	}
	return c, nil
}
