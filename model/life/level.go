package life

import "math"

// The grid on which the logarithm of a pace is believed, about that of the meter's usual one.
const (
	cells    = 34
	cell     = 0.15 // of the logarithm
	lowest   = -2.7 // the logarithm at the first cell
	standing = 0.01 // what a machine standing still is taken to use, as a share of the usual pace
)

// How a level moves, and what is taken for granted before the readings tell (all chosen on the
// calibration benches).
const (
	atFirst = 0.05 // probability that a meter stands still at its first reading
	// shape beyond which a stretch would tell more than the cells can
	sharpest   = 1 / (cell * cell)
	openSpread = 1.5 // of the logarithm, of a first pace of which nothing is known
)

// walks are the ways a level may drift: standard deviations of its logarithm in a day. The first is
// a machine whose use never changes. Which one holds for a meter its readings tell.
var walks = [...]float64{0, 0.022, 0.055}

// grid is a function of the level, cell by cell.
type grid [cells]float64

// paceAt are the paces of the cells, as shares of the usual one; logAt their logarithms; usualAt
// the law of a pace when the machine runs again.
var paceAt, logAt, usualAt = func() (pace, log, usual grid) {
	for g := range cells {
		log[g] = lowest + cell*float64(g)
		pace[g] = math.Exp(log[g])
	}
	return pace, log, bell(0, backSpread)
}()

// bell is a normal law of the logarithm of a pace on the grid, kept within it.
func bell(middle, spread float64) (out grid) {
	middle = min(lowest+cell*(cells-1), max(lowest, middle))
	sum := 0.0
	for g := range cells {
		z := (lowest + cell*float64(g) - middle) / spread
		out[g] = math.Exp(-z * z / 2)
		sum += out[g]
	}
	for g := range cells {
		out[g] /= sum
	}
	return out
}

// level is what is believed of a pace that moves: the probabilities of the cells while the machine
// runs, and that it stands still. It is a filter on a grid (Kitagawa 1987, "Non-Gaussian
// state-space modeling of nonstationary time series", Journal of the American Statistical
// Association 82): what is believed is taken ahead to the next stretch of readings, and weighed by
// how likely its growth is at each level.
type level struct {
	run   grid
	stand float64
	walk  float64 // standard deviation of the logarithm in a day
	// logarithm of how likely all growth so far was by this walk, up to what all walks share
	score float64
}

// ahead takes a level so many days on: it drifts, comes to stand still or runs again.
func (l *level) ahead(days float64, u *usage) {
	if l.walk == 0 {
		return
	}
	l.drift(l.walk * l.walk * days)
	running := 1 - l.stand
	rate := u.leave + u.back
	share := -math.Expm1(-rate*days) / rate
	stops, starts := running*u.leave*share, l.stand*u.back*share
	stay := 1 - u.leave*share
	for g := range l.run {
		l.run[g] = l.run[g]*stay + starts*usualAt[g]
	}
	l.stand += stops - starts
}

// drift spreads the running levels by a variance, in steps to the neighbouring cells; down more
// often than up, so that the mean pace stays.
func (l *level) drift(variance float64) {
	v := variance / (cell * cell) // what leaves a cell
	steps := math.Ceil(v / 0.6)   // not all of it at a time
	up := 1 / (1 + math.Exp(cell))
	for range int(steps) {
		out := v / steps
		from := (1 - up) * l.run[0] // what would leave the grid stays at its end
		for g, here := range l.run {
			above := up * here
			if g+1 < cells {
				above = (1 - up) * l.run[g+1]
			}
			l.run[g] = here*(1-out) + out*(from+above)
			from = up * here
		}
	}
}

// see weighs a level by how likely what was seen is at each cell and standing still.
func (l *level) see(run *grid, stand float64) {
	l.stand *= stand
	sum := l.stand
	for g := range l.run {
		l.run[g] *= run[g]
		sum += l.run[g]
	}
	l.stand /= sum
	for g := range l.run {
		l.run[g] /= sum
	}
	l.score += math.Log(sum)
}

// likely is how likely a growth is over some days at each cell and standing still, as shares of the
// likeliest cell: a gamma process whose variance a day is noise times its squared pace.
func likely(days, used, noise float64) (run grid, stand float64) {
	shape := min(days/noise, sharpest)
	x := used / days * shape
	top := math.Inf(-1)
	for g := range cells {
		run[g] = -shape*logAt[g] - x/paceAt[g]
		top = max(top, run[g])
	}
	for g := range cells {
		run[g] = math.Exp(run[g] - top)
	}
	return run, math.Exp(-shape*math.Log(standing) - x/standing - top)
}

// follow filters the level through all stretches, and leaves what is believed at the last reading
// in the usage: every walk runs beside the others, and counts by how likely it made the readings.
func (u *usage) follow(bs []block, pr prior) {
	first := bell(0, openSpread)
	if pr.mean > 0 {
		spread := math.Log1p(pr.cv2)
		first = bell(math.Log(pr.mean/u.unit)-spread/2, math.Sqrt(spread))
	}
	var ls [len(walks)]level
	for j := range ls {
		ls[j] = level{run: first, stand: atFirst, walk: walks[j]}
		for g := range ls[j].run {
			ls[j].run[g] *= 1 - atFirst
		}
	}
	for i := len(bs) - 1; i >= 0; i-- {
		run, stand := likely(bs[i].days, bs[i].used/u.unit, u.noise)
		// from the middle of one stretch to that of the next, or to the last reading
		days := bs[i].days / 2
		if i > 0 {
			days += bs[i-1].days / 2
		}
		for j := range ls {
			ls[j].see(&run, stand)
			ls[j].ahead(days, u)
		}
	}
	u.settle(ls[:])
}

// settle sums up the levels of all walks.
func (u *usage) settle(ls []level) {
	best := math.Inf(-1)
	for j := range ls {
		best = max(best, ls[j].score)
	}
	total, first, second := 0.0, 0.0, 0.0
	for j := range ls {
		w := math.Exp(ls[j].score - best)
		total += w
		u.walk += w * ls[j].walk * ls[j].walk
		u.stand += w * ls[j].stand
		for g, p := range ls[j].run {
			first += w * p * paceAt[g]
			second += w * p * paceAt[g] * paceAt[g]
		}
	}
	u.walk, u.stand = u.walk/total, min(1-surely, u.stand/total)
	running := total * (1 - u.stand)
	u.mean = first / running
	u.variance = max(0, second/running-u.mean*u.mean)
}
