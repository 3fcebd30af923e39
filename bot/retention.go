package bot

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// retentionChoices are for how many days a clubhouse may keep posted sessions.
func retentionChoices() []Choice {
	var choices []Choice
	for _, days := range []int{0, 90, 180, 365, 730} {
		choices = append(choices, Choice{Value: strconv.Itoa(days), Text: keptFor(days)})
	}
	return choices
}

// keptFor says for how long sessions are kept.
func keptFor(days int) string {
	if days == 0 {
		return "for ever"
	}
	return fmt.Sprintf("%d days", days)
}

// runRetention is /clubhouse keep. Keeping for ever is set at once; what deletes
// members' sessions is asked first.
func runRetention(ctx context.Context, b *Bot, r Call) (Reply, error) {
	days, err := daysAsked(r.Options["days"])
	if err != nil {
		return Reply{}, err
	}
	if days == 0 {
		return keepFor(ctx, b, r, 0)
	}
	old, all, err := b.db.CountPosted(ctx, r.Server, b.now().Add(-time.Duration(days)*24*time.Hour))
	if err != nil {
		return Reply{}, err
	}
	now := "None is that old yet."
	if old > 0 {
		now = fmt.Sprintf("Now that is %d of %d.", old, all)
	}
	text := fmt.Sprintf("Sessions posted more than %d days ago will be deleted within a day, file and balls, and every later one once it is as old. %s It cannot be undone; `/mine export` first, whoever wants theirs.", days, now)
	return Reply{Private: true, Text: text, Rows: []Row{{Buttons: []Button{{Path: path("keep", strconv.Itoa(days)), Label: fmt.Sprintf("Keep %d days", days), Style: Danger}}}}}, nil
}

// pressRetention is the button under that question.
func pressRetention(ctx context.Context, b *Bot, r Call) (Reply, error) {
	days, err := daysAsked(r.Args[0])
	if err != nil {
		return Reply{}, err
	}
	return keepFor(ctx, b, r, days)
}

func keepFor(ctx context.Context, b *Bot, r Call, days int) (Reply, error) {
	return furnish(ctx, b, r, func(house *store.Clubhouse) error {
		house.RetentionDays = days
		return nil
	})
}

func daysAsked(text string) (int, error) {
	for _, c := range retentionChoices() {
		if c.Value == text {
			return strconv.Atoi(text)
		}
	}
	return 0, analysis.Refuse("Choose one from the list.", "that is not among the choices.").Of("days")
}
