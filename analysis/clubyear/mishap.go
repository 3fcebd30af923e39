package clubyear

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// A Mishap is what befalls an honest part, or sets it apart.
type Mishap string

// The mishaps.
const (
	LostShot       Mishap = "device lost a shot"
	RepeatedRow    Mishap = "a row twice"
	Restarted      Mishap = "shot numbers from 1 again"
	HourOff        Mishap = "clock an hour slow"
	OtherZone      Mishap = "clock of another zone"
	ClockReset     Mishap = "clock back in 2000"
	TwoDevices     Mishap = "goes on at another device"
	Battery        Mishap = "battery changed, two shots unseen"
	TeeShot        Mishap = "a tee shot among the irons"
	TeeShotUnnamed Mishap = "a tee shot called an iron's"
	WarmUp         Mishap = "warm-up left in"
	MissingColumn  Mishap = "a column missing"
	DecimalComma   Mishap = "decimal commas"
	ExportedTwice  Mishap = "file handed over twice"
	LastWeek       Mishap = "last week's file first"
	BorrowedMetric Mishap = "metres from a borrowed box"
	Windy          Mishap = "windy day"
	RangeLate      Mishap = "range balls said late"
	BeforeOpening  Mishap = "hit before the opening"
	AfterClosing   Mishap = "entered after the closing"
	PartThenWhole  Mishap = "part of the file, then the whole"
	EditedHeader   Mishap = "heading edited"
	Spreadsheet    Mishap = "whole numbers out of a spreadsheet"
	TooFew         Mishap = "stopped by the dark"
	SecondVisit    Mishap = "enters the second visit"
	SideAlone      Mishap = "club and side alone, in whole units"
	LeftHander     Mishap = "left-hander, all well"
	ShortJunior    Mishap = "junior with short carry, all well"
)

// A fate is a mishap with what it does. suits says whom it may befall, everybody
// where it is nil; due is what such an entry is owed, "" being Accepted.
type fate struct {
	mishap Mishap
	due    State
	suits  func(m Member, r Rule) bool
	befall func(p *Part, rng *rand.Rand)
}

// file is a mishap of the file alone.
func file(change func(s *Session, rng *rand.Rand)) func(p *Part, rng *rand.Rand) {
	return func(p *Part, rng *rand.Rand) {
		p.rewrite(func(s *Session) { change(s, rng) })
	}
}

