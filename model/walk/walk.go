package walk

import (
	"fmt"
	"slices"
	"time"

	"bench/oilcan/model"
)

// What a session fact says.
const (
	Said      model.What = "said"     // a state question answered
	Counted   model.What = "counted"  // an item of the ledger counted
	Passed    model.What = "passed"   // a gate passed
	Refused   model.What = "refused"  // a gate not passed; the walk stays
	Missed    model.What = "missed"   // a gate missed, and what followed
	Waiting   model.What = "wait"     // a wait begun
	Cut       model.What = "cut"      // a wait cut short
	Back      model.What = "back"     // the last passed gate taken back
	Skipped   model.What = "skipped"  // a step passed over, with a reason
	LeftOut   model.What = "left-out" // a procedure left out, with a reason
	Paused    model.What = model.WhatPaused
	Resumed   model.What = model.WhatResumed // the state is to be asked again
	Planned   model.What = "planned"         // the blocks from here on
	Noted     model.What = "noted"           // a remark beside the step
	Ended     model.What = "ended"           // how a renewed part's old one was
	Found     model.What = "found"           // a missing piece is in the hand
	Corrected model.What = "corrected"       // a number asked once of the machine put right
	// the rest to be planned again, without what was done elsewhere
	Again model.What = "again"
	// a page came up: each of its rows is perhaps done from here on
	PageUp model.What = "page"
	Early  model.What = "early" // a step of a later block, done while a wait ran
	// something of the list is not there: which, and what needs it
	Lacking model.What = "lacking"
	Lacked  model.What = "lacked" // what is done without it
	// all of a sheet of paper is told: how the machine stands now is asked
	Told model.What = "told"
)

const (
	maxIdle  = 30 * time.Minute
	firstLen = 12 // of a content hash, where one is shown
)

// Status of a block in the session.
type Status string

// The statuses.
const (
	Ahead   Status = "ahead"
	Done    Status = "done"
	Part    Status = "part"    // begun, something skipped
	Parked  Status = "parked"  // waits for a part or a person
	Omitted Status = "omitted" // left out with a reason
)

// Block is one procedure or set-up action in the session's sequence.
type Block struct {
	Kind   model.BlockKind
	ID     string
	Proc   *model.Procedure
	Status Status
	Why    string           // of parked and omitted
	key    string           // progress key: id and occurrence
	text   *model.Procedure // as planned: Proc may hold steps the walk puts in
	hash   string           // of the stored text; "" for what is owed
}

// Seen is when something was last said or read.
type Seen struct {
	At   time.Time
	Note string // the value as read: "31 °C"
}

// Running is a wait that goes on.
type Running struct {
	Key    string // block key and step
	Why    string
	Begun  time.Time
	Until  time.Time
	Before string // next | step name | power
	Block  string // block key
	Clock  string

	// as files call it: cool, air, or the step's own name; "" where somebody stays and watches
	Name     string
	Attended bool // somebody stays and watches a machine that is under power or heats
}

// Answered is what was said at a step.
type Answered struct {
	At     time.Time
	Text   string
	Number *float64
	Action string
}

// Walk is a session as it stands, in parts: what it was begun with, its record, how far it is, what
// is believed of the machine, what is out of it or in it, what is known, what is owed, and what
// runs. It is a fold over the session's entries.
type Walk struct {
	ID        string
	MachineID string
	Title     string

	given
	history
	progress
	belief
	book
	knowing
	owing
	running

	Stopped string // why, once a stop finding was made
	Ended   bool
	End     *model.Closed

	toAsk   []model.Variable // state to be asked before it goes on
	needs   bool             // the rest has to be planned again before it goes on
	paused  bool
	pending []string        // procedures that join at the next boundary
	limits  bool            // a set-up action went on with something to be renewed
	barred  model.Condition // what a set-up action could not bring about
	refused string          // the last refusal, shown in place
	again   string          // an answer that takes its miss when given again
	againAt string          // the step it was given at
	lack    *lack           // what is not there, while it is decided what to do without it
	leftIDs []string        // procedures left out before they were begun
	goneOn  []string        // things that are done without
}

