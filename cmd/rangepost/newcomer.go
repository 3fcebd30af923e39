package main

import (
	"regexp"
	"strings"

	"rangepost/bot/standin"
)

// strangeHeadings stand in place of those of a demo file: as no list of words
// has them.
var strangeHeadings = strings.NewReplacer(
	"Drill", "Tag Name", "Club Speed", "CLUB SPD", "Attack Angle", "Att. Ang.", "Club Path", "C.Path", "Face Angle", "Fce Angl",
	"Dynamic Loft", "Dyn. Lft", "Strike Across", "Impact X", "Strike Height", "Impact Y", "Ball Speed", "Ball Vel", "Launch Angle", "V. Launch",
	"Launch Direction", "H. Launch", "Spin Rate", "Spn Rate", "Spin Axis", "Spin Ax", "Carry", "Cary Dst", "Offline", "Off-ln",
)

var lettered = regexp.MustCompile(`([0-9.]+) ([LR])\b`)

// strange is a demo file as another device writes it: other headings, and signs
// for sides.
func (p *play) strange(session string) standin.File {
	file := p.file("sessions/" + session)
	head, rows, _ := strings.Cut(string(file.Bytes), "\n")
	rows = lettered.ReplaceAllStringFunc(rows, func(s string) string {
		if value, left := strings.CutSuffix(s, " L"); left {
			return "-" + value
		}
		return strings.TrimSuffix(s, " R")
	})
	file.Name, file.Bytes = "bay-4.csv", []byte(strangeHeadings.Replace(head)+"\n"+rows)
	return file
}

// newcomer is three things a first file may need: headings nobody has seen, a
// press that turns left and right round, and rows without a file.
func (p *play) newcomer() {
	p.at(13, 19, 10)
	read := p.slash(p.priya, p.practice, "post", standin.Options{"file": p.strange("odell-1-wedge.csv"), "ball": "new"})
	p.press(p.priya, read, "Turn left and right round")

	p.at(13, 19, 20)
	form := p.slash(p.priya, p.practice, "post", standin.Options{"ball": "range"})
	p.submit(p.priya, form, "rows", "7i, carry 148 yd, 6 right, face 2 open\n7i, carry 151 yd, 1 left, face 1 closed\n7i, carry 144 yd, 9 right, face 3 open")
}
