package screen

import (
	"bench/oilcan/model"
)

// Counter is one a person reads: what it is called, and how it is read.
type Counter struct {
	Meter     model.Meter
	Ask, Hint string
}

// Counters are the counters a person can read, and what they are called.
var Counters = []Counter{
	{model.Hours, "print hours", "As the machine's own counter shows them."},
	{model.Changes, "filament changes",
		"Every change the cutter or the hot end has seen; a purge counts as one."},
	{model.Starts, "print starts",
		"Each start cuts once more; leave it empty if the machine does not count them."},
	{model.StyrenicHours, "hours of ABS or ASA",
		"Hours printed with styrene plastics, if you keep them: they use up the carbon filter."},
	{model.AbrasiveHours, "hours of abrasive filament",
		"Hours printed with fibre, glow or metal-filled filament, if you keep them: they wear the nozzle."},
}

// What makes a reading true that others speak against, on the form and in a session.
const (
	ItIsRight = "the new reading is right and the earlier, higher ones were wrong"
	ItIsNew   = "the counter was replaced or reset and starts again at this value"
)
