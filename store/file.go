package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
	"fmt"
	"io"
)

func pack(raw []byte) ([]byte, error) {
	var buf bytes.Buffer
	w := gzip.NewWriter(&buf)
	if _, err := w.Write(raw); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// unpack trusts the size it was told only as far as reading no more than it.
func unpack(packed []byte, size int64) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	raw, err := io.ReadAll(io.LimitReader(r, size+1))
	if err != nil {
		return nil, err
	}
	if int64(len(raw)) != size {
		return nil, fmt.Errorf("file is %d bytes, was %d when it was kept", len(raw), size)
	}
	return raw, nil
}

func findRaw(ctx context.Context, tx *sql.Tx, server, session string) ([]byte, error) {
	var size int64
	var packed []byte
	err := tx.QueryRowContext(ctx, `
		SELECT f.size, f.gzip FROM sessions s JOIN files f ON f.session = s.id
		WHERE s.server = ? AND s.id = ?`, server, session).Scan(&size, &packed)
	if err != nil {
		return nil, err
	}
	return unpack(packed, size)
}
