package store

import (
	"context"
	"database/sql"
	"strings"
)

// together is how many rows go into a table with one statement: on a server each
// statement is a way there and back. Few sizes make few statements to remember.
var together = []int{32, 8, 1}

// insertRows adds rows to some columns of a table, in their order.
func insertRows(ctx context.Context, tx *sql.Tx, table string, columns []string, rows [][]any) error {
	head := `INSERT INTO ` + table + ` (` + strings.Join(columns, ", ") + `) VALUES `
	row := `(?` + strings.Repeat(`, ?`, len(columns)-1) + `)`
	for _, n := range together {
		statement := head + row + strings.Repeat(`, `+row, n-1)
		args := make([]any, 0, n*len(columns))
		for ; len(rows) >= n; rows = rows[n:] {
			args = args[:0]
			for _, r := range rows[:n] {
				args = append(args, r...)
			}
			if _, err := tx.ExecContext(ctx, statement, args...); err != nil {
				return err
			}
		}
	}
	return nil
}
