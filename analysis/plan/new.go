package plan

import (
	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// New makes a plan, or says why it cannot (an *analysis.Refusal). A plan whose
// balls would be more than a golfer hits for it is cut to what they do; its Power
// then says how little that is.
func New(c Config) (Plan, error) {
	c, err := c.checked()
	if err != nil {
		return Plan{}, err
	}
	s := scatterOf(c.Earlier, c.Club, c.Number)
	p := Plan{Club: c.Club, Labels: c.Labels, Number: c.Number, Change: c.Change, Seed: c.Seed, SD: s.sd, Own: s.own}
	if p.Change == 0 {
		carry := s
		if c.Number != analysis.Carry {
			carry = scatterOf(c.Earlier, c.Club, analysis.Carry)
		}
		p.Change = trial.PracticalZero(c.Number, s.mean, carry.mean)
	}
	blocks, turn, power := size(p.Change/p.SD, len(p.Labels))
	p.BallsASet, p.Power = blocks*turn, power
	p.Turns = draw(blocks, turn, len(p.Labels), p.Seed)
	return p, nil
}
