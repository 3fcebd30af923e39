package bot

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/store"
)

// runCoachRole is /clubhouse coach.
func runCoachRole(ctx context.Context, b *Bot, r Call) (Reply, error) {
	house, err := b.db.Clubhouse(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	house.CoachRole = r.Options["role"]
	if house.CoachRole == r.Server {
		// The platform gives the role that everybody has the server's own id.
		return Reply{}, analysis.Refuse("Choose a role that only coaches have.", "Everybody has that role.")
	}
	if err := b.db.SetClubhouse(ctx, house); err != nil {
		return Reply{}, err
	}
	b.known.setCoachRole(r.Server, house.CoachRole)
	return private(fmt.Sprintf("Members with <@&%s> are this server's coaches now. They see a student's numbers only once that student agrees.", house.CoachRole)), nil
}

// furnish changes the settings of the asker's server and shows them.
func furnish(ctx context.Context, b *Bot, r Call, change func(*store.Clubhouse) error) (Reply, error) {
	house, err := b.db.Clubhouse(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	if err := change(&house); err != nil {
		return Reply{}, err
	}
	if err := b.db.SetClubhouse(ctx, house); err != nil {
		return Reply{}, err
	}
	return private(houseText(house)), nil
}

// runHouseUnits is /clubhouse units.
func runHouseUnits(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return furnish(ctx, b, r, func(house *store.Clubhouse) error {
		chosen, err := unitsAsked(r)
		house.Units = chosen.Or(house.Units)
		return err
	})
}

// runHouse is /clubhouse show. It has settings and no student's numbers.
func runHouse(ctx context.Context, b *Bot, r Call) (Reply, error) {
	house, err := b.db.Clubhouse(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	return private(houseText(house)), nil
}

func houseText(c store.Clubhouse) string {
	zone := record.Zone(c.TimeZone).String()
	if c.TimeZone == "" {
		zone = "not set, so UTC is taken"
	}
	return fmt.Sprintf("Coaches: %s.\nUnits for members who chose none: %s.\nChannels for challenges: %s.\nTime zone: %s.\nQuiet hours: %s.\nPosted sessions are kept: %s.\nJuniors: %s.",
		coachesOf(c), unitsOf(c), channelsOf(c), zone, quietHours(c), keptFor(c.RetentionDays), juniorsOf(c))
}

func coachesOf(c store.Clubhouse) string {
	if c.CoachRole == "" {
		return "nobody yet"
	}
	return fmt.Sprintf("members with <@&%s>", c.CoachRole)
}

func unitsOf(c store.Clubhouse) string {
	return unitName[string(c.Units.Distance)] + " and " + unitName[string(c.Units.Speed)]
}

func channelsOf(c store.Clubhouse) string {
	if len(c.ChallengeChannels) == 0 {
		return "none yet"
	}
	return "<#" + strings.Join(c.ChallengeChannels, ">, <#") + ">"
}

func juniorsOf(c store.Clubhouse) string {
	if c.JuniorsPrivate {
		return "not named in standings"
	}
	return "named in standings, and nothing else of theirs shown"
}

// mostChannels is how many channels of a server may be for challenges.
const mostChannels = 10

// runChallengeChannel is /clubhouse channel, used in the channel it is about.
func runChallengeChannel(ctx context.Context, b *Bot, r Call) (Reply, error) {
	if b.known.student(r.Channel) != "" {
		return Reply{}, analysis.Refuse("Use a channel all members read.", "This is a lesson thread.")
	}
	return furnish(ctx, b, r, func(house *store.Clubhouse) error {
		house.ChallengeChannels = slices.DeleteFunc(house.ChallengeChannels, func(c string) bool { return c == r.Channel })
		if r.Options["use"] == "no" {
			return nil
		}
		if len(house.ChallengeChannels) == mostChannels {
			return analysis.Refuse("Take one out first, with `/clubhouse channel use:no` in it.", "%d channels are for challenges already.", mostChannels)
		}
		house.ChallengeChannels = append(house.ChallengeChannels, r.Channel)
		return nil
	})
}

// runHouseZone is /clubhouse zone.
func runHouseZone(ctx context.Context, b *Bot, r Call) (Reply, error) {
	reply, err := furnish(ctx, b, r, func(house *store.Clubhouse) (err error) {
		house.TimeZone, err = zoneAsked(r)
		return err
	})
	if err == nil {
		reply.Text += "\nChallenges that are open keep the instant they end at."
	}
	return reply, err
}

var unitName = map[string]string{
	string(analysis.Yards): "yards", string(analysis.Metres): "metres",
	string(analysis.MilesPerHour): "mph", string(analysis.MetresPerSecond): "m/s",
}

// unitsAsked reads the options that choose units; one not given is not chosen.
func unitsAsked(r Call) (analysis.Units, error) {
	u := analysis.Units{Distance: analysis.DistanceUnit(r.Options["distance"]), Speed: analysis.SpeedUnit(r.Options["speed"])}
	switch {
	case u == analysis.Units{}:
		return u, analysis.Refuse("Choose one of its options.", "Nothing was chosen.")
	case u.Distance != "" && u.Distance != analysis.Yards && u.Distance != analysis.Metres:
		return u, analysis.Refuse("It is yd or m.", "I do not know that unit.").Of("distance")
	case u.Speed != "" && u.Speed != analysis.MilesPerHour && u.Speed != analysis.MetresPerSecond:
		return u, analysis.Refuse("It is mph or mps.", "I do not know that unit.").Of("speed")
	}
	return u, nil
}
