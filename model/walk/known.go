package walk

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// known is what an answer made known, and the answer it rests on.
type known struct {
	at    time.Time
	block string // key of the block
	step  string
	text  string
	n     *float64
	unit  string
	ids   []string // of what is laid out: the procedures it is for
}

// zeroFor is how long targets read as zero hold on a live machine, which a remote sender may
// command at any time; the wait for cooling does not count against it.
const zeroFor = 10 * time.Minute

// readCold is what a hot end read cold makes known; a lamp or a filter holder beside it passes by
// that from lampCools after the plug came out (common practice).
const (
	readCold  = "cold"
	lampCools = 10 * time.Minute
)

// harmless are what any row of a page may make known: wrong, only the machine suffers. Everything
// else guards a person, and is made known by a step that stands alone or wants its own key, never
// by one passed together with others.
var harmless = []string{"strand", "tube-clear", "plate", "corners", "supplies"}

// learn takes what the answer of a step makes known, after what its passing makes stale.
func (w *Walk) learn(e model.Entry, b *Block, s *model.Step, x *model.Walked) {
	w.staleByStep(b, s)
	if s.Known == "" || x.Auto || x.How == model.OnPaper || s.Known == model.KnownSupplies &&
		b.ID != layOut {
		return
	}
	if !affirms(s, x.Answer) {
		return
	}
	if s.Known == fitted || s.Rank() == model.PlainLine && !slices.Contains(harmless, s.Known) ||
		s.Known == readCold && !readsHotEnd(s) {
		return
	}
	k := known{at: e.At, block: b.key, step: s.Name, text: x.Answer, n: x.Number, unit: x.Unit}
	switch s.Known {
	case model.KnownSupplies:
		k.ids = w.suppliedIDs()
	case model.KnownBlocks:
		k.n = nil // how many were drawn says nothing of how many stand
	}
	w.known[s.Known] = k
}

// affirms tells whether an answer that passed says what the step makes known: of a choice its
// ordinary answer, else the first; where it is decided anew each time, what was decided.
func affirms(s *model.Step, answer string) bool {
	switch {
	case s.Gate != model.Choice, s.Decision, s.Known == model.KnownBlowWith:
		return true
	case len(s.Seen) > 0:
		return answer == s.Seen[0].Is
	}
	return len(s.Options) > 0 && answer == s.Options[0].Is
}

// knownAnswer gives the fact that passes the current step by what is known already; nil where it
// has to be asked.
func (w *Walk) knownAnswer(c Context) *model.Walked {
	b, s := w.Block(), w.Step()
	if s == nil || s.Known == "" || askedAnew(b, s) {
		return nil
	}
	if b.Kind == model.BlockCare && w.boundary() && w.interlocks(c).Begin(b.Proc) != "" {
		return nil // it cannot begin as the machine stands, and says so to the first answer
	}
	if at := w.deferred(b, s); at != nil {
		return w.passKnown(s, known{}, "asked once, before it closes: "+at.Title)
	}
	if s.Known == model.KnownNoPrint && w.printsNothing() {
		return w.passKnown(s, known{text: noPrint}, KnownWords(s.Known))
	}
	if s.Known == fitted && w.nothingFitted(c.Machine) || s.Known == codes && !w.codesShown() {
		return w.passKnown(s, known{text: saysNothing}, KnownWords(s.Known))
	}
	k, ok := w.known[s.Known]
	if !ok || k.madeBy(b, s) || s.Known == model.KnownSupplies && !slices.Contains(k.ids, b.ID) ||
		!w.holdsStill(s, k, c.Now) || w.changedElsewhere(c, s.Known, k) {
		return nil
	}
	return w.passKnown(s, k, fmt.Sprintf("%s: %s", KnownWords(s.Known), k.said()))
}

// madeBy tells whether what is known was answered in the block itself: there it is asked once more,
// save among proofs, which come from more than one file.
func (k known) madeBy(b *Block, s *model.Step) bool {
	return k.block == b.key && (b.Kind != model.BlockOwed || k.step == s.Name)
}

