package procedures

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
)

// Lengths of a symptom's texts in characters, so that the screens have room for them.
const (
	maxSymptomTitle  = 44
	maxSymptomAnswer = 48
	maxSymptomText   = 140
	maxSymptomWord   = 32
)

// symptomChecker collects the problems of a table of symptoms.
type symptomChecker struct {
	lib   *Library
	table *symptom.Table
	tree  *node
	file  string
	out   []Problem
}

// CheckSymptoms reads the built-in table by every rule, and gives its problems within this library.
func (l *Library) CheckSymptoms() []Problem {
	return l.checkSymptoms("symptoms.toml", symptomFile)
}

func (l *Library) checkSymptoms(file string, data []byte) []Problem {
	t, tree, problems := parseSymptoms(file, data, true)
	if len(problems) > 0 {
		return problems
	}
	c := &symptomChecker{lib: l, table: t, tree: tree, file: file}
	seen := map[string]bool{}
	for i := range t.Symptoms {
		s := &t.Symptoms[i]
		if !kebab().MatchString(s.ID) || seen[s.ID] {
			c.bad(at("symptom", i, "id"),
				"symptom %q: write each name once, in small letters and hyphens, e.g. layer-shift", s.ID)
		}
		seen[s.ID] = true
		c.words(i, s)
		c.symptom(i, s)
	}
	for i := range t.Pairs {
		c.pair(i, &t.Pairs[i])
	}
	for _, p := range l.All() {
		for _, cure := range p.Symptoms {
			if t.Get(cure.Name) == nil {
				c.bad(nil, "%s cures %q, which has no [[symptom]] here: %s", p.ID, cure.Name,
					notOnList("symptom", cure.Name, t.IDs()))
			}
		}
	}
	return sorted(c.out)
}

func (c *symptomChecker) bad(where []any, format string, args ...any) {
	c.out = append(c.out, Problem{File: c.file, Line: c.tree.lineOf(where...),
		Text: fmt.Sprintf(format, args...)})
}

// words checks the everyday names: as a person types them, and not the id of another symptom.
// Several symptoms may share one; then all of them are offered.
func (c *symptomChecker) words(i int, s *symptom.Symptom) {
	where := at("symptom", i, "also")
	for _, name := range s.Also {
		c.short(where, "name", name, maxSymptomWord)
		if name != strings.ToLower(strings.TrimSpace(name)) {
			c.bad(where, "symptom %s: write the name %q in small letters, as a person types it",
				s.ID, name)
		}
		if other := c.table.Get(name); other != nil {
			c.bad(where, "symptom %s: the name %q is the symptom %s already: leave it out", s.ID,
				name, other.ID)
		}
	}
}

// symptom checks one: a stop has its page and nothing else, a normal thing its words, every other a
// question, answers and care.
func (c *symptomChecker) symptom(i int, s *symptom.Symptom) {
	where := at("symptom", i)
	c.short(where, "title", s.Title, maxSymptomTitle)
	for _, text := range append([]string{s.Seen, s.Ask, s.Normal}, s.Page...) {
		c.short(where, "text", text, maxSymptomText*2)
	}
	everywhere := 0 // causes that can be there on every machine
	for _, o := range s.NotCare {
		c.short(where, "not_care", o.Say, maxSymptomText)
		if len(o.Needs)+len(o.NeedsAny) == 0 {
			everywhere++
		}
	}
	if s.Stop && len(s.Needs)+len(s.NeedsAny) > 0 {
		c.bad(where, "%s is a stop: it is offered on every machine, leave needs out", s.ID)
	}
	switch {
	case s.Stop && s.Normal != "":
		c.bad(where, "%s is a stop and normal: leave one out", s.ID)
	case s.Stop:
		if len(s.Page) == 0 || s.Ask != "" || len(s.Answers)+len(s.Hand) > 0 {
			c.bad(where,
				"%s is a stop: write its page, what to do now; it asks nothing and offers nothing", s.ID)
		}
		return
	case len(s.Page) > 0:
		c.bad(at("symptom", i, "page"),
			"only a stop has a page: write stop = true, or leave it out")
	case s.Normal != "":
		if s.Ask != "" || len(s.Answers)+len(s.NotCare)+len(s.Hand) > 0 || len(c.lib.cures(s)) > 0 {
			c.bad(where, "%s is normal: it asks nothing, and no care cures it", s.ID)
		}
		return
	}
	if everywhere == 0 {
		c.bad(where,
			"%s names no cause that no care cures on any machine: write not_care = [\"…\"], so that nobody cleans in vain", s.ID)
	}
	if s.Ask == "" || len(s.Answers) < 2 || len(s.Answers) > 6 {
		c.bad(where,
			"%s: write ask = \"…?\" and two to six [[answer]]s; \"don't know\" is always one more", s.ID)
	}
	cures := c.lib.cures(s)
	if len(cures) == 0 {
		c.bad(where, "no procedure names %s under [[symptom]]: add it there, or leave it out here",
			s.ID)
	}
	c.answers(i, s, cures)
}

