// Package sessionfile reads the bytes of a session file into a Session, or asks, or
// refuses; it never reads one wrongly without a word.
//
// It knows no layouts. It knows the words of the trade in eight languages,
// units, and what physics requires of a shot's numbers:
//
//   - open.go looks at the first bytes: a delimited text, a workbook, JSON, or
//     one of these in a zip or gzip. Sizes are capped before anything is held.
//     workbook.go finds the sheets of a workbook, sheet.go their cells, and
//     numberformat.go what a cell shows beside its number.
//   - text.go and delimited.go choose encoding and separator: those under which
//     the header is understood best.
//   - structure.go and header.go find the header by what stands under it, and
//     table.go a unit row and the rows that are shots; summary.go leaves out
//     rows that are a statistic of the others, whether they say so or not.
//     typed.go cuts pasted tables and typed lines that no separator cuts,
//     figurerows.go lines of figures whose names stand above them, or nowhere;
//     numbered.go knows A, B, C and Column 1, 2, 3 for names that say nothing.
//   - lexicon.go knows headings as they are usually written. Others are
//     understood from their parts (parts.go): recipe.go says which parts make
//     which number, compose.go what the words of one heading make; word.go is
//     what one word can be, a compound (compound.go), an abbreviation or cut off
//     (abbreviation.go) or a slip of the pen (slip.go).
//   - vote.go names all columns at once that the lexicon does not know, by
//     their words, by what their figures look like (figures.go) beside what
//     their clubs usually give (usual.go), and by how columns hang together
//     (ties.go, and flown.go by the flight model). score.go adds that up,
//     search.go looks for the best. A column is believed when the best way to
//     name all of them stands well clear of every way that names it otherwise;
//     else it is asked about.
//   - numeral.go and column.go read the cells: one decimal mark a file, units
//     and sides in words beside the number. A value that is none is set aside
//     and named, where there are four others of its column to each.
//   - above.go finds units that a line above gives for the whole table.
//   - wind.go reads the wind, ball.go the kind of ball, target.go the carries aimed
//     at, conditions.go the rest of the air; sets.go finds the column that names the
//     sets where no heading does. What of these cannot be read costs no session.
//   - hypothesis.go gives columns without a unit the only one that hangs
//     together with the rest; of several, likeliest.go weighs custom and fit, and
//     what stays within reach is asked. wholeflight.go tells yards from metres by
//     the whole flight: balls, air and wind are off all of its ends together, a
//     unit is off one.
//   - relation.go and signs.go settle what a plus means: cluster.go groups columns that
//     count alike for sure, orient.go turns each group, wentto.go asks.
//   - wholecolumn.go asks about columns that the others contradict as a whole.
//   - misread.go leaves out what was misread: row.go has the laws that tie a
//     ball's numbers together, company.go what is usual of a club's balls,
//     held.go which laws a mishit is not held against, doubt.go which number it
//     is that stands alone, frozen.go the club that stands still.
//
// # Signs
//
// Each sideways column is right of target times an unknown sign s. Four things
// must agree, shot by shot:
//
//	s_D D = w s_F F + (1-w) s_P P          the start line, between face and path
//	tan(s_A A) = tan(s_F F - s_P P)/tan(L)  the axis, after face-to-path; L is spin loft
//	s_Y atan(Y/carry) = s_D D + curve(s_A A) the landing, after start and curve
//	s_T T = s_F F - s_P P                   face-to-path, by definition
//
// A heading that merely says "face" may be either of F and T: facemeaning.go tells
// them apart by what goes along when the whole swing is turned, or it is asked.
//
// The reader scores every combination of signs by its squared gaps over the
// noise to expect, capped so that a misread decides nothing, with a constant
// gap nearly free, because devices are set up a degree askew. Two columns are
// settled against each other when the other way round is less likely by odds
// of 400 to 1, more with few shots or large gaps. The face share w and the
// curve come from packages impact and flight.
//
// A file mirrored as a whole agrees with itself. Then + is read as right of
// target, a decision says so, and Reading.Customary is the question it would
// be, unless a column was left out that might have told, the golfer is
// left-handed, most columns do not count the same way, or a column hangs
// together with no other: these are asked. Of several that nothing ties together
// one is asked about, and its answer taken for all, which Customary can turn
// round one by one; a left-hander's club and ball are asked about apart. Sides in
// words or in the header ("12.4 L", "+R") leave nothing to ask.
//
// # Misreads
//
// Thirteen laws tie the numbers of one ball together: carry, apex, time and
// descent to the flight of its launch, the finish to start line and curve, ball
// speed, launch, spin, start line and axis to the strike, and three definitions. By how
// much a ball misses them is held against the other balls of its club: middles,
// slopes and scales are medians, so that one wild ball moves none of them, and what
// several laws share is reckoned from the noise of one reading. Where a ball is
// too far from them, each of its numbers is taken back in turn; the one with
// which the rest falls into place is left out, with what was worked out of it, and a
// note says which and what contradicts it. A number that nothing contradicts
// stays, and so does one that no law is about.
//
// # Answers
//
// Questions have stable keys. Answers are remembered by Reading.Fingerprint,
// which names the header whatever order its columns stand in.
//
//	signs, signs:face     target, target-left or golfer
//	unit:carry            a unit
//	column:<words>        the key of a number or another thing of field.go, or ignore
//	which:lateral         the words of one of several columns
//	club:<words>          a club, as analysis.ParseClub reads it
//	player, part          one of several people, sheets or lists
//	doubt:<mistake>       mended, file or ignore, of this file alone
//
// At most MaxQuestions are asked in one go, those first that settle others.
//
// # Adding to it
//
// A word or an abbreviation goes into the line of its part in parts.go; what
// parts make a number stands in the number's row in package analysis.
// A header word goes into the number's row in package analysis, or into its line
// of the table in lexicon.go; a language is an entry in each. Units, sides, clubs and statistics have one such table each,
// in unit.go, side.go, club.go and summary.go. Nothing else needs to change,
// and no table names anybody's product.
package sessionfile
