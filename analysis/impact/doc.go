// Package impact turns what a club does into what the ball does, and back.
package impact
