package walk

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Start is what a session is begun with. Items and SetUps are resolved for the machine.
type Start struct {
	Title  string
	Items  []*model.Procedure
	SetUps []*model.Procedure
	Ask    bool // the plan opens or powers the machine: its state is asked first
	// Closing, Locked and Leave: see model.Begun.
	Closing, Locked bool
	Leave           model.Value
	Owed            []Carried
	// of a session that is told from paper: when the work ended. It is begun at when it began.
	Told time.Time
}

// Carried is a check under power that an earlier session could not have, with the text its step
// stands in.
type Carried struct {
	model.Owed
	Text *model.Procedure
}

// Begin gives the facts that begin a session on a machine.
func Begin(c Context, s Start) (Reply, error) {
	m := c.Machine
	b := &model.Begun{Title: s.Title, Features: m.Features, Settings: m.Settings, Ledger: m.Ledger,
		Latched: m.Latched,
		Closing: s.Closing, Locked: s.Locked, Stood: m.Stood, Leave: s.Leave, Told: s.Told}
	w := &Walk{given: given{texts: map[string]*model.Procedure{}}}
	r := Reply{Texts: map[string][]byte{}}
	ref := func(kind model.BlockKind, p *model.Procedure) model.BlockRef {
		hash, data := model.Text(p)
		r.Texts[hash], w.texts[hash] = data, p
		return model.BlockRef{Kind: kind, ID: p.ID, Hash: hash}
	}
	for _, p := range s.Items {
		b.Items = append(b.Items, ref(model.BlockCare, p))
	}
	for _, p := range s.SetUps {
		b.SetUps = append(b.SetUps, ref(model.BlockSetUp, p))
	}
	for _, o := range s.Owed {
		o.Hash = ref(model.BlockOwed, o.Text).Hash
		b.Owed = append(b.Owed, o.Owed)
	}
	w.refold(nil)
	r.Facts = []model.Fact{{Kind: model.KindBegun, Begun: b}}
	if s.Told.IsZero() && (s.Ask || !m.Ledger.Empty() || unsettled(m.Latched)) {
		r.Facts = append(r.Facts,
			model.Fact{Kind: model.KindWalk, Walk: &model.Walked{What: Resumed}})
	}
	texts := r.Texts
	r, err := w.complete(c, r)
	for h, d := range texts {
		if r.Texts == nil {
			r.Texts = map[string][]byte{}
		}
		r.Texts[h] = d
	}
	return r, err
}

// unsettled tells whether an earlier session left vapour in the air or a sensor unproved: then even
// a look has set-up actions in its plan.
func unsettled(latched model.Condition) bool {
	for v, val := range latched {
		if v.Latched() && val != "" && val != model.Values[v][0] {
			return true
		}
	}
	return false
}

// Resume gives the fact after which the state is asked anew and the ledger counted.
func (w *Walk) Resume(c Context) (Reply, error) {
	return w.complete(c, Reply{Facts: []model.Fact{w.walked(model.Walked{What: Resumed})}})
}

// GiveUp ends the session with a reason; tag and ledger stay on the bench.
func (w *Walk) GiveUp(c Context, why string) (Reply, error) {
	if why == "" {
		return refuse("Say why it is given up."), nil
	}
	facts := w.debts(c)
	if b := w.blockOf(w.unended); b != nil {
		// it was finished; only how the old part was is not said
		facts = append(w.careFacts(c, b), facts...)
	}
	closed := w.closed("given up")
	closed.GivenUp, closed.Why = true, why
	facts = append(facts, model.Fact{Kind: model.KindClosed, Closed: closed})
	if !w.stoppedNow(c.Machine) && !w.untouched() {
		// a stop's tag stays until it is cleared by name
		facts = append(facts,
			model.Fact{Kind: model.KindTag, Tag: &model.TagMove{Kind: model.TagGivenUp, Why: why}})
	}
	return Reply{Facts: facts}, nil
}

// untouched tells whether a session is as it was begun: no step was passed or missed and no page
// came up, or it was all told from paper, and nothing is out, in or flagged, no vapour in the air,
// no sensor to be proved.
func (w *Walk) untouched() bool {
	if !w.Ledger().Empty() || len(w.Ledger().Flags) > 0 || w.Stopped != "" {
		return false
	}
	for v, val := range w.Latched() {
		if val != "" && val != model.Values[v][0] {
			return false
		}
	}
	return w.telling || !slices.ContainsFunc(w.entries, func(e *model.Entry) bool {
		return e.Walk != nil &&
			!slices.Contains([]model.What{Resumed, Paused, Said, Counted, Planned, Noted, Lacking,
				Lacked}, e.Walk.What)
	})
}

func (w *Walk) closed(state string) *model.Closed {
	hands, waited := w.Minutes()
	return &model.Closed{Unplugged: w.Believed[model.Power] == model.Unplugged,
		Stopped: w.Stopped != "", State: state, Ledger: w.Ledger(), Latched: w.Latched(),
		Clocks: w.Clocks, Hands: hands, Waited: waited, Stood: w.stoodAs(), Practice: w.practised()}
}

