package bot

import (
	"strconv"
	"time"

	"rangepost/analysis"
)

// Commands is the one list of what can be asked for. The platform's
// declarations, the help reply and the README's table are made from it.
func Commands() []Command {
	return []Command{
		{
			Name: "post", Summary: "Hand over the file of a practice session: a picture and why the balls finished there",
			Options: []Option{
				{Name: "file", Summary: "The session file: CSV, XLSX or JSON, also in a .zip or .gz", Type: FileOption, Required: true},
				{Name: "club", Summary: "The club, if the file does not say: driver, 3w, 4h, 7i, pw, 56"},
				{Name: "ball", Summary: "What kind of ball it was", Choices: []Choice{{string(analysis.UnknownBall), "unknown"}, {string(analysis.NewBall), "new"}, {string(analysis.RangeBall), "range"}}},
				{Name: "target", Summary: "The carry you aimed at: 150yd or 137m"},
				{Name: "sets", Summary: "Which balls were which: 1-10 normal, 11-20 strong grip; 3 was a shank"},
				{Name: "note", Summary: "Anything to remember about this session"},
			},
			Run: runPost,
		},
		{Name: "Read this session", Summary: "Read the session file of this message", OnFile: true, Run: readMessage},
		{
			Name: "sets", Summary: "Say which balls were which, then see whether the change moved the club",
			Options: []Option{
				sessionOption(true),
				{Name: "text", Summary: "1-10 normal, 11-20 strong grip; 3 was a shank", Required: true},
			},
			Run: runSets, Complete: completeSession,
		},
		{
			Name: "cause", Summary: "The whole explanation of a session, with limits and assumptions",
			Options: []Option{sessionOption(false), clubOption(), studentOption()},
			Run:     runCause, Complete: completeSession,
		},
		{
			Name: "trial", Summary: "Compare the labelled sets of a session: did the change move the club?",
			Options: []Option{
				sessionOption(false),
				{Name: "baseline", Summary: "The set the others are compared with"},
				studentOption(),
			},
			Run: runTrial, Complete: completeSession,
		},
		{
			Name: "timeline", Summary: "A number over the sessions, with the lessons marked",
			Options: []Option{
				{Name: "number", Summary: "Which number, or up to four with commas: face, path; your brief's if you do not say", Complete: true},
				{Name: "club", Summary: "Which club, or several with commas: 7i, driver; the commonest if you do not say", Complete: true},
				{Name: "since", Summary: "From when on: a day as 2026-09-30, lesson, or last 8 for so many sessions", Complete: true},
				studentOption(),
			},
			Run: runTimeline, Complete: completeTimeline,
		},
		{
			Name: "response", Summary: "Which setup tool moves which number for you, from your trials",
			Options: []Option{clubOption(), studentOption()},
			Run:     runResponse,
		},
		{
			Name: "mine", Summary: "Your own data and settings",
			Subs: []Command{
				{
					Name: "hand", Summary: "Say which hand you play from", Seen: SeenByAsker, Run: runHand,
					Options: []Option{{Name: "hand", Summary: "Right or left", Required: true, Choices: []Choice{{"right", "right-handed"}, {"left", "left-handed"}}}},
				},
				{
					Name: "units", Summary: "Say which units you want", Seen: SeenByAsker, Run: runUnits,
					Options: []Option{
						{Name: "distance", Summary: "Yards or metres", Choices: []Choice{{"yd", "yards"}, {"m", "metres"}}},
						{Name: "speed", Summary: "mph or m/s", Choices: []Choice{{"mph", "mph"}, {"mps", "m/s"}}},
					},
				},
				{Name: "consent", Summary: "See which coach sees your numbers, or take consent back", Seen: SeenByAsker, Run: runConsent},
				{
					Name: "export", Summary: "Take everything kept about you away as files", Seen: SeenByAsker, Run: runExport,
					Options: []Option{{Name: "part", Summary: "Which part, when there is more than one message holds", Type: WholeNumber}},
				},
				{Name: "forget", Summary: "Delete everything kept about you; asked twice", Seen: SeenByAsker, Run: runForget},
			},
		},
		{
			Name: "bind", Summary: "Make this thread the lesson thread of a student, who is asked to agree", Who: Coach, Seen: SeenByAll,
			Options: []Option{{Name: "student", Summary: "The student", Type: PersonOption, Required: true}},
			Run:     runBind,
		},
		{
			Name: "roster", Summary: "Your students, those first who need you, each with the reason", Who: Coach, Seen: SeenByAsker,
			Run: runRoster,
		},
		{
			Name: "review", Summary: "Go through the posts you have not looked at", Who: Coach, Seen: SeenByAsker,
			Options: []Option{{Name: "student", Summary: "Only this student's", Type: PersonOption}},
			Run:     runReview,
		},
		{
			Name: "catch-up", Summary: "What happened with a student since you last caught up", Who: Coach, Seen: SeenByAsker,
			Options: []Option{pupilOption()},
			Run:     runCatchUp,
		},
		{
			Name: "brief", Summary: "Say what to work on, in a line; without one, see how far they are", Who: Coach,
			Options: []Option{
				{Name: "text", Summary: "face to path within 2, 7-iron, 40 balls by Sunday; or none, to end it"},
				pupilOption(),
			},
			Run: runBrief,
		},
		{
			Name: "digest", Summary: "One message a week with what changed among your students", Who: Coach, Seen: SeenByAsker,
			Options: []Option{
				{Name: "day", Summary: "Which day; off to end it", Choices: dayChoices()},
				{Name: "hour", Summary: "At which hour of that day, 0 to 23", Type: WholeNumber, Min: ptr(0), Max: ptr(23)},
				{Name: "zone", Summary: "Your time zone: Europe/London", Complete: true},
			},
			Run: runDigest, Complete: completeZone,
		},
		{
			Name: "lesson", Summary: "Mark a lesson on a student's timeline", Who: Coach,
			Options: []Option{
				{Name: "note", Summary: "What was worked on", Required: true},
				pupilOption(),
				{Name: "date", Summary: "The day, if not today: 2026-09-30"},
			},
			Run: runLesson,
		},
		{
			Name: "clubhouse", Summary: "The settings of this server", Who: Manager,
			Subs: []Command{
				{
					Name: "coach", Summary: "Say which role is the coaches'", Who: Manager, Seen: SeenByAsker, Run: runCoachRole,
					Options: []Option{{Name: "role", Summary: "The role", Type: RoleOption, Required: true}},
				},
				{
					Name: "units", Summary: "Set the units for members who chose none", Who: Manager, Seen: SeenByAsker, Run: runHouseUnits,
					Options: []Option{
						{Name: "distance", Summary: "Yards or metres", Choices: []Choice{{"yd", "yards"}, {"m", "metres"}}},
						{Name: "speed", Summary: "mph or m/s", Choices: []Choice{{"mph", "mph"}, {"mps", "m/s"}}},
					},
				},
				{Name: "answers", Summary: "See, and undo, the remembered answers about file headers", Who: Manager, Seen: SeenByAsker, Run: runAnswers},
				{Name: "show", Summary: "Show the settings", Who: Manager, Seen: SeenByAsker, Run: runHouse},
			},
		},
		{Name: "help", Summary: "What I can do, and what I cannot", Seen: SeenByAsker, Run: runHelp},
	}
}

func sessionOption(required bool) Option {
	return Option{Name: "session", Summary: "Which session; the latest if you do not say", Complete: true, Required: required}
}

func clubOption() Option {
	return Option{Name: "club", Summary: "Which club: driver, 3w, 4h, 7i, pw, 56"}
}

func studentOption() Option {
	return Option{Name: "student", Summary: "For coaches: a student who agreed to you", Type: PersonOption}
}

func pupilOption() Option {
	return Option{Name: "student", Summary: "The student; in a lesson thread it is that thread's", Type: PersonOption}
}

func dayChoices() []Choice {
	choices := make([]Choice, 7, 8)
	for i := range choices {
		d := time.Weekday((i + 1) % 7)
		choices[i] = Choice{strconv.Itoa(int(d)), d.String()}
	}
	return append(choices, Choice{"off", "off"})
}

func ptr(x float64) *float64 { return &x }
