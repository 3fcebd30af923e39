package bot

import (
	"strconv"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/season"
)

// Commands is the one list of what can be asked for. The platform's
// declarations, the help reply and the README's table are made from it.
func Commands() []Command {
	return []Command{
		{
			Name: "post", May: numbers, Summary: "Hand over a practice session, as a file or as rows: a picture and why the balls finished there",
			Form: withoutFile,
			Options: []Option{
				{Name: "file", Summary: "The session file: CSV, XLSX, JSON, .zip or .gz; without one a form takes it, or rows", Type: FileOption},
				{Name: "club", Summary: "The club, if the file does not say: driver, 3w, 4h, 7i, pw, 56"},
				ballOption(),
				{Name: "target", Summary: "The carry you aimed at: 150yd or 137m, or by club 7i 150yd, pw 110yd"},
				{Name: "sets", Summary: "Which balls were which: 1-10 normal, 11-20 strong grip; 3 was a shank"},
				{Name: "shot", Summary: "The shot that was asked for: draw, fade 5, low, start 3 right, curve 8 left, carry 140"},
				{Name: "note", Summary: "Anything to remember about this session"},
			},
			Run: runPost,
		},
		{Name: readThis, May: message, Summary: "Read the session file of this message", OnFile: true, Run: runRead},
		{
			Name: "sets", May: session, Summary: "Say which balls were which, then see whether the change moved the club",
			Options: []Option{
				sessionOption(true),
				{Name: "text", Summary: "1-10 normal, 11-20 strong grip; 3 was a shank", Required: true},
			},
			Run: runSets, Complete: completeSession,
		},
		{
			Name: "cause", May: session, Summary: "The whole explanation of a session, with limits and assumptions",
			Options: []Option{sessionOption(false), clubOption(), studentOption()},
			Run:     runCause, Complete: completeSession,
		},
		{
			Name: "trial", May: session, Summary: "Compare the labelled sets of a session: did the change move the club?",
			Options: []Option{
				sessionOption(false),
				{Name: "baseline", Summary: "The set the others are compared with"},
				studentOption(),
			},
			Run: runTrial, Complete: completeSession,
		},
		{
			Name: "work-back", May: session, Summary: "What a shot asks of your club, or what the ball does if the club changes",
			Options: []Option{
				{Name: "shot", Summary: "The shot: start 3 right, curve 8 left; draw; low fade; carry 140"},
				{Name: "change", Summary: "Or a change of the club: face 2 left, path 3 right, 4 less loft"},
				clubOption(), sessionOption(false), studentOption(),
			},
			Run: runWorkBack, Complete: completeSession,
		},
		{
			Name: "timeline", May: numbers, Summary: "A number over the sessions, with the lessons marked",
			Options: []Option{
				{Name: "number", Summary: "Which number, or up to four with commas: face, path; your brief's if you do not say", Complete: true},
				{Name: "club", Summary: "Which club, or several with commas: 7i, driver; the commonest if you do not say", Complete: true},
				{Name: "since", Summary: "From when on: a day as 2026-09-30, lesson, or last 8 for so many sessions", Complete: true},
				studentOption(),
			},
			Run: runTimeline, Complete: completeTimeline,
		},
		{
			Name: "task", May: numbers, Summary: "What you are to do, how far you are, and what to do next",
			Options: []Option{studentOption()},
			Run:     taskReply,
		},
		{
			Name: "plan", May: numbers, Summary: "A trial laid out before it is hit, and when enough is; without options, the one there is",
			Options: []Option{
				{Name: "against", Summary: "What to try against the usual, one or two with a comma: stronger grip; none to end the plan"},
				{Name: "club", Summary: "The club: driver, 3w, 4h, 7i, pw, 56; the commonest if you do not say"},
				{Name: "number", Summary: "The number that matters: face, path; what the change moves first if you do not say", Complete: true},
				{Name: "change", Summary: "How small a change of it matters: 1.5; what golfers care about if you do not say"},
				{Name: "claim", Summary: "What somebody holds to be so, to be answered by the plan: it slices when I swing fast"},
				studentOption(),
			},
			Run: runPlan, Complete: completeTimeline,
		},
		{
			Name: "response", May: jointly, Summary: "Which setup change moves which number for you, from your trials",
			Options: []Option{
				clubOption(), studentOption(),
				{Name: "students", Summary: "For coaches: what each does to all your students together", Choices: []Choice{{Value: everybody, Text: "all who agreed to you"}}},
			},
			Run: runResponse,
		},
		{
			Name: "compare", May: numbers, Summary: "Two clubs, two spans of time or two setups of yours, number by number with limits",
			Options: []Option{
				{Name: "first", Summary: "7i; or before lesson, last 5, 2026-06-01 to 2026-06-07; or what a set is called", Required: true, Complete: true},
				{Name: "second", Summary: "What it is compared with, of the same kind: driver; since lesson; strong grip", Required: true, Complete: true},
				{Name: "number", Summary: "Which numbers, with commas: face, path; what a trial compares if you do not say", Complete: true},
				{Name: "club", Summary: "For spans and setups: which club; the commonest if you do not say", Complete: true},
				studentOption(),
			},
			Run: runCompare, Complete: completeCompare,
		},
		{
			Name: "tally", May: anybody, Summary: "Count ball flights by eye, when nothing is measured, and see what they say",
			Options: []Option{
				{Name: "start", Summary: "Where the ball started", Choices: sideChoices("on line")},
				{Name: "curve", Summary: "Which way it curved", Choices: sideChoices("not at all")},
				{Name: "count", Summary: "How many such balls; 1 if you do not say", Type: WholeNumber, Min: ptr(1), Max: ptr(100)},
				clubOption(),
			},
			Run: runTally,
		},
		{
			Name: "challenge", Summary: "The club's contests on posted sessions",
			Subs: []Command{
				{
					Name: "enter", May: own, Summary: "Enter your session, posted since the opening or handed over here", Seen: SeenByAsker, Run: runEnter, Complete: completeChallenge,
					Options: []Option{
						{Name: "challenge", Summary: "Which challenge; the open one if you do not say", Complete: true},
						{Name: "file", Summary: "The session file, if it is not posted yet", Type: FileOption},
						{Name: "session", Summary: "The session you mean; the first that counts if you do not say", Complete: true},
						ballOption(),
						clubOption(),
					},
				},
				{
					Name: "standings", May: anybody, Summary: "Who stands where, who is really apart, and your own place", Seen: SeenByAsker, Run: runStandings, Complete: completeChallenge,
					Options: []Option{{Name: "challenge", Summary: "Which challenge; the open one if you do not say", Complete: true}},
				},
				{
					Name: "open", May: hosts, Summary: "Open a challenge", Seen: SeenByAsker, Run: runOpenChallenge,
					Options: termsOptions("What the members call it",
						Option{Name: "until", Summary: "Its end on the clubhouse's clock: 2026-09-30 or 2026-09-30 18:00"}),
				},
				{
					Name: "look", May: hosts, Summary: "Look at an entry that waits, or at a player's", Seen: SeenByAsker, Run: runLook, Complete: completeChallenge,
					Options: []Option{
						{Name: "challenge", Summary: "Which challenge; the open one if you do not say", Complete: true},
						{Name: "player", Summary: "Whose entry; the first that waits if you do not say", Type: PersonOption},
					},
				},
				{
					Name: "remove", May: hosts, Summary: "Take a player's entry out; they read the reason", Seen: SeenByAsker, Run: runTakeOut, Complete: completeChallenge,
					Options: []Option{
						{Name: "player", Summary: "Whose entry", Type: PersonOption, Required: true},
						{Name: "reason", Summary: "Why, in a line", Required: true},
						{Name: "challenge", Summary: "Which challenge; the open one if you do not say", Complete: true},
					},
				},
				{
					Name: "void", May: hosts, Summary: "Call a challenge off, open or closed: no winner, no certificate", Seen: SeenByAsker, Run: runVoid, Complete: completeChallenge,
					Options: []Option{
						{Name: "reason", Summary: "Why, in a line; the channel reads it", Required: true},
						{Name: "challenge", Summary: "Which challenge; the open one if you do not say", Complete: true},
					},
				},
				{
					Name: "close", May: hosts, Summary: "Close a challenge before its time", Seen: SeenByAsker, Run: runCloseChallenge, Complete: completeChallenge,
					Options: []Option{{Name: "challenge", Summary: "Which challenge; the open one if you do not say", Complete: true}},
				},
			},
		},
		{
			Name: "season", Summary: "The club's challenges on a schedule, added up",
			Subs: []Command{
				{
					Name: "table", May: anybody, Summary: "Who stands where over the season, and your own place", Seen: SeenByAsker, Run: runSeasonTable, Complete: completeSeason,
					Options: []Option{seasonOption("Which season, past ones too; the one that runs if you do not say"), {Name: "class", Summary: "A class by itself", Complete: true}},
				},
				{
					Name: "history", May: anybody, Summary: "The seasons by year: who won, and where you stood", Seen: SeenByAsker, Run: runSeasonHistory,
					Options: []Option{{Name: "year", Summary: "Only those that ended in it: 2026", Type: WholeNumber}},
				},
				{
					Name: "open", May: hosts, Summary: "Open a season", Seen: SeenByAsker, Run: runOpenSeason,
					Options: []Option{
						{Name: "name", Summary: "What the members call it: Summer 2026", Required: true},
						{Name: "until", Summary: "Its last day: 2026-09-30", Required: true},
						{Name: "from", Summary: "Its first day; today if you do not say"},
						{Name: "best", Summary: "How many of a member's results count; all if you do not say", Type: WholeNumber, Min: ptr(1), Max: ptr(season.MostChallenges)},
						{Name: "classes", Summary: "Where each band of handicaps ends, and juniors if they are a class: 12, 24, juniors"},
						{Name: "clubname", Summary: "The club's name, for certificates; the last season's if you do not say"},
					},
				},
				{
					Name: "template", May: hosts, Summary: "Keep a kind of challenge for seasons", Seen: SeenByAsker, Run: runSeasonTemplate,
					Options: termsOptions("What the members call it; one of that name is replaced"),
				},
				{
					Name: "add", May: hosts, Summary: "Put a template on days of the season", Seen: SeenByAsker, Run: runSeasonAdd, Complete: completeSeason,
					Options: []Option{
						{Name: "template", Summary: "Which template", Required: true, Complete: true},
						{Name: "when", Summary: "every Saturday, every other Saturday, every first Monday, every last Friday, or 2026-06-13", Required: true},
						{Name: "days", Summary: "For how many days each is open; 7 if you do not say", Type: WholeNumber, Min: ptr(1), Max: ptr(mostOpen)},
						seasonOption("Which season; the one that runs if you do not say"),
					},
				},
				{
					Name: "drop", May: hosts, Summary: "Take a challenge off the schedule before it opens, or delete a template", Seen: SeenByAsker, Run: runSeasonDrop, Complete: completeSeason,
					Options: []Option{
						{Name: "challenge", Summary: "Which challenge", Complete: true},
						seasonOption("Which season; the one that runs if you do not say"),
						{Name: "template", Summary: "Which template, in place of a challenge", Complete: true},
					},
				},
				{
					Name: "handicap", May: hosts, Summary: "Say which handicaps members have, for the classes", Seen: SeenByAsker, Run: runSeasonHandicap, Complete: completeSeason,
					Options: []Option{
						{Name: "members", Summary: "Each with an @ and the handicap: @Wren 12.4 @Odell +2, or none", Required: true},
						seasonOption("Which season; the one that runs if you do not say"),
					},
				},
				{
					Name: "close", May: hosts, Summary: "End a season before its time", Seen: SeenByAsker, Run: runCloseSeason, Complete: completeSeason,
					Options: []Option{seasonOption("Which season; the one that runs if you do not say")},
				},
			},
		},
		{
			Name: "mine", Summary: "Your own data and settings",
			Subs: []Command{
				{
					Name: "hand", May: anybody, Summary: "Say which hand you play from", Seen: SeenByAsker, Run: runHand,
					Options: []Option{{Name: "hand", Summary: "Right or left", Required: true, Choices: []Choice{{Value: "right", Text: "right-handed"}, {Value: "left", Text: "left-handed"}}}},
				},
				{
					Name: "units", May: anybody, Summary: "Say which units you want", Seen: SeenByAsker, Run: runUnits,
					Options: []Option{
						{Name: "distance", Summary: "Yards or metres", Choices: []Choice{{Value: "yd", Text: "yards"}, {Value: "m", Text: "metres"}}},
						{Name: "speed", Summary: "mph or m/s", Choices: []Choice{{Value: "mph", Text: "mph"}, {Value: "mps", Text: "m/s"}}},
					},
				},
				{
					Name: "zone", May: anybody, Summary: "Say your time zone: times in your files are read on its clock", Seen: SeenByAsker, Run: runZone, Complete: completeZone,
					Options: []Option{{Name: "zone", Summary: "Continent and city: Europe/London; clubhouse for the clubhouse's", Required: true, Complete: true}},
				},
				{
					Name: "detail", May: anybody, Summary: "Say how much my replies to your posts say at once", Seen: SeenByAsker, Run: runDetail,
					Options: []Option{{Name: "detail", Summary: "Short, or every figure", Required: true, Choices: []Choice{{Value: "short", Text: "what happened, and what next"}, {Value: "figures", Text: "every figure with its limits"}}}},
				},
				{Name: "consent", May: anybody, Summary: "See which coach sees your numbers, or take consent back", Seen: SeenByAsker, Run: runConsent},
				{
					Name: "export", May: anybody, Summary: "Take everything kept about you away as files", Seen: SeenByAsker, Run: runExport,
					Options: []Option{{Name: "part", Summary: "Which part, when there is more than one message holds", Type: WholeNumber}},
				},
				{
					Name: "remove", May: own, Summary: "Delete one session you posted; asked once more", Seen: SeenByAsker, Run: runRemove, Complete: completeSession,
					Options: []Option{sessionOption(true)},
				},
				{Name: "forget", May: anybody, Summary: "Delete everything kept about you; asked twice", Seen: SeenByAsker, Run: runForget},
			},
		},
		{
			Name: "bind", May: coaches, Summary: "Make this thread a student's lesson thread, or open a private one; they are asked to agree", Seen: SeenByAll,
			Options: []Option{{Name: "student", Summary: "The student", Type: PersonOption, Required: true}},
			Run:     runBind,
		},
		{
			Name: "roster", May: coaches, Summary: "Your students, those first who need you, each with the reason", Seen: SeenByAsker,
			Run: runRoster,
		},
		{
			Name: "review", May: pupils, Summary: "Go through the posts you have not looked at", Seen: SeenByAsker,
			Options: []Option{{Name: "student", Summary: "Only this student's", Type: PersonOption}},
			Run:     runReview,
		},
		{
			Name: "catch-up", May: pupil, Summary: "What happened with a student since you last caught up", Seen: SeenByAsker,
			Options: []Option{pupilOption()},
			Run:     runCatchUp,
		},
		{
			Name: "sheet", May: pupil, Summary: "One page about a student before a lesson, and their numbers to take away", Seen: SeenByAsker,
			Options: []Option{pupilOption()},
			Run:     runSheet,
		},
		{
			Name: "brief", May: pupil, Summary: "Say what to work on, in a line; without one, see how far they are",
			Options: []Option{
				{Name: "text", Summary: "face to path within 2, 7-iron, 40 balls by Sunday; or none, to end it"},
				pupilOption(),
			},
			Run: runBrief,
		},
		{
			Name: "digest", May: coaches, Summary: "One message a week with what changed among your students", Seen: SeenByAsker,
			Options: []Option{
				{Name: "day", Summary: "Which day; off to end it", Choices: dayChoices()},
				{Name: "hour", Summary: "At which hour of that day, 0 to 23", Type: WholeNumber, Min: ptr(0), Max: ptr(23)},
				{Name: "zone", Summary: "Your time zone: Europe/London", Complete: true},
			},
			Run: runDigest, Complete: completeZone,
		},
		{
			Name: "lesson", May: pupil, Summary: "Mark a lesson on a student's timeline",
			Options: []Option{
				{Name: "note", Summary: "What was worked on", Required: true},
				pupilOption(),
				{Name: "date", Summary: "The day, if not today: 2026-09-30"},
			},
			Run: runLesson,
		},
		{
			Name: "clubhouse", Summary: "The settings of this server",
			Subs: []Command{
				{Name: "setup", May: managers, Summary: "Set this server up step by step; each step can be skipped, and done again", Seen: SeenByAsker, Run: runSetup},
				{
					Name: "coach", May: managers, Summary: "Say which role is the coaches'", Seen: SeenByAsker, Run: runCoachRole,
					Options: []Option{{Name: "role", Summary: "The role", Type: RoleOption, Required: true}},
				},
				{
					Name: "units", May: managers, Summary: "Set the units for members who chose none", Seen: SeenByAsker, Run: runHouseUnits,
					Options: []Option{
						{Name: "distance", Summary: "Yards or metres", Choices: []Choice{{Value: "yd", Text: "yards"}, {Value: "m", Text: "metres"}}},
						{Name: "speed", Summary: "mph or m/s", Choices: []Choice{{Value: "mph", Text: "mph"}, {Value: "mps", Text: "m/s"}}},
					},
				},
				{
					Name: "channel", May: managers, Summary: "Make this channel one for challenges, or no longer", Seen: SeenByAsker, Run: runChallengeChannel,
					Options: []Option{{Name: "use", Summary: "Yes if you do not say", Choices: []Choice{{Value: "yes", Text: "for challenges"}, {Value: "no", Text: "no longer"}}}},
				},
				{
					Name: "zone", May: managers, Summary: "Set the time zone of the clubhouse", Seen: SeenByAsker, Run: runHouseZone, Complete: completeZone,
					Options: []Option{{Name: "zone", Summary: "Continent and city: Europe/London", Required: true, Complete: true}},
				},
				{
					Name: "quiet", May: managers, Summary: "Say in which hours I send nothing of my own accord", Seen: SeenByAsker, Run: runQuiet,
					Options: []Option{
						{Name: "from", Summary: "A whole hour on the clubhouse's clock: 22", Type: WholeNumber, Required: true, Min: ptr(0), Max: ptr(23)},
						{Name: "until", Summary: "A whole hour: 7; the same for none", Type: WholeNumber, Required: true, Min: ptr(0), Max: ptr(23)},
					},
				},
				{
					Name: "keep", May: managers, Summary: "Say how long posted sessions are kept", Seen: SeenByAsker, Run: runRetention,
					Options: []Option{{Name: "days", Summary: "For how many days", Required: true, Choices: retentionChoices()}},
				},
				{Name: "answers", May: managers, Summary: "See, and undo, the remembered answers about file headers", Seen: SeenByAsker, Run: runAnswers},
				{
					Name: "junior", May: managers, Summary: "Say who is a junior: a guardian decides for them, and nothing of theirs is shown openly", Seen: SeenByAsker, Run: runJunior,
					Options: []Option{
						{Name: "member", Summary: "The member", Type: PersonOption, Required: true},
						{Name: "junior", Summary: "Whether they are one; yes if you do not say", Type: YesNo},
					},
				},
				{
					Name: "juniors", May: managers, Summary: "Say whether standings name juniors", Seen: SeenByAsker, Run: runJuniorNames,
					Options: []Option{{Name: "names", Summary: "Their names in standings", Required: true, Choices: []Choice{{Value: "hide", Text: "hidden"}, {Value: "show", Text: "shown"}}}},
				},
				{Name: "show", May: managers, Summary: "Show the settings", Seen: SeenByAsker, Run: runHouse},
			},
		},
		{
			Name: "help", May: anybody, Summary: "What I can do, or all about one command", Seen: SeenByAsker, Run: runHelp, Complete: completeHelp,
			Options: []Option{
				{Name: "command", Summary: "Which command: post", Complete: true},
				{Name: "word", Summary: "What a word or a setup means: path, stronger grip", Complete: true},
			},
		},
	}
}

