package model

import "strings"

// Gate is what a step demands before it passes.
type Gate string

// The gates: a yes, a state of the machine, time, a reading, one of several answers, a number of
// pieces, a text.
const (
	Confirm Gate = "confirm"
	State   Gate = "state"
	Wait    Gate = "wait"
	Measure Gate = "measure"
	Choice  Gate = "choice"
	Count   Gate = "count"
	Note    Gate = "note"
)

// Gates are all of them, in the order in which FORMAT.md describes them.
var Gates = []Gate{Confirm, State, Wait, Measure, Choice, Count, Note}

// Option is one answer of a choice gate. Without a miss it passes and is recorded.
type Option struct {
	Is    string `json:"is"`
	Miss  *Miss  `json:"miss,omitempty"`
	Found string `json:"found,omitempty"` // how the part was met: one of FoundWords
	// Power is how the power stands where this can be answered; "" where it can always.
	Power string `json:"power,omitempty"`
	// With is the care that the session must have for it; "" where it needs none.
	With string `json:"with,omitempty"`
}

// How a part was met at a look: as good as new, worn as its age lets expect, or worn past what
// should have been left.
const (
	MetClean    = "clean"
	MetExpected = "expected"
	MetLate     = "late"
)

// FoundWords are the words of Option.Found, the worst last.
var FoundWords = []string{MetClean, MetExpected, MetLate}

// Equal says what a count must equal; exactly one of its parts is given.
type Equal struct {
	Number *int `json:"number,omitempty"`
	// the number typed at that step of the same procedure, or FILE/STEP
	Count   string `json:"count,omitempty"`
	Setting string `json:"setting,omitempty"` // that setting of the machine
	Ledger  string `json:"ledger,omitempty"`  // what the ledger holds under that name now
}

// Elsewhere gives the set-up action and its count that a number must equal; other is false where
// the count is one of the same procedure, or none.
func (e *Equal) Elsewhere() (id, step string, other bool) { return strings.Cut(e.Count, "/") }

// Near gives a measure's range by a reference: Ref ± Plus, or Ref ± Share of it.
type Near struct {
	// last (this machine's record under the same quantity) | a step of this procedure |
	// setting:NAME
	Ref   string  `json:"ref"`
	Share float64 `json:"share,omitempty"` // 0.05 is ± 5 %
	Plus  float64 `json:"plus,omitempty"`  // in the measure's unit
}

// Amount is how many a ledger effect moves: N, or the number typed at this gate, or at an earlier
// count of the same procedure.
type Amount struct {
	N      int    `json:"n,omitempty"`
	Answer bool   `json:"answer,omitempty"`
	Count  string `json:"count,omitempty"`
}

// Miss is what follows when a gate is not passed.
type Miss struct {
	Then Then `json:"then"`
	// redo: where to go back to; part, pro, later: where to go on, so that what is out goes back
	Step       string   `json:"step,omitempty"`
	Tries      int      `json:"tries,omitempty"` // redo: how often before Else
	Else       *Miss    `json:"else,omitempty"`
	Procedures []string `json:"procedures,omitempty"` // due, add, stop
	Seconds    int      `json:"seconds,omitempty"`    // wait: how long before reading again
	Days       int      `json:"days,omitempty"`       // look again after; 0 takes the walk's own
	Say        string   `json:"say,omitempty"`        // what is wrong and what to do, one sentence
	// part, pro, later: the machine prints nothing until then
	Idle bool `json:"idle,omitempty"`
}

// Fastener is the screw a step turns, for the torque caution.
type Fastener struct {
	Head  string `json:"head"`
	Size  string `json:"size"`
	Class string `json:"class,omitempty"` // 8.8 | 10.9 | 12.9 | A2-70
	// steel | aluminium | brass | insert | plastic | slot
	Thread     string  `json:"thread"`
	Engagement float64 `json:"engagement,omitempty"` // engaged thread length, mm; 0 unknown
	// of Turns, where this screw is not tightened as its thread allows
	Turn string `json:"turn,omitempty"`
}

