package procedures

import (
	"maps"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// world is one way a file can run: a machine, its settings, and the answers at the choices that
// other steps depend on.
type world struct {
	fs       model.FeatureSet
	known    map[model.Feature]bool // features the file asks about; of others nothing is known
	settings map[string]string
	answers  map[string]string
	say      []string // what makes it special, for messages
}

// String says what makes the world special, "" for the plainest one.
func (w *world) String() string {
	if len(w.say) == 0 {
		return ""
	}
	return " (" + strings.Join(w.say, ", ") + ")"
}

// runs tells whether a step runs in this world.
func (w *world) runs(o model.Only, asked map[string]bool) bool {
	if !o.OnMachine(w.fs, w.settings) {
		return false
	}
	return o.Step == "" || asked[o.Step] && slices.Contains(o.Is, w.answers[o.Step])
}

// exists tells whether the machine has a variable; one the file never asks about counts as there.
func (w *world) exists(v model.Variable) bool {
	of := map[model.Variable]model.Feature{model.Top: "top-panel", model.Changer: "changer",
		model.Door: "open-frame"}[v]
	return of == "" || !w.known[of] || v.Exists(w.fs)
}

// Bounds of a run, far above any real file, which has a few dozen ways and a few thousand steps in
// them all: a wrong file must not hold the program up.
const (
	maxWorlds   = 1000
	maxRunSteps = 100_000
)

// worlds lists the ways the file can run, the plainest first. ok is false where there are too many
// to run them all.
func (c *checker) worlds() (out []*world, ok bool) {
	out, ok = c.machines()
	for _, s := range c.p.Settings {
		if values := c.settingValues(s); len(values) > 1 {
			out = spread(out, values, func(w *world, v string) {
				w.settings[s.Name] = v
				if v != values[0] {
					w.say = append(w.say, "setting "+s.Name+" = "+v)
				}
			})
		}
	}
	for i := range c.p.Steps {
		s := &c.p.Steps[i]
		if values := c.answerValues(s); len(values) > 1 {
			out = spread(out, values, func(w *world, v string) {
				w.answers[s.Name] = v
				if v != values[0] {
					w.say = append(w.say, s.Name+" answered "+v)
				}
			})
		} else if s.Gate == model.Choice && len(s.Options) > 0 {
			for _, w := range out {
				w.answers[s.Name] = s.Options[0].Is
			}
		}
	}
	if len(out) > maxWorlds {
		out, ok = out[:maxWorlds], false
	}
	slices.SortStableFunc(out, func(a, b *world) int { return len(a.say) - len(b.say) })
	return out, ok
}

// spread multiplies worlds by the values of one thing.
func spread(in []*world, values []string, set func(*world, string)) []*world {
	if len(in) > maxWorlds {
		return in
	}
	var out []*world
	for _, w := range in {
		for _, v := range values {
			x := &world{fs: w.fs, known: w.known, settings: map[string]string{},
				answers: map[string]string{}, say: slices.Clone(w.say)}
			maps.Copy(x.settings, w.settings)
			maps.Copy(x.answers, w.answers)
			set(x, v)
			out = append(out, x)
		}
	}
	return out
}

// asked lists the features that decide what a run does: those of steps, leavings and needs.
func (c *checker) asked() []model.Feature {
	seen := model.FeatureSet{}
	add := func(o model.Only) {
		for _, f := range slices.Concat(o.Features, o.Unless) {
			seen[f] = true
		}
	}
	for i := range c.p.Steps {
		add(c.p.Steps[i].Only)
	}
	for _, l := range c.p.Leave {
		add(l.Only)
	}
	for _, f := range slices.Concat(c.p.Needs, c.p.NeedsAny) {
		seen[f] = true
	}
	return seen.List()
}

// machines lists the machines the file is for that differ in what it asks about; ok is false where
// there are too many to list.
func (c *checker) machines() (out []*world, ok bool) {
	asked := c.asked()
	known := map[model.Feature]bool{}
	for _, f := range asked {
		known[f] = true
	}
	needs, free := model.NewFeatureSet(c.p.Needs...), []model.Feature(nil)
	for _, f := range asked {
		if !needs[f] && !needs.Excludes(f) {
			free = append(free, f)
		}
	}
	visits := 0
	var grow func(i int, have []model.Feature)
	grow = func(i int, have []model.Feature) {
		if visits++; len(out) > maxWorlds || visits > 40*maxWorlds {
			return
		}
		if i < len(free) {
			grow(i+1, have)
			if !clashes(have, free[i]) {
				grow(i+1, append(slices.Clone(have), free[i]))
			}
			return
		}
		w := &world{fs: model.NewFeatureSet(slices.Concat(c.p.Needs, have)...), known: known,
			settings: map[string]string{}, answers: map[string]string{}}
		if c.p.Fits(w.fs) {
			if len(have) > 0 {
				w.say = []string{"with " + strings.Join(model.Words(have), ", ")}
			}
			out = append(out, w)
		}
	}
	grow(0, nil)
	slices.SortStableFunc(out, func(a, b *world) int { return len(a.fs) - len(b.fs) })
	return out, len(out) <= maxWorlds && visits <= 40*maxWorlds
}

// clashes tells whether no machine has f together with what it has already.
func clashes(have []model.Feature, f model.Feature) bool {
	for _, g := range model.ExclusiveGroups {
		if slices.Contains(g, f) && count(have, g) > 0 {
			return true
		}
	}
	return f == "top-panel" && slices.Contains(have, "open-frame")
}

// settingValues lists the answers of a setting that steps or leavings depend on, the default first.
func (c *checker) settingValues(s model.Setting) []string {
	var out []string
	used := false
	look := func(o model.Only) {
		if o.Setting != s.Name {
			return
		}
		used = true
		for _, is := range o.Is {
			if !slices.Contains(out, is) {
				out = append(out, is)
			}
		}
	}
	for i := range c.p.Steps {
		look(c.p.Steps[i].Only)
	}
	for _, l := range c.p.Leave {
		look(l.Only)
	}
	if !used {
		return nil
	}
	if len(s.Options) > 0 {
		out = slices.Clone(s.Options)
	} else {
		out = append(out, "any other")
	}
	if i := slices.Index(out, s.Default); i > 0 {
		out[0], out[i] = out[i], out[0]
	}
	return out
}

// answerValues lists the answers of a choice with which the file goes on and on which another step
// depends.
func (c *checker) answerValues(s *model.Step) []string {
	if s.Gate != model.Choice || !slices.ContainsFunc(c.p.Steps, func(x model.Step) bool {
		return x.Only.Step == s.Name
	}) {
		return nil
	}
	var out []string
	for _, o := range s.Options {
		if o.Miss == nil || passes(o.Miss) || opens(o.Miss) {
			out = append(out, o.Is)
		}
	}
	return out
}
