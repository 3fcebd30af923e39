package store

import (
	"strings"
	"testing"

	"rangepost/analysis"
)

func openFile(tb testing.TB) *DB {
	tb.Helper()
	db, err := Open(tb.Context(), NewPath(tb))
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { db.Close() })
	return db
}

// A number added to the table of numbers needs a migration that adds its
// column.
func TestEveryNumberHasItsColumn(t *testing.T) {
	OnSQLite(t)
	db := openFile(t)
	have := map[string]bool{}
	rows, err := db.read.Query(`SELECT name FROM pragma_table_info('shots') WHERE type = 'REAL'`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			t.Fatal(err)
		}
		have[name] = true
	}
	for _, n := range analysis.Numbers() {
		if !have[n.Info().Key] {
			t.Errorf("table shots has no column %s", n.Info().Key)
		}
		delete(have, n.Info().Key)
	}
	delete(have, "pause") // the time between balls is of no ball alone
	for name := range have {
		t.Errorf("column %s of table shots is no number", name)
	}
}

func TestEveryTableIsStrict(t *testing.T) {
	OnSQLite(t)
	db := openFile(t)
	rows, err := db.read.Query(`
		SELECT name FROM pragma_table_list
		WHERE schema = 'main' AND type = 'table' AND NOT strict AND name NOT LIKE 'sqlite_%' AND name <> 'goose_db_version'`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			t.Fatal(err)
		}
		t.Errorf("table %s is not STRICT", name)
	}
}

