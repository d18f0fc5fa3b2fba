package command

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/store"
)

// checkReport is what check found, as programs read it.
type checkReport struct {
	File     string   `json:"file"`
	Entries  int      `json:"entries"`
	Machines int      `json:"machines"`
	Sessions int      `json:"sessions"` // begun
	Texts    int      `json:"texts"`    // of procedures, as sessions read them
	Ahead    int      `json:"ahead"`    // dated facts ahead of the clock
	Problems []string `json:"problems"` // a sentence each; [] where the file is whole
}

func checkCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use: "check", Short: "read the whole data file and fold it again",
		Long:    "Read the whole data file, every record against its checksum, fold the journal again and\ncompare. Exit 3 if anything is wrong.",
		Example: "  oilcan check\n  oilcan check --file bench-2026-11-25.oilcan",
		Args:    between(0, 0, "no name"),
		RunE:    func(*cobra.Command, []string) error { return checkFile(a) },
	}
}

func checkFile(a *app) error {
	if err := a.mustExist(); err != nil {
		return err
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	seen, done := watch(a, "checking")
	st.Watch(seen)
	r, err := st.Check()
	done()
	if err != nil {
		return unusable(err)
	}
	if a.flags.json {
		out := checkReport{st.Path(), r.Entries, r.Machines, r.Sessions, r.Texts, r.Ahead,
			r.Problems}
		if out.Problems == nil {
			out.Problems = []string{}
		}
		if err := a.writeJSON(out); err != nil {
			return err
		}
	} else {
		a.say("%s: %s, %s, %s begun", st.Path(), model.Counted(r.Entries, "entry"),
			model.Counted(r.Machines, "machine"), model.Counted(r.Sessions, "session"))
		for _, p := range r.Problems {
			a.say("  %s", p)
		}
	}
	if !r.OK() {
		return &coded{Unusable,
			fmt.Errorf("the data file has %s: put a good backup in place with oilcan restore",
				model.Counted(len(r.Problems), "mistake"))}
	}
	switch {
	case a.flags.json:
	case r.Ahead > 0:
		a.say("the file is whole, with %s ahead of the clock", model.Counted(r.Ahead, "dated fact"))
	default:
		a.say("nothing is wrong")
	}
	if b, err := st.Bench(); err == nil {
		askClock(a, st, b)
	}
	if w := store.PlaceWarning(st.Path()); w != "" {
		a.warn(errors.New(w))
	}
	return nil
}
