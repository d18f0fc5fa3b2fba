package walk

import (
	"fmt"
	"slices"
	"time"

	"bench/oilcan/model"
)

// Start is what a session is begun with. Items and SetUps are resolved for the machine.
type Start struct {
	Title  string
	Items  []*model.Procedure
	SetUps []*model.Procedure
	Ask    bool // the plan opens or powers the machine: its state is asked first
	// Closing and Locked: see model.Begun.
	Closing, Locked bool
}

// Begin gives the facts that begin a session on a machine.
func Begin(c Context, s Start) (Reply, error) {
	m := c.Machine
	b := &model.Begun{Title: s.Title, Features: m.Features, Settings: m.Settings, Ledger: m.Ledger, Latched: m.Latched,
		Closing: s.Closing, Locked: s.Locked}
	w := &Walk{texts: map[string]*model.Procedure{}}
	r := Reply{Texts: map[string][]byte{}}
	ref := func(kind string, p *model.Procedure) model.BlockRef {
		hash, data := model.Text(p)
		r.Texts[hash], w.texts[hash] = data, p
		return model.BlockRef{Kind: kind, ID: p.ID, Hash: hash}
	}
	for _, p := range s.Items {
		b.Items = append(b.Items, ref("care", p))
	}
	for _, p := range s.SetUps {
		b.SetUps = append(b.SetUps, ref("setup", p))
	}
	w.refold(nil)
	r.Facts = []model.Fact{{Kind: model.KindBegun, Begun: b}}
	if s.Ask || !m.Ledger.Empty() {
		r.Facts = append(r.Facts, model.Fact{Kind: model.KindWalk, Walk: &model.Walked{What: Resumed}})
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
	closed := w.closed("given up")
	closed.GivenUp, closed.Why = true, why
	facts = append(facts, model.Fact{Kind: model.KindClosed, Closed: closed})
	if w.Stopped == "" {
		facts = append(facts, model.Fact{Kind: model.KindTag, Tag: &model.TagMove{Kind: "given-up", Why: why}})
	}
	return Reply{Facts: facts}, nil
}

func (w *Walk) closed(state string) *model.Closed {
	hands, waited := w.Minutes()
	return &model.Closed{Stopped: w.Stopped != "", State: state, Ledger: w.Ledger(), Latched: w.Latched(),
		Clocks: w.Clocks, Hands: hands, Waited: waited}
}

// debts gives the findings of what is owed when a session ends: proofs that could not be had, and a
// strand left in the toolhead.
func (w *Walk) debts(c Context) []model.Fact {
	var out []model.Fact
	for _, o := range w.owed {
		out = append(out, model.Fact{Kind: model.KindFinding, Finding: &model.Found{Kind: "owed", Text: o.step.Do,
			Procedure: o.proc, Step: o.step.Name, Again: c.Now.AddDate(0, 0, 1)}})
	}
	if w.flags["strand"] != "" {
		out = append(out, model.Fact{Kind: model.KindFinding, Finding: &model.Found{Kind: "note",
			Text: "A stub of strand is in the toolhead: draw it out at the next hot window.", Again: c.Now.AddDate(0, 0, 7)}})
	}
	return out
}

// States a machine can be left in.
var States = []string{"ready", "ready with limits", "waiting for part", "out of use"}

// State is what the machine is left as: what the person named, else what follows from the session.
func (w *Walk) State() string {
	if w.Stopped != "" {
		return "out of use"
	}
	for k, a := range w.answers {
		if len(k) > 9 && k[:9] == "close-out" && slices.Contains(States, a.Text) {
			return a.Text
		}
	}
	if slices.ContainsFunc(w.Blocks, func(b *Block) bool { return b.Status == Parked }) {
		return "waiting for part"
	}
	if w.limits {
		return "ready with limits"
	}
	return "ready"
}

// close ends the session: everything is back, what is owed becomes findings.
func (w *Walk) close(c Context) (Reply, error) {
	l := w.Ledger()
	delete(l.Flags, "strand")
	if !l.Empty() {
		return Reply{}, fmt.Errorf("something is still out or in: count it first")
	}
	state := w.State()
	facts := append(w.debts(c), model.Fact{Kind: model.KindClosed, Closed: w.closed(state)})
	tag := &model.TagMove{Why: state}
	switch state {
	case "waiting for part":
		tag.Kind = "waiting"
	case "ready with limits":
		tag.Kind = "limits"
	case "out of use":
		tag.Kind = "out-of-use"
	}
	t := c.Machine
	switch {
	case w.Stopped != "" || w.Begun.Locked: // the stop's own tag stays until it is cleared by name
	case tag.Kind != "":
		facts = append(facts, model.Fact{Kind: model.KindTag, Tag: tag})
		if tag.Kind != "waiting" { // closing this finding clears the tag; a part waited for has its own
			facts = append(facts, model.Fact{Kind: model.KindFinding, Finding: &model.Found{Kind: tag.Kind,
				Text: "Left " + state + ": close this once it no longer holds.", Again: c.Now.AddDate(0, 0, 7)}})
		}
	case t != nil && t.Tag != nil && t.Tag.Kind != "stopped":
		tag.Clear, tag.Why = true, "closed: "+w.Title
		facts = append(facts, model.Fact{Kind: model.KindTag, Tag: tag})
	}
	return Reply{Facts: facts}, nil
}

// Elapsed gives the waits that ran out between two instants, so that a bell can ring.
func (w *Walk) Elapsed(from, to time.Time) []Running {
	var out []Running
	for _, r := range w.Waits {
		if r.Until.After(from) && !r.Until.After(to) {
			out = append(out, r)
		}
	}
	return out
}
