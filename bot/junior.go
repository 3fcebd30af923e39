package bot

import (
	"context"
	"fmt"

	"rangepost/analysis"
	"rangepost/store"
)

// runJunior is /clubhouse junior: a manager says who is a junior. It is theirs
// and not a coach's to say, so that nobody gets to see an adult's numbers by
// calling them a junior and recording a guardian's consent.
func runJunior(ctx context.Context, b *Bot, r Call) (Reply, error) {
	member, ok := r.People[r.Options["member"]]
	if !ok {
		return Reply{}, analysis.Refuse("Choose somebody of this server.", "I do not know that member.")
	}
	junior := r.Options["junior"] != "false"
	if err := named(ctx, b, r.Server, member); err != nil {
		return Reply{}, err
	}
	if err := b.db.SetJunior(ctx, r.Server, member.ID, junior); err != nil {
		return Reply{}, err
	}
	b.known.setJunior(r.Server, member.ID, junior)
	if !junior {
		return private(fmt.Sprintf("<@%s> is no junior. They answer to `/bind` themselves, and their lesson thread is answered in the open.", member.ID)), nil
	}
	return private(fmt.Sprintf("<@%s> is a junior. Replies with their numbers are theirs and their coach's alone, in the lesson thread too, and cannot be shared. A guardian decides about a coach, and the coach records it after `/bind`.", member.ID)), nil
}

// runJuniorNames is /clubhouse juniors: whether standings name them.
func runJuniorNames(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return furnish(ctx, b, r, func(house *store.Clubhouse) error {
		house.JuniorsPrivate = r.Options["names"] != "show"
		return nil
	})
}
