// Package cause says whose yards a pattern's miss is: face, path, aim, strike,
// or honestly none, and works back to the number that has to move.
package cause
