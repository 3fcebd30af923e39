package bot

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// Setting up goes through one page a setting. The page is in the path of its
// buttons and the settings are in the database, so it can be left, taken up
// again and done twice, whatever happens in between. What a page sets it sets by
// the command of that setting.

// A step is one page of it.
type step struct {
	name, title string
	ask         string // what to choose, and what it means
	now         func(b *Bot, house store.Clubhouse) string
	rows        func(b *Bot, r Call) []Row
	// set does what was chosen: reply has what is to be said of it, and rows that
	// ask once more.
	set func(ctx context.Context, b *Bot, r Call, chosen []string) (Reply, error)
}

// finished is the page after the last step.
const finished = "done"

func steps() []step {
	return []step{
		{
			name: "coach", title: "coaches", ask: "Which role do your coaches have? If there is none yet, make one in the server's settings first, under Roles, and give it to them.",
			now:  func(_ *Bot, house store.Clubhouse) string { return "Coaches: " + coachesOf(house) },
			rows: func(*Bot, Call) []Row { return menuRow(RoleMenu, "coach", "The coaches' role", 1) },
			set:  withOption(runCoachRole, "role"),
		},
		{
			name: "zone", title: "time zone", ask: "Choose the one that shows the time it is at your club now. Challenges end, and quiet hours begin, on that clock.",
			now: zoneNow, rows: zoneRows, set: withOption(runHouseZone, "zone"),
		},
		{
			name: "units", title: "units", ask: "In which units do members read who chose none of their own?",
			now: func(_ *Bot, house store.Clubhouse) string { return "Units: " + unitsOf(house) },
			rows: func(*Bot, Call) []Row {
				return settingRow("units", Choice{Value: "yd mph", Text: "Yards, mph"}, Choice{Value: "m mps", Text: "Metres, m/s"}, Choice{Value: "m mph", Text: "Metres, mph"})
			},
			set: withOption(runHouseUnits, "distance", "speed"),
		},
		{
			name: "quiet", title: "quiet hours", ask: "In which hours do I send nothing of my own accord? Whoever asks is answered at any hour. `/clubhouse quiet` takes any other hours.",
			now:  func(_ *Bot, house store.Clubhouse) string { return "Quiet hours: " + quietHours(house) },
			rows: quietRows, set: withOption(runQuiet, "from", "until"),
		},
		{
			name: "juniors", title: "juniors", ask: "For a junior a guardian decides about a coach, and their numbers are never shown to a whole channel. Choose who is one, and whether the standings of challenges name them.",
			now: func(_ *Bot, house store.Clubhouse) string { return "Juniors: " + juniorsOf(house) },
			rows: func(*Bot, Call) []Row {
				return append(menuRow(PersonMenu, "juniors", "Who is a junior", 25), settingRow("juniors", Choice{Value: "hide", Text: "Do not name juniors"}, Choice{Value: "show", Text: "Name juniors"})...)
			},
			set: setJuniors,
		},
		{
			name: "keep", title: "how long sessions are kept", ask: "After how long are posted sessions deleted, file and balls? Timelines live on old ones.",
			now: func(_ *Bot, house store.Clubhouse) string {
				return "Posted sessions are kept: " + keptFor(house.RetentionDays)
			},
			rows: func(*Bot, Call) []Row {
				row := menuRow(ChoiceMenu, "keep", "How long", 1)
				row[0].Menu.Choices = retentionChoices()
				return row
			},
			set: setKeeping,
		},
		{
			name: "channel", title: "channels for challenges", ask: "In which channels do the club's contests run? I post a line in each, so that you see that I can.",
			now:  func(_ *Bot, house store.Clubhouse) string { return "Channels for challenges: " + channelsOf(house) },
			rows: func(*Bot, Call) []Row { return menuRow(ChannelMenu, "channel", "The channels", mostChannels) },
			set:  setChannels,
		},
		{
			name: "thread", title: "a first lesson thread", ask: "Every student has a thread with their coach. I open private ones: student, coach and whoever moderates threads read them, and nobody else.",
			now: func(*Bot, store.Clubhouse) string { return "" }, rows: threadRows,
		},
	}
}

// withOption sets by a command, whose options the words of the choice are.
func withOption(run func(context.Context, *Bot, Call) (Reply, error), options ...string) func(context.Context, *Bot, Call, []string) (Reply, error) {
	return func(ctx context.Context, b *Bot, r Call, chosen []string) (Reply, error) {
		parts := strings.Fields(strings.Join(chosen, " "))
		r.Options = map[string]string{}
		for i, o := range options {
			if i < len(parts) {
				r.Options[o] = parts[i]
			}
		}
		_, err := run(ctx, b, r)
		return Reply{}, err
	}
}

// runSetup is /clubhouse setup: the first page.
func runSetup(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return setupPage(ctx, b, r, steps()[0].name, Reply{})
}

// pressSetup turns to a page.
func pressSetup(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return setupPage(ctx, b, r, r.Args[0], Reply{})
}

