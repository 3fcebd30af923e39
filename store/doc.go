// Package store keeps everything: clubhouses, students and who may see them,
// sessions with their files and shots, lessons and briefs, requests taken on, and
// what buttons need to know. It keeps it in one SQLite file, or in a schema of its
// own in a database of a PostgreSQL server, 15 or later.
//
// # Shape
//
// On SQLite a DB has one connection that writes and a pool that reads, in
// write-ahead logging, so that readers never wait for the writer nor it for them.
// On PostgreSQL it has a pool of each. Each exported method owns one transaction
// and calls unexported helpers that take it; nothing outside this package sees
// SQL. Every query about people is scoped by server, an empty server being direct
// messages. What the engines do each in their own way is behind engine.go.
//
// # What an acknowledgement is worth
//
// A method that returns nil has committed. Commits survive the death of the
// process at any instant, and, because each one is synced, the loss of power on a
// disk that honours a sync (on PostgreSQL while fsync and synchronous_commit are
// on, as they are unless somebody turns them off). A method that returns an error
// has changed nothing, but for ErrInDoubt.
//
// On PostgreSQL what writes is serializable: as if there were one writer, however
// many processes there are. Transactions that meet are begun again, for fifteen
// seconds at most (ErrCrowded then), and those that lost the server for ten
// (ErrUnreachable). Of one that was cut off as it was committed the server is
// asked how it ended, by the mark its connection left with it, since a server that
// crashed may give a number again; only if it cannot be asked within twenty
// seconds, or before the caller gave up, the method returns ErrInDoubt: it was
// kept, or not. Accept may then be said again and takes the request on once.
// Others that are said again do again what they do, or find that it is done: a
// post is the same session, consent stays given, a setting is what it is set to;
// a tally counts again.
//
// What is deleted is overwritten in SQLite's file. On PostgreSQL no query sees it
// any more, the server's vacuum frees it, and it may stand in free space, in
// archived logs and in backups until those are written over.
//
// # Quantities
//
// SI and radians, like package analysis; times are kept to the millisecond and
// come back in UTC. Ids are our own: short, opaque, fit for a button's path. Texts
// have no zero byte and are UTF-8; what was neither has U+FFFD in its place.
//
// # On paper: how far it goes
//
// What is assumed: a server has 20 golfers who post 40 sessions of 60 balls a
// year (our choice), and a quarter of a day's posts come in its busiest hour. At
// 640 bytes a ball on PostgreSQL with its indexes (measured, 6,000 balls) and
// about 17 ms of one busy core a post (measured, see testdata/bench.md):
//
//	servers     posts a year   busiest second   shards   processes   connections   GB a year
//	1,000            800,000             0.15        1           2            32        31
//	30,000        24 million              4.6       12           3            48        920
//	1,000,000    800 million              152      400          20           320        31,000
//
// A shard takes at most 2,500 servers; a process is taken to carry 20 of them. At
// 1,000 one SQLite file does, and two processes are for the loss of one. At 30,000
// one PostgreSQL on one machine does, with a terabyte of disk for each year. At a
// million the writer breaks first: 152 posts a second are more than two cores of
// the database at 17 ms, and the year's growth is more than one disk is kept whole
// by dump; then the tables are partitioned by server, which every key but a
// session's begins with, rosters and timelines read from replicas, and a pooler
// that keeps sessions stands before the 320 connections.
package store
