package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"runtime/debug"
	"time"

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
	DB     string `name:"db" help:"Keep what is tried in this database, and begin with what it holds; without one all of it goes at the end."`
	Empty  bool   `help:"Begin with the club's people alone, without the fortnight behind them."`
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
	page, st, err := c.page(ctx, s)
	if err != nil {
		return errors.Join(err, l.Close())
	}
	defer func() { err = errors.Join(err, st.close()) }()
	go st.bot.Run(ctx, st.on)

	door := try.NewDoor(page, host, l.Addr(), func(address string) {
		fmt.Fprintf(s.out, "Open %s\n", address)
	})
	fmt.Fprintln(s.out, "It works once, in one browser. Files you hand over stay on this machine. Ctrl-C ends it.")
	server := &http.Server{Handler: door, ReadHeaderTimeout: 5 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10}
	stopped := context.AfterFunc(ctx, func() { server.Close() })
	defer stopped()
	if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// page sets the stage and makes the page that shows it.
func (c *tryCommand) page(ctx context.Context, s streams) (*try.Page, *stage, error) {
	c.DB = databasePath(c.DB)
	anew := c.DB == ""
	if !anew {
		kept, err := store.Open(ctx, c.DB, store.Existing())
		if err == nil {
			err = kept.Close()
		}
		anew = errors.Is(err, fs.ErrNotExist)
	}
	st, err := emptyStage(worldMade, standin.Config{Lean: true})
	if err != nil {
		return nil, nil, err
	}
	p := newPlay(ctx, st)
	// The fortnight's thirteenth day was yesterday.
	today := time.Now().UTC().Truncate(24 * time.Hour)
	p.later = int(today.Sub(p.date(14)).Hours() / 24)
	if err := st.clock.set(p.date(1)); err != nil {
		return nil, nil, err
	}
	st.level = slog.LevelError
	log := slog.New(slog.NewTextHandler(s.err, &slog.HandlerOptions{Level: st.level}))
	if err := st.open(ctx, s.err, c.DB); err != nil {
		return nil, nil, err
	}
	if err := st.db.Hold(); err != nil {
		return nil, nil, errors.Join(err, st.close())
	}
	if anew && !c.Empty {
		if err := p.behind(); err != nil {
			return nil, nil, errors.Join(fmt.Errorf("playing the fortnight before: %w", err), st.close())
		}
	}
	if !anew {
		if err := st.wantPins(ctx); err != nil {
			return nil, nil, errors.Join(err, st.close())
		}
	}
	st.clock.run()
	if err := st.tick(ctx); err != nil { // what has come due since yesterday
		return nil, nil, errors.Join(err, st.close())
	}
	debug.FreeOSMemory() // playing takes more than what was played
	return try.New(try.Config{
		Stand: st.Stand, Server: p.server, Commands: bot.Commands(), Log: log,
		People: []try.Person{
			{User: p.wren, Is: "golfer", Home: p.wrens},
			{User: p.coach, Home: p.practice},
			{User: p.steward, Is: "runs the club", Home: p.practice},
			{User: p.tamsin, Is: "left-handed", Home: p.tamsins},
			{User: p.odell, Is: "in metres", Home: p.odells},
			{User: p.priya, Is: "no coach", Home: p.practice},
		},
		Samples: []standin.File{
			p.file("sessions/tamsin-4-slow.csv"), p.file("sessions/priya-6-windy.csv"),
			p.file("sessions/priya-5-two-swings.csv"), p.file("sessions/wren-7-last.csv.gz"),
		},
	}), st, p.err
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

// wantPins has the messages with students' buttons posted again: what the bot
// knows was kept, the conversation on the stand-in was not.
func (s *stage) wantPins(ctx context.Context) error {
	bindings, err := s.db.LiveBindings(ctx)
	for _, b := range bindings {
		err = errors.Join(err, s.db.WantPin(ctx, b.ID))
	}
	return err
}
