// Package store keeps everything in SQLite.
package store

// DB is the open database.
type DB struct{}
