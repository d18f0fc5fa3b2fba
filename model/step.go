package model

// Gate is what a step demands before it passes.
type Gate string

// The seven gates.
const (
	Confirm Gate = "confirm"
	State   Gate = "state"
	Wait    Gate = "wait"
	Measure Gate = "measure"
	Choice  Gate = "choice"
	Count   Gate = "count"
	Note    Gate = "note"
)

// Gates lists them all.
var Gates = []Gate{Confirm, State, Wait, Measure, Choice, Count, Note}

// Option is one answer of a choice gate. Without a miss it passes and is recorded.
type Option struct {
	Is   string `json:"is"`
	Miss *Miss  `json:"miss,omitempty"`
}

// Equal says what a count must equal; exactly one of its parts is given.
type Equal struct {
	Number  *int   `json:"number,omitempty"`
	Count   string `json:"count,omitempty"`   // the number typed at that step of the same procedure
	Setting string `json:"setting,omitempty"` // that setting of the machine
	Ledger  string `json:"ledger,omitempty"`  // what the ledger holds under that name now
}

// Near gives a measure's range by a reference: Ref ± Plus, or Ref ± Share of it.
type Near struct {
	Ref   string  `json:"ref"`             // last (this machine's record under the same quantity) | a step of this procedure | setting:NAME
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
	Then       string   `json:"then"`            // stop | wait | redo | part | find | pro | later | note | due | add
	Step       string   `json:"step,omitempty"`  // redo: where to go back to; part, pro, later: where to go on, so that what is out goes back
	Tries      int      `json:"tries,omitempty"` // redo: how often before Else
	Else       *Miss    `json:"else,omitempty"`
	Procedures []string `json:"procedures,omitempty"` // due, add
	Seconds    int      `json:"seconds,omitempty"`    // wait: how long before reading again
	Days       int      `json:"days,omitempty"`       // look again after; 0 takes the walk's own
	Say        string   `json:"say,omitempty"`        // what is wrong and what to do, one sentence
}

// Misses lists the words of Miss.Then.
var Misses = []string{"stop", "wait", "redo", "part", "find", "pro", "later", "note", "due", "add"}

// Fastener is the screw a step turns, for the torque caution.
type Fastener struct {
	Head       string  `json:"head"`
	Size       string  `json:"size"`
	Class      string  `json:"class,omitempty"`      // 8.8 | 10.9 | 12.9 | A2-70
	Thread     string  `json:"thread"`               // steel | aluminium | brass | insert | plastic | slot
	Engagement float64 `json:"engagement,omitempty"` // engaged thread length, mm; 0 unknown
	Turn       string  `json:"turn,omitempty"`       // of Turns, where this screw is not tightened as its thread allows
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
	Clock   string `json:"clock,omitempty"`   // wait: counted from when this clock was started, not from now

	Quantity string   `json:"quantity,omitempty"` // measure
	Unit     string   `json:"unit,omitempty"`     // measure
	Low      *float64 `json:"low,omitempty"`      // measure
	High     *float64 `json:"high,omitempty"`     // measure
	Near     *Near    `json:"near,omitempty"`     // measure
	Meter    Meter    `json:"meter,omitempty"`    // measure, count: makes it a meter reading
	Optional bool     `json:"optional,omitempty"` // measure, count: "not read" passes and is recorded as such

	Options []Option `json:"options,omitempty"` // choice
	Renewed []string `json:"renewed,omitempty"` // choice: answers that mean a new part went in

	Equal *Equal `json:"equal,omitempty"` // count
	Min   *int   `json:"min,omitempty"`   // count
	Max   *int   `json:"max,omitempty"`   // count

	Out    map[string]Amount `json:"out,omitempty"`    // ledger: taken out of the machine, must go back
	Back   map[string]Amount `json:"back,omitempty"`   // ledger: gone back
	In     map[string]Amount `json:"in,omitempty"`     // ledger: put into the machine, must be taken
	Taken  map[string]Amount `json:"taken,omitempty"`  // ledger: taken again
	Set    map[string]string `json:"set,omitempty"`    // ledger flag or state variable -> value
	Starts []string          `json:"starts,omitempty"` // clocks started when it passes: airing, cooling, unplugged

	Miss     *Miss     `json:"miss,omitempty"`
	Fastener *Fastener `json:"fastener,omitempty"`
	Own      bool      `json:"own,omitempty"`    // runs under an owned exception to an interlock
	Record   string    `json:"record,omitempty"` // measure: the name under which the value is compared next time, where not Quantity
}

// Later is a step owed after the procedure is done.
type Later struct {
	When string `json:"when"` // proof | 60 min | next day | 20 h
	Step
}
