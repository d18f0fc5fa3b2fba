// Package walk is one care session at one machine: which step stands before the person, what it
// demands, what an answer does to the machine's believed state and to the ledger, and what follows.
//
// A Walk is a fold over the session's entries; it holds no clock and does no I/O. Answer judges what a
// person says and gives the facts to write; only when they are written does Apply move the walk on, so
// nothing is ever shown as done before it is in the journal.
package walk

import (
	"fmt"
	"maps"
	"slices"
	"strings"
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
	Again     model.What = "again"           // the rest to be planned again, without what was done elsewhere
	PageUp    model.What = "page"            // a page came up: each of its rows is perhaps done from here on
	Early     model.What = "early"           // a step of a later block, done while a wait ran
	Lacking   model.What = "lacking"         // something of the list is not there: which, and what needs it
	Lacked    model.What = "lacked"          // what is done without it
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

	Name     string // as files call it: cool, air, or the step's own name; "" where somebody stays and watches
	Attended bool   // somebody stays and watches a machine that is under power or heats
}

// Answered is what was said at a step.
type Answered struct {
	At     time.Time
	Text   string
	Number *float64
	Action string
}

// Walk is a session as it stands.
type Walk struct {
	ID        string
	MachineID string
	Title     string
	Begun     model.Begun
	Start     time.Time
	LastAt    time.Time
	LastBy    string
	Ordinal   int

	Blocks   []*Block
	Cur      int // index into Blocks; len(Blocks) at the end
	StepAt   int // index into the current block's steps
	Believed model.Condition
	Seen     map[model.Variable]Seen
	Waits    []Running
	Clocks   map[string]time.Time
	Stopped  string // why, once a stop finding was made
	Ended    bool
	End      *model.Closed

	toAsk     []model.Variable
	toCount   []string // ledger items and flags to agree after an interruption
	needs     bool     // the rest has to be planned again before it goes on
	powered   bool     // power was on at some time here
	paused    bool
	pending   []string               // procedures that join at the next boundary
	limits    bool                   // a set-up action went on with something to be renewed
	degrees   map[model.Place]degree // read since it last grew hot
	heated    bool                   // it was hot at some time of this sitting
	stands    bool                   // on blocks that were said to stand and not counted yet
	hotAsRead bool                   // it is cold again once it is read cold, without a set-up action
	targets   bool                   // a heater may have a target: it heated, and none was read since
	lost      []string               // pieces that are looked for
	unended   *renewal               // a part renewed whose old one's end is not said yet
	missing   []missing              // what was counted as lost and is looked for
	renewals  map[string]renewal     // by block key: a part said to be renewed, not told of yet
	parked    map[string]string      // by block key: why a procedure under way waits
	barred    model.Condition        // what a set-up action could not bring about
	unproved  map[string]bool        // key/step: a proof that was seen to fail

	passed  map[string]bool // key/step
	answers map[string]Answered
	tries   map[string]int
	skips   map[string]string
	occur   map[string]int
	moves   map[string]map[string]int // key/step -> ledger item -> change; items of Inside carry insidePrefix
	flags   map[string]string
	owed    []owedStep
	refused string // the last refusal, shown in place
	again   string // an answer that takes its miss when given again
	againAt string // the step it was given at

	open    *openPage       // the page that came up last
	perhaps map[string]bool // ledger items a page broken off may have moved
	how     map[string]passedHow
	stood   map[string]stood       // by caution: how the machine stood when it was read in full
	whole   map[string]bool        // cautions that stood in full in this session
	known   map[string]known       // what answers made known
	lastKey string                 // the step passed last
	cutOff  map[string]time.Time   // steps that were passed and are asked again, and when they were broken off
	last    time.Time              // of the fact before the one that is folded
	words   map[model.Variable]int // ordinal at which a variable was said last
	brought map[model.Variable]int // ordinal at which work last brought or may have changed one
	begunAt map[string]int         // by block key: ordinal of its first step
	left    model.Condition        // how the machine was before its state was asked: a guess
	lack    *lack                  // what is not there, while it is decided what to do without it
	leftIDs []string               // procedures left out before they were begun
	goneOn  []string               // things that are done without

	entries []model.Entry // effective: without what was taken back
	texts   map[string]*model.Procedure
	setups  []*model.Procedure
	hands   float64
	waited  float64
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

// Texts gives the stored text behind a content hash.
type Texts func(hash string) ([]byte, error)

// Load folds a session's entries, in order of their ordinals, into a walk.
func Load(entries []model.Entry, texts Texts) (*Walk, error) {
	w := &Walk{texts: map[string]*model.Procedure{}}
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
	back := false
	for _, e := range entries {
		if err := w.collect(e, texts); err != nil {
			return err
		}
		back = back || (e.Walk != nil && e.Walk.What == Back)
	}
	if back {
		w.refold(effective(w.entries, entries))
		return nil
	}
	for _, e := range entries {
		w.fold(e)
	}
	w.entries = append(slices.Clip(w.entries), entries...)
	return nil
}

// collect reads the texts an entry refers to.
func (w *Walk) collect(e model.Entry, texts Texts) error {
	var refs []model.BlockRef
	if e.Fact.Begun != nil {
		refs = append(slices.Clone(e.Fact.Begun.Items), e.Fact.Begun.SetUps...)
	}
	if e.Walk != nil {
		refs = append(refs, e.Walk.Plan...)
	}
	for _, r := range refs {
		if r.Hash == "" || w.texts[r.Hash] != nil {
			continue
		}
		data, err := texts(r.Hash)
		if err != nil {
			return fmt.Errorf("the text of %s (%.*s) is not in the data file: %w: %w", r.ID, firstLen, r.Hash, model.ErrNoText, err)
		}
		p, err := model.ReadText(data)
		if err != nil {
			return fmt.Errorf("the text of %s cannot be read: %w: %w", r.ID, model.ErrNoText, err)
		}
		w.texts[r.Hash] = p
	}
	return nil
}

// refold folds all entries anew.
func (w *Walk) refold(entries []model.Entry) {
	texts := w.texts
	*w = Walk{
		texts: texts, Believed: model.Condition{}, Seen: map[model.Variable]Seen{}, Clocks: map[string]time.Time{},
		passed: map[string]bool{}, answers: map[string]Answered{}, tries: map[string]int{}, skips: map[string]string{},
		degrees: map[model.Place]degree{}, renewals: map[string]renewal{}, parked: map[string]string{}, barred: model.Condition{}, unproved: map[string]bool{},
		perhaps: map[string]bool{}, how: map[string]passedHow{}, stood: map[string]stood{}, whole: map[string]bool{}, known: map[string]known{},
		cutOff: map[string]time.Time{}, words: map[model.Variable]int{}, brought: map[model.Variable]int{}, begunAt: map[string]int{},
		occur: map[string]int{}, moves: map[string]map[string]int{}, flags: map[string]string{}, left: model.Condition{},
	}
	for _, e := range entries {
		w.fold(e)
	}
	w.entries = entries
}

// Features is what the machine had when the session began.
func (w *Walk) Features() model.FeatureSet { return model.NewFeatureSet(w.Begun.Features...) }

// Block is the current block; nil at the end.
func (w *Walk) Block() *Block {
	if w.Cur >= len(w.Blocks) {
		return nil
	}
	return w.Blocks[w.Cur]
}

// Step is the current step; nil at the end.
func (w *Walk) Step() *model.Step {
	b := w.Block()
	if b == nil || w.StepAt >= len(b.Proc.Steps) {
		return nil
	}
	return &b.Proc.Steps[w.StepAt]
}

// Ledger is what has been brought about and must be undone.
func (w *Walk) Ledger() model.Ledger {
	sum := map[string]int{}
	for _, m := range w.moves {
		for k, n := range m {
			sum[k] += n
		}
	}
	l := model.Ledger{}
	for k, n := range sum {
		if n == 0 {
			continue
		}
		if rest, ok := cutPrefix(k, insidePrefix); ok {
			if l.Inside == nil {
				l.Inside = map[string]int{}
			}
			l.Inside[rest] = n
			continue
		}
		if l.Out == nil {
			l.Out = map[string]int{}
		}
		l.Out[k] = n
	}
	if len(w.flags) > 0 {
		l.Flags = maps.Clone(w.flags)
	}
	return l
}

// Latched gives vapour and sensor as they stand.
func (w *Walk) Latched() model.Condition {
	c := model.Condition{}
	for _, v := range model.Variables {
		if v.Latched() {
			c[v] = w.Believed[v]
		}
	}
	return c
}

// Minutes gives hands and waiting so far, by the session's own times.
func (w *Walk) Minutes() (hands, waited float64) { return w.hands, w.waited }

// AnswerAt gives what was said at a step of a procedure, the latest time.
func (w *Walk) AnswerAt(id, step string) (Answered, bool) {
	for n := w.occur[id]; n >= 0; n-- {
		if a, ok := w.answers[stepKey(blockKey(id, n), step)]; ok {
			return a, true
		}
	}
	return Answered{}, false
}

func blockKey(id string, n int) string             { return fmt.Sprintf("%s#%d", id, n) }
func stepKey(block, step string) string            { return block + "/" + step }
func cutDot(s string) (head, rest string, ok bool) { return strings.Cut(s, ".") }
func cutPrefix(s, p string) (string, bool) {
	if len(s) >= len(p) && s[:len(p)] == p {
		return s[len(p):], true
	}
	return s, false
}
