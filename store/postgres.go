package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"net"
	"net/url"
	"os"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
)

// postgres is a schema of its own in a database of a PostgreSQL server, which
// any number of processes may use at once.
type postgres struct {
	address string
	schema  string
}

// What a connection waits for, and how many there are of a process: as many as
// write, and as many again as read. See doc.go for how many that makes.
const (
	patience  = 10 * time.Second // for an answer, beside which a request's own time is long
	pgWriters = 8
	pgReaders = 8
)

// A process that stands still in the middle of a transaction that writes holds
// others up no longer than a connection that is lost. One that reads holds nobody
// up, and may hand over files meanwhile as slowly as they are taken.
const (
	idleTooLong     = "idle_in_transaction_session_timeout"
	readersPatience = time.Hour
)

// schemaName is the schema that everything is in, unless the address names
// another with search_path.
const schemaName = "rangepost"

// pgMark is the comment on a schema by which this program knows its own.
const pgMark = "Rangepost's"

// oldestPostgres is the oldest version this is tested with.
const oldestPostgres = 15

// errPassword is an address with what must not stand in lists of processes, in
// logs or in the history of a shell.
var errPassword = errors.New("a password does not belong into the address, nor into PGPASSWORD: " +
	"put it into ~/.pgpass (chmod 600; a line HOST:PORT:DATABASE:USER:PASSWORD), name another such file with PGPASSFILE, or use a service file with ?service=NAME")

// shown is an address as it may be shown: without what must not be in it.
func shown(address string) string {
	if u, err := url.Parse(address); IsServer(address) && (err != nil || hasSecret(u)) {
		return "the server"
	}
	return address
}

func hasSecret(u *url.URL) bool {
	_, secret := u.User.Password()
	return secret || u.Query().Has("password") || u.Query().Has("sslpassword")
}

// pgConfig reads an address and everything around it as libpq does: a service
// file, a file of passwords, several hosts, TLS.
func pgConfig(address string) (c *pgx.ConnConfig, schema string, err error) {
	u, err := url.Parse(address)
	if err != nil {
		return nil, "", errors.New("the address is none: postgres://USER@HOST:PORT/DATABASE is how one looks") // the error has the address in it
	}
	if hasSecret(u) || os.Getenv("PGPASSWORD") != "" {
		return nil, "", errPassword
	}
	if c, err = pgx.ParseConfig(address); err != nil {
		return nil, "", err
	}
	if schema = c.RuntimeParams["search_path"]; schema == "" {
		schema = schemaName
	}
	for name, value := range map[string]string{
		"search_path": pgx.Identifier{schema}.Sanitize(),
		idleTooLong:   fmt.Sprint(patience.Milliseconds()),
		// Under serializable isolation a table that was read from end to end conflicts
		// with every row anybody adds to it, and while a table is small the planner
		// does that even where there is an index (PostgreSQL 15 documentation,
		// 13.2.3) [P]. Compiling a query takes longer than any of ours.
		"enable_seqscan": "off",
		"jit":            "off",
	} {
		c.RuntimeParams[name] = value
	}
	if c.ValidateConnect == nil { // of several hosts the one that takes what is written
		c.ValidateConnect = pgconn.ValidateConnectTargetSessionAttrsReadWrite
	}
	if c.ConnectTimeout == 0 {
		c.ConnectTimeout = patience / 2
	}
	return c, schema, nil
}

func (e *postgres) open(ctx context.Context, db *DB) error {
	config, schema, err := pgConfig(e.address)
	if err != nil {
		return err
	}
	e.schema = schema
	config.RuntimeParams["application_name"] = db.called
	if err := e.prepare(ctx, db, *config); err != nil {
		return err
	}
	pool := func(most int, idle time.Duration) *sql.DB {
		config := config.Copy()
		config.RuntimeParams[idleTooLong] = fmt.Sprint(idle.Milliseconds())
		p := sql.OpenDB(&pgConnector{stdlib.GetConnector(*config), patience})
		p.SetMaxOpenConns(most)
		p.SetMaxIdleConns(most)
		p.SetConnMaxIdleTime(5 * time.Minute)
		p.SetConnMaxLifetime(time.Hour) // so that a server that came back gets its share
		return p
	}
	db.write, db.read = pool(pgWriters, patience), pool(pgReaders, readersPatience)
	return db.read.PingContext(ctx)
}