// What the journal itself tells. fitted is what is asked of parts that were fitted: nothing where no
// work of the session was on a part. codes is what is asked of the codes that were read before the
// work: nothing where there were none, or nobody read the list.
const (
	fitted = "fitted"
	codes  = "codes"
)

// The steps of model.AsFound that read the error list and have its codes typed, and the answer
// where codes stand there.
const (
	stepErrors = "errors"
	stepCode   = "code"
	stepMeans  = "code-means"
	saysCodes  = "codes shown"
	saysNone   = "no errors"
)

// Answers of the step codes of model.CloseOut: where none had to be put right, and where one is not.
const (
	saysNothing = "nothing to put right"
	codeStands  = "one stands"
)

// CodeStands tells that a code of the error list was said not to be put right.
func (w *Walk) CodeStands() bool {
	return w.answers[stepKey(w.Block().key, codes)].Text == codeStands
}

// codesShown tells whether codes stood in the error list when it was read last in this session.
func (h *history) codesShown() bool {
	shown := false
	for _, e := range h.entries {
		if x := e.Walk; x != nil && x.ID == model.AsFound && x.Step == stepErrors &&
			(x.What == Passed || x.What == Missed) {
			shown = x.Answer == saysCodes
		}
	}
	return shown
}

// nothingFitted tells whether no step of care about a part was gone through, in whatever plan it
// stood, and no part of the machine was logged as renewed since the session began: a swap in a pause
// is one.
func (w *Walk) nothingFitted(m *model.Machine) bool {
	if m != nil {
		for _, p := range m.Parts {
			if p.Since.After(w.Start) {
				return false
			}
		}
	}
	parts := map[string]bool{}
	for _, p := range w.texts {
		parts[p.ID] = parts[p.ID] || p.Part != "" && p.Kind != model.SetUp
	}
	return !slices.ContainsFunc(w.entries, func(e *model.Entry) bool {
		return e.Walk != nil && parts[e.Walk.ID] && (e.Walk.What == Passed || e.Walk.What == Missed)
	})
}

// askedAnew tells whether a step makes something known and never passes by it: before it is handed
// back a machine under power is read anew, and its parts are counted whenever power comes.
func askedAnew(b *Block, s *model.Step) bool {
	return s.Name == HeatOff || b.ID == plugIn && s.Known == model.KnownWhole
}

// deferred gives the set-up action before which what is still inside is asked of all work since the
// opening, where nothing moves, heats or gets power until then; nil where it has to be asked here.
func (at *progress) deferred(b *Block, s *model.Step) *model.Procedure {
	if !strings.HasPrefix(s.Known, "inside-") || b.Kind != model.BlockCare {
		return nil
	}
	for i := at.Cur; i < len(at.Blocks); i++ {
		next := at.Blocks[i]
		for j := range next.Proc.Steps {
			x := &next.Proc.Steps[j]
			switch {
			case i == at.Cur && j <= at.StepAt:
			case next.Kind == model.BlockSetUp && x.Known == s.Known && x.Rank() == model.Hold:
				return next.Proc
			case len(x.Drives) > 0, x.Own, x.Gate == model.State && x.Variable == model.Power:
				return nil
			}
		}
	}
	return nil
}

// passKnown is the fact that passes a step by what is known; nil where its answer does not follow
// from it.
func (w *Walk) passKnown(s *model.Step, k known, why string) *model.Walked {
	x := &model.Walked{What: Passed, How: model.AsKnown, Auto: true, Why: why}
	switch s.Gate {
	case model.Confirm:
		x.Answer = "ok"
	case model.Note:
		x.Answer = "-"
	case model.Choice:
		x.Answer = passing(s, k.text)
	case model.State:
		if w.Believed[s.Variable] != s.Value {
			return nil
		}
		x.Answer = s.Value
	case model.Measure:
		if k.n == nil || !model.SameUnit(k.unit, s.Unit) || !within(*k.n, s) {
			return nil
		}
		x.Answer, x.Number, x.Unit = model.Digits(*k.n), k.n, s.Unit
	case model.Count:
		n, has := w.wanted(s)
		if none := s.Known == model.KnownBlocks && n == 0; !has && !none {
			return nil
		}
		v := float64(n)
		x.Answer, x.Number = model.Digits(v), &v
	}
	if x.Answer == "" {
		return nil
	}
	return x
}

