package discord

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"
	"sync/atomic"
	"time"

	exposed "github.com/VictoriaMetrics/metrics"
	"golang.org/x/time/rate"

	"rangepost/bot"
)

// Conversation is what answers: *bot.Bot, or a few lines in a test.
type Conversation interface {
	Ack(bot.Request) bot.Ack
	Urgent(bot.Request) bool
	Accept(context.Context, bot.Request) (fresh bool, err error)
	Handle(context.Context, bot.Request) bot.Reply
	Redirect(context.Context, bot.Request) error
	Answered(ctx context.Context, id string) error
	Unfinished(context.Context) ([]bot.Request, error)
}

// A Crew is the processes that serve one bot together: *bot.Bot, on a database
// that they share.
type Crew interface {
	Join(context.Context) (*bot.Member, error)
}

// Config is what an Adapter needs. Zero values take the defaults given.
type Config struct {
	Token    string // the bot's
	Platform string // https://discord.com
	Bot      Conversation
	Commands []bot.Command // bot.Commands()
	Log      *slog.Logger  // slog.Default()
	Metrics  *exposed.Set  // where what an operator watches is put

	Shards int // 0 for as many as the platform recommends

	Crew   Crew                  // nil where this process serves alone
	Chores func(context.Context) // what one process at a time does until told to stop, once it is connected

	Workers int           // requests worked on at once: 4
	Fetches int           // files waited for at once: 8
	Queue   int           // requests waiting at once: 2,000
	PerUser int           // of one person: 20
	Within  time.Duration // the longest one request may be worked on: 90 s
	Also    time.Duration // the longest a reply waits for its messages to other channels: 1 min
	Grace   time.Duration // for what is under way when told to stop: 8 s
}

func (c Config) withDefaults() Config {
	c.Platform = cmp.Or(strings.TrimSuffix(c.Platform, "/"), "https://discord.com")
	c.Workers = cmp.Or(c.Workers, 4)
	c.Fetches = cmp.Or(c.Fetches, 8)
	c.Queue = cmp.Or(c.Queue, 2000)
	c.PerUser = cmp.Or(c.PerUser, 20)
	c.Within = cmp.Or(c.Within, 90*time.Second)
	c.Also = cmp.Or(c.Also, time.Minute)
	c.Grace = cmp.Or(c.Grace, 8*time.Second)
	if c.Log == nil {
		c.Log = slog.Default()
	}
	return c
}

// An Adapter puts a conversation on the platform.
type Adapter struct {
	cfg     Config
	log     *slog.Logger
	rest    *client
	metrics *metrics
	queue   *queue // where this process serves alone
	member  atomic.Pointer[bot.Member]
	self    atomic.Pointer[user]
	health  health

	droppings rate.Sometimes // how often what was dropped is logged
}

// New returns an Adapter. Nothing is sent before Run.
func New(c Config) (*Adapter, error) {
	c = c.withDefaults()
	switch {
	case c.Token == "":
		return nil, errors.New("no bot token: put it in the token file or the environment")
	case c.Bot == nil:
		return nil, errors.New("discord: no conversation to put on the platform")
	}
	a := &Adapter{cfg: c, log: c.Log, metrics: newMetrics(c.Metrics), droppings: rate.Sometimes{First: 20, Interval: time.Second}}
	a.rest = newClient(c.Platform, c.Token, newLimits(a.metrics), networkFor(c.Platform).while(a.alive))
	a.queue = newQueue(a, nil)
	return a, nil
}

// Run connects and answers until ctx ends, then finishes what is under way and
// returns nil. It returns an error, in words for the operator, only when going
// on makes no sense: the token is wrong, or the platform refuses the bot.
func (a *Adapter) Run(ctx context.Context) error {
	if err := a.introduce(ctx); err != nil {
		return err
	}
	switch {
	case ctx.Err() != nil:
		return nil
	case a.cfg.Crew != nil:
		return a.serveLives(ctx)
	}
	// Work outlives ctx by the grace period; links do not.
	work, stop := context.WithCancel(context.WithoutCancel(ctx))
	defer stop()
	a.queue.start(work)
	a.takeUp(work)
	return a.serve(ctx, stop, a.queue, a.serveGateway)
}

// serve answers what comes by the gateway until ctx ends, or gateway does. Then it
// finishes what is under way in q, within the grace period, and has the rest cut
// short by stop.
func (a *Adapter) serve(ctx context.Context, stop func(), q *queue, gateway func(context.Context) error) error {

	// Saying goodbye to the gateway takes a second or more, so nothing new is
	// started from the moment ctx ends.
	told := make(chan time.Time, 1)
	context.AfterFunc(ctx, func() {
		told <- time.Now()
		q.close()
	})
	err := gateway(ctx)
	grace := a.cfg.Grace
	select {
	case at := <-told:
		grace -= time.Since(at)
	default:
		q.close()
	}
	q.wait(grace)
	stop() // what is still under way is cut short, and taken up by the next start
	q.wait(2 * time.Second)
	return err
}

// introduce asks who the bot is and brings its commands up to date.
func (a *Adapter) introduce(ctx context.Context) error {
	var u user
	err := a.insist(ctx, "who the bot is", func(ctx context.Context) error {
		return a.rest.do(ctx, call{method: "GET", route: "/users/@me", into: &u, manner: manner{trusting: true}})
	})
	if err != nil {
		return err
	}
	a.self.Store(&u)
	return a.insist(ctx, "the commands", func(ctx context.Context) error {
		app, err := a.rest.application(ctx)
		if err != nil {
			return err
		}
		return a.register(ctx, app)
	})
}

// insist asks again and again, through an outage of whatever length, until ctx
// ends, which is no error, or the platform refuses.
func (a *Adapter) insist(ctx context.Context, what string, ask func(context.Context) error) error {
	for attempt := 0; ; attempt++ {
		try, cancel := context.WithTimeout(ctx, 30*time.Second)
		err := ask(try)
		cancel()
		switch {
		case err == nil || ctx.Err() != nil:
			return nil
		case refused(err):
			return startError(err)
		}
		a.log.Warn("the platform does not say "+what+"; asking again (rangepost check says what to do)", "err", err)
		sleep(ctx, backOff(min(attempt+2, 6)))
	}
}

func startError(err error) error {
	if unauthorized(err) {
		return errBadToken
	}
	return fmt.Errorf("reach the platform: %w", err)
}

var errBadToken = errors.New("the platform refuses the bot token: copy it again from the application's Bot page, or reset it there")

// takeUp queues what a run before this one accepted and did not answer. While
// the intake cannot be read it tries on, since nobody else would before the
// next start.
func (a *Adapter) takeUp(ctx context.Context) {
	began := time.Now()
	if a.tookUp(ctx, a.queue, began) {
		return
	}
	a.queue.spawn(func() {
		for attempt := 0; ; attempt++ {
			select {
			case <-time.After(backOff(attempt)):
			case <-a.queue.closing:
				return
			}
			if a.tookUp(ctx, a.queue, began) {
				return
			}
		}
	})
}

// tookUp queues what was accepted before this run began, and reports whether
// that was all of it.
func (a *Adapter) tookUp(ctx context.Context, q *queue, began time.Time) bool {
	rs, err := a.cfg.Bot.Unfinished(ctx)
	for _, r := range rs {
		q.resume(r, began)
	}
	if len(rs) > 0 {
		a.log.Info("took up unanswered requests", "count", len(rs))
	}
	if err != nil {
		a.log.Error("cannot read the intake", "err", err)
	}
	return err == nil
}
