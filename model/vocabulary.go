package model

// The closed lists of words that entries and procedures are written in. They stand in the journal
// and in files as they read here, so that a word is never changed, only added.

// Then is what follows when a gate is not passed.
type Then string

// What can follow a miss.
const (
	// the machine is stopped: power off, no care until a person clears it by name
	ThenStop     Then = "stop"
	ThenWait     Then = "wait"      // read again later
	ThenRedo     Then = "redo"      // go back to an earlier step
	ThenPart     Then = "part"      // park until a part is there
	ThenFind     Then = "find"      // a piece is missing: look for it
	ThenLeftOver Then = "left-over" // a piece is over: find its place
	ThenPro      Then = "pro"       // park until a licensed person has seen it
	ThenLater    Then = "later"     // park until another day
	ThenNote     Then = "note"      // go on, with a finding
	ThenDue      Then = "due"       // go on, and other care is due
	ThenAdd      Then = "add"       // go on, and other care joins this session
)

// Misses lists the words of Miss.Then.
var Misses = []Then{ThenStop, ThenWait, ThenRedo, ThenPart, ThenFind, ThenLeftOver, ThenPro,
	ThenLater, ThenNote, ThenDue, ThenAdd}

// TagKind is what a mark on a machine says.
type TagKind string

// The marks on a machine. The name of one that was cleared by itself is empty.
const (
	// power must not return until a stop finding is closed by name
	TagStopped  TagKind = "stopped"
	TagGivenUp  TagKind = "given-up"   // a session was given up with something out, inside or loose
	TagWaiting  TagKind = "waiting"    // for a part
	TagLimits   TagKind = "limits"     // ready, with limits
	TagOutOfUse TagKind = "out-of-use" // not to be used
)

// FindingKind is what a finding is about.
type FindingKind string

// The kinds of findings; Finding.Holds tells which of them keep a machine from its use.
const (
	FoundNote     FindingKind = "note"       // seen, and to be looked at again
	FoundPart     FindingKind = "part"       // a part has to be bought
	FoundPro      FindingKind = "pro"        // for a licensed person
	FoundStop     FindingKind = "stop"       // it stopped the machine
	FoundLater    FindingKind = "later"      // put off to another day
	FoundOwed     FindingKind = "owed"       // a proof not given yet
	FoundLost     FindingKind = "lost"       // a piece that was not found
	FoundLimits   FindingKind = "limits"     // the machine is ready with limits
	FoundOutOfUse FindingKind = "out-of-use" // the machine is out of use
	FoundUnknown  FindingKind = "unknown"    // how the machine was left is not known
)

// CareOutcome is what became of a piece of care.
type CareOutcome string

// What can become of care.
const (
	OutcomeDone     CareOutcome = "done"
	OutcomePart     CareOutcome = "part"     // begun, something skipped
	OutcomeProved   CareOutcome = "proved"   // the proof owed is paid
	OutcomeUnknown  CareOutcome = "unknown"  // asked when it was last done, and not known
	OutcomeOriginal CareOutcome = "original" // never since the machine was new
)

// CareOutcomes lists every outcome of care.
var CareOutcomes = []CareOutcome{OutcomeDone, OutcomePart, OutcomeProved, OutcomeUnknown,
	OutcomeOriginal}

// End is how a part's life ended.
type End string

// The ends of a part's life.
const (
	EndWorn    End = "worn"
	EndFailed  End = "failed"
	EndEarly   End = "early" // taken off while still sound
	EndLost    End = "lost"
	EndUnknown End = "unknown"
)

// Ends are those a person chooses from.
var Ends = []End{EndWorn, EndFailed, EndEarly, EndLost}

// CureWord says whether care cured a symptom.
type CureWord string

// Whether care cured a symptom. CureUnknown only says that the question was put.
const (
	Cured       CureWord = "cured"
	NotCured    CureWord = "not cured"
	CureUnknown CureWord = "unknown"
)

// Outcomes are the words of Outcome.Is.
var Outcomes = []CureWord{Cured, NotCured, CureUnknown}

// BlockKind says what a block of a session is.
type BlockKind string

// The kinds of blocks, as they stand in a session's plan.
const (
	BlockSetUp BlockKind = "setup" // a change of the machine's state that care needs
	BlockCare  BlockKind = "care"  // a procedure
	BlockOwed  BlockKind = "owed"  // proofs owed by procedures that are through
)

// What is what a session fact says. The walk has a name for each of its words.
type What string

// What the fold over a session takes note of.
const (
	WhatPaused  What = "paused"
	WhatResumed What = "resumed" // the state is to be asked again
)

// Words gives the words of a list as plain texts, for messages.
func Words[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return out
}