// passing is the option that a known answer passes a choice by: the same word, else the ordinary
// one, else the one that passes; "" where more than one could.
func passing(s *model.Step, text string) string {
	var pass []string
	if option(s.Options, text) == nil && len(s.Seen) > 0 {
		return s.Seen[0].Is
	}
	for _, o := range s.Options {
		switch {
		case o.Miss != nil:
		case o.Is == text:
			return o.Is
		default:
			pass = append(pass, o.Is)
		}
	}
	if len(pass) == 1 {
		return pass[0]
	}
	return ""
}

func within(v float64, s *model.Step) bool {
	return s.Near == nil && (s.Low == nil || v >= *s.Low) && (s.High == nil || v <= *s.High)
}

func (k known) said() string {
	text := ""
	if k.n != nil {
		text = model.Figure(*k.n)
		if k.unit != "" {
			text += " " + k.unit
		}
		text += ", "
	}
	return text + "answered at " + k.at.Format("15:04")
}

// holdsStill tells whether what is known has not run out by time.
func (rn *running) holdsStill(s *model.Step, k known, now time.Time) bool {
	switch s.Known {
	case targetsZero:
		return now.Sub(k.at)-rn.waitedOut(k.at, now) <= zeroFor
	case readCold:
		out, ok := rn.Clocks[unpluggedClock]
		return readsHotEnd(s) || ok && now.Sub(out) >= lampCools
	}
	return true
}

// readsHotEnd tells whether a step reads the hot end, the hottest there is: nothing else that is
// cold says that it is.
func readsHotEnd(s *model.Step) bool {
	t, _ := model.TemperatureOf(s.Quantity)
	return slices.Contains(t.Places, model.HotEnd)
}

// waitedOut is how much of the time between two instants went by in waits that were begun in it.
func (rn *running) waitedOut(from, to time.Time) time.Duration {
	var sum time.Duration
	for at, i := from, 0; i < len(rn.Waits); i++ { // in the order they were begun
		r := rn.Waits[i]
		begun, end := r.Begun, r.Until
		if begun.Before(from) {
			continue
		}
		if begun.Before(at) {
			begun = at
		}
		if end.After(to) {
			end = to
		}
		if end.After(begun) {
			sum, at = sum+end.Sub(begun), end
		}
	}
	return sum
}

// changedElsewhere tells whether something was written of this machine, since an answer, by another
// than this session. What was laid out lies there still.
func (h *history) changedElsewhere(c Context, name string, k known) bool {
	m := c.Machine
	if name == model.KnownSupplies || m == nil || !m.LastAt.After(k.at) {
		return false
	}
	return !slices.ContainsFunc(h.entries, func(e *model.Entry) bool { return e.At.Equal(m.LastAt) })
}

// noteOthers writes into the facts of an action that somebody else wrote of the machine since
// something became known: the session's own next entry would hide it.
func (w *Walk) noteOthers(c Context, facts []model.Fact) {
	i := slices.IndexFunc(facts, func(f model.Fact) bool { return f.Walk != nil })
	if i < 0 {
		return
	}
	for name, k := range w.known {
		facts[i].Walk.Others = facts[i].Walk.Others || w.changedElsewhere(c, name, k)
	}
}

