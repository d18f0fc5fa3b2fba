package procedures

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"bench/oilcan/model"
)

// parts checks intervals, triggers, settings, tools, supplies, cautions and symptoms.
func (c *checker) parts() {
	for i := range c.p.Intervals {
		c.interval(at("interval", i), c.p.Intervals[i])
	}
	c.settings()
	c.tools()
	for i, s := range c.p.Supplies {
		if s.Quantity <= 0 || s.Quantity > 1000 {
			c.bad(at("supply", i, "quantity"),
				"quantity = %s: write how many one session uses, above 0", plain(s.Quantity))
		}
		c.supplyCounts(at("supply", i, "count"), s)
	}
	for i, q := range c.p.Cautions {
		for _, name := range q.Before {
			if _, ok := c.step(name); !ok {
				c.bad(at("caution", i, "before"), "%s", notOnList("step", name, c.stepNames()))
			}
		}
		for _, name := range q.Said {
			if !slices.Contains(q.Before, name) {
				c.bad(at("caution", i, "said"), "%s", notOnList("step", name, q.Before))
			}
		}
		if len(q.Said) > 0 && q.Signal != "NOTICE" {
			c.bad(at("caution", i, "said"),
				"said goes with a NOTICE only: what hurts a person is said beside every step, leave it out")
		}
		if q.Basis != "" && !saysOrigin(q.Basis) {
			c.bad(at("caution", i, "basis"), "%s", noOrigin(q.Basis))
		}
	}
	seen := map[string]bool{}
	for i, s := range c.p.Symptoms {
		if !kebab().MatchString(s.Name) || seen[s.Name] {
			c.bad(at("symptom", i, "name"),
				"symptom %q: write each once, in small letters and hyphens, e.g. layer-shift", s.Name)
		} else if text := knownSymptom(s.Name); text != "" {
			c.bad(at("symptom", i, "name"), "%s", text)
		}
		seen[s.Name] = true
	}
}

// supplyCounts checks the counts by which a supply is booked.
func (c *checker) supplyCounts(where []any, s model.Supply) {
	for _, name := range s.Count {
		switch to, ok := c.step(name); {
		case !ok:
			c.bad(where, "%s", notOnList("step", name, c.stepNames()))
		case to.s.Gate != model.Count || to.later:
			c.bad(where, "step %q is no count: name one whose answer is a number", name)
		}
	}
	if len(s.Count) > 0 && s.Unit != "" {
		c.bad(where, "a count is of whole pieces, and %s goes by the %s: leave count out", s.Part, s.Unit)
	}
}

func (c *checker) interval(where []any, v model.Interval) {
	if v.Low <= 0 || v.High < v.Low {
		c.bad(where,
			"low = %s, high = %s: write 0 < low <= high; a single trade value v is v to 1.25 v", plain(v.Low), plain(v.High))
	}
	if !basisForm().MatchString(v.Basis) && v.Basis != "" {
		c.bad(in(where, "basis"),
			"basis %q: write \"common practice\", \"from memory\" or \"published: SOURCE\"", v.Basis)
	}
	if b := v.Production; b != nil {
		switch {
		case b.Basis != "" && !basisForm().MatchString(b.Basis):
			c.bad(in(where, "production"),
				"production basis %q: write \"common practice\", \"from memory\" or \"published: SOURCE\"", b.Basis)
		case v.Meter != model.Days:
			c.bad(in(where, "production"),
				"a production band only goes with days: counters are not multiplied by duty, leave it out")
		case b.Low <= 0 || b.High < b.Low:
			c.bad(in(where, "production"), "production low = %s, high = %s: write 0 < low <= high",
				plain(b.Low), plain(b.High))
		case b.Low > v.Low || b.High > v.High:
			c.bad(in(where, "production"),
				"the production band %s to %s is longer than the one at home, %s to %s: a machine in production needs care no later",
				plain(b.Low), plain(b.High), plain(v.Low), plain(v.High))
		}
	}
	if w := v.When; w != nil {
		if w.Share <= 0 || w.Share > 1 {
			c.bad(in(where, "when", "share"), "share = %s: write a share above 0, at most 1",
				plain(w.Share))
		}
		if w.Meter != model.StyrenicHours && w.Meter != model.AbrasiveHours && w.Meter != "" {
			c.bad(in(where, "when", "meter"),
				"meter %q is no share of the hours: write styrenic-hours or abrasive-hours", w.Meter)
		}
	}
	if v.Once && len(c.p.Triggers) == 0 && v.Meter != model.Hours {
		c.bad(in(where, "once"),
			"once counts from a trigger, and the file has none: add a [[trigger]] or leave once out; only hours count from a machine's first")
	}
}

