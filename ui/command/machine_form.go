package command

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

// askedLast is how many procedures the form asks the last time of.
const askedLast = 8

// question is one question about a machine's features: one of a group that exclude each other, or any
// of several.
type question struct {
	ask  string
	any  bool // any of them; else one or not known
	of   []model.Feature
	only []model.Feature // asked only where the machine has one of these so far
}

// questions go from what stands on the bench to what must be looked for.
var questions = []question{
	{ask: "Is it enclosed?", of: []model.Feature{"enclosed", "open-frame"}},
	{ask: "How does it move?", of: []model.Feature{"corexy", "bedslinger"}},
	{ask: "What else is built in?", any: true,
		of: []model.Feature{"top-panel", "chamber-heater", "exhaust", "battery-backup", "mains-bed", "bed-cable", "chamber-filter", "camera"}},
	{ask: "What do the axes run on?", any: true, of: []model.Feature{"rails", "rollers", "z-screw", "z-belt"}},
	{ask: "Are there guide rods, and of what?", of: []model.Feature{"rods-carbon", "rods-steel"}},
	{ask: "What runs on the rods?", of: []model.Feature{"bush-ball", "bush-polymer", "bush-sintered"}, only: []model.Feature{"rods-carbon", "rods-steel"}},
	{ask: "What are the lead screw nuts made of?", of: []model.Feature{"nut-metal", "nut-polymer"}, only: []model.Feature{"z-screw", "z-belt"}},
	{ask: "How are the belts tensioned?", of: []model.Feature{"belt-springclamp", "belt-manual"}},
	{ask: "Where is the extruder?", of: []model.Feature{"direct-drive", "remote-drive"}},
	{ask: "How is the nozzle changed?", of: []model.Feature{"nozzle-threaded", "nozzle-unit"}},
	{ask: "What is the temperature sensor?", of: []model.Feature{"sensor-ntc", "sensor-pt"}},
	{ask: "What does the toolhead have?", any: true, of: []model.Feature{"lined-hotend", "sock", "cutter", "layer-sensor", "probe", "knobs"}},
	{ask: "What is the layer sensor's window made of?", of: []model.Feature{"lens-glass", "lens-polymer"}, only: []model.Feature{"layer-sensor"}},
	{ask: "What stands round it?", any: true, of: []model.Feature{"changer", "lid-changer", "changer-dryer", "wiper", "chute", "self-check"}},
}

// machineForm asks for a machine question by question and saves it.
func (a *app) machineForm() error {
	n := newMachine{fact: model.MachineFact{Duty: model.Home}}
	a.say("A new machine. Enter takes what is in brackets; ctrl+c leaves without saving.")
	steps := []func(*newMachine) error{a.formName, a.formFeatures, a.formDuty, a.formMeters, a.formLasts}
	for _, step := range steps {
		if err := step(&n); err != nil {
			return err
		}
	}
	return a.saveMachine(n)
}

// until asks again until the answer can be taken.
func (a *app) until(question string, take func(answer string) error) error {
	for {
		answer, err := a.ask(question)
		if err != nil {
			return err
		}
		if err := take(answer); err != nil {
			a.say("  %s", err)
			continue
		}
		return nil
	}
}

func (a *app) formName(n *newMachine) error {
	b, err := a.bench()
	if err != nil {
		return err
	}
	return a.until("Name?", func(answer string) error {
		n.fact.Name = answer
		return model.CheckName(b, answer, "")
	})
}

