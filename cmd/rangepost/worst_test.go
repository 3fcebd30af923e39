package main

import (
	"bytes"
	"flag"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"rangepost/bot/standin"
)

var worst = flag.Duration("worst", 15*time.Second, "how long one person does their worst")

// While one person does their worst (the most sets a file may have, posted
// again and again, presses as fast as they can, downloads that hang) everybody
// else is answered within a second.
func TestOnePersonsWorst(t *testing.T) {
	if testing.Short() {
		t.Skip("measures")
	}
	p := rehearse(t)
	p.setUp()
	p.must(t)
	many := func(n int) standin.File {
		var b bytes.Buffer
		fmt.Fprintf(&b, "Club,Tag,Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Spin Axis (deg),Carry (yd),Lateral (yd),Club Speed (mph),Club Path (deg),Face Angle (deg)\n")
		for i := range 5000 {
			fmt.Fprintf(&b, "7i,set %d,%.1f,17,1.5R,6500,3R,%.1f,6.%dR,87,%dL,%dR\n", i/2, 120+float64((i+n)%17)/10, 160+float64(i%23)/10, i%10, 1+i%3, 2+i%3)
		}
		name := "many.csv"
		if n%4 == 3 {
			name = "hang.csv"
		}
		return standin.File{Name: name, Bytes: b.Bytes()}
	}
	posted := p.slash(p.odell, p.practice, "post", standin.Options{"file": many(0)})
	p.must(t)
	p.st.Break(standin.Rule{Path: "hang.csv", Delay: 20 * time.Second})
	end := time.Now().Add(*worst)
	var doing sync.WaitGroup
	for i := range 6 {
		doing.Go(func() {
			for n := i; time.Now().Before(end); n += 6 {
				switch i % 3 {
				case 0:
					p.odell.Slash(p.ctx, p.practice, "post", standin.Options{"file": many(n)})
				case 1:
					p.odell.Press(p.ctx, &posted.Message, "Figures")
				default:
					p.odell.Slash(p.ctx, p.practice, "cause", nil)
				}
			}
		})
	}
	var took []time.Duration
	for time.Now().Before(end) {
		for _, who := range []*standin.User{p.priya, p.tamsin} {
			began := time.Now()
			out, err := who.Slash(p.ctx, p.practice, "help", nil)
			if err != nil || out.Text == "" {
				t.Fatalf("%v", err)
			}
			took = append(took, time.Since(began))
		}
		time.Sleep(200 * time.Millisecond)
	}
	doing.Wait()
	slices.Sort(took)
	t.Logf("%d answers: median %v, 99th percentile %v, worst %v", len(took), took[len(took)/2], took[len(took)*99/100], took[len(took)-1])
	if late := took[len(took)-1]; late > time.Second {
		t.Errorf("somebody else waited %v", late)
	}
}
