package command

import (
	"crypto/rand"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/oklog/ulid/v2"
	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

func (a *app) machineCommand() *cobra.Command {
	return group("machine", "add, change, retire and list machines",
		"  oilcan machine list\n  oilcan machine add Heron --features full",
		a.machineAddCommand(), a.machineEditCommand(), a.machineRetireCommand(), a.machineListCommand())
}

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

func (a *app) machineAddCommand() *cobra.Command {
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
				return a.machineForm()
			}
			return a.machineAdd(args[0], f)
		},
	}
	fl := c.Flags()
	fl.SortFlags = false
	fl.StringVar(&f.features, "features", "", "what it has, a `list`: corexy,enclosed,changer or full")
	fl.StringVar(&f.start, "start", "", "the `kind` --features changes: "+startingNames())
	fl.StringVar(&f.bought, "bought", "", "how it came: new, used, replaced (a counter was), or the `day` it was bought new")
	fl.StringVar(&f.duty, "duty", "home", "how hard it works: `home` or production")
	fl.StringVar(&f.hours, "hours", "", "its counter of print hours, a `number`")
	fl.StringVar(&f.changes, "changes", "", "its counter of filament changes, a `number`")
	fl.StringVar(&f.starts, "starts", "", "its counter of print starts, a `number`")
	fl.StringVar(&f.care, "care", "starter", "what it is kept by: `starter`, all, or a list like fans-blow,rods-wipe")
	fl.StringArrayVar(&f.last, "last", nil, "when `care` was last done: rods-wipe=2026-10-20, blade-check=3000 (its meter then), gears-blow=unknown; may be repeated")
	fl.StringArrayVar(&f.set, "set", nil, "what care must know of it: `name=value`; may be repeated")
	fl.StringArrayVar(&f.band, "band", nil, "its own `band`: blade-check=2000-3500; may be repeated")
	a.completeFlag(c, "features", a.completeFeatures)
	a.completeFlag(c, "duty", words("home", "production"))
	a.completeFlag(c, "last", a.completeProcedures)
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

func joined(fs []model.Feature) string {
	names := make([]string, len(fs))
	for i, f := range fs {
		names[i] = string(f)
	}
	return strings.Join(names, ", ")
}

// newMachine is a machine to be added, whole and checked.
type newMachine struct {
	fact     model.MachineFact
	readings []model.Reading
	lasts    []action.Last
	origin   action.Origin
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

// machineAdd adds a machine as its flags describe it.
func (a *app) machineAdd(name string, f machineFlags) error {
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
	if n.fact, err = a.described(n.fact, f); err != nil {
		return err
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
		n.readings = slices.DeleteFunc(n.readings, func(x model.Reading) bool { return x.Meter == r.meter })
		n.readings = append(n.readings, model.Reading{Meter: r.meter, Value: v, How: "start"})
	}
	for _, text := range f.last {
		l, err := action.ParseLast(text, a.now())
		if err != nil {
			return err
		}
		n.lasts = append(n.lasts, l)
	}
	return a.saveMachine(n)
}

// saveMachine writes a new machine with all that was told of it, in one transaction.
func (a *app) saveMachine(n newMachine) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	st, err := a.store()
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
	for i := range actions {
		actions[i].By = a.who()
	}
	entries, err := st.AppendAll(actions)
	if err != nil {
		return unusable(err)
	}
	if a.flags.json {
		return a.writeJSON(entries)
	}
	a.say("%s added, %s duty", n.fact.Name, n.fact.Duty)
	for _, l := range n.lasts {
		if l.Value != nil {
			a.say("%s counts by its meter alone until it is done again: no day was told", l.Procedure)
		}
	}
	a.sayCare(n.fact)
	return a.sayUnknownGroups(n.fact)
}

// sayCare says what a machine is kept by, and what it is not that guards a person.
func (a *app) sayCare(f model.MachineFact) {
	if f.CareList != nil {
		a.say("kept by %d of the %d procedures that fit it: oilcan gauges %s --all shows the rest", len(f.CareList),
			len(model.FullList(a.procs(), model.NewFeatureSet(f.Features...))), action.Typed(f.Name))
	}
	for _, p := range f.LetGo(a.procs()) {
		a.say("not kept by %s, which guards a person", p.Called())
	}
}

