package main

import (
	"bufio"
	"context"
	"database/sql"
	"fmt"
	"os"
)

// holdDatabase is another program, run as a command of its own: at the first
// line of its input it takes the database named by its argument for itself, at
// the next it lets go.
func holdDatabase() {
	db, err := sql.Open("sqlite3", "file:"+os.Args[1])
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	conn, err := db.Conn(context.Background())
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	lines := bufio.NewReader(os.Stdin)
	lines.ReadString('\n')
	if _, err := conn.ExecContext(context.Background(), `BEGIN EXCLUSIVE`); err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	fmt.Println("held")
	lines.ReadString('\n')
}
