package bot

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/bot/words"
	"rangepost/store"
)

// runCoachRole is /clubhouse coach.
func runCoachRole(ctx context.Context, b *Bot, r Request) (Reply, error) {
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
func (b *Bot) furnish(ctx context.Context, r Request, change func(*store.Clubhouse) error) (Reply, error) {
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
func runHouseUnits(ctx context.Context, b *Bot, r Request) (Reply, error) {
	return b.furnish(ctx, r, func(house *store.Clubhouse) error {
		chosen, err := unitsAsked(r)
		house.Units = chosen.Or(house.Units)
		return err
	})
}

// runHouse is /clubhouse show. It has settings and no student's numbers.
func runHouse(ctx context.Context, b *Bot, r Request) (Reply, error) {
	house, err := b.db.Clubhouse(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	return private(houseText(house)), nil
}

func houseText(c store.Clubhouse) string {
	coaches := "nobody yet: name a role with `/clubhouse coach`"
	if c.CoachRole != "" {
		coaches = fmt.Sprintf("members with <@&%s>", c.CoachRole)
	}
	channels := "none yet: use `/clubhouse channel` in one"
	if len(c.ChallengeChannels) > 0 {
		channels = "<#" + strings.Join(c.ChallengeChannels, ">, <#") + ">"
	}
	juniors := "not named in standings"
	if !c.JuniorsPrivate {
		juniors = "named in standings, and nothing else of theirs shown"
	}
	return fmt.Sprintf("Coaches: %s.\nUnits for members who chose none: %s and %s.\nChannels for challenges: %s.\nTime zone: %s.\nQuiet hours: %s.\nPosted sessions are kept: %s.\nJuniors: %s.",
		coaches, unitName[string(c.Units.Distance)], unitName[string(c.Units.Speed)], channels, zoneOf(c), quietHours(c), keptFor(c.RetentionDays), juniors)
}

// mostChannels is how many channels of a server may be for challenges.
const mostChannels = 10

// runChallengeChannel is /clubhouse channel, used in the channel it is about.
func runChallengeChannel(ctx context.Context, b *Bot, r Request) (Reply, error) {
	if b.threadStudent(r.Channel) != "" {
		return Reply{}, analysis.Refuse("Use a channel all members read.", "This is a lesson thread.")
	}
	return b.furnish(ctx, r, func(house *store.Clubhouse) error {
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
func runHouseZone(ctx context.Context, b *Bot, r Request) (Reply, error) {
	reply, err := b.furnish(ctx, r, func(house *store.Clubhouse) (err error) {
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
func unitsAsked(r Request) (analysis.Units, error) {
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

// runAnswers is /clubhouse answers: what was answered about file headers, with
// a menu to take one back.
func runAnswers(ctx context.Context, b *Bot, r Request) (Reply, error) {
	answers, err := b.db.AnswerHistory(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	if len(answers) == 0 {
		return private("No questions about files were answered yet."), nil
	}
	var text strings.Builder
	text.WriteString("Answers remembered for files with the same header; a coach's counts more than a student's, the newest more than the one before. Taking one back changes how such files are read from then on.\n")
	menu := &Menu{Path: path("undo"), Placeholder: "Take an answer back"}
	for i, a := range answers {
		if i == 25 {
			fmt.Fprintf(&text, "And %d older ones.\n", len(answers)-i)
			break
		}
		line := fmt.Sprintf("%s: %s = %s (header %s)", day(a.At), a.Key, a.Value, words.Cut(a.Fingerprint, 8))
		menu.Choices = append(menu.Choices, Choice{Value: a.ID, Text: words.Cut(words.Clean(line), 100)})
		if len([]rune(text.String())) < MaxText-150 {
			fmt.Fprintf(&text, "- %s\n", escape(line))
		}
	}
	return Reply{Text: strings.TrimSuffix(text.String(), "\n"), Rows: []Row{{Menu: menu}}}, nil
}

// chooseUndo takes a remembered answer back.
func chooseUndo(ctx context.Context, b *Bot, r Request, _ []string) (Reply, error) {
	if err := b.allowed(r, Manager); err != nil {
		return Reply{}, err
	}
	if len(r.Values) != 1 {
		return Reply{}, analysis.Refuse("Choose one answer.", "Nothing was chosen.")
	}
	answers, err := b.db.AnswerHistory(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	i := slices.IndexFunc(answers, func(a store.Answer) bool { return a.ID == r.Values[0] })
	if i < 0 {
		return Reply{}, analysis.Refuse("`/clubhouse answers` lists what there is.", "That answer is not there any more.")
	}
	if err := b.db.UndoAnswer(ctx, r.Server, answers[i].ID); err != nil {
		return Reply{}, err
	}
	if err := b.rereadHeader(ctx, r.Server, answers[i].Fingerprint); err != nil {
		return Reply{}, err
	}
	return Reply{Text: "Taken back, and every session whose file has that header was read again. What is unclear in them now is asked anew when somebody looks at them."}, nil
}
