package procedures

import (
	"strings"

	"bench/oilcan/model"
)

// parse reads one file and gives its tree too. The problems are those of form: unknown keys, wrong
// types, wrong words. The procedure is nil where the file cannot be read at all; otherwise it holds
// what could be read, and is good only where there are no problems. Library.Check looks at the
// meaning.
func parse(name string, data []byte, full bool) (*model.Procedure, *node, []Problem) {
	p, root, problems, got := readFile(name, data, full, (*reader).procedure)
	if got {
		p.File = name
	}
	return p, root, problems
}

// kinds are the words of a procedure's kind.
var kinds = model.Words([]model.Kind{model.Care, model.Swap, model.Look, model.Proof, model.Bookend,
	model.SetUp})

func (r *reader) procedure(t *table) *model.Procedure {
	p := &model.Procedure{
		ID:      t.need("id", `"rods-wipe"`),
		Title:   t.need("title", `"Wipe the motion rods"`),
		Short:   t.text("short"),
		Purpose: t.text("purpose"),
		Why:     t.text("why"),
		Kind:    model.Kind(t.need("kind", `"care"`)),
		Part:    t.text("part"),
	}
	if p.Kind != "" {
		r.word(t.n.find("kind"), "kind", string(p.Kind), kinds)
	}
	if p.Part != "" {
		r.word(t.n.find("part"), "part", p.Part, model.SupplyNames)
	}
	p.Rung = t.rungs("rung")
	p.Starter = t.truth("starter")
	p.Needs, p.NeedsAny = t.features("needs"), t.features("needs_any")
	p.CountsAs, p.After, p.Proof = t.texts("counts_as"), t.texts("after"), t.texts("proof")
	p.HandsOn = t.number("handson")
	p.First = t.number("first")
	p.Waiting = t.number("waiting")
	for _, o := range t.texts("owns") {
		p.Owns = append(p.Owns, model.Own(o))
	}
	p.Gear = t.texts("gear")
	t.inner("require", func(q *table) { p.Require = q.condition() })
	t.each("require_for", func(q *table) {
		p.RequireFor = append(p.RequireFor,
			model.RequireFor{Require: q.condition(), Only: q.only()})
	})
	t.inner("leave", func(q *table) { p.Leave = q.leave() })
	t.inner("change", func(q *table) { p.Change = q.change() })
	t.each("minutes_for", func(q *table) { p.MinutesFor = append(p.MinutesFor, q.minutesFor()) })
	t.each("interval", func(q *table) { p.Intervals = append(p.Intervals, q.interval()) })
	t.each("trigger", func(q *table) {
		p.Triggers = append(p.Triggers, model.Trigger{Done: q.texts("done"), Only: q.only()})
	})
	t.each("setting", func(q *table) { p.Settings = append(p.Settings, q.setting()) })
	t.each("tool", func(q *table) { p.Tools = append(p.Tools, q.tool()) })
	t.each("supply", func(q *table) { p.Supplies = append(p.Supplies, q.supply()) })
	t.each("caution", func(q *table) { p.Cautions = append(p.Cautions, q.caution()) })
	t.each("step", func(q *table) { p.Steps = append(p.Steps, q.step(false)) })
	t.each("later", func(q *table) { p.Later = append(p.Later, q.later(len(p.Later)+1)) })
	t.each("symptom", func(q *table) {
		p.Symptoms = append(p.Symptoms, model.Cure{Name: q.need("name", `"ringing"`),
			Weight: q.oneOf("weight", "weight", weights)})
	})
	t.done()
	return p
}

// oneOf reads a text that must be there and on a closed list.
func (t *table) oneOf(key, what string, list []string) string {
	if t.n.find(key) == nil {
		return t.need(key, `"`+list[0]+`"`)
	}
	return t.mayBe(key, what, list)
}

// mayBe reads a text that may be left out; where it stands it is on a closed list.
func (t *table) mayBe(key, what string, list []string) string {
	if s := t.text(key); s != "" && t.r.word(t.n.find(key), what, s, list) {
		return s
	}
	return ""
}

// features reads a list of features.
func (t *table) features(key string) []model.Feature {
	n := t.get(key)
	if n == nil {
		return nil
	}
	return t.featuresOf(key, n)
}

// featuresOf reads a node as a list of features.
func (t *table) featuresOf(key string, n *node) []model.Feature {
	var out []model.Feature
	for _, s := range t.textsOf(key, n) {
		if t.r.word(n, "feature", s, featureWords) {
			out = append(out, model.Feature(s))
		}
	}
	return out
}

// only reads the key "only": a list of features, or a table.
func (t *table) only() (o model.Only) {
	n := t.get("only")
	if n == nil {
		return o
	}
	before := len(t.r.problems)
	if n.kind == isList {
		o.Features = t.featuresOf("only", n)
	} else {
		t.inner("only", func(q *table) {
			o.Features, o.Unless = q.features("features"), q.features("unless")
			o.Setting, o.Step, o.Is = q.text("setting"), q.text("step"), q.texts("is")
			q.onlyWhole(o)
		})
	}
	if o.Zero() && len(t.r.problems) == before {
		t.r.bad(n, "\"only\" says nothing: leave it out, or name features")
	}
	return o
}

// onlyWhole files what does not go together in an "only" table.
func (t *table) onlyWhole(o model.Only) {
	switch {
	case o.Setting != "" && o.Step != "":
		t.r.bad(t.n,
			`"only" has both setting and step: "is" can belong to one of them, so write one`)
	case (o.Setting != "" || o.Step != "") && len(o.Is) == 0:
		t.r.bad(t.n, `"only" has no "is": write is = ["…"] with the answers meant`)
	case o.Setting == "" && o.Step == "" && len(o.Is) > 0:
		t.r.bad(t.n, `"is" belongs to nothing: write step = "…" or setting = "…" beside it`)
	}
}

