package job

import (
	"maps"
	"math"
	"slices"
	"time"
)

// machine carries out an M word and gives the letters it used.
func (s *state) machine(c code, w *words) uint32 {
	switch c.number {
	case 0, 10:
		s.halt()
		s.out.Pauses++
	case 820, 830:
		s.modes.set(c)
	case 1040, 1090, 1400, 1900, 1410, 1910:
		s.heat(c.number, w)
		return letters("SRT")
	case 2010:
		s.limited = s.limited || w.given('X') || w.given('Y')
		s.limits(w, func(p *planner) *Axes { return &p.accel })
		return forZero
	case 2030:
		s.limits(w, func(p *planner) *Axes { return &p.speed })
		return forZero
	case 2040:
		s.accelerations(w)
		return letters("SPRT")
	case 2050:
		s.corners(w)
		return letters("XYZEJ")
	case 2200:
		if w.given('S') && w.get('S') > 0 {
			s.speed = float64(w.get('S')) / (100 * scale)
		}
		return letters("S")
	case 2210:
		if w.given('S') && w.get('S') >= 0 && small(w.get('S')) {
			s.book()
			s.flow = w.get('S')
		}
		return letters("S")
	case 1080, 1350, 10200:
		return letters("SPRI")
	case 2000:
		s.volumes(w)
		return letters("DSTL")
	case 6000:
		s.halt()
		s.out.ManualChanges++
		s.mark()
		return letters("XYZELURTB")
	}
	return 0
}

// chooses tells whether a command in M has another tool named on its line.
func (c code) chooses() bool {
	return c.letter == 'M' &&
		(c.number == 60 || c.number == 1080 || c.number == 1350 || c.number == 10200)
}

// chooseBy carries out the word of a line that names a tool, alone or with the command c that
// chooses: T with M6, M108 and M135, S with M1020. It gives the letters used.
func (s *state) chooseBy(c code, w *words) uint32 {
	letter := byte('T')
	if c.number == 10200 {
		letter = 'S'
	}
	switch {
	case !w.given(letter):
		return 0
	case c.number == 60:
		s.six.choose(s, w.get(letter))
		return letterBit(letter) | letters("P")
	}
	s.six.undo(s)
	s.choose(w.get(letter))
	if c.letter == 0 {
		return letters("TSLDP") // how the machine is to change
	}
	return letterBit(letter)
}

// six is what M6 T does. It changes the tool where nothing else does; where a file changes by other
// words, M6 only waits until the tool is hot. Which it is shows at the first of those words: until
// then M6 is taken for a change, and what it did is then undone.
type six struct {
	waits   bool
	said    bool
	changes int64
}

func (x *six) choose(s *state, v int64) {
	if x.waits {
		return
	}
	x.said = true
	before := s.out.ToolChanges
	s.choose(v)
	x.changes += s.out.ToolChanges - before
}

// undo takes back what M6 did, at another word that chooses a tool.
func (x *six) undo(s *state) {
	if x.waits {
		return
	}
	if x.waits = true; !x.said {
		return
	}
	s.book()
	s.halt()
	spent := time.Duration(x.changes * int64(max(s.profile.ChangeSeconds, 0)*1e9))
	all := toolSum{ns: -int64(spent)}
	for n, t := range s.tools {
		all.push, all.back, all.ns = all.push+t.push, all.back+t.back, all.ns+t.ns
		s.tools[n] = toolSum{}
	}
	all.seen = all.push|all.back != 0
	s.tools[0], s.tool, s.chosen = all, 0, false
	s.out.ToolChanges -= x.changes
	s.out.Waits.Changing -= spent
	s.changes = marks{}
}

// choose is a T word: a change where it names another tool than the one in use. The first loads,
// unless plastic was laid before it: that was tool 0.
func (s *state) choose(v int64) {
	n := v / scale
	if v%scale != 0 || n < 0 || n >= int64(s.profile.tools()) {
		s.service.add(fmtT(v))
		return
	}
	first := !s.chosen && !s.laid()
	s.chosen = true
	if int(n) == s.tool && !first {
		return
	}
	s.book()
	s.halt()
	if loads := &s.tools[s.tool]; first && loads.push|loads.back == 0 {
		loads.ns, s.tools[n].ns = 0, loads.ns // the time before belongs to the start it makes
	}
	s.hours()
	s.tool = int(n)
	s.tools[n].seen = true
	if first {
		return
	}
	s.out.ToolChanges++
	s.wait(&s.out.Waits.Changing, max(s.profile.ChangeSeconds, 0))
	s.mark()
}

// laid tells whether plastic was laid, level or rising.
func (s *state) laid() bool { return s.n > 0 || s.out.Spiral > 0 }

func (s *state) mark() { s.changes.add(s.out.Changes(), s.here()) }

// here is how far the print is; in time as far as movement was carried out, some moves behind.
func (s *state) here() Mark {
	at := time.Duration(0)
	if s.plan != nil {
		at = time.Duration(s.plan.moving)
		at += s.out.Waits.Heating + s.out.Waits.Dwell + s.out.Waits.Changing
	}
	return Mark{Change: s.out.Changes(), Layer: s.n, At: at}
}

