package store

import (
	"context"
	"crypto/rand"
	"database/sql/driver"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/stdlib"
)

// pgConnector makes connections to PostgreSQL that read the SQL of this package.
type pgConnector struct {
	driver.Connector
	patience time.Duration // how long to wait for each answer of the server, 0 for ever
}

// Connect implements driver.Connector.
func (c *pgConnector) Connect(ctx context.Context) (driver.Conn, error) {
	inner, err := c.Connector.Connect(ctx)
	if err != nil {
		return nil, err
	}
	return &pgConn{inner.(*stdlib.Conn), c.patience, rand.Text()}, nil
}

type pgConn struct {
	*stdlib.Conn
	patience time.Duration
	name     string // that no other connection has, or ever had
}

// CheckNamedValue implements driver.NamedValueChecker.
func (*pgConn) CheckNamedValue(v *driver.NamedValue) error { return bound(v) }

// patient is ctx until an answer has been waited for too long: through a
// connection that is cut without a word, one would be waited for for ever.
func (c *pgConn) patient(ctx context.Context) (context.Context, *time.Timer, context.CancelFunc) {
	ctx, cancel := context.WithCancelCause(ctx)
	if c.patience == 0 {
		return ctx, nil, func() { cancel(nil) }
	}
	timer := time.AfterFunc(c.patience, func() { cancel(errSilent) })
	return ctx, timer, func() { timer.Stop(); cancel(nil) }
}

var errSilent = errors.New("no answer")

// heard makes of an error after too long a silence what it is: a connection lost.
func heard(ctx context.Context, err error) error {
	if err != nil && context.Cause(ctx) == errSilent {
		return fmt.Errorf("%w: %v", errSilent, err)
	}
	return err
}

// ExecContext implements driver.ExecerContext.
func (c *pgConn) ExecContext(ctx context.Context, query string, args []driver.NamedValue) (driver.Result, error) {
	ctx, _, cancel := c.patient(ctx)
	defer cancel()
	r, err := c.Conn.ExecContext(ctx, dollars(query), args)
	return r, heard(ctx, err)
}

// QueryContext implements driver.QueryerContext.
func (c *pgConn) QueryContext(ctx context.Context, query string, args []driver.NamedValue) (driver.Rows, error) {
	ctx, timer, cancel := c.patient(ctx)
	rows, err := c.Conn.QueryContext(ctx, dollars(query), args)
	if err != nil {
		defer cancel()
		return nil, heard(ctx, err)
	}
	if timer != nil {
		timer.Stop()
	}
	return &pgRows{rows, c, timer, cancel}, nil
}

type pgRows struct {
	driver.Rows
	on     *pgConn
	timer  *time.Timer
	cancel context.CancelFunc
}

// Next implements driver.Rows. It is the server that is waited for, and not what
// is done between two rows.
func (r *pgRows) Next(to []driver.Value) error {
	if r.timer != nil {
		r.timer.Reset(r.on.patience)
		defer r.timer.Stop()
	}
	return r.Rows.Next(to)
}

// Close implements driver.Rows.
func (r *pgRows) Close() error {
	defer r.cancel()
	return r.Rows.Close()
}

// PrepareContext implements driver.ConnPrepareContext.
func (c *pgConn) PrepareContext(ctx context.Context, query string) (driver.Stmt, error) {
	ctx, _, cancel := c.patient(ctx)
	defer cancel()
	s, err := c.Conn.PrepareContext(ctx, dollars(query))
	return s, heard(ctx, err)
}

