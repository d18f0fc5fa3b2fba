package procedures

import (
	"fmt"
	"strconv"

	"bench/oilcan/model"
)

// plain writes a number as a file has it, every decimal of it.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// step reads [[step]]; the step of a [[later]] may go without name and gate.
func (t *table) step(later bool) model.Step {
	s := model.Step{Do: t.need("do", `"Wipe the rod."`), Why: t.text("why"), Only: t.only(),
		Ask: t.text("ask"), Own: t.truth("own"), Record: t.text("record")}
	if later {
		s.Name = t.text("name")
	} else {
		s.Name = t.need("name", `"wipe"`)
	}
	if later && t.n.find("gate") == nil {
		t.get("gate")
		s.Gate = model.Confirm
	} else {
		s.Gate = model.Gate(t.oneOf("gate", "gate", gateWords))
	}
	t.stepGate(&s)
	s.Out, s.Back = t.amounts("out"), t.amounts("back")
	s.In, s.Taken = t.amounts("in"), t.amounts("taken")
	s.Set = t.flags()
	s.Starts = t.words("starts", "clock", clockWords)
	if n := t.get("miss"); n != nil {
		s.Miss = t.r.miss(n)
	}
	t.inner("fastener", func(q *table) { s.Fastener = q.fastener() })
	t.stepPage(&s)
	return s
}

// stepPage reads the keys that say how a step stands on a page and is passed.
func (t *table) stepPage(s *model.Step) {
	s.Alone, s.OwnKey, s.Beside = t.truth("alone"), t.truth("own_key"), t.truth("beside")
	s.Line, s.Seen, s.Files = t.text("line"), t.seen(), t.text("files")
	s.Decision, s.Attended, s.AfterWork = t.truth("decision"), t.truth("attended"), t.truth(
		"after_work")
	s.Drives = t.words("drives", "drive", model.Drives)
	if s.Drives == nil && t.n.find("drives") != nil {
		s.Drives = []string{} // written and empty: nothing moves or heats
	}
	s.Meanwhile = t.words("meanwhile", "wait", model.WaitNames)
	s.Known = t.mayBe("known", "thing to know", model.KnownNames)
}

// seen reads a step's ordinary answer: a text, or a list of { is = "…", only = … }.
func (t *table) seen() []model.Seen {
	if n := t.get("seen"); n != nil && n.kind == isText {
		return []model.Seen{{Is: t.textOf("seen", n)}}
	}
	var out []model.Seen
	for _, it := range t.items("seen",
		`the ordinary answer in quotes, or a list of { is = "…", only = … }`) {
		if q := t.r.table(it, `"seen"`, nil); q != nil {
			out = append(out, model.Seen{Is: q.need("is", `"clean"`), Only: q.only()})
			q.done()
		}
	}
	return out
}

// stepGate reads the keys that belong to one gate or another; which go together is checked later.
func (t *table) stepGate(s *model.Step) {
	s.Variable = model.Variable(t.mayBe("variable", "variable", variableWords))
	if v := t.text("value"); v != "" {
		s.Value = v
		if s.Variable != "" {
			t.valueOf(s.Variable, v, t.n.find("value"))
		}
	}
	s.Seconds = t.whole("seconds")
	s.Before = t.text("before")
	s.Clock = t.mayBe("clock", "clock", clockWords)
	s.Quantity, s.Unit = t.text("quantity"), t.text("unit")
	s.Low, s.High = t.pointer("low"), t.pointer("high")
	t.inner("near", func(q *table) {
		s.Near = &model.Near{Ref: q.need("ref", `"last"`), Share: q.number("share"),
			Plus: q.number("plus")}
	})
	s.Meter = model.Meter(t.mayBe("meter", "meter", typedMeters))
	s.Optional = t.truth("optional")
	s.Options, s.Renewed = t.options(), t.texts("renewed")
	s.Equal = t.equal()
	s.Min, s.Max = t.wholePointer("min"), t.wholePointer("max")
}

// words reads a list of words that must be on a closed list.
func (t *table) words(key, what string, list []string) []string {
	var out []string
	for _, s := range t.texts(key) {
		if t.r.word(t.n.find(key), what, s, list) {
			out = append(out, s)
		}
	}
	return out
}

// options reads a choice's answers: texts, or tables where one has a miss.
func (t *table) options() []model.Option {
	var out []model.Option
	for _, it := range t.items("options", `a list, e.g. options = ["clean", "grey"]`) {
		if it.kind == isText {
			out = append(out, model.Option{Is: t.textOf("options", it)})
			continue
		}
		q := t.r.table(it, "an option", nil)
		if q == nil {
			continue
		}
		o := model.Option{Is: q.need("is", `"the answer"`)}
		if m := q.get("miss"); m != nil {
			o.Miss = t.r.miss(m)
		}
		o.Found = q.mayBe("found", "word for how it was found", model.FoundWords)
		o.Power = q.mayBe("power", "state of the power", model.Values[model.Power])
		o.With = q.text("with")
		q.done()
		out = append(out, o)
	}
	return out
}

