package job

import (
	"fmt"
	"math"
)

// curve is an arc in its plane, lengths in nanometres: radius, the angle it begins at and the
// angle it sweeps, positive against the clock.
type curve struct {
	radius, from, sweep float64
	begin, end          ray
	loose               bool // radii at start and end differ by more than 0.002 mm
	// why its ends are not those of one arc; printers draw it all the same
	wrong string
}

// ray is a direction from the centre.
type ray struct{ cos, sin float64 }

// The radii at the two ends of an arc may differ by 0.002 mm (NISTIR 6556, 3.5.3.2). Files of
// printers round more: the mean is taken, and counted; beyond the second it is said.
const (
	looseRadius = 2_000
	wrongRadius = 500_000
)

// planeAxes gives the axes of a plane in right-handed order, and the third one: XY, ZX, YZ.
func planeAxes(plane int8) (a, b, c int) {
	switch plane {
	case 18:
		return atZ, atX, atY
	case 19:
		return atY, atZ, atX
	}
	return atX, atY, atZ
}

// centred is an arc by its centre: p and q are from the centre to start and end.
func centred(px, py, qx, qy float64, clockwise bool) (curve, string) {
	r0, r1 := math.Sqrt(px*px+py*py), math.Sqrt(qx*qx+qy*qy)
	if r0 == 0 || r1 == 0 {
		return curve{}, "the arc has a radius of nothing"
	}
	c := curve{radius: (r0 + r1) / 2, from: math.Atan2(py, px),
		begin: ray{px / r0, py / r0}, end: ray{qx / r1, qy / r1},
		loose: math.Abs(r0-r1) > looseRadius}
	if math.Abs(r0-r1) > wrongRadius {
		c.wrong = fmt.Sprintf(
			"the arc begins %.3f mm from its centre and ends %.3f mm from it", r0/1e6, r1/1e6)
	}
	c.sweep = math.Atan2(qy, qx) - c.from
	switch { // an arc that ends in the direction it began in is a whole turn
	case clockwise && c.sweep >= 0:
		c.sweep -= 2 * math.Pi
	case !clockwise && c.sweep <= 0:
		c.sweep += 2 * math.Pi
	}
	return c, ""
}

// byRadius is an arc over the chord d by its radius: up to a half turn where r > 0, more where
// r < 0.
func byRadius(dx, dy, r float64, clockwise bool) (curve, string) {
	d := math.Hypot(dx, dy)
	if d == 0 {
		return curve{}, "an arc by its radius cannot end where it begins"
	}
	if r == 0 || math.Abs(r) < d/2-looseRadius {
		return curve{}, fmt.Sprintf("the radius %.3f mm is too small for ends %.3f mm apart", r/1e6,
			d/1e6)
	}
	h := math.Sqrt(math.Max(r*r-d*d/4, 0))
	if clockwise == (r > 0) {
		h = -h // the centre lies right of the chord
	}
	cx, cy := dx/2-h*dy/d, dy/2+h*dx/d
	c, why := centred(0-cx, 0-cy, dx-cx, dy-cy, clockwise)
	c.loose = false
	return c, why
}

// heading is the direction in which the arc moves where it lies in direction r from its centre.
func (c *curve) heading(r ray) (float64, float64) {
	if c.sweep < 0 {
		return r.sin, -r.cos
	}
	return -r.sin, r.cos
}

// along is how far the arc moves along the first and second axis of its plane, to and fro.
func (c *curve) along() (float64, float64) {
	from, to, a, b := c.from, c.from+c.sweep, c.begin, c.end
	if from > to {
		from, to, a, b = to, from, b, a
	}
	const quarter = math.Pi / 2
	return c.radius * (sineWay(to, b.cos) - sineWay(from, a.cos)),
		c.radius * (sineWay(to+quarter, -b.sin) - sineWay(from+quarter, -a.sin))
}

// sineWay is the integral of |sin| from 0 to t, the cosine of which is known.
func sineWay(t, cos float64) float64 {
	n := math.Floor(t / math.Pi)
	if int64(n)&1 != 0 {
		cos = -cos
	}
	return 2*n + 1 - cos
}

// arc moves along a circle, G2 clockwise and G3 against it; its length is that of the helix.
func (s *state) arc(o op, w *words) string {
	r, why := shortOf(w)
	if why != "" {
		return why
	}
	for _, c := range []byte("IJKR") {
		if w.bare&letterBit(c) != 0 {
			return fmt.Sprintf("%c has no number after it", c)
		}
		if w.given(c) && !small(w.get(c)) {
			return tooFar(c)
		}
	}
	s.motion = o
	var d [4]int64
	for a := range d {
		if r.mask>>a&1 == 0 {
			continue
		}
		d[a] = s.length(r.v[a])
		if rel := s.relative && a != atE || s.eNow && a == atE; !rel {
			d[a] -= s.pos[a]
		}
	}
	c, why := s.curve(o == opCW, w, &d)
	if why != "" {
		return why
	}
	if s.odd = c.wrong; s.odd != "" && s.strict {
		return ""
	}
	if r.mask&hasF != 0 {
		s.feed = s.length(r.v[atF])
	}
	return s.tookArc(c, &d)
}

// curve finds the arc of a line that ends d away.
func (s *state) curve(clockwise bool, w *words, d *[4]int64) (curve, string) {
	a, b, _ := planeAxes(s.plane)
	dx, dy := float64(d[a]), float64(d[b])
	ca, cb := "IJK"[a], "IJK"[b]
	centre := w.given(ca) || w.given(cb)
	switch {
	case centre && w.given('R'):
		return curve{}, "the arc has a radius and a centre: one of them is one too many"
	case w.given('R'):
		return byRadius(dx, dy, float64(s.length(w.get('R'))), clockwise)
	case !centre:
		return curve{}, fmt.Sprintf("the arc has no centre: it needs %c and %c, or R", ca, cb)
	}
	i, j := 0.0, 0.0
	if w.given(ca) {
		i = float64(s.length(w.get(ca)))
	}
	if w.given(cb) {
		j = float64(s.length(w.get(cb)))
	}
	// 0-0 is 0, and -0 is on the other side of the cut
	return centred(0-i, 0-j, dx-i, dy-j, clockwise)
}

// tookArc books an arc that ends d away.
func (s *state) tookArc(c curve, d *[4]int64) string {
	a, b, other := planeAxes(s.plane)
	for axis := range d {
		if beyond(s.pos[axis] + d[axis]) {
			return farAway
		}
	}
	for axis := range d {
		s.pos[axis] += d[axis]
	}
	s.out.Moves++
	s.out.Arcs++
	if c.loose {
		s.out.LooseArcs++
	}
	x, y := c.along()
	s.travel[a] += int64(math.Round(x))
	s.travel[b] += int64(math.Round(y))
	s.travel[other] += abs(d[other])
	s.moving(d[atZ], d[atE])
	if d[atE] != 0 {
		s.filament(d, &c)
	}
	if s.plan != nil {
		s.plan.arc(&c, [3]int{a, b, other}, float64(d[other]), float64(d[atE]), s.speedNow())
	}
	return ""
}
