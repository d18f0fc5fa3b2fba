package command

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/measure"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/measured"
	"bench/oilcan/ui/theme"
)

// measureFlags are the options of measure.
type measureFlags struct{ wav, on, as string }

func measureCommand(a *app) *cobra.Command {
	var f measureFlags
	c := &cobra.Command{
		Use:   "measure [CALCULATOR] [NAME=VALUE…]",
		Short: "what is measured at the machine, worked out",
		Long: "Work out a measurement: belts by their tone, screws, humidity and desiccant, a bed and its\n" +
			"screws, heaters and sensors by their ohms, flow and steps, trends. Without figures it says\n" +
			"what it asks; without a calculator it lists them. Units may stand behind a figure: mm, cm,\n" +
			"in, N, lbf, Hz, %RH, °C, °F, ohm, k. With --on the answer goes on the machine's record;\n" +
			"--on alone shows what was read there, and what is outside what the machine does.",
		Example: "  oilcan measure\n  oilcan measure belt span=150 width=6 tone=110\n" +
			"  oilcan measure belt --wav plucks.wav --on Heron --as \"belt left\"\n" +
			"  oilcan measure heater volts=24 watts=40 measured='14.6 ohm'\n  oilcan measure --on Heron",
		ValidArgsFunction: completeMeasure,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				if f.on != "" && f.wav == "" && f.as == "" {
					return listRuns(a, f.on)
				}
				if f != (measureFlags{}) {
					return misuse("name the calculator first: oilcan measure lists them")
				}
				return listCalculators(a)
			}
			return workOut(a, args[0], args[1:], f)
		},
	}
	c.Flags().StringVar(&f.wav, "wav", "",
		"find a belt's tone in this recording, a `file`: WAV, three plucks")
	c.Flags().StringVar(&f.on, "on", "",
		"the `machine` it is of: known figures stand, the answer is kept")
	c.Flags().StringVar(&f.as, "as", "", "what it is kept as, a `quantity`: belt left, belt x")
	completeFlag(c, "on", every(a, machineNames))
	return c
}

// completeMeasure completes a calculator, then its figures.
func completeMeasure(_ *cobra.Command, args []string, _ string) ([]string,
	cobra.ShellCompDirective) {
	var out []string
	all := measured.All()
	if len(args) == 0 {
		for i := range all {
			out = append(out, all[i].ID+"\t"+all[i].Title)
		}
		return out, noFiles
	}
	if c := measure.Find(all, args[0]); c != nil {
		for i := range c.Fields {
			if c.Fields[i].Kind != measure.Recording {
				out = append(out, c.Fields[i].Name+"=")
			}
		}
	}
	return out, noFiles | cobra.ShellCompDirectiveNoSpace
}

func listCalculators(a *app) error {
	all := measured.All()
	if a.flags.json {
		rows := []map[string]string{}
		for _, c := range all {
			rows = append(rows, map[string]string{"id": c.ID, "group": c.Group, "title": c.Title,
				"purpose": c.Purpose})
		}
		return a.writeJSON(rows)
	}
	t := table{}
	group := ""
	for i := range all {
		c, head := &all[i], ""
		if c.Group != group {
			group, head = c.Group, c.Group
		}
		t.add(head, c.ID, c.Title)
	}
	t.write(a)
	a.say("")
	a.say("oilcan measure NAME says what it asks")
	return nil
}

// runJSON is what was read of one quantity, for programs.
type runJSON struct {
	Quantity string           `json:"quantity"`
	Unit     string           `json:"unit"`
	Usual    string           `json:"usual,omitempty"` // what this machine does, in words; from eight readings on
	Outside  bool             `json:"outside"`         // the last reading is beyond it
	Readings []model.Recorded `json:"readings"`        // oldest first
}

// listRuns lists what was read on a machine, and how the last reading stands.
func listRuns(a *app, word string) error {
	m, err := findMachine(a, word)
	if err != nil {
		return err
	}
	entries, err := fromJournal(a, store.Filter{Machine: m.ID,
		Kinds: []model.EntryKind{model.KindValue, model.KindStrike}})
	if err != nil {
		return err
	}
	var rows []runJSON
	for _, r := range measure.Runs(entries) {
		limits, outside := r.Usual()
		rows = append(rows, runJSON{r.Quantity, r.Unit, limits, outside, r.Points})
	}
	none := "nothing was read on " + m.Name + " yet"
	return list(a, rows, none, table{right: []int{1, 2}}, func(r runJSON) []any {
		says := ""
		if r.Outside {
			says = measure.Outside + ", " + r.Usual
		} else if r.Usual != "" {
			says = "usual " + r.Usual
		}
		last := r.Readings[len(r.Readings)-1]
		return []any{r.Quantity, len(r.Readings),
			strings.TrimSpace(model.Figure(last.Value) + " " + r.Unit), model.Day(last.At, a.now()),
			says}
	})
}