// renewal is a part that a procedure renews.
type renewal struct {
	key   string // of the block
	block string
	part  string
	step  string
}

// passedHow is who passed a step, and how it stood.
type passedHow struct{ by, how string }

// insidePrefix marks ledger moves of things put into the machine.
const insidePrefix = "in:"

// Texts reads the procedure stored under a content hash. The walk changes none of it: one reading
// may serve many walks.
type Texts func(hash string) (*model.Procedure, error)

// Load folds a session's entries, in order of their ordinals, into a walk.
func Load(entries []model.Entry, texts Texts) (*Walk, error) {
	w := &Walk{given: given{texts: map[string]*model.Procedure{}}}
	for _, e := range entries {
		if err := w.collect(e, texts); err != nil {
			return nil, err
		}
	}
	w.refold(effective(nil, entries))
	return w, nil
}

// Apply moves the walk on by entries that were written.
func (w *Walk) Apply(entries []model.Entry, texts Texts) error {
	for _, e := range entries {
		if err := w.collect(e, texts); err != nil {
			return err
		}
	}
	w.take(entries)
	return nil
}

// take folds entries onto those there are; where one takes another back, all are folded anew.
func (w *Walk) take(entries []model.Entry) {
	if slices.ContainsFunc(entries, func(e model.Entry) bool {
		return e.Walk != nil && e.Walk.What == Back
	}) {
		w.refold(effective(w.entries, entries))
		return
	}
	for _, e := range entries {
		w.fold(e)
	}
	for i := range entries {
		w.entries = append(w.entries, &entries[i])
	}
}

// collect reads the texts an entry refers to.
func (g *given) collect(e model.Entry, texts Texts) error {
	var refs []model.BlockRef
	if e.Fact.Begun != nil {
		refs = append(slices.Clone(e.Fact.Begun.Items), e.Fact.Begun.SetUps...)
		for _, o := range e.Fact.Begun.Owed {
			refs = append(refs, model.BlockRef{ID: o.Procedure, Hash: o.Hash})
		}
	}
	if e.Walk != nil {
		refs = append(refs, e.Walk.Plan...)
	}
	for _, r := range refs {
		if r.Hash == "" || g.texts[r.Hash] != nil {
			continue
		}
		p, err := texts(r.Hash)
		if err != nil {
			return fmt.Errorf("the text of %s (%.*s) cannot be read from the data file: %w: %w",
				r.ID, firstLen, r.Hash, model.ErrNoText, err)
		}
		g.texts[r.Hash] = p
	}
	return nil
}

// refold folds all entries anew.
func (w *Walk) refold(entries []*model.Entry) {
	texts := w.texts
	*w = Walk{
		barred: model.Condition{},
		given:  given{texts: texts},
		progress: progress{
			passed: map[string]bool{}, answers: map[string]Answered{}, how: map[string]passedHow{},
			tries: map[string]int{},
			skips: map[string]string{}, occur: map[string]int{}, begunAt: map[string]int{},
			parked: map[string]string{}, cutOff: map[string]time.Time{},
		},
		belief: belief{
			Believed: model.Condition{}, Seen: map[model.Variable]Seen{},
			words:   map[model.Variable]int{},
			brought: map[model.Variable]int{}, left: model.Condition{},
			degrees: map[model.Place]degree{},
		},
		book: book{moves: map[string]map[string]int{}, flags: map[string]string{},
			perhaps: map[string]span{}, untilTold: map[string]string{}},
		knowing: knowing{known: map[string]known{}, stood: map[string]stood{},
			whole: map[string]bool{}},
		owing:   owing{unproved: map[string]bool{}, renewals: map[string]renewal{}},
		running: running{Clocks: map[string]time.Time{}},
	}
	for _, e := range entries {
		w.fold(*e)
	}
	w.entries = entries
}

func blockKey(id string, n int) string  { return fmt.Sprintf("%s#%d", id, n) }
func stepKey(block, step string) string { return block + "/" + step }
