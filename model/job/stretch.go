package job

// modes are what G20, G21, G90, G91, M82 and M83 say of the words of movement.
type modes struct {
	inch     bool
	relative bool // G91
	eAlways  bool // M83
	eNow     bool // E is relative: M83, or G91 said after M82
	special  bool // inch or relative: movement takes the longer way
}

// set takes over a code, and tells whether it is one of these.
func (m *modes) set(c code) bool {
	switch c {
	case code{'G', 200}, code{'G', 210}:
		m.inch = c.number == 200
	case code{'G', 900}, code{'G', 910}:
		m.relative = c.number == 910
		m.eNow = m.eAlways || m.relative
	case code{'M', 820}, code{'M', 830}:
		m.eAlways = c.number == 830
		m.eNow = m.eAlways
	default:
		return false
	}
	m.special = m.inch || m.relative
	return true
}

// stretch is many lines of level movement in millimetres and absolute coordinates, added up by the lexer,
// side by side with other workers. What it takes for granted, the modes and where the stretch begins, is
// checked when its turn comes; where that was not so, its lines are read again one by one. All sums
// are whole nanometres, so that the order of adding changes nothing.
type stretch struct {
	start, end uint32 // its lines in the block
	moves      int64
	from, to   [4]int64
	travel     [2]int64
	push, e    int64 // filament forth, and forth less back
	turns      int64 // times pulled back after it was pushed in this stretch
	feed       int64
	op         op    // of the last line
	used       uint8 // the axes whose place in from must be so
	mask       uint8 // all words of its lines
	eNow       bool
	moved      bool // filament, at all
	backFirst  bool // the first movement of filament was back
	pulled     bool // the last one was
	laid       bool // plastic was laid
}

// took adds the movement in r, whose line ends at end, to the open stretch, or opens one, or makes it a
// record of its own: where it changes the height, or where it begins is not known.
func (l *lexer) took(r *rec, end int) {
	l.lines++
	l.known++
	if l.oneByOne || l.special || r.mask&hasZ != 0 || r.mask&^(l.knows|hasF) != 0 {
		l.alone(r)
		return
	}
	if l.last != len(l.recs) {
		l.open(r)
	}
	u := &l.stretches[len(l.stretches)-1]
	u.end, u.op = uint32(end), r.op
	mask := r.mask
	u.mask |= mask
	if mask&hasF != 0 {
		u.feed = r.v[atF]
	}
	if mask&(hasXYZ|hasE) == 0 {
		return
	}
	u.moves++
	var x, y int64
	if mask&hasX != 0 {
		x = r.v[atX] - l.at[atX]
		l.at[atX], u.to[atX] = r.v[atX], r.v[atX]
		u.travel[atX] += abs(x)
	}
	if mask&hasY != 0 {
		y = r.v[atY] - l.at[atY]
		l.at[atY], u.to[atY] = r.v[atY], r.v[atY]
		u.travel[atY] += abs(y)
	}
	if mask&hasE != 0 {
		e := r.v[atE]
		if !l.eNow {
			e -= l.at[atE]
			l.at[atE] = r.v[atE]
		}
		u.filament(e, x|y != 0)
	}
}

// filament adds filament moved by e, with or without movement along the plate.
func (u *stretch) filament(e int64, along bool) {
	u.e += e
	switch {
	case e > 0:
		u.push += e
		u.laid = u.laid || along
		u.moved, u.pulled = true, false
	case e < 0:
		switch {
		case !u.moved:
			u.backFirst = true
		case !u.pulled:
			u.turns++
		}
		u.moved, u.pulled = true, true
	}
}

// open begins a stretch with r.
func (l *lexer) open(r *rec) {
	l.recs = append(l.recs, rec{op: opStretch, line: r.line, v: [5]int64{int64(len(l.stretches))}})
	l.last = len(l.recs)
	u := stretch{start: r.line, from: l.at, to: l.at, used: l.knows, eNow: l.eNow}
	if l.eNow {
		u.used &^= hasE
	}
	l.stretches = append(l.stretches, u)
}

// alone makes r a record of its own, and learns from it where the head is.
func (l *lexer) alone(r *rec) {
	l.recs = append(l.recs, *r)
	for a, v := range r.v[:atF] {
		if r.mask>>a&1 != 0 {
			l.at[a] = v
		}
	}
	l.knows |= r.mask &^ hasF
}

// forget drops what is known of where the head is. Relative filament needs no knowledge.
func (l *lexer) forget() {
	l.knows = 0
	if l.eNow {
		l.knows = hasE
	}
}

// believe takes over what a line of words changes of modes and place. It may be wrong, which costs
// time and nothing else.
func (l *lexer) believe(w *words) {
	stays := w.n > 0
	for _, c := range w.codes[:w.n] {
		if l.modes.set(c) || c.letter == 'G' {
			stays = false
		}
	}
	if !stays {
		l.forget()
	}
}

// join takes over a stretch, if things are as it takes them to be.
func (s *state) join(u *stretch) bool {
	if s.plan != nil || s.special || s.eNow != u.eNow {
		return false
	}
	for a := range s.pos {
		if u.used>>a&1 == 0 {
			continue
		}
		if s.pos[a] != u.from[a] {
			return false
		}
	}
	for a := range s.pos[:atE] {
		if u.used>>a&1 != 0 {
			s.pos[a] = u.to[a]
		}
	}
	s.pos[atE] += u.e
	s.motion = u.op
	if u.mask&hasF != 0 {
		s.feed = u.feed
	}
	s.out.Moves += u.moves
	s.travel[atX] += u.travel[atX]
	s.travel[atY] += u.travel[atY]
	s.push += u.push
	s.back += u.push - u.e
	if s.turns += u.turns; u.backFirst && !s.pulled {
		s.turns++
	}
	if u.moved {
		s.pulled = u.pulled
	}
	if u.laid {
		s.laying()
	}
	return true
}

// redo carries out the lines of a stretch one by one. With a reason why that cannot be it gives the line.
func (s *state) redo(u *stretch, b []byte) (uint32, string) {
	l := lexer{oneByOne: true}
	l.scan(b[u.start:u.end])
	for i := range l.recs {
		if why := s.step(&l.lexed, &l.recs[i]); why != "" {
			return u.start + l.recs[i].line, why
		}
	}
	return 0, ""
}
