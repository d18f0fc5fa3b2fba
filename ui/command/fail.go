package command

import (
	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
)

func failCommand(a *app) *cobra.Command {
	var why, note string
	c := &cobra.Command{
		Use: "fail MACHINE --why WORD", Short: "log a print that failed, and why",
		Long: "Log a print that failed. Why is a symptom by its name or everyday words for it, or other with a\n" +
			"note. oilcan figures counts them, and says whether care makes them fewer.",
		Example: "  oilcan fail Heron --why layer-shift\n  oilcan fail Heron --why 'no filament came' --at yesterday\n" +
			"  oilcan fail Heron --why other --note 'the power went'",
		Args:              between(1, 1, "one machine"),
		ValidArgsFunction: inTurn(a, machineNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if why == "" {
				return misuse("say why: --why layer-shift, or --why %s --note …; oilcan symptom lists the words",
					action.OtherReason)
			}
			return logFailed(a, args[0], why, note)
		},
	}
	c.Flags().StringVar(&why, "why", "", "the `symptom` that was seen, or other")
	c.Flags().StringVar(&note, "note", "", "what was seen, in a few `words`")
	completeFlag(c, "why", every(a, func(a *app) []string {
		return append(symptomNames(a), action.OtherReason)
	}))
	return c
}

func logFailed(a *app, word, why, note string) error {
	at, m, err := toldOf(a, word)
	if err != nil {
		return err
	}
	fact, err := action.Failed(procedures.Symptoms(), m, why, note)
	if err != nil {
		return err
	}
	entries, err := a.append(m, at, []model.Fact{fact})
	if err != nil {
		return err
	}
	what := fact.Failed.Note
	if id := fact.Failed.Symptom; id != "" {
		what = procedures.Symptoms().Get(id).Title
	}
	if err := a.saved(entries, "%s: failed print logged, %q%s", m.Name, what,
		on(at, a.now())); err != nil || fact.Failed.Symptom == "" || a.flags.json {
		return err
	}
	a.say("what is likely to cure it: oilcan symptom %s %s", fact.Failed.Symptom,
		action.Typed(m.Name))
	return nil
}
