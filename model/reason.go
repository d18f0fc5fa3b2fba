package model

// ReasonKind is what a gauge's number alone does not say.
type ReasonKind int

// The reasons.
const (
	NoReason    ReasonKind = iota
	LastUnknown            // nobody knows when the care was done last
	NeverRead              // the meter Of was never read
	NotReadThen            // the meter Of was not read by the last time
	NotBought              // counts from the day the machine was bought, which is not on record
	// the meter Of was replaced, so that it does not tell the machine's age
	Replaced
	WithoutStarts // cuts told by filament changes alone
	AfterCare     // the procedure was done since whose title is Of
	ByFinding     // a finding, whose words are Of
	FirstTime     // the first hours of a new machine
)

// Reason says of a gauge what its number does not: why it cannot be measured, or why it is due.
type Reason struct {
	Kind ReasonKind
	Of   string // a procedure's title, a meter, or the words of a finding
}

// titled calls the care a gauge is due after by its title, where the library has it.
func (r Reason) titled(procs []*Procedure) Reason {
	if r.Kind == AfterCare {
		if p := ByID(procs, r.Of); p != nil {
			r.Of = p.Title
		}
	}
	return r
}

// String is the reason as a person reads it; "" for none.
func (r Reason) String() string {
	switch r.Kind {
	case LastUnknown:
		return "last time not known"
	case NeverRead:
		return r.Of + " never read"
	case NotReadThen:
		return r.Of + " not known at the last time"
	case NotBought:
		return "day it was bought not known"
	case Replaced:
		return r.Of + " counter was replaced"
	case WithoutStarts:
		return "without starts"
	case AfterCare:
		return `after "` + r.Of + `"`
	case ByFinding:
		if r.Of == "" {
			return "by a finding"
		}
		return r.Of
	case FirstTime:
		return "first time"
	}
	return ""
}

// MarshalText is String, so that programs read what people read.
func (r Reason) MarshalText() ([]byte, error) { return []byte(r.String()), nil }
