package command

import (
	"crypto/rand"
	"fmt"
	"slices"
	"strings"

	"github.com/oklog/ulid/v2"
	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

func machineAddCommand(a *app) *cobra.Command {
	var f machineFlags
	c := &cobra.Command{
		Use:   "add [NAME]",
		Short: "add a machine",
		Long: "Add a machine. Without a name, on a terminal, it asks question by question.\n\n" +
			"Of a group of features that exclude each other, naming none means not known, and\n" +
			"unknown takes the dry, alcohol-free, oil-free branch of care. The features are:\n\n" +
			featureHelp() + "\n\n\"full\" stands for: " + joined(model.FullFeatures) + ".",
		Example: "  oilcan machine add Heron --features full --duty home --hours 1200 --changes 3400 --last blade-check=3000 --last rods-wipe=2026-10-20\n" +
			"  oilcan machine add Plover --start moving-bed --features +direct-drive --bought 2026-03\n  oilcan machine add",
		Args: between(0, 1, "one name"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				if !a.talks() || cmd.Flags().NFlag() > 0 {
					return misuse("the machine needs a name: oilcan machine add NAME")
				}
				return askMachine(a)
			}
			return addMachine(a, args[0], f)
		},
	}
	fl := c.Flags()
	fl.SortFlags = false
	fl.StringVar(&f.features, "features", "",
		"what it has, a `list`: corexy,enclosed,changer or full")
	fl.StringVar(&f.start, "start", "", "the `kind` --features changes: "+startingNames())
	fl.StringVar(&f.bought, "bought", "",
		"how it came: new, used, replaced (a counter was), or the `day` it was bought new")
	fl.StringVar(&f.duty, "duty", "home", "how hard it works: `home` or production")
	fl.StringVar(&f.hours, "hours", "", "its counter of print hours, a `number`")
	fl.StringVar(&f.changes, "changes", "", "its counter of filament changes, a `number`")
	fl.StringVar(&f.starts, "starts", "", "its counter of print starts, a `number`")
	fl.StringVar(&f.care, "care", "starter",
		"what it is kept by: `starter`, all, or a list like fans-blow,rods-wipe")
	fl.StringArrayVar(&f.last, "last", nil,
		"when `care` was last done: rods-wipe=2026-10-20, blade-check=3000 (its meter then), gears-blow=unknown; may be repeated")
	fl.StringArrayVar(&f.set, "set", nil,
		"what care must know of it: `name=value`; may be repeated")
	fl.StringArrayVar(&f.band, "band", nil,
		"its own `band`: blade-check=2000-3500; may be repeated")
	completeFlag(c, "features", completeFeatures(a))
	completeFlag(c, "duty", words("home", "production"))
	completeFlag(c, "last", every(a, procedureIDs))
	return c
}

// featureHelp lists the features, groups that exclude each other on a line of their own.
func featureHelp() string {
	var lines []string
	grouped := map[model.Feature]bool{}
	for _, g := range model.ExclusiveGroups {
		lines = append(lines, "  one of: "+joined(g))
		for _, f := range g {
			grouped[f] = true
		}
	}
	var free []model.Feature
	for _, f := range model.Features {
		if !grouped[f] {
			free = append(free, f)
		}
	}
	for len(free) > 0 {
		n := min(7, len(free))
		lines = append(lines, "  any of: "+joined(free[:n]))
		free = free[n:]
	}
	return strings.Join(lines, "\n")
}

// startingNames are the kinds a machine can start from.
func startingNames() string {
	var out []string
	for _, x := range action.StartingSets {
		out = append(out, x.Name)
	}
	return strings.Join(out, ", ")
}

// startedFrom is the features of a kind with a list added, or the list alone.
func startedFrom(kind, list string) ([]model.Feature, error) {
	if kind == "" {
		return action.Features(nil, list)
	}
	x, err := action.FindStartingSet(kind)
	if err != nil || list == "" {
		return slices.Clone(x.Features), err
	}
	return action.Features(x.Features, list)
}

