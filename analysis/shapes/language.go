package shapes

import (
	"fmt"

	"rangepost/analysis"
)

// language is how the trade writes in one language, from common practice (no
// source). full are the usual words, best known first; rare are the ones
// fewer write.
type language struct {
	code       string
	full, rare map[analysis.Number][]string
	club       []string // headings of the club's column
	noise      []noise
	backSpin   string
	right      []string // words and letters for right of target ...
	left       []string // ... and, at the same place, for left
	average    []string // what a row of averages is called
	deviation  []string
	player     []string // labels of lines above the table
	date       []string
	place      []string
	units      map[string][]string        // more spellings of a unit
	clubNames  map[analysis.Family]string // with %d for the number
	comma      bool                       // decimals are usually written with a comma
	thousands  []string
	legacy     string // the code page files still come in
	session    string // a sheet's name, a title
}

// noise is a column that is no number of a ball.
type noise struct {
	heading string
	kind    noiseKind
}

type noiseKind int8

const (
	ballNumber noiseKind = iota
	timeOfDay
	temperature
	tag
	link
	humidity
	yes
)

var languages = []*language{&english, &german, &french, &spanish, &swedish, &italian, &japanese, &korean}

// clubName is the club as the language writes it.
func (l *language) clubName(c analysis.Club) string {
	if c.Family == analysis.Wedge {
		switch c.Wedge {
		case "pw", "gw", "sw":
			return map[string]string{"pw": "PW", "gw": "GW", "sw": "SW"}[c.Wedge]
		}
		return c.Wedge + "°"
	}
	form := l.clubNames[c.Family]
	if c.Family == analysis.Driver {
		return form
	}
	return fmt.Sprintf(form, c.Number)
}
