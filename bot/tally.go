package bot

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/tally"
	"rangepost/bot/pictures"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// tallyNumber is what /timeline calls tallies. It is no number of a shot.
const tallyNumber = "tally"

// A tally goes on while somebody counts; after so long it is a new one.
const tallyGoesOn = 6 * time.Hour

// mostFlights is the most one kind of flight is counted to.
const mostFlights = 500

// runTally is /tally: the student's running tally with a button for each of the
// nine flights, and what it says so far.
func runTally(ctx context.Context, b *Bot, r Call) (Reply, error) {
	with, err := clubAsked(r.Options["club"])
	if err != nil {
		return Reply{}, err
	}
	flight, asked, err := flightAsked(r)
	if err != nil {
		return Reply{}, err
	}
	t, err := b.db.StartTally(ctx, r.Server, r.Asker.ID, with, len(tally.Flights()), tallyGoesOn)
	if err != nil {
		return Reply{}, err
	}
	if asked {
		n := 1
		if text := r.Options["count"]; text != "" {
			if n, err = strconv.Atoi(text); err != nil || n < 1 || n > 100 {
				return Reply{}, analysis.Refuse("Say a whole number from 1 to 100.", "that is no number of balls.").Of("count")
			}
		}
		if t, err = count(ctx, b, t, flight, n); err != nil {
			return Reply{}, err
		}
	}
	return tallyReply(ctx, b, r, t)
}

// flightAsked reads the options start and curve, which go together.
func flightAsked(r Call) (i int, asked bool, err error) {
	start, curve := r.Options["start"], r.Options["curve"]
	if start == "" && curve == "" {
		return 0, false, nil
	}
	sides := map[string]tally.Side{"left": tally.Left, "straight": tally.Straight, "right": tally.Right}
	s, okStart := sides[start]
	c, okCurve := sides[curve]
	if !okStart || !okCurve {
		return 0, false, analysis.Refuse("Say both where it started and which way it curved, or neither and press the buttons.", "That is half a ball flight.")
	}
	for i, f := range tally.Flights() {
		if f == (tally.Flight{Start: s, Curve: c}) {
			return i, true, nil
		}
	}
	return 0, false, errors.New("bot: no such flight")
}

func count(ctx context.Context, b *Bot, t store.Tally, flight, n int) (store.Tally, error) {
	return b.db.ChangeTally(ctx, t.Server, t.ID, func(t *store.Tally) error {
		if t.Flights[flight]+n > mostFlights {
			return analysis.Refuse("Begin a new one tomorrow.", "That is more than anybody counts by eye.")
		}
		t.Flights[flight] += n
		t.Last = flight
		return nil
	})
}

// pressTally counts a ball, or takes the last one back.
func pressTally(ctx context.Context, b *Bot, r Call) (Reply, error) {
	t, err := r.Tally, error(nil)
	if r.Args[1] == "back" {
		t, err = b.db.ChangeTally(ctx, r.Server, t.ID, func(t *store.Tally) error {
			if t.Last < 0 || t.Flights[t.Last] == 0 {
				return analysis.Refuse("Press what the ball did.", "There is nothing to take back.")
			}
			t.Flights[t.Last]--
			t.Last = -1
			return nil
		})
	} else {
		var i int
		if i, err = index(r.Args[1:], len(t.Flights)); err == nil {
			t, err = count(ctx, b, t, i, 1)
		}
	}
	if err != nil {
		return Reply{}, err
	}
	return tallyReply(ctx, b, r, t)
}

// tallyReply is the tally's one message: what it says, and the nine buttons.
func tallyReply(ctx context.Context, b *Bot, r Call, t store.Tally) (Reply, error) {
	_, voice, err := spokenTo(ctx, b, t.Server, t.Student)
	if err != nil {
		return Reply{}, err
	}
	said := tally.Of(t.Flights)
	lines := voice.Tally(said)
	if !t.Club.Unknown() {
		lines = append([]string{"Tally with the " + t.Club.String() + ", " + r.day(t.At) + "."}, lines...)
	}
	reply := Reply{about: t.Student, Text: words.Clip(strings.Join(words.Plainly(lines), "\n"), MaxText)}
	if said.Balls >= tallyPictured {
		b.illustrate(ctx, &reply, "tally.png", func(ctx context.Context) (report.Picture, error) {
			return tallyPicture(ctx, voice, t, r.day(t.At))
		})
	}
	for i, f := range tally.Flights() {
		if i%3 == 0 {
			reply.Rows = append(reply.Rows, Row{})
		}
		row := &reply.Rows[len(reply.Rows)-1]
		label := words.FlightName(f)
		if t.Flights[i] > 0 {
			label += fmt.Sprintf(": %d", t.Flights[i])
		}
		row.Buttons = append(row.Buttons, Button{Path: path("tally", t.ID, strconv.Itoa(i)), Label: label})
	}
	if t.Last >= 0 {
		reply.Rows = append(reply.Rows, Row{Buttons: []Button{{Path: path("tally", t.ID, "back"), Label: "Take the last one back"}}})
	}
	return reply, nil
}

// tallyPictured is how many balls a tally's picture begins with: before that
// every press would bring another of next to nothing.
const tallyPictured = 5

// tallyPicture draws the nine flights with their counts.
func tallyPicture(ctx context.Context, voice words.Voice, t store.Tally, day string) (report.Picture, error) {
	voice.Plain = true
	below := day
	if !t.Club.Unknown() {
		below = t.Club.String() + " · " + day
	}
	png, err := pictures.Tally(ctx, pictures.TallyInput{Voice: voice, Title: voice.TallyTitle(tally.Of(t.Flights)), Below: below, Counts: t.Flights})
	return report.Picture{PNG: png, Alt: voice.AltTally(t.Flights)}, err
}

// tallies is a student's timeline of tallies: a line each, and what the latest
// says. Nothing in it was measured, so no measured number stands beside it.
func tallies(ctx context.Context, b *Bot, r Call) (Reply, error) {
	since, last, _, err := spanAsked(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	all, err := b.db.Tallies(ctx, r.Server, r.Student, since)
	if err != nil {
		return Reply{}, err
	}
	if len(all) == 0 {
		return Reply{}, analysis.Refuse("`/tally` counts ball flights by eye.", "There is no tally there yet.")
	}
	lines := []string{"Ball flights counted by eye; nothing here was measured."}
	shown := 8
	if last > 0 {
		shown = min(shown, last)
	}
	if n := len(all) - shown; n > 0 {
		lines = append(lines, fmt.Sprintf("%d older ones are left out.", n))
		all = all[n:]
	}
	for _, t := range all {
		with := ""
		if !t.Club.Unknown() {
			with = ", " + t.Club.String()
		}
		lines = append(lines, words.TallyLine(r.day(t.At), with, tally.Of(t.Flights)))
	}
	return Reply{about: r.Student, Text: words.Clip(strings.Join(lines, "\n"), MaxText)}, nil
}