// settings checks the questions, and that two files that share one ask the same.
func (c *checker) settings() {
	seen := map[string]bool{}
	for i, s := range c.p.Settings {
		where := at("setting", i)
		if !kebab().MatchString(s.Name) || seen[s.Name] {
			c.bad(in(where, "name"),
				"setting %q: write each once, in small letters and hyphens, e.g. clamp-screws", s.Name)
		}
		seen[s.Name] = true
		if len(s.Options) > 0 && s.Number {
			c.bad(in(where, "number"),
				"setting %q has options and is a number: write one or the other", s.Name)
		}
		if s.Unit != "" && !s.Number {
			c.bad(in(where, "unit"),
				"setting %q has a unit and is no number: write number = true beside it", s.Name)
		}
		if len(s.Options) == 1 {
			c.bad(in(where, "options"), "setting %q has only one option: nothing to ask", s.Name)
		}
		if s.Default != "" && len(s.Options) > 0 && !slices.Contains(s.Options, s.Default) {
			c.bad(in(where, "default"), "%s", notOnList("default", s.Default, s.Options))
		}
		if _, err := s.Value(s.Default); s.Number && s.Default != "" && err != nil {
			c.bad(in(where, "default"),
				"default %q is no such number: write a whole number up to 99, or a measured one and its unit", s.Default)
		}
		c.sameSetting(in(where, "name"), s)
	}
}

// sameSetting checks a setting against files that ask it too. An operator's own file may ask in
// words of its own: those of the library change with time, what is answered stays.
func (c *checker) sameSetting(where []any, s model.Setting) {
	for _, q := range c.l.byID {
		if q.ID == c.p.ID {
			continue
		}
		for _, o := range q.Settings {
			switch {
			case o.Name != s.Name:
			case o.Number != s.Number || o.Unit != s.Unit || !slices.Equal(o.Options, s.Options):
				c.bad(where,
					"setting %q is also asked by %s with other answers: number, unit and options must be the same", s.Name, q.ID)
			case !c.p.Yours && !q.Yours && (o.Ask != s.Ask || o.Title != s.Title ||
				o.Default != s.Default):
				c.bad(where,
					"setting %q is also asked by %s in other words: ask, title and default must be the same", s.Name, q.ID)
			}
		}
	}
}

// tools checks names and what each hex key fits.
func (c *checker) tools() {
	for i, t := range c.p.Tools {
		where := at("tool", i)
		mm, isKey := keyMM(t.Name)
		switch {
		case slices.ContainsFunc(c.p.Tools[:i], func(o model.Tool) bool {
			return reflect.DeepEqual(o, t)
		}):
			c.bad(where, "%s stands there twice: keep one of them", t.Name)
		case isKey && len(t.Fits) == 0:
			c.bad(where,
				"%s says no screw: write fits = [{ head = \"…\", size = \"…\", for = \"…\" }], a key fits several", t.Name)
		case !isKey && len(t.Fits) > 0:
			c.bad(in(where, "fits"), "%s is no hex key: leave fits out", t.Name)
		}
		for j, f := range t.Fits {
			if isKey {
				c.fit(in(where, "fits", j), f.Head, f.Size, mm)
			}
		}
	}
	for _, s := range c.steps {
		if f := s.s.Fastener; f != nil {
			c.fastener(in(s.where, "fastener"), f)
		}
	}
}

// keyMM gives the size of a hex key by its name.
func keyMM(tool string) (mm float64, ok bool) {
	s, found := strings.CutPrefix(tool, "hex key ")
	if !found {
		return 0, false
	}
	mm, err := strconv.ParseFloat(strings.TrimSuffix(s, " mm"), 64)
	return mm, err == nil
}

// standards names the standard each head's key size comes from.
var standards = map[string]string{"cap": "ISO 4762", "button": "ISO 7380-1",
	"countersunk": "ISO 10642", "set": "ISO 4026 to 4029"}

// fit checks a key against a screw.
func (c *checker) fit(where []any, head, size string, mm float64) {
	want, ok := model.HexKey(head, size)
	switch {
	case head == "" || size == "":
	case !ok:
		c.bad(where, "no %s screw %s in the tables: write one of %s", head, size,
			strings.Join(model.ScrewSizes, ", "))
	case want != mm:
		c.bad(where, "a %s screw %s takes the %s mm key (%s), not %s mm", head, size, plain(want),
			standards[head], plain(mm))
	}
}

// fastener checks the screw a step turns, and that its key is laid out.
func (c *checker) fastener(where []any, f *model.Fastener) {
	want, ok := model.HexKey(f.Head, f.Size)
	if !ok {
		if f.Head != "" && f.Size != "" {
			c.bad(where, "no %s screw %s in the tables: write one of %s", f.Head, f.Size,
				strings.Join(model.ScrewSizes, ", "))
		}
		return
	}
	if f.Engagement < 0 || f.Engagement > 50 {
		c.bad(where, "engagement = %s: write the engaged length in mm, at most 50",
			plain(f.Engagement))
	}
	key := "hex key " + plain(want) + " mm"
	if !slices.ContainsFunc(c.p.Tools, func(t model.Tool) bool { return t.Name == key }) {
		c.bad(where, "a %s screw %s takes the %s (%s), and it is not laid out: add a [[tool]]",
			f.Head, f.Size, key, standards[f.Head])
	}
}
