package procedures

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"bench/oilcan/model"
)

// checker looks at the meaning of one procedure within a library.
type checker struct {
	l        *Library
	p        *model.Procedure
	tree     *node // nil where the procedure was not read from a file: problems then have no line
	steps    []place
	problems []Problem
}

// place is a step with its place in the file; the steps owed later stand after the others.
type place struct {
	s     *model.Step
	where []any
	i     int
	later bool
}

// Check gives what is wrong with the meaning of a procedure within this library, sorted by line:
// words and lengths, references, the state and the ledger run from what it requires to what it
// leaves, the interlocks, the cautions, the order. parse gives the problems of form.
func (l *Library) Check(p *model.Procedure) []Problem {
	l.ensure()
	c := &checker{l: l, p: p, tree: l.trees[p]}
	for i := range p.Steps {
		c.steps = append(c.steps, place{&p.Steps[i], at("step", i), i, false})
	}
	for i := range p.Later {
		c.steps = append(c.steps, place{&p.Later[i].Step, at("later", i), len(p.Steps) + i, true})
	}
	c.head()
	c.texts()
	c.conditions()
	c.references()
	c.parts()
	c.stepForms()
	c.setUp()
	c.locks()
	c.run()
	c.hazards()
	c.order()
	return sorted(c.problems)
}

// at is a path into the file: keys and places.
func at(parts ...any) []any { return parts }

// in goes on from a path.
func in(where []any, parts ...any) []any {
	return append(append(make([]any, 0, len(where)+len(parts)), where...), parts...)
}

// bad files a problem at a path of the file.
func (c *checker) bad(where []any, format string, args ...any) {
	c.problems = append(c.problems, Problem{File: c.p.File, Line: c.tree.lineOf(where...),
		Text: fmt.Sprintf(format, args...)})
}

// step finds a step, or one owed later, by name.
func (c *checker) step(name string) (place, bool) {
	for _, s := range c.steps {
		if s.s.Name == name {
			return s, true
		}
	}
	return place{}, false
}

// stepNames lists the names of the steps, for the nearest word.
func (c *checker) stepNames() []string {
	out := make([]string, len(c.steps))
	for i, s := range c.steps {
		out[i] = s.s.Name
	}
	return out
}

// isSetUp tells whether the file is a set-up action.
func (c *checker) isSetUp() bool { return c.p.Kind == model.SetUp }

// change is what a set-up action changes; nil for every other file.
func (c *checker) change() *model.Change {
	if c.isSetUp() {
		return c.p.Change
	}
	return nil
}

// owns tells whether the file has the owned exception.
func (c *checker) owns(o model.Own) bool { return slices.Contains(c.p.Owns, o) }

// head checks id, kind, rung and minutes.
func (c *checker) head() {
	p := c.p
	if !kebab().MatchString(p.ID) {
		c.bad(at("id"), "id %q: write small letters, digits and single hyphens, e.g. rods-wipe",
			p.ID)
	}
	if want := strings.TrimSuffix(path.Base(p.File), ".toml"); p.File != "" && want != p.ID {
		c.bad(at("id"), "id %q is not the file's name %q: make them the same", p.ID, want)
	}
	switch {
	case c.isSetUp() && len(p.Rung) > 0:
		c.bad(at("rung"), "a set-up action has no rung: leave it out, the planner places it")
	case !c.isSetUp() && len(p.Rung) == 0:
		c.bad(at(),
			"the file has no rung: write rung = \"inspect\" or another step of the ladder, or \"off-machine\"")
	case len(p.Rung) > 0 && !p.Rung[len(p.Rung)-1].Only.Zero():
		c.bad(at("rung"),
			"no rung holds where no condition does: end the list with one without \"only\"")
	}
	if !c.isSetUp() && p.Purpose == "" {
		c.bad(at(), "the file has no purpose: write in one sentence what it is good for")
	}
	if len(p.Steps) == 0 {
		c.bad(at(), "the file has no [[step]]: write at least one")
	}
	if c.tree != nil && c.tree.find("handson") == nil {
		c.bad(at(),
			"the file has no handson: write the minutes of practised hands, e.g. handson = 4")
	}
	c.minutes(at("handson"), p.HandsOn)
	c.minutes(at("first"), p.First)
	c.minutes(at("waiting"), p.Waiting)
	if p.First != 0 && p.First < p.HandsOn {
		c.bad(at("first"),
			"first = %s is less than handson = %s: a first try takes longer than practised hands", plain(p.First), plain(p.HandsOn))
	}
}

// minutes checks a time in minutes.
func (c *checker) minutes(where []any, v float64) {
	if v < 0 || v > 1440 || v*4 != float64(int(v*4)) {
		c.bad(where, "%v = %s: write minutes from 0 to 1440 in quarters, e.g. 2.25",
			where[len(where)-1], plain(v))
	}
}

// The longest each text may be, in characters: what still fits a screen of 80 columns.
const (
	maxTitle   = 48
	maxShort   = 22
	maxDo      = 140
	maxAsk     = 40
	maxWhy     = 40
	maxSay     = 160
	maxCaution = 160
	maxLine    = 58
	maxHeading = 24
	maxSeen    = 24
)

// texts checks the wording of everything that is not a step.
func (c *checker) texts() {
	p := c.p
	c.text(at("title"), p.Title, maxTitle)
	if p.Short != "" {
		c.text(at("short"), p.Short, maxShort)
	}
	if strings.HasSuffix(p.Title, ".") {
		c.bad(at("title"), "the title ends with a full stop: leave it out")
	}
	c.text(at("purpose"), p.Purpose, maxDo)
	c.text(at("why"), p.Why, maxWhy)
	for i, q := range p.Cautions {
		c.text(at("caution", i, "harm"), q.Harm, maxCaution)
		c.text(at("caution", i, "avoid"), q.Avoid, maxCaution)
	}
	for i, s := range p.Settings {
		c.text(at("setting", i, "ask"), s.Ask, maxDo)
		c.text(at("setting", i, "title"), s.Title, maxHeading)
	}
	for i, g := range p.Gear {
		c.text(at("gear", i), g, maxAsk)
	}
}

// text checks one text: its length, and that no sign of another format is left in it.
func (c *checker) text(where []any, s string, limit int) {
	key := where[len(where)-1]
	if i, ok := key.(int); ok {
		key = fmt.Sprintf("%v %d", where[len(where)-2], i+1)
	}
	if text := textFault(fmt.Sprint(key), s, limit); text != "" {
		c.bad(where, "%s", text)
	}
}

// textFault says what is wrong with a text of at most limit characters, "" where nothing is.
func textFault(key, s string, limit int) string {
	if n := utf8.RuneCountInString(s); n > limit {
		return fmt.Sprintf("%s has %d characters: at most %d fit, say it shorter or in two steps",
			key, n, limit)
	}
	if i := strings.IndexAny(s, "!{}@`*"); i >= 0 {
		return fmt.Sprintf("%s holds %q: write plain words without it", key, s[i:i+1])
	}
	if strings.TrimSpace(s) != s || strings.Contains(s, "  ") {
		return key + " has a space too many: single spaces, none at the ends"
	}
	return ""
}
