package model

import (
	"fmt"
	"time"
)

// TimeLeft writes a time that is left as minutes and seconds, "05:00"; one that is over as "00:00".
func TimeLeft(d time.Duration) string {
	s := int(max(d, 0).Round(time.Second).Seconds())
	return fmt.Sprintf("%02d:%02d", s/60, s%60)
}

// Day writes the day of a time in the zone of now, which is that of the clock on the bench. The
// journal keeps its times in UTC, so that a time read from it is never written without a zone.
func Day(t, now time.Time) string { return t.In(now.Location()).Format(time.DateOnly) }

// Stamp writes day, hour and minute of a time in the zone of now.
func Stamp(t, now time.Time) string { return t.In(now.Location()).Format("2006-01-02 15:04") }

// Clock writes hour and minute of a time in the zone of now.
func Clock(t, now time.Time) string { return t.In(now.Location()).Format("15:04") }
