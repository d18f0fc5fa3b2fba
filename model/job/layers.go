package job

import "math"

// stack counts the layers of a print, as they are laid.
//
// A layer is a height at which plastic is laid by level movement, once for each object: where it is
// laid at the lowest height again after a higher one, the next object begins. A spiral that rises
// without a stop has as many layers as turns. What is laid first at a height of its own, with few
// movements, is a purge line and no layer. Where coordinates change after plastic was laid (G92 Z), as
// in files that begin each layer at nothing, heights go on from where the head is.
type stack struct {
	seen  map[int64]struct{} // heights of this object
	level int64              // plastic was laid at last, level; nowhere: not known
	was   int64              // the same, in a spiral too
	floor int64              // the lowest layer
	high  int64              // the highest of this object
	n     int64              // layers begun
	marks marks

	lift int64 // the head is so much higher than its coordinate says

	first []height // the first heights, until they tell a purge line from a layer
	sure  bool     // they have
	since int64    // movements before the height was changed last

	coil spiral

	rise  int64 // all layers that lie on another, together
	rises int64 // so many
}

// height is where plastic was laid, and how many movements were made there.
type height struct{ z, moves int64 }

// spiral is plastic laid without a stop since a movement that rose. The loops of other prints may
// begin with a ramp up to their height: a spiral is one from its third turn on.
type spiral struct {
	on      bool
	x, y    float64 // the direction it moves in
	angle   float64 // it has turned by
	counted int64   // turns that rose
	z       int64   // at the last of them
	flat    int64   // the height at which it was level last
	level   bool    // it was
}

const (
	nowhere    = math.MinInt64
	maxHeights = 200_000   // bounds the heights told apart
	purgeMoves = 16        // fewer than that at a first height of its own are no layer
	mostPurges = 3         // heights within which the first layer comes
	fewTurns   = 3         // a spiral has at least
	thickest   = 1_500_000 // nm: no layer is thicker
)

func newStack() stack {
	return stack{
		seen:  map[int64]struct{}{},
		level: nowhere,
		was:   nowhere,
		floor: math.MaxInt64,
		high:  nowhere,
	}
}

// height is how high the head is.
func (s *state) height() int64 { return s.pos[atZ] + s.lift }

// moving takes note, before a movement by z in height and e of filament is booked, that a spiral or
// a height may end with it.
func (s *state) moving(z, e int64) {
	if s.coil.on && e <= 0 {
		s.endSpiral()
	}
	if z == 0 {
		return
	}
	moves := s.out.Moves - 1 - s.since
	s.since = s.out.Moves - 1
	if from := s.height() - z; !s.sure && from == s.level {
		s.left(from, moves)
	}
}

// left takes note of so many movements at one of the first heights. One with many is the first
// layer, and what was laid before it is none.
func (s *state) left(z, moves int64) {
	for i := range s.first {
		h := &s.first[i]
		if h.z != z {
			continue
		}
		if h.moves += moves; h.moves < purgeMoves {
			return
		}
		if i > 0 {
			clear(s.seen)
			s.seen[z], s.floor, s.n, s.marks = struct{}{}, z, 0, marks{}
			s.high, s.rise, s.rises = z, 0, 0
			s.begin()
		}
		s.sure, s.first = true, nil
		return
	}
}

// laying books that plastic is laid at the height the head is at.
func (s *state) laying() {
	if s.coil.on {
		s.coil.flat, s.coil.level = s.height(), true
		return
	}
	s.layAt(s.height())
}

func (s *state) layAt(z int64) {
	if z == s.level {
		return
	}
	if z <= s.floor && s.was > s.floor {
		clear(s.seen) // the next object
		s.high = nowhere
	}
	s.level, s.was = z, z
	s.out.Top = max(s.out.Top, Length(z))
	if _, seen := s.seen[z]; seen || len(s.seen) == maxHeights {
		return
	}
	s.seen[z] = struct{}{}
	if up := z - s.high; s.high != nowhere && up > 0 && up <= thickest {
		s.rise, s.rises = s.rise+up, s.rises+1
	}
	s.high = max(s.high, z)
	s.floor = min(s.floor, z)
	if len(s.first) == mostPurges {
		s.sure, s.first = true, nil
	}
	if !s.sure {
		s.first = append(s.first, height{z: z})
	}
	s.begin()
}

// layerHeight is the mean height of a layer, 0 where none lies on another.
func (s *state) layerHeight() Length {
	if s.rises == 0 {
		return 0
	}
	return Length(s.rise / s.rises)
}

// begin begins a layer.
func (s *state) begin() {
	s.n++
	s.marks.add(s.n, s.here())
}

// turn takes note of a movement by d in a spiral, along an arc where c is not nil.
func (s *state) turn(d *[4]int64, c *curve) {
	x, y := float64(d[atX]), float64(d[atY])
	toX, toY, sweep := x, y, 0.0
	if c != nil {
		sweep = c.sweep
		x, y = c.heading(c.begin)
		toX, toY = c.heading(c.end)
	}
	r := &s.coil
	if r.on {
		r.angle += angle(r.x, r.y, x, y)
	} else {
		*r = spiral{on: true, z: s.height()}
		s.level = nowhere // so that each movement comes here
	}
	r.x, r.y = toX, toY
	r.angle += sweep
	if math.Abs(r.angle) < 2*math.Pi*(float64(r.counted)+0.5) {
		return
	}
	s.turned(r)
}

// turned takes note that a spiral has gone round once more.
func (s *state) turned(r *spiral) {
	z := s.height()
	if z <= r.z {
		r.angle -= math.Copysign(2*math.Pi, r.angle) // a turn that did not rise is none
		return
	}
	r.z = z
	if r.counted++; r.counted < fewTurns {
		return
	}
	s.was = z
	s.out.Top = max(s.out.Top, Length(z))
	if r.counted == fewTurns {
		for range fewTurns - 1 {
			s.begin()
		}
	}
	s.begin()
}

// angle is how far a direction turns to another, positive against the clock, half a turn for back.
func angle(x, y, toX, toY float64) float64 {
	cross := x*toY - y*toX
	if cross == 0 {
		cross = 0 // and not -0, which is on the other side
	}
	return math.Atan2(cross, x*toX+y*toY)
}

// endSpiral ends what rose without a stop. Where that was no spiral it was a loop, and lies where
// it was level.
func (s *state) endSpiral() {
	r := s.coil
	s.coil = spiral{}
	if r.level && r.counted < fewTurns {
		s.layAt(r.flat)
	}
}
