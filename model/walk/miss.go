package walk

import (
	"strings"

	"bench/oilcan/model"
)

// fail takes a step's miss because the person says it cannot be done.
func (w *Walk) fail(c Context, s *model.Step, text string) Reply {
	if s.Miss == nil {
		return w.refusedFact(text, "This cannot be passed undone: do it, or skip it with a reason, or pause.")
	}
	return w.missFacts(c, w.tried(s.Miss), text, nil, "", "Not done.")
}

// tried gives the miss that holds now: a redo tried often enough gives way to its else.
func (w *Walk) tried(m *model.Miss) *model.Miss {
	for m != nil && m.Then == "redo" {
		tries := m.Tries
		if tries == 0 {
			tries = 3
		}
		if w.tries[w.here()] < tries {
			return m
		}
		if m.Else == nil && w.Block().Kind == "setup" {
			return m // what opens, closes or makes safe is never passed as found
		}
		if m.Else == nil {
			return &model.Miss{Then: "note", Say: strings.TrimSpace(m.Say + " Noted as found after several tries.")}
		}
		m = m.Else
	}
	return m
}

// miss judges a number out of range. What would carry the session elsewhere is taken only when the same
// answer is given twice: a slip of the finger must not park a job.
func (w *Walk) miss(c Context, m *model.Miss, text string, n *float64, unit, say string) Reply {
	m = w.tried(m)
	switch {
	case m == nil:
		return w.refusedFact(text, say+" Put it right, then answer again.")
	case m.Then == "wait":
		return w.refusedFact(text, notTwice(say, m.Say)+" "+orElse(m.Say, "Wait, then read again."))
	case m.Then == "redo" && m.Step == w.Step().Name:
		r := w.refusedFact(text, say+" "+orElse(m.Say, "Do it again, then answer."))
		r.Facts = []model.Fact{w.walked(model.Walked{What: Missed, Then: "redo", To: m.Step, Answer: text, Number: n, Unit: unit, Why: r.Refusal})}
		return r
	case w.again != text || w.again == "":
		return w.refusedFact(text, say+" Look again. If "+text+" is right, type it once more: "+ledTo(m)+".")
	}
	return w.missFacts(c, m, text, n, unit, say)
}

// notTwice leaves the range to the file's own sentence where that begins with it.
func notTwice(say, own string) string {
	if head, _, ok := strings.Cut(say, "; must be"); ok && strings.HasPrefix(own, "Must be") {
		return head + "."
	}
	return say
}

func ledTo(m *model.Miss) string {
	switch m.Then {
	case "stop":
		return "the machine is then stopped and closed without power"
	case "part":
		return "it is then parked, waiting for a part"
	case "pro":
		return "it is then left for a qualified person"
	case "later":
		return "it is then left for later"
	case "find":
		return "the missing piece is then looked for before anything else"
	case "redo":
		return "it then goes back to the step that mends it"
	case "due", "add":
		return "it then passes, and " + strings.Join(m.Procedures, ", ") + " is due"
	}
	return "it then passes with a finding"
}

// missFacts carries out a miss.
func (w *Walk) missFacts(c Context, m *model.Miss, answer string, n *float64, unit, say string) Reply {
	b := w.Block()
	why := orElse(m.Say, say)
	x := model.Walked{What: Missed, Then: m.Then, To: m.Step, Answer: answer, Number: n, Unit: unit, Why: why,
		Item: strings.Join(m.Procedures, ",")}
	f := &model.Found{Kind: m.Then, Text: why, Procedure: b.ID, Step: w.Step().Name, Again: c.Now.AddDate(0, 0, days(m))}
	var facts []model.Fact
	switch m.Then {
	case "wait":
		return w.refusedFact(answer, say+" "+orElse(m.Say, "Wait, then read again."))
	case "stop":
		r := w.stopFacts(why, answer)
		return r
	case "redo", "find":
		return Reply{Facts: []model.Fact{w.walked(x)}, Note: why}
	case "part":
		f.Part = b.Proc.Part
	case "due", "add":
		f.Kind = "note"
		for _, id := range m.Procedures {
			facts = append(facts, model.Fact{Kind: model.KindDue, Due: &model.FallsDue{Procedure: id, Because: b.ID + ": " + why}})
		}
	}
	facts = append([]model.Fact{w.walked(x), {Kind: model.KindFinding, Finding: f}}, facts...)
	if n != nil && w.Step().Gate == model.Measure {
		low, high := w.bounds(c, w.Step())
		facts = append(facts, w.readingFacts(w.Step(), *n, low, high)...)
	}
	return Reply{Facts: facts, Note: why}
}

// days until a finding is looked at again, where its file does not say (common practice: soon for what
// waits or is unsafe, the next sitting for a note).
func days(m *model.Miss) int {
	switch {
	case m.Days > 0:
		return m.Days
	case m.Then == "part", m.Then == "pro", m.Then == "later":
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
