package walk

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// judgeStep judges an answer at a step's gate.
func (w *Walk) judgeStep(c Context, s *model.Step, text string) Reply {
	if strings.EqualFold(text, "fail") && s.Gate != model.Choice {
		return w.fail(c, s, text)
	}
	if r := w.unsafe(c, s, text); r != "" && !w.telling {
		return w.refusedFact(text, r)
	}
	switch s.Gate {
	case model.Confirm:
		if !model.IsYes(text) {
			return refuse("Answer ok once it is done, or fail if it cannot be done.")
		}
		return w.passed1(model.Walked{What: Passed, Answer: "ok"})
	case model.State:
		return w.judgeGateState(c, s, text)
	case model.Measure:
		return w.judgeMeasure(c, s, text)
	case model.Choice:
		return w.judgeChoice(c, s, text)
	case model.Count:
		return w.judgeCount(c, s, text)
	case model.Note:
		if text == "" {
			return refuse("Type the note, or - where there is nothing to say.")
		}
		return w.filed(c, s, text)
	}
	return refuse(
		"This step cannot be answered, for its file has a mistake: skip it, and mend the file.")
}

// filed passes a note, as a finding where the step says so.
func (at *progress) filed(c Context, s *model.Step, text string) Reply {
	r := at.passed1(model.Walked{What: Passed, Answer: text})
	switch {
	case s.Files == "" && (at.Block().ID != model.CloseOut ||
		s.Name != stepLimit && s.Name != stepLimitPart):
	case !strings.ContainsFunc(text, letterOrDigit):
		return refuse("Type it in words: it is read by whoever comes next.")
	case s.Files != "":
		r.Facts = append(r.Facts, model.Fact{Kind: model.KindFinding, Finding: &model.Found{
			Kind: model.FoundNote, Procedure: at.Block().ID, Step: s.Name,
			Text: s.Files + ": " + text, Again: c.Now.AddDate(0, 0, 1)}})
	}
	return r
}

func letterOrDigit(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

func (at *progress) passed1(x model.Walked) Reply {
	return Reply{Facts: []model.Fact{at.walked(x)}}
}

// unsafe holds the interlocks that a step would break, whatever its file says; "" where it breaks
// none.
func (w *Walk) unsafe(c Context, s *model.Step, text string) string {
	b := w.Block()
	if b.Kind == model.BlockCare && w.boundary() {
		if r := w.interlocks(c).Begin(b.Proc); r != "" {
			return sentence(r)
		}
	}
	if b.Kind == model.BlockSetUp {
		if r := w.interlocks(c).OverLedger(b.Proc); r != "" {
			return sentence(r)
		}
	}
	if s.Wets() {
		if r := w.notForVapour(); r != "" {
			return r
		}
	}
	if s.Gate != model.State || s.Variable != model.Power || s.Value != model.On ||
		!strings.EqualFold(text, "on") && !w.isTag(text) {
		return ""
	}
	return sentence(w.interlocks(c).PowerOn(w.owner()))
}

// interlocks is how the machine stands, for the interlocks.
func (w *Walk) interlocks(c Context) plan.Standing {
	return plan.Standing{Features: w.Features(), Believed: w.Believed, Ledger: w.Ledger(),
		Locked: w.stoppedNow(c.Machine), Heated: w.heated, Opened: w.opened}
}

// sentence makes an interlock's reason a sentence.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	return upperFirst(s) + "."
}

func (w *Walk) notForVapour() string {
	fs := w.Features()
	switch {
	case w.Believed[model.Power] != model.Unplugged:
		return "Solvent and flammable gas only with the plug out: unplug first."
	case w.Believed[model.Heat] != model.Cold:
		return "Solvent and flammable gas only on a cold machine: read it under 45 °C first."
	case model.Door.Exists(fs) && w.Believed[model.Door] != model.Open:
		return "Solvent and flammable gas only with the door open: open it first."
	case model.Top.Exists(fs) && w.Believed[model.Top] != model.Off:
		return "Solvent and flammable gas only with the top off: use an electric blower, or take the top off first."
	}
	return ""
}

