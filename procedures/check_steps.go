package procedures

import (
	"slices"
	"strings"

	"bench/oilcan/model"
)

// gateKeys are the keys that belong to each gate.
var gateKeys = map[model.Gate][]string{
	model.Confirm: {},
	model.State:   {"variable", "value"},
	model.Wait:    {"seconds", "before", "clock"},
	model.Measure: {"quantity", "unit", "low", "high", "near", "meter", "optional", "record"},
	model.Choice:  {"options", "renewed"},
	model.Count:   {"equal", "min", "max", "meter", "optional"},
	model.Note:    {"files"},
}

// answerVerbs are what a line may begin with in the walk, so that no answer may.
var answerVerbs = model.SessionWords

// stepForms checks each step for itself.
func (c *checker) stepForms() {
	seen := map[string]bool{}
	for _, s := range c.steps {
		name := s.s.Name
		switch {
		case name == "":
		case !kebab().MatchString(name) || slices.Contains([]string{"next", "power", "last"}, name):
			c.bad(in(s.where, "name"),
				"step name %q: write small letters, digits and hyphens, not next, power or last", name)
		case seen[name]:
			c.bad(in(s.where, "name"), "step name %q stands there twice: give each its own", name)
		}
		seen[name] = true
		c.text(in(s.where, "do"), s.s.Do, maxDo)
		c.text(in(s.where, "ask"), s.s.Ask, maxAsk)
		c.text(in(s.where, "why"), s.s.Why, maxDo)
		c.text(in(s.where, "files"), s.s.Files, maxAsk)
		c.gate(s)
		c.amounts(s)
		c.misses(s)
		c.page(s)
		if s.s.Own && len(c.p.Owns) == 0 {
			c.bad(in(s.where, "own"),
				"step %q runs under an owned exception, and the file owns none: leave own out", name)
		}
		if s.later {
			c.later(s)
		}
	}
}

// later checks what a step owed later may not do: the ledger was closed before.
func (c *checker) later(s place) {
	x := s.s
	if len(x.Out)+len(x.Back)+len(x.In)+len(x.Taken) > 0 || len(x.Starts) > 0 {
		c.bad(s.where,
			"a step owed later moves the ledger or starts a clock: what goes out comes back in the session, leave it out")
	}
	for k := range x.Set {
		if k != string(model.Sensor) && k != string(model.Filament) &&
			!(k == model.FlagStrand && x.Set[k] == string(model.Clear)) {
			c.bad(in(s.where, "set", k),
				"a step owed later sets %q: only the sensor can be proved later, the filament be loaded, and a stub come out", k)
		}
	}
}

// given lists the gate keys a step uses.
func given(s *model.Step) []string {
	var out []string
	for _, k := range []struct {
		key string
		is  bool
	}{
		{"variable", s.Variable != ""}, {"value", s.Value != ""},
		{"seconds", s.Seconds != 0}, {"before", s.Before != ""}, {"clock", s.Clock != ""},
		{"quantity", s.Quantity != ""}, {"unit", s.Unit != ""}, {"low", s.Low != nil},
		{"high", s.High != nil},
		{"near", s.Near != nil}, {"meter", s.Meter != ""}, {"optional", s.Optional},
		{"record", s.Record != ""},
		{"options", len(s.Options) > 0}, {"renewed", len(s.Renewed) > 0},
		{"equal", s.Equal != nil}, {"min", s.Min != nil}, {"max", s.Max != nil},
	} {
		if k.is {
			out = append(out, k.key)
		}
	}
	return out
}

// gate checks that a step has what its gate needs, and nothing of another's.
func (c *checker) gate(s place) {
	own, ok := gateKeys[s.s.Gate]
	if !ok {
		return
	}
	for _, k := range given(s.s) {
		if slices.Contains(own, k) {
			continue
		}
		var of []string
		for _, g := range model.Gates {
			if slices.Contains(gateKeys[g], k) {
				of = append(of, string(g))
			}
		}
		c.bad(in(s.where, k),
			"%q belongs to a %s gate, and the gate of %q is %s: leave it out, or change the gate", k, strings.Join(of, " or "), s.s.Name, s.s.Gate)
	}
	switch s.s.Gate {
	case model.State:
		if s.s.Variable == "" || s.s.Value == "" {
			c.bad(s.where,
				"the state gate of %q needs variable and value: write variable = \"power\", value = \"unplugged\"", s.s.Name)
		}
	case model.Wait:
		c.wait(s)
	case model.Measure:
		c.measure(s)
	case model.Choice:
		c.choice(s)
	case model.Count:
		c.count(s)
	}
}