// heat is M104 to M191: S is the temperature, and R that of a wait that also waits for cooling.
// A wait takes as long as the rise from the last temperature waited for.
func (s *state) heat(number int32, w *words) {
	letter := byte('S')
	if !w.given('S') {
		letter = 'R'
	}
	said, v := w.given(letter), 0.0
	if said {
		v = float64(w.get(letter)) / scale
	}
	h := &s.out.Hottest
	switch number {
	case 1040, 1090:
		h.HotEnd = math.Max(h.HotEnd, v)
		if said {
			s.hold(w, v)
		}
	case 1400, 1900:
		h.Bed = math.Max(h.Bed, v)
	default:
		h.Chamber = math.Max(h.Chamber, v)
	}
	switch number {
	case 1090:
		s.heated(&s.hot, said, v, s.profile.HotRate)
	case 1900:
		s.heated(&s.bed, said, v, s.profile.BedRate)
	case 1910:
		s.halt()
		s.out.Waits.Heats++
	}
}

// hold takes note of what a nozzle is to be held at. Without T that is all there is: a changer's
// tools share one nozzle. With the T of another tool it is that one's own.
func (s *state) hold(w *words, v float64) {
	s.hours()
	tool := w.get('T') / scale
	switch {
	case !w.given('T'):
		s.heldAt = v
		clear(s.held)
	case tool == int64(s.tool):
		s.heldAt = v
		delete(s.held, tool)
	case len(s.held) < maxTools:
		if s.held == nil {
			s.held = map[int64]float64{}
		}
		s.held[tool] = v
	}
}

// heldNow is what the nozzle in use is held at.
func (s *state) heldNow() float64 {
	if v, own := s.held[int64(s.tool)]; own {
		return v
	}
	return s.heldAt
}

// hotAtEnd is the highest that a nozzle is still held at. Where a macro stands behind the last
// filament, that may switch it off.
func (s *state) hotAtEnd() float64 {
	if s.named == s.everPushed && s.named > 0 {
		return 0
	}
	top := s.heldAt
	for _, v := range s.held {
		top = max(top, v)
	}
	return top
}

// hours books the time since it was called last to what the nozzle in use is held at; some moves
// that wait in the planner are then booked to what comes after.
func (s *state) hours() {
	now := s.here().At
	if v := s.heldNow(); now > s.hoursAt && v > 0 &&
		(len(s.heldFor) < maxNames || s.heldFor[v] > 0) {
		if s.heldFor == nil {
			s.heldFor = map[float64]time.Duration{}
		}
		s.heldFor[v] += now - s.hoursAt
	}
	s.hoursAt = now
}

// heldList gives the times by temperature, the hottest first.
func (s *state) heldList() (out []Held) {
	s.hours()
	for _, v := range slices.Backward(slices.Sorted(maps.Keys(s.heldFor))) {
		out = append(out, Held{v, s.heldFor[v]})
	}
	return out
}

// volumes is M200: from here on E is a volume, of filament of diameter D in mm; D0 or S0 ends that.
func (s *state) volumes(w *words) {
	s.book()
	switch d := float64(w.get('D')) / scale; {
	case w.given('S') && w.get('S') == 0, w.given('D') && d <= 0:
		s.area = 0
	case w.given('D'):
		s.area = Volume(1000*scale, d)
		s.out.VolumeDiameter = d
	case w.given('S') && s.out.VolumeDiameter > 0:
		s.area = Volume(1000*scale, s.out.VolumeDiameter)
	}
}

func (s *state) heated(now *float64, said bool, v, rate float64) {
	s.halt()
	s.out.Waits.Heats++
	if !said {
		return
	}
	if rate > 0 && v > *now {
		s.wait(&s.out.Waits.Heating, (v-*now)/rate)
	}
	*now = math.Max(v, s.profile.Room)
}

// limits are M201 (mm/s²) and M203 (mm/s), from the movement after it on.
func (s *state) limits(w *words, of func(*planner) *Axes) {
	if s.plan == nil {
		return
	}
	for a, c := range []byte("XYZE") {
		if w.given(c) && w.get(c) > 0 {
			of(s.plan)[a] = float64(s.length(w.get(c))) / scale
		}
	}
	s.plan.limited()
}

// accelerations are M204: P while printing, R while only filament moves, T in travel; S both
// P and T, in older files. Where neither machine nor file has said what the axes take, X and Y take
// that.
func (s *state) accelerations(w *words) {
	if s.plan == nil {
		return
	}
	set := func(c byte, to *float64) {
		if w.given(c) && w.get(c) > 0 {
			*to = float64(s.length(w.get(c))) / scale
		}
	}
	p := s.plan
	set('S', &p.print)
	set('S', &p.travel)
	set('P', &p.print)
	set('R', &p.retract)
	set('T', &p.travel)
	if most := max(p.print, p.travel); !s.profile.Limits && !s.limited && most > p.accel[atX] {
		p.accel[atX], p.accel[atY] = most, most
		p.limited()
	}
}

// corners are M205: X Y Z E what an axis may change its speed by at once, or J how far a corner may
// be cut. What is said last holds.
func (s *state) corners(w *words) {
	if s.plan == nil {
		return
	}
	for a, c := range []byte("XYZE") {
		if w.given(c) && w.get(c) > 0 {
			s.plan.jerk[a] = float64(s.length(w.get(c))) / scale
			if a < atE {
				s.plan.deviation = 0
			}
		}
	}
	s.plan.limited()
	if w.given('J') && w.get('J') > 0 {
		s.plan.deviation = float64(s.length(w.get('J'))) / scale
	}
}
