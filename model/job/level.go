package job

// level is what lines of level movement add up to. All sums are whole nanometres, so that the order
// of adding changes nothing. The asm of form_amd64.s reads the fields by their names.
type level struct {
	to      [lanes]int64 // where the words leave off; the sum of E where it is relative
	back    [lanes]int64 // what the words went back in all, below zero
	fixed   [lanes]int64 // no bits where a word is relative, all bits otherwise
	count   uint64       // lines, moves from countMove on, feeds from countFeed on
	turns   int64        // times pulled back after it was pushed here
	op      op           // of the last line
	strange uint8        // words, by lane, that cannot be read here
	drive   drive
	backOff bool // the first movement of filament was back
	laid    bool // plastic was laid
}

// What a line adds to level.count besides itself where it moves and where it says a feed. A block
// holds fewer lines than the first can count.
const (
	countMove = 1 << 20
	countFeed = 1 << 40
)

// drive is what the filament did last.
type drive uint8

const (
	pushed drive = iota
	pulled
	still // nothing so far
)

func (u *level) lines() int64 { return int64(u.count % countMove) }
func (u *level) moves() int64 { return int64(u.count % countFeed / countMove) }
func (u *level) feeds() bool  { return u.count >= countFeed }

// countOf is what a line with the words has, by lane, adds to level.count.
func countOf(has uint8) uint64 {
	n := uint64(1)
	if has&^(1<<laneF) != 0 {
		n += countMove
	}
	if has>>laneF != 0 {
		n += countFeed
	}
	return n
}

// add adds a line with the words has, by lane.
func (u *level) add(op op, has uint8, v *[lanes]int64) {
	u.op = op
	u.count += countOf(has)
	var d [lanes]int64
	for a := range d {
		if has>>a&1 != 0 {
			d[a] = v[a] - u.to[a]&u.fixed[a]
			u.to[a] += d[a]
			u.back[a] += min(d[a], 0)
		}
	}
	if d[laneE] != 0 {
		u.filament(d[laneE] > 0, d[laneX]|d[laneY] != 0)
	}
}

// filament takes note that filament went forth or back, with or without movement along the plate.
func (u *level) filament(forth, along bool) {
	switch {
	case forth:
		u.laid = u.laid || along
		u.drive = pushed
		return
	case u.drive == still:
		u.backOff = true
	case u.drive == pushed:
		u.turns++
	}
	u.drive = pulled
}