func (w *Walk) judgeGateState(c Context, s *model.Step, text string) Reply {
	word := strings.ToLower(text)
	if s.Variable == model.Power && w.foundOn(c, s, word) {
		return Reply{Facts: []model.Fact{w.walked(model.Walked{What: Said, Variable: model.Power,
			Answer: word})}}
	}
	if w.cutting() && s.Variable == model.Power && (word == model.Unplugged || w.isTag(text)) {
		word = s.Value // more than was asked; the plug is seen to next
	}
	if w.WantsTag(s) {
		return w.judgeTag(s, text)
	}
	if word == s.Value {
		return w.passed1(model.Walked{What: Passed, Answer: word})
	}
	if !slices.Contains(model.Values[s.Variable], word) {
		return refuse("Say how it is: %s.", model.Listed(model.Values[s.Variable], "or"))
	}
	return w.notAs(s, text, word)
}

// notAs refuses a state that is another one than the gate asks for, and says what to do.
func (w *Walk) notAs(s *model.Step, text, word string) Reply {
	say := fmt.Sprintf("You say %s; it must be %s.", word, s.Value)
	if s.Miss != nil && s.Miss.Then == model.ThenRedo && s.Value != model.Unplugged {
		// the file knows how: in vapour not by the switch
		return w.refusedFact(text, say+" "+s.Miss.Say)
	}
	return w.refusedFact(text, say+" "+stateAdvice(s.Variable, s.Value)+", then answer again.")
}

// atPlug tells whether a gate is one of the plug, not of a switch: it comes out, or goes in.
func (w *Walk) atPlug(s *model.Step) bool {
	return s.Gate == model.State && s.Variable == model.Power && (s.Value == model.Unplugged ||
		w.Believed[model.Power] == model.Unplugged && !w.cutting())
}

// WantsTag tells whether a gate is passed by the id on the plug's tag alone: two machines on one
// strip, and the wrong plug comes out of one that prints, or goes into one with a hand in it.
func (w *Walk) WantsTag(s *model.Step) bool {
	return w.atPlug(s) && w.Begun.Settings[model.PlugTag] != ""
}

// judgeTag judges the id that is read on a plug, in the hand or on its way in.
func (w *Walk) judgeTag(s *model.Step, text string) Reply {
	out := s.Value == model.Unplugged
	switch word := strings.ToLower(text); {
	case w.isTag(text):
		return w.passed1(model.Walked{What: Passed, Answer: s.Value,
			Item: "tag " + w.Begun.Settings[model.PlugTag]})
	case out && (word == model.Unplugged || model.IsYes(word)):
		return refuse("Read the tag on the plug in your hand and type its id.")
	case out:
		return w.refusedFact(text, fmt.Sprintf("The tag you read is %q; this machine's is another. Tell whoever works at that one before its plug goes back; find this machine's, and read its tag.", text))
	case word == s.Value || model.IsYes(word):
		return refuse("Read the tag on the plug that goes in and type its id.")
	case slices.Contains(model.Values[model.Power], word):
		return w.notAs(s, text, word)
	}
	return w.refusedFact(text, fmt.Sprintf("The tag you read is %q; this machine's is another. Leave it out, or pull it again, and tell whoever works at that one; find this machine's plug, and read its tag.", text))
}

// foundOn tells whether a state gate brings out that power is on where it was believed away, over
// vapour or anything out, in or loose.
func (w *Walk) foundOn(c Context, s *model.Step, word string) bool {
	if word != string(model.On) || s.Value == model.On || w.Believed[model.Power] == model.On ||
		w.stoppedNow(c.Machine) {
		return false
	}
	found := w.interlocks(c)
	found.Believed = w.Believed.Clone()
	found.Believed[model.Power] = model.On
	return found.Emergency("") != ""
}

