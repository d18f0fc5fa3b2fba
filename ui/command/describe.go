package command

import (
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

// machineFlags are the words that describe a machine on the command line.
type machineFlags struct {
	features, duty         string
	hours, changes, starts string
	last, set, band        []string
	name, care             string
	start, bought          string
	outOfUse, inUse        bool
	clearTag               bool
	why                    string
}

func joined(fs []model.Feature) string { return strings.Join(model.Words(fs), ", ") }

// titles names features in a person's words.
func titles(fs []model.Feature) string {
	var out []string
	for _, f := range fs {
		out = append(out, action.FeatureTitle(f))
	}
	return strings.Join(out, ", ")
}

// duty reads how hard a machine works.
func duty(word string) (model.Duty, error) {
	switch d := model.Duty(strings.ToLower(strings.TrimSpace(word))); d {
	case model.Home, model.Production:
		return d, nil
	}
	return "", misuse("duty is home or production, not %q", word)
}

// described applies settings and bands to a description.
func described(a *app, fact model.MachineFact, f machineFlags) (model.MachineFact, error) {
	for _, text := range f.set {
		name, value, err := action.Setting(procsAndSetUps(a), text)
		if err != nil {
			return fact, err
		}
		fact = action.WithSetting(fact, name, value)
	}
	for _, text := range f.band {
		id, band, ok, err := action.Band(a.procs(), fact, text)
		if err != nil {
			return fact, err
		}
		if fact = action.WithBand(fact, id, nil); ok {
			fact = action.WithBand(fact, id, &band)
		}
	}
	return fact, nil
}

// saveFact writes a machine's new description.
func saveFact(a *app, m *model.Machine, at time.Time, fact model.MachineFact, what string) error {
	if what == "" {
		return answer(a, []model.Entry{}, "%s is so already: nothing to change", m.Name)
	}
	entries, err := a.append(m, at, []model.Fact{{Kind: model.KindMachine, Machine: &fact}})
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.writeJSON(entries)
	}
	a.say("%s: %s", m.Name, what)
	if !slices.Equal(fact.CareList, m.CareList) {
		sayCare(a, fact)
	}
	return nil
}

// sayCare says what a machine is kept by, and what it is not that guards a person.
func sayCare(a *app, f model.MachineFact) {
	if f.CareList != nil {
		a.say("kept by %d of the %d procedures that fit it: oilcan gauges %s --all shows the rest",
			len(f.CareList),
			len(model.FullList(a.procs(), model.NewFeatureSet(f.Features...))), action.Typed(
				f.Name))
	}
	for _, p := range f.LetGo(a.procs()) {
		a.say("not kept by %s, which guards a person", p.Called())
	}
}
