package model

import (
	"maps"
	"slices"
	"strings"
	"time"
)

// Bench is the fold over the journal: everything a screen shows comes from it.
type Bench struct {
	Machines map[string]*Machine `json:"machines"`
	Sessions map[string]*Session `json:"sessions"` // begun ones only
	Drawer   Drawer              `json:"drawer"`

	// dated facts ahead of the clock it was read at, in the journal's order: see ByClock
	Ahead []Entry `json:"-"`
}

// Machine is the snapshot of one machine.
type Machine struct {
	MachineFact
	Added     time.Time `json:"added"`
	Described time.Time `json:"described,omitzero"` // of the latest description
	Since     time.Time `json:"since,omitzero"`     // out of use since
	// days out of use before that, all together
	Rested float64 `json:"rested,omitempty"`
	// when it was out of use before that, oldest first; of the last 400 days
	Rests    []Rest               `json:"rests,omitempty"`
	Readings map[Meter]*Series    `json:"readings,omitempty"`
	Care     map[string]*CareLast `json:"care,omitempty"` // procedure id -> when last
	// procedure id -> how care last met its part, oldest first, at most 10
	Met map[string][]Met `json:"met,omitempty"`
	// procedures due by a finding or trigger
	Due      map[string]FallsDue  `json:"due,omitempty"`
	DueAt    map[string]time.Time `json:"due_at,omitempty"`
	Parts    map[string]*PartNow  `json:"parts,omitempty"`
	Findings []Finding            `json:"findings,omitempty"` // standing, oldest first
	// findings that stand and are not among them: see FoldMachine
	More    int    `json:"more,omitempty"`
	Tag     *Tag   `json:"tag,omitempty"`
	Session string `json:"session,omitempty"` // the begun session
	// left by a session given up or stopped
	Ledger  Ledger    `json:"ledger,omitzero"`
	Latched Condition `json:"latched,omitempty"` // vapour, sensor as they stand
	// quantity -> the last few, oldest first
	Values      map[string][]Recorded `json:"values,omitempty"`
	LastAt      time.Time             `json:"last_at,omitzero"` // the latest dated fact folded in
	LastSession *SessionEnd           `json:"last_session,omitempty"`
	// TallyKey -> how often care cured a symptom
	Outcomes map[string]*Tally `json:"outcomes,omitempty"`
	// what a session was begun for, its outcome not said yet
	Complaint *Complained `json:"complaint,omitempty"`
	// prints to come, in the order booked
	Booked []Booking `json:"booked,omitempty"`
	// operator -> what they walked here
	Practice map[string]*Practice `json:"practice,omitempty"`
	// how the last session left it, as far as known
	Stood Condition `json:"stood,omitempty"`
	// when a print was last recorded: readings of that moment are reckoned, not read
	Printed time.Time `json:"printed,omitzero"`

	Times []PrintTime `json:"times,omitempty"` // of prints whose time was told, oldest first

	every bool // its gauges are of all that fits it, whatever it is kept by
}

// Rest is a time out of use.
type Rest struct {
	From time.Time `json:"from"`
	To   time.Time `json:"to"`
}

// RestedIn is how many days of 24 hours of some rests lie between two times.
func RestedIn(rests []Rest, from, to time.Time) float64 {
	days := 0.0
	for _, r := range rests {
		a, b := r.From, r.To
		if a.Before(from) {
			a = from
		}
		if b.After(to) {
			b = to
		}
		if b.After(a) {
			days += inDays(b.Sub(a))
		}
	}
	return days
}

// Point is a meter's value at a time.
type Point struct {
	At    time.Time `json:"at"`
	Value float64   `json:"value"`
}

// Series is what is kept of a meter's readings: the first, the last, and one a day for 400 days.
// Values run on over a replaced counter: Offset is added to what is typed.
type Series struct {
	First  Point   `json:"first"`
	Last   Point   `json:"last"`
	Days   []Point `json:"days,omitempty"` // oldest first, the last reading of each day
	Offset float64 `json:"offset,omitempty"`
	N      int     `json:"n"`

	// it was new when first read: it says less than the machine's age
	Younger bool `json:"younger,omitempty"`
}

// CareLast is when a procedure was last done.
type CareLast struct {
	At        time.Time         `json:"at"`
	Known     bool              `json:"known"`            // false: asked, and not known
	Base      map[Meter]float64 `json:"base,omitempty"`   // meters then, read or interpolated
	Told      bool              `json:"told,omitempty"`   // Base was told; readings do not mend it
	Rested    float64           `json:"rested,omitempty"` // Machine.Rested then, days
	Times     int               `json:"times,omitempty"`
	ProofOwed bool              `json:"proof_owed,omitempty"`
	Memory    bool              `json:"memory,omitempty"`
	// told by a counter, the day is not known: At is zero
	Undated bool `json:"undated,omitempty"`
	// never done since the machine was new: counts from its first hour; At is zero
	Original bool `json:"original,omitempty"`
}

