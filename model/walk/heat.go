package walk

import (
	"fmt"
	"math"
	"slices"
	"time"

	"bench/oilcan/model"
)

// coldUpTo is the reading up to which heat counts as cold, °C. ISO 13732-1 puts the burn threshold
// of metal held for minutes near 48 to 51 °C (figure from memory); 45 is common practice.
const coldUpTo = 45

// overnight is the break after which a machine left alone counts as stone cold again: a closed
// chamber with a heavy bed comes down to the room in some hours (from memory).
const overnight = 8 * time.Hour

// degree is one reading of a place, °C.
type degree struct {
	at    time.Time
	value float64
}

// StoneCold tells whether something of the session is measured stone cold.
func (g *given) StoneCold() bool {
	return slices.ContainsFunc(g.Begun.Items, func(r model.BlockRef) bool {
		p := g.texts[r.Hash]
		return p != nil && stoneCold(p)
	})
}

func stoneCold(p *model.Procedure) bool {
	return len(p.Rung) > 0 && p.Rung[0].Is == model.RungStoneCold
}

// tooLate tells whether something ahead is measured stone cold and the machine was hot in this
// session, as a reading on the way showed: it is planned again without it before it is opened for
// that.
func (w *Walk) tooLate() bool {
	return w.heated && slices.ContainsFunc(w.Blocks[min(w.Cur, len(w.Blocks)):],
		func(b *Block) bool {
			return b.Kind == model.BlockCare && b.Status == Ahead && !w.begun(b) &&
				stoneCold(b.Proc)
		})
}

// readPlaces takes a reading of places of the machine. The warmest place is the machine: over
// coldUpTo it is hot, and what was seen to be hot by a reading is cold again once every place read
// is. Heat that came by a set-up action, by what a procedure leaves, or that was said, is cold
// again only by those.
func (w *Walk) readPlaces(t model.Temperature, v float64, at time.Time) {
	for _, p := range t.Places {
		w.degrees[p] = degree{at, v}
	}
	warm, ok := w.warmest()
	if !ok || len(t.Places) == 0 {
		return
	}
	w.Seen[model.Heat] = warm.seen()
	switch hot := warm.value > coldUpTo; {
	case hot && w.Believed[model.Heat] != model.Hot:
		w.unlearn("heat")
		w.Believed[model.Heat], w.hotAsRead, w.heated, w.targets = model.Hot, true, true, true
	case !hot && w.hotAsRead:
		w.Believed[model.Heat], w.hotAsRead = model.Cold, false
	}
}

// tooWarm takes a reading that did not pass because it is too warm: whatever follows, the machine
// is as warm as that until it is read again.
func (w *Walk) tooWarm(e model.Entry, x *model.Walked) {
	s := w.Step()
	if s == nil || s.Name != x.Step || s.Gate != model.Measure || s.Unit != "°C" ||
		x.Number == nil || *x.Number <= coldUpTo {
		return
	}
	t, _ := model.TemperatureOf(s.Quantity)
	w.readPlaces(t, *x.Number, e.At)
}

// seen is the reading as it is shown.
func (d degree) seen() Seen { return Seen{At: d.at, Note: model.Figure(d.value) + " °C"} }

// badDegree tells why a value in °C is not taken, "" where it is. What is only unusual is taken
// when given twice.
func (w *Walk) badDegree(c Context, s *model.Step, text string, v float64) string {
	if s.Unit != "°C" {
		return ""
	}
	t, _ := model.TemperatureOf(s.Quantity)
	switch {
	case !t.Possible.Holds(v):
		return fmt.Sprintf("%s °C cannot be: read it again.", model.Figure(v))
	case !t.Usual.Holds(v) && !w.saysAgain(text):
		return fmt.Sprintf("%s °C is unusual for a %s: read it again. If it is right, type it once more.", model.Figure(v), t.Quantity)
	}
	return w.coolsTooFast(t, text, v, c.Now)
}

// How fast a place can cool: towards a cold room, by Newton's law, with no shorter time constant
// than a small block has in its own fan's wind; and by how much two ways of reading one place
// differ (all from memory).
const (
	coldRoom  = 15.0 // °C
	coolsOver = 60.0 // s
	slack     = 8.0  // °C
)

// coolsTooFast tells why a reading is not taken of a place that was read far warmer just before; ""
// where it can be. A slip of the finger before is put right by giving it twice.
func (w *Walk) coolsTooFast(t model.Temperature, text string, v float64, now time.Time) string {
	for _, p := range t.Places {
		d, read := w.degrees[p]
		gone := max(0, now.Sub(d.at).Seconds())
		least := coldRoom + (d.value-coldRoom)*math.Exp(-gone/coolsOver) - slack
		if !read || d.value <= coldUpTo || v >= least || w.telling || w.saysAgain(text) {
			continue
		}
		return fmt.Sprintf("The %s read %s °C %.0f s ago, and nothing cools so fast: read it again. If %s °C is right, type it once more.",
			p, model.Figure(d.value), max(1, gone), model.Figure(v))
	}
	return ""
}

// placesAsked names the places a machine is hot at: "hot end, bed and chamber".
func (g *given) placesAsked() string {
	var names []string
	for _, p := range model.PlacesOn(g.Features()) {
		names = append(names, string(p))
	}
	return model.Listed(names, "and")
}

// targetsZero is what a step makes known that reads every heater's target as zero.
const targetsZero = "targets-zero"

// drives tells whether a step heats the machine.
func drives(s *model.Step) bool { return slices.Contains(s.Drives, "heat") }

// asksHeat tells whether a step asks heat of a machine by what its block is for: a file from before
// steps said what they drive, or an operator's own, has it in no other way.
func asksHeat(b *Block, s *model.Step) bool {
	c := b.Proc.Change
	return s.Drives == nil && s.Gate == model.Measure && c != nil && c.Variable == model.Heat &&
		c.To == model.Hot
}

// drive takes a machine as hot from a step on that heats it, done or not. Care reads by itself when
// it is cold again; after proofs and set-up actions only a set-up action does.
func (w *Walk) drive(b *Block, s *model.Step, at time.Time) {
	if b == nil || s == nil || !drives(s) && !asksHeat(b, s) {
		return
	}
	w.believe(model.Heat, "hot", at)
	if w.telling {
		return
	}
	w.Seen[model.Heat] = Seen{At: at} // hot before too: what was read of it then says nothing now
	w.hotAsRead = b.Kind == model.BlockCare
}

// leftHot takes a machine as hot where a block is left that was begun and heats, or would have left
// it hot.
func (w *Walk) leftHot(b *Block) {
	if w.boundary() {
		return
	}
	w.drive(b, w.Step(), w.LastAt)
	for _, l := range b.Proc.Leave {
		if l.Variable == model.Heat && l.Is == model.Hot {
			w.believe(model.Heat, "hot", w.LastAt)
		}
	}
}

// stillHot tells whether what is taken back from an entry on heated the machine: that it stays hot
// cannot be taken back.
func (w *Walk) stillHot(from int) bool {
	for _, e := range w.entries[from:] {
		if x := e.Walk; x != nil && x.What == Said && x.Variable == model.Heat {
			return false // what is taken back is the word itself
		}
	}
	s := w.Step()
	return w.Believed[model.Heat] == model.Hot || s != nil && drives(s) && w.refused != ""
}

func (w *Walk) foldBack(x *model.Walked) {
	if b := w.Block(); x.Variable == model.Heat && w.Believed[model.Heat] != model.Hot {
		w.believe(model.Heat, "hot", w.LastAt)
		w.hotAsRead = b != nil && b.Kind == model.BlockCare
	}
}
