package job

import "math"

// planner works out how long movement takes. Each movement is a trapezoid of speed; the speed at a
// junction is bounded by what the axes can take at once, or by how far the corner may be cut, and
// lowered so that all that follows can still be braked for: a pass back over the movements waiting,
// from rest at the end, then one forth (common practice of motion control).
//
// It looks ahead up to ahead movements; then the first half of them is carried out.
type planner struct {
	speed, accel, jerk Axes
	// 1 over these, 0 where there is no limit
	inverse                struct{ speed, accel, jerk Axes }
	print, retract, travel float64
	deviation              float64

	n      int
	wait   [ahead]motion
	enter  [ahead + 1]float64 // squared speeds at which they can begin, by the pass back
	square float64            // of the speed at which the first that waits begins
	last   [4]float64
	lastV  float64
	lastA  float64
	moving int64   // ns
	taken  int64   // ns already given by take
	path   float64 // mm
	laid   float64 // of it, while filament goes forth
	cruise float64 // s, at the speeds asked for
}

const ahead = 256

// motion is one movement that waits: its length, top speed, acceleration, and the squared speed it
// may begin with.
type motion struct{ d, v, a, begin float64 }

func newPlanner(p Profile) *planner {
	plan := &planner{speed: p.Speed, accel: p.Accel, jerk: p.Jerk, deviation: p.Deviation,
		print: p.PrintAccel, retract: p.RetractAccel, travel: p.TravelAccel}
	plan.limited()
	return plan
}

// limited takes note that speed, accel or jerk have changed.
func (p *planner) limited() {
	p.inverse.speed, p.inverse.accel = p.speed.inverse(), p.accel.inverse()
	p.inverse.jerk = p.jerk.inverse()
}

func (limits Axes) inverse() (over Axes) {
	for a, top := range limits {
		if top > 0 {
			over[a] = 1 / top
		}
	}
	return over
}

// most is the part of its limit that the axis nearest to it uses for each mm/s along u, or for each
// mm/s².
func (inverse *Axes) most(u *[4]float64) float64 {
	return max(math.Abs(u[0])*inverse[0], math.Abs(u[1])*inverse[1], math.Abs(u[2])*inverse[2],
		math.Abs(u[3])*inverse[3])
}

// line adds a straight movement by d nanometres at v mm/s.
func (p *planner) line(d *[4]int64, v float64) {
	x, y, z, e := float64(d[0]), float64(d[1]), float64(d[2]), float64(d[3])
	long := math.Sqrt(x*x + y*y + z*z)
	p.path += long / 1e6
	if e > 0 {
		p.laid += long / 1e6
	}
	if long == 0 {
		if long = math.Abs(e); long == 0 {
			return
		}
	}
	per := 1 / long
	p.cruise += long / 1e6 / v
	u := [4]float64{x * per, y * per, z * per, e * per}
	v, a := p.within(&u, v, p.acceleration(d[0]|d[1]|d[2] != 0, d[3]))
	p.add(long/1e6, v, a, &u, &u)
}

// arc adds an arc: its tangents at both ends meet the neighbours, and its speed is bounded by
// v²/r <= a.
func (p *planner) arc(c *curve, axes [3]int, dz, de, v float64) {
	r := c.radius / 1e6
	z, e := dz/1e6, de/1e6
	round := r * math.Abs(c.sweep)
	long := math.Sqrt(round*round + z*z)
	p.path += long
	if de > 0 {
		p.laid += long
	}
	p.cruise += long / v
	turn := round / long
	at := func(r ray) (u [4]float64) {
		x, y := c.heading(r)
		u[axes[0]], u[axes[1]] = x*turn, y*turn
		u[axes[2]], u[atE] = z/long, e/long
		return u
	}
	worst := [4]float64{atE: e / long}
	worst[axes[0]], worst[axes[1]], worst[axes[2]] = turn, turn, z/long
	v, a := p.within(&worst, v, p.acceleration(true, int64(de)))
	v = math.Min(v, math.Sqrt(a*r))
	begin, end := at(c.begin), at(c.end)
	p.add(long, v, a, &begin, &end)
}

