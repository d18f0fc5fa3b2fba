package job

import (
	"bytes"
	"fmt"
	"math"
	"time"
)

// state carries out the records of a file, in order, and keeps the sums.
type state struct {
	profile Profile
	plan    *planner // nil: no time asked for

	pos    [4]int64 // x, y, z, e in nanometres, in the coordinates the file speaks
	feed   int64    // nm/min, 0: none said yet
	motion op
	plane  int8 // 17, 18, 19
	modes
	flow  int64
	area  float64 // of the filament in mm², where E is a volume
	speed float64 // M220, as a factor

	tool   int
	chosen bool // a tool has been said
	six    six
	tools  [maxTools]toolSum
	turns  int64 // pulled back how often
	pulled bool  // the last filament movement was back

	push, back       int64 // since the last settle, which bounds them
	travel           [3]int64
	allPush, allBack int64 // since the last book
	total            [3]int64

	stack
	heldAt     float64           // degrees Celsius
	held       map[int64]float64 // the same, of tools that have their own
	heldFor    map[float64]time.Duration
	hoursAt    time.Duration // of the print, up to which heldFor is booked
	limited    bool          // M201 has said what X or Y take
	everPushed int64
	named      int64 // of it, what was pushed before the last macro
	hot, bed   float64
	overflow   bool
	lines      int64 // before this block

	strict  bool   // a line that is not as it should be ends the reading
	odd     string // what is odd in the line being carried out
	fault   *Fault // where reading ended
	stopped uint32 // where in its block

	out     Report
	changes marks
	unknown counter
	service counter
}

type toolSum struct {
	push, back int64
	ns         int64
	seen       bool
}

func newState(p Profile, timed bool) *state {
	s := &state{profile: p, motion: opNone, plane: 17, flow: 100 * scale, speed: 1,
		stack: newStack(), hot: p.Room, bed: p.Room}
	if timed {
		s.plan = newPlanner(p)
	}
	return s
}

// run carries out what a lexer made of block b. It stops at a fault.
func (s *state) run(l *lexed, b []byte) *Fault {
	for i := range l.recs {
		r := &l.recs[i]
		switch {
		case r.op != opStretch:
			s.step(l, r, b, r.line)
		case !s.join(&l.stretches[r.v[0]]):
			s.redo(&l.stretches[r.v[0]], b)
		}
		if s.fault != nil {
			before := lexer{}
			before.scan(b[:s.stopped])
			s.count(&before.lexed)
			return s.fault
		}
	}
	s.count(l)
	if s.overflow {
		return &Fault{Line: s.lines,
			Reason: "the movements up to here add up to more than can be counted: this is no print"}
	}
	return nil
}

// step carries out one record that is no stretch. Its line begins in block b at at.
func (s *state) step(l *lexed, r *rec, b []byte, at uint32) {
	switch r.op {
	case opRapid, opLinear:
		s.motion = r.op
		if s.special {
			s.judge(b, at, s.moveSpecial(r))
			return
		}
		s.move(r)
	case opWords:
		s.judge(b, at, s.exec(&l.words[r.v[0]]))
	case opName:
		name := l.names[r.v[0] : r.v[0]+int64(r.at)]
		s.unknown.add(name)
		if bareName(name) > 0 {
			s.named = s.everPushed + s.push
		}
	case opBad:
		reason := ""
		if n := int(r.v[1]); n < len(l.reasons) {
			reason = l.reasons[n]
		}
		s.bad(b, at, badness(r.v[0]), reason)
	}
}

// judge takes what became of a line: why it could not be carried out, or what was odd in it.
func (s *state) judge(b []byte, at uint32, why string) {
	if why != "" {
		s.bad(b, at, skipped, why)
	}
	if s.odd != "" {
		s.bad(b, at, read, s.odd)
		s.odd = ""
	}
}

// bad counts a line that is not as it should be, and keeps the first few of them; where nothing may
// be wrong, or nothing can follow it, reading ends there.
func (s *state) bad(b []byte, at uint32, v badness, reason string) {
	if s.strict || v == fatal {
		s.stopped = at
		s.fault = &Fault{Line: s.lineAt(b, at), Reason: reason}
		return
	}
	if v == skipped {
		s.out.Skipped++
	}
	if s.out.Bad++; len(s.out.Warnings) < maxWarnings {
		s.out.Warnings = append(
			s.out.Warnings,
			Warning{Line: s.lineAt(b, at), Reason: reason, Skipped: v == skipped},
		)
	}
}

