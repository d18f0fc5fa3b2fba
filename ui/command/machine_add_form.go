package command

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

// askMachine asks for a machine question by question and saves it.
func askMachine(a *app) error {
	n := newMachine{fact: model.MachineFact{Duty: model.Home}}
	a.say("A new machine. Enter takes what is in brackets; ctrl+c leaves without saving.")
	steps := []func(*app, *newMachine) error{formName, formStart, formFeatures, formDuty,
		formOrigin, formMeters, formCare}
	for _, step := range steps {
		if err := step(a, &n); err != nil {
			return err
		}
	}
	return saveMachine(a, n)
}

// askUntil asks again until the answer can be taken.
func askUntil(a *app, question string, take func(answer string) error) error {
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

func formName(a *app, n *newMachine) error {
	b, err := a.bench()
	if err != nil {
		return err
	}
	return askUntil(a, "Name?", func(answer string) error {
		n.fact.Name = answer
		return model.CheckName(b, answer, "")
	})
}

// formStart asks what kind of machine it is; the questions that follow begin from there.
func formStart(a *app, n *newMachine) error {
	a.say("")
	a.say("What kind of machine is it? The answers below start from it; what else care must know is asked when a session first needs it.")
	t := table{indent: "  "}
	for i, x := range action.StartingSets {
		t.add(strconv.Itoa(i+1), x.Name, x.Says)
	}
	t.write(a)
	return askUntil(a, "Number [another kind]:", func(answer string) error {
		if answer == "" {
			return nil
		}
		x, err := action.FindStartingSet(answer)
		n.fact.Features = slices.Clone(x.Features)
		return err
	})
}

func formFeatures(a *app, n *newMachine) error {
	for _, q := range action.FeatureQuestions {
		set := model.NewFeatureSet(n.fact.Features...)
		if q.Later || !q.Asked(set) {
			continue
		}
		sayQuestion(a, q)
		var have []model.Feature
		for _, o := range q.Of {
			if set[o.Is] {
				have = append(have, o.Is)
				delete(set, o.Is)
			}
		}
		err := askUntil(a, featurePrompt(q, have), func(answer string) error {
			chosen, err := readFeatures(q, answer)
			if err != nil {
				return err
			}
			if answer == "" {
				chosen = have
			}
			next := append(set.List(), chosen...)
			if n.fact.Features, err = model.ParseFeatures(model.Words(next)); err != nil {
				return err
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// featurePrompt says how a question is answered, and what enter stands for.
func featurePrompt(q action.FeatureQuestion, have []model.Feature) string {
	prompt, empty := "Number", cmp.Or(q.None, "don't know")
	if q.Any {
		prompt, empty = "Numbers with spaces between, or none", "none"
	}
	if len(have) > 0 {
		empty = titles(have)
	}
	return prompt + " [" + empty + "]:"
}

// sayQuestion writes a question with its answers, one a line.
func sayQuestion(a *app, q action.FeatureQuestion) {
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
	for _, w := range strings.FieldsFunc(answer, func(r rune) bool {
		return r == ' ' || r == ','
	}) {
		i, err := model.ReadCount(w, "", len(q.Of))
		if err != nil {
			i = 1 + slices.IndexFunc(q.Of, func(o action.FeatureOption) bool {
				return strings.EqualFold(string(o.Is), w)
			})
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

func formDuty(a *app, n *newMachine) error {
	a.say("")
	return askUntil(a, "How hard does it work, home or production? [home]",
		func(answer string) error {
			if answer == "" {
				return nil
			}
			word, err := action.Find("duty", answer,
				[]string{string(model.Home), string(model.Production)})
			n.fact.Duty = model.Duty(word)
			return err
		})
}

// formOrigin asks how the machine came.
func formOrigin(a *app, n *newMachine) error {
	a.say("")
	a.say("%s", "How did it come? "+action.OriginHint)
	return askUntil(a, "New, a day, used or replaced [replaced, or not known]:",
		func(answer string) error {
			o, err := action.ReadOrigin(answer, a.now())
			n.origin = o
			n.fact = o.With(n.fact)
			return err
		})
}

// formMeters asks what its counters show, where they can be anything but 0.
func formMeters(a *app, n *newMachine) error {
	fs := model.NewFeatureSet(n.fact.Features...)
	if n.readings = n.origin.Readings(fs); n.origin.New {
		return nil
	}
	a.say("")
	a.say("What do its counters show?")
	for _, m := range []struct {
		meter model.Meter
		ask   string
	}{{model.Hours, "Print hours [not read]:"}, {model.Changes, "Filament changes [not read]:"}} {
		if m.meter == model.Changes && !action.CountsChanges(fs) {
			continue
		}
		err := askUntil(a, m.ask, func(answer string) error {
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

// formCare asks what the machine is kept by.
func formCare(a *app, n *newMachine) error {
	a.say("")
	return askUntil(a,
		"Kept by a list to start with, or by all that fits it? starter or all [starter]", func(answer string) error {
			f, err := action.CareList(a.procs(), n.fact, cmp.Or(answer, "starter"))
			if err == nil {
				n.fact = f
			}
			return err
		})
}