// A pragma run once on a pool holds for one of its connections; in the address
// it holds for all.
func TestEveryConnectionHasThePragmas(t *testing.T) {
	OnSQLite(t)
	db := openFile(t)
	want := map[string]string{
		"foreign_keys": "1", "busy_timeout": "5000", "journal_mode": "wal", "synchronous": "2", "secure_delete": "1", "query_only": "1",
	}
	for range 4 { // held, so that each is another connection
		conn, err := db.read.Conn(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		for pragma, w := range want {
			var got string
			if err := conn.QueryRowContext(t.Context(), `PRAGMA `+pragma).Scan(&got); err != nil || got != w {
				t.Errorf("reader's %s = %s, %v, want %s", pragma, got, err, w)
			}
		}
		if _, err := conn.ExecContext(t.Context(), `DELETE FROM students`); err == nil {
			t.Error("a reader could write")
		}
	}
	want["query_only"] = "0"
	for pragma, w := range want {
		var got string
		if err := db.write.QueryRow(`PRAGMA ` + pragma).Scan(&got); err != nil || got != w {
			t.Errorf("writer's %s = %s, %v, want %s", pragma, got, err, w)
		}
	}
}

// itsSessions is how the few sessions of an entry are put in order.
const itsSessions = "; CORRELATED SCALAR SUBQUERY 1; USE TEMP B-TREE FOR string_agg(ORDER BY); SEARCH entry_sessions USING PRIMARY KEY (entry=?)"

// oldestAndMore is how a stretch of an index is read for its first row, and then for
// how many there are.
func oldestAndMore(stretch string) string {
	return "SEARCH sessions USING PRIMARY KEY (id=?); " +
		"SCALAR SUBQUERY 5; SEARCH u USING " + stretch + "; SCALAR SUBQUERY 4; SEARCH s USING PRIMARY KEY (id=?); REUSE SUBQUERY 4; " +
		"SCALAR SUBQUERY 3; CO-ROUTINE few; SEARCH u USING " + stretch + "; SCALAR SUBQUERY 1; SEARCH s USING PRIMARY KEY (id=?); REUSE SUBQUERY 1; SCAN few"
}

// However much is kept, a query touches a stretch of one index: no plan scans
// a table or sorts.
func TestQueryPlans(t *testing.T) {
	OnSQLite(t)
	db := openFile(t)
	iron, err := analysis.ParseClub("7i")
	if err != nil {
		t.Fatal(err)
	}
	timeline, timelineArgs := valuesQuery("s", "u", ValuesFilter{Number: analysis.Face})
	oneClub, oneClubArgs := valuesQuery("s", "u", ValuesFilter{Number: analysis.Face, Club: iron})
	unread, unreadArgs := unreadQuery("s", "c", UnreadFilter{})
	unreadOfOne, unreadOfOneArgs := unreadQuery("s", "c", UnreadFilter{Student: "u"})
	for _, tt := range []struct {
		name, query string
		args        []any
		want        string
	}{
		{"timeline", timeline, timelineArgs, "SEARCH session_values USING PRIMARY KEY (server=? AND student=? AND number=? AND at>?)"},
		{"timeline of a club", oneClub, oneClubArgs, "SEARCH session_values USING PRIMARY KEY (server=? AND student=? AND number=? AND at>?)"},
		{"sessions by day", `SELECT * FROM sessions ` + ofStudent + ` AND at >= ?` + hitLast, []any{"s", "u", 0},
			"SEARCH sessions USING INDEX sessions_at (server=? AND student=? AND at>?)"},
		{"the first session", `SELECT * FROM sessions ` + ofStudent + hitFirst, []any{"s", "u"},
			"SEARCH sessions USING INDEX sessions_at (server=? AND student=?)"},
		{"the last post", `SELECT * FROM sessions ` + ofStudent + postedLast + ` LIMIT 1`, []any{"s", "u"},
			"SEARCH sessions USING INDEX sessions_posted (server=? AND student=?)"},
		{"the last kind of ball", lastBall, []any{"s", "u"},
			"SEARCH sessions USING INDEX sessions_posted (server=? AND student=?)"},
		{"servers of somebody", serversOf, []any{"u"}, "SEARCH students USING COVERING INDEX students_servers (student=?)"},
		{"shots", selectShots, []any{"x"}, "SEARCH shots USING PRIMARY KEY (session=?)"},
		{"binding of a student", selectBinding + ` WHERE server = ? AND student = ? AND given IS NOT NULL AND ended IS NULL`, []any{"s", "u"},
			"SEARCH bindings USING INDEX bindings_one_coach (server=? AND student=?)"},
		{"binding of a thread", selectBinding + ` WHERE server = ? AND thread = ? AND given IS NOT NULL AND ended IS NULL`, []any{"s", "t"},
			"SEARCH bindings USING INDEX bindings_one_student (server=? AND thread=?)"},
		{"unread posts", unread, unreadArgs, oldestAndMore("COVERING INDEX unread_coach (server=? AND coach=? AND (posted,session)>(?,?))")},
		{"unread posts of one", unreadOfOne, unreadOfOneArgs, oldestAndMore("PRIMARY KEY (server=? AND student=? AND (posted,session)>(?,?))")},
		{"a roster's counts", rosterCounts, []any{"s", "u", 0, "c"}, "SEARCH u USING PRIMARY KEY (server=? AND student=?); " +
			"SCALAR SUBQUERY 1; SEARCH sessions USING INDEX sessions_at (server=? AND student=? AND at>?)"},
		{"sessions with the same balls", sessionsLike("face"), []any{"u", 10, "s", 0.0, 0.0},
			"SEARCH s USING INDEX sessions_balls (student=? AND balls=? AND server=?); CORRELATED SCALAR SUBQUERY 1; SEARCH h USING PRIMARY KEY (session=?); USE TEMP B-TREE FOR ORDER BY"},
		{"a brief's progress", progressOf("face"), []any{"s", "u", 0, nil, nil, "", nil, nil, ""},
			"SEARCH s USING INDEX sessions_posted (server=? AND student=? AND posted>?); CORRELATED SCALAR SUBQUERY 2; CO-ROUTINE hit; SEARCH h USING PRIMARY KEY (session=?); SCAN hit"},
		{"lessons", selectLesson + ` WHERE server = ? AND student = ? ORDER BY at, id`, []any{"s", "u"},
			"SEARCH lessons USING INDEX lessons_student (server=? AND student=?)"},
		{"the last brief", selectBrief + ` WHERE server = ? AND student = ? AND ended IS NULL ORDER BY at DESC, id DESC LIMIT 1`, []any{"s", "u"},
			"SEARCH briefs USING INDEX briefs_student (server=? AND student=?)"},
		{"the last plan", selectPlan + ofStudent + ` ORDER BY at DESC, id DESC LIMIT 1`, []any{"s", "u"},
			"SEARCH plans USING INDEX plans_student (server=? AND student=?)"},
		{"the sessions of a plan", selectPlaced + ` WHERE plan = ? ORDER BY at, session`, []any{"x"},
			"SEARCH placed USING INDEX placed_plan (plan=?)"},
		{"what was measured", measured, []any{"s", "u"},
			"SEARCH session_values USING PRIMARY KEY (server=? AND student=?); USE TEMP B-TREE FOR GROUP BY"}, // a row a number and club
		{"what was tried", triedBalls("face"), []any{"s", "u", 0},
			"SEARCH s USING INDEX sessions_at (server=? AND student=? AND at>?); SEARCH h USING PRIMARY KEY (session=?)"},
		{"what students' trials taught", pooledTrials, []any{"s", "c"},
			"SEARCH b USING INDEX bindings_coach (server=? AND coach=?); SEARCH st USING PRIMARY KEY (server=? AND student=?); SEARCH s USING INDEX sessions_posted (server=? AND student=?); SEARCH t USING PRIMARY KEY (session=?); USE TEMP B-TREE FOR ORDER BY"},
		{"figures over students", pooledFigures, []any{"s", "c", "u"},
			"SEARCH p USING INDEX pools_of (server=? AND coach=?); CORRELATED SCALAR SUBQUERY 3; SEARCH m USING PRIMARY KEY (pool=?); SEARCH s USING PRIMARY KEY (id=?); SEARCH b USING INDEX bindings_one_coach (server=? AND student=?); SEARCH st USING PRIMARY KEY (server=? AND student=?); SEARCH t EXISTS USING PRIMARY KEY (session=?); SEARCH f USING PRIMARY KEY (pool=? AND without=?); CORRELATED SCALAR SUBQUERY 1; SEARCH m USING PRIMARY KEY (pool=?); SEARCH s USING PRIMARY KEY (id=?); USE TEMP B-TREE FOR LAST TERM OF ORDER BY"},
		{"makings of figures", poolsOfCoach, []any{"s", "c"},
			"SEARCH pools USING INDEX pools_of (server=? AND coach=?); USE TEMP B-TREE FOR ORDER BY"},
		{"what a making rests on", pooledSessions, []any{"p"},
			"SEARCH m USING PRIMARY KEY (pool=?); SEARCH s USING PRIMARY KEY (id=?)"},
		{"the air of sessions", airsOf, []any{"s", "u"}, "SEARCH sessions USING INDEX sessions_posted (server=? AND student=?)"},
		{"a coach's bindings", selectBinding + liveOfCoach, []any{"s", "c"},
			"SEARCH bindings USING INDEX bindings_coach (server=? AND coach=?); USE TEMP B-TREE FOR ORDER BY"},
		{"challenges of a server", selectChallenge + ` WHERE server = ? ORDER BY opened DESC, id DESC LIMIT 25`, []any{"s"},
			"SEARCH challenges USING INDEX challenges_server (server=?)"},
		{"challenges to close", selectChallenge + ended, []any{0}, "SEARCH challenges USING INDEX challenges_until (until>? AND until<?)"},
		{"challenges to show", selectChallenge + behind, nil, "SCAN challenges USING INDEX challenges_behind"}, // holds those alone
		{"entries", selectEntry + ` WHERE challenge = ? ORDER BY at, rowid`, []any{"x"}, "SEARCH entries USING INDEX entries_challenge (challenge=?)" + itsSessions},
		{"entries of somebody", selectEntry + ` WHERE server = ? AND player = ? AND player <> ''`, []any{"s", "u"},
			"SEARCH entries USING INDEX entries_of (server=? AND player=?)" + itsSessions},
		{"tallies", selectTally + ` WHERE server = ? AND student = ? AND at >= ? ORDER BY at, id`, []any{"s", "u", 0},
			"SEARCH tallies USING INDEX tallies_student (server=? AND student=? AND at>?)"},
		{"seasons of a server", selectSeason + ` WHERE server = ? ORDER BY made DESC, id DESC`, []any{"s"}, "SEARCH seasons USING INDEX seasons_server (server=?)"},
		{"seasons to show", selectSeason + behind, nil, "SCAN seasons USING INDEX seasons_behind"},                                    // holds those alone
		{"seasons that run", selectSeason + ` WHERE closed IS NULL ORDER BY server`, nil, "SCAN seasons USING INDEX seasons_running"}, // likewise
		{"a season's challenges", selectScheduled + ` WHERE season = ? ORDER BY day, name`, []any{"x"}, "SEARCH scheduled USING PRIMARY KEY (season=?); CORRELATED SCALAR SUBQUERY 1; SEARCH seasons USING PRIMARY KEY (id=?)"},
		{"challenges to open", selectScheduled + dueScheduled, []any{"2026-06-01"}, "SEARCH scheduled USING INDEX scheduled_due (day<?); CORRELATED SCALAR SUBQUERY 1; SEARCH seasons USING PRIMARY KEY (id=?)"},
		{"handicaps of somebody", selectHandicap + ` WHERE server = ? AND student = ? ORDER BY season`, []any{"s", "u"},
			"SEARCH handicaps USING INDEX handicaps_of (server=? AND student=?)"},
		{"pins that wait", duePins, nil, "SCAN pins USING INDEX pins_due"}, // a partial index, as the next
		{"unfinished", `SELECT id FROM intake WHERE state = 'accepted' ORDER BY at, rowid`, nil,
			"SCAN intake USING INDEX intake_open"}, // a partial index: it holds the unfinished alone
	} {
		rows, err := db.read.Query(`EXPLAIN QUERY PLAN `+tt.query, tt.args...)
		if err != nil {
			t.Fatalf("%s: %v", tt.name, err)
		}
		var plan []string
		for rows.Next() {
			var id, parent, unused int
			var step string
			if err := rows.Scan(&id, &parent, &unused, &step); err != nil {
				t.Fatal(err)
			}
			plan = append(plan, step)
		}
		rows.Close()
		if got := strings.Join(plan, "; "); got != tt.want {
			t.Errorf("%s: plan is %q, want %q", tt.name, got, tt.want)
		}
	}
}
