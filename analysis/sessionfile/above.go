package sessionfile

import (
	"slices"
	"strings"
)

// unitWords are what a line calls itself that gives the units of the whole
// table: "Units: yd, mph". A language or a word is added by a line.
var unitWords = strings.Fields("unit units einheit einheiten unité unités unidad unidades unità enhet enheter 単位 단위")

// unitsAbove are the units of distances and speeds that the lines above a
// header give for the whole table. A dimension of which they give two has none.
func unitsAbove(preamble []row) map[dimension]unit {
	found := map[dimension]unit{}
	for _, r := range preamble {
		for _, said := range unitsSaid(r) {
			for _, dim := range []dimension{length, speed} {
				u, ok := unitFor(said, dim)
				if !ok {
					continue
				}
				if before, again := found[dim]; again && before != u {
					u = unit{dim: noDimension}
				}
				found[dim] = u
			}
		}
	}
	for dim, u := range found {
		if u.dim == noDimension {
			delete(found, dim)
		}
	}
	return found
}

// unitsSaid are the units in a line that speaks of units, distances or speeds,
// and of nothing it has figures for.
func unitsSaid(r row) (units []string) {
	speaks, others := false, 0
	for _, c := range r.cells {
		text := plainText(c)
		if len(text) > maxHeading || strings.ContainsAny(text, "0123456789") {
			return nil
		}
		for w := range strings.FieldsFuncSeq(text, func(r rune) bool { return strings.ContainsRune(" ,;:|=()[]", r) }) {
			parts := partsBySpelling()[squeezed(w)]
			switch {
			case slices.ContainsFunc(unitWords, func(u string) bool { return squeezed(u) == squeezed(w) }),
				slices.ContainsFunc(parts, func(p partWord) bool { return p.part == distancePart || p.part == speedPart }):
				speaks = true
			case isUnit(w):
				units = append(units, w)
			default:
				others++
			}
		}
	}
	if !speaks {
		return nil
	}
	return slices.DeleteFunc(units, func(u string) bool { return others > 0 && len(u) == 1 }) // "m" may be a word
}

// unitAbove is the unit that the lines above the table give a field that is
// measured along the target line. What is measured across or up goes by its own
// custom beside it.
func (t *table) unitAbove(f field) (unit, bool) {
	switch f {
	case carry, total, ballSpeed, clubSpeed:
		u, ok := t.unitsAbove[f.dimension()]
		return u, ok
	}
	return unit{}, false
}
