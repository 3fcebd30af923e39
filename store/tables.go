package store

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"
)

// A table is one of the database as its engine describes it, which is the same on
// both.
type table struct {
	name    string
	columns []column // by name; without a rowid
	key     []string // primary
	refers  []string // foreign keys, as "columns > table (columns) on delete"
	indexes []string // but those of keys, as "unique columns where partial"
}

type column struct {
	name   string
	class  string // whole, real, text or bytes
	null   bool
	preset string // what it is without a value, "" for nothing
}

// rowids are the tables whose rows are told apart by the order they came in.
var rowids = []string{"answers", "entries", "intake", "rulings"}

// derived are the tables whose rows come by triggers as those of others do.
var derived = []string{"unread"}

// names are the columns of a table, quoted, for a statement.
func (t table) names() (all []string) {
	for _, c := range t.columns {
		all = append(all, `"`+c.name+`"`)
	}
	if slices.Contains(rowids, t.name) {
		all = append(all, "rowid")
	}
	return all
}

// parents are the tables that have to be there before a table.
func (t table) parents() (all []string) {
	for _, r := range t.refers {
		_, after, _ := strings.Cut(r, " > ")
		parent, _, _ := strings.Cut(after, " ")
		all = append(all, parent)
	}
	return all
}

// inOrder puts tables after those they refer to.
func inOrder(all []table) (sorted []table, err error) {
	done := map[string]bool{}
	for len(sorted) < len(all) {
		before := len(sorted)
		for _, t := range all {
			if !done[t.name] && !slices.ContainsFunc(t.parents(), func(p string) bool { return !done[p] }) {
				done[t.name] = true
				sorted = append(sorted, t)
			}
		}
		if len(sorted) == before {
			return nil, fmt.Errorf("tables refer to one another in a circle")
		}
	}
	return sorted, nil
}

func (*sqlite) tables(ctx context.Context, tx *sql.Tx) (all []table, err error) {
	names, err := collect(ctx, tx, scanText, `
		SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'goose_db_version' ORDER BY name`)
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		t := table{name: name}
		if t.columns, err = collect(ctx, tx, func(row scanner) (c column, err error) {
			err = row.Scan(&c.name, &c.class, &c.null, &c.preset)
			return c, err
		}, `SELECT name, CASE type WHEN 'INTEGER' THEN 'whole' WHEN 'REAL' THEN 'real' WHEN 'TEXT' THEN 'text' ELSE 'bytes' END,
				"notnull" = 0 AND pk = 0, coalesce(dflt_value, '')
			FROM pragma_table_info(?) ORDER BY name`, name); err != nil {
			return nil, err
		}
		if t.key, err = collect(ctx, tx, scanText, `SELECT name FROM pragma_table_info(?) WHERE pk > 0 ORDER BY pk`, name); err != nil {
			return nil, err
		}
		if t.refers, err = collect(ctx, tx, scanText, `
			SELECT string_agg("from", ',' ORDER BY seq) || ' > ' || "table" || ' (' || string_agg("to", ',' ORDER BY seq) || ') ' || on_delete
			FROM pragma_foreign_key_list(?) GROUP BY id ORDER BY 1`, name); err != nil {
			return nil, err
		}
		if t.indexes, err = collect(ctx, tx, scanText, `
			SELECT CASE i."unique" WHEN 1 THEN 'unique ' ELSE '' END || (SELECT string_agg(c.name, ',' ORDER BY c.seqno) FROM pragma_index_info(i.name) c)
				|| CASE i.partial WHEN 1 THEN (SELECT substr(s.sql, instr(s.sql, ' WHERE ')) FROM sqlite_schema s WHERE s.name = i.name) ELSE '' END
			FROM pragma_index_list(?) i WHERE i.origin <> 'pk' ORDER BY 1`, name); err != nil {
			return nil, err
		}
		all = append(all, t)
	}
	return all, nil
}

func (*postgres) tables(ctx context.Context, tx *sql.Tx) (all []table, err error) {
	names, err := collect(ctx, tx, scanText, `
		SELECT relname FROM pg_class WHERE relnamespace = current_schema()::REGNAMESPACE AND relkind = 'r' AND relname NOT IN ('goose_db_version', 'committed')
		ORDER BY relname COLLATE "C"`)
	if err != nil {
		return nil, err
	}
	const keyColumns = `(SELECT string_agg(a.attname, ',' ORDER BY k.n) FROM unnest(%s) WITH ORDINALITY k (num, n) JOIN pg_attribute a ON a.attrelid = %s AND a.attnum = k.num)`
	for _, name := range names {
		t := table{name: name}
		if t.columns, err = collect(ctx, tx, func(row scanner) (c column, err error) {
			err = row.Scan(&c.name, &c.class, &c.null, &c.preset)
			return c, err
		}, `SELECT a.attname, CASE format_type(a.atttypid, NULL) WHEN 'bigint' THEN 'whole' WHEN 'double precision' THEN 'real' WHEN 'text' THEN 'text' WHEN 'bytea' THEN 'bytes' ELSE format_type(a.atttypid, NULL) END,
				NOT a.attnotnull, coalesce(replace(pg_get_expr(d.adbin, d.adrelid), '::text', ''), '')
			FROM pg_attribute a LEFT JOIN pg_attrdef d ON d.adrelid = a.attrelid AND d.adnum = a.attnum
			WHERE a.attrelid = CAST(? AS REGCLASS) AND a.attnum > 0 AND NOT a.attisdropped AND a.attname <> 'rowid' ORDER BY a.attname COLLATE "C"`, name); err != nil {
			return nil, err
		}
		if t.key, err = collect(ctx, tx, scanText, `
			SELECT a.attname FROM pg_constraint c CROSS JOIN unnest(c.conkey) WITH ORDINALITY k (num, n) JOIN pg_attribute a ON a.attrelid = c.conrelid AND a.attnum = k.num
			WHERE c.conrelid = CAST(? AS REGCLASS) AND c.contype = 'p' ORDER BY k.n`, name); err != nil {
			return nil, err
		}
		if t.refers, err = collect(ctx, tx, scanText, `
			SELECT `+fmt.Sprintf(keyColumns, "c.conkey", "c.conrelid")+` || ' > ' || f.relname || ' (' || `+fmt.Sprintf(keyColumns, "c.confkey", "c.confrelid")+` || ') ' ||
				CASE c.confdeltype WHEN 'c' THEN 'CASCADE' WHEN 'n' THEN 'SET NULL' WHEN 'a' THEN 'NO ACTION' ELSE c.confdeltype::TEXT END
			FROM pg_constraint c JOIN pg_class f ON f.oid = c.confrelid
			WHERE c.conrelid = CAST(? AS REGCLASS) AND c.contype = 'f' ORDER BY 1`, name); err != nil {
			return nil, err
		}
		if t.indexes, err = collect(ctx, tx, scanText, `
			SELECT CASE WHEN i.indisunique THEN 'unique ' ELSE '' END || `+fmt.Sprintf(keyColumns, "i.indkey::INT2[]", "i.indrelid")+`
				|| coalesce(' WHERE ' || pg_get_expr(i.indpred, i.indrelid), '')
			FROM pg_index i WHERE i.indrelid = CAST(? AS REGCLASS) AND NOT i.indisprimary ORDER BY 1`, name); err != nil {
			return nil, err
		}
		all = append(all, t)
	}
	return all, nil
}
