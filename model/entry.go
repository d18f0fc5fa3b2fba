package model

import (
	"slices"
	"time"
)

// Class says how an entry may be ordered and corrected.
type Class string

// The classes of entries. Dated facts may come late and may be struck; session facts are ordered by
// an ordinal within their session; structure is not struck while anything refers to it.
const (
	Dated       Class = "dated"
	SessionFact Class = "session"
	Structure   Class = "structure"
)

// EntryKind names what an entry says.
type EntryKind string

// The kinds of entries, by their class: structure, dated facts, session facts.
const (
	// structure
	KindMachine EntryKind = "machine" // Fact.Machine: added, edited, out of use, retired
	KindBegun   EntryKind = "begun"   // Fact.Begun: a session begun
	KindClosed  EntryKind = "closed"  // Fact.Closed: a session closed or given up
	// dated
	KindReading EntryKind = "reading" // Fact.Reading
	KindCare    EntryKind = "care"    // Fact.Care
	KindSwap    EntryKind = "swap"    // Fact.Swap
	KindStock   EntryKind = "stock"   // Fact.Stock
	KindFinding EntryKind = "finding" // Fact.Finding
	KindSettled EntryKind = "settled" // Fact.Settled: a finding closed
	KindMoved   EntryKind = "moved"   // Fact.Moved: a finding to be looked at on another day
	KindValue   EntryKind = "value"   // Fact.Value
	KindDue     EntryKind = "due"     // Fact.Due: a procedure is now due by a finding
	KindTag     EntryKind = "tag"     // Fact.Tag: a tag set or cleared
	KindStrike  EntryKind = "strike"  // Fact.Strike
	KindOutcome EntryKind = "outcome" // Fact.Outcome: whether care cured a symptom
	KindBooked  EntryKind = "booked"  // Fact.Booked: a print that is to come
	// Fact.Printed: a print done; what it used is readings beside it
	KindPrinted EntryKind = "printed"
	KindFailed  EntryKind = "failed" // Fact.Failed: a print that failed
	// session
	KindWalk EntryKind = "walk" // Fact.Walk
)

// ClassOf gives the class of a kind.
func ClassOf(k EntryKind) Class {
	switch k {
	case KindMachine, KindBegun, KindClosed:
		return Structure
	case KindWalk:
		return SessionFact
	}
	return Dated
}

// EntryVersion is the newest format of an entry's fields. It is raised where an older program would
// misread what is new, and so refuses it.
const EntryVersion = 4

// Entry is one record of the journal.
type Entry struct {
	V       int       `json:"v"`                 // format of the record
	Seq     uint64    `json:"seq"`               // place in the journal, from 1
	ID      string    `json:"id"`                // ULID
	At      time.Time `json:"at"`                // when it happened
	Written time.Time `json:"written"`           // when it was written
	By      string    `json:"by,omitempty"`      // who
	Machine string    `json:"machine,omitempty"` // machine id
	Session string    `json:"session,omitempty"` // session id
	// place within the session, from 1; session facts, begun and closed
	Ordinal int    `json:"ordinal,omitempty"`
	Action  string `json:"action"` // shared by all entries of one user action
	Fact
}

// Fact is what an entry says: the kind, and the one part that belongs to it.
type Fact struct {
	Kind    EntryKind    `json:"kind"`
	Machine *MachineFact `json:"machine_fact,omitempty"`
	Begun   *Begun       `json:"begun,omitempty"`
	Closed  *Closed      `json:"closed,omitempty"`
	Reading *Reading     `json:"reading,omitempty"`
	Care    *CareDone    `json:"care,omitempty"`
	Swap    *Swapped     `json:"swap,omitempty"`
	Stock   *StockMove   `json:"stock,omitempty"`
	Finding *Found       `json:"finding,omitempty"`
	Settled *Settled     `json:"settled,omitempty"`
	Moved   *Moved       `json:"moved,omitempty"`
	Value   *Measured    `json:"value,omitempty"`
	Due     *FallsDue    `json:"due,omitempty"`
	Tag     *TagMove     `json:"tag,omitempty"`
	Strike  *Strike      `json:"strike,omitempty"`
	Outcome *Outcome     `json:"outcome,omitempty"`
	Booked  *PrintJob    `json:"booked,omitempty"`
	Printed *PrintJob    `json:"printed,omitempty"`
	Failed  *PrintFailed `json:"failed,omitempty"`
	Walk    *Walked      `json:"walk,omitempty"`
}

