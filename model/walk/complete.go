package walk

import (
	"fmt"
	"strings"
	"time"

	"bench/oilcan/model"
)

// after gives the walk as it would stand once facts were written now.
func (w *Walk) after(c Context, facts []model.Fact) *Walk {
	next := w.clone()
	next.take(w.pendingEntries(c, facts))
	return next
}

// pendingEntries are the entries that facts would become if they were written now.
func (w *Walk) pendingEntries(c Context, facts []model.Fact) []model.Entry {
	var out []model.Entry
	ord := w.Ordinal
	for _, f := range facts {
		e := model.Entry{At: c.Now, Machine: w.MachineID, Session: w.ID, Action: "pending", Fact: f}
		if model.ClassOf(f.Kind) != model.Dated {
			ord++
			e.Ordinal = ord
		}
		out = append(out, e)
	}
	return out
}

// complete adds to a reply what follows from it: procedures done, parts renewed, stock used, what
// is owed, and the rest planned again where the state is no longer what the plan counted on.
func (w *Walk) complete(c Context, r Reply) (Reply, error) {
	if len(r.Facts) == 0 {
		return r, nil
	}
	w.noteOthers(c, r.Facts)
	next := w.after(c, r.Facts)
	r.Facts = append(r.Facts, w.finished(c, next)...)
	if why := next.alarm(c); why != "" {
		if f, texts, ok := next.cutFact(c, why); ok {
			r.Facts, r.Texts = append(r.Facts, f), texts
			r.Note = "Power is on and " + why + ". Hands out: it is cut before anything else."
			next = w.after(c, r.Facts)
		}
	} else if next.wantsPlan() {
		p, err := next.replan(c)
		if err != nil {
			return Reply{}, err
		}
		r.Facts, r.Texts = append(r.Facts, p.Facts...), p.Texts
		r.Note = strings.TrimSpace(r.Note + " " + p.Note)
		next = w.after(c, r.Facts)
	}
	r.Facts = append(r.Facts, saidAnew(c, r.Facts)...)
	r.Facts = append(r.Facts, c.Machine.Remedied(r.Facts, c.Now)...)
	for i := len(r.Facts) - 1; i >= 0; i-- {
		if x := r.Facts[i].Walk; x != nil {
			x.Position = next.Position()
			l := next.Ledger()
			x.Ledger, x.Latched = &l, next.Latched()
			break
		}
	}
	return r, nil
}

// finished gives the facts of what was completed between two stands of the walk. Care that renewed
// a part is on record once it is said how the old one was, in one action with the swap.
func (w *Walk) finished(c Context, next *Walk) []model.Fact {
	var out []model.Fact
	if b := next.blockOf(w.unended); b != nil && next.unended == nil {
		out = append(out, next.careFacts(c, b)...)
	}
	for i, b := range next.Blocks {
		if i < w.Cur || i >= next.Cur ||
			(i < len(w.Blocks) && w.Blocks[i].Status != Ahead && i != w.Cur) {
			continue
		}
		switch {
		case b.Kind == model.BlockOwed:
			out = append(out, next.proved(w.owed, b)...)
		case b.Kind == model.BlockCare && b.Status != Omitted &&
			(next.unended == nil || next.unended.key != b.key):
			out = append(out, next.careFacts(c, b)...)
		}
	}
	return append(out, settledOwed(w.owed, next.owed)...)
}

// proved gives the facts that pay the proofs owed: of each procedure whose proofs were all seen to
// be good. Set-up actions have no gauge to set.
func (w *Walk) proved(owed []owedStep, b *Block) []model.Fact {
	var out []model.Fact
	seen := map[string]bool{}
	for _, o := range owed { // what was passed over, or seen to fail, pays nothing
		if k := stepKey(b.key, o.name()); w.failed(o.proc) || !w.passed[k] || w.skips[k] != "" {
			seen[o.proc] = true
		}
	}
	for _, o := range owed {
		if !seen[o.proc] && w.setUp(o.proc) == nil {
			seen[o.proc] = true
			out = append(out, model.Fact{Kind: model.KindCare,
				Care: &model.CareDone{Procedure: o.proc, Outcome: model.OutcomeProved}})
		}
	}
	return out
}

