package walk

import (
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// progress is how far the session is: its blocks, where it stands in them, and what was passed and
// answered. Steps are named by the key of their block and their own name.
type progress struct {
	Blocks []*Block
	Cur    int // index into Blocks; len(Blocks) at the end
	StepAt int // index into the current block's steps

	passed  map[string]bool // key/step
	answers map[string]Answered
	how     map[string]passedHow // who passed a step, and how it stood
	tries   map[string]int       // how often a step was gone back to
	skips   map[string]string    // why a step was passed over
	occur   map[string]int       // how many blocks of a procedure are over, by its id
	begunAt map[string]int       // by block key: ordinal of its first step
	parked  map[string]string    // by block key: why a procedure under way waits
	// steps that were passed and are asked again, and when they were broken off
	cutOff  map[string]time.Time
	lastKey string // the step passed last
	telling bool   // it is told from paper, and not all is told yet
}

// blockOf is the block of a renewal, nil where there is none.
func (at *progress) blockOf(r *renewal) *Block {
	if r == nil {
		return nil
	}
	i := slices.IndexFunc(at.Blocks, func(b *Block) bool { return b.key == r.key })
	if i < 0 {
		return nil
	}
	return at.Blocks[i]
}

// begun tells whether a step of a block ahead was passed.
func (at *progress) begun(b *Block) bool {
	key := blockKey(b.ID, at.occur[b.ID])
	return slices.ContainsFunc(b.Proc.Steps, func(s model.Step) bool {
		return at.passed[stepKey(key, s.Name)]
	})
}

// nextStep is the index of the first step from i on that applies and is not passed.
func (at *progress) nextStep(b *Block, i int) int {
	for ; i < len(b.Proc.Steps); i++ {
		s := b.Proc.Steps[i]
		if !at.passed[stepKey(b.key, s.Name)] && at.applies(b, s.Only) {
			return i
		}
	}
	return i
}

// applies tells whether a condition on an earlier answer holds; those on features were settled when
// the text was stored.
func (at *progress) applies(b *Block, o model.Only) bool {
	if o.Step == "" {
		return true
	}
	a, ok := at.answers[stepKey(b.key, o.Step)]
	return ok && slices.Contains(o.Is, a.Text)
}

// here is the progress key of the current step.
func (at *progress) here() string {
	if s := at.Step(); s != nil {
		return stepKey(at.Block().key, s.Name)
	}
	return ""
}

// lastBlock is the block of the step passed last.
func (at *progress) lastBlock() string {
	block, _, _ := strings.Cut(at.lastKey, "/")
	return block
}

// amount is how many a ledger effect moves.
func (at *progress) amount(b *Block, s *model.Step, a model.Amount) int {
	name := s.Name
	switch {
	case a.Count != "":
		name = a.Count
	case !a.Answer:
		return a.N
	}
	if n := at.answers[stepKey(b.key, name)].Number; n != nil {
		return int(*n)
	}
	return 0
}

// tried gives the miss that holds now: a redo tried often enough gives way to its else. Where there
// is none it goes on as found, save what keeps people safe: set-up actions, states, and steps under
// an exception.
func (at *progress) tried(m *model.Miss) (holds *model.Miss, asFound bool) {
	for m != nil && m.Then == model.ThenRedo {
		tries := m.Tries
		if tries == 0 {
			tries = 3
		}
		if at.tries[at.here()] < tries {
			return m, false
		}
		if s := at.Step(); m.Else == nil && (at.Block().Kind == model.BlockSetUp || s.Own ||
			s.Gate == model.State) {
			return m, false
		}
		if m.Else == nil {
			return &model.Miss{Then: model.ThenNote,
				Say: strings.TrimSpace(m.Say + " Noted as found after several tries.")}, true
		}
		m = m.Else
	}
	return m, false
}

// firstOf is the first step of a block that is asked of a person.
func (at *progress) firstOf(b *Block) int {
	for i, s := range b.Proc.Steps {
		if at.applies(b, s.Only) && at.how[stepKey(b.key, s.Name)].how != model.AsKnown {
			return i
		}
	}
	return 0
}

// StepOf gives the current step's place among the block's steps that apply, from 1, and their
// number.
func (at *progress) StepOf() (n, of int) {
	b := at.Block()
	if b == nil {
		return 0, 0
	}
	for i, s := range b.Proc.Steps {
		if !at.applies(b, s.Only) {
			continue
		}
		of++
		if i == at.StepAt {
			n = of
		}
	}
	return n, of
}

// Next gives the instructions that come after the current step, at most n.
func (at *progress) Next(n int) []string {
	b := at.Block()
	if b == nil {
		return nil
	}
	var out []string
	for i := at.nextStep(b, at.StepAt+1); i < len(b.Proc.Steps) &&
		len(out) < n; i = at.nextStep(b, i+1) {
		out = append(out, b.Proc.Steps[i].Do)
	}
	for i := at.Cur + 1; i < len(at.Blocks) && len(out) < n; i++ {
		out = append(out, at.Blocks[i].Proc.Title)
	}
	return out
}

// boundary tells whether the walk stands before a block of which nothing is done yet, or at the
// end.
func (at *progress) boundary() bool {
	b := at.Block()
	return b == nil || at.StepAt == at.firstOf(b)
}

// Block is the current block; nil at the end.
func (at *progress) Block() *Block {
	if at.Cur >= len(at.Blocks) {
		return nil
	}
	return at.Blocks[at.Cur]
}

// Step is the current step; nil at the end.
func (at *progress) Step() *model.Step {
	b := at.Block()
	if b == nil || at.StepAt >= len(b.Proc.Steps) {
		return nil
	}
	return &b.Proc.Steps[at.StepAt]
}

// AnswerAt gives what was said at a step of a procedure, the latest time.
func (at *progress) AnswerAt(id, step string) (Answered, bool) {
	for n := at.occur[id]; n >= 0; n-- {
		if a, ok := at.answers[stepKey(blockKey(id, n), step)]; ok {
			return a, true
		}
	}
	return Answered{}, false
}