func sessionOption(required bool) Option {
	return Option{Name: "session", Summary: "Which session; the latest if you do not say", Complete: true, Required: required}
}

func ballOption() Option {
	return Option{Name: "ball", Summary: "What kind of ball it was", Choices: []Choice{{Value: string(analysis.UnknownBall), Text: "unknown"}, {Value: string(analysis.NewBall), Text: "new"}, {Value: string(analysis.RangeBall), Text: "range"}}}
}

func seasonOption(summary string) Option {
	return Option{Name: "season", Summary: summary, Complete: true}
}

// termsOptions are a challenge's name and terms, and more of a command's own.
func termsOptions(name string, more ...Option) []Option {
	return append([]Option{
		{Name: "name", Summary: name, Required: true},
		{Name: "rule", Summary: "How it is scored", Required: true, Choices: ruleChoices()},
		{Name: "club", Summary: "The club: driver, 3w, 4h, 7i, pw, 56", Required: true},
		{Name: "balls", Summary: "Over how many balls, the first of a session", Type: WholeNumber, Required: true, Min: ptr(challenge.FewestBalls), Max: ptr(challenge.MostBalls)},
		{Name: "target", Summary: "The carry aimed at, for nearest and zone: 150yd or 137m"},
		{Name: "ball", Summary: "The kind of ball; range if you do not say", Choices: []Choice{{Value: string(analysis.RangeBall), Text: "range"}, {Value: string(analysis.NewBall), Text: "new"}}},
		{Name: "wide", Summary: "For zone: how wide it is, 20yd"},
		{Name: "deep", Summary: "For zone: how deep it is, 20yd"},
		{Name: "limits", Summary: "For brief: the number and its limits, as in face within 2"},
		{Name: "shots", Summary: "For on request: the shots in the order they are hit, as in draw 8; fade 8; straight"},
		{Name: "least", Summary: "For narrow and progress: the carry full shots reach, 90yd; usual for the club if you do not say"},
		{Name: "counts", Summary: "Which session counts", Choices: []Choice{{Value: "first", Text: "the first balls posted since the opening"}, {Value: countsAnnounced, Text: "the next one after a player says so"}, {Value: countsDrawn, Text: "the same, with two half shots that I draw, posted soon"}}},
		{Name: "minutes", Summary: "With drawn half shots: until when to post; as so many balls take if you do not say", Type: WholeNumber, Min: ptr(1), Max: ptr(challenge.MostMinutes)},
		{Name: "figures", Summary: "Which figures count", Choices: []Choice{{Value: "measured", Text: "measured ones alone"}, {Value: figuresBoth, Text: "those worked back from others too"}}},
		{Name: "fewest", Summary: "How many entries it takes for a winner; 3 if you do not say", Type: WholeNumber, Min: ptr(1), Max: ptr(100)},
		{Name: "look", Summary: "Whether hosts may look at an entry's balls; yes if you do not say", Choices: []Choice{{Value: "yes", Text: "yes, and the rules say so"}, {Value: "no", Text: "no"}}},
	}, more...)
}

func ruleChoices() []Choice {
	return []Choice{
		{Value: string(challenge.Nearest), Text: "nearest: mean distance to the target"},
		{Value: string(challenge.Narrow), Text: "narrow: width that holds 80 % of the balls"},
		{Value: string(challenge.Zone), Text: "zone: share landing in a width and depth"},
		{Value: string(challenge.Brief), Text: "brief: share inside limits of a number"},
		{Value: string(challenge.OnRequest), Text: "on request: share doing the shots you name"},
		{Value: string(challenge.Progress), Text: "progress: gain on your own past"},
	}
}

// sideChoices are left, neither and right.
func sideChoices(neither string) []Choice {
	return []Choice{{Value: "left", Text: "left"}, {Value: "straight", Text: neither}, {Value: "right", Text: "right"}}
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
		choices[i] = Choice{Value: strconv.Itoa(int(d)), Text: d.String()}
	}
	return append(choices, Choice{Value: "off", Text: "off"})
}

func ptr(x float64) *float64 { return &x }