// isTag tells whether an answer is the id on the tag of this machine's plug.
func (g *given) isTag(text string) bool {
	tag := g.Begun.Settings[model.PlugTag]
	return tag != "" && strings.EqualFold(text, tag)
}

func stateAdvice(v model.Variable, val string) string {
	switch string(v) + " " + val {
	case "power unplugged":
		return "Switch off, pull the plug and keep it in your hand"
	case "power off":
		return "Switch it off at the machine's switch"
	case "power on":
		return "Hands clear, switch it on"
	}
	return "Bring " + string(v) + " to " + val
}

func notRead(text string) bool {
	switch strings.ToLower(text) {
	case "not read", "none", "-", "r":
		return true
	}
	return false
}

func (w *Walk) judgeMeasure(c Context, s *model.Step, text string) Reply {
	if s.Optional && notRead(text) {
		return w.passed1(model.Walked{What: Passed, Answer: "not read"})
	}
	if r, ok := w.judgeCounter(c, s, text); ok {
		return r
	}
	t, err := model.ReadNumber(text)
	switch {
	case err != nil && s.Optional:
		return refuse("Type the value in %s, or not read.", s.Unit)
	case err != nil:
		return refuse("Type the value in %s.", s.Unit)
	case !model.SameUnit(t.Unit, s.Unit):
		return refuse("Type the value in %s, not %s.", s.Unit, t.Unit)
	}
	v, err := t.One(possible(c, s))
	if err != nil {
		return refuse("%s.", upperFirst(err.Error()))
	}
	if r := orElse(w.badDegree(c, s, text, v), badReading(c, s, v)); r != "" {
		return w.refusedFact(text, r)
	}
	low, high := w.bounds(c, s)
	if (low != nil && v < *low-1e-9) || (high != nil && v > *high+1e-9) {
		say := fmt.Sprintf("Read %s %s; it must be %s.", model.Figure(v), s.Unit,
			rangeWords(low, high, s.Unit))
		return w.miss(c, s.Miss, missed{answer: text, number: &v, unit: s.Unit, say: say})
	}
	x := model.Walked{What: Passed, Answer: model.Digits(v), Number: &v, Unit: s.Unit}
	return Reply{Facts: append([]model.Fact{w.walked(x)}, w.readingFacts(s, v, low, high)...)}
}

// possible tells which readings of a number can be at a step, by what is certain: a counter only
// grows. Nil where nothing is: the range a measure must lie in says nothing of what was read.
func possible(c Context, s *model.Step) func(v float64) bool {
	if s.Meter == "" {
		return nil
	}
	return func(v float64) bool { return badReading(c, s, v) == "" }
}

func (at *progress) readingFacts(s *model.Step, v float64, low, high *float64) []model.Fact {
	if s.Meter != "" {
		return []model.Fact{{Kind: model.KindReading,
			Reading: &model.Reading{Meter: s.Meter, Value: v, How: "session"}}}
	}
	if s.Gate != model.Measure {
		return nil
	}
	name := s.Record
	if name == "" {
		name = s.Quantity
	}
	return []model.Fact{{Kind: model.KindValue,
		Value: &model.Measured{Name: name, Value: v, Unit: s.Unit,
			Procedure: subject(at.Block(), s), Step: s.Name, Low: low, High: high}}}
}

// subject is the procedure a step belongs to: in what is owed, the one that owes it.
func subject(b *Block, s *model.Step) string {
	if id, _, ok := strings.Cut(s.Name, "."); ok && b.Kind == model.BlockOwed {
		return id
	}
	if b.Kind == model.BlockOwed {
		return heatAct // the holds before proofs that need heat
	}
	return b.ID
}

// bounds is the range a measure must lie in on this machine; nil where there is no limit on a side.
func (w *Walk) bounds(c Context, s *model.Step) (low, high *float64) {
	if s.Near == nil {
		return s.Low, s.High
	}
	ref, ok := w.reference(c, s)
	if !ok {
		return s.Low, s.High // the first reading becomes the record
	}
	d := s.Near.Plus
	if s.Near.Share > 0 {
		d = math.Abs(ref) * s.Near.Share
	}
	lo, hi := ref-d, ref+d
	return &lo, &hi
}