func (c *symptomChecker) answers(i int, s *symptom.Symptom, cures map[string]bool) {
	seen := map[string]bool{}
	everywhere := 0
	for j, a := range s.Answers {
		if len(a.Needs)+len(a.NeedsAny) == 0 {
			everywhere++
		}
		where := at("symptom", i, "answer", j)
		c.short(where, "answer", a.Is, maxSymptomAnswer)
		c.short(where, "say", a.Say, maxSymptomText)
		if seen[a.Is] || a.Is == "don't know" {
			c.bad(where, "the answer %q stands there already: \"don't know\" is always one", a.Is)
		}
		seen[a.Is] = true
		if a.Means != "" && (c.table.Get(a.Means) == nil || a.Means == s.ID || len(a.Factor) > 0) {
			c.bad(where, "means = %q: name another symptom of this file, and no factor beside it",
				a.Means)
		}
		if a.First != "" && !cures[a.First] {
			c.bad(where, "first = %q does not cure %s: add [[symptom]] to it, or leave it out",
				a.First, s.ID)
		}
		c.factors(where, a.Factor, withOutside(cures), s.ID)
	}
	if len(s.Answers) > 0 && everywhere < 2 {
		c.bad(at("symptom", i),
			"%s: fewer than two answers hold on every machine: write more without needs", s.ID)
	}
	for j, h := range s.Hand {
		where := at("symptom", i, "hand", j)
		c.short(where, "do", h.Do, maxSymptomText)
		if !kebab().MatchString(h.ID) || c.lib.Get(h.ID) != nil || h.HandsOn <= 0 {
			c.bad(where, "hand %q: write an id of its own, what to do, and its minutes", h.ID)
		}
	}
}

// withOutside adds what no care mends to the causes an answer may speak of.
func withOutside(cures map[string]bool) map[string]bool {
	out := maps.Clone(cures)
	out[symptom.Outside] = true
	return out
}

// factors checks likelihood ratios: of care that cures the symptom, and within bounds.
func (c *symptomChecker) factors(where []any, f map[string]float64, cures map[string]bool,
	symptomID string) {
	for _, id := range namesOf(f) {
		switch v := f[id]; {
		case !cures[id]:
			c.bad(where, "factor of %q, which does not cure %s: %s", id, symptomID,
				notOnList("care", id, namesOf(cures)))
		case !(v >= 1/symptom.MaxFactor && v <= symptom.MaxFactor):
			c.bad(where, "factor %s of %s: write a ratio from %s to %s", plain(v), id,
				plain(1/symptom.MaxFactor), plain(symptom.MaxFactor))
		}
	}
}

// pair checks two symptoms together: what both name may only become likelier, what one names only
// less likely. So a second symptom never lets other care overtake what it too points to.
func (c *symptomChecker) pair(i int, p *symptom.Pair) {
	where := at("pair", i)
	c.short(where, "say", p.Say, maxSymptomText)
	a, b := c.table.Get(p.Both[0]), c.table.Get(p.Both[1])
	if a == nil || b == nil || a.Stop || b.Stop || a == b {
		c.bad(where, "the pair %s and %s: name two symptoms of this file that are no stop",
			p.Both[0], p.Both[1])
		return
	}
	for _, id := range namesOf(p.Answers) {
		if s := c.table.Get(id); s == nil || s != a && s != b || s.Answer(p.Answers[id]) == nil {
			c.bad(where, "answers: %q is no answer of %s in this pair", p.Answers[id], id)
		}
	}
	ca, cb := c.lib.cures(a), c.lib.cures(b)
	either := map[string]bool{}
	for _, m := range []map[string]bool{ca, cb} {
		for id := range m {
			either[id] = true
		}
	}
	c.factors(where, p.Factor, either, a.ID+" or "+b.ID)
	for _, id := range namesOf(p.Factor) {
		switch v, both := p.Factor[id], ca[id] && cb[id]; {
		case either[id] && both && v < 1:
			c.bad(where, "factor %s of %s, which both name: two symptoms never make it less likely",
				plain(v), id)
		case either[id] && !both && v > 1:
			c.bad(where, "factor %s of %s, which only one names: raise what both name instead",
				plain(v), id)
		}
	}
}

func (c *symptomChecker) short(where []any, what, text string, limit int) {
	if n := utf8.RuneCountInString(text); n > limit {
		c.bad(where, "%s %q has %d characters: at most %d have room", what, text, n, limit)
	}
}

// namesOf are the keys of a map, sorted.
func namesOf[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// cures gives the care that names a symptom: procedures and, for its own, what is done by hand.
func (l *Library) cures(s *symptom.Symptom) map[string]bool {
	out := map[string]bool{}
	for _, p := range l.All() {
		for _, c := range p.Symptoms {
			if c.Name == s.ID && p.Kind != model.SetUp {
				out[p.ID] = true
			}
		}
	}
	for _, h := range s.Hand {
		out[h.ID] = true
	}
	return out
}
