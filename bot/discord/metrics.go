package discord

import (
	"encoding/json"
	"net/http"
	"sync/atomic"
	"time"

	"github.com/prometheus/client_golang/prometheus"
)

// metrics are what an operator watches. Labels never hold ids.
type metrics struct {
	ack        prometheus.Histogram
	ackFailed  prometheus.Counter
	work       *prometheus.HistogramVec
	waiting    prometheus.Gauge
	outcome    *prometheus.CounterVec
	retries    *prometheus.CounterVec
	sessions   *prometheus.CounterVec
	stale      prometheus.Counter
	duplicates prometheus.Counter
	turnedAway prometheus.Counter
	undecoded  prometheus.Counter
	panics     prometheus.Counter
	held       prometheus.Gauge
	lost       prometheus.Counter
	taken      prometheus.Counter
	takenOver  prometheus.Counter
}

func newMetrics(reg prometheus.Registerer) *metrics {
	counter := func(name, help string) prometheus.Counter {
		return prometheus.NewCounter(prometheus.CounterOpts{Namespace: "rangepost", Name: name, Help: help})
	}
	vec := func(name, help, label string) *prometheus.CounterVec {
		return prometheus.NewCounterVec(prometheus.CounterOpts{Namespace: "rangepost", Name: name, Help: help}, []string{label})
	}
	m := &metrics{
		ack: prometheus.NewHistogram(prometheus.HistogramOpts{
			Namespace: "rangepost", Name: "acknowledgement_seconds", Help: "From the arrival of an event to its acknowledgement.",
			Buckets: []float64{.01, .025, .05, .1, .25, .5, 1, 2, 3},
		}),
		work: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Namespace: "rangepost", Name: "work_seconds", Help: "Time spent on a request.",
			Buckets: []float64{.01, .05, .1, .25, .5, 1, 2.5, 5, 10, 30, 90},
		}, []string{"kind"}),
		waiting:    prometheus.NewGauge(prometheus.GaugeOpts{Namespace: "rangepost", Name: "waiting", Help: "Requests taken in and not yet answered."}),
		ackFailed:  counter("acknowledgements_failed_total", "Events that could not be acknowledged in time."),
		outcome:    vec("replies_total", "Replies by how their delivery ended.", "outcome"),
		retries:    vec("retries_total", "Requests to the platform that were repeated, by reason.", "reason"),
		sessions:   vec("connections_total", "Connections to the gateway, new sessions and resumed ones.", "kind"),
		stale:      counter("stale_links_total", "Connections given up because heartbeats went unanswered."),
		duplicates: counter("duplicates_total", "Events that had come before."),
		turnedAway: counter("turned_away_total", "Requests refused because the queue was full."),
		undecoded:  counter("undecoded_total", "Events that could not be read."),
		panics:     counter("panics_total", "Conversations that panicked."),
		held:       prometheus.NewGauge(prometheus.GaugeOpts{Namespace: "rangepost", Name: "shards_held", Help: "Shards of the gateway that this process serves."}),
		lost:       counter("leases_lost_total", "Leases that ended before they were given back."),
		taken:      counter("takeovers_total", "Leases taken that another process had held before."),
		takenOver:  counter("requests_taken_over_total", "Requests taken over from other processes."),
	}
	if reg != nil {
		reg.MustRegister(m.ack, m.ackFailed, m.work, m.waiting, m.outcome, m.retries, m.sessions, m.stale, m.duplicates, m.turnedAway, m.undecoded, m.panics, m.held, m.lost, m.taken, m.takenOver)
	}
	return m
}

func (m *metrics) acknowledged(took time.Duration, err error) {
	if err != nil {
		m.ackFailed.Inc()
		return
	}
	m.ack.Observe(took.Seconds())
}

func (m *metrics) worked(kind string, took time.Duration) {
	m.work.WithLabelValues(kind).Observe(took.Seconds())
}

func (m *metrics) delivered(outcome string) { m.outcome.WithLabelValues(outcome).Inc() }
func (m *metrics) retried(reason string)    { m.retries.WithLabelValues(reason).Inc() }

func (m *metrics) connected(fresh bool) {
	kind := "resumed"
	if fresh {
		kind = "new"
	}
	m.sessions.WithLabelValues(kind).Inc()
}

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
