package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"os"
	"runtime/debug"
	"slices"
	"time"

	"golang.org/x/sync/errgroup"

	"rangepost/bot"
	"rangepost/bot/standin"
	"rangepost/bot/try"
	"rangepost/store"
)

// worldMade is when the world of try is made, whenever that is: the ids of its
// people and places follow from it and from their order, so that they are the
// same at every start, and a database that was kept knows them again.
var worldMade = time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC)

// tryCommand is the bot on a page of its own.
type tryCommand struct {
	DB     string `name:"db" help:"Keep what is tried in this file, and begin with what it holds; without one all of it goes at the end."`
	Empty  bool   `help:"Begin with the club's people alone, on its first evening: nothing is set up, nothing was said."`
	Listen string `help:"Address of the page. Beyond 127.0.0.1 whoever has the address with its key can open it." default:"127.0.0.1:8082"`
}

// Run serves until it is told to stop.
func (c *tryCommand) Run(ctx context.Context, s streams) (err error) {
	host, _, err := net.SplitHostPort(c.Listen)
	if err != nil {
		return fmt.Errorf("--listen takes host:port, as in 127.0.0.1:8082: %w", err)
	}
	l, err := net.Listen("tcp", c.Listen)
	if err != nil {
		return fmt.Errorf("the page: %w (--listen 127.0.0.1:0 takes any free port)", err)
	}
	g, running := errgroup.WithContext(ctx)
	t, err := c.open(running, s)
	if err != nil {
		return errors.Join(err, l.Close())
	}
	defer func() { err = errors.Join(err, t.close()) }()

	door := try.NewDoor(t.page, host, l.Addr(), func(address string) {
		fmt.Fprintf(s.out, "Open %s\n", address)
	})
	fmt.Fprintln(s.out, "It works once, in one browser. Files you hand over stay on this machine. Ctrl-C ends it.")
	server := &http.Server{Handler: door, ReadHeaderTimeout: 5 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10}
	stopped := context.AfterFunc(running, func() { server.Close() })
	defer stopped()
	g.Go(func() error {
		if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
			return err
		}
		return nil
	})
	g.Go(func() error {
		if err := t.begin(running); err != nil {
			return err
		}
		g.Go(func() error { return t.said.follow(running) })
		t.bot.Run(running, t.on)
		return nil
	})
	if err := g.Wait(); ctx.Err() == nil {
		return err
	}
	return nil // it was told to stop, maybe while it still played
}

// A tryout is what the page of try shows.
type tryout struct {
	*stage
	play *play
	page *try.Page
	said conversation
	past chan struct{} // closed once what is behind its people has been played

	path   string // the database's, "" if it goes at the end
	anew   bool   // it was made at this start
	behind bool   // a fortnight is to be played first
	pins   bool   // the messages with buttons have to be posted again
}