// stale names what an event makes unknown again. Reviewed as a safety table: what is not named here
// stays known over the event, and each row has its test.
var stale = map[string][]string{
	// power or plug comes, an owned exception too
	"power": {"against", "rests", "targets-zero", "cold", "plugs", "strand", "tube-clear", "plate",
		"corners", "fins-fan", "inside-head", "inside-chamber", "inside-changer"},
	// a heater's target is set, or the machine is found hot
	"heat": {"targets-zero", "cold", "strand", "tube-clear"},
	// filament is cut at the head: a stub stays in it
	"stub": {"strand"},
	// something moves by itself
	"motion": {"rests", "plate", "corners"},
	// a cover, a lid or a door opens
	"opening":         {"whole", "corners", "tools", "fins-fan"},
	"closing":         {"corners"},
	"opening-head":    {"inside-head"},
	"opening-changer": {"inside-changer"},
	"opening-chamber": {"inside-chamber"},
	// something is taken out of the machine, or put into it
	"moved": {"whole", "corners", "inside-head", "inside-chamber", "inside-changer"},
	// a fastener is turned
	"fastener": {"corners"},
	// what is wetted or blown with comes in
	"solvent": {"wipes-out"},
	"block":   {"blocks", "rests"},
	"plate":   {"plate", "rests"},
	// a stop, a break, another operator, an entry from elsewhere
	"break": {"against", "rests", "targets-zero", "cold", "plugs", "strand", "tube-clear",
		"blow-with", "wipes-out", "inside-head", "inside-chamber",
		"inside-changer", "tools", "plate", "corners", "whole", "blocks", "fins-fan", "alarm",
		model.KnownNoPrint},
}

// staleByStep forgets what passing a step may have changed.
func (w *Walk) staleByStep(b *Block, s *model.Step) {
	if slices.Contains(s.Drives, "heat") {
		w.unlearn("heat")
	}
	if slices.Contains(s.Drives, "motion") {
		w.unlearn("motion")
	}
	if s.Own && s.Drives == nil {
		w.unlearn("motion")
		w.unlearn("heat")
	}
	if s.Fastener != nil {
		w.unlearn("fastener")
	}
	for _, m := range []map[string]model.Amount{s.Out, s.In, s.Back, s.Taken} {
		for item := range m {
			w.staleByItem(s, item)
		}
	}
	if s.Set[stub] != "" && s.Set[stub] != string(model.Clear) {
		w.unlearn("stub")
	}
	if s.Wets() {
		w.unlearn("solvent")
	}
	if c := b.Proc.Change; b.Kind == model.BlockSetUp && c != nil && w.lastBlock() != b.key {
		w.staleByAccess(c.Variable, c.To)
	}
}

// staleByBreak forgets what no break leaves known: half an hour without an answer and without a
// wait, another operator, an entry from elsewhere, a stop.
func (w *Walk) staleByBreak(e model.Entry) {
	other := w.LastBy != e.By && w.Ordinal > 1
	if w.Interrupted(e.At) || other || e.Walk != nil && (e.Walk.Others || e.Walk.What == Resumed ||
		e.Walk.What == Paused || e.Walk.Then == model.ThenStop) {
		w.unlearn("break")
	}
}

// knownWords are what answers make known, as a person reads it.
var knownWords = map[string]string{
	"against": "nothing speaks against power", "rests": "the bed rests",
	"targets-zero": "targets zero", "cold": "read cold", "plugs": "plugs out, in sight",
	"strand": "no filament in the head", "tube-clear": "no filament in the tubes",
	"supplies": "laid out", "blow-with": "what blows", "wipes-out": "wipes out",
	"inside-head":    "nothing left in the head",
	"inside-chamber": "nothing left in the chamber",
	"inside-changer": "nothing left in the changer", "tools": "tools counted",
	"plate":   "plate on its stops",
	"corners": "head free to all corners", "whole": "parts back in place",
	"blocks": "no block inside", "fins-fan": "the fan on the fins runs",
	"fitted": "no part was fitted", "alarm": "alarm and extinguisher looked at",
	"codes":            "no code was read at the start",
	model.KnownNoPrint: "nothing is printed until the part is in",
}

// KnownWords says what is known, in a few words.
func KnownWords(name string) string { return knownWords[name] }

// PassedKnown are the sentences of what passed by itself since the last answer of a person, oldest
// first.
func (h *history) PassedKnown() []string {
	var out []string
	for i := len(h.entries) - 1; i >= 0; i-- {
		x := h.entries[i].Walk
		if x == nil {
			continue
		}
		if x.What == Passed && x.How == model.AsKnown {
			out = append(out, x.Why)
			continue
		}
		if !x.Auto && slices.Contains([]model.What{Passed, Missed, Said, Counted, Skipped, Resumed},
			x.What) {
			break
		}
	}
	slices.Reverse(out)
	return slices.Compact(out)
}
