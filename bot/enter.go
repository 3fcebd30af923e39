package bot

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"rangepost/analysis"
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

// enter enters the asker's first balls that count; want is a session they
// mean, "" for whichever it is.
func enter(ctx context.Context, b *Bot, r Call, c store.Challenge, want string) (Reply, error) {
	if err := named(ctx, b, r.Server, r.Asker); err != nil {
		return Reply{}, err
	}
	e, err := b.records.Enter(ctx, c, r.Asker.ID, want)
	var unsaid record.BallUnsaid
	if errors.As(err, &unsaid) {
		return askBall(r, c, unsaid.Session), nil
	}
	if err != nil {
		return Reply{}, err
	}
	standings, err := b.records.Standings(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	p, err := placesFor(ctx, b, r, standings)
	if err != nil {
		return Reply{}, err
	}
	in := fmt.Sprintf("You are in %s with your session of %s", words.Escape(c.Name), r.day(e.Sessions[0].At))
	if more := len(e.Sessions) - 1; more > 0 {
		in += fmt.Sprintf(" and %d more", more)
	}
	look := ""
	if p.Terms.Look {
		look = " A host may look at these balls."
	}
	if len(e.Why) > 0 {
		lines := append([]string{in + ". A host looks at it before it counts; until then it does not show."}, p.voice.Caveats(e.Why)...)
		return private(words.Lines(append(lines, counted(e.Stretch), "Most of these have an honest cause, and nobody else reads them."+look)...)), nil
	}
	row, ok := standings.Of(r.Asker.ID)
	if !ok {
		return Reply{}, store.ErrNotFound
	}
	lines := []string{
		in + fmt.Sprintf(": %s, %s of %d.", p.voice.ChallengeScore(p.Terms, row.Score), words.Ordinal(row.Place), len(standings.Rows)),
		counted(e.Stretch),
		weighed(p.Terms, row.Score, e.Past),
		words.ChallengeRanks(row, len(standings.Rows)),
		fmt.Sprintf("Your name and this score show in <#%s> within two minutes, and nothing else of yours.%s `/mine consent` takes you out again.", c.Channel, look),
	}
	return private(words.Lines(lines...)), nil
}

// askBall asks what kind of balls a session was hit with; the answer enters it.
func askBall(r Call, c store.Challenge, s store.Session) Reply {
	reply := private(fmt.Sprintf("What kind of balls was your session of %s hit with? Say it once: for challenges it stays so.", r.day(s.At)))
	var buttons []Button
	for _, kind := range []analysis.Ball{analysis.RangeBall, analysis.NewBall} {
		buttons = append(buttons, Button{Path: path("ball", s.ID, c.ID, string(kind)), Label: map[analysis.Ball]string{analysis.RangeBall: "Range balls", analysis.NewBall: "New balls"}[kind]})
	}
	reply.Rows = []Row{{Buttons: buttons}}
	return reply
}

// pressBall is one of those buttons.
func pressBall(ctx context.Context, b *Bot, r Call) (Reply, error) {
	kind := analysis.Ball(r.Args[2])
	if kind != analysis.RangeBall && kind != analysis.NewBall {
		return Reply{}, errOldButton
	}
	c, err := b.db.Challenge(ctx, r.Server, r.Args[1])
	if err != nil {
		return Reply{}, err
	}
	if _, _, err := b.records.Say(ctx, r.Session, store.Said{Ball: kind}.Over(r.Session.Said)); err != nil {
		return Reply{}, err
	}
	return enter(ctx, b, r, c, "")
}

// pressAnnounce is the button of somebody who goes to hit their session.
func pressAnnounce(ctx context.Context, b *Bot, r Call) (Reply, error) {
	c, err := b.db.Challenge(ctx, r.Server, r.Args[0])
	if err != nil {
		return Reply{}, err
	}
	a, err := b.records.Announce(ctx, c, r.Asker.ID, seedOf(r.ID))
	if err != nil {
		return Reply{}, err
	}
	if len(a.Draw) == 0 {
		return private(fmt.Sprintf("Noted: the next session you post counts for %s, with the kind of ball its rules name. Post it by %s, then enter it. This is said once.",
			words.Escape(c.Name), when(a.Until, r.Zone))), nil
	}
	return private(words.Lines(drawn(c, a, r.Zone, b.now())...)), nil
}

// drawn says what an announced session is to hold, and what becomes of it otherwise.
func drawn(c store.Challenge, a record.Announcement, zone *time.Location, now time.Time) []string {
	again := "This was the second time, and there is no third"
	if !a.Again.IsZero() {
		again = fmt.Sprintf("You may press the button once more, from %s on", when(a.Again, zone))
	}
	if now.After(a.Until) {
		return []string{fmt.Sprintf("Your session for %s was to be posted by %s, with half shots as %s. If you posted it in time, enter it. If not, what you posted stays a post like any other. %s.",
			words.Escape(c.Name), when(a.Until, zone), words.DrawnBalls(a.Draw), again)}
	}
	between := "If something comes between, what you posted stays a post like any other. " + again + "."
	if !a.Again.IsZero() {
		between = "If something comes between, nothing is lost: what you posted stays a post like any other. " + again + ", for other balls; a host then looks at the entry."
	}
	return []string{
		fmt.Sprintf("Noted: the next session you post counts for %s, with the kind of ball its rules name.", words.Escape(c.Name)),
		fmt.Sprintf("**Hit %s with the %s in a new session on your device, %s as half shots**: half as far as usual or less. Hit the others as ever. The half shots do not count; they show that the session was hit after now.",
			words.Count(a.Balls, "ball"), a.Club, words.DrawnBalls(a.Draw)),
		"Count as your device counts: if it does not see a ball, hit that one again.",
		fmt.Sprintf("**Post the file by %s**, then enter it. Later, or with full shots in their place, it does not count.", when(a.Until, zone)),
		between,
	}
}

// yourLook says to a player what became of an entry that does not count.
func yourLook(l record.Look) string {
	if l.Out != "" {
		return "A host took your entry out: " + words.Escape(l.Out)
	}
	return "Your entry waits for a host to look at it, and shows once they accept it."
}

// counted says which balls of a session count.
func counted(s challenge.Stretch) string {
	var parts []string
	for from := 0; from < len(s.Balls); {
		to := from
		for to+1 < len(s.Balls) && s.Balls[to+1].Session == s.Balls[from].Session {
			to++
		}
		file := "the file"
		if s.Balls[len(s.Balls)-1].Session > 0 {
			file = fmt.Sprintf("file %d", s.Balls[from].Session+1)
		}
		parts = append(parts, fmt.Sprintf("number %d to %d of %s", s.Balls[from].N, s.Balls[to].N, file))
		from = to + 1
	}
	text := fmt.Sprintf("Counted: %d balls, %s", len(s.Balls), words.List(parts))
	if s.Mishits > 0 {
		text += fmt.Sprintf(", mishits too (%d)", s.Mishits)
	}
	if bare := s.Passed - s.Twice; bare > 0 {
		text += fmt.Sprintf("; without a figure, so that each counts a little beyond your worst: %d", bare)
	}
	if s.Twice > 0 {
		text += fmt.Sprintf("; the same as another, so that each counts a little beyond your worst: %d", s.Twice)
	}
	if s.Drawn > 0 {
		text += fmt.Sprintf("; not counted, as half shots that were drawn: %d", s.Drawn)
	}
	if s.Flown > 0 {
		text += fmt.Sprintf("; by how they started and curved, which is the worse of two that do not go together: %d", s.Flown)
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
func weighed(t challenge.Terms, s challenge.Score, past challenge.Past) string {
	if t.Rule != challenge.Progress {
		return ""
	}
	way := "narrower"
	if s.Seen < 0 {
		way = "wider"
	}
	text := fmt.Sprintf("As hit they were %.0f %% %s; most of what so few balls gain or lose is luck, so %.0f %% of it counts.", 100*math.Abs(s.Seen), way, 100*s.Weight)
	if past.Earlier {
		text += fmt.Sprintf(" Your newest %d balls lay wider than the %d before them by more than luck, so those before them are your past.", challenge.Window, challenge.Window)
	}
	return text
}