// rungs reads one rung, or a list of rungs that depend on the machine.
func (t *table) rungs(key string) []model.Placed {
	if n := t.get(key); n != nil && n.kind == isText {
		s := t.textOf(key, n)
		t.r.word(n, "rung", s, rungWords)
		return []model.Placed{{Is: model.Rung(s)}}
	}
	var out []model.Placed
	for _, it := range t.items(key, `one rung in quotes, or a list of { is = "…", only = … }`) {
		if q := t.r.table(it, "rung", nil); q != nil {
			out = append(out, model.Placed{Is: model.Rung(q.oneOf("is", "rung", rungWords)),
				Only: q.only()})
			q.done()
		}
	}
	return out
}

func (t *table) condition() model.Condition {
	c := model.Condition{}
	for _, v := range model.Variables {
		if s := t.text(string(v)); s != "" && t.valueOf(v, s, t.n.find(string(v))) {
			c[v] = s
		}
	}
	return c
}

// valueOf tells whether s is a value of a variable.
func (t *table) valueOf(v model.Variable, s string, n *node) bool {
	return t.r.word(n, "value of "+string(v), s, model.Values[v])
}

// leave reads [leave], in the order of the variables.
func (t *table) leave() []model.Left {
	var out []model.Left
	for _, v := range model.Variables {
		key := string(v)
		n := t.n.find(key)
		if n == nil || n.kind == isText {
			if s := t.text(key); s != "" && t.valueOf(v, s, n) {
				out = append(out, model.Left{Variable: v, Is: s})
			}
			continue
		}
		t.inner(key, func(q *table) {
			out = append(out, model.Left{Variable: v,
				Is: q.oneOf("is", "value of "+key, model.Values[v]), Only: q.only()})
		})
	}
	return out
}

func (t *table) change() *model.Change {
	c := &model.Change{Variable: model.Variable(t.oneOf("variable", "variable", variableWords))}
	list := model.Values[c.Variable]
	c.From, c.To = t.need("from", `"off"`), t.need("to", `"on"`)
	for key, s := range map[string]string{"from": c.From, "to": c.To} {
		if s != "" && list != nil {
			t.valueOf(c.Variable, s, t.n.find(key))
		}
	}
	return c
}

func (t *table) minutesFor() model.MinutesFor {
	return model.MinutesFor{Only: t.only(), HandsOn: t.number("handson"),
		Waiting: t.number("waiting")}
}

func (t *table) interval() model.Interval {
	i := model.Interval{
		Meter: model.Meter(t.oneOf("meter", "meter", meterWords)),
		Basis: t.need("basis", `"common practice"`),
		Only:  t.only(),
		Once:  t.truth("once"),
		Low:   t.number("low"),
		High:  t.number("high"),
	}
	t.inner("production", func(q *table) {
		i.Production = &model.Band{Low: q.number("low"), High: q.number("high"),
			Basis: q.text("basis")}
	})
	t.inner("when", func(q *table) {
		i.When = &model.When{Meter: model.Meter(q.oneOf("meter", "meter", meterWords)),
			Share: q.number("share")}
	})
	return i
}

// setting reads [[setting]]; a default written as a number makes it a number.
func (t *table) setting() model.Setting {
	s := model.Setting{
		Name: t.need("name", `"clamp-screws"`), Title: t.text("title"),
		Ask:     t.need("ask", `"How many clamp screws?"`),
		Options: t.texts("options"), Number: t.truth("number"), Unit: t.text("unit"),
		Only: t.only(),
	}
	switch n := t.n.find("default"); {
	case n != nil && (n.kind == isWhole || n.kind == isReal):
		t.get("default")
		s.Default = model.Digits(n.num)
		s.Number = s.Number || len(s.Options) == 0
	default:
		s.Default = t.text("default")
	}
	return s
}

func (t *table) tool() model.Tool {
	x := model.Tool{Name: t.oneOf("name", "tool", model.ToolNames), Only: t.only()}
	for _, it := range t.items("fits", `a list, e.g. fits = [{ head = "cap", size = "M3" }]`) {
		if q := t.r.table(it, "fits", nil); q != nil {
			x.Fits = append(x.Fits, model.Fit{Head: q.oneOf("head", "head", headWords),
				Size: q.need("size", `"M3"`), For: q.text("for")})
			q.done()
		}
	}
	return x
}

func (t *table) supply() model.Supply {
	s := model.Supply{Part: t.oneOf("part", "supply", model.SupplyNames), Unit: t.text("unit"),
		Count: t.texts("count"), Only: t.only()}
	if t.n.find("quantity") == nil {
		t.r.bad(t.n, "a supply has no quantity: write quantity = 1 or as many as one session uses")
	}
	s.Quantity = t.number("quantity")
	return s
}

// caution reads [[caution]]: one of the table of cautions by its id, or the file's own words.
func (t *table) caution() model.Caution {
	if t.n.find("use") != nil {
		return t.usedCaution()
	}
	return model.Caution{
		Signal: t.oneOf("signal", "signal word", signalWords),
		Harm:   t.need("harm", `"what harm it does"`),
		Avoid:  t.need("avoid", `"how to avoid it"`),
		Before: t.texts("before"), Basis: t.text("basis"), Only: t.only(),
	}
}

// baseOf gives the id without a look part's ending.
func baseOf(id string) string { return strings.TrimSuffix(id, "-look") }
