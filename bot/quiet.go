package bot

import (
	"context"
	"fmt"
	"strconv"

	"rangepost/analysis"
	"rangepost/store"
)

// In quiet hours the bot says nothing of its own accord: a weekly message, and
// who won a challenge that ended meanwhile, wait until they are over. Whoever
// asks is answered at any hour.

// runQuiet is /clubhouse quiet.
func runQuiet(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return furnish(ctx, b, r, func(house *store.Clubhouse) (err error) {
		if house.QuietFrom, err = minuteAsked(r, "from"); err != nil {
			return err
		}
		house.QuietUntil, err = minuteAsked(r, "until")
		return err
	})
}

// minuteAsked reads an option that is a whole hour, as a minute of the day.
func minuteAsked(r Call, option string) (int, error) {
	hour, err := strconv.Atoi(r.Options[option])
	if err != nil || hour < 0 || hour > 23 {
		return 0, analysis.Refuse("Say a whole hour from 0 to 23; the same for both means none.", "that is no hour.").Of(option)
	}
	return hour * 60, nil
}

func quietHours(c store.Clubhouse) string {
	if c.QuietFrom == c.QuietUntil {
		return "none"
	}
	return fmt.Sprintf("%02d:%02d to %02d:%02d", c.QuietFrom/60, c.QuietFrom%60, c.QuietUntil/60, c.QuietUntil%60)
}
