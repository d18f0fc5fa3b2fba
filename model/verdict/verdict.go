// Package verdict says whether the parts of a machine last through a print: what each gauge shows
// now, what the print adds, what it shows then, and whether to renew the part before.
//
// It is pure: machine, procedures and what the print costs come in, rows go out.
//
// # What it judges
//
// model/verdict judges every limit of a procedure (model.GaugesOfLimits), not only the one that
// governs now: a print of 700 changes brings the chute to its band by changes while its gauge still
// counts days. The worst is given. Words are lasts, reaches its band, in its band, past its band,
// unknown; in its band is a word of its own, because a gauge due before the print neither reaches
// its band in it nor is past it. When: unattended, before, where less than 1.2 times the need is
// left (common practice), or own lives give 10 % to fail (from memory); with somebody there,
// before, where it is or would be past its band, or own lives give 50 % (from memory), else after.
// A print that uses more than a whole band is said to; renewing before it saves nothing.
package verdict

import (
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
)

// Word is what becomes of a gauge in a print.
type Word string

// The words. Band is from low to high; a gauge that lasts is below low at the end.
const (
	Lasts   Word = "lasts"
	Reaches Word = "reaches its band" // during the print
	Due     Word = "in its band"      // before the print begins
	Past    Word = "past its band"    // before the print begins
	Unknown Word = "unknown"
)

// rank orders the words, the worst first.
func (w Word) rank() int {
	switch w {
	case Past:
		return 0
	case Due:
		return 1
	case Reaches:
		return 2
	case Unknown:
		return 3
	}
	return 4
}

// When to renew a part: before the print, after it, or neither.
const (
	Before = "before"
	After  = "after"
)

// Margin is what an unattended print must have left, against what it needs (common practice): a
// part that would stop it is renewed before where less is left.
const Margin = 1.2

// Print is what one print costs, as far as gauges are concerned.
type Print struct {
	Name string
	Need map[model.Meter]float64 // of meters that can be typed
	// not all materials are said: styrenic and abrasive hours are not known
	Unsaid bool
	Length time.Duration
	Layers int64

	changes, layers []job.Mark
}

// PrintOf takes a report read with time, and what it uses by material.
func PrintOf(name string, r *job.Report, use *job.Use) Print {
	hours := r.Total().Hours()
	return Print{
		Name: name, Length: r.Total(), Layers: r.Layers, changes: r.Marks, layers: r.LayerMarks,
		Unsaid: len(use.Unsaid) > 0,
		Need: map[model.Meter]float64{
			model.Hours: hours, model.Changes: float64(r.Changes()),
			model.Starts:        float64(r.Starts),
			model.StyrenicHours: use.StyrenicHours, model.AbrasiveHours: use.AbrasiveHours,
		},
	}
}

// need is what the print adds to a gauge; false where it is not known.
func (p *Print) need(g *model.Gauge) (float64, bool) {
	switch g.Meter {
	case model.Days:
		return p.Length.Hours() / 24, true
	case model.Cuts:
		n := p.Need[model.Changes]
		if g.Why.Kind != model.WithoutStarts {
			n += p.Need[model.Starts]
		}
		return n, true
	case model.StyrenicHours, model.AbrasiveHours:
		return p.Need[g.Meter], !p.Unsaid
	}
	n, known := p.Need[g.Meter]
	return n, known
}

// where is how far the print is when a gauge has gone up by more of the need in all.
func (p *Print) where(g *model.Gauge, more, need float64) (time.Duration, int64) {
	if need <= 0 {
		return 0, 0
	}
	if g.Meter != model.Changes && g.Meter != model.Cuts {
		at := time.Duration(float64(p.Length) * min(1, more/need))
		return at, p.layerAt(at)
	}
	if g.Meter == model.Cuts && g.Why.Kind != model.WithoutStarts {
		more -= p.Need[model.Starts]
	}
	for _, m := range p.changes {
		if float64(m.Change) >= more {
			return m.At, m.Layer
		}
	}
	return p.Length, p.Layers
}

// layerAt is the layer that is laid at a time.
func (p *Print) layerAt(at time.Duration) int64 {
	layer := int64(0)
	for _, m := range p.layers {
		if m.At > at {
			break
		}
		layer = m.Layer
	}
	return layer
}
