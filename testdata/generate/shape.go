package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"rangepost/analysis"
)

// A shape is how a visit is exported.
type shape struct {
	columns []column
	heads   []string // of shot number, time and club; nil is English
	label   string   // header of the column naming sets, "" for none

	comma        rune // of delimited text
	decimalComma bool
	unitRow      bool // units in a row of their own rather than in brackets
	preamble     bool // lines about the session above the header
	summary      bool // mean and spread below the shots

	json, xlsx bool // instead of delimited text

	utf16, windows1252 bool // instead of UTF-8
	gzip, zip          bool // packed
}

// bytes are the file as it would arrive.
func (v visit) bytes() ([]byte, error) {
	shots, err := v.shots()
	if err != nil {
		return nil, err
	}
	return v.export(shots)
}

// export is the file that holds these shots.
func (v visit) export(shots []analysis.Shot) (data []byte, err error) {
	inner := strings.TrimSuffix(v.file, ".gz")
	switch {
	case v.shape.json:
		data, err = v.jsonBytes(shots)
	case v.shape.xlsx:
		data, err = workbook(v.rows(shots))
	default:
		data, err = v.delimited(v.rows(shots))
	}
	if err != nil {
		return nil, err
	}
	switch {
	case v.shape.utf16:
		data, err = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().Bytes(data)
	case v.shape.windows1252:
		data, err = charmap.Windows1252.NewEncoder().Bytes(data)
	}
	if err != nil {
		return nil, err
	}
	switch {
	case v.shape.gzip:
		return gzipped(data)
	case v.shape.zip:
		return zipped(strings.TrimSuffix(inner, ".zip")+".csv", data)
	}
	return data, nil
}

// rows are the cells of a table, header first.
func (v visit) rows(shots []analysis.Shot) [][]string {
	var rows [][]string
	if v.shape.preamble {
		rows = append(rows, []string{"Saltmarsh Links practice ground"}, []string{"Player", v.who.name},
			[]string{"Session", v.when().Format("2006-01-02")}, []string{""})
	}
	head := []string{"Shot", "Time", "Club"}
	units := []string{"", "", ""}
	if v.shape.heads != nil {
		head = slices.Clone(v.shape.heads)
	}
	if v.shape.label != "" {
		head, units = append(head, v.shape.label), append(units, "")
	}
	for _, c := range v.shape.columns {
		text := c.head
		if !v.shape.unitRow {
			text += " (" + c.unit + ")"
		}
		head, units = append(head, text), append(units, c.unit)
	}
	rows = append(rows, head)
	if v.shape.unitRow {
		rows = append(rows, units)
	}
	for _, s := range shots {
		row := []string{strconv.Itoa(s.N), v.at(s).Format("2006-01-02 15:04:05"), s.Club.String()}
		if v.shape.label != "" {
			row = append(row, s.Label)
		}
		for _, c := range v.shape.columns {
			row = append(row, v.shape.cell(c, s))
		}
		rows = append(rows, row)
	}
	if v.shape.summary {
		rows = append(rows, v.statistic("Average", shots, len(head)), v.statistic("Std. Dev.", shots, len(head)))
	}
	return rows
}

// at is when a ball was hit: one in forty seconds.
func (v visit) at(s analysis.Shot) time.Time {
	return v.when().Add(time.Duration(s.N-1) * 40 * time.Second)
}

// cell is one value as the file writes it, "" when it was not measured.
func (s shape) cell(c column, shot analysis.Shot) string {
	x, ok := shot.Value(c.number)
	if !ok {
		return ""
	}
	return s.written(c, x/c.scale)
}

func (s shape) written(c column, x float64) string {
	unit := math.Pow(10, float64(c.decimals))
	x = math.Round(x*unit) / unit
	side := ""
	if c.letters && x != 0 {
		side = map[bool]string{true: " R", false: " L"}[x > 0]
		x = math.Abs(x)
	}
	text := strconv.FormatFloat(x+0, 'f', c.decimals, 64) // + 0 turns -0 into 0
	if s.decimalComma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text + side
}

// statistic is a row below the shots: the mean of each column, or its standard
// deviation.
func (v visit) statistic(name string, shots []analysis.Shot, width int) []string {
	row := []string{name}
	for len(row) < width-len(v.shape.columns) {
		row = append(row, "")
	}
	for _, c := range v.shape.columns {
		values, _ := analysis.Values(shots, c.number)
		mean, sd := moments(values)
		x := mean
		if name != "Average" {
			c.letters = false
			x = sd
		}
		row = append(row, v.shape.written(c, x/c.scale))
	}
	return row
}

func moments(values []float64) (mean, sd float64) {
	for _, x := range values {
		mean += x / float64(len(values))
	}
	for _, x := range values {
		sd += (x - mean) * (x - mean) / float64(len(values)-1)
	}
	return mean, math.Sqrt(sd)
}

func (v visit) delimited(rows [][]string) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = v.shape.comma
	w.UseCRLF = v.shape.utf16
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// jsonBytes is an object that holds an array of shots, each with its units in
// the names.
func (v visit) jsonBytes(shots []analysis.Shot) ([]byte, error) {
	var list []json.RawMessage
	for _, s := range shots {
		var b bytes.Buffer
		fmt.Fprintf(&b, `{"shot": %d, "time": %q, "club": %q`, s.N, v.at(s).Format(time.RFC3339), s.Club)
		if v.shape.label != "" {
			fmt.Fprintf(&b, ", %q: %q", v.shape.label, s.Label)
		}
		for _, c := range v.shape.columns {
			if text := v.shape.cell(c, s); text != "" {
				fmt.Fprintf(&b, ", %q: %s", c.head+" ("+c.unit+")", text)
			}
		}
		b.WriteString("}")
		list = append(list, b.Bytes())
	}
	return json.MarshalIndent(map[string]any{"place": "Saltmarsh Links", "shots": list}, "", " ")
}

// workbook is a spreadsheet with a cover sheet before the sheet of shots.
func workbook(rows [][]string) ([]byte, error) {
	book := excelize.NewFile()
	defer book.Close()
	if err := book.SetSheetName("Sheet1", "About"); err != nil {
		return nil, err
	}
	if err := book.SetCellStr("About", "A1", "Saltmarsh Links practice ground"); err != nil {
		return nil, err
	}
	if _, err := book.NewSheet("Shots"); err != nil {
		return nil, err
	}
	for i, row := range rows {
		for j, text := range row {
			cell, err := excelize.CoordinatesToCellName(j+1, i+1)
			if err != nil {
				return nil, err
			}
			var value any = text
			if x, err := strconv.ParseFloat(text, 64); err == nil {
				value = x
			}
			if err := book.SetCellValue("Shots", cell, value); err != nil {
				return nil, err
			}
		}
	}
	b, err := book.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func gzipped(data []byte) ([]byte, error) {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func zipped(name string, data []byte) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create(name)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
