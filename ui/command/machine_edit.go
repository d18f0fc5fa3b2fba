package command

import (
	"fmt"
	"maps"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
)

func machineEditCommand(a *app) *cobra.Command {
	var f machineFlags
	c := &cobra.Command{
		Use: "edit MACHINE", Short: "change what is on record of a machine",
		Long: "Change a machine: its name, features, duty, settings, own bands, care list; take it out of use\n" +
			"(its calendar waits) and back; bring a retired one back with --in-use.\n\n" +
			"--clear-tag takes away the mark that it waits for a part, is ready with limits, out of\n" +
			"use or stopped, and closes the findings that stood for it. Clearing a stop lets power\n" +
			"return: it is for the person who put it right.",
		Example: "  oilcan machine edit Heron --features +wiper,-camera\n  oilcan machine edit Heron --band blade-check=2000-3500\n" +
			"  oilcan machine edit Heron --set clamp-screws=4 --set plug-tag=H1\n  oilcan machine edit Heron --out-of-use\n" +
			"  oilcan machine edit Heron --clear-tag --why \"fan replaced\"",
		Args:              between(1, 1, "one machine"),
		ValidArgsFunction: inTurn(a, machineNames),
		RunE: func(cmd *cobra.Command, args []string) error {
			described := changed(cmd, "name", "features", "duty", "set", "band", "care", "bought",
				"out-of-use", "in-use")
			switch {
			case f.clearTag && described:
				return misuse(
					"--clear-tag is logged on its own: change the rest with a command of its own")
			case f.clearTag:
				return clearTag(a, args[0], f.why)
			case changed(cmd, "why"):
				return misuse("--why goes with --clear-tag: nothing else asks for a reason")
			case !described:
				return misuse("say what to change: oilcan machine edit --help lists it")
			}
			return editMachine(a, args[0], f)
		},
	}
	fl := c.Flags()
	fl.SortFlags = false
	fl.StringVar(&f.name, "name", "", "a new `name`")
	fl.StringVar(&f.features, "features", "", "the whole `list`, or changes: +wiper,-camera")
	fl.StringVar(&f.duty, "duty", "", "how hard it works: `home` or production")
	fl.StringArrayVar(&f.set, "set", nil,
		"what care must know of it: `name=value`, name= forgets it; may be repeated")
	fl.StringArrayVar(&f.band, "band", nil,
		"its own `band`: blade-check=2000-3500, blade-check= gives the file's back; may be repeated")
	fl.StringVar(&f.care, "care", "",
		"what it is kept by: `starter`, all, a list, or changes: +fans-blow,-camera-clean")
	fl.StringVar(&f.bought, "bought", "",
		"how it came: new, used, replaced (a counter was), or the `day` it was bought new")
	fl.BoolVar(&f.outOfUse, "out-of-use", false, "its calendar waits from now")
	fl.BoolVar(&f.inUse, "in-use", false, "it works again")
	fl.BoolVar(&f.clearTag, "clear-tag", false, "what its tag says no longer holds; needs --why")
	fl.StringVar(&f.why, "why", "", "what was put right, a `text`")
	completeFlag(c, "features", completeFeatures(a))
	completeFlag(c, "duty", words("home", "production"))
	completeFlag(c, "band", every(a, procedureIDs))
	return c
}

func editMachine(a *app, word string, f machineFlags) error {
	if f.outOfUse && f.inUse {
		return misuse("--out-of-use and --in-use contradict each other: say one")
	}
	at, err := a.when()
	if err != nil {
		return err
	}
	m, err := findMachine(a, word)
	if err != nil {
		return err
	}
	fact := m.MachineFact
	if f.name != "" {
		b, err := a.bench()
		if err != nil {
			return err
		}
		if err := model.CheckName(b, f.name, m.ID); err != nil {
			return err
		}
		fact.Name = f.name
	}
	if f.features != "" {
		if fact, err = withFeatures(fact, f.features); err != nil {
			return err
		}
		fact = fact.Refit(a.procs(), m.Features)
	}
	if f.bought != "" {
		o, err := action.ReadOrigin(f.bought, a.now())
		if err != nil {
			return err
		}
		fact = o.With(fact)
	}
	if f.care != "" {
		if fact, err = action.CareList(a.procs(), fact, f.care); err != nil {
			return err
		}
	}
	if f.duty != "" {
		if fact.Duty, err = duty(f.duty); err != nil {
			return err
		}
	}
	if fact, err = described(a, fact, f); err != nil {
		return err
	}
	if name, err := model.CheckCounts(m.MachineFact, fact); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	switch {
	case f.outOfUse:
		fact.OutOfUse = true
	case f.inUse:
		fact.OutOfUse, fact.Retired = false, false
	}
	return saveFact(a, m, at, fact, book.Changes(m.MachineFact, fact, a.now()))
}

// withFeatures changes the features; what was asked and not known may be asked again.
func withFeatures(fact model.MachineFact, list string) (model.MachineFact, error) {
	var err error
	if fact.Features, err = action.Features(fact.Features, list); err != nil {
		return fact, err
	}
	fact.Settings = maps.Clone(fact.Settings)
	maps.DeleteFunc(fact.Settings, func(k, _ string) bool {
		return strings.HasPrefix(k, model.UnknownPrefix)
	})
	return fact, nil
}