// Step is one instruction and the gate behind it.
type Step struct {
	Name string `json:"name"`
	Do   string `json:"do"`            // at most 140 characters
	Why  string `json:"why,omitempty"` // shown small below it
	Only Only   `json:"only,omitzero"`
	Gate Gate   `json:"gate"`
	Ask  string `json:"ask,omitempty"` // what the answer line says

	Variable Variable `json:"variable,omitempty"` // state
	Value    string   `json:"value,omitempty"`    // state

	Seconds int    `json:"seconds,omitempty"` // wait
	Before  string `json:"before,omitempty"`  // wait: next | a step | power
	// wait: counted from when this clock was started, not from now
	Clock string `json:"clock,omitempty"`

	Quantity string   `json:"quantity,omitempty"` // measure
	Unit     string   `json:"unit,omitempty"`     // measure
	Low      *float64 `json:"low,omitempty"`      // measure
	High     *float64 `json:"high,omitempty"`     // measure
	Near     *Near    `json:"near,omitempty"`     // measure
	Meter    Meter    `json:"meter,omitempty"`    // measure, count: makes it a meter reading
	// measure, count: "not read" passes and is recorded as such
	Optional bool `json:"optional,omitempty"`

	Options []Option `json:"options,omitempty"` // choice
	Renewed []string `json:"renewed,omitempty"` // choice: answers that mean a new part went in

	Equal *Equal `json:"equal,omitempty"` // count
	Min   *int   `json:"min,omitempty"`   // count
	Max   *int   `json:"max,omitempty"`   // count

	// ledger: taken out of the machine, must go back
	Out  map[string]Amount `json:"out,omitempty"`
	Back map[string]Amount `json:"back,omitempty"` // ledger: gone back
	// ledger: put into the machine, must be taken
	In    map[string]Amount `json:"in,omitempty"`
	Taken map[string]Amount `json:"taken,omitempty"` // ledger: taken again
	Set   map[string]string `json:"set,omitempty"`   // ledger flag or state variable -> value
	// clocks started when it passes: airing, cooling, unplugged
	Starts []string `json:"starts,omitempty"`

	Miss     *Miss     `json:"miss,omitempty"`
	Fastener *Fastener `json:"fastener,omitempty"`
	Own      bool      `json:"own,omitempty"` // runs under an owned exception to an interlock
	// measure: the name under which the value is compared next time, where not Quantity
	Record string `json:"record,omitempty"`

	// stands alone and is answered for itself, whatever its gate says
	Alone bool `json:"alone,omitempty"`
	// a row that is not passed together with others
	OwnKey bool `json:"own_key,omitempty"`
	// alone, and asked on the screen of the hold before it: nothing is done between
	Beside bool `json:"beside,omitempty"`
	// note: what is typed is filed as a finding behind these words
	Files string `json:"files,omitempty"`
	// the step as a row of a page, at most 58 characters
	Line string `json:"line,omitempty"`
	// the ordinary answer, what is seen when it is right: the first that applies
	Seen []Seen `json:"seen,omitempty"`
	// choice: steps or cautions hang on it, so that no answer is the ordinary one
	Decision bool `json:"decision,omitempty"`
	// of the paper: left out of a session that did no work and opened nothing
	AfterWork bool `json:"after_work,omitempty"`
	// somebody stays and watches: no other work meanwhile
	Attended bool `json:"attended,omitempty"`
	// what moves or heats by itself here: Drives; written and empty: nothing does
	Drives []string `json:"drives,omitzero"`
	// the waits in which it may be done beforehand: WaitNames
	Meanwhile []string `json:"meanwhile,omitempty"`
	// what its answer makes known, and what passes it where known: KnownNames
	Known string `json:"known,omitempty"`
}

// Words are what a step is called where it is owed, looked at later, or on record: the few of its row.
func (s *Step) Words() string {
	if s.Line == "" {
		return strings.TrimSuffix(s.Do, ".")
	}
	return strings.TrimSuffix(s.Line, "?")
}

// Seen is a step's ordinary answer, and when it is this one.
type Seen struct {
	Is   string `json:"is"`
	Only Only   `json:"only,omitzero"`
}

// Drives are the ways a machine acts by itself in a step.
var Drives = []string{"motion", "heat"}

// WaitNames are the waits that have room for other work: cooling down, airing, and the mapping of
// the bed.
var WaitNames = []string{"cool", "air", "map"}

// KnownNames are the things an answer can make known for the rest of a session, as long as nothing
// that could change them comes between.
var KnownNames = []string{
	"against",      // no scorch smell, tingle, trip or temperature fault is open
	"rests",        // the bed lies on its stops, or what hangs is blocked
	"targets-zero", // every heater's target was read as zero
	// the hot end was read cold; other places pass by it once the plug has been out for a while
	"cold",
	"plugs",          // every plug that feeds the machine is out and in sight
	"strand",         // no filament is left in the head
	"tube-clear",     // no filament runs in the tubes between changer and head
	"supplies",       // what is used up today was laid out
	"blow-with",      // what blows: blower, can, a can that burns
	"wipes-out",      // every wipe wetted with solvent was counted out
	"inside-head",    // nothing was left in the head
	"inside-chamber", // nothing was left in the chamber
	"inside-changer", // nothing was left in the changer
	"tools",          // the tools on the roll were counted
	"plate",          // the build plate lies on its stops
	"corners",        // the head runs free to all four corners
	"whole",          // every part that came off is back in its place
	"blocks",         // no block stands in the machine
	"fins-fan",       // the fan on the fins of the hot end runs once it is warm
	"fitted",         // no part was renewed
	"codes",          // no code stood in the error list when the machine was read
	"alarm",          // smoke alarm and extinguisher were looked at
	KnownNoPrint,     // care that waits says that the machine prints nothing until then
}

// Later is a step owed after the procedure is done.
type Later struct {
	When string `json:"when"` // proof | 60 min | next day | 20 h
	// proof: the state it needs, one of LaterHeats; empty where it does not matter
	Heat     string    `json:"heat,omitempty"`
	Cautions []Caution `json:"caution,omitempty"` // that stand with it
	Covered  []string  `json:"covered,omitempty"` // care of the same session that makes it needless
	Step
}

// LaterHeats are what a proof owed needs of the heat: a cold machine just switched on, one that is
// heating for the first time since, or one at its print temperature.
var LaterHeats = []string{"cold", "warming", "hot"}
