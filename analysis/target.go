package analysis

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// Targets are the carries aimed at, m, by club. The one of the unknown club was
// said without naming any.
type Targets map[Club]float64

// Over is these, and of clubs they say nothing of, what was said before.
func (t Targets) Over(before Targets) Targets {
	if len(before) == 0 {
		return t
	}
	all := maps.Clone(before)
	maps.Copy(all, t)
	return all
}

// String is them as they are said, in metres to a tenth, in the order of the
// clubs' keys: "7i 137.2m, pw 100.6m".
func (t Targets) String() string {
	byKey := t.byKey()
	var all []string
	for _, key := range slices.Sorted(maps.Keys(byKey)) {
		all = append(all, strings.TrimSpace(key+" "+strconv.FormatFloat(byKey[key], 'f', 1, 64)+"m"))
	}
	return strings.Join(all, ", ")
}

func (t Targets) byKey() map[string]float64 {
	all := make(map[string]float64, len(t))
	for club, carry := range t {
		all[club.Key()] = carry
	}
	return all
}

// MarshalJSON writes them by the clubs' keys.
func (t Targets) MarshalJSON() ([]byte, error) { return json.Marshal(t.byKey()) }

// UnmarshalJSON reads that back.
func (t *Targets) UnmarshalJSON(b []byte) error {
	var byKey map[string]float64
	if err := json.Unmarshal(b, &byKey); err != nil {
		return err
	}
	*t = Targets{}
	for key, carry := range byKey {
		club, err := ParseClub(key)
		if err != nil {
			return err
		}
		(*t)[club] = carry
	}
	return nil
}
