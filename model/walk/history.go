package walk

import (
	"time"

	"bench/oilcan/model"
)

// history is the record of a session so far.
type history struct {
	LastAt  time.Time // of the last fact
	LastBy  string
	Ordinal int

	last    time.Time      // of the fact before the one that is folded
	entries []*model.Entry // effective: without what was taken back
	hands   float64        // minutes
	waited  float64        // minutes
}

// Minutes gives hands and waiting so far, by the session's own times.
func (h *history) Minutes() (hands, waited float64) { return h.hands, h.waited }
