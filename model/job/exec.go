package job

import "fmt"

// letters makes a set of the letters of a word's names.
func letters(s string) (m uint32) {
	for _, c := range []byte(s) {
		m |= letterBit(c)
	}
	return m
}

var (
	forMove = letters("XYZEF")
	forArc  = letters("XYZEFIJKR")
	forHome = letters("XYZEW")
	forZero = letters("XYZE")
)

// exec carries out a line of words in the order of NISTIR 6556 table 8: settings, M and T words,
// then what uses the axis words. It gives the reason where that cannot be.
func (s *state) exec(w *words) string {
	taken := uint32(0)
	mover, anyM, chooser := code{}, false, code{}
	for _, c := range w.codes[:w.n] {
		switch {
		case c.letter == 'M':
			anyM = true
			if c.chooses() {
				chooser = c
			}
		case s.setting(c):
		case mover.letter != 0:
			return fmt.Sprintf("%s and %s on one line both use its words", mover.name(), c.name())
		default:
			mover = c
		}
	}
	for _, c := range w.codes[:w.n] {
		if c.letter == 'M' {
			taken |= s.machine(c, w)
		}
	}
	if !anyM || chooser.letter != 0 {
		taken |= s.chooseBy(chooser, w)
	}
	if mover.letter == 0 && !anyM && (w.has|w.bare)&forArc&^letterBit('F') != 0 {
		if s.motion == opNone {
			return "the line names an axis and no G word has said how to move"
		}
		mover = code{'G', int32(s.motion) * 10}
	}
	used, why := s.mover(mover, w)
	if taken |= used; why != "" {
		return why
	}
	if w.given('F') && taken&letterBit('F') == 0 && !anyM {
		if !small(w.get('F')) {
			return tooFar('F')
		}
		s.feed = s.length(w.get('F'))
		taken |= letterBit('F')
	}
	s.leftOver(w, (w.has|w.bare)&^taken)
	return ""
}

// name writes a code as it stands in a file.
func (c code) name() string {
	if c.letter == 0 {
		return ""
	}
	return fmt.Sprintf("%c%s", c.letter, decimal(int64(c.number)*scale/10))
}

// leftOver counts words no command of their line has use for, each with the first command.
func (s *state) leftOver(w *words, left uint32) {
	if left == 0 {
		return
	}
	prefix := ""
	if w.n > 0 {
		prefix = w.codes[0].name() + " "
	} else if w.given('T') {
		prefix = "T "
	}
	for c := byte('A'); c <= 'Z'; c++ {
		if left&letterBit(c) != 0 && !(c == 'T' && prefix == "T ") {
			s.unknown.add(append([]byte(prefix), c))
		}
	}
}

// setting carries out the codes that change how words are read, and tells whether c is one.
func (s *state) setting(c code) bool {
	switch c.number {
	case 170, 180, 190:
		s.plane = int8(c.number / 10)
	case 200, 210:
		s.inch = c.number == 200
	case 900, 910:
		s.relative = c.number == 910
		s.eNow = s.eAlways || s.relative
	case 800:
		s.motion = opNone
	default:
		return false
	}
	s.special = s.inch || s.relative
	return true
}

// mover carries out the one code of a line that uses its axis words. It gives the letters used.
func (s *state) mover(c code, w *words) (uint32, string) {
	if c.letter == 0 {
		return 0, ""
	}
	switch c.number {
	case 0, 10:
		return forMove, s.straight(op(c.number/10), w)
	case 20, 30:
		return forArc, s.arc(op(c.number/10), w)
	case 40:
		return letters("PS"), s.dwell(w)
	case 100, 110:
		s.firmwarePull(c.number == 100, w)
		return letters("S"), ""
	case 280:
		s.home(w)
		return forHome, ""
	case 920:
		return forZero, s.setPosition(w)
	}
	return 0, ""
}

// straight is a movement read the long way.
func (s *state) straight(o op, w *words) string {
	r, why := shortOf(w)
	if why != "" {
		return why
	}
	s.motion = o
	if s.special {
		return s.moveSpecial(&r)
	}
	s.move(&r)
	return ""
}

// shortOf takes the words X Y Z E F of a line as a record.
func shortOf(w *words) (rec, string) {
	r := rec{}
	for slot, c := range []byte("XYZEF") {
		if w.bare&letterBit(c) != 0 {
			return r, fmt.Sprintf("%c has no number after it", c)
		}
		if w.given(c) {
			if r.v[slot] = w.get(c); !small(r.v[slot]) {
				return r, tooFar(c)
			}
			r.mask |= 1 << slot
		}
	}
	return r, ""
}

func tooFar(c byte) string {
	return fmt.Sprintf("%c is beyond %d, further than any machine reaches", c, maxCoordinate)
}

// home is G28: the axes named, or all, are then at 0. What homing itself travels is not known.
func (s *state) home(w *words) {
	s.halt()
	s.out.Homings++
	named := (w.has | w.bare) & letters("XYZ")
	for a, c := range []byte("XYZ") {
		if named == 0 || named&letterBit(c) != 0 {
			s.pos[a] = 0
		}
	}
	if named == 0 || named&letterBit('Z') != 0 {
		s.lift = 0
	}
}

// setPosition is G92: coordinates change and nothing moves. Without words all are 0 (dialect).
func (s *state) setPosition(w *words) string {
	r, why := shortOf(w)
	if why != "" {
		return why
	}
	was := s.pos[atZ]
	if r.mask&(hasXYZ|hasE) == 0 {
		s.pos = [4]int64{}
	}
	for a := range s.pos {
		if r.mask>>a&1 != 0 {
			s.pos[a] = s.length(r.v[a])
		}
	}
	if s.laid() {
		s.lift += was - s.pos[atZ]
	}
	return ""
}

// dwell is G4: P milliseconds, S seconds (dialect; NISTIR 6556 has seconds in P). It also waits
// for movement to end.
func (s *state) dwell(w *words) string {
	s.halt()
	seconds := 0.0
	if w.given('P') {
		seconds = float64(w.get('P')) / scale / 1000
	}
	if w.given('S') {
		seconds += float64(w.get('S')) / scale
	}
	if seconds < 0 {
		return "a wait cannot be shorter than nothing"
	}
	s.wait(&s.out.Waits.Dwell, seconds)
	return ""
}

// firmwarePull is G10 and G11: back and forth by a length the machine knows and the file does not
// say. With L or P, G10 is another command.
func (s *state) firmwarePull(back bool, w *words) {
	if back && w.has&letters("LP") != 0 {
		return
	}
	if back && !s.pulled {
		s.turns++
	}
	s.pulled = back
}
