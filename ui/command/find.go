package command

import (
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

// findMachine finds a machine by its name or the beginning of it.
func findMachine(a *app, word string) (*model.Machine, error) {
	b, err := a.bench()
	if err != nil {
		return nil, err
	}
	return model.FindMachine(b, word)
}

// machineInUse finds a machine to log something on: a retired one is refused.
func machineInUse(a *app, word string) (*model.Machine, error) {
	m, err := findMachine(a, word)
	if err == nil && m.Retired {
		return nil,
			misuse("%s is retired: bring it back first with oilcan machine edit %s --in-use",
				m.Name, action.Typed(m.Name))
	}
	return m, err
}

// toldOf is when something happened and the machine in use it is logged on.
func toldOf(a *app, word string) (time.Time, *model.Machine, error) {
	at, err := a.when()
	if err != nil {
		return at, nil, err
	}
	m, err := machineInUse(a, word)
	return at, m, err
}

// on says when something happened where it was not now.
func on(at, now time.Time) string {
	if d := now.Sub(at); d >= 0 && d < time.Minute { // the clock went on meanwhile
		return ""
	}
	return ", on " + model.Stamp(at, now)
}

// noMachine is said of a bench without one.
const noMachine = "no machine yet: oilcan machine add NAME --features …, or oilcan demo to look " +
	"around first"

// benchMachines gives the machines by name.
func benchMachines(a *app, all bool) ([]*model.Machine, *model.Bench, error) {
	b, err := a.bench()
	if err != nil {
		return nil, nil, err
	}
	var ms []*model.Machine
	for _, m := range b.ByName() {
		if all || !m.Retired {
			ms = append(ms, m)
		}
	}
	return ms, b, nil
}

// chosenMachines gives the machine named, or all of them.
func chosenMachines(a *app, args []string) ([]*model.Machine, error) {
	if a.flags.file != "" { // a path that was typed is meant to be there
		if err := a.mustExist(); err != nil {
			return nil, err
		}
	}
	if len(args) == 0 {
		ms, _, err := benchMachines(a, false)
		return ms, err
	}
	m, err := findMachine(a, args[0])
	if err != nil {
		return nil, err
	}
	return []*model.Machine{m}, nil
}

// findFinding finds a standing finding by its id or the end of it.
func findFinding(a *app, word string) (*model.Machine, model.Finding, error) {
	ms, _, err := benchMachines(a, true)
	if err != nil {
		return nil, model.Finding{}, err
	}
	var on *model.Machine
	var found []model.Finding
	for _, m := range ms {
		for _, f := range m.Findings {
			if endsWith(f.ID, word) {
				on, found = m, append(found, f)
			}
		}
	}
	switch len(found) {
	case 1:
		return on, found[0], nil
	case 0:
		err = misuse("no finding %q stands: oilcan finding list shows them", word)
	default:
		err = misuse("%q may be %d findings: type more of the id", word, len(found))
	}
	return nil, model.Finding{}, err
}
