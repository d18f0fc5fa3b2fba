package job

import (
	"maps"
	"slices"
	"time"
)

// Report is what one print file, or one member of a container, costs.
type Report struct {
	Name    string // of the member in its container; empty for a file on its own
	Kind    string // plain, gzip or zip
	Partial bool   // reading ended at a fault: all below is what came before it

	Bytes, Lines int64 // of the G-code itself, unpacked
	Unended      bool  // the last line has no line end: the file may be cut off
	Checksums    int64 // verified
	Deleted      int64 // lines skipped for their block delete mark
	Known        int64 // lines with a command that is known

	Bad      int64     // lines that are not as they should be
	Skipped  int64     // of these, those that were not carried out
	Warnings []Warning // the first of them

	Moves int64 // G0 to G3 that name an axis or the filament
	Arcs  int64 // of these, G2 and G3
	// of these, with radii more than 0.002 mm apart, which NISTIR 6556 does not allow
	LooseArcs int64
	Homings   int64 // G28
	Layers    int64 // by object, and turns of a spiral; see stack
	Spiral    int64 // moves that lay plastic while they rise or sink
	Top       Length

	Starts        int64  // 1 where the file moves or pushes anything
	ToolChanges   int64  // T to another tool; the first T loads and is part of the start
	ManualChanges int64  // M600
	Pauses        int64  // M0, M1
	Marks         []Mark // at filament changes
	LayerMarks    []Mark // where layers begin

	Filament    []Filament // by tool, those that moved filament or were chosen
	Retractions int64      // times the filament is pulled back
	Travel      [3]Length  // along X, Y, Z, to and fro
	Path        Length     // of the nozzle; 0 unless time was asked for

	// least and most share of M221 at which filament was moved, in percent
	Flow           [2]float64
	VolumeDiameter float64 // mm, by M200: lengths were worked out of volumes; 0: they were not
	Laid           Length  // of path along which plastic is laid; 0 unless time was asked for
	LayerHeight    Length  // the mean; 0: not known

	Timed  int           // how many prints the machine's own times were learned from, by Retime
	Spread time.Duration // the total lies within so much of it with 80 %, where Timed is not 0

	Held     []Held  // how long the nozzle in use was held at which temperature, the hottest first
	HotAtEnd float64 // the highest a nozzle is still held at behind the last filament; 0: none is
	Hottest  Temperatures
	Waits    Waits
	Moving   time.Duration // by the look-ahead planner; 0 unless asked for
	Cruise   time.Duration // what it would be were every speed asked for reached at once

	Service []Count // T words beyond the tools of a machine, and how often
	Unknown []Count // what is not known, and how often
}

// Warning is a line that is not as it should be.
type Warning struct {
	Line    int64 // from 1
	Reason  string
	Skipped bool // it was not carried out; else it was read as well as it can be
}

// maxWarnings is how many of them are kept.
const maxWarnings = 3

// Changes are all filament changes: by T and by hand.
func (r *Report) Changes() int64 { return r.ToolChanges + r.ManualChanges }

// Total is all time that is known: movement, heating, waits and changes.
func (r *Report) Total() time.Duration {
	return r.Moving + r.Waits.Heating + r.Waits.Dwell + r.Waits.Changing
}

// Filament is what one tool moves through its drive.
type Filament struct {
	Tool         int
	Pushed, Back Length        // forth, and pulled back
	Time         time.Duration // while the tool is the chosen one, waits included
}

// Used is what leaves the roll: pushed less pulled back.
func (f Filament) Used() Length { return f.Pushed - f.Back }

// Temperatures are the highest asked for, in degrees Celsius; 0 where none is.
type Temperatures struct{ HotEnd, Bed, Chamber float64 }

// Held is how long the nozzle in use was to be held at a temperature in degrees Celsius.
type Held struct {
	At   float64
	Time time.Duration
}

// HeldAbove is how long the nozzle in use was held above a temperature in degrees Celsius.
func (r *Report) HeldAbove(at float64) (sum time.Duration) {
	for _, h := range r.Held {
		if h.At > at {
			sum += h.Time
		}
	}
	return sum
}

// Waits is time without movement, and how often. What heating and changes take is only known where
// the Profile says how fast they are.
type Waits struct {
	Dwell    time.Duration // G4
	Heating  time.Duration
	Changing time.Duration
	Heats    int64 // M109, M190, M191
}

// Count is something and how often it stands in the file.
type Count struct {
	Name string
	N    int64
}

// Parted parts what is not known into whole commands, and words of commands that are counted: "M104
// P" is a letter of M104.
func Parted(list []Count) (commands, words []Count) {
	for _, c := range list {
		if n := len(c.Name); n > 2 && c.Name[n-2] == ' ' {
			words = append(words, c)
		} else {
			commands = append(commands, c)
		}
	}
	return commands, words
}

// Mark says how far the print is.
type Mark struct {
	Change int64         // filament changes so far, this one included
	Layer  int64         // layers begun
	At     time.Duration // since the start; 0 unless time was asked for
}

// maxMarks bounds Report.Marks and LayerMarks: beyond it every second mark goes, and so on.
const maxMarks = 1024

// marks keeps every stride-th mark, and the stride doubles when there are too many.
type marks struct {
	kept   []Mark
	of     []int64 // the how-manieth each is
	stride int64
}

func (m *marks) add(n int64, k Mark) {
	m.stride = max(m.stride, 1)
	if n%m.stride != 0 {
		return
	}
	m.kept, m.of = append(m.kept, k), append(m.of, n)
	if len(m.kept) < maxMarks {
		return
	}
	m.stride *= 2
	left := 0
	for i, n := range m.of {
		if n%m.stride == 0 {
			m.kept[left], m.of[left] = m.kept[i], n
			left++
		}
	}
	m.kept, m.of = m.kept[:left], m.of[:left]
}

// counter counts names, and keeps at most maxNames of them.
type counter struct{ n map[string]*int64 }

const (
	maxNames = 64
	others   = "others"
)

func (c *counter) add(name []byte) {
	if n := c.n[string(name)]; n != nil {
		*n++
		return
	}
	if c.n == nil {
		c.n = map[string]*int64{}
	}
	key := string(name)
	if len(c.n) >= maxNames {
		key = others
	}
	if c.n[key] == nil {
		c.n[key] = new(int64)
	}
	*c.n[key]++
}

// list gives the counts, the most frequent first, then by name.
func (c *counter) list() []Count {
	var out []Count
	for _, name := range slices.Sorted(maps.Keys(c.n)) {
		out = append(out, Count{name, *c.n[name]})
	}
	slices.SortStableFunc(out, func(a, b Count) int { return int(min(max(b.N-a.N, -1), 1)) })
	return out
}