func (c *checker) wait(s place) {
	x := s.s
	if x.Seconds <= 0 || x.Seconds > 7*86400 {
		c.bad(in(s.where, "seconds"), "the wait of %q needs seconds above 0: write seconds = 600",
			x.Name)
	}
	if x.Why == "" {
		c.bad(s.where, "the wait of %q says no reason: write why = \"…\"", x.Name)
	}
	switch x.Before {
	case "", "next", "power":
		return
	}
	if to, ok := c.step(x.Before); !ok || to.i <= s.i {
		c.bad(in(s.where, "before"),
			"before = %q: write \"next\", \"power\" or the name of a later step", x.Before)
	}
}

func (c *checker) measure(s place) {
	x := s.s
	if x.Quantity == "" || x.Unit == "" {
		c.bad(s.where,
			"the measure of %q needs quantity and unit: write quantity = \"gap\", unit = \"mm\"", x.Name)
	}
	if x.Low != nil && x.High != nil && *x.Low > *x.High {
		c.bad(in(s.where, "low"), "low = %s is above high = %s: swap them", plain(*x.Low),
			plain(*x.High))
	}
	c.sameUnit(s)
	c.temperature(s)
	n := x.Near
	if n == nil {
		return
	}
	if (n.Share > 0) == (n.Plus > 0) || n.Share < 0 || n.Plus < 0 || n.Share >= 1 {
		c.bad(in(s.where, "near"),
			"near needs one of share and plus: write share = 0.05 for 5 %%, or plus in the measure's unit")
	}
	if set, ok := strings.CutPrefix(n.Ref, "setting:"); ok {
		c.numberSetting(in(s.where, "near"), set, true)
		return
	}
	if n.Ref == "last" || n.Ref == "" {
		return
	}
	to, ok := c.step(n.Ref)
	switch {
	case !ok:
		c.bad(in(s.where, "near"), "%s",
			notOnList("ref", n.Ref, append([]string{"last"}, c.stepNames()...)))
	case to.i >= s.i || to.s.Gate != model.Measure && to.s.Gate != model.Count:
		c.bad(in(s.where, "near"),
			"ref %q is not an earlier measure: name one, or write \"last\" or \"setting:NAME\"", n.Ref)
	case to.s.Gate == model.Measure && to.s.Unit != x.Unit:
		c.bad(in(s.where, "near"), "ref %q is in %s and this in %s: compare like with like", n.Ref,
			to.s.Unit, x.Unit)
	}
}

// temperature checks that a built-in file's quantity in °C is one of the closed list, by which the
// walk knows what is the machine's heat. An operator's own quantity is a reading of nothing.
func (c *checker) temperature(s place) {
	if s.s.Unit != "°C" || c.p.Yours || s.s.Quantity == "" {
		return
	}
	if _, ok := model.TemperatureOf(s.s.Quantity); !ok {
		var names []string
		for _, t := range model.Temperatures {
			names = append(names, t.Quantity)
		}
		c.bad(in(s.where, "quantity"), "%s", notOnList("quantity in °C", s.s.Quantity, names))
	}
}

// recordName is the name a value is kept under.
func recordName(s *model.Step) string {
	if s.Record != "" {
		return s.Record
	}
	return s.Quantity
}

// sameUnit checks that a quantity has the same unit wherever it is measured: values are compared
// under its name.
func (c *checker) sameUnit(s place) {
	for _, q := range c.l.byID {
		if q.ID == c.p.ID {
			q = c.p
		}
		for i := range q.Steps {
			o := &q.Steps[i]
			if o == s.s {
				break // of its own file only the steps before it
			}
			if o.Gate == model.Measure && recordName(o) == recordName(s.s) && o.Unit != s.s.Unit &&
				o.Unit != "" && s.s.Unit != "" {
				c.bad(in(s.where, "unit"),
					"%q is measured in %s here and in %s by %s: use one unit, or another name", recordName(s.s), s.s.Unit, o.Unit, q.ID)
				return
			}
		}
	}
}

// numberSetting checks a setting that is used as a number: a measured one has a unit, a counted one
// none.
func (c *checker) numberSetting(where []any, name string, measured bool) {
	switch set := c.setting(name); {
	case set == nil:
		c.noSetting(name, where)
	case !set.Number:
		c.bad(where, "setting %q is no number: write number = true there", name)
	case measured && set.Unit == "":
		c.bad(where, "setting %q has no unit to measure in: write unit = \"…\" there", name)
	case !measured && set.Unit != "":
		c.bad(where, "setting %q is measured in %s, a count is of whole things: name another", name,
			set.Unit)
	}
}

