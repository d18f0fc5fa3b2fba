package walk

import (
	"slices"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// Offer is a step of a later block that may be done while a wait runs.
type Offer struct {
	Block    *Block
	Step     *model.Step
	Seen     string    // its ordinary answer, as it is written
	Cautions []Shown   // that stand with it
	List     []LayItem // what is to be laid out, where that is the step
}

// Meanwhile gives what may be done while the wait runs that stands before the person: steps that
// name it in their file, change nothing of the machine, and stand behind no hold that is still
// open. An attended wait offers nothing.
func (w *Walk) Meanwhile(c Context) []Offer {
	p := w.Prompt(c.Now)
	if p.Kind != AskWait {
		return nil
	}
	names := w.waitsRunning(c.Now)
	var out []Offer
	for i := w.Cur + 1; i < len(w.Blocks) && len(names) > 0; i++ {
		b := w.ahead(i)
		for _, s := range w.openRows(b) {
			if w.fills(b, s, names) {
				seen, _ := w.ordinary(c, b, s, nil)
				out = append(out, Offer{Block: b, Step: s, Seen: seen, List: w.ListOf(b.ID, s),
					Cautions: w.shown(c, b, []*model.Step{s})})
			}
		}
	}
	return out
}

// ahead gives a block ahead as it will be entered, with the key its progress is kept by.
func (at *progress) ahead(i int) *Block {
	b := *at.Blocks[i]
	if b.key == "" {
		b.key = blockKey(b.ID, at.occur[b.ID])
	}
	if b.ID == layOut {
		b.Proc = at.onceProc(at.Blocks[i])
	}
	return &b
}

// openRows are the steps of a block up to its first hold that are not passed; a hold that is open
// ends them, for what comes behind it rests on it.
func (at *progress) openRows(b *Block) []*model.Step {
	var out []*model.Step
	for i := range b.Proc.Steps {
		s := &b.Proc.Steps[i]
		switch {
		case at.passed[stepKey(b.key, s.Name)] || !at.applies(b, s.Only):
		case s.Rank() == model.Hold:
			return out
		default:
			out = append(out, s)
		}
	}
	return out
}

// waitsRunning names the waits that run, as files name them; none where somebody has to stay and
// watch one.
func (rn *running) waitsRunning(now time.Time) []string {
	var out []string
	for _, r := range rn.Waits {
		if !r.Until.After(now) {
			continue
		}
		if r.Name == "" {
			return nil
		}
		out = append(out, r.Name)
	}
	return out
}

// waitNames are the waits of model.WaitNames by the clock they run from.
var waitNames = map[string]string{"cooling": "cool", "airing": "air"}

// nameOfWait is what files call a wait: by its clock, else by its step; "" where somebody has to
// stay and watch.
func nameOfWait(s *model.Step) string {
	switch name := waitNames[s.Clock]; {
	case s.Attended:
		return ""
	case name != "":
		return name
	}
	return s.Name
}

// fills tells whether a step may be done while waits run: it names one of them, and what it names
// is allowed as the machine stands. Vapour in the air forbids what cooling allows; a machine that
// is hot or live, what only airing allows.
func (w *Walk) fills(b *Block, s *model.Step, waits []string) bool {
	if !s.Untouching() || b.Kind != model.BlockCare && b.ID != layOut ||
		w.Believed[model.Vapour] == model.Drying && !slices.Contains(s.Meanwhile, "air") {
		return false
	}
	dark := w.Believed[model.Heat] == model.Cold && w.powerless()
	if !dark && !slices.Contains(s.Meanwhile, "cool") && !slices.Contains(s.Meanwhile, "map") {
		return false
	}
	if slices.Contains(plan.Bookends, b.ID) && w.usesAhead(b) {
		return false
	}
	if s.Known == model.KnownSupplies && b.ID != layOut &&
		slices.ContainsFunc(w.Blocks, func(x *Block) bool { return x.ID == layOut }) {
		return false // laid out with all else
	}
	return slices.ContainsFunc(s.Meanwhile, func(m string) bool {
		return slices.Contains(waits, m)
	})
}

// usesAhead tells whether work before the paper still uses something up: what is used is settled
// and thrown away behind it.
func (at *progress) usesAhead(paper *Block) bool {
	for _, b := range at.Blocks[min(at.Cur+1, len(at.Blocks)):] {
		if b.ID == paper.ID {
			break
		}
		if b.Kind == model.BlockCare && b.Status == Ahead && len(b.Proc.Supplies) > 0 {
			return true
		}
	}
	return false
}

// AnswerOffer answers what is offered while a wait runs, by its number from 1; "" is its ordinary
// answer. What is done there counts as done when its block comes.
func (w *Walk) AnswerOffer(c Context, n int, text string) (Reply, error) {
	offers := w.Meanwhile(c)
	switch {
	case len(offers) == 0:
		return refuse("Nothing can be done beforehand while this wait runs."), nil
	case n < 1 || n > len(offers):
		return refuse("What can be done meanwhile is 1 to %d.", len(offers)), nil
	}
	o := offers[n-1]
	if text == "" {
		if text = rowAnswer(Row{Step: o.Step, Seen: o.Seen}); text == "" {
			return refuse("%s", wantsAnswer(o.Step)), nil
		}
	}
	return w.complete(c, w.judgeOffer(c, o, text))
}

// judgeOffer judges an answer as if the walk stood at the step already, and books it as done
// beforehand.
func (w *Walk) judgeOffer(c Context, o Offer, text string) Reply {
	at := *w
	at.Blocks = slices.Clone(w.Blocks)
	at.Cur = slices.IndexFunc(w.Blocks, func(b *Block) bool {
		return b.ID == o.Block.ID && b.Status == Ahead
	})
	at.Blocks[at.Cur], at.StepAt = o.Block, stepIndex(o.Block, o.Step.Name)
	if o.Step.Gate == model.Choice {
		return beforehand(o, at.judgeChoice(c, o.Step, text))
	}
	if !model.IsYes(text) {
		return refuse("Answer ok once it is done.")
	}
	return beforehand(o, at.passed1(model.Walked{What: Passed, Answer: "ok"}))
}

// beforehand turns what an answer brings into what it brings before its block has come: it is
// noted, or the block is left out of the session as long as nothing of it was begun. What has to be
// done over, or looked for, belongs to its place.
func beforehand(o Offer, r Reply) Reply {
	for i, f := range r.Facts {
		x := f.Walk
		if x == nil || x.What != Passed && x.What != Missed {
			continue
		}
		switch x.Then {
		case "", model.ThenNote, model.ThenDue, model.ThenAdd:
			x.What, x.How = Early, model.Alone
		case model.ThenPart, model.ThenPro, model.ThenLater:
			*x = model.Walked{What: Lacked, Block: x.Block, ID: x.ID, Step: x.Step,
				Answer: leaveOut, Rows: []string{o.Block.ID}, Why: x.Why}
		case model.ThenStop:
		default:
			return refuse("%s That is asked when its turn comes.", x.Why)
		}
		r.Facts[i].Walk = x
	}
	return r
}

// foldEarly takes a step that was done while a wait ran: its block passes it when it comes.
func (w *Walk) foldEarly(e model.Entry, x *model.Walked) {
	i := slices.IndexFunc(w.Blocks[min(w.Cur, len(w.Blocks)):], func(b *Block) bool {
		return b.ID == x.ID && b.Status == Ahead
	})
	if i < 0 {
		return
	}
	b := w.ahead(w.Cur + i)
	at := stepIndex(b, x.Step)
	if at < 0 {
		return
	}
	s, key := &b.Proc.Steps[at], stepKey(b.key, x.Step)
	w.answers[key] = Answered{At: e.At, Text: x.Answer, Number: x.Number, Action: e.Action}
	w.passed[key] = true
	w.how[key] = passedHow{by: e.By, how: x.How}
	w.foldCautionsOf(b, s)
	switch x.Then {
	case "":
		w.learn(e, b, s, x)
	case model.ThenAdd:
		w.pending = append(w.pending, splitIDs(x.Item)...)
		w.unproved[key] = true
	default:
		w.unproved[key] = true
	}
}