// equal reads what a count must equal.
func (t *table) equal() *model.Equal {
	n := t.get("equal")
	if n == nil {
		return nil
	}
	if n.kind == isWhole {
		v := int(n.num)
		return &model.Equal{Number: &v}
	}
	if n.kind != isTable {
		t.wrong("equal", n,
			"a whole number, { count = STEP }, { setting = NAME } or { ledger = NAME }")
		return nil
	}
	var e *model.Equal
	t.inner("equal", func(q *table) {
		e = &model.Equal{Count: q.text("count"), Setting: q.text("setting"),
			Ledger: q.text("ledger")}
		given := 0
		for _, s := range []string{e.Count, e.Setting, e.Ledger} {
			if s != "" {
				given++
			}
		}
		if given != 1 {
			t.r.bad(n,
				"\"equal\" must name exactly one thing: a number, { count = STEP }, { setting = NAME } or { ledger = NAME }")
		}
	})
	return e
}

// amounts reads one ledger effect: names and how many.
func (t *table) amounts(key string) map[string]model.Amount {
	n := t.get(key)
	if n == nil {
		return nil
	}
	if n.kind != isTable || len(n.keys) == 0 {
		t.r.bad(n,
			"%q in %s: write %s = { \"cover screws\" = 4 }, with a number, \"answer\" or { count = STEP }", key, t.what(), key)
		return nil
	}
	out := map[string]model.Amount{}
	for _, p := range n.keys {
		a, ok := t.amount(p.val)
		if !ok {
			t.r.bad(p.val,
				"%q in %q of %s: write a whole number above 0, \"answer\" or { count = STEP }", p.key, key, t.what())
			continue
		}
		out[p.key] = a
	}
	return out
}

// amount reads one number of a ledger effect.
func (t *table) amount(n *node) (a model.Amount, ok bool) {
	switch {
	case n.kind == isWhole && n.num > 0:
		return model.Amount{N: int(n.num)}, true
	case n.kind == isText && n.text == "answer":
		return model.Amount{Answer: true}, true
	case n.kind == isTable && len(n.keys) == 1:
		if c := n.find("count"); c != nil && c.kind == isText && c.text != "" {
			return model.Amount{Count: c.text}, true
		}
	}
	return a, false
}

// flags reads "set": flags of the ledger, and the two variables that outlive a break.
func (t *table) flags() map[string]string {
	n := t.get("set")
	if n == nil {
		return nil
	}
	if n.kind != isTable || len(n.keys) == 0 {
		t.wrong("set", n, `a table, e.g. set = { belts = "loosened" }`)
		return nil
	}
	out := map[string]string{}
	for _, p := range n.keys {
		list, known := flagValues[p.key]
		switch {
		case !known:
			t.r.word(p.val, "flag", p.key, flagWords)
		case p.val.kind != isText:
			t.wrong(p.key, p.val, "a text in quotes")
		case p.val.text == "" && flagCleared(p.key), t.r.word(p.val, "value of "+p.key, p.val.text,
			list):
			out[p.key] = p.val.text
		}
	}
	return out
}

// miss reads what follows when a gate is not passed.
func (r *reader) miss(n *node) *model.Miss {
	q := r.table(n, `"miss"`, nil)
	if q == nil {
		return nil
	}
	m := &model.Miss{Then: model.Then(q.oneOf("then", "miss", missWords)), Step: q.text("step"),
		Procedures: q.texts("procedures"), Say: q.text("say"), Tries: q.whole("tries"),
		Seconds: q.whole("seconds"), Days: q.whole("days"),
		Idle: q.truth("idle")}
	if e := q.get("else"); e != nil {
		m.Else = r.miss(e)
	}
	q.done()
	return m
}

// fastener reads the screw a step turns.
func (t *table) fastener() *model.Fastener {
	return &model.Fastener{Head: t.oneOf("head", "head", headWords), Size: t.need("size", `"M3"`),
		Thread:     t.oneOf("thread", "thread", threadWords),
		Class:      t.mayBe("class", "class", classWords),
		Engagement: t.number("engagement"), Turn: t.mayBe("turn", "turn", model.Turns)}
}

// later reads [[later]], the nth of the file.
func (t *table) later(n int) model.Later {
	l := model.Later{When: t.need("when", `"proof"`), Step: t.step(true)}
	l.Heat = t.mayBe("heat", "heat", model.LaterHeats)
	t.each("caution", func(q *table) { l.Cautions = append(l.Cautions, q.caution()) })
	l.Covered = t.texts("covered")
	if l.When != "" && !laterWhen().MatchString(l.When) {
		t.r.bad(t.n.find("when"),
			"unknown time %q: write \"proof\", \"next day\", or a time like \"60 min\" or \"20 h\"", l.When)
	}
	if l.Name == "" {
		l.Name = fmt.Sprintf("later-%d", n)
	}
	return l
}