func (c *checker) choice(s place) {
	x := s.s
	if len(x.Options) < 2 {
		c.bad(in(s.where, "options"),
			"the choice of %q needs at least two options: write options = [\"good\", …]", x.Name)
		return
	}
	seen := map[string]bool{}
	for i, o := range x.Options {
		where := in(s.where, "options", i)
		c.text(where, o.Is, maxAsk)
		if seen[o.Is] {
			c.bad(where, "option %q stands there twice: keep one", o.Is)
		}
		seen[o.Is] = true
		if verb, _, _ := strings.Cut(o.Is, " "); slices.Contains(answerVerbs, verb) {
			c.bad(where,
				"option %q begins with %q, which means something else in an answer line: say it in another word", o.Is, verb)
		}
	}
	if x.Options[0].Power != "" || x.Options[0].With != "" {
		c.bad(in(s.where, "options", 0),
			"the first option can always be answered: write power or with at a later one")
	}
	if x.Options[0].Miss != nil {
		c.bad(in(s.where, "options", 0),
			"the first option passes and can have no miss: put the good answer first")
	}
	if x.Miss != nil {
		c.bad(in(s.where, "miss"),
			"a choice has its misses at its options: write { is = \"…\", miss = { … } }")
	}
	for _, r := range x.Renewed {
		if !seen[r] {
			c.bad(in(s.where, "renewed"), "%s", notOnList("option", r, optionWords(x)))
		}
	}
	if len(x.Renewed) > 0 && c.p.Part == "" {
		c.bad(in(s.where, "renewed"),
			"renewed says a new part went in, and the file names no part: write part = \"blade\" at the top")
	}
}

func (c *checker) count(s place) {
	x := s.s
	if x.Equal != nil && (x.Min != nil && x.Equal.Setting == "" || x.Max != nil) {
		c.bad(in(s.where, "equal"),
			"the count of %q has equal and min or max: write one or the other", x.Name)
	}
	if x.Min != nil && x.Max != nil && *x.Min > *x.Max {
		c.bad(in(s.where, "min"), "min = %d is above max = %d: swap them", *x.Min, *x.Max)
	}
	if x.Equal == nil {
		return
	}
	if x.Equal.Number != nil && *x.Equal.Number < 0 {
		c.bad(in(s.where, "equal"), "equal = %d: a count is 0 or more", *x.Equal.Number)
	}
	if id, step, other := x.Equal.Elsewhere(); other {
		c.countElsewhere(in(s.where, "equal"), id, step)
	} else if x.Equal.Count != "" {
		c.earlierCount(in(s.where, "equal"), s, x.Equal.Count)
	}
	if x.Equal.Setting != "" {
		c.numberSetting(in(s.where, "equal"), x.Equal.Setting, false)
	}
}

// earlierCount checks a reference to the number typed at an earlier count.
func (c *checker) earlierCount(where []any, s place, name string) {
	to, ok := c.step(name)
	switch {
	case !ok:
		c.bad(where, "%s", notOnList("step", name, c.stepNames()))
	case to.i >= s.i:
		c.bad(where, "step %q is not before %q: name an earlier count", name, s.s.Name)
	case to.s.Gate != model.Count:
		c.bad(where, "step %q is no count: name one whose answer is a number", name)
	}
}

// countElsewhere checks a reference to the number typed at a count of a set-up action that came
// before.
func (c *checker) countElsewhere(where []any, id, step string) {
	q := c.l.Get(id)
	if q == nil || q.Change == nil {
		c.bad(where,
			"%q is no set-up action: name one and its count, as in { count = \"unplug/roll\" }", id)
		return
	}
	if !slices.ContainsFunc(q.Steps, func(s model.Step) bool {
		return s.Name == step && s.Gate == model.Count
	}) {
		c.bad(where, "%s has no count %q: name one of its steps whose answer is a number", id, step)
	}
}

// amounts checks the amounts of the ledger effects.
func (c *checker) amounts(s place) {
	for key, m := range map[string]map[string]model.Amount{"out": s.s.Out, "back": s.s.Back,
		"in": s.s.In, "taken": s.s.Taken} {
		for name, a := range m {
			where := in(s.where, key, name)
			c.text(where, name, maxAsk)
			switch {
			case a.Answer && s.s.Gate != model.Count:
				c.bad(where,
					"%q takes the answer of %q, which is no count: write a number or { count = STEP }", name, s.s.Name)
			case a.Answer && s.s.Optional:
				c.bad(where,
					"%q takes the answer of %q, which may be left open: leave optional out", name, s.s.Name)
			case a.Count != "" && a.Count != s.s.Name:
				c.earlierCount(where, s, a.Count)
			}
		}
	}
}