// lineAt is the number of the line that begins in block b at at.
func (s *state) lineAt(b []byte, at uint32) int64 {
	return s.lines + int64(bytes.Count(b[:at], []byte{'\n'})) + 1
}

// count takes over what a lexer counted by itself.
func (s *state) count(l *lexed) {
	s.lines += l.lines
	s.out.Known += l.known
	s.out.Deleted += l.deleted
	s.out.Checksums += l.checksums
	s.settle()
}

// move carries out G0 or G1 in millimetres and absolute coordinates. It is took, written out for
// speed, with the rest in line.
func (s *state) move(r *rec) {
	mask := r.mask
	if mask&hasF != 0 {
		s.feed = r.v[atF]
	}
	if mask&(hasXYZ|hasE) == 0 {
		return
	}
	var x, y, z int64
	if mask&hasX != 0 {
		x = r.v[atX] - s.pos[atX]
		s.pos[atX] = r.v[atX]
		s.travel[atX] += abs(x)
	}
	if mask&hasY != 0 {
		y = r.v[atY] - s.pos[atY]
		s.pos[atY] = r.v[atY]
		s.travel[atY] += abs(y)
	}
	if mask&hasZ != 0 {
		z = r.v[atZ] - s.pos[atZ]
		s.pos[atZ] = r.v[atZ]
		s.travel[atZ] += abs(z)
	}
	s.out.Moves++
	e := int64(0)
	if mask&hasE != 0 {
		if e = r.v[atE]; !s.eNow {
			e -= s.pos[atE]
		}
		s.pos[atE] += e
	}
	if z != 0 || s.coil.on {
		s.moving(z, e)
	}
	if e > 0 && x|y != 0 && z == 0 && s.height() == s.level {
		s.push += e
		s.pulled = false
	} else if e != 0 {
		s.filament(&[4]int64{x, y, z, e}, nil)
	}
	if s.plan != nil {
		s.plan.line(&[4]int64{x, y, z, e}, s.speedNow())
	}
}

// moveSpecial is move in inches or in relative coordinates.
func (s *state) moveSpecial(r *rec) string {
	var d [4]int64
	for a := range d {
		if r.mask>>a&1 == 0 {
			continue
		}
		v := s.length(r.v[a])
		if rel := s.relative && a != atE || s.eNow && a == atE; !rel {
			v -= s.pos[a]
		}
		if d[a] = v; beyond(s.pos[a] + v) {
			return farAway
		}
	}
	for a, v := range d {
		s.pos[a] += v
	}
	if r.mask&hasF != 0 {
		s.feed = s.length(r.v[atF])
	}
	s.took(r.mask, &d)
	return ""
}

const farAway = "relative movement has led further than any machine reaches"

// beyond tells whether a position is beyond what the sums can bear.
func beyond(pos int64) bool {
	const reach = 30 * maxCoordinate * scale
	return pos > reach || pos < -reach
}

// length takes a number of the file as a length or feed.
func (s *state) length(v int64) int64 {
	if s.inch {
		return fromInch(v)
	}
	return v
}

// took books a straight movement by d.
func (s *state) took(mask uint8, d *[4]int64) {
	if mask&(hasXYZ|hasE) == 0 {
		return
	}
	s.out.Moves++
	s.travel[0] += abs(d[0])
	s.travel[1] += abs(d[1])
	s.travel[2] += abs(d[2])
	s.moving(d[atZ], d[atE])
	if d[atE] != 0 {
		s.filament(d, nil)
	}
	if s.plan != nil {
		s.plan.line(d, s.speedNow())
	}
}

