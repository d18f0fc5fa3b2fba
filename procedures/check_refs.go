package procedures

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// references checks that every id named is known.
func (c *checker) references() {
	p := c.p
	c.ids(at("counts_as"), p.CountsAs)
	c.ids(at("after"), p.After)
	c.ids(at("proof"), p.Proof)
	if look := c.l.byID[p.ID+"-look"]; look != nil && !slices.Contains(p.CountsAs, look.ID) {
		c.bad(at("counts_as"), "the full part does its look too: write counts_as = [%q]", look.ID)
	}
	for i, t := range p.Triggers {
		if len(t.Done) == 0 {
			c.bad(at("trigger", i), "a trigger names no procedure: write done = [\"…\"]")
		}
		c.ids(at("trigger", i, "done"), t.Done)
	}
	for i, l := range p.Later {
		c.ids(at("later", i, "covered"), l.Covered)
	}
	for _, s := range c.steps {
		for i, o := range s.s.Options {
			if o.With != "" {
				c.ids(in(s.where, "options", i, "with"), []string{o.With})
			}
		}
		c.eachMiss(s, func(m *model.Miss, where []any) {
			c.ids(in(where, "procedures"), slices.DeleteFunc(slices.Clone(m.Procedures),
				func(id string) bool { return id == p.ID }))
		})
	}
	for _, id := range slices.Sorted(maps.Keys(c.l.byID)) {
		if p.Yours && p.Kind != model.Proof && slices.Contains(c.l.byID[id].Proof, p.ID) {
			c.bad(at("kind"), "%s asks for %q as its proof: write kind = \"proof\"", id, p.ID)
		}
	}
	for _, id := range p.Proof {
		if q := c.l.byID[id]; q != nil && q.Kind != model.Proof && q.Kind != model.SetUp {
			c.bad(at("proof"), "%q is no proof but %s: name a file of kind proof, or use after", id,
				q.Kind)
		}
	}
}

// ids checks one list of ids.
func (c *checker) ids(where []any, list []string) {
	for _, id := range list {
		q := c.l.byID[id]
		switch {
		case id == c.p.ID:
			c.bad(where, "%q names itself: leave it out", id)
		case q != nil && q.Kind == model.SetUp:
			c.bad(where, "%q is a set-up action: the planner places those, name a procedure", id)
		case q == nil && !slices.Contains(KnownIDs, baseOf(id)):
			c.bad(where, "%s", notOnList("procedure", id, c.known()))
		}
	}
}