func (at *progress) careFacts(c Context, b *Block) []model.Fact {
	care := &model.CareDone{Procedure: b.ID, Outcome: model.OutcomeDone, CountsAs: b.Proc.CountsAs,
		Why: b.Why}
	if care.Found, care.Together = at.met(b); b.Status != Done {
		care.Outcome, care.CountsAs, care.Found, care.Together = model.OutcomePart, nil, "", false
	}
	if b.Status == Parked { // nothing is owed for what was not done; what was counted in is used
		return append([]model.Fact{{Kind: model.KindCare, Care: care}}, at.used(c, b)...)
	}
	var out []model.Fact
	for _, l := range b.Proc.Later {
		switch {
		case !at.applies(b, l.Only) || at.doneHere(l.Covered):
		case l.When == model.LaterProof:
			care.ProofOwed = true
		default:
			out = append(out, model.Fact{Kind: model.KindFinding,
				Finding: &model.Found{Kind: model.FoundOwed,
					Text: l.Step.Words(), Procedure: b.ID, Step: l.Name,
					Again: laterDate(c.Now, l.When)}})
		}
	}
	if b.Proc.Kind != model.Bookend {
		out = append([]model.Fact{{Kind: model.KindCare, Care: care}}, out...)
	}
	if why := at.dueAgain(b); why != "" { // being done does not settle it
		out = append(out, model.Fact{Kind: model.KindDue,
			Due: &model.FallsDue{Procedure: b.ID, Because: why}})
	}
	return append(out, at.used(c, b)...)
}

// laterDate is when what is owed later is looked at: hours of printing count as days of three hours
// (common practice at home duty: ten to twenty hours a week).
func laterDate(now time.Time, when string) time.Time {
	var n int
	switch {
	case when == model.LaterNextDay:
		return now.AddDate(0, 0, 1)
	case strings.HasSuffix(when, "min"):
		_, _ = fmt.Sscanf(when, "%d", &n)
		return now.Add(time.Duration(n) * time.Minute)
	case strings.HasSuffix(when, "h"):
		_, _ = fmt.Sscanf(when, "%d", &n)
		return now.AddDate(0, 0, max(1, n/3))
	}
	return now.AddDate(0, 0, 7)
}

// Auto gives the facts that need no person now: a plan to be laid, a wait to begin or that ran out,
// the session's end. A caller writes them and asks again until there are none.
func (w *Walk) Auto(c Context) (Reply, error) {
	if k := w.Prompt(c.Now).Kind; k == AskStep {
		if w.telling {
			return Reply{}, nil // each row is told by a person
		}
		return w.autoStep(c)
	} else if k != AskNone {
		return Reply{}, nil
	}
	if w.telling && !w.needs && w.Block() == nil {
		return w.complete(c, Reply{Facts: []model.Fact{w.walked(model.Walked{What: Told,
			Why: "how the machine stands is asked as of now"})}})
	}
	if w.needs && !w.cutting() {
		p, err := w.planned(c)
		if err != nil {
			return Reply{}, err
		}
		r, err := w.complete(c, p)
		if len(p.Texts) > 0 {
			r.Texts = p.Texts
		}
		return r, err
	}
	s := w.Step()
	if s == nil {
		return w.close(c)
	}
	if s.Gate == model.Wait {
		return w.complete(c, w.waitFacts(c, s))
	}
	return Reply{}, nil
}

// autoStep passes a step whose answer is known, and brings up the page it stands on.
func (w *Walk) autoStep(c Context) (Reply, error) {
	x := w.knownAnswer(c)
	if x == nil {
		x = w.pageFact(c)
	}
	if x == nil {
		return Reply{}, nil
	}
	return w.complete(c, Reply{Facts: []model.Fact{w.walked(*x)}})
}

// ranOut is what passes a wait that stood before a person; one that had run out before it was come
// to is passed by other words.
const ranOut = "ran out"

// waitFacts begins the wait of the current step, or passes it where it has run out.
func (w *Walk) waitFacts(c Context, s *model.Step) Reply {
	for _, r := range w.Waits {
		if r.Key == w.here() {
			return w.passed1(model.Walked{What: Passed, Answer: ranOut, Auto: true})
		}
	}
	from := c.Now
	if s.Clock != "" {
		started, ok := w.Clocks[s.Clock]
		switch {
		case !ok && s.Clock == unpluggedClock:
			// when the plug came out is not known: it counts from now
		case !ok && s.Clock == model.Airing && w.Believed[model.Vapour] == model.Drying:
			// the clock stood still; door and top are open now, or this step would not have been
			// reached
		case !ok:
			return w.passed1(model.Walked{What: Passed, Answer: "nothing to wait for", Auto: true})
		default:
			from = started
		}
	}
	until := from.Add(time.Duration(s.Seconds) * time.Second)
	if !until.After(c.Now) {
		return w.passed1(model.Walked{What: Passed, Answer: "had run out", Auto: true})
	}
	return Reply{Facts: []model.Fact{w.walked(model.Walked{What: Waiting, Until: until})}}
}
