package procedures

import (
	"slices"

	"bench/oilcan/model"
)

// hazard is something a step speaks of that must have been warned of: which words of a step, and
// which words of a caution answer them.
type hazard struct {
	name  string
	step  pattern
	spoke pattern
}

// harmless are words that hold a hazard's word and mean none.
var harmless = lazy(`(?i)\b(alcohol-free|no alcohol|without alcohol|hot[- ]end|heat[- ]?(proof|gloves?)|heat-set|no heat|not hot|no (\w+, )*\w+ or \w+|fan blades?|fans? for cracked blades)\b`)

// hazardWords is the list, common practice.
var hazardWords = []hazard{
	{"alcohol or solvent", lazy(`(?i)\b(alcohol|isopropyl|solvent)\b`),
		lazy(`(?i)alcohol|vapour|solvent|flammable`)},
	{"canned air", lazy(`(?i)\b(canned air|duster|spray can|flammable can)\b`),
		lazy(`(?i)canned|\bcan\b|propellant|duster`)},
	{"a blade", lazy(`(?i)\bblades?\b`), lazy(`(?i)blade|cuts?\b|slice`)},
	{"heat", lazy(`(?i)\b(hot|heat|heating|heated|preheat)\b`), lazy(`(?i)burn|\bhot\b|heat`)},
	{"mains", lazy(`(?i)\bmains\b`), lazy(`(?i)mains|shock|electr|live`)},
	{"a spring",
		lazy(`(?i)\b(unhook|unclip|hook|compress|stretch|remove|release|take (off|out))\b.*\bsprings?\b`), lazy(`(?i)spring|snap|flies|fly|jump|pinch|nip`)},
	{"lifting a load", lazy(`(?i)\blift\b.*\b(changer|machine|glass|panel|gantry|rolls?|bed)\b`),
		lazy(`(?i)lift|drop|heavy|weigh|glass|back strain|crush`)},
}

// hazards checks that every hazard a step speaks of has a caution no later than that step.
func (c *checker) hazards() {
	for _, s := range c.steps {
		do := harmless().ReplaceAllString(s.s.Do, "")
		for _, h := range hazardWords {
			if h.step().MatchString(do) && !c.warned(h, s) && !c.warnedLater(h, s) {
				c.bad(in(s.where, "do"),
					"step %q speaks of %s and no caution before it does: add a [[caution]] with before = [%q]", s.s.Name, h.name, s.s.Name)
			}
		}
	}
}

// warned tells whether a caution of the hazard stands at a step or before it.
func (c *checker) warned(h hazard, s place) bool {
	return slices.ContainsFunc(c.p.Cautions, func(q model.Caution) bool {
		if !h.spoke().MatchString(q.Harm + " " + q.Avoid) {
			return false
		}
		return len(q.Before) == 0 || slices.ContainsFunc(q.Before, func(name string) bool {
			to, ok := c.step(name)
			return ok && to.i <= s.i
		})
	})
}

// warnedLater tells whether a step owed later has a caution of the hazard of its own.
func (c *checker) warnedLater(h hazard, s place) bool {
	return s.later && slices.ContainsFunc(c.p.Later[s.i-len(c.p.Steps)].Cautions,
		func(q model.Caution) bool {
			return h.spoke().MatchString(q.Harm + " " + q.Avoid)
		})
}