func workOut(a *app, word string, pairs []string, f measureFlags) error {
	w, err := begun(a, word, f)
	if err != nil {
		return err
	}
	if len(pairs) == 0 && f.wav == "" && !a.flags.json {
		return sayAsked(a, w)
	}
	if err := w.Type(pairs); err != nil {
		return misuse("%s", err)
	}
	if f.wav != "" {
		if w.C.Field("recording") == nil {
			return misuse("--wav is for a belt's tone: oilcan measure belt --wav FILE")
		}
		s, err := measured.Sound(f.wav)
		if err != nil {
			return err
		}
		if err := w.Listen(s); err != nil {
			return err
		}
	}
	r, err := w.Result()
	if err != nil {
		return err
	}
	return answered(a, w, r)
}

// begun finds the calculator, the machine it is for and what is known of that.
func begun(a *app, word string, f measureFlags) (*measured.Work, error) {
	all := measured.All()
	var ids []string
	for _, c := range all {
		ids = append(ids, c.ID)
	}
	id, err := action.Find("calculator", word, ids)
	if err != nil {
		return nil, err
	}
	c := measure.Find(all, id)
	if f.on == "" {
		if f.as != "" {
			return nil, misuse("--as needs the machine: say --on MACHINE")
		}
		return measured.New(c, nil, nil, nil), nil
	}
	m, err := machineInUse(a, f.on)
	if err != nil {
		return nil, err
	}
	kept, err := keptAs(c, m, f.as)
	if err != nil {
		return nil, err
	}
	return measured.New(c, kept, m, nil), nil
}

// keptAs finds what an answer is kept as.
func keptAs(c *measure.Calculator, m *model.Machine, word string) (*measure.Kept, error) {
	list := measure.KeptOn(c.ID, m)
	var names []string
	for _, k := range list {
		names = append(names, k.Quantity)
	}
	switch {
	case len(list) == 0:
		return nil, misuse("%s keeps nothing on a machine: leave --on out", c.ID)
	case word == "" && len(list) == 1:
		return list[0], nil
	case word == "":
		return nil, misuse("say what it is kept as with --as: %s", strings.Join(names, ", "))
	}
	name, err := action.Find("quantity", word, names)
	return measure.KeptAs(name), err
}

// sayAsked says what a calculator asks.
func sayAsked(a *app, w *measured.Work) error {
	a.say("%s", a.th.Text.Strong.On(w.C.Title))
	sayLines(a, theme.Wrap(w.C.Purpose, 78))
	sayCaution(a, w.C)
	t := table{indent: "  "}
	for i := range w.C.Fields {
		f := &w.C.Fields[i]
		if f.Kind == measure.Recording {
			t.add("--wav FILE", f.Ask, f.Hint)
			continue
		}
		t.add(f.Name+"=", f.Ask, f.Range()+elsewise(f, w.Typed[f.Name]))
	}
	t.write(a)
	return nil
}

// elsewise says what stands in a field where nothing is typed.
func elsewise(f *measure.Field, known string) string {
	switch {
	case known != "":
		return "; known: " + known
	case f.Usual != "":
		return "; else " + f.UsualText()
	case f.Optional:
		return "; may be left out"
	}
	return ""
}

func sayCaution(a *app, c *measure.Calculator) {
	if c.Caution != "" {
		sayLines(a, theme.Wrap("CAUTION: "+c.Caution, 78))
	}
}

func sayLines(a *app, lines []string) {
	for _, l := range lines {
		a.say("%s", l)
	}
}

// measureJSON is an answer for programs.
type measureJSON struct {
	Calculator string          `json:"calculator"` // its id
	Caution    string          `json:"caution,omitempty"`
	Result     measure.Result  `json:"result"`
	Heard      *measure.Heard  `json:"heard"` // of a recording; null without one
	Kept       *model.Measured `json:"kept"`  // what was put on record; null for nothing
}

// answered says an answer, and keeps it where it is of a machine.
func answered(a *app, w *measured.Work, r measure.Result) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	value := w.Value(r)
	if w.Kept != nil && value == nil {
		return misuse("there is no %s to keep: give what is measured, or leave --on out",
			w.Kept.Quantity)
	}
	before := w.Before(a.now())
	var entries []model.Entry
	if value != nil {
		if entries, err = a.append(
			w.Machine,
			at,
			[]model.Fact{{Kind: model.KindValue, Value: value}},
		); err != nil {
			return err
		}
	}
	if a.flags.json {
		return a.writeJSON(measureJSON{w.C.ID, w.C.Caution, r, w.Heard, value})
	}
	sayCaution(a, w.C)
	a.say("%s", a.th.Text.Strong.On(w.C.Title))
	sayLines(a, measured.Lines(r, 78))
	if value == nil {
		return nil
	}
	if before != "" {
		a.say("before      %s", before)
	}
	return a.saved(entries, "%s: %s %s%s", w.Machine.Name, value.Name,
		strings.TrimSpace(fmt.Sprintf("%s %s", model.Figure(value.Value), value.Unit)), on(at,
			a.now()))
}
