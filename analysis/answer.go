package analysis

// Answers are what was chosen of questions about a file, by their keys.
type Answers map[string]string

// With is the answers and those that count more where both have one.
func (a Answers) With(more Answers) Answers {
	all := make(Answers, len(a)+len(more))
	for _, answers := range []Answers{a, more} {
		for key, value := range answers {
			all[key] = value
		}
	}
	return all
}