// chooseSetting is a choice on a page: of a menu, by a button or from a form. The
// page stays, and shows what holds now.
func chooseSetting(ctx context.Context, b *Bot, r Call) (Reply, error) {
	chosen := []string{r.Args[1]}
	switch r.Kind {
	case ChooseRequest:
		chosen = r.Values
	case SubmitRequest:
		chosen = []string{strings.ReplaceAll(strings.TrimSpace(r.Fields["text"]), " ", "_")}
	}
	for _, s := range steps() {
		if s.name != r.Args[0] || s.set == nil {
			continue
		}
		if len(chosen) == 0 {
			return Reply{}, analysis.Refuse("Choose one that the menu offers.", "Nothing of this server was chosen.")
		}
		said, err := s.set(ctx, b, r, chosen)
		if err != nil {
			return Reply{}, err
		}
		if said.Text == "" {
			said.Text = "Noted."
		}
		return setupPage(ctx, b, r, s.name, said)
	}
	return Reply{}, errOldButton
}

// setupPage is a page, in place of the one before, with what is to be said of a choice on it.
func setupPage(ctx context.Context, b *Bot, r Call, name string, said Reply) (Reply, error) {
	house, err := b.db.Clubhouse(ctx, r.Server)
	if err != nil {
		return Reply{}, err
	}
	all := steps()
	at := slices.IndexFunc(all, func(s step) bool { return s.name == name })
	if name == finished {
		return lastPage(house, all), nil
	}
	if at < 0 {
		return Reply{}, errOldButton
	}
	s := all[at]
	lines := []string{fmt.Sprintf("Setting up, %d of %d: %s.", at+1, len(all), s.title)}
	if at == 0 && said.Text == "" {
		lines = append(lines, "Each step can be skipped, and done again with `/clubhouse setup`. What is set is kept at once.")
		if len(r.Lacks) > 0 {
			lines = append(lines, "In this channel I lack a permission. "+letMe(strings.Join(r.Lacks, ", ")))
		}
	}
	next, skip := finished, "Skip"
	if at+1 < len(all) {
		next = all[at+1].name
	}
	rows := s.rows(b, r)
	if said.Text != "" {
		lines, skip = append(lines, said.Text), "Next"
		if len(said.Rows) > 0 {
			rows = said.Rows
		}
	}
	if len(said.Rows) == 0 {
		lines = append(lines, s.ask)
	}
	if now := s.now(b, house); now != "" {
		lines = append(lines, now+".")
	}
	if s.name == "thread" {
		lines = append(lines, whoBinds(b, r))
	}
	var turn []Button
	if at > 0 {
		turn = append(turn, Button{Path: path("setup", all[at-1].name), Label: "Back"})
	}
	turn = append(turn, Button{Path: path("setup", next), Label: skip, Style: Main})
	return Reply{Text: strings.Join(lines, "\n"), Rows: append(rows, Row{Buttons: turn}), Also: said.Also}, nil
}

// lastPage is what holds now, and what is next.
func lastPage(house store.Clubhouse, all []step) Reply {
	reply := Reply{Text: "Set up.\n" + houseText(house) + "\nNext: a coach uses `/bind` with a student's name, the student agrees in their thread, and posts with the button I pin there. `/help` is for everybody."}
	reply.Rows = []Row{{Buttons: []Button{
		{Path: path("setup", all[len(all)-1].name), Label: "Back"},
		{Path: path("setup", all[0].name), Label: "From the beginning"},
	}}}
	return reply
}

// menuRow is a menu of a page.
func menuRow(kind MenuKind, step, placeholder string, most int) []Row {
	return []Row{{Menu: &Menu{Kind: kind, Path: path("setting", step, "-"), Placeholder: placeholder, Most: most}}}
}

// settingRow is a button for each choice of a page.
func settingRow(step string, choices ...Choice) []Row {
	var row Row
	for _, c := range choices {
		row.Buttons = append(row.Buttons, Button{Path: path("setting", step, c.Value), Label: c.Text})
	}
	return []Row{row}
}

func zoneNow(b *Bot, house store.Clubhouse) string {
	zone := record.Zone(house.TimeZone)
	clock := b.now().In(zone).Format("15:04")
	if house.TimeZone == "" {
		return "Time zone: not set, so I take UTC, where it is " + clock
	}
	return fmt.Sprintf("Time zone: %s, where it is %s", words.Escape(zone.String()), clock)
}

