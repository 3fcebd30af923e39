package main

import (
	"encoding/csv"
	"fmt"
	"strings"
	"time"

	"rangepost/analysis"
)

// sheet writes balls as a device would, a row a ball. Sets have a column where a
// ball has a label.
func sheet(shots []analysis.Shot, at time.Time) []byte {
	columns := []struct {
		header string
		number analysis.Number
		unit   float64
	}{
		{"Club Speed (mph)", analysis.ClubSpeed, analysis.MilePerHour},
		{"Attack Angle (deg)", analysis.Attack, analysis.Degree},
		{"Club Path (deg, right +)", analysis.Path, analysis.Degree},
		{"Face Angle (deg, right +)", analysis.Face, analysis.Degree},
		{"Dynamic Loft (deg)", analysis.DynamicLoft, analysis.Degree},
		{"Ball Speed (mph)", analysis.BallSpeed, analysis.MilePerHour},
		{"Launch Angle (deg)", analysis.LaunchAngle, analysis.Degree},
		{"Launch Direction (deg, right +)", analysis.Direction, analysis.Degree},
		{"Spin Rate (rpm)", analysis.Spin, analysis.RevPerMinute},
		{"Spin Axis (deg, right +)", analysis.SpinAxis, analysis.Degree},
		{"Carry (yd)", analysis.Carry, analysis.Yard},
		{"Offline (yd, right +)", analysis.Lateral, analysis.Yard},
	}
	header := []string{"Shot", "Time", "Club", "Set"}
	for _, c := range columns {
		header = append(header, c.header)
	}
	rows := [][]string{header}
	for i, shot := range shots {
		row := []string{fmt.Sprint(i + 1), at.Format("2006-01-02 15:04:05"), shot.Club.String(), shot.Label}
		for _, c := range columns {
			v, _ := shot.Value(c.number)
			row = append(row, fmt.Sprintf("%.2f", v/c.unit))
		}
		rows = append(rows, row)
	}
	var b strings.Builder
	csv.NewWriter(&b).WriteAll(rows) // a strings.Builder takes whatever is written
	return []byte(b.String())
}