// Bounds is the range of the current step's measure.
func (w *Walk) Bounds(c Context) (low, high *float64) {
	if s := w.Step(); s != nil && s.Gate == model.Measure {
		return w.bounds(c, s)
	}
	return nil, nil
}

func (w *Walk) reference(c Context, s *model.Step) (float64, bool) {
	ref := s.Near.Ref
	set, asked := strings.CutPrefix(ref, "setting:")
	if v, ok := model.SettingNumber(w.Begun.Settings[set]); asked && ok {
		return v, true
	}
	if ref == "last" || asked { // what nobody knows of the machine goes by its own record
		return w.lastBefore(c, cmp.Or(s.Record, s.Quantity))
	}
	if a, ok := w.answers[stepKey(w.Block().key, ref)]; ok && a.Number != nil {
		return *a.Number, true
	}
	return 0, false
}

// lastBefore is the last value of a quantity that was on record when the session began: one read in
// it must not become the measure of its own repetition.
func (g *given) lastBefore(c Context, name string) (float64, bool) {
	if c.Machine == nil {
		return 0, false
	}
	vs := c.Machine.Values[name]
	for i := len(vs) - 1; i >= 0; i-- {
		if vs[i].At.Before(g.Start) {
			return vs[i].Value, true
		}
	}
	return 0, false
}

func rangeWords(low, high *float64, unit string) string {
	switch {
	case low != nil && high != nil && *low == 0:
		return fmt.Sprintf("at most %s %s", model.Figure(*high), unit)
	case low != nil && high != nil:
		return fmt.Sprintf("%s to %s %s", model.Figure(*low), model.Figure(*high), unit)
	case low != nil:
		return fmt.Sprintf("at least %s %s", model.Figure(*low), unit)
	case high != nil:
		return fmt.Sprintf("at most %s %s", model.Figure(*high), unit)
	}
	return "any value"
}

func (w *Walk) judgeChoice(c Context, s *model.Step, text string) Reply {
	o := option(w.offered(s), text)
	if o == nil {
		return refuse("Answer %s.", model.Listed(w.Choices(s), "or"))
	}
	if r := w.notReady(c, s, o.Is); r != "" {
		return w.refusedFact(text, r)
	}
	if w.ListOf(w.Block().ID, s) != nil && !affirms(s, o.Is) {
		return Reply{Facts: []model.Fact{w.walked(model.Walked{What: Lacking})}}
	}
	if o.Miss == nil {
		return w.passed1(model.Walked{What: Passed, Answer: o.Is})
	}
	return w.missFacts(c, o.Miss, missed{answer: o.Is, say: "Judged " + o.Is + "."})
}

// offered are the options of a choice as the power stands and by the care there is: nobody leaves
// the head of a dark machine unpushed because its power is on, nor because of locks that only a
// machine that is packed has in.
func (w *Walk) offered(s *model.Step) []model.Option {
	power := w.Believed[model.Power]
	return slices.DeleteFunc(slices.Clone(s.Options), func(o model.Option) bool {
		return o.Power != "" && power != "" && o.Power != power ||
			o.With != "" && !slices.ContainsFunc(w.Blocks, func(b *Block) bool { return b.ID == o.With })
	})
}

// option finds a choice by its whole word or an unambiguous beginning.
func option(os []model.Option, text string) *model.Option {
	var hit *model.Option
	for i := range os {
		if strings.EqualFold(os[i].Is, text) {
			return &os[i]
		}
		if text != "" && len(text) <= len(os[i].Is) && strings.EqualFold(os[i].Is[:len(text)],
			text) {
			if hit != nil {
				return nil
			}
			hit = &os[i]
		}
	}
	return hit
}