// sayUnknownGroups tells what was left unknown, since unknown changes the care.
func (a *app) sayUnknownGroups(f model.MachineFact) error {
	fs := model.NewFeatureSet(f.Features...)
	var mentioned []model.Feature
	for _, p := range a.procs() {
		if p.Fits(fs) {
			mentioned = append(mentioned, p.MentionedFeatures()...)
		}
	}
	for _, g := range fs.UnknownGroups(mentioned) {
		a.say("not known: %s; care takes the cautious way until it is", strings.ReplaceAll(joined(g), ", ", " or "))
	}
	return nil
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
func (a *app) described(fact model.MachineFact, f machineFlags) (model.MachineFact, error) {
	for _, text := range f.set {
		name, value, err := action.Setting(append(a.procs(), a.library().SetUps()...), text)
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
		fact.Bands = maps.Clone(fact.Bands)
		if fact.Bands == nil {
			fact.Bands = map[string]model.Band{}
		}
		fact.Bands[id] = band
		if !ok {
			delete(fact.Bands, id)
		}
	}
	return fact, nil
}

func (a *app) machineListCommand() *cobra.Command {
	var all bool
	c := &cobra.Command{
		Use: "list", Short: "the machines of the bench",
		Example: "  oilcan machine list\n  oilcan machine list --all --json",
		Args:    between(0, 0, "no name"),
		RunE:    func(*cobra.Command, []string) error { return a.machineList(all) },
	}
	c.Flags().BoolVar(&all, "all", false, "retired ones too")
	return c
}

// machineRow is a machine as programs read it.
type machineRow struct {
	ID       string            `json:"id"`
	Name     string            `json:"name"`
	Features []model.Feature   `json:"features"`
	Settings map[string]string `json:"settings"`
	Duty     model.Duty        `json:"duty"`
	Care     []string          `json:"care"` // what it is kept by; null: all that fits it
	Session  *string           `json:"session"`
	Tag      *model.Tag        `json:"tag"`
	OutOfUse bool              `json:"out_of_use,omitempty"`
	Retired  bool              `json:"retired,omitempty"`
}

func (a *app) machineList(all bool) error {
	ms, b, err := a.machines(all)
	if err != nil {
		return err
	}
	if a.flags.json {
		rows := make([]machineRow, 0, len(ms))
		for _, m := range ms {
			r := machineRow{ID: m.ID, Name: m.Name, Features: m.Features, Settings: m.Settings, Duty: m.Duty, Care: m.CareList,
				Tag: m.Tag, OutOfUse: m.OutOfUse, Retired: m.Retired}
			if r.Features == nil {
				r.Features = []model.Feature{}
			}
			if r.Settings == nil {
				r.Settings = map[string]string{}
			}
			if m.Session != "" {
				r.Session = &m.Session
			}
			rows = append(rows, r)
		}
		return a.writeJSON(rows)
	}
	if len(ms) == 0 {
		a.say("no machine yet: oilcan machine add NAME --features …, or oilcan demo to look around first")
		return nil
	}
	var t table
	for _, m := range ms {
		t.add(m.Name, string(m.Duty), readingsText(m), standing(m, b, a.now()))
	}
	t.write(a)
	return nil
}

// machines gives the machines by name.
func (a *app) machines(all bool) ([]*model.Machine, *model.Bench, error) {
	b, err := a.bench()
	if err != nil {
		return nil, nil, err
	}
	var ms []*model.Machine
	for _, m := range b.Machines {
		if all || !m.Retired {
			ms = append(ms, m)
		}
	}
	slices.SortFunc(ms, func(x, y *model.Machine) int {
		return strings.Compare(strings.ToLower(x.Name)+x.ID, strings.ToLower(y.Name)+y.ID)
	})
	return ms, b, nil
}

// readingsText says what a machine's counters last showed.
func readingsText(m *model.Machine) string {
	var out []string
	for _, meter := range model.TypedMeters {
		if s := m.Readings[meter]; s != nil && s.N > 0 {
			value := model.Number(s.Last.Value - s.Offset)
			if meter == model.Changes || meter == model.Starts {
				out = append(out, value+" "+string(meter))
			} else {
				out = append(out, value+" "+meter.Unit())
			}
		}
	}
	if len(out) == 0 {
		return "no counter read"
	}
	return strings.Join(out, ", ")
}

// standing says what is out of the ordinary with a machine.
func standing(m *model.Machine, b *model.Bench, now time.Time) string {
	var out []string
	if s := b.Sessions[m.Session]; s != nil {
		word := "begun"
		if s.Paused {
			word = "paused"
		}
		at := ""
		if s.Position != "" {
			at = " at " + s.Position
		}
		out = append(out, s.Title+" "+word+at)
	}
	if m.Tag != nil {
		out = append(out, strings.TrimSuffix("tag "+string(m.Tag.Kind)+": "+m.Tag.Why, ": "))
	}
	if n := len(m.Findings); n == 1 {
		out = append(out, "1 finding")
	} else if n > 1 {
		out = append(out, fmt.Sprintf("%d findings", n))
	}
	switch {
	case m.Retired:
		out = append(out, "retired")
	case m.OutOfUse:
		out = append(out, "out of use since "+model.Day(m.Since, now))
	}
	return strings.Join(out, " · ")
}
