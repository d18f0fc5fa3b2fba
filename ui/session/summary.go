package session

import (
	"slices"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/model/walk"
)

// nextShown is how many of the things done say when they are due again.
const nextShown = 6

// Summary is an ended session on a page: what it came to, what was read before, and when what was
// done is due again.
func (s *Session) Summary(now time.Time) walk.Summary {
	sum := walk.Summarise(s.W)
	if s.Machine == nil {
		return sum
	}
	sum = sum.WithBefore(s.Machine)
	var gs []model.Gauge
	for _, g := range life.Gauges(s.Machine, s.desk.Lib.Heads(), now) {
		if slices.Contains(sum.IDs, g.Item) && g.DueLow != nil {
			gs = append(gs, g)
		}
	}
	slices.SortStableFunc(gs, func(a, b model.Gauge) int { return a.DueLow.Compare(*b.DueLow) })
	for _, g := range gs[:min(len(gs), nextShown)] {
		sum.Next = append(sum.Next, g.Title+" "+g.WhenLong(now))
	}
	return sum
}
