// Package flight flies a golf ball from its launch to its landing.
package flight
