package discord

import (
	"encoding/json"
	"fmt"
	"net/http"
	"sync/atomic"
	"time"

	exposed "github.com/VictoriaMetrics/metrics"
)

// metrics are what an operator watches. Labels never hold ids.
type metrics struct {
	set *exposed.Set

	ack        *exposed.PrometheusHistogram // from the arrival of an event to its acknowledgement
	ackFailed  *exposed.Counter             // events that could not be acknowledged in time
	waiting    *exposed.Gauge               // requests taken in and not yet answered
	stale      *exposed.Counter             // connections given up because heartbeats went unanswered
	duplicates *exposed.Counter             // events that had come before
	turnedAway *exposed.Counter             // requests refused because the queue was full
	undecoded  *exposed.Counter             // events that could not be read
	panics     *exposed.Counter             // conversations that panicked
	held       *exposed.Gauge               // shards of the gateway that this process serves
	lost       *exposed.Counter             // leases that ended before they were given back
	taken      *exposed.Counter             // leases taken that another process had held before
	takenOver  *exposed.Counter             // requests taken over from other processes
}

// newMetrics puts them into a set; nil is one of their own, which nobody sees.
func newMetrics(set *exposed.Set) *metrics {
	if set == nil {
		set = exposed.NewSet()
	}
	return &metrics{
		set:        set,
		ack:        set.NewPrometheusHistogramExt("rangepost_acknowledgement_seconds", []float64{.01, .025, .05, .1, .25, .5, 1, 2, 3}),
		ackFailed:  set.NewCounter("rangepost_acknowledgements_failed_total"),
		waiting:    set.NewGauge("rangepost_waiting", nil),
		stale:      set.NewCounter("rangepost_stale_links_total"),
		duplicates: set.NewCounter("rangepost_duplicates_total"),
		turnedAway: set.NewCounter("rangepost_turned_away_total"),
		undecoded:  set.NewCounter("rangepost_undecoded_total"),
		panics:     set.NewCounter("rangepost_panics_total"),
		held:       set.NewGauge("rangepost_shards_held", nil),
		lost:       set.NewCounter("rangepost_leases_lost_total"),
		taken:      set.NewCounter("rangepost_takeovers_total"),
		takenOver:  set.NewCounter("rangepost_requests_taken_over_total"),
	}
}

func (m *metrics) acknowledged(took time.Duration, err error) {
	if err != nil {
		m.ackFailed.Inc()
		return
	}
	m.ack.Update(took.Seconds())
}

// worked is the time spent on a request of a kind.
func (m *metrics) worked(kind string, took time.Duration) {
	m.set.GetOrCreatePrometheusHistogramExt(labelled("rangepost_work_seconds", "kind", kind),
		[]float64{.01, .05, .1, .25, .5, 1, 2.5, 5, 10, 30, 90}).Update(took.Seconds())
}

// delivered is a reply, by how its delivery ended.
func (m *metrics) delivered(outcome string) { m.count("rangepost_replies_total", "outcome", outcome) }

// retried is a request to the platform that was repeated, by reason.
func (m *metrics) retried(reason string) { m.count("rangepost_retries_total", "reason", reason) }

// connected is a connection to the gateway.
func (m *metrics) connected(fresh bool) {
	kind := "resumed"
	if fresh {
		kind = "new"
	}
	m.count("rangepost_connections_total", "kind", kind)
}

func (m *metrics) count(name, label, value string) {
	m.set.GetOrCreateCounter(labelled(name, label, value)).Inc()
}

func labelled(name, label, value string) string { return fmt.Sprintf("%s{%s=%q}", name, label, value) }

// health is what the health page tells.
type health struct {
	total             atomic.Int64 // shards of the bot
	shards, connected atomic.Int64 // that this process serves, and how many of them are connected
	waiting           atomic.Int64
	outside           atomic.Bool  // of the crew: the database is out of reach, or was for too long
	stuck             atomic.Int64 // conversations that do not end, each keeping a worker
	acked             atomic.Int64 // when the last acknowledgement got through, Unix nanoseconds
}

// Health answers 200 while every shard that this process serves is connected, the
// database within reach and a worker free to work, else 503, with the reasons as
// JSON. Where several processes serve, one may hold no shard and be well. A
// supervisor should restart what stays at 503.
func (a *Adapter) Health() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		total, want, have := a.health.total.Load(), a.health.shards.Load(), a.health.connected.Load()
		stuck, outside := a.health.stuck.Load(), a.health.outside.Load()
		ok := total > 0 && have >= want && !outside && stuck < int64(a.cfg.Workers)
		page := map[string]any{"ok": ok, "shards": total, "shards_held": want, "connected": have, "waiting": a.health.waiting.Load(), "stuck": stuck}
		if a.cfg.Crew != nil {
			page["database"] = !outside
		}
		if t := a.health.acked.Load(); t != 0 {
			page["last_acknowledgement"] = time.Unix(0, t).UTC().Format(time.RFC3339)
		}
		w.Header().Set("Content-Type", "application/json")
		if !ok {
			w.WriteHeader(http.StatusServiceUnavailable)
		}
		json.NewEncoder(w).Encode(page)
	})
}
