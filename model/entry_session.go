package model

import "time"

// BlockRef is one block of a session's sequence, its text by content hash.
type BlockRef struct {
	Kind BlockKind `json:"kind"`
	ID   string    `json:"id"`
	Hash string    `json:"hash,omitempty"`
}

// Begun begins a session. The texts behind the hashes are stored with it.
type Begun struct {
	Title string `json:"title"`
	// the procedures chosen, proofs and bookends included
	Items    []BlockRef        `json:"items"`
	SetUps   []BlockRef        `json:"setups"` // every set-up action as it read
	Features []Feature         `json:"features"`
	Settings map[string]string `json:"settings,omitempty"`
	Ledger   Ledger            `json:"ledger,omitzero"` // left by an earlier session
	Latched  Condition         `json:"latched,omitempty"`
	// a session that only closes what was given up or stopped
	Closing bool `json:"closing,omitempty"`
	// a stop finding stands: power must not return
	Locked bool `json:"locked,omitempty"`
	// how the last session left the machine: a guess, never believed
	Stood Condition `json:"stood,omitempty"`

	Complaint *Complaint `json:"complaint,omitempty"` // the symptoms it is to cure

	// told afterwards from a sheet of paper: when the work ended; zero where it is walked
	Told time.Time `json:"told,omitzero"`

	Leave Value `json:"leave,omitempty"` // how power is left: unplugged, on, or empty: as it was
	// that there were, of hands and waiting; 0 where nobody said
	Minutes float64 `json:"minutes,omitempty"`
	Owed    []Owed  `json:"owed,omitempty"` // checks under power that earlier sessions could not have
}

// Owed is a check under power that an earlier session could not have.
type Owed struct {
	Procedure string `json:"procedure"` // or set-up action
	Step      string `json:"step"`
	Hash      string `json:"hash"` // of the text the step stands in
	// entry id of the finding that says it is owed; settled once it was had
	Finding string `json:"finding"`
}

// Closed ends a session, well or given up: how the machine was left, and what that took.
type Closed struct {
	GivenUp bool `json:"given_up,omitempty"`
	Stopped bool `json:"stopped,omitempty"`
	// ready | ready with limits | checks owed | waiting for part | out of use
	State   string               `json:"state,omitempty"`
	Why     string               `json:"why,omitempty"`
	Ledger  Ledger               `json:"ledger,omitzero"`
	Latched Condition            `json:"latched,omitempty"` // vapour, sensor as they stand
	Clocks  map[string]time.Time `json:"clocks,omitempty"`
	Hands   float64              `json:"hands,omitempty"`  // minutes
	Waited  float64              `json:"waited,omitempty"` // minutes

	Unplugged bool `json:"unplugged,omitempty"` // the plug was out at the end

	// how the machine was left, as far as known: a guess for the next session, power and heat apart
	Stood Condition `json:"stood,omitempty"`
	// what was walked here, for the pace of the next time
	Practice []Practised `json:"practice,omitempty"`
}

// Practised is one block as an operator walked it: what was shown, and how it was passed.
type Practised struct {
	By string `json:"by,omitempty"` // "" where the bench knows no names
	// the text and the rows that were shown, as a short hash
	Shown string `json:"shown,omitempty"`
	Pages bool   `json:"pages,omitempty"` // some rows were passed together; false: each by itself
	// cautions that stood in full, by id; then Shown is empty
	Whole []string `json:"whole,omitempty"`
}

// Walked is one fact of a session under way: what was said, passed, missed or waited for at a step.
type Walked struct {
	What   What     `json:"what"`
	Block  int      `json:"block"`
	ID     string   `json:"id,omitempty"` // the block's procedure
	Step   string   `json:"step,omitempty"`
	Answer string   `json:"answer,omitempty"`
	Number *float64 `json:"number,omitempty"`
	Unit   string   `json:"unit,omitempty"`
	Why    string   `json:"why,omitempty"`  // reason of a skip, cut, pause; what a refusal said
	Then   Then     `json:"then,omitempty"` // missed: what followed
	To     string   `json:"to,omitempty"`   // missed: the step it led to
	Auto   bool     `json:"auto,omitempty"` // passed: by the clock, by no person's answer
	// missed: what the step was to do was not done, and the walk goes on without it
	Undone bool `json:"undone,omitempty"`
	// somebody else wrote of the machine meanwhile: what was known of it is asked again
	Others bool `json:"others,omitempty"`

	Variable Variable `json:"variable,omitempty"` // said
	// passed, missed: how the step stood and was answered, Alone to OnPaper; "" is alone
	How string `json:"how,omitempty"`
	// page: the steps of it that were not passed yet
	Rows []string `json:"rows,omitempty"`
	// page: the cautions that stood on it in full, by id
	Whole []string `json:"whole,omitempty"`
	Item  string   `json:"item,omitempty"` // counted: the ledger's name
	// wait: when it has run out; said unplugged: since when, where it was told
	Until time.Time  `json:"until,omitzero"`
	Plan  []BlockRef `json:"plan,omitempty"` // planned: the blocks from here on

	From *Worked `json:"from,omitempty"` // missed: how the value that did not pass was worked out

	// after the fact, as a person reads it: "step 14 of 61"
	Position string  `json:"position,omitempty"`
	Ledger   *Ledger `json:"ledger,omitempty"` // after the fact, where it changed
	// vapour and sensor after the fact, where they changed
	Latched Condition `json:"latched,omitempty"`
}

// The ways a step was passed. Entries of before there were pages carry none, and were alone.
const (
	Alone   = "alone" // by itself
	AsLine  = "line"  // by an answer of its own, as the row of a page
	AsPage  = "page"  // with all rows of a page at once
	AsKnown = "known" // by what an earlier answer made known
	OnPaper = "paper" // told afterwards from a sheet
)
