package bot

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// A plan may carry a claim, "it slices when my elbow flies": before a ball is hit
// somebody says what the club would have to do if it were so, and its student
// and coach what they expect; the plan answers in those words.

// claimLines are what a plan says of its claim: what it means, or what became of
// it.
func claimLines(voice words.Voice, p record.Plan) []string {
	if p.Claim == "" {
		return nil
	}
	held, told := p.ClaimHeld()
	switch {
	case p.Way == 0 && p.Runs() && p.Next() == 0:
		return []string{voice.ClaimAsked(p.Card, p.Claim)}
	case p.Way == 0:
		return nil
	case p.Runs():
		return []string{voice.ClaimMeans(p.Card, p.Claim, p.Way)}
	}
	return []string{voice.ClaimAnswered(p.Card, p.Claim, p.Way, held, told)}
}

// chances are what can be expected, in hundredths.
var chances = []int{10, 30, 50, 70, 90}

func claimRows(p record.Plan, voice words.Voice) []Row {
	if p.Claim == "" || !p.Runs() || p.Next() > 0 {
		return nil
	}
	if p.Way == 0 {
		lower, higher := p.Number.Changes(voice.Hand)
		name := words.Sentence(p.Number.Short())
		return []Row{{Buttons: []Button{
			{Path: path("claim", p.ID, "-1"), Label: name + " " + lower},
			{Path: path("claim", p.ID, "1"), Label: name + " " + higher},
		}}}
	}
	var buttons []Button
	for _, c := range chances {
		buttons = append(buttons, Button{Path: path("expect", p.ID, strconv.Itoa(c)), Label: fmt.Sprintf("%d %% sure", c)})
	}
	return []Row{{Buttons: buttons}}
}

// pressClaim keeps what a claim means.
func pressClaim(ctx context.Context, b *Bot, r Call) (Reply, error) {
	way, err := strconv.Atoi(r.Args[1])
	if err != nil || way != 1 && way != -1 {
		return Reply{}, errOldButton
	}
	if err := b.db.Claims(ctx, r.Args[0], way); err != nil {
		return Reply{}, tooLate(err)
	}
	return pressPlan(ctx, b, r)
}

// pressExpect keeps what whoever presses expects.
func pressExpect(ctx context.Context, b *Bot, r Call) (Reply, error) {
	percent, err := strconv.Atoi(r.Args[1])
	if err != nil || percent < 0 || percent > 100 {
		return Reply{}, errOldButton
	}
	if err := b.db.Expect(ctx, store.Forecast{Plan: r.Args[0], Who: r.Asker.ID, Chance: float64(percent) / 100}); err != nil {
		return Reply{}, tooLate(err)
	}
	forecasts, err := b.records.Forecasts(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	text := fmt.Sprintf("Noted: you hold it for %d %% sure. Only you see that; until the first ball is posted you can change it.", percent)
	if forecasts.N > 0 {
		text += " " + words.Forecasts(forecasts.N, forecasts.Score)
	}
	return private(text), nil
}

func tooLate(err error) error {
	if errors.Is(err, store.ErrNotFound) {
		return analysis.Refuse("It is said before the first ball is posted.", "That cannot be said of this plan any more.")
	}
	return err
}