// prepare claims the schema and brings it up to date, one process at a time, and
// waits for as long as that takes.
func (e *postgres) prepare(ctx context.Context, db *DB, config pgx.ConnConfig) error {
	pool := stdlib.OpenDB(config) // as goose knows it
	defer pool.Close()
	conn, err := pool.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	var version int
	if err := conn.QueryRowContext(ctx, `SELECT current_setting('server_version_num')::INTEGER / 10000`).Scan(&version); err != nil {
		return err
	}
	if version < oldestPostgres {
		return fmt.Errorf("the server is PostgreSQL %d; %d or later is needed", version, oldestPostgres)
	}
	// The lock goes with the connection, however this ends.
	if _, err := conn.ExecContext(ctx, `SELECT pg_advisory_lock($1)`, ours); err != nil {
		return err
	}
	if err := e.claim(ctx, db, conn, config); err != nil {
		return err
	}
	if err = db.migrate(ctx, pool); err == nil {
		_, err = conn.ExecContext(ctx, `
			CREATE TABLE IF NOT EXISTS committed (connection TEXT PRIMARY KEY, number TEXT NOT NULL, at TIMESTAMPTZ NOT NULL)`) // see seal
	}
	if _, unlocked := conn.ExecContext(ctx, `SELECT pg_advisory_unlock($1)`, ours); err == nil {
		err = unlocked
	}
	return err
}

// claim finds the schema, or makes it with the mark of whose it is, both or
// neither. One without the mark is taken if there is nothing in it: somebody who
// may make schemas made it for us.
func (e *postgres) claim(ctx context.Context, db *DB, conn *sql.Conn, config pgx.ConnConfig) error {
	var mark string
	var holds int
	err := conn.QueryRowContext(ctx, `
		SELECT coalesce(obj_description(n.oid, 'pg_namespace'), ''),
			(SELECT count(*) FROM pg_class WHERE relnamespace = n.oid) + (SELECT count(*) FROM pg_proc WHERE pronamespace = n.oid)
		FROM pg_namespace n WHERE n.nspname = $1`, e.schema).Scan(&mark, &holds)
	switch {
	case err == nil && mark == pgMark:
		return nil
	case err == nil && holds > 0:
		return fmt.Errorf("schema %s of the database %s is another program's: %w", e.schema, config.Database, ErrNotOurs)
	case err != nil && !errors.Is(err, sql.ErrNoRows):
		return err
	case db.existing:
		return fmt.Errorf("the database %s has no schema %s: %w", config.Database, e.schema, fs.ErrNotExist)
	}
	tx, failed := conn.BeginTx(ctx, nil)
	if failed != nil {
		return failed
	}
	defer tx.Rollback()
	name := pgx.Identifier{e.schema}.Sanitize()
	statements := []string{
		`CREATE SCHEMA ` + name,
		`COMMENT ON SCHEMA ` + name + ` IS '` + strings.ReplaceAll(pgMark, `'`, `''`) + `'`,
	}
	if err == nil { // to make one that is there takes the right to make others, too
		statements = statements[1:]
	}
	for _, statement := range statements {
		if _, err := tx.ExecContext(ctx, statement); err != nil {
			if code(err) == "42501" {
				return fmt.Errorf("%w: let whoever owns the database %s run in it: CREATE SCHEMA %s AUTHORIZATION %s (%w)", fs.ErrPermission,
					config.Database, name, pgx.Identifier{config.User}.Sanitize(), err)
			}
			return err
		}
	}
	return tx.Commit()
}

func (*postgres) close() error { return nil }

func (*postgres) migrator(pool *sql.DB) (*goose.Provider, error) {
	return migratorOf(goose.DialectPostgres, "postgres", pool)
}

func (*postgres) updating() *sql.TxOptions {
	return &sql.TxOptions{Isolation: sql.LevelSerializable}
}

// One snapshot holds together by itself, and nothing is written that follows from
// it but in a transaction that looks again. Serializable, a reader could be told
// to begin again, or, deferrable, would wait for every writer that is under way.
func (*postgres) reading() *sql.TxOptions {
	return &sql.TxOptions{Isolation: sql.LevelRepeatableRead, ReadOnly: true}
}

// code is what PostgreSQL calls an error, "" if it is none of its.
func code(err error) string {
	var pg *pgconn.PgError
	if errors.As(err, &pg) {
		return pg.Code
	}
	return ""
}

// cut reports whether an error says that the server is not there: nothing of a
// transaction that ended with it is kept, but for one that was being committed.
func cut(err error) bool {
	switch c := code(err); {
	case c == "57P01", c == "57P02", c == "57P03", c == "57P05", c == "25P03": // shut down, crashed, starting, idle too long
		return true
	case c == "53300": // too many connections
		return true
	case c != "":
		return strings.HasPrefix(c, "08")
	}
	var connect *pgconn.ConnectError
	var network net.Error
	return errors.As(err, &connect) || errors.As(err, &network) && !errors.Is(err, context.DeadlineExceeded) ||
		errors.Is(err, driver.ErrBadConn) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) ||
		errors.Is(err, errSilent) || errors.Is(err, net.ErrClosed) || errors.Is(err, errUndone)
}