// open sets the stage and makes the page that shows it. Nothing has happened on it
// before begin.
func (c *tryCommand) open(ctx context.Context, s streams) (*tryout, error) {
	if store.IsServer(c.DB) {
		return nil, errors.New("try keeps what was tried in a file, not on a server: --db FILE (serve takes a server)")
	}
	c.DB = databasePath(c.DB)
	_, err := os.Stat(c.DB)
	t := &tryout{path: c.DB, anew: c.DB == "" || errors.Is(err, fs.ErrNotExist), past: make(chan struct{})}
	t.behind = t.anew && !c.Empty
	// Nobody holds a fortnight that passes in seconds to limits of a minute.
	if t.stage, err = emptyStage(worldMade, standin.Config{Lean: true, Unlimited: true}); err != nil {
		return nil, err
	}
	p := newPlay(ctx, t.stage)
	t.play = p
	// Who begins empty opens the lesson threads of their own.
	lessons := []*standin.Channel{p.wrens, p.tamsins, p.odells}
	if t.anew && c.Empty {
		for _, thread := range lessons {
			thread.Delete()
		}
	}
	if c.DB != "" {
		t.said = conversation{c.DB + ".chat", t.Stand}
	}
	if !t.anew {
		found, err := t.said.read()
		if err != nil {
			return nil, errors.Join(err, t.Stand.Close())
		}
		t.pins = !found
	}
	// The fortnight's thirteenth day was yesterday.
	today := time.Now().UTC().Truncate(24 * time.Hour)
	p.later = int(today.Sub(p.date(14)).Hours() / 24)
	if err := t.clock.set(p.date(1)); err != nil {
		return nil, errors.Join(err, t.Stand.Close())
	}
	t.level = slog.LevelError
	log := slog.New(slog.NewTextHandler(s.err, &slog.HandlerOptions{Level: t.level}))
	if err := t.stage.open(ctx, s.err, c.DB); err != nil {
		return nil, err
	}
	if err := t.db.Hold(); err != nil {
		return nil, errors.Join(err, t.stage.close())
	}
	begin, left, metres := "", "left-handed", "in metres"
	for i, thread := range lessons {
		if !slices.Contains(p.server.Channels(), thread) {
			lessons[i], begin = p.practice, "Where nothing is set up yet, it begins with /clubhouse setup, by Steward."
			left, metres = "left-handed: /mine hand", "in metres: /mine units"
		}
	}
	// Of the files to try, the balls were hit an hour ago: they are of the fortnight's
	// last day, at half past five.
	sample := func(session string) standin.File {
		return p.fileOn("sessions/"+session, time.Since(time.Date(2026, time.June, 14, 18, 30, 0, 0, time.UTC)).Round(time.Second))
	}
	t.page = try.New(try.Config{
		Stand: t.Stand, Server: p.server, Commands: bot.Commands(), Log: log, Past: t.past, Begin: begin,
		People: []try.Person{
			{User: p.wren, Is: "golfer", Home: lessons[0]},
			{User: p.coach, Home: p.practice},
			{User: p.steward, Is: "runs the club", Home: p.practice},
			{User: p.tamsin, Is: left, Home: lessons[1]},
			{User: p.odell, Is: metres, Home: lessons[2]},
			{User: p.priya, Is: "no coach", Home: p.practice},
		},
		Samples: []standin.File{
			sample("tamsin-4-slow.csv"), sample("priya-6-windy.csv"), sample("priya-5-two-swings.csv"), sample("wren-7-last.csv.gz"),
		},
	})
	return t, p.err
}

// begin brings the people to today: what is behind them is played, and the clock
// goes with everybody's from then on.
func (t *tryout) begin(ctx context.Context) error {
	if t.behind {
		if err := t.play.behind(); err != nil {
			return fmt.Errorf("playing the fortnight before: %w", err)
		}
	}
	if t.pins {
		if err := t.wantPins(ctx); err != nil {
			return err
		}
	}
	t.clock.run()
	if err := t.tick(ctx); err != nil { // what has come due since yesterday
		return err
	}
	debug.FreeOSMemory() // playing takes more than what was played
	close(t.past)
	return nil
}

// close ends it. Half a fortnight is not kept: the next start plays it whole.
func (t *tryout) close() error {
	err := t.stage.close()
	select {
	case <-t.past:
		return errors.Join(err, t.said.write())
	default:
	}
	if t.anew && t.path != "" {
		for _, part := range []string{"", "-wal", "-shm"} {
			if gone := os.Remove(t.path + part); !errors.Is(gone, fs.ErrNotExist) {
				err = errors.Join(err, gone)
			}
		}
	}
	return err
}

// behind plays what is behind the people of try: the fortnight but its last
// evening, on which the coach looks at it all and a golfer leaves.
func (p *play) behind() error {
	p.setUp()
	p.secondWeek(p.firstWeek())
	p.slash(p.coach, p.contests, "challenge open", standin.Options{"name": "This week's seven", "rule": "narrow", "club": "7i", "balls": 10})
	p.tick()
	return p.err
}

// wantPins has the messages with students' buttons posted again, where what the
// bot knows was kept and the conversation on the stand-in was not.
func (s *stage) wantPins(ctx context.Context) error {
	bindings, err := s.db.LiveBindings(ctx)
	for _, b := range bindings {
		err = errors.Join(err, s.db.WantPin(ctx, b.ID))
	}
	return err
}
