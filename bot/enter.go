package bot

import (
	"context"
	"fmt"
	"math"

	"rangepost/analysis/challenge"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// runEnter is /challenge enter: a session that is posted, or a file right here.
func runEnter(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := chosenChallenge(ctx, b, r, true)
	if err != nil {
		return Reply{}, err
	}
	said, err := saidBeside(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	want := r.Options["session"]
	if file, ok := r.Files[r.Options["file"]]; ok {
		if c.Over(b.now()) {
			return Reply{}, record.Over(c)
		}
		s, answer, _, err := takeFile(ctx, b, r, file, said)
		if err != nil {
			return Reply{}, err
		}
		if questions := answer.Reading.Questions; len(questions) > 0 {
			asks := askQuestions(s, questions, Reply{about: r.Asker.ID, Private: true})
			asks.Text = words.Clip(asks.Text+"\nOnce that is answered, enter it again.", MaxText)
			return asks, nil
		}
		want = s.ID
	} else if want != "" && (said.Ball != "" || !said.Club.Unknown()) {
		if _, _, err := b.records.Say(ctx, r.Session, said.Over(r.Session.Said)); err != nil {
			return Reply{}, err
		}
	}
	return enter(ctx, b, r, c, want)
}

// pressEnter is the button under the standings.
func pressEnter(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := b.db.Challenge(ctx, r.Server, r.Args[0])
	if err != nil {
		return Reply{}, err
	}
	return enter(ctx, b, r, c, "")
}

// enter enters the asker's first session that counts; want is the one they
// mean, "" for whichever it is.
func enter(ctx context.Context, b *Bot, r Call, c store.Challenge, want string) (Reply, error) {
	if err := named(ctx, b, r.Server, r.Asker); err != nil {
		return Reply{}, err
	}
	s, stretch, err := b.records.Enter(ctx, c, r.Asker.ID, want)
	if err != nil {
		return Reply{}, err
	}
	standings, err := b.records.Standings(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	row, ok := standings.Of(r.Asker.ID)
	if !ok {
		return Reply{}, store.ErrNotFound
	}
	lines := []string{
		fmt.Sprintf("You are in %s with your session of %s: %s, %s of %d.", words.Escape(c.Name), r.day(s.At),
			placesOf(standings).voice.ChallengeScore(standings.Terms, row.Score), words.Ordinal(row.Place), len(standings.Rows)),
		counted(stretch),
		weighed(standings.Terms, row.Score),
		words.ChallengeRanks(row, len(standings.Rows)),
		fmt.Sprintf("Your name and this score now show in <#%s>, and nothing else of yours. `/mine consent` takes you out again.", c.Channel),
	}
	return private(words.Lines(lines...)), nil
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