// again: what met another transaction has another try for longer than one that
// stands still holds others up, and what lost the server for as long as one takes to start. Not
// every meeting is told as one: of two that add the same key, or add to what the
// other deletes, one is told of the key (13.5, serialization failure handling).
func (*postgres) again(err error, times int, passed time.Duration) (time.Duration, bool) {
	if errors.Is(err, context.Canceled) || errors.Is(err, ErrInDoubt) {
		return 0, false
	}
	// What a process that stands still in mid transaction holds up waits until the
	// server has ended that.
	first, longest, most := 2*time.Millisecond, 250*time.Millisecond, patience+patience/2
	switch code(err) {
	case "40001", "40P01":
	case "23505", "23503":
		if times >= 3 {
			return 0, false
		}
	default:
		if !cut(err) {
			return 0, false
		}
		first, longest, most = 50*time.Millisecond, time.Second, 10*time.Second
	}
	pause := min(longest, first<<min(times, 10))
	pause = pause/2 + rand.N(pause)
	return pause, passed+pause < most
}

// errUndone is a transaction that was cut off and is not kept.
var errUndone = errors.New("the connection was lost before it was committed")

// settle asks the server how a transaction ended whose commit was not answered:
// once it is over, by whether its connection wrote down that it was committed. One
// whose connection is lost is over at the latest when the server has waited for it
// as long as for any that stands still.
func (e *postgres) settle(ctx context.Context, err error) error {
	var doubt inDoubt
	if !errors.As(err, &doubt) {
		return err
	}
	unsettled := fmt.Errorf("%w: %w", ErrInDoubt, err)
	config, _, err := pgConfig(e.address)
	if err != nil {
		return unsettled
	}
	pool := sql.OpenDB(&pgConnector{stdlib.GetConnector(*config), patience})
	defer pool.Close()
	// Whoever gave up gets an answer too if there is one at once.
	ctx, cancel := outlast(ctx, time.Second, 2*patience)
	defer cancel()
	for {
		var status sql.NullString
		err := pool.QueryRowContext(ctx, `SELECT pg_xact_status(?::TEXT::XID8)`, doubt.number).Scan(&status)
		switch {
		case code(err) == "22023": // a number that is still to come: lost with a server that crashed
			return errUndone
		case err == nil && status.String == "aborted":
			return errUndone
		case err == nil && status.String != "in progress":
			var kept bool
			err := pool.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM committed WHERE connection = ? AND number = ?)`, doubt.on, doubt.number).Scan(&kept)
			switch {
			case err == nil && kept:
				return nil
			case err == nil:
				return errUndone
			}
		}
		select {
		case <-time.After(100 * time.Millisecond):
		case <-ctx.Done():
			return unsettled
		}
	}
}

// outlast is a context that lives while ctx does, no longer than most, and at
// least for a while.
func outlast(ctx context.Context, least, most time.Duration) (context.Context, context.CancelFunc) {
	out, cancel := context.WithTimeout(context.WithoutCancel(ctx), most)
	stop := context.AfterFunc(ctx, func() { time.AfterFunc(least, cancel) })
	return out, func() { stop(); cancel() }
}

// there asks on a connection that is open, if one is: a server that takes nothing
// any more that is written, for another does, is not where it was.
func (*postgres) there(ctx context.Context, db *DB) error {
	var readOnly bool
	err := db.read.QueryRowContext(ctx, `SELECT current_setting('transaction_read_only')::BOOLEAN`).Scan(&readOnly)
	if err == nil && readOnly {
		err = ErrReadOnly
	}
	return err
}

// hold does nothing: any number of processes serve from one database.
func (*postgres) hold(context.Context) error { return nil }

// integrity has nothing to do: the server keeps its keys and checks, and reads
// its own pages against their sums where it was made with them.
func (*postgres) integrity(context.Context, *sql.Tx) error { return nil }

func (*postgres) bytes(ctx context.Context, db *DB) (data, log int64, err error) {
	err = db.query(ctx, "measuring", func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, `
			SELECT coalesce(sum(pg_total_relation_size(oid)), 0)::BIGINT FROM pg_class
			WHERE relnamespace = current_schema()::REGNAMESPACE AND relkind = 'r'`).Scan(&data)
	})
	return data, 0, err
}

// overwrite does nothing: the server's vacuum frees what was deleted.
func (*postgres) overwrite(context.Context, *DB) error { return nil }

// tidy forgets what connections committed that are long closed.
func (*postgres) tidy(ctx context.Context, db *DB) error {
	return db.update(ctx, "tidying", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM committed WHERE at < now() - INTERVAL '1 day'`)
		return err
	})
}

func (*postgres) backup(context.Context, string) error { return ErrOwnTools }

func (e *postgres) clock(ctx context.Context, tx *sql.Tx) (now time.Time, err error) {
	var ms sql.NullInt64
	err = tx.QueryRowContext(ctx, `SELECT (extract(epoch FROM now()) * 1000)::BIGINT`).Scan(&ms)
	return timeOf(ms), err
}