// known lists every id a file may refer to.
func (c *checker) known() []string {
	out := slices.Clone(KnownIDs)
	for _, id := range KnownIDs {
		out = append(out, id+"-look")
	}
	for id, q := range c.l.byID {
		if q.Kind != model.SetUp && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	slices.Sort(out)
	return out
}

// eachMiss calls f for every miss of a step: of the gate, of its options, and every else.
func (c *checker) eachMiss(s place, f func(*model.Miss, []any)) {
	chain := func(m *model.Miss, where []any) {
		for ; m != nil; m, where = m.Else, in(where, "else") {
			f(m, where)
		}
	}
	chain(s.s.Miss, in(s.where, "miss"))
	for i := range s.s.Options {
		chain(s.s.Options[i].Miss, in(s.where, "options", i, "miss"))
	}
}

// conditions checks every "only" of the file.
func (c *checker) conditions() {
	p := c.p
	for _, g := range model.ExclusiveGroups {
		if n := count(p.Needs, g); n > 1 {
			c.bad(at("needs"), "no machine has more than one of %s: write needs_any",
				strings.Join(model.Words(g), ", "))
		}
	}
	for i, r := range p.Rung {
		c.only(r.Only, at("rung", i, "only"), -1)
	}
	for _, l := range p.Leave {
		c.only(l.Only, at("leave", string(l.Variable), "only"), -1)
	}
	for i, x := range p.RequireFor {
		c.only(x.Only, at("require_for", i, "only"), -1)
	}
	for i, m := range p.MinutesFor {
		c.only(m.Only, at("minutes_for", i, "only"), -1)
	}
	for i, v := range p.Intervals {
		c.only(v.Only, at("interval", i, "only"), -1)
	}
	for i, t := range p.Triggers {
		c.only(t.Only, at("trigger", i, "only"), -1)
	}
	for i, s := range p.Settings {
		c.only(s.Only, at("setting", i, "only"), -1)
	}
	end := len(c.steps)
	for i, t := range p.Tools {
		c.only(t.Only, at("tool", i, "only"), end)
	}
	for i, s := range p.Supplies {
		c.only(s.Only, at("supply", i, "only"), end)
	}
	for i, q := range p.Cautions {
		c.only(q.Only, at("caution", i, "only"), end)
	}
	for _, s := range c.steps {
		c.only(s.s.Only, in(s.where, "only"), s.i)
	}
}

// count counts the members of list in set.
func count(list, set []model.Feature) (n int) {
	for _, f := range list {
		if slices.Contains(set, f) {
			n++
		}
	}
	return n
}

// only checks one condition. before is the place of the step it stands at: an answer must be older;
// -1 where it holds for the plan, before any answer.
func (c *checker) only(o model.Only, where []any, before int) {
	if o.Zero() {
		return
	}
	c.never(o, where)
	if o.Setting != "" {
		c.onlySetting(o, where)
	}
	if o.Step == "" {
		return
	}
	s, ok := c.step(o.Step)
	switch {
	case before < 0:
		c.bad(where,
			"the answer at %q cannot decide this, it is planned before any answer: use features or a setting", o.Step)
	case !ok:
		c.bad(where, "%s", notOnList("step", o.Step, c.stepNames()))
	case s.i >= before:
		c.bad(where, "step %q comes later: name one before", o.Step)
	case s.s.Gate != model.Choice:
		c.bad(where, "step %q is no choice: \"is\" can only be an answer of a choice", o.Step)
	default:
		for _, is := range o.Is {
			if list := optionWords(s.s); !slices.Contains(list, is) {
				c.bad(where, "%s", notOnList(fmt.Sprintf("answer of %q", o.Step), is, list))
			}
		}
	}
}

func optionWords(s *model.Step) []string {
	out := make([]string, len(s.Options))
	for i, o := range s.Options {
		out[i] = o.Is
	}
	return out
}

// never files a condition that no machine with what the file needs can meet.
func (c *checker) never(o model.Only, where []any) {
	for _, f := range o.Unless {
		if slices.Contains(c.p.Needs, f) {
			c.bad(where, "never holds: the file needs %s, and this is for machines without it", f)
		}
	}
	if len(o.Features) == 0 {
		return
	}
	needs := model.NewFeatureSet(c.p.Needs...)
	for _, f := range o.Features {
		if !needs.Excludes(f) && !slices.Contains(o.Unless, f) {
			return
		}
	}
	c.bad(where, "never holds: no machine this file is for has %s",
		strings.Join(model.Words(o.Features), " or "))
}

// setting finds a setting the file declares.
func (c *checker) setting(name string) *model.Setting {
	for i := range c.p.Settings {
		if c.p.Settings[i].Name == name {
			return &c.p.Settings[i]
		}
	}
	return nil
}

// settingNames lists the settings the file declares.
func (c *checker) settingNames() []string {
	out := make([]string, len(c.p.Settings))
	for i, s := range c.p.Settings {
		out[i] = s.Name
	}
	return out
}

// onlySetting checks a condition on a setting.
func (c *checker) onlySetting(o model.Only, where []any) {
	s := c.setting(o.Setting)
	if s == nil {
		c.noSetting(o.Setting, where)
		return
	}
	for _, is := range o.Is {
		if len(s.Options) > 0 && !slices.Contains(s.Options, is) {
			c.bad(where, "%s", notOnList(fmt.Sprintf("answer of setting %q", o.Setting), is,
				s.Options))
		}
	}
}

// noSetting files a setting that is used and not declared.
func (c *checker) noSetting(name string, where []any) {
	if w := model.Nearest(name, c.settingNames()); w != "" {
		c.bad(where, "unknown setting %q: write %q", name, w)
		return
	}
	c.bad(where, "setting %q is nowhere asked: add a [[setting]] with name = %q to this file", name,
		name)
}