// zoneRows are the zones by part of the world, each with the time it shows, and
// a form for any other.
func zoneRows(b *Bot, _ Call) []Row {
	parts := []struct{ name, of string }{{"Europe and Africa", "Europe/ Africa/ UTC"}, {"The Americas", "America/"}, {"Asia and the Pacific", "Asia/ Australia/ Pacific/"}}
	var rows []Row
	for _, part := range parts {
		menu := &Menu{Path: path("setting", "zone", strconv.Itoa(len(rows))), Placeholder: part.name}
		for _, name := range zones {
			if slices.ContainsFunc(strings.Fields(part.of), func(of string) bool { return strings.HasPrefix(name, of) }) {
				menu.Choices = append(menu.Choices, Choice{Value: name, Text: fmt.Sprintf("%s, %s now", name, clockIn(name, b.now()))})
			}
		}
		rows = append(rows, Row{Menu: menu})
	}
	return append(rows, Row{Buttons: []Button{{Path: path("otherzone"), Label: "Another time zone"}}})
}

func clockIn(zone string, now time.Time) string { return now.In(record.Zone(zone)).Format("15:04") }

// pressOtherZone opens the form for one that no menu offers.
func pressOtherZone(context.Context, *Bot, Call) (Reply, error) {
	return Reply{Modal: &Modal{Path: path("setting", "zone", "-"), Title: "Another time zone", Fields: []Field{{
		ID: "text", Label: "Continent and city", Hint: "As in America/Halifax, Atlantic/Reykjavik, Asia/Kuala_Lumpur", Required: true, Max: 40,
	}}}}, nil
}

func quietRows(*Bot, Call) []Row {
	row := menuRow(ChoiceMenu, "quiet", "Quiet hours", 1)
	for _, hours := range []struct{ from, until int }{{0, 0}, {20, 7}, {21, 7}, {21, 8}, {22, 6}, {22, 7}, {22, 8}, {23, 6}, {23, 7}, {23, 8}} {
		says := quietHours(store.Clubhouse{QuietFrom: hours.from * 60, QuietUntil: hours.until * 60})
		row[0].Menu.Choices = append(row[0].Menu.Choices, Choice{Value: fmt.Sprintf("%d %d", hours.from, hours.until), Text: says})
	}
	return row
}

// setJuniors marks the chosen members, or says whether standings name juniors.
func setJuniors(ctx context.Context, b *Bot, r Call, chosen []string) (Reply, error) {
	if r.Kind == PressRequest {
		return withOption(runJuniorNames, "names")(ctx, b, r, chosen)
	}
	var who []string
	for _, member := range chosen {
		r.Options = map[string]string{"member": member}
		if _, err := runJunior(ctx, b, r); err != nil {
			return Reply{}, err
		}
		who = append(who, "<@"+member+">")
	}
	return Reply{Text: "Noted as juniors: " + strings.Join(who, ", ") + ". `/clubhouse junior` takes it back."}, nil
}

// setKeeping asks once more where sessions would be deleted.
func setKeeping(ctx context.Context, b *Bot, r Call, chosen []string) (Reply, error) {
	r.Options = map[string]string{"days": chosen[0]}
	if r.Kind == PressRequest { // that answers the question
		r.Args = chosen
		_, err := pressRetention(ctx, b, r)
		return Reply{}, err
	}
	asked, err := runRetention(ctx, b, r)
	if err != nil || len(asked.Rows) == 0 {
		return Reply{}, err
	}
	label := asked.Rows[0].Buttons[0].Label
	return Reply{Text: asked.Text, Rows: []Row{{Buttons: []Button{
		{Path: path("setting", "keep", chosen[0]), Label: label, Style: Danger},
		{Path: path("setup", "keep"), Label: "Choose again"},
	}}}}, nil
}

// setChannels makes the chosen channels those of challenges, and posts in those
// that are new: the reply says where that could not be done.
func setChannels(ctx context.Context, b *Bot, r Call, chosen []string) (said Reply, err error) {
	_, err = furnish(ctx, b, r, func(house *store.Clubhouse) error {
		for _, c := range chosen {
			if !slices.Contains(house.ChallengeChannels, c) {
				said.Also = append(said.Also, Notice{Channel: c, Reply: Reply{Text: "This club's challenges are posted in this channel. `/help command:challenge enter` says how to take part."}})
			}
		}
		house.ChallengeChannels = chosen
		return nil
	})
	return said, err
}

// threadRows let a coach choose the first student; nobody else may.
func threadRows(b *Bot, r Call) []Row {
	if !b.isCoach(r.Request) || r.Thread {
		return nil
	}
	return []Row{{Menu: &Menu{Kind: PersonMenu, Path: path("thread", "-"), Placeholder: "The student"}}}
}

// whoBinds says what comes next, to whoever is no coach, and where.
func whoBinds(b *Bot, r Call) string {
	switch {
	case b.known.coachRole(r.Server) == "":
		return "No role is the coaches' yet: go back to the first step."
	case !b.isCoach(r.Request):
		return "You do not have the coaches' role, so a coach does this: `/bind` in a channel, with the student's name. Give yourself the role if you coach, and come back to this step."
	case r.Thread:
		return "This is a thread, which holds no threads: use `/clubhouse setup` in a channel."
	}
	return "Choose a student, and I open it in this channel. For the others use `/bind` in the channel where their threads are to be."
}
