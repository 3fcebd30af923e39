package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
)

// packed is a file as it is kept.
type packed struct {
	size int64 // of the file as it was handed over
	gzip []byte
}

func pack(raw []byte) (packed, error) {
	var buf bytes.Buffer
	w := gzip.NewWriter(&buf)
	_, err := w.Write(raw)
	err = errors.Join(err, w.Close())
	return packed{int64(len(raw)), buf.Bytes()}, err
}

func (p packed) unpack() ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(p.gzip))
	if err != nil {
		return nil, err
	}
	raw, err := io.ReadAll(io.LimitReader(r, p.size+1))
	if err != nil {
		return nil, err
	}
	if int64(len(raw)) != p.size {
		return nil, fmt.Errorf("file is not the %d bytes it was when it was kept", p.size)
	}
	return raw, nil
}

func findRaw(ctx context.Context, tx *sql.Tx, server, session string) ([]byte, error) {
	var p packed
	err := tx.QueryRowContext(ctx, `
		SELECT f.size, f.gzip FROM sessions s JOIN files f ON f.session = s.id
		WHERE s.server = ? AND s.id = ?`, server, session).Scan(&p.size, &p.gzip)
	if err != nil {
		return nil, err
	}
	return p.unpack()
}
