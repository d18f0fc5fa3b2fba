package screen

import (
	"fmt"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
)

// OutcomeKeys answer whether care cured what it was for. later says what becomes of the question
// otherwise.
func OutcomeKeys(later string, say func(is model.CureWord) tea.Cmd) []Key {
	saying := func(is model.CureWord) Deed { return func(Press) tea.Cmd { return say(is) } }
	return []Key{On("1", "cured", "", saying(model.Cured)).Afresh(),
		On("2", "not cured", "", saying(model.NotCured)).Afresh(),
		On("3", "not known", later, saying(model.CureUnknown)).Afresh()}
}

// WriteOutcome writes whether a session's care cured what it was for; the Result's value is a
// Notice that says what it does to the weight.
func (b *Base) WriteOutcome(c model.Complained, machine string, is model.CureWord,
	procs func() []*model.Procedure) tea.Cmd {
	by := b.Env.Operator
	return b.Write(func(s Store) (any, error) {
		if _, err := s.Append(
			model.Action{By: by, Machine: machine, Facts: symptom.Said(c, is)}); err != nil {
			return nil, err
		}
		bench, err := s.Bench()
		if err != nil {
			return nil, err
		}
		return Notice{outcomeNotice(c, is, symptom.Counts(bench),
			action.Names{Procs: procs(), Symptoms: procedures.Symptoms()})}, nil
	})
}

// outcomeNotice says what an outcome does to the weights on this bench.
func outcomeNotice(c model.Complained, is model.CureWord, counts map[string]symptom.Counted,
	names action.Names) string {
	if is == model.CureUnknown {
		return "Noted as not known: no weight changes."
	}
	var out []string
	for _, id := range c.Symptoms {
		s := names.Symptoms.Get(id)
		if s == nil {
			continue
		}
		if was, now := symptom.Weight(s, c.Procedure, names.Procs, counts); was > 0 {
			out = append(out, fmt.Sprintf("%s %.1f, was %.0f", names.Symptom(id), now, was))
		}
	}
	if len(out) == 0 {
		return "Saved: " + string(is) + "."
	}
	return "Saved: " + string(is) + ". Weight of " + strconv.Quote(names.Procedure(c.Procedure)) +
		" here: " + strings.Join(out, "; ") + "."
}