// Texts are the hashes of the stored texts that an entry names.
func (e Entry) Texts() []string {
	var out []string
	add := func(hash string) {
		if hash != "" {
			out = append(out, hash)
		}
	}
	if e.Begun != nil {
		for _, r := range slices.Concat(e.Begun.Items, e.Begun.SetUps) {
			add(r.Hash)
		}
		for _, o := range e.Begun.Owed {
			add(o.Hash)
		}
	}
	if e.Walk != nil {
		for _, r := range e.Walk.Plan {
			add(r.Hash)
		}
	}
	if e.Finding != nil {
		add(e.Finding.Hash)
	}
	return out
}

// Duty says how hard a machine works; only calendar bands depend on it.
type Duty string

// The duties: a machine at home rests most of the day, one in production does not.
const (
	Home       Duty = "home"
	Production Duty = "production"
)

// MachineFact is the whole description of a machine after the entry.
type MachineFact struct {
	ID       string            `json:"id"`
	Name     string            `json:"name"`
	Features []Feature         `json:"features,omitempty"`
	Settings map[string]string `json:"settings,omitempty"`
	Duty     Duty              `json:"duty"`
	// procedure id -> own band, in that procedure's governing meter
	Bands map[string]Band `json:"bands,omitempty"`
	// what it is kept by, procedure ids; nil: all that fits it
	CareList []string `json:"care_list,omitzero"`
	// the day it was bought new; zero where it was not, or nobody knows
	Bought time.Time `json:"bought,omitzero"`
	// a counter was replaced or set back before it came to this bench
	Recounts bool `json:"recounts,omitempty"`
	OutOfUse bool `json:"out_of_use,omitempty"`
	Retired  bool `json:"retired,omitempty"`
}

// Reading is a meter's value at a time.
type Reading struct {
	Meter    Meter   `json:"meter"`
	Value    float64 `json:"value"`
	How      string  `json:"how,omitempty"` // typed | session | imported | job | start
	Estimate bool    `json:"estimate,omitempty"`
	// the counter was replaced and starts again at Value
	NewMeter bool `json:"new_meter,omitempty"`
	Correct  bool `json:"correct,omitempty"` // a correction downward of earlier readings
}

// CareDone is care done, inside a session or outside.
type CareDone struct {
	Procedure string      `json:"procedure"`
	Outcome   CareOutcome `json:"outcome"`
	ProofOwed bool        `json:"proof_owed,omitempty"`
	CountsAs  []string    `json:"counts_as,omitempty"` // other procedures this also does
	Minutes   float64     `json:"minutes,omitempty"`   // hands, by the session's clock
	Why       string      `json:"why,omitempty"`
	Memory    bool        `json:"memory,omitempty"` // told from memory: it sets off nothing

	// Found is how the part was met, by the worst of its answers: one of FoundWords, "" where nothing
	// asked. Together: one of them was passed with others or told afterwards, not given for itself.
	Found    string `json:"found,omitempty"`
	Together bool   `json:"together,omitempty"`

	// Base is what a meter showed then; the fold takes it over its own. Undated: told by it alone,
	// the day is not known.
	Base    map[Meter]float64 `json:"base,omitempty"`
	Undated bool              `json:"undated,omitempty"`
}

// Swapped is a part renewed; End says how the old one was.
type Swapped struct {
	Part   string   `json:"part"`
	End    End      `json:"end"`
	Resets []string `json:"resets,omitempty"` // procedure ids whose gauge starts again
	Lot    string   `json:"lot,omitempty"`
}

// StockMove changes the drawer: a count taken, or a change by a session, a log or a delivery.
type StockMove struct {
	Part    string   `json:"part"`
	Change  float64  `json:"change,omitempty"`
	Counted *float64 `json:"counted,omitempty"`
	Minimum *float64 `json:"minimum,omitempty"`
	Lead    *int     `json:"lead_days,omitempty"`
	Pack    *int     `json:"pack,omitempty"`
	Price   *float64 `json:"price,omitempty"` // of one, in the bench's currency; 0: not known any more
	Why     string   `json:"why,omitempty"`   // used | received | counted
}

