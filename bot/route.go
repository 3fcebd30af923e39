package bot

import (
	"context"
	"errors"
	"fmt"
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
	args int
	may  Permit
	ack  Ack // "" means: as the student's thread has it
	run  func(ctx context.Context, b *Bot, c Call) (Reply, error)
}

// routes lists them all; the path is "v1/<name>/<arg>/...".
func routes() []route {
	return []route{
		{"figures", 2, theSession, AckUpdate, pressFigures},
		{"cause", 2, theSession, "", pressCause},
		{"trial", 1, theSession, "", pressTrial},
		{"compared", 1, theSession, AckUpdate, chooseTrial},
		{"set", 1, theSession, AckUpdate, chooseSet},
		{"sets", 1, theSession, AckImmediate, pressSets},
		{"label", 1, theSession, "", submitSets},
		{"post", 1, ownPost, AckImmediate, pressPost},
		{"posted", 2, numbers, "", submitPost},
		{"task", 1, theirs, "", taskReply},
		{"doing", 1, theirs, "", pressDoing},
		{"plan", 1, thePlan, "", pressPlan},
		{"place", 2, theSession, AckUpdate, pressPlace},
		{"misplaced", 1, theSession, AckUpdate, pressMisplaced},
		{"claim", 2, thePlan, AckUpdate, pressClaim},
		{"expect", 2, thePlan, AckPrivate, pressExpect},
		{"planbrief", 1, pupilsPlan, AckImmediate, pressPlanBrief},
		{"plankept", 1, thePlan, "", pressPlanKept},
		{"answer", 2, theSession, AckUpdate, chooseAnswer},
		{"turn", 1, theSession, AckUpdate, pressTurn},
		{"mirror", 1, theSession, AckUpdate, pressMirror},
		{"share", 2, ownSession, AckPublic, pressShare},
		{"setup", 1, managers, AckUpdate, pressSetup},
		{"setting", 2, managers, AckUpdate, chooseSetting},
		{"otherzone", 0, managers, AckImmediate, pressOtherZone},
		{"thread", 1, coaches, AckPrivate, pressThread}, // from a page of setting up, which stays
		{"consent", 2, asked, AckUpdate, pressConsent},
		{"forget", 1, ownView, AckUpdate, pressForget},
		{"remove", 1, mySession, AckUpdate, pressRemove},
		{"about", 1, theSession, AckUpdate, chooseAbout},
		{"undo", 0, managers, AckUpdate, chooseUndo},
		{"keep", 1, managers, AckUpdate, pressRetention},
		{"roster", 1, coaches, AckUpdate, pressRoster},
		{"review", 2, scope, AckPrivate, pressReview}, // from a roster or a catch-up, which stay
		{"again", 1, scope, AckUpdate, pressAgain},
		{"page", 2, ownReview, AckUpdate, pressPage},
		{"seen", 3, ownReview, AckUpdate, pressSeen},
		{"open", 1, ownReview, AckPrivate, chooseOpen},
		{"pick", 1, ownReview, AckPrivate, choosePick},
		{"write", 2, ownReview, AckImmediate, pressWrite},
		{"reuse", 2, ownReview, AckImmediate, chooseReuse},
		{"drop", 0, coaches, AckUpdate, chooseDrop},
		{"written", 2, ownReview, AckUpdate, submitWritten},
		{"next", 2, scope, AckUpdate, pressNext},
		{"looked", 2, reviewed, AckUpdate, pressLooked},
		{"comment", 2, reviewed, AckImmediate, pressComment},
		{"commented", 2, reviewed, AckUpdate, submitComment},
		{"unmark", 2, thePupil, AckUpdate, pressUnmark},
		{"brief", 1, thePupil, AckImmediate, pressBrief},
		{"briefed", 1, thePupil, AckPrivate, submitBrief},
		{"take", 2, thePupil, AckPrivate, pressTake},
		{"caught", 2, thePupil, AckUpdate, pressCaught},
		{"enter", 1, anybody, AckPrivate, pressEnter},
		{"ball", 3, mySession, AckUpdate, pressBall},
		{"announce", 1, anybody, AckPrivate, pressAnnounce},
		{"standings", 1, anybody, AckPrivate, pressStandings},
		{"look", 1, hosts, AckPrivate, pressLook},
		{"accept", 1, hosts, AckUpdate, pressAccept},
		{"takeout", 1, hosts, AckImmediate, pressTakeOut},
		{"takenout", 1, hosts, AckUpdate, submitTakeOut},
		{"playoff", 1, hosts, AckPrivate, pressPlayOff},
		{"leave", 0, anybody, AckUpdate, pressLeave},
		{"leaveopen", 0, anybody, AckUpdate, pressLeaveOpen},
		{"season", 1, anybody, AckPrivate, pressSeason},
		{"class", 1, anybody, AckPrivate, pressSeason},
		{"tally", 2, ownTally, AckUpdate, pressTally},
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

var errOldButton error = analysis.Refuse("Ask again with the command and you get a fresh one.", "That button is from an older version of me.")

// permitted is an error if a command or a route does not say who may use it.
func permitted() error {
	var failed []error
	missing := func(what string, p Permit) {
		if p.about == nil {
			failed = append(failed, fmt.Errorf("bot: %s does not say who may use it", what))
		}
	}
	for _, r := range routes() {
		missing("the route "+r.name, r.may)
	}
	for _, c := range Commands() {
		if c.Run != nil {
			missing("/"+c.Name, c.May)
		}
		for _, sub := range c.Subs {
			missing("/"+c.Name+" "+sub.Name, sub.May)
		}
	}
	return errors.Join(failed...)
}