// filament books filament moved by d, along a curve where that is not nil.
func (s *state) filament(d *[4]int64, c *curve) {
	e := d[atE]
	if e < 0 {
		s.back -= e
		if !s.pulled {
			s.turns++
		}
		s.pulled = true
		return
	}
	s.push += e
	s.pulled = false
	along := c != nil || d[0]|d[1] != 0
	rises := along && (d[atZ] != 0 || c != nil && s.plane != 17)
	if rises {
		s.out.Spiral++
	}
	switch {
	case !along:
		return
	case c != nil && s.plane != 17:
		s.endSpiral()
	case rises || s.coil.on:
		s.turn(d, c)
	}
	if !rises {
		s.laying()
	}
}

func abs(v int64) int64 { return max(v, -v) }

// speedNow is the feed asked for, in mm/s.
func (s *state) speedNow() float64 {
	if s.feed <= 0 {
		return s.profile.Feed * s.speed
	}
	return float64(s.feed) / (60 * scale) * s.speed
}

// settle empties the sums of a block into those of the file.
func (s *state) settle() {
	good := addTo(&s.allPush, s.push) && addTo(&s.allBack, s.back)
	for a, v := range s.travel {
		good = addTo(&s.total[a], v) && good
	}
	good = addTo(&s.everPushed, s.push) && good
	s.push, s.back, s.travel = 0, 0, [3]int64{}
	s.overflow = s.overflow || !good || beyond(s.pos[atE])
}

// book gives what was pushed since the last book to the tool that did it, by the share of M221. It
// rounds to whole nanometres, so it is done when tool or share change and not by blocks.
func (s *state) book() {
	s.settle()
	t := &s.tools[s.tool]
	share := s.flow
	if s.area > 0 {
		share = int64(math.Round(float64(share) / s.area))
	}
	push, good := percent(s.allPush, share)
	back, fits := percent(s.allBack, share)
	if flow := float64(s.flow) / scale; s.allPush > 0 {
		f := &s.out.Flow
		if f[1] == 0 {
			f[0] = flow
		}
		*f = [2]float64{min(f[0], flow), max(f[1], flow)}
	}
	good = good && fits && addTo(&t.push, push) && addTo(&t.back, back)
	t.seen = t.seen || s.allPush|s.allBack != 0
	s.allPush, s.allBack = 0, 0
	s.overflow = s.overflow || !good
}

// halt lets the machine come to rest, and books the time to the tool.
func (s *state) halt() {
	if s.plan == nil {
		return
	}
	s.plan.flush(true)
	s.tools[s.tool].ns += s.plan.take()
}

// wait books time without movement, to the tool as well.
func (s *state) wait(into *time.Duration, seconds float64) {
	d := time.Duration(min(seconds, 1e8) * 1e9)
	if sum := int64(*into); addTo(&sum, int64(d)) {
		*into = time.Duration(sum)
		s.tools[s.tool].ns += int64(d)
	}
}

// report closes the books at the end of the file and gives what the print costs: lengths in
// nanometres, times in nanoseconds.
func (s *state) report() Report {
	s.endSpiral()
	s.left(s.level, s.out.Moves-s.since)
	s.book()
	s.halt()
	held := s.heldList()
	r := s.out
	r.Lines, r.Layers, r.Retractions = s.lines, s.n, s.turns
	for a, v := range s.total {
		r.Travel[a] = Length(v)
	}
	for n, t := range s.tools {
		if t.seen || t.push|t.back|t.ns != 0 {
			r.Filament = append(r.Filament,
				Filament{n, Length(t.push), Length(t.back), time.Duration(t.ns)})
		}
	}
	r.LayerHeight, r.HotAtEnd, r.Held = s.layerHeight(), s.hotAtEnd(), held
	if s.plan != nil {
		r.Laid = Length(math.Round(s.plan.laid * 1e6))
		r.Cruise = time.Duration(min(s.plan.cruise, 1e8) * 1e9)
		r.Moving, r.Path = time.Duration(s.plan.moving), Length(math.Round(s.plan.path*1e6))
	}
	if r.Moves > 0 {
		r.Starts = 1
	}
	r.Marks, r.LayerMarks = s.changes.kept, s.stack.marks.kept
	r.Service, r.Unknown = s.service.list(), s.unknown.list()
	return r
}

// fmtT writes the word that asks for a tool: T0, T1 ...
func fmtT(v int64) []byte { return fmt.Appendf(nil, "T%s", decimal(v)) }