// Found is something seen and to be looked at again. Its id is the entry's.
type Found struct {
	Kind      FindingKind `json:"kind"`
	Text      string      `json:"text"`
	Procedure string      `json:"procedure,omitempty"`
	Step      string      `json:"step,omitempty"`
	Part      string      `json:"part,omitempty"` // what to buy, for part
	Again     time.Time   `json:"again,omitzero"` // date to look again
	// of owed: the text its step stands in; it is asked for as soon as there is power
	Hash string `json:"hash,omitempty"`
	// of a note: the care it makes due, which closes it
	Calls []string `json:"calls,omitempty"`
}

// Reminds tells that nothing was seen: something is to be done or proved later.
func (f Found) Reminds() bool { return f.Kind == FoundOwed || f.Kind == FoundLater }

// AtWord is what the day of a finding is called, and DayWord that of the day it has for it: what was
// seen is looked at again, a reminder is to do.
func (f Found) AtWord() string {
	if f.Reminds() {
		return "reminder of"
	}
	return "seen"
}

// DayWord is the word for the day of Again.
func (f Found) DayWord() string {
	if f.Reminds() {
		return "to do"
	}
	return "look again"
}

// NoAlarm tells that a room was found without what warns of a fire, or puts one out: no print runs
// there with nobody in it.
func (f Found) NoAlarm() bool { return f.Step == "alarm" }

// Guards tells whether a person may come to harm while it stands.
func (f Found) Guards() bool {
	return f.Kind == FoundStop || f.Kind == FoundPro || f.NoAlarm()
}

// Settled closes a finding, with the reason as a person said it.
type Settled struct {
	Finding string `json:"finding"` // entry id
	Why     string `json:"why"`
}

// Moved puts the day to look at a finding again; the day before it stays in the journal.
type Moved struct {
	Finding string    `json:"finding"` // entry id
	Again   time.Time `json:"again"`
	Why     string    `json:"why,omitempty"`
}

// About is the id of the finding an entry closes or moves, "" where it does neither.
func (f Fact) About() string {
	switch {
	case f.Settled != nil:
		return f.Settled.Finding
	case f.Moved != nil:
		return f.Moved.Finding
	}
	return ""
}

// Measured is one value read at a step, to be compared with the next time under the same name.
type Measured struct {
	Name      string   `json:"name"` // the quantity under which it is compared
	Value     float64  `json:"value"`
	Unit      string   `json:"unit"`
	Procedure string   `json:"procedure,omitempty"`
	Step      string   `json:"step,omitempty"`
	Low       *float64 `json:"low,omitempty"` // the gate's range at the time
	High      *float64 `json:"high,omitempty"`
	From      *Worked  `json:"from,omitempty"` // how it was worked out; nil where it was read off
}

// Worked is how a value was worked out: by which calculator, from what, and what else came of it.
type Worked struct {
	By    string  `json:"by"`             // id of the calculator
	Given []Given `json:"given"`          // what was typed, in the order asked
	Gave  []Given `json:"gave,omitempty"` // what came of it, the value's own figure first
}

// Given is one figure as it was typed or shown, by the name it is asked by.
type Given struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// FallsDue makes a procedure due, whatever its meters say, until it is done.
type FallsDue struct {
	Procedure string `json:"procedure"`
	Because   string `json:"because"`
}

// TagMove sets a tag on a machine, or clears it by name with a reason.
type TagMove struct {
	Kind  TagKind `json:"kind"` // "" clears whatever stands
	Clear bool    `json:"clear,omitempty"`
	Why   string  `json:"why"`
}

// Strike takes all dated facts of an action out of the fold, or, where the action is itself a
// strike, puts them back.
type Strike struct {
	Action string `json:"action"`
	Why    string `json:"why"`
}

// Action is one thing a person does: its facts are written in one transaction or not at all.
type Action struct {
	At      time.Time // when it happened; zero takes the store's clock
	By      string
	Machine string // machine id; a MachineFact's own id where it is new
	Session string // session id for session facts, begun, closed
	Ordinal int    // expected ordinal of the first session fact; the transaction refuses another
	Facts   []Fact
	Texts   map[string][]byte // content hash -> text, stored with the action
}
