package walk

import (
	"slices"
	"strings"

	"bench/oilcan/model"
)

// StateRow is one thing asked of the machine's state: a variable, or an item of the ledger.
type StateRow struct {
	Variable model.Variable // "" for an item of the ledger
	Item     string
	Prompt   Prompt // what would be asked of it alone
	Guess    string // how it was left, where that may be confirmed by one key
}

// StateRows gives all that is asked of the machine's state before the session goes on, as rows of
// one screen. They are answered one by one, or together by AnswerStates.
func (w *Walk) StateRows() []StateRow {
	var out []StateRow
	for _, v := range w.toAsk {
		out = append(out, StateRow{Variable: v, Prompt: w.statePrompt(v), Guess: w.guess(v)})
	}
	for _, item := range w.toCount {
		out = append(out, StateRow{Item: item, Prompt: w.ledgerPrompt(AskLedger, item)})
	}
	return out
}

// AnswerStates answers rows of StateRows together, in one action; rows without an answer stay
// asked. The first answer that does not pass writes nothing and says why.
func (w *Walk) AnswerStates(c Context, answers []StateAnswer) (Reply, error) {
	var facts []model.Fact
	at := w
	for _, a := range answers {
		rows := at.StateRows()
		i := slices.IndexFunc(rows, func(r StateRow) bool {
			return r.Variable == a.Variable && r.Item == a.Item
		})
		if i < 0 {
			continue // answered by another row
		}
		r := at.judge(c, rows[i].Prompt, a.Text)
		if r.Refusal != "" {
			return r, nil
		}
		facts = append(facts, r.Facts...)
		if at = w.after(c, facts); at.alarm(c) != "" {
			break // power goes before anything else is asked
		}
	}
	return w.complete(c, Reply{Facts: facts})
}

// StateAnswer is the answer to one row of the state.
type StateAnswer struct {
	Variable model.Variable
	Item     string
	Text     string
}

// ItemWords names an item of the ledger as a row of the state.
func ItemWords(item string) string {
	if flag, ok := strings.CutPrefix(item, "flag:"); ok {
		return model.FlagName(flag)
	}
	if name, ok := strings.CutPrefix(item, insidePrefix); ok {
		return name + " inside"
	}
	return item + " out"
}

// Urgent tells whether power that is on has to go before anything else is asked.
func (w *Walk) Urgent(c Context, said StateAnswer) bool {
	if said.Variable != model.Power {
		return false
	}
	return w.after(c, w.judge(c, w.statePrompt(model.Power), said.Text).Facts).alarm(c) != ""
}
