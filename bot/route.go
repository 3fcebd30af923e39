package bot

import (
	"context"
	"strings"

	"rangepost/analysis"
)

// Buttons, menus and forms outlive restarts, so what they stand for is in
// their path and in the store, never in memory. The version in front lets a
// later release know, and refuse kindly, what an older one drew.
const pathVersion = "v1"

// A route is where the path of a button, menu or form leads.
type route struct {
	name string
	ack  Ack // "" means: as the student's thread has it
	run  func(ctx context.Context, b *Bot, r Request, args []string) (Reply, error)
	args int
}

// routes lists them all; the path is "v1/<name>/<arg>/...".
func routes() []route {
	return []route{
		{name: "cause", run: pressCause, args: 2},
		{name: "trial", run: pressTrial, args: 1},
		{name: "set", ack: AckUpdate, run: chooseSet, args: 1},
		{name: "sets", ack: AckImmediate, run: pressSets, args: 1},
		{name: "label", run: submitSets, args: 1},
		{name: "answer", ack: AckUpdate, run: chooseAnswer, args: 2},
		{name: "share", ack: AckPublic, run: pressShare, args: 2},
		{name: "consent", ack: AckUpdate, run: pressConsent, args: 2},
		{name: "forget", ack: AckUpdate, run: pressForget, args: 1},
		{name: "undo", ack: AckUpdate, run: chooseUndo},
		{name: "keep", ack: AckUpdate, run: pressKeep, args: 1},
		{name: "roster", ack: AckUpdate, run: pressRoster, args: 1},
		{name: "review", ack: AckPrivate, run: pressReview, args: 2}, // from a roster or a catch-up, which stay
		{name: "next", ack: AckUpdate, run: pressReview, args: 2},
		{name: "looked", ack: AckUpdate, run: pressLooked, args: 2},
		{name: "comment", ack: AckImmediate, run: pressComment, args: 2},
		{name: "commented", ack: AckUpdate, run: submitComment, args: 2},
		{name: "unmark", ack: AckUpdate, run: pressUnmark, args: 2},
		{name: "brief", ack: AckImmediate, run: pressBrief, args: 1},
		{name: "briefed", ack: AckPrivate, run: submitBrief, args: 1},
		{name: "caught", ack: AckUpdate, run: pressCaught, args: 2},
		{name: "enter", ack: AckPrivate, run: pressEnter, args: 1},
		{name: "standings", ack: AckPrivate, run: pressStandings, args: 1},
		{name: "leave", ack: AckUpdate, run: pressLeave},
		{name: "tally", ack: AckUpdate, run: pressTally, args: 2},
	}
}

// path makes the path of a button, menu or form.
func path(name string, args ...string) string {
	return strings.Join(append([]string{pathVersion, name}, args...), "/")
}

func findRoute(p string) (route, []string, error) {
	parts := strings.Split(p, "/")
	if len(parts) >= 2 && parts[0] == pathVersion {
		for _, route := range routes() {
			if route.name == parts[1] && len(parts)-2 == route.args {
				return route, parts[2:], nil
			}
		}
	}
	return route{}, nil, errOldButton
}

var errOldButton = analysis.Refuse("Ask again with the command and you get a fresh one.", "That button is from an older version of me.")
