package store

import "testing"

// RowsNaming lists the columns, as table.column, of every row that names
// somebody on a server, in whatever table there is or will be.
func RowsNaming(tb testing.TB, db *DB, server, who string) []string {
	tb.Helper()
	columns := map[string][]string{}
	rows, err := db.read.Query(`
		SELECT t.name, c.name FROM pragma_table_list t JOIN pragma_table_info(t.name) c
		WHERE t.schema = 'main' AND t.type = 'table' AND c.type = 'TEXT' AND t.name NOT LIKE 'sqlite_%'`)
	if err != nil {
		tb.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var table, column string
		if err := rows.Scan(&table, &column); err != nil {
			tb.Fatal(err)
		}
		columns[table] = append(columns[table], column)
	}
	var found []string
	for table, names := range columns {
		scope := ``
		for _, name := range names {
			if name == "server" {
				scope = ` AND server = ?2`
			}
		}
		for _, name := range names {
			var n int
			query := `SELECT count(*) FROM ` + table + ` WHERE ` + name + ` = ?1` + scope
			args := []any{who, server}
			if scope == "" {
				args = args[:1]
			}
			if err := db.read.QueryRow(query, args...).Scan(&n); err != nil {
				tb.Fatalf("%s: %v", query, err)
			}
			if n > 0 {
				found = append(found, table+"."+name)
			}
		}
	}
	return found
}
