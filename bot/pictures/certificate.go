package pictures

import (
	"context"
	"fmt"
)

// CertificateInput is what a certificate says; all of it plain text.
type CertificateInput struct {
	Club      string   // whose it is, "" to leave that out; untrusted
	Challenge string   // its name, or a season's; untrusted
	Winners   []string // untrusted; more than one shared the win
	Score     string   // in words: "7.1 yards (5.2 to 9.0)"
	Rule      string   // what was scored
	Over      string   // over how many entries, and when: "Best of 12 entries, 14 June 2026"
}

// Certificate draws a challenge's certificate, 1200 by 900 pixels.
func Certificate(ctx context.Context, in CertificateInput) ([]byte, error) {
	return render(ctx, 1200, 900, func(c *canvas) { drawCertificate(c, in) })
}

func drawCertificate(c *canvas, in CertificateInput) {
	const nameSize = 64
	b := c.bounds
	middle := (b.left + b.right) / 2
	c.ring(pen{targetColour, 10, nil}, corners(b.inset(30)))
	c.ring(pen{rule, 3, nil}, corners(b.inset(48)))
	width := b.width() - 200

	c.text(c.cut(lettered(in.Club), bodySize, width), point{middle, 98}, bodySize, targetText, centred)
	c.text(c.cut(lettered(in.Challenge), headSize, width), point{middle, 150}, headSize, muted, centred)
	won := "won by"
	if len(in.Winners) > 1 {
		won = "shared by"
	}
	c.text(won, point{middle, 210}, bodySize, muted, centred)
	winners, size := in.Winners, float64(nameSize)
	if len(winners) > 4 {
		more := len(winners) - 3
		winners = append(append([]string{}, winners[:3]...), fmt.Sprintf("and %d more", more))
	}
	if len(winners) > 2 {
		size = 48
	}
	y := 395 - 1.35*size*float64(len(winners)-1)/2 + size/3
	for _, name := range winners {
		c.text(c.cut(lettered(name), size, width), point{middle, y}, size, ink, centred)
		y += 1.35 * size
	}
	c.text(c.cut(lettered(in.Score), headSize, width), point{middle, 600}, headSize, targetText, centred)
	y = 665
	for _, line := range c.wrap(lettered(in.Rule), smallSize, width, 4) {
		c.text(line, point{middle, y}, smallSize, ink, centred)
		y += 1.3 * smallSize
	}
	c.text(c.cut(lettered(in.Over), smallSize, width), point{middle, 835}, smallSize, muted, centred)
}
