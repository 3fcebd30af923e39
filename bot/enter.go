package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/bot/words"
	"rangepost/store"
)

// runEnter is /challenge enter: a session that is posted, or a file right here.
func runEnter(ctx context.Context, b *Bot, r Request) (Reply, error) {
	c, err := b.chosenChallenge(ctx, r, true)
	if err != nil {
		return Reply{}, err
	}
	said, err := b.saidBeside(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	want := r.Options["session"]
	if file, ok := r.Files[r.Options["file"]]; ok {
		if c.Over(b.now()) {
			return Reply{}, errOver(c)
		}
		kept, answer, _, err := b.keepFile(ctx, r, r.Asker.ID, file, said)
		if err != nil {
			return Reply{}, err
		}
		if questions := answer.Reading.Questions; len(questions) > 0 {
			asked := askQuestions(kept, questions, Reply{about: r.Asker.ID, Private: true})
			asked.Text = clip(asked.Text+"\nOnce that is answered, enter it again.", MaxText)
			return asked, nil
		}
		want = kept.ID
	} else if want != "" && (said.Ball != "" || !said.Club.Unknown()) {
		s, err := b.db.Session(ctx, r.Server, want)
		if err != nil {
			return Reply{}, err
		}
		if s.Student != r.Asker.ID {
			return Reply{}, errNotYours
		}
		s.Said = mergeSaid(s.Said, said)
		answer, err := b.reread(ctx, s)
		if err != nil {
			return Reply{}, err
		}
		if _, err := b.db.ReplaceReading(ctx, s.Server, s.ID, keepReading(answer), s.Said); err != nil {
			return Reply{}, err
		}
	}
	return b.enter(ctx, r, c, want)
}

// pressEnter is the button under the standings.
func pressEnter(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	c, err := b.db.Challenge(ctx, r.Server, args[0])
	if err != nil {
		return Reply{}, err
	}
	return b.enter(ctx, r, c, "")
}

func errOver(c store.Challenge) error {
	return analysis.Refuse("`/challenge standings` shows how it ended.", "%s is over.", c.Name)
}

// enter enters a player's first session that counts; want is the one they
// mean, "" for whichever it is.
func (b *Bot) enter(ctx context.Context, r Request, c store.Challenge, want string) (Reply, error) {
	if c.Over(b.now()) {
		return Reply{}, errOver(c)
	}
	terms, err := decodeTerms(c.Terms)
	if err != nil {
		return Reply{}, err
	}
	s, stretch, err := b.counting(ctx, r, c, terms, want)
	if err != nil {
		return Reply{}, err
	}
	var past challenge.Past
	if terms.Rule == challenge.Progress {
		if past, err = b.past(ctx, r.Server, r.Asker.ID, c, terms); err != nil {
			return Reply{}, err
		}
	}
	entry := store.Entry{Challenge: c.ID, Server: r.Server, Player: r.Asker.ID, Session: s.ID, SHA256: s.SHA256}
	if entry.Stretch, err = json.Marshal(stretch); err != nil {
		return Reply{}, err
	}
	if entry.Past, err = json.Marshal(past); err != nil {
		return Reply{}, err
	}
	if r.Asker.Name != "" {
		if err := b.db.SetName(ctx, r.Server, r.Asker.ID, words.Cut(words.Clean(r.Asker.Name), 40)); err != nil {
			return Reply{}, err
		}
	}
	_, err = b.db.Enter(ctx, entry, func(others []store.Entry) error {
		for _, o := range others {
			other, err := decodeEntry(o)
			if err != nil {
				return err
			}
			if challenge.Same(stretch, other.stretch) {
				return analysis.Refuse("Enter balls of your own.", "These balls are in the challenge already, from another file.")
			}
		}
		return nil
	})
	switch {
	case errors.Is(err, store.ErrTaken):
		return b.entered(ctx, r, c)
	case errors.Is(err, store.ErrExpired):
		return Reply{}, errOver(c)
	case err != nil:
		return Reply{}, err
	}
	return b.enteredReply(ctx, r, c, s, stretch)
}

// entered answers a second entry: a player has one, and a file counts once.
func (b *Bot) entered(ctx context.Context, r Request, c store.Challenge) (Reply, error) {
	t, err := b.table(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	if _, in := t.rowOf(r.Asker.ID); !in {
		return Reply{}, analysis.Refuse("Enter balls of your own.", "That file is in the challenge already.")
	}
	return Reply{}, analysis.Refuse("`/challenge standings` shows your place.", "You are in, and one entry is all: the best of several would be luck.")
}

func (b *Bot) enteredReply(ctx context.Context, r Request, c store.Challenge, s store.Session, stretch challenge.Stretch) (Reply, error) {
	t, err := b.table(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	row, ok := t.rowOf(r.Asker.ID)
	if !ok {
		return Reply{}, store.ErrNotFound
	}
	lines := []string{
		fmt.Sprintf("You are in %s with your session of %s: %s, %s of %d.", escape(c.Name), day(s.At),
			t.voice.ChallengeScore(t.terms, row.Score), words.Ordinal(row.Place), len(t.Rows)),
		counted(stretch),
		weighed(t.terms, row.Score),
		words.ChallengeRanks(row, len(t.Rows)),
		fmt.Sprintf("Your name and this score now show in <#%s>, and nothing else of yours. `/mine consent` takes you out again.", c.Channel),
	}
	return private(strings.Join(slices.DeleteFunc(lines, func(l string) bool { return l == "" }), "\n")), nil
}

// counted says which balls of a session count.
func counted(s challenge.Stretch) string {
	first, last := s.Balls[0].N, s.Balls[len(s.Balls)-1].N
	text := fmt.Sprintf("Counted: %d balls, number %d to %d of the file", len(s.Balls), first, last)
	if s.Mishits > 0 {
		text += fmt.Sprintf(", mishits too (%d)", s.Mishits)
	}
	if s.Passed > 0 {
		text += fmt.Sprintf("; passed over as misread or not measured: %d", s.Passed)
	}
	if s.Moved > 0 {
		text += fmt.Sprintf("; brought to still standard air by the flight model: %d", s.Moved)
	}
	if s.Inferred > 0 {
		text += fmt.Sprintf("; worked back from other numbers rather than measured: %d", s.Inferred)
	}
	return text + "."
}

// weighed says what became of a gain; "" for other rules.
func weighed(t challenge.Terms, s challenge.Score) string {
	if t.Rule != challenge.Progress {
		return ""
	}
	way := "nearer"
	if s.Seen < 0 {
		way = "further"
	}
	return fmt.Sprintf("As hit they were %.0f %% %s; most of what so few balls gain or lose is luck, so %.0f %% of it counts.", 100*math.Abs(s.Seen), way, 100*s.Weight)
}

// counting is the session of a player that counts: the first posted since the
// opening, and hit since then as far as known, that can be scored. What might
// come first and is not settled yet has to be settled first, or whoever leaves
// a bad session unsettled would enter a better one.
func (b *Bot) counting(ctx context.Context, r Request, c store.Challenge, terms challenge.Terms, want string) (s store.Session, stretch challenge.Stretch, err error) {
	infos, err := b.db.Sessions(ctx, r.Server, r.Asker.ID, store.SessionFilter{PostedSince: c.Opened})
	if err != nil {
		return s, stretch, err
	}
	slices.SortStableFunc(infos, func(x, y store.SessionInfo) int { return x.Posted.Compare(y.Posted) })
	// A file may say the day of a session and not the hour.
	openingDay := c.Opened.Truncate(24 * time.Hour)
	var why error
	for _, info := range infos {
		if info.At.Before(openingDay) {
			if info.ID == want {
				return s, stretch, analysis.Refuse("Enter one hit since then.", "That session was hit before the challenge opened.")
			}
			continue
		}
		if s, err = b.db.Session(ctx, r.Server, info.ID); err != nil {
			return s, stretch, err
		}
		if len(s.Reading.Questions) > 0 {
			return s, stretch, analysis.Refuse("Answer it with `/post` of the same file, then enter.", "Your session of %s has an open question about its file, so it cannot be scored yet.", day(s.At))
		}
		taken, err := terms.Take(s.Reading.Session)
		if err == nil {
			if want != "" && want != s.ID {
				return s, stretch, analysis.Refuse("Leave the option `session` out.", "The first session with the balls is the one that counts, and yours is that of %s. Choosing the best of several would be luck.", day(s.At))
			}
			return s, taken, nil
		}
		if unsaid(terms, s.Reading.Session) {
			return s, stretch, analysis.Refuse("Say it with `/challenge enter`, options `session` and `ball`.", "I do not know what kind of balls your session of %s was hit with, and it may be the one that counts.", day(s.At))
		}
		why = err // the latest is the one they will mean
		if info.ID == want {
			return s, stretch, why
		}
	}
	switch {
	case want != "":
		return s, stretch, analysis.Refuse("Enter one posted since.", "That session is none of yours since the challenge opened.")
	case why != nil:
		return s, stretch, why
	}
	return s, stretch, analysis.Refuse("Post one with `/post`, or hand the file over with `/challenge enter`.", "You have posted no session since %s opened.", c.Name)
}

// unsaid reports whether a session could count but for its kind of ball, which
// nobody said.
func unsaid(t challenge.Terms, s analysis.Session) bool {
	if !t.OfTheBall() || s.Ball == analysis.NewBall || s.Ball == analysis.RangeBall {
		return false
	}
	s.Ball = t.Ball
	_, err := t.Take(s)
	return err == nil
}

// past is a player's window before the opening.
func (b *Bot) past(ctx context.Context, server, player string, c store.Challenge, terms challenge.Terms) (challenge.Past, error) {
	infos, err := b.db.Sessions(ctx, server, player, store.SessionFilter{})
	if err != nil {
		return challenge.Past{}, err
	}
	var sessions []analysis.Session
	var p challenge.Past
	for _, info := range infos {
		if !info.Posted.Before(c.Opened) || info.Open > 0 {
			continue
		}
		s, err := b.db.Session(ctx, server, info.ID)
		if err != nil {
			return p, err
		}
		sessions = append(sessions, s.Reading.Session)
		if p, err = terms.PastOf(sessions); err == nil {
			return p, nil
		}
	}
	_, err = terms.PastOf(sessions)
	return p, err
}
