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

// stretch is many lines of level movement in millimetres, along the plate in absolute coordinates,
// added up by the lexer, side by side with other workers. What it takes for granted, the modes and
// where it begins, is checked when its turn comes; where that was not so, its lines are read again
// one by one.
type stretch struct {
	level
	start, end uint32 // its lines in the block
	from       [lanes]int64
	used       uint8 // the lanes whose place in from must be so
	eNow       bool
}

// net is how much further a word leaves off than it began.
func (u *stretch) net(lane int) int64 { return u.to[lane] - u.from[lane] }

// sum adds the lines from start on to the open stretch, as long as their forms are known, and gives
// where the first begins that it left, still within b.
func (l *lexer) sum(b []byte, start int) int {
	if l.last != len(l.recs) {
		return start
	}
	u := &l.stretches[len(l.stretches)-1]
	before := u.lines()
	end := start + sumForms(b[start:], l.forms, &u.level)
	l.added(u, u.lines()-before, end)
	return end
}

// took adds the movement in r, whose line ends at end, to the open stretch, or opens one, or makes
// it a record of its own: where it changes the height, or where it begins is not known.
func (l *lexer) took(r *rec, end int) {
	has := laned(r.mask)
	if l.oneByOne || l.special || r.mask&hasZ != 0 || has&^(l.knows|1<<laneF) != 0 {
		l.lines++
		l.known++
		l.alone(r)
		return
	}
	if l.last != len(l.recs) {
		l.open(r)
	}
	u := &l.stretches[len(l.stretches)-1]
	u.add(r.op, has, &[lanes]int64{r.v[atX], r.v[atY], r.v[atE], r.v[atF]})
	l.added(u, 1, end)
}

// added takes note that a stretch has grown by some lines up to end.
func (l *lexer) added(u *stretch, lines int64, end int) {
	l.lines += lines
	l.known += lines
	l.at, u.end = u.to, uint32(end)
}

// open begins a stretch with r.
func (l *lexer) open(r *rec) {
	l.recs = append(l.recs, rec{op: opStretch, line: r.line, v: [5]int64{int64(len(l.stretches))}})
	l.last = len(l.recs)
	u := stretch{start: r.line, used: l.knows, eNow: l.eNow}
	u.drive, u.strange = still, ^(l.knows | 1<<laneF)
	u.fixed = [lanes]int64{-1, -1, -1, -1}
	if l.eNow {
		u.fixed[laneE] = 0
		u.used &^= 1 << laneE
	}
	u.from, u.to = l.at, l.at
	l.stretches = append(l.stretches, u)
}

// alone makes r a record of its own, and learns from it where the head is.
func (l *lexer) alone(r *rec) {
	l.recs = append(l.recs, *r)
	for lane, a := range [laneF]int{atX, atY, atE} {
		if r.mask>>a&1 != 0 {
			l.at[lane] = r.v[a]
		}
	}
	l.knows |= laned(r.mask &^ hasF)
}

// forget drops what is known of where the head is. Relative filament needs no knowledge.
func (l *lexer) forget() {
	l.knows = 0
	if l.eNow {
		l.knows = 1 << laneE
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
	if s.plan != nil || s.special || s.coil.on || s.eNow != u.eNow {
		return false
	}
	places := [laneF]*int64{&s.pos[atX], &s.pos[atY], &s.pos[atE]}
	for lane, at := range places {
		if u.used>>lane&1 != 0 && *at != u.from[lane] {
			return false
		}
	}
	for lane, at := range places[:laneE] {
		if u.used>>lane&1 != 0 {
			*at = u.to[lane]
		}
	}
	s.pos[atE] += u.net(laneE)
	s.motion = u.op
	if u.feeds() {
		s.feed = u.to[laneF]
	}
	s.out.Moves += u.moves()
	s.travel[atX] += u.net(laneX) - 2*u.back[laneX]
	s.travel[atY] += u.net(laneY) - 2*u.back[laneY]
	s.push += u.net(laneE) - u.back[laneE]
	s.back -= u.back[laneE]
	if s.turns += u.turns; u.backOff && !s.pulled {
		s.turns++
	}
	if u.drive != still {
		s.pulled = u.drive == pulled
	}
	if u.laid {
		s.laying()
	}
	return true
}

// redo carries out the lines of a stretch one by one.
func (s *state) redo(u *stretch, b []byte) {
	l := lexer{oneByOne: true}
	l.scan(b[u.start:u.end])
	for i := 0; i < len(l.recs) && s.fault == nil; i++ {
		s.step(&l.lexed, &l.recs[i], b, u.start+l.recs[i].line)
	}
}
