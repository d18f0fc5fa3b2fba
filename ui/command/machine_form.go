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
	n.fact.CareList = model.StarterList(a.procs(), model.NewFeatureSet(n.fact.Features...))
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
	for _, q := range action.FeatureQuestions {
		if !q.Asked(set) {
			continue
		}
		a.sayQuestion(q)
		prompt := "Number [don't know]:"
		switch {
		case q.Any:
			prompt = "Numbers with spaces between [none]:"
		case q.None != "":
			prompt = "Number [" + q.None + "]:"
		}
		err := a.until(prompt, func(answer string) error {
			chosen, err := readFeatures(q, answer)
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

// sayQuestion writes a question with its answers, one a line.
func (a *app) sayQuestion(q action.FeatureQuestion) {
	a.say("")
	a.say("%s", strings.TrimSpace(q.Ask+" "+q.Hint))
	t := table{indent: "  "}
	for i, o := range q.Of {
		t.add(strconv.Itoa(i+1), string(o.Is), o.Says)
	}
	t.write(a)
}

// readFeatures takes numbers or names.
func readFeatures(q action.FeatureQuestion, answer string) ([]model.Feature, error) {
	var out []model.Feature
	switch strings.ToLower(answer) {
	case "", "-", "?", "none", "no", "don't know", "dont know", "unknown":
		return nil, nil
	}
	for _, w := range strings.FieldsFunc(answer, func(r rune) bool { return r == ' ' || r == ',' }) {
		i, err := model.ReadCount(w, "", len(q.Of))
		if err != nil {
			i = 1 + slices.IndexFunc(q.Of, func(o action.FeatureOption) bool { return strings.EqualFold(string(o.Is), w) })
		}
		if i < 1 || i > len(q.Of) {
			return nil, fmt.Errorf("%q is none of them: type a number from 1 to %d", w, len(q.Of))
		}
		out = append(out, q.Of[i-1].Is)
	}
	if !q.Any && len(out) > 1 {
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
			v, err := model.ReadMeter(&model.Machine{}, m.meter, answer, a.now(), a.now())
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
			if err := action.Beyond(l, told, n.readings); err != nil {
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