// debts gives the findings of what is owed when a session ends: proofs that could not be had, parts
// whose renewal was begun and never told of, and a strand left in the toolhead.
func (w *Walk) debts(c Context) []model.Fact {
	var out []model.Fact
	for _, o := range w.owed {
		if o.finding == "" { // else it stands already
			out = append(out, model.Fact{Kind: model.KindFinding,
				Finding: &model.Found{Kind: model.FoundOwed, Text: model.OwedUnderPower + o.step.Words(),
					Procedure: o.proc, Step: o.step.Name, Hash: o.hash, Again: c.Now.AddDate(0, 0,
						1)}})
		}
	}
	for _, p := range w.proofsOwed(c) {
		out = append(out, model.Fact{Kind: model.KindDue,
			Due: &model.FallsDue{Procedure: p.ID,
				Because: "it was left unplugged before this check"}})
	}
	for _, k := range slices.Sorted(maps.Keys(w.renewals)) {
		r := w.renewals[k]
		out = append(out, model.Fact{Kind: model.KindFinding,
			Finding: &model.Found{Kind: model.FoundNote, Procedure: r.block, Step: r.step,
				Text: "Renewing the " + r.part + " was begun. If a new one is in, log the " +
					r.part +
					" as renewed.", Again: c.Now.AddDate(0, 0, 1)}})
	}
	if w.stubUntold() {
		out = append(out, model.Fact{Kind: model.KindFinding,
			Finding: &model.Found{Kind: model.FoundNote,
				Text: "A stub of filament is in the toolhead: draw it out at the next hot window.", Again: c.Now.AddDate(0, 0, 7)}})
	}
	return out
}

// States a machine can be left in.
var States = []string{"ready", "ready with limits", checksOwed, "waiting for part", "out of use"}

// checksOwed is the state of a machine that is whole and without power, and has to be seen to work
// once it is on.
const checksOwed = "checks owed"

// limited is how close-out asks for "ready with limits".
const limited = "limited"

// State is what the machine is left as: what the person named, else what follows from the session.
func (w *Walk) State() string {
	if w.powerLocked() {
		return "out of use"
	}
	if named := w.namedState(); named != "" {
		return named
	}
	if slices.ContainsFunc(w.Blocks, func(b *Block) bool { return b.Status == Parked }) {
		return "waiting for part"
	}
	switch {
	case w.owesAtPower():
		return checksOwed
	case w.limits:
		return "ready with limits"
	}
	return "ready"
}

// namedState is the state the person named at the end, "" where none was.
func (at *progress) namedState() string {
	said, _ := at.AnswerAt(model.CloseOut, handBackState)
	switch {
	case said.Text == limited: // its first letter tells it from ready
		return "ready with limits"
	case slices.Contains(States, said.Text):
		return said.Text
	}
	return ""
}

// notReady says why a machine cannot be named ready: it is stopped, a part is awaited, or something
// is out, in or loose. "" where it can, or something else is asked.
func (w *Walk) notReady(c Context, s *model.Step, says string) string {
	if b := w.Block(); b.ID != model.CloseOut || s.Name != handBackState || says != "ready" &&
		says != limited && says != checksOwed {
		return ""
	}
	owed := strings.Join(w.Owing(c), "; ")
	switch {
	case says == checksOwed && owed == "":
		return "No check under power is owed: say ready, limited, waiting for part or out of use."
	case says != "ready":
	case w.stoppedNow(c.Machine):
		return "It is stopped: say out of use. Its tag is cleared by name once the cause is put right."
	case w.Awaits(c) != "":
		return fmt.Sprintf("It waits for a part: %s. Say waiting for part, or limited or out of use; ready once it is in.", w.Awaits(c))
	}
	l := w.due(w.Ledger())
	delete(l.Flags, stub)
	switch {
	case says == "ready" && w.CodeStands():
		return "A code of the error list stands: say limited or out of use, or go back and put its cause right."
	case says == "ready" && !l.Empty():
		return "It is not ready: " + LedgerLine(l) +
			". Say out of use, or go back and put it right."
	case says != checksOwed && owed != "":
		return "It is not ready before it was seen to work under power. Owed: " + owed +
			". Say checks owed: they are asked for when it is next on."
	}
	return ""
}

// Awaits is the part, or the care, that waits for one: found in this session or before, and not
// renewed since. "" for none.
func (h *history) Awaits(c Context) string {
	var found []model.Finding
	if c.Machine != nil {
		found = append(found, c.Machine.Findings...)
	}
	for _, e := range h.entries {
		if e.Finding != nil {
			found = append(found, model.Finding{At: e.At, Found: *e.Finding})
		}
	}
	for _, f := range found {
		if f.Kind == model.FoundPart && !h.renewedSince(c, f) {
			return cmp.Or(f.Part, f.Procedure)
		}
	}
	return ""
}

