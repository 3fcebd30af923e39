package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"sync"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
	"rangepost/store"
)

// A stage is the real bot, with a database of its own, on a stand-in for the
// platform: the demo and the end-to-end tests play on it.
type stage struct {
	*standin.Stand
	db    *store.DB
	bot   *bot.Bot
	on    *discord.Adapter
	clock *clock
	ids   rand.Source // of the database, nil for ids nobody can guess
	level slog.Level  // of what is logged
	done  chan error
	stop  context.CancelFunc
}

// newStage sets a stage whose calendar begins at the given time, on an empty
// database at a path, "" for one of its own. What is played on it is the same
// every time, to the byte.
func newStage(ctx context.Context, from time.Time, log io.Writer, path string) (*stage, error) {
	s, err := emptyStage(from, standin.Config{})
	if err != nil {
		return nil, err
	}
	s.ids, s.clock.still = rand.NewPCG(uint64(from.Unix()), 0), true
	return s, s.open(ctx, log, path)
}

// newStageOn is newStage on any database, and with files from further hosts than
// the stand-in's.
func newStageOn(ctx context.Context, from time.Time, log io.Writer, path string, hosts ...string) (*stage, error) {
	s, err := emptyStage(from, standin.Config{})
	if err != nil {
		return nil, err
	}
	return s, s.open(ctx, log, path, hosts...)
}

// emptyStage is a stage without a bot and a database.
func emptyStage(from time.Time, c standin.Config) (s *stage, err error) {
	s = &stage{clock: &clock{now: from}, done: make(chan error, 1)}
	c.Now = s.clock.Now
	s.Stand, err = standin.Start(c)
	return s, err
}

// open brings a database and a bot onto an empty stage. If it fails nothing is
// left of the stage.
func (s *stage) open(ctx context.Context, log io.Writer, path string, hosts ...string) (err error) {
	options := []store.Option{store.WithClock(s.clock.Now)}
	if s.ids != nil {
		options = append(options, store.WithIDs(s.ids))
	}
	if s.db, err = store.Open(ctx, path, options...); err != nil {
		return errors.Join(err, s.Stand.Close())
	}
	if err := s.enter(ctx, log, hosts...); err != nil {
		return errors.Join(err, s.db.Close(), s.Stand.Close())
	}
	if err := s.Connected(ctx, 1); err != nil {
		return errors.Join(err, s.close())
	}
	return nil
}

// enter brings a bot onto the stage, the first or, after leave, another.
func (s *stage) enter(ctx context.Context, log io.Writer, hosts ...string) error {
	logger := slog.New(slog.NewTextHandler(log, &slog.HandlerOptions{Level: s.level}))
	b, err := bot.New(ctx, bot.Config{
		DB: s.db, Now: s.clock.Now, Log: logger,
		Fetch: discord.NewFetcher(discord.FetchConfig{Hosts: append(hosts, s.CDNHost())}),
	})
	if err != nil {
		return err
	}
	adapter, err := discord.New(discord.Config{Token: s.Token(), Platform: s.URL(), Bot: b, Commands: bot.Commands(), Log: logger})
	if err != nil {
		return err
	}
	s.bot, s.on = b, adapter
	running, stop := context.WithCancel(ctx)
	s.stop = stop
	go func() { s.done <- adapter.Run(running) }()
	return nil
}

// leave takes the bot off the stage.
func (s *stage) leave() error {
	s.stop()
	return <-s.done
}

// close takes the bot off the stage and clears it.
func (s *stage) close() error {
	return errors.Join(s.leave(), s.db.Close(), s.Stand.Close())
}

// tick is the bot's own minute hand: it does what is due by now.
func (s *stage) tick(ctx context.Context) error { return s.bot.Tick(ctx, s.on) }

// A clock is a calendar that moves when it is told to.
type clock struct {
	mu    sync.Mutex
	now   time.Time
	runs  bool // with everybody's
	still bool // but when somebody does something
}

// Now is the time on the stage. It creeps on at every look, so that no two
// things happen at once, unless it stands still.
func (c *clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	if !c.still {
		c.now = c.now.Add(time.Millisecond)
	}
	if now := time.Now(); c.runs && now.After(c.now) {
		c.now = now
	}
	return c.now
}

// run lets the clock go with everybody's, from when theirs has caught up.
func (c *clock) run() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.runs = true
}

// act is a second of somebody's. Where the clock stands still otherwise, what is
// done at once has one time, however often each of it looks.
func (c *clock) act() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.still {
		c.now = c.now.Add(time.Second)
	}
}

// set moves the calendar on.
func (c *clock) set(t time.Time) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	if t.Before(c.now) {
		return fmt.Errorf("the calendar cannot go back from %v to %v", c.now, t)
	}
	c.now = t
	return nil
}
