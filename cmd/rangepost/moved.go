package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"regexp"
	"time"

	"golang.org/x/text/encoding/unicode"
)

var inJune = regexp.MustCompile(`2026-06-\d\d( \d\d:\d\d:\d\d)?`)

// moved is one of the demo's files as if its balls had been hit so much later.
func moved(data []byte, by time.Duration) ([]byte, error) {
	var out bytes.Buffer
	switch {
	case bytes.HasPrefix(data, []byte("\x1f\x8b")):
		r, err := gzip.NewReader(bytes.NewReader(data))
		if err != nil {
			return nil, err
		}
		w := gzip.NewWriter(&out)
		if err := movedOn(w, r, by); err != nil {
			return nil, err
		}
		err = w.Close()
		return out.Bytes(), err
	case bytes.HasPrefix(data, []byte("PK\x03\x04")): // a workbook is one, too
		r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			return nil, err
		}
		w := zip.NewWriter(&out)
		for _, f := range r.File {
			from, err := f.Open()
			if err != nil {
				return nil, err
			}
			to, err := w.Create(f.Name)
			if err != nil {
				return nil, err
			}
			if err := movedOn(to, from, by); err != nil {
				return nil, err
			}
		}
		err = w.Close()
		return out.Bytes(), err
	}
	err := movedOn(&out, bytes.NewReader(data), by)
	return out.Bytes(), err
}

func movedOn(w io.Writer, r io.Reader, by time.Duration) error {
	data, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	wide := unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM)
	isWide := bytes.HasPrefix(data, []byte("\xff\xfe"))
	if isWide {
		if data, err = wide.NewDecoder().Bytes(data); err != nil {
			return err
		}
	}
	data = inJune.ReplaceAllFunc(data, func(at []byte) []byte {
		layout := time.DateTime[:len(at)]
		t, err := time.Parse(layout, string(at))
		if err != nil {
			return at
		}
		return t.Add(by).AppendFormat(nil, layout)
	})
	if isWide {
		if data, err = wide.NewEncoder().Bytes(data); err != nil {
			return err
		}
	}
	if _, err := w.Write(data); err != nil {
		return fmt.Errorf("a demo file moved on: %w", err)
	}
	return nil
}