var fates = []fate{
	{mishap: LostShot, befall: file(func(s *Session, rng *rand.Rand) {
		i := 1 + rng.IntN(len(s.Balls)-2)
		s.Balls = slices.Delete(s.Balls, i, i+1)
	})},
	{mishap: RepeatedRow, befall: file(func(s *Session, rng *rand.Rand) {
		i := rng.IntN(len(s.Balls))
		s.Balls = slices.Insert(s.Balls, i, s.Balls[i])
	})},
	{mishap: Restarted, befall: file(func(s *Session, rng *rand.Rand) {
		half := len(s.Balls) / 2
		for i := range s.Balls[half:] {
			s.Balls[half+i].N = i + 1
		}
	})},
	{mishap: HourOff, befall: file(func(s *Session, rng *rand.Rand) { s.move(s.Start().Add(-time.Hour)) })},
	{mishap: OtherZone, befall: file(func(s *Session, rng *rand.Rand) {
		for i := range s.Balls {
			s.Balls[i].At = s.Balls[i].At.In(time.FixedZone("", -5*60*60))
		}
	})},
	{mishap: ClockReset, due: Either, befall: file(func(s *Session, rng *rand.Rand) {
		s.move(time.Date(2000, time.January, 1, 0, 3, 0, 0, s.Start().Location()))
	})},
	{mishap: TwoDevices, befall: func(p *Part, rng *rand.Rand) {
		first := p.session()
		second := p.more(1, 12)
		if second.Device = Box; first.Device.metric() {
			second.Device = BayLine
		}
		p.anew(first)
		p.Acts = p.Acts[:len(p.Acts)-1]
		posted := len(p.Acts) - 1
		p.post(second, p.said())
		p.enter(posted)
	}},
	{mishap: Battery, befall: func(p *Part, rng *rand.Rand) {
		const away = 13 * time.Minute
		p.rewrite(func(s *Session) {
			for i := len(s.Balls) / 2; i < len(s.Balls); i++ {
				s.Balls[i].At = s.Balls[i].At.Add(away)
			}
		})
		for i := p.posted(); i < len(p.Acts); i++ {
			p.Acts[i].At = p.Acts[i].At.Add(away)
		}
	}},
	{mishap: TeeShot, befall: teeShot(true)},
	{mishap: TeeShotUnnamed, due: Either, befall: teeShot(false)},
	{mishap: WarmUp, befall: func(p *Part, rng *rand.Rand) {
		f := p.form(rng)
		f.speed *= 0.6
		warm := p.hit(1, 4, p.start, f)
		p.rewrite(func(s *Session) {
			s.move(p.start.Add(4 * time.Minute))
			s.Balls = append(slices.Clone(warm.Balls), s.Balls...)
			s.number()
		})
	}},
	{mishap: MissingColumn, befall: file(func(s *Session, rng *rand.Rand) {
		s.Missing = []analysis.Number{[]analysis.Number{analysis.Spin, analysis.LaunchAngle, analysis.BallSpeed, analysis.SpinAxis}[rng.IntN(4)]}
	})},
	{mishap: DecimalComma, suits: func(m Member, r Rule) bool { return m.Device == Box && r.Kind != Within },
		befall: file(func(s *Session, rng *rand.Rand) { s.Device = BoxComma })},
	{mishap: ExportedTwice, befall: func(p *Part, rng *rand.Rand) { p.anew(p.session(), p.session()) }},
	{mishap: LastWeek, befall: func(p *Part, rng *rand.Rand) {
		right := p.session()
		p.anew(p.hit(1, len(right.Balls), p.start.AddDate(0, 0, -7), p.form(rng)))
		p.Acts[p.posted()].At = right.Balls[len(right.Balls)-1].At.Add(5 * time.Minute)
		p.Acts[len(p.Acts)-1].At = p.Acts[p.posted()].At.Add(time.Minute)
		p.enter(p.post(right, p.said()))
	}},
	{mishap: BorrowedMetric, suits: func(m Member, r Rule) bool { return !m.Device.metric() && r.Kind != Within },
		befall: func(p *Part, rng *rand.Rand) {
			p.Member.Device = Box
			p.anew(p.more(0, len(p.session().Balls)))
		}},
	{mishap: Windy, befall: func(p *Part, rng *rand.Rand) {
		f := p.form(rng)
		f.wind = panel.Wind{Speed: 4 + 3*rng.Float64(), From: 7 * rng.Float64()}
		p.anew(p.hit(0, len(p.session().Balls), p.start, f))
	}},
	{mishap: RangeLate, suits: func(m Member, r Rule) bool { return m.RangeBalls }, befall: func(p *Part, rng *rand.Rand) {
		p.anew(p.session(), p.session())
		p.Acts[p.posted()-1].Said.Ball = ""
	}},
	{mishap: BeforeOpening, due: Refused, befall: file(func(s *Session, rng *rand.Rand) {
		s.move(s.Start().AddDate(0, 0, -6))
	})},
	{mishap: AfterClosing, due: Refused, befall: func(p *Part, rng *rand.Rand) {
		p.Acts[len(p.Acts)-1].At = p.Challenge.Closes.Add(time.Hour)
	}},
	{mishap: PartThenWhole, befall: func(p *Part, rng *rand.Rand) {
		whole := p.session()
		p.anew(whole.part(0, 3*len(whole.Balls)/5), whole)
	}},
	{mishap: EditedHeader, befall: file(func(s *Session, rng *rand.Rand) {
		s.Heads = map[analysis.Number]string{analysis.Carry: "my carry (yd)", analysis.BallSpeed: "speed of ball (mph)"}
		if s.Device.metric() {
			s.Heads = map[analysis.Number]string{analysis.Carry: "my carry (m)", analysis.BallSpeed: "speed of ball (m/s)"}
		}
	})},
	{mishap: Spreadsheet, befall: file(func(s *Session, rng *rand.Rand) { s.Decimals = 1 })},
	{mishap: TooFew, due: Refused, befall: file(func(s *Session, rng *rand.Rand) { s.Balls = s.Balls[:10] })},
	{mishap: SecondVisit, due: Either, befall: func(p *Part, rng *rand.Rand) {
		p.anew(p.session(), p.more(1, len(p.session().Balls)))
	}},
	{mishap: SideAlone, suits: func(m Member, r Rule) bool { return r.Kind == Narrow || r.Kind == Progress }, befall: file(sideAlone)},
}

// sideAlone leaves as little as a device may show.
func sideAlone(s *Session, _ *rand.Rand) {
	for _, c := range s.Device.columns() {
		if c.n != analysis.Lateral {
			s.Missing = append(s.Missing, c.n)
		}
	}
	s.Decimals = 1
}

// teeShot hits one ball in the middle with a driver, which the file names or not.
func teeShot(named bool) func(p *Part, rng *rand.Rand) {
	return func(p *Part, rng *rand.Rand) {
		p.rewrite(func(s *Session) {
			m := p.Member
			m.golfer = p.golfer
			half := len(s.Balls) / 2
			tee := m.hit(analysis.Club{Family: analysis.Driver}, 1, s.Balls[half].At.Add(-15*time.Second), form{wide: 1, speed: 1}, rng).Balls[0]
			if !named {
				tee.Club = p.Challenge.Rule.club()
			}
			s.Balls = slices.Insert(s.Balls, half, tee)
			s.number()
		})
	}
}

// suit lists the mishaps that may befall a part, in a fixed order.
func (p *Part) suit() (all []Mishap) {
	for _, f := range fates {
		if f.suits == nil || f.suits(p.Member, p.Challenge.Rule) {
			all = append(all, f.mishap)
		}
	}
	return all
}

// befall lets a mishap befall the part.
func (p *Part) befall(m Mishap, rng *rand.Rand) {
	f := fates[slices.IndexFunc(fates, func(f fate) bool { return f.mishap == m })]
	p.Mishap, p.Due = m, cmp.Or(f.due, Accepted)
	if f.befall != nil {
		f.befall(p, rng)
	}
}