// Met is how care met a part, and since when it had not been cared for.
type Met struct {
	From     time.Time `json:"from"`
	At       time.Time `json:"at"`
	Found    string    `json:"found"`              // one of FoundWords
	Together bool      `json:"together,omitempty"` // see CareDone
}

// PartNow is the part that is in, and the lives of those before it.
type PartNow struct {
	Since time.Time         `json:"since,omitzero"`
	Base  map[Meter]float64 `json:"base,omitempty"`
	Lives []Life            `json:"lives,omitempty"` // newest last, at most 40
}

// Life is how long a part lasted and how it ended.
type Life struct {
	From time.Time         `json:"from,omitzero"` // zero: not known when it went in
	To   time.Time         `json:"to"`
	Used map[Meter]float64 `json:"used,omitempty"`
	End  End               `json:"end"`
}

// Finding is what was found and not settled yet. It stands until somebody closes it by its id.
type Finding struct {
	ID string    `json:"id"` // entry id
	At time.Time `json:"at"`
	Found
}

// Tag is a mark on a machine.
type Tag struct {
	Kind TagKind   `json:"kind"`
	Why  string    `json:"why"`
	At   time.Time `json:"at"`
	By   string    `json:"by,omitempty"`
}

// Recorded is one measured value of a quantity, in the unit it was read in; the last few are kept,
// to compare with.
type Recorded struct {
	At    time.Time `json:"at"`
	Value float64   `json:"value"`
	Unit  string    `json:"unit"`
	From  *Worked   `json:"from,omitempty"` // from what it was worked out; of the last one only
}

// Worked is how the last value of a quantity was worked out; nil where it was read off, or there is
// none. A nil machine has none.
func (m *Machine) Worked(quantity string) *Worked {
	if m == nil || len(m.Values[quantity]) == 0 {
		return nil
	}
	vs := m.Values[quantity]
	return vs[len(vs)-1].From
}

// SessionEnd is how the last session ended.
type SessionEnd struct {
	ID    string    `json:"id"`
	Title string    `json:"title"`
	At    time.Time `json:"at"`
	State string    `json:"state"`

	Unplugged bool `json:"unplugged,omitempty"` // the plug was out
}

// Session is the snapshot of a begun session; the walk itself is folded from its facts.
type Session struct {
	ID       string    `json:"id"`
	Machine  string    `json:"machine"`
	Title    string    `json:"title"`
	Begun    time.Time `json:"begun"`
	By       string    `json:"by,omitempty"`
	Last     time.Time `json:"last"` // the latest fact
	LastBy   string    `json:"last_by,omitempty"`
	Ordinal  int       `json:"ordinal"`  // of the latest fact
	Position string    `json:"position"` // "step 14 of 61"
	Paused   bool      `json:"paused,omitempty"`
	Ledger   Ledger    `json:"ledger,omitzero"`
	Latched  Condition `json:"latched,omitempty"`
}

// Drawer is the spares in stock.
type Drawer map[string]*Stock

// Stock is one part or supply in the drawer.
type Stock struct {
	Part    string    `json:"part"`
	Count   *float64  `json:"count"` // nil: not counted
	Minimum float64   `json:"minimum,omitempty"`
	Lead    int       `json:"lead_days,omitempty"`
	Pack    int       `json:"pack,omitempty"`
	Price   *float64  `json:"price,omitempty"` // of one, as last told; nil: nobody told it
	At      time.Time `json:"at,omitzero"`     // last moved
}

// Low tells that a part has to be bought: none left, or no more than the minimum kept.
func (s *Stock) Low() bool {
	return s.Count != nil && (*s.Count <= 0 || s.Minimum > 0 && *s.Count <= s.Minimum)
}

// ByName gives all machines by their names, capitals aside.
func (b *Bench) ByName() []*Machine {
	return slices.SortedFunc(maps.Values(b.Machines), func(x, y *Machine) int {
		return strings.Compare(strings.ToLower(x.Name)+x.ID, strings.ToLower(y.Name)+y.ID)
	})
}

// ByID gives all machines by their ids, which no change of a name moves.
func (b *Bench) ByID() []*Machine {
	return slices.SortedFunc(maps.Values(b.Machines), func(x, y *Machine) int {
		return strings.Compare(x.ID, y.ID)
	})
}

// NewBench is a bench before its first entry, ready for Apply.
func NewBench() *Bench {
	return &Bench{Machines: map[string]*Machine{}, Sessions: map[string]*Session{},
		Drawer: Drawer{}}
}
