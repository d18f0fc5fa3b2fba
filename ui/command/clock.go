package command

import (
	"sync"
	"time"
)

// Clock is the time of one program run: the real one, or one that stands still until moved.
type Clock struct {
	mu     sync.Mutex
	real   func() time.Time
	pinned bool
	at     time.Time
}

// NewClock makes a clock. pin is what OILCAN_NOW says: empty for the real time, a day (taken at
// noon) or an RFC 3339 time at which the clock stands.
func NewClock(real func() time.Time, pin string) (*Clock, error) {
	c := &Clock{real: real}
	if pin == "" {
		return c, nil
	}
	zone := real().Location()
	if day, err := time.ParseInLocation(time.DateOnly, pin, zone); err == nil {
		c.pinned, c.at = true, day.Add(12*time.Hour)
		return c, nil
	}
	t, err := time.Parse(time.RFC3339, pin)
	if err != nil {
		return nil,
			misuse("OILCAN_NOW is %q, which is no time: write 2026-11-25 or 2026-11-25T09:14:00Z",
				pin)
	}
	c.pinned, c.at = true, t.In(zone)
	return c, nil
}

// Now is the time of a clock: the pinned one while it is pinned.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.pinned {
		return c.at
	}
	return c.real()
}

// Move moves a pinned clock on; the real one moves by itself, and false is said.
func (c *Clock) Move(by time.Duration) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.pinned {
		c.at = c.at.Add(max(0, by))
	}
	return c.pinned
}
