package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	runtimemetrics "runtime/metrics"
	"time"

	exposed "github.com/VictoriaMetrics/metrics"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/store"
)

// platformFlags say where the platform is. The token is never a flag: flags
// show in lists of processes.
type platformFlags struct {
	Platform string   `help:"The platform's address, for another server that speaks its protocol." env:"RANGEPOST_PLATFORM_URL"`
	CDN      []string `name:"cdn" help:"Hosts that posted files may come from." env:"RANGEPOST_CDN_HOSTS"`
	Shards   int      `help:"Sessions to share the servers among; 0 for what the platform recommends." default:"0"`
}

// serveCommand runs the bot.
type serveCommand struct {
	databaseFlag
	platformFlags
	Listen string `help:"Address of health page and metrics; empty for none." default:"127.0.0.1:8081"`
}

// Run serves until it is told to stop, then finishes what is under way.
func (c *serveCommand) Run(ctx context.Context, s streams) error {
	secret, err := botToken()
	if err != nil {
		return err
	}
	log := slog.New(slog.NewTextHandler(s.err, nil))
	if f := checkToken()[0]; !f.OK {
		log.Warn("the token is not kept as it should be", "found", f.Say, "mend", f.Mend)
	}
	db, err := store.Open(ctx, c.DB)
	if err != nil {
		return fmt.Errorf("%w (rangepost check says what to do)", err)
	}
	defer db.Close()
	if err := db.Hold(); err != nil {
		return err
	}
	b, err := bot.New(ctx, bot.Config{DB: db, Fetch: discord.NewFetcher(discord.FetchConfig{Hosts: c.CDN}), Log: log})
	if err != nil {
		return err
	}
	figures := exposed.NewSet()
	figures.RegisterMetricsWriter(func(w io.Writer) {
		exposed.WriteCounterUint64(w, "rangepost_database_retries_total", uint64(db.Retries())) // transactions that were begun again
		exposed.WriteGaugeUint64(w, "go_gc_heap_live_bytes", liveHeap())
		exposed.WriteProcessMetrics(w)
	})
	config := discord.Config{
		Token: secret, Platform: c.Platform, Bot: b, Commands: bot.Commands(), Log: log, Metrics: figures, Shards: c.Shards,
	}
	if db.Shared() {
		config.Crew = b
	}
	var adapter *discord.Adapter
	config.Chores = func(ctx context.Context) {
		go prune(ctx, db, log)
		b.Run(ctx, adapter)
	}
	if adapter, err = discord.New(config); err != nil {
		return err
	}
	if c.Listen != "" {
		page, err := listen(c.Listen, healthy(db, adapter.Health()), metricsPage(figures), log)
		if err != nil {
			return err
		}
		defer page.Close()
	}
	log.Info("starting", "database", db.Path())
	return adapter.Run(ctx)
}

// metricsPage is the page of what is counted.
func metricsPage(figures *exposed.Set) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/plain; version=0.0.4; charset=utf-8")
		figures.WritePrometheus(w)
	})
}

// liveHeap is the live heap in bytes, as of the last collection: what a leak shows
// in, since it is without the garbage.
func liveHeap() uint64 {
	live := []runtimemetrics.Sample{{Name: "/gc/heap/live:bytes"}}
	runtimemetrics.Read(live)
	return live[0].Value.Uint64()
}

// healthy is the adapter's health page while the database's file is there.
func healthy(db *store.DB, page http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if err := db.There(); err != nil {
			http.Error(w, "the database is gone: "+err.Error(), http.StatusServiceUnavailable)
			return
		}
		page.ServeHTTP(w, r)
	})
}

// listen serves the health page and the metrics.
func listen(address string, health, metrics http.Handler, log *slog.Logger) (*http.Server, error) {
	l, err := net.Listen("tcp", address)
	if err != nil {
		return nil, fmt.Errorf("health page: %w (another --listen address, or --listen '' for none)", err)
	}
	log.Info("health page and metrics", "address", l.Addr().String())
	mux := http.NewServeMux()
	mux.Handle("GET /health", health)
	mux.Handle("GET /metrics", metrics)
	server := &http.Server{Handler: mux, ReadHeaderTimeout: 5 * time.Second}
	go func() {
		if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
			log.Error("health page stopped", "err", err)
		}
	}()
	return server, nil
}

// prune deletes daily what has had its time, first when those who wrote while
// the bot was away have been answered.
func prune(ctx context.Context, db *store.DB, log *slog.Logger) {
	for wait := time.Minute; ; wait = 24 * time.Hour {
		select {
		case <-ctx.Done():
			return
		case <-time.After(wait):
		}
		if p, err := db.Prune(ctx); err != nil && ctx.Err() == nil {
			log.Error("pruning failed", "err", err)
		} else if p != (store.Pruned{}) {
			log.Info("pruned", "requests", p.Requests, "views", p.Views, "sessions", p.Sessions)
		}
	}
}
