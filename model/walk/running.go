package walk

import (
	"maps"
	"slices"
	"time"
)

// running is what goes on by itself: waits, and the clocks that steps start.
type running struct {
	Waits  []Running
	Clocks map[string]time.Time // when each was started
}

func (rn running) clone() running {
	rn.Waits, rn.Clocks = slices.Clone(rn.Waits), maps.Clone(rn.Clocks)
	return rn
}