func (a *app) formFeatures(n *newMachine) error {
	set := model.NewFeatureSet()
	for _, q := range questions {
		if len(q.only) > 0 && !slices.ContainsFunc(q.only, func(f model.Feature) bool { return set[f] }) {
			continue
		}
		a.say("")
		a.say("%s", q.ask)
		for i, f := range q.of {
			a.say("  %d  %s", i+1, f)
		}
		prompt := "Number [don't know]:"
		if q.any {
			prompt = "Numbers with spaces between [none]:"
		}
		err := a.until(prompt, func(answer string) error {
			chosen, err := q.read(answer)
			if err != nil {
				return err
			}
			next := append(set.List(), chosen...)
			if n.fact.Features, err = model.ParseFeatures(strings.Split(joined(next), ", ")); err != nil {
				return err
			}
			set = model.NewFeatureSet(n.fact.Features...)
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// read takes numbers or names.
func (q question) read(answer string) ([]model.Feature, error) {
	var out []model.Feature
	switch strings.ToLower(answer) {
	case "", "-", "?", "none", "no", "don't know", "dont know", "unknown":
		return nil, nil
	}
	for _, w := range strings.FieldsFunc(answer, func(r rune) bool { return r == ' ' || r == ',' }) {
		i, err := strconv.Atoi(w)
		switch {
		case err == nil && i >= 1 && i <= len(q.of):
			out = append(out, q.of[i-1])
		case slices.Contains(q.of, model.Feature(strings.ToLower(w))):
			out = append(out, model.Feature(strings.ToLower(w)))
		default:
			return nil, fmt.Errorf("%q is none of them: type a number from 1 to %d", w, len(q.of))
		}
	}
	if !q.any && len(out) > 1 {
		return nil, fmt.Errorf("only one of them can be: type one number")
	}
	return out, nil
}

func (a *app) formDuty(n *newMachine) error {
	a.say("")
	return a.until("How hard does it work, home or production? [home]", func(answer string) error {
		if answer == "" {
			return nil
		}
		word, err := action.Find("duty", answer, []string{string(model.Home), string(model.Production)})
		n.fact.Duty = model.Duty(word)
		return err
	})
}

func (a *app) formMeters(n *newMachine) error {
	a.say("")
	a.say("What do its counters show?")
	for _, m := range []struct {
		meter model.Meter
		ask   string
	}{{model.Hours, "Print hours [not read]:"}, {model.Changes, "Filament changes [not read]:"}, {model.Starts, "Print starts [not read]:"}} {
		if m.meter == model.Changes && !slices.Contains(n.fact.Features, "changer") && !slices.Contains(n.fact.Features, "cutter") {
			continue
		}
		err := a.until(m.ask, func(answer string) error {
			if answer == "" || answer == "-" {
				return nil
			}
			v, err := action.Number(answer)
			if err != nil {
				return err
			}
			n.readings = append(n.readings, model.Reading{Meter: m.meter, Value: v, How: "start"})
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// formLasts asks when the care that comes round soonest was last done.
func (a *app) formLasts(n *newMachine) error {
	ids := a.soonest(n.fact)
	if len(ids) == 0 {
		return nil
	}
	a.say("")
	a.say("When was this last done? A day (2026-10-20, 3d, yesterday), what its counter showed then, or Enter for don't know; s skips the rest.")
	for _, p := range ids {
		skip := false
		err := a.until(fmt.Sprintf("%s (%s) [don't know]:", p.Title, p.ID), func(answer string) error {
			switch strings.ToLower(answer) {
			case "s":
				skip = true
				return nil
			case "":
				answer = "unknown"
			}
			l, err := action.ParseLast(p.ID+"="+answer, a.now())
			if err != nil {
				return err
			}
			told, err := l.Facts(a.procs(), n.fact)
			if err != nil {
				return err
			}
			if err := beyond(l, told, n.readings); err != nil {
				return err
			}
			n.lasts = append(n.lasts, l)
			return nil
		})
		if err != nil || skip {
			return err
		}
	}
	return nil
}

// soonest gives the care that fits a machine and comes round soonest by the calendar, looks that a full
// part does too left out.
func (a *app) soonest(f model.MachineFact) []*model.Procedure {
	fs := model.NewFeatureSet(f.Features...)
	var fit []*model.Procedure
	counted := map[string]bool{}
	for _, p := range a.procs() {
		if p.Fits(fs) && (p.Kind == model.Care || p.Kind == model.Swap || p.Kind == model.Look) && calendar(p, f) > 0 {
			fit = append(fit, p)
			for _, id := range p.CountsAs {
				counted[id] = true
			}
		}
	}
	fit = slices.DeleteFunc(fit, func(p *model.Procedure) bool { return counted[p.ID] })
	slices.SortStableFunc(fit, func(x, y *model.Procedure) int {
		return int(calendar(x, f) - calendar(y, f))
	})
	return fit[:min(len(fit), askedLast)]
}

// calendar is the low end of a procedure's calendar band on a machine, in days; 0 where it has none.
func calendar(p *model.Procedure, f model.MachineFact) float64 {
	for _, iv := range p.Intervals {
		if iv.Meter != model.Days || iv.Once || !iv.Only.OnMachine(model.NewFeatureSet(f.Features...), f.Settings) {
			continue
		}
		if iv.Production != nil && f.Duty == model.Production {
			return iv.Production.Low
		}
		return iv.Low
	}
	return 0
}