// acceleration is the one set for the kind of movement, 0 where none is.
func (p *planner) acceleration(moves bool, e int64) float64 {
	switch {
	case !moves:
		return p.retract
	case e > 0:
		return p.print
	}
	return p.travel
}

// Where a file and the profile both set no bound, these do: no machine is beyond them.
const (
	anySpeed = 10_000
	anyAccel = 1_000_000
)

// within lowers speed and acceleration to what each axis allows in direction u.
func (p *planner) within(u *[4]float64, v, a float64) (float64, float64) {
	if !(a > 0 && a < anyAccel) {
		a = anyAccel
	}
	if !(v > 0 && v < anySpeed) {
		v = anySpeed
	}
	if most := p.inverse.speed.most(u); v*most > 1 {
		v = 1 / most
	}
	if most := p.inverse.accel.most(u); a*most > 1 {
		a = 1 / most
	}
	return max(v, 1e-3), max(a, 1e-3)
}

// add queues a movement that begins in direction u and ends in direction end.
func (p *planner) add(d, v, a float64, u, end *[4]float64) {
	if p.n == ahead {
		p.flush(false)
	}
	begin := 0.0
	if p.n > 0 {
		begin = p.junction(u, min(v, p.lastV), min(a, p.lastA))
	}
	p.wait[p.n] = motion{d, v, a, begin}
	p.n++
	p.last, p.lastV, p.lastA = *end, v, a
}

// junction is the squared speed, at most v², at which direction may change from the last to u.
func (p *planner) junction(u *[4]float64, v, a float64) float64 {
	if p.deviation > 0 {
		return math.Min(v*v, p.corner(u, a))
	}
	change := [4]float64{u[0] - p.last[0], u[1] - p.last[1], u[2] - p.last[2], u[3] - p.last[3]}
	if most := p.inverse.jerk.most(&change); v*most > 1 {
		v = 1 / most
	}
	return v * v
}

// corner is the squared speed on a circle that touches both directions and stays within deviation
// of the corner: v² = a·dev·s/(1-s), s the sine of half the angle between the legs.
func (p *planner) corner(u *[4]float64, a float64) float64 {
	dot := 0.0
	for i := range 3 {
		dot -= u[i] * p.last[i]
	}
	s := math.Sqrt(math.Max((1-dot)/2, 0))
	if s > 0.999999 {
		return math.Inf(1)
	}
	return a * p.deviation * s / (1 - s)
}

// flush carries out what waits: all, ending at rest, or the first half.
func (p *planner) flush(all bool) {
	p.enter[p.n] = 0
	for i := p.n - 1; i >= 0; i-- {
		m := &p.wait[i]
		p.enter[i] = min(m.begin, p.enter[i+1]+2*m.a*m.d)
	}
	n := p.n
	if !all {
		n = ahead / 2
	}
	square, v := p.square, math.Sqrt(p.square)
	for i := range n {
		m := &p.wait[i]
		next := min(p.enter[i+1], square+2*m.a*m.d)
		ve := math.Sqrt(next)
		p.book(trapezoid(m.d, v, m.v, ve, m.a))
		square, v = next, ve
	}
	p.square = square
	p.n = copy(p.wait[:], p.wait[n:p.n])
	if all {
		p.square = 0
	}
}

// book adds seconds, as whole nanoseconds so that no order of adding matters.
func (p *planner) book(seconds float64) {
	if ns := seconds*1e9 + 0.5; ns < 1e17 {
		if !addTo(&p.moving, int64(ns)) {
			p.moving = math.MaxInt64
		}
	}
}

// take gives the time booked since the last take, in ns.
func (p *planner) take() int64 {
	t := p.moving - p.taken
	p.taken = p.moving
	return t
}