// newMachine is a machine to be added, whole and checked.
type newMachine struct {
	fact     model.MachineFact
	readings []model.Reading
	lasts    []action.Last
	origin   action.Origin
}

// addMachine adds a machine as its flags describe it.
func addMachine(a *app, name string, f machineFlags) error {
	n := newMachine{fact: model.MachineFact{Name: name}}
	var err error
	if n.fact.Features, err = startedFrom(f.start, f.features); err != nil {
		return err
	}
	if f.bought != "" {
		if n.origin, err = action.ReadOrigin(f.bought, a.now()); err != nil {
			return err
		}
		n.fact = n.origin.With(n.fact)
		n.readings = n.origin.Readings(model.NewFeatureSet(n.fact.Features...))
	}
	if n.fact.Duty, err = duty(f.duty); err != nil {
		return err
	}
	if n.fact, err = described(a, n.fact, f); err != nil {
		return err
	}
	if name, err := model.CheckCounts(model.MachineFact{}, n.fact); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if n.fact, err = action.CareList(a.procs(), n.fact, f.care); err != nil {
		return err
	}
	for _, r := range []struct {
		meter model.Meter
		text  string
	}{{model.Hours, f.hours}, {model.Changes, f.changes}, {model.Starts, f.starts}} {
		if r.text == "" {
			continue
		}
		v, err := model.ReadMeter(&model.Machine{}, r.meter, r.text, a.now(), a.now())
		if err != nil {
			return fmt.Errorf("--%s: %w", r.meter, err)
		}
		n.readings = slices.DeleteFunc(n.readings, func(x model.Reading) bool {
			return x.Meter == r.meter
		})
		n.readings = append(n.readings, model.Reading{Meter: r.meter, Value: v, How: "start"})
	}
	for _, text := range f.last {
		l, err := action.ParseLast(text, a.now())
		if err != nil {
			return err
		}
		n.lasts = append(n.lasts, l)
	}
	return saveMachine(a, n)
}

// saveMachine writes a new machine with all that was told of it, in one transaction.
func saveMachine(a *app, n newMachine) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	b, err := a.bench()
	if err != nil {
		return err
	}
	if err := model.CheckName(b, n.fact.Name, ""); err != nil {
		return err
	}
	id, err := ulid.New(ulid.Timestamp(a.now()), rand.Reader)
	if err != nil {
		return unusable(err)
	}
	n.fact.ID = id.String()
	actions, err := action.NewMachine(n.fact, n.readings, n.lasts, a.procs(), at, a.now())
	if err != nil {
		return err
	}
	entries, err := appendAll(a, actions)
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.writeJSON(entries)
	}
	a.say("%s added, %s duty", n.fact.Name, n.fact.Duty)
	for _, l := range n.lasts {
		if l.Value != nil {
			a.say("%q counts by its meter alone until it is done again: no day was told",
				names(a).Procedure(l.Procedure))
		}
	}
	sayCare(a, n.fact)
	return sayUnknownGroups(a, n.fact)
}

// sayUnknownGroups tells what was left unknown, since unknown changes the care.
func sayUnknownGroups(a *app, f model.MachineFact) error {
	fs := model.NewFeatureSet(f.Features...)
	var mentioned []model.Feature
	for _, p := range a.procs() {
		if p.Fits(fs) {
			mentioned = append(mentioned, p.MentionedFeatures()...)
		}
	}
	for i, g := range fs.UnknownGroups(mentioned) {
		if i == 0 {
			a.say("Not known yet, so care takes the cautious way; oilcan machine edit %s --features +ID says it:", action.Typed(f.Name))
		}
		a.say("  %s", action.QuestionOf(g).Ask)
		for _, x := range g {
			a.say("    %-16s %s", x, action.FeatureTitle(x))
		}
	}
	return nil
}
