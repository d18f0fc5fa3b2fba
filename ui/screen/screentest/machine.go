package screentest

import (
	"slices"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
)

// FullMachine adds a full machine of which the rods, blade and belts are due and the rest is not.
func FullMachine(t testing.TB, st *store.Store, lib *procedures.Library,
	now time.Time) *model.Machine {
	t.Helper()
	fs, err := model.ParseFeatures([]string{"full"})
	if err != nil {
		t.Fatal(err)
	}
	f := model.MachineFact{Name: "Heron", Features: fs, Duty: model.Home,
		Settings: map[string]string{}}
	facts := []model.Fact{{Kind: model.KindMachine, Machine: &f}}
	for _, p := range append(lib.All(), lib.SetUps()...) {
		for _, s := range p.Settings {
			f.Settings[s.Name] = s.Default
			if s.Default == "" && s.Number {
				f.Settings[s.Name] = "5"
			}
			if s.Default == "" && len(s.Options) > 0 {
				f.Settings[s.Name] = s.Options[0]
			}
		}
		due := slices.Contains([]string{"rods-wipe", "blade-check", "belts-reset",
			"desiccant-look"}, p.ID)
		if p.Kind != model.SetUp && !due {
			facts = append(facts,
				model.Fact{Kind: model.KindCare,
					Care: &model.CareDone{Procedure: p.ID, Outcome: "done"}})
		}
	}
	f.Settings["plug-tag"] = "H1"
	entries, err := st.Append(model.Action{At: now, Facts: facts})
	if err != nil {
		t.Fatal(err)
	}
	b, err := st.Bench()
	if err != nil {
		t.Fatal(err)
	}
	return b.Machines[entries[0].Machine]
}

// Afresh is a clock by which no key ever counts as held.
func Afresh() func() time.Time {
	at := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	return func() time.Time { at = at.Add(time.Second); return at }
}