// renewedSince tells whether the part a finding waits for was renewed after it was found.
func (h *history) renewedSince(c Context, f model.Finding) bool {
	if f.Part == "" {
		return false
	}
	if c.Machine != nil && c.Machine.Parts[f.Part] != nil &&
		c.Machine.Parts[f.Part].Since.After(f.At) {
		return true
	}
	return slices.ContainsFunc(h.entries, func(e *model.Entry) bool {
		return e.Swap != nil && e.Swap.Part == f.Part && e.At.After(f.At)
	})
}

// close ends the session: everything is back, what is owed becomes findings.
func (w *Walk) close(c Context) (Reply, error) {
	l := w.due(w.Ledger())
	delete(l.Flags, stub)
	if w.powerLocked() {
		delete(l.Flags, lostPiece) // closed without power, it is still looked for
	}
	if !l.Empty() {
		return Reply{}, fmt.Errorf("something is still out or in: count it first")
	}
	state := w.State()
	facts := append(w.debts(c), model.Fact{Kind: model.KindClosed, Closed: w.closed(state)})
	return Reply{Facts: append(facts, w.tagFacts(c, state)...)}, nil
}

// tagFacts gives the tag a machine is left with, or takes one away that no longer holds. The tag of
// a stop stays until it is cleared by name; those that say what the machine lacks go only where the
// person says that it is ready.
func (w *Walk) tagFacts(c Context, state string) []model.Fact {
	kind := map[string]model.TagKind{"waiting for part": model.TagWaiting,
		"ready with limits": model.TagLimits, "out of use": model.TagOutOfUse}[state]
	tag, left := &model.TagMove{Kind: kind, Why: state}, state
	if l := w.limit(); l != "" {
		tag.Why, left = l, state+": "+l
	}
	t := c.Machine
	switch {
	case w.stoppedNow(t):
		return w.outOfUse(c, left)
	case kind != "":
		facts := []model.Fact{{Kind: model.KindTag, Tag: tag}}
		if kind != model.TagWaiting {
			// closing this finding clears the tag; a part waited for has its own
			facts = append(facts,
				model.Fact{Kind: model.KindFinding,
					Finding: &model.Found{Kind: model.FindingKind(kind),
						Text:  "Left " + left + ". Close this once it no longer holds.",
						Again: c.Now.AddDate(0, 0, 7)}})
		}
		return facts
	case t == nil || t.Tag == nil || t.Tag.Kind != model.TagGivenUp && w.namedState() != "ready":
		return nil
	}
	tag.Clear, tag.Kind, tag.Why = true, t.Tag.Kind, "closed: "+w.Title
	facts := []model.Fact{{Kind: model.KindTag, Tag: tag}}
	for _, f := range t.Findings {
		if string(f.Kind) == string(tag.Kind) &&
			(f.Kind == model.FoundLimits || f.Kind == model.FoundOutOfUse) {
			facts = append(facts,
				model.Fact{Kind: model.KindSettled,
					Settled: &model.Settled{Finding: f.ID, Why: tag.Why}})
		}
	}
	return facts
}

// outOfUse is why a stopped machine is left as it is, as it was typed: the tag of the stop stays as
// it is.
func (w *Walk) outOfUse(c Context, left string) []model.Fact {
	if w.limit() == "" {
		return nil
	}
	return []model.Fact{{Kind: model.KindFinding, Finding: &model.Found{Kind: model.FoundNote,
		Procedure: model.CloseOut, Step: stepLimit, Text: "Left " + left + ".",
		Again: c.Now.AddDate(0, 0, 7)}}}
}

// limit is what was said at the end of what the machine may not do, until a part is in too, or why
// it is out of use; "" where another state was named.
func (at *progress) limit() string {
	for _, step := range []string{stepLimit, stepLimitPart, stepUntil} {
		if said, ok := at.AnswerAt(model.CloseOut, step); ok &&
			(step != stepUntil || said.Text == noPrint) {
			return said.Text
		}
	}
	return ""
}

// noPrint is the answer that a machine prints nothing until the part it waits for is in.
const noPrint = "no print before it is in"

// printsNothing tells whether care of this session that waits for a part says that the machine
// prints nothing until then.
func (at *progress) printsNothing() bool {
	return slices.ContainsFunc(at.Blocks, func(b *Block) bool {
		return b.Status == Parked && slices.ContainsFunc(b.Proc.Steps, func(s model.Step) bool {
			return slices.ContainsFunc(s.Misses(), func(m *model.Miss) bool {
				return m.Idle && strings.HasPrefix(b.Why, m.Say)
			})
		})
	})
}

// Elapsed gives the waits that ran out between two instants, so that a bell can ring.
func (rn *running) Elapsed(from, to time.Time) []Running {
	var out []Running
	for _, r := range rn.Waits {
		if r.Until.After(from) && !r.Until.After(to) {
			out = append(out, r)
		}
	}
	return out
}
