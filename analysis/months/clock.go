package months

// ClockKind is what a session is held against.
type ClockKind uint8

// Deadline is a brief, which runs from when it is set to the last millisecond of
// its day; Marked a lesson; Contest a challenge that opens and closes.
const (
	Deadline ClockKind = iota
	Marked
	Contest
)

// Zones of the world's database.
const (
	london     = "Europe/London"
	losAngeles = "America/Los_Angeles"
	auckland   = "Pacific/Auckland"
	stockholm  = "Europe/Stockholm"
	utc        = "UTC"
	kolkata    = "Asia/Kolkata"
)

// A Clock is a session of one golfer held against what somebody else set.
type Clock struct {
	Name   string
	Kind   ClockKind
	Zone   string // of who set the brief, marked the lesson or opened the challenge
	From   string // when, on their clock
	Until  string // "Sunday", "tomorrow" or a day; a challenge's closing, on their clock; "" for a lesson
	Golfer string // the golfer's zone
	File   string // the session's time as it stands in the file: on the golfer's clock, or with an offset

	// What is right, in UTC. An hour that clocks have twice may be either.
	Hit    []string
	End    string
	Counts bool // the session is within the brief or the challenge, or after the lesson
}

// Clocks are sixty cases. What is right was worked out from the IANA database by
// another program's rules than Go's, and the test holds it against Go's [C].
func Clocks() []Clock {
	return []Clock{
		{"an hour after it was set", Deadline, losAngeles, "2026-06-10 16:00", "Sunday", losAngeles, "2026-06-10 17:00", []string{"2026-06-11T00:00:00Z"}, "2026-06-15T06:59:59.999Z", true},
		{"an hour before it was set", Deadline, losAngeles, "2026-06-10 16:00", "Sunday", losAngeles, "2026-06-10 15:00", []string{"2026-06-10T22:00:00Z"}, "2026-06-15T06:59:59.999Z", false},
		{"Sunday evening in the west", Deadline, losAngeles, "2026-06-10 16:00", "Sunday", losAngeles, "2026-06-14 21:30", []string{"2026-06-15T04:30:00Z"}, "2026-06-15T06:59:59.999Z", true},
		{"Sunday's last minute", Deadline, losAngeles, "2026-06-10 16:00", "Sunday", losAngeles, "2026-06-14 23:59", []string{"2026-06-15T06:59:00Z"}, "2026-06-15T06:59:59.999Z", true},
		{"Monday's first minute", Deadline, losAngeles, "2026-06-10 16:00", "Sunday", losAngeles, "2026-06-15 00:01", []string{"2026-06-15T07:01:00Z"}, "2026-06-15T06:59:59.999Z", false},
		{"Sunday evening in the east", Deadline, auckland, "2026-06-10 16:00", "Sunday", auckland, "2026-06-14 21:30", []string{"2026-06-14T09:30:00Z"}, "2026-06-14T11:59:59.999Z", true},
		{"Monday's first minute in the east", Deadline, auckland, "2026-06-10 16:00", "Sunday", auckland, "2026-06-15 00:01", []string{"2026-06-14T12:01:00Z"}, "2026-06-14T11:59:59.999Z", false},
		{"Monday morning in the east is Sunday in London", Deadline, london, "2026-06-10 16:00", "Sunday", auckland, "2026-06-15 09:30", []string{"2026-06-14T21:30:00Z"}, "2026-06-14T22:59:59.999Z", true},
		{"Monday noon in the east is Monday in London", Deadline, london, "2026-06-10 16:00", "Sunday", auckland, "2026-06-15 12:00", []string{"2026-06-15T00:00:00Z"}, "2026-06-14T22:59:59.999Z", false},
		{"Sunday afternoon in the west is Monday in London", Deadline, london, "2026-06-10 16:00", "Sunday", losAngeles, "2026-06-14 16:30", []string{"2026-06-14T23:30:00Z"}, "2026-06-14T22:59:59.999Z", false},
		{"Sunday noon in the west is Sunday in London", Deadline, london, "2026-06-10 16:00", "Sunday", losAngeles, "2026-06-14 12:00", []string{"2026-06-14T19:00:00Z"}, "2026-06-14T22:59:59.999Z", true},
		{"Sunday evening in London is Monday in the east", Deadline, auckland, "2026-06-10 16:00", "Sunday", london, "2026-06-14 20:00", []string{"2026-06-14T19:00:00Z"}, "2026-06-14T11:59:59.999Z", false},
		{"Sunday morning in London is Sunday in the east", Deadline, auckland, "2026-06-10 16:00", "Sunday", london, "2026-06-14 09:00", []string{"2026-06-14T08:00:00Z"}, "2026-06-14T11:59:59.999Z", true},
		{"Monday noon in Kolkata is Sunday in the west", Deadline, losAngeles, "2026-06-10 16:00", "Sunday", kolkata, "2026-06-15 12:00", []string{"2026-06-15T06:30:00Z"}, "2026-06-15T06:59:59.999Z", true},
		{"Monday afternoon in Kolkata is Monday in the west", Deadline, losAngeles, "2026-06-10 16:00", "Sunday", kolkata, "2026-06-15 13:00", []string{"2026-06-15T07:30:00Z"}, "2026-06-15T06:59:59.999Z", false},
		{"the Sunday clocks go forward in London", Deadline, london, "2026-03-25 12:00", "Sunday", london, "2026-03-29 23:30", []string{"2026-03-29T22:30:00Z"}, "2026-03-29T22:59:59.999Z", true},
		{"the Monday after they went forward", Deadline, london, "2026-03-25 12:00", "Sunday", london, "2026-03-30 00:30", []string{"2026-03-29T23:30:00Z"}, "2026-03-29T22:59:59.999Z", false},
		{"the Sunday clocks go back in London", Deadline, london, "2026-10-21 12:00", "Sunday", london, "2026-10-25 23:30", []string{"2026-10-25T23:30:00Z"}, "2026-10-25T23:59:59.999Z", true},
		{"the Monday after they went back", Deadline, london, "2026-10-21 12:00", "Sunday", london, "2026-10-26 00:15", []string{"2026-10-26T00:15:00Z"}, "2026-10-25T23:59:59.999Z", false},
		{"the Sunday clocks go forward in the west", Deadline, losAngeles, "2026-03-04 12:00", "Sunday", losAngeles, "2026-03-08 23:45", []string{"2026-03-09T06:45:00Z"}, "2026-03-09T06:59:59.999Z", true},
		{"the Sunday clocks go back in the west", Deadline, losAngeles, "2026-10-28 12:00", "Sunday", losAngeles, "2026-11-01 23:45", []string{"2026-11-02T07:45:00Z"}, "2026-11-02T07:59:59.999Z", true},
		{"the Sunday clocks go back in Auckland", Deadline, auckland, "2026-04-01 12:00", "Sunday", auckland, "2026-04-05 23:45", []string{"2026-04-05T11:45:00Z"}, "2026-04-05T11:59:59.999Z", true},
		{"the Sunday clocks go forward in Auckland", Deadline, auckland, "2026-09-23 12:00", "Sunday", auckland, "2026-09-27 23:45", []string{"2026-09-27T10:45:00Z"}, "2026-09-27T10:59:59.999Z", true},
		{"Stockholm's Sunday is over before London's", Deadline, stockholm, "2026-07-01 09:00", "Sunday", london, "2026-07-05 23:15", []string{"2026-07-05T22:15:00Z"}, "2026-07-05T21:59:59.999Z", false},
		{"within Stockholm's Sunday from London", Deadline, stockholm, "2026-07-01 09:00", "Sunday", london, "2026-07-05 22:45", []string{"2026-07-05T21:45:00Z"}, "2026-07-05T21:59:59.999Z", true},
		{"by tomorrow, across the date line", Deadline, losAngeles, "2026-05-11 20:00", "tomorrow", auckland, "2026-05-13 18:30", []string{"2026-05-13T06:30:00Z"}, "2026-05-13T06:59:59.999Z", true},
		{"by tomorrow, too late across the date line", Deadline, losAngeles, "2026-05-11 20:00", "tomorrow", auckland, "2026-05-13 19:30", []string{"2026-05-13T07:30:00Z"}, "2026-05-13T06:59:59.999Z", false},
		{"a day by its date", Deadline, stockholm, "2026-05-11 20:00", "2026-05-20", stockholm, "2026-05-20 22:00", []string{"2026-05-20T20:00:00Z"}, "2026-05-20T21:59:59.999Z", true},
		{"with an offset that is the golfer's", Deadline, losAngeles, "2026-06-10 16:00", "Sunday", losAngeles, "2026-06-14T21:30:00-07:00", []string{"2026-06-15T04:30:00Z"}, "2026-06-15T06:59:59.999Z", true},
		{"with an offset that is not the golfer's", Deadline, losAngeles, "2026-06-10 16:00", "Sunday", losAngeles, "2026-06-15T06:30:00+02:00", []string{"2026-06-15T04:30:00Z"}, "2026-06-15T06:59:59.999Z", true},
		{"with an offset after the end", Deadline, losAngeles, "2026-06-10 16:00", "Sunday", losAngeles, "2026-06-15T07:30:00Z", []string{"2026-06-15T07:30:00Z"}, "2026-06-15T06:59:59.999Z", false},
		{"a repeated hour", Deadline, london, "2026-10-21 12:00", "Sunday", london, "2026-10-25 01:30", []string{"2026-10-25T00:30:00Z", "2026-10-25T01:30:00Z"}, "2026-10-25T23:59:59.999Z", true},
		{"the same morning", Marked, auckland, "2026-02-10 14:00", "", auckland, "2026-02-10 09:00", []string{"2026-02-09T20:00:00Z"}, "", false},
		{"the same evening", Marked, auckland, "2026-02-10 14:00", "", auckland, "2026-02-10 18:00", []string{"2026-02-10T05:00:00Z"}, "", true},
		{"half an hour before, in summer", Marked, london, "2026-07-07 18:00", "", london, "2026-07-07 17:30", []string{"2026-07-07T16:30:00Z"}, "", false},
		{"half an hour after, in summer", Marked, london, "2026-07-07 18:00", "", london, "2026-07-07 18:30", []string{"2026-07-07T17:30:00Z"}, "", true},
		{"half an hour before, in winter", Marked, london, "2026-01-13 18:00", "", london, "2026-01-13 17:30", []string{"2026-01-13T17:30:00Z"}, "", false},
		{"just before midnight in the west", Marked, losAngeles, "2026-08-04 17:00", "", losAngeles, "2026-08-04 23:50", []string{"2026-08-05T06:50:00Z"}, "", true},
		{"the morning before, in the west", Marked, losAngeles, "2026-08-04 17:00", "", losAngeles, "2026-08-04 11:00", []string{"2026-08-04T18:00:00Z"}, "", false},
		{"the evening before, in the east", Marked, auckland, "2026-08-04 10:00", "", auckland, "2026-08-03 21:00", []string{"2026-08-03T09:00:00Z"}, "", false},
		{"a golfer further east, by the clock later, is earlier", Marked, london, "2026-07-07 10:00", "", kolkata, "2026-07-07 14:00", []string{"2026-07-07T08:30:00Z"}, "", false},
		{"a golfer further east, later indeed", Marked, london, "2026-07-07 10:00", "", kolkata, "2026-07-07 15:00", []string{"2026-07-07T09:30:00Z"}, "", true},
		{"a golfer further west, by the clock earlier, is later", Marked, london, "2026-07-07 18:00", "", losAngeles, "2026-07-07 11:00", []string{"2026-07-07T18:00:00Z"}, "", true},
		{"a golfer further west, earlier indeed", Marked, london, "2026-07-07 18:00", "", losAngeles, "2026-07-07 09:00", []string{"2026-07-07T16:00:00Z"}, "", false},
		{"between the clocks of both sides: west is forward, London is not", Marked, london, "2026-03-17 17:00", "", losAngeles, "2026-03-17 10:30", []string{"2026-03-17T17:30:00Z"}, "", true},
		{"the same, an hour on the other side", Marked, london, "2026-03-17 17:00", "", losAngeles, "2026-03-17 09:30", []string{"2026-03-17T16:30:00Z"}, "", false},
		{"with an offset, before", Marked, stockholm, "2026-09-01 12:00", "", stockholm, "2026-09-01T11:30:00+02:00", []string{"2026-09-01T09:30:00Z"}, "", false},
		{"in UTC by its offset, after", Marked, stockholm, "2026-09-01 12:00", "", stockholm, "2026-09-01T10:30:00Z", []string{"2026-09-01T10:30:00Z"}, "", true},
		{"the night the clocks go back", Marked, stockholm, "2026-10-25 12:00", "", stockholm, "2026-10-25 02:30", []string{"2026-10-25T00:30:00Z", "2026-10-25T01:30:00Z"}, "", false},
		{"22 hours before it opened in Auckland", Contest, auckland, "2026-02-20 12:00", "2026-02-27 12:00", auckland, "2026-02-19 14:00", []string{"2026-02-19T01:00:00Z"}, "2026-02-26T23:00:00Z", false},
		{"an hour before it opened in Auckland", Contest, auckland, "2026-02-20 12:00", "2026-02-27 12:00", auckland, "2026-02-20 11:00", []string{"2026-02-19T22:00:00Z"}, "2026-02-26T23:00:00Z", false},
		{"an hour after it opened in Auckland", Contest, auckland, "2026-02-20 12:00", "2026-02-27 12:00", auckland, "2026-02-20 13:00", []string{"2026-02-20T00:00:00Z"}, "2026-02-26T23:00:00Z", true},
		{"an hour before it closed in the west", Contest, losAngeles, "2026-02-20 12:00", "2026-02-27 12:00", losAngeles, "2026-02-27 11:00", []string{"2026-02-27T19:00:00Z"}, "2026-02-27T20:00:00Z", true},
		{"an hour after it closed in the west", Contest, losAngeles, "2026-02-20 12:00", "2026-02-27 12:00", losAngeles, "2026-02-27 13:00", []string{"2026-02-27T21:00:00Z"}, "2026-02-27T20:00:00Z", false},
		{"a guest from London, after it opened", Contest, auckland, "2026-07-20 12:00", "2026-07-27 12:00", london, "2026-07-20 01:30", []string{"2026-07-20T00:30:00Z"}, "2026-07-27T00:00:00Z", true},
		{"a guest from London, before it opened", Contest, auckland, "2026-07-20 12:00", "2026-07-27 12:00", london, "2026-07-20 00:30", []string{"2026-07-19T23:30:00Z"}, "2026-07-27T00:00:00Z", false},
		{"over the change of clocks, before it closed", Contest, london, "2026-03-27 12:00", "2026-03-30 12:00", london, "2026-03-30 11:30", []string{"2026-03-30T10:30:00Z"}, "2026-03-30T11:00:00Z", true},
		{"over the change of clocks, a guest in UTC after it closed", Contest, london, "2026-03-27 12:00", "2026-03-30 12:00", utc, "2026-03-30 11:30", []string{"2026-03-30T11:30:00Z"}, "2026-03-30T11:00:00Z", false},
		{"over the change of clocks, a guest in UTC before it closed", Contest, london, "2026-03-27 12:00", "2026-03-30 12:00", utc, "2026-03-30 10:30", []string{"2026-03-30T10:30:00Z"}, "2026-03-30T11:00:00Z", true},
		{"with an offset, before it opened", Contest, kolkata, "2026-02-20 12:00", "2026-02-27 12:00", kolkata, "2026-02-20T06:29:00Z", []string{"2026-02-20T06:29:00Z"}, "2026-02-27T06:30:00Z", false},
	}
}