// BeginTx implements driver.ConnBeginTx. A transaction that writes knows its
// number, so that how it ended can be asked if the answer to its commit is lost.
func (c *pgConn) BeginTx(ctx context.Context, opts driver.TxOptions) (driver.Tx, error) {
	if c.Conn.Conn().IsClosed() {
		return nil, driver.ErrBadConn
	}
	// Numbers are drawn when first written or asked for: asked with the beginning,
	// that is no message more.
	begin := `BEGIN ISOLATION LEVEL SERIALIZABLE; SELECT pg_current_xact_id()`
	if opts.ReadOnly {
		begin = `BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY`
	}
	ctx, _, cancel := c.patient(ctx)
	defer cancel()
	results, err := c.Conn.Conn().PgConn().Exec(ctx, begin).ReadAll()
	if err != nil {
		if pgconn.SafeToRetry(err) {
			return nil, driver.ErrBadConn
		}
		return nil, heard(ctx, err)
	}
	tx := &pgTx{on: c}
	if len(results) > 1 {
		tx.number = string(results[1].Rows[0][0])
	}
	return tx, nil
}

type pgTx struct {
	on     *pgConn
	number string // "" of one that only reads
}

// inDoubt is a transaction that was cut off as it was committed.
type inDoubt struct {
	number, on string // its own, and the name of its connection
	error
}

func (d inDoubt) Unwrap() error { return d.error }

// seal writes down, in a transaction that writes and as the last of it, that it was
// committed. The server alone cannot be asked: one that crashed, or the standby that
// took its place, may give the number of a transaction it never heard of to another.
const seal = `INSERT INTO committed (connection, number, at) VALUES ('%s', '%s', now())
	ON CONFLICT (connection) DO UPDATE SET number = excluded.number, at = excluded.at; COMMIT`

// Commit implements driver.Tx.
func (t *pgTx) Commit() error {
	ctx, _, cancel := t.on.patient(context.Background())
	defer cancel()
	raw := t.on.Conn.Conn().PgConn()
	commit := `COMMIT`
	if t.number != "" {
		commit = fmt.Sprintf(seal, t.on.name, t.number)
	}
	results, err := raw.Exec(ctx, commit).ReadAll()
	switch {
	case err != nil && raw.IsClosed() && !pgconn.SafeToRetry(err) && t.number != "":
		return inDoubt{t.number, t.on.name, heard(ctx, err)}
	case err != nil && !raw.IsClosed(): // it may stand open yet
		return errors.Join(heard(ctx, err), t.Rollback())
	case err != nil:
		return heard(ctx, err)
	case results[len(results)-1].CommandTag.String() != "COMMIT":
		return errors.New("a statement of this transaction failed, and it was not kept")
	}
	return nil
}

// Rollback implements driver.Tx.
func (t *pgTx) Rollback() error {
	ctx, _, cancel := t.on.patient(context.Background())
	defer cancel()
	_, err := t.on.Conn.Conn().PgConn().Exec(ctx, `ROLLBACK`).ReadAll()
	return err
}

// rewritten are statements as PostgreSQL reads them. This program has a few
// hundred, none made from what anybody typed.
var rewritten sync.Map // string to string

// dollars is a statement with $1 for ?1, and for ? the number after the greatest
// so far, as SQLite counts. What stands in quotes or comments stays.
func dollars(query string) string {
	if !strings.Contains(query, "?") {
		return query
	}
	if known, ok := rewritten.Load(query); ok {
		return known.(string)
	}
	var b strings.Builder
	greatest := 0
	for i := 0; i < len(query); {
		switch c := query[i]; {
		case c == '\'' || c == '"' || strings.HasPrefix(query[i:], "--"):
			end := string(c)
			if c == '-' {
				end = "\n"
			}
			n := strings.Index(query[i+1:], end)
			if n < 0 {
				n = len(query) - i - 2
			}
			b.WriteString(query[i : i+n+2])
			i += n + 2
		case c == '?':
			digits := i + 1
			for digits < len(query) && '0' <= query[digits] && query[digits] <= '9' {
				digits++
			}
			n := greatest + 1
			if digits > i+1 {
				n, _ = strconv.Atoi(query[i+1 : digits])
			}
			greatest = max(greatest, n)
			b.WriteString("$" + strconv.Itoa(n))
			i = digits
		default:
			b.WriteByte(c)
			i++
		}
	}
	rewritten.Store(query, b.String())
	return b.String()
}
