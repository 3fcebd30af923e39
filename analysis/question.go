package analysis

// A Question is something a session's file leaves open, with at most 25
// choices.
type Question struct {
	Key     string // stable, the same for the same question about any file
	Text    string
	Choices []Choice
	Alone   bool // about this very file: its answer says nothing of others with the same header
}

// A Choice is one of the things that can be chosen: an answer to a question, a
// line of a menu.
type Choice struct {
	Value string // what comes back, and what `--answer` sends
	Text  string
}
