package walk

import (
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// missed is an answer that did not pass its gate.
type missed struct {
	answer string
	number *float64
	unit   string
	say    string // what is wrong with it
	undone bool   // what the step was to do was not done
	over   bool   // more were counted than there can be
	hides  bool   // which number it must be is not told, nor whether more or fewer
}

// fail takes a step's miss because the person says it cannot be done.
func (w *Walk) fail(c Context, s *model.Step, text string) Reply {
	if s.Miss == nil {
		if !w.CanSkip() {
			return w.refusedFact(text, "This cannot be passed undone: do it, or pause.")
		}
		return w.refusedFact(text,
			"This cannot be passed undone: do it, or skip it with a reason, or pause.")
	}
	return w.missFacts(c, s.Miss, missed{answer: text, say: "Not done.", undone: true})
}

// miss judges a number out of range. What would carry the session elsewhere is taken only when the
// same answer is given twice: a slip of the finger must not park a job.
func (w *Walk) miss(c Context, file *model.Miss, x missed) Reply {
	m, _ := w.tried(file)
	switch {
	case w.telling && untellable(m):
		return refuse("%s", x.say+toldElse)
	case m == nil:
		return w.refusedReading(x, x.say+" Put it right, then answer again.")
	case m.Then == model.ThenWait:
		return w.refusedReading(x, notTwice(x.say, m.Say)+" "+
			orElse(m.Say, "Wait, then read again."))
	case m.Then == model.ThenRedo && m.Step == w.Step().Name:
		do := orElse(m.Say, "Do it again, then answer.")
		switch {
		case x.over && x.hides:
			do = "Count again, each one by itself."
		case x.over:
			do = "That is too many: count again."
		}
		r := w.refusedFact(x.answer, x.say+" "+do)
		r.Facts = []model.Fact{w.walked(model.Walked{What: Missed, Then: model.ThenRedo, To: m.Step,
			Answer: x.answer, Number: x.number, Unit: x.unit, Why: r.Refusal})}
		return r
	case !w.saysAgain(x.answer):
		return w.refusedFact(x.answer, x.say+" Look again. If "+x.answer+
			" is right, type it once more: "+w.passesTo(c, m)+".")
	}
	x.undone = true
	return w.missFacts(c, file, x)
}

// saysAgain tells whether an answer is the one refused before: the same word, or the same number
// whether or not its unit stands behind it.
func (w *Walk) saysAgain(text string) bool {
	if text == w.again {
		return text != ""
	}
	was, err := model.ReadNumber(w.again)
	is, err2 := model.ReadNumber(text)
	return err == nil && err2 == nil && !was.Two && !is.Two && was.Value == is.Value &&
		(model.SameUnit(was.Unit, is.Unit) || is.Unit == "")
}

// refusedReading is a gate not passed by what was read; the figure is kept with it.
func (at *progress) refusedReading(x missed, why string) Reply {
	r := at.refusedFact(x.answer, why)
	r.Facts[0].Walk.Number, r.Facts[0].Walk.Unit = x.number, x.unit
	return r
}

// notTwice leaves the range to the file's own sentence where that begins with it.
func notTwice(say, own string) string {
	if head, _, ok := strings.Cut(say, "; it must be"); ok && strings.HasPrefix(own, "Must be") {
		return head + "."
	}
	return say
}

// passesTo says what a miss leads to that is meant: what it makes due is named as its gauge is.
func (at *progress) passesTo(c Context, m *model.Miss) string {
	if m.Then != model.ThenDue && m.Then != model.ThenAdd {
		return at.ledTo(m)
	}
	var names []string
	for _, id := range m.Procedures {
		if p := c.Get(id); p != nil {
			id = p.Called()
		}
		names = append(names, id)
	}
	is := " is due"
	if len(names) > 1 {
		is = " are due"
	}
	return "it then passes, and " + model.Listed(names, "and") + is
}

func (at *progress) ledTo(m *model.Miss) string {
	parks := slices.Contains([]model.Then{model.ThenPart, model.ThenPro, model.ThenLater}, m.Then)
	if parks && at.Block().Kind == model.BlockSetUp {
		if m.Step != "" {
			return "the work that waits for it is then left out of this session"
		}
		return "it then goes on, and the machine is handed back with limits"
	}
	switch m.Then {
	case model.ThenStop:
		return "the machine is then stopped and closed without power"
	case model.ThenPart:
		return "it is then parked, waiting for a part"
	case model.ThenPro:
		return "it is then left for a qualified person"
	case model.ThenLater:
		return "it is then left for later"
	case model.ThenLeftOver:
		return "its place is then looked for before anything else"
	case model.ThenFind:
		return "the missing piece is then looked for before anything else"
	case model.ThenRedo:
		return "it then goes back to the step that mends it"
	}
	return "it then passes with a finding"
}

// cannotJoin says that care which is to join does not fit the machine as far as it is known, ""
// where it does, and where it is known to be for another kind.
func (g *given) cannotJoin(c Context, m *model.Miss) string {
	if m.Then != model.ThenAdd || c.Get == nil {
		return ""
	}
	for _, id := range m.Procedures {
		if p := c.Get(id); p != nil && !p.Fits(g.Features()) &&
			!slices.ContainsFunc(p.Needs, g.Features().Excludes) {
			return fmt.Sprintf(" But %q does not fit what is known of this machine and cannot join: say what it has, on its page.", p.Title)
		}
	}
	return ""
}

// foundText is what a finding says: of a note what was seen of what, before what is to be done.
func foundText(s *model.Step, m *model.Miss, answer, why string) string {
	if m.Then != model.ThenNote || s.Gate != model.Choice || s.Ask == "" ||
		s.Name == handBackState {
		return why
	}
	return strings.TrimSuffix(s.Ask, "?") + ": " + answer + ". " + why
}

// missFacts carries out a miss of a step's file.
func (w *Walk) missFacts(c Context, file *model.Miss, x missed) Reply {
	m, asFound := w.tried(file)
	if w.telling && untellable(m) {
		return refuse("%s", x.say+toldElse)
	}
	b := w.Block()
	why := orElse(m.Say, x.say) + w.cannotJoin(c, m)
	fact := model.Walked{What: Missed, Then: m.Then, To: m.Step, Answer: x.answer, Number: x.number,
		Unit: x.unit, Why: why,
		Item: strings.Join(m.Procedures, ","), Undone: x.undone || asFound}
	f := &model.Found{Kind: model.FindingKind(m.Then), Text: foundText(w.Step(), m, x.answer, why),
		Procedure: subject(b, w.Step()),
		Step:      w.Step().Name, Again: c.Now.AddDate(0, 0, days(m))}
	var facts []model.Fact
	switch m.Then {
	case model.ThenWait:
		return w.refusedFact(x.answer, x.say+" "+orElse(m.Say, "Wait, then read again."))
	case model.ThenStop:
		r := w.stopFacts(why, x.answer)
		r.Facts = append(r.Facts, dueFacts(m, why)...)
		return r
	case model.ThenRedo, model.ThenFind, model.ThenLeftOver:
		return Reply{Facts: []model.Fact{w.walked(fact)}, Note: why}
	case model.ThenPart:
		f.Part = b.Proc.Part
	case model.ThenDue, model.ThenAdd:
		f.Kind, f.Calls = model.FoundNote, slices.Clone(m.Procedures)
		facts = dueFacts(m, why)
	}
	facts = append([]model.Fact{w.walked(fact), {Kind: model.KindFinding, Finding: f}}, facts...)
	if x.number != nil && w.Step().Gate == model.Measure {
		low, high := w.bounds(c, w.Step())
		facts = append(facts, w.readingFacts(w.Step(), *x.number, low, high)...)
	}
	return Reply{Facts: facts, Note: why}
}

// dueFacts makes due what a miss names.
func dueFacts(m *model.Miss, why string) (facts []model.Fact) {
	for _, id := range m.Procedures {
		facts = append(facts, model.Fact{Kind: model.KindDue,
			Due: &model.FallsDue{Procedure: id, Because: why}})
	}
	return facts
}

// days until a finding is looked at again, where its file does not say (common practice: soon for
// what waits or is unsafe, the next session for a note).
func days(m *model.Miss) int {
	switch {
	case m.Days > 0:
		return m.Days
	case m.Then == model.ThenPart, m.Then == model.ThenPro, m.Then == model.ThenLater:
		return 3
	}
	return 30
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// Leads says what an answer to the current step would lead to, where it is more than a note or
// doing it again: it stops, looks for a piece, parks or leaves out. "" where it harms nothing. A
// screen says it before it takes the answer.
func (at *progress) Leads(s *model.Step, says string) string {
	m := missOf(s, says)
	if m == nil {
		return ""
	}
	m, _ = at.tried(m)
	switch m.Then {
	case model.ThenStop, model.ThenFind, model.ThenLeftOver, model.ThenPart, model.ThenPro,
		model.ThenLater:
		return strings.TrimSpace(m.Say+" "+upperFirst(at.ledTo(m))) + "."
	}
	return ""
}

// LeadsTo says what an answer typed now would lead to: see Leads. "" where it harms nothing, or is
// no answer here.
func (w *Walk) LeadsTo(c Context, text string) string {
	text = strings.TrimSpace(text)
	switch p := w.Prompt(c.Now); p.Kind {
	case AskFind:
		if word := strings.ToLower(text); word == "fail" || word == "no" || word == p.Options[1] {
			return upperFirst(w.ledTo(&model.Miss{Then: model.ThenStop})) + "."
		}
	case AskWait:
		n, says, _ := numbered(text)
		if os := w.Meanwhile(c); n >= 1 && n <= len(os) {
			return w.Leads(os[n-1].Step, says)
		}
	case AskStep:
		s, says := p.Step, text
		if pg := w.Page(c); pg != nil {
			s, says = pg.answers(s, text)
		}
		if s != nil {
			return w.Leads(s, says)
		}
	}
	return ""
}

// missOf is what an answer to a step misses by, nil where it passes.
func missOf(s *model.Step, says string) *model.Miss {
	if s.Gate != model.Choice {
		if strings.EqualFold(says, "fail") {
			return s.Miss
		}
		return nil
	}
	if o := option(s.Options, says); o != nil {
		return o.Miss
	}
	return nil
}
