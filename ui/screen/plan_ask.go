package screen

import (
	"errors"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/sitting"
	"bench/oilcan/ui/theme"
)

// question is one thing the session must know first.
type question struct {
	q     sitting.Question
	field field
	list
	words []string
	bad   string
}

// begin asks what is not known of the machine yet, then begins the session.
func (v *planScreen) begin() tea.Cmd {
	if m := v.m(); m != nil && sitting.CanBegin(m) != nil {
		return Send(Notice{Sentence(sitting.CanBegin(m))})
	}
	if len(v.asked) > 0 {
		q := v.asked[0]
		v.ask = &question{q: q, words: q.Words()}
		if q.Setting != nil && len(q.Setting.Options) == 0 {
			v.ask.field.text = q.Setting.Default
		}
		return nil
	}
	desk, m, c, now := v.desk, v.m(), v.chosen, v.Now
	c.For = v.complaint()
	return v.writeBegun(func() (model.Action, error) { return desk.BeginAction(m, c, now) })
}

// askKeys are those while the machine is asked about.
func (v *planScreen) askKeys() []Key {
	q := v.ask
	return []Key{
		q.moves("choose", "", len(q.words), len(q.words)).But("up", "k", "down", "j").When(len(q.words) > 0),
		On("enter", "answer", "", func(Press) tea.Cmd {
			if len(q.words) > 0 {
				return v.answer(q.words[q.at])
			}
			return v.answer(strings.TrimSpace(q.field.text))
		}).Afresh(),
		On("esc", "not now", "", Do(func() { v.ask, v.begins = nil, false })),
	}
}

// answer writes what was said of the machine, and plans anew with it.
func (v *planScreen) answer(text string) tea.Cmd {
	m := v.m()
	fact, err := v.ask.q.Answer(m.MachineFact, text)
	if err != nil {
		v.ask.bad = Sentence(err)
		return nil
	}
	fact = fact.Refit(v.desk.Lib.Heads(), m.Features)
	v.ask, v.begins = nil, true
	desk, choice, now := v.desk, v.choice(), v.Now
	return v.Write(func(s Store) (any, error) {
		a := model.Action{At: now, By: desk.By, Machine: m.ID, Facts: []model.Fact{{Kind: model.KindMachine, Machine: &fact}}}
		if _, err := s.Append(a); err != nil {
			return nil, err
		}
		b, err := s.Bench()
		if err != nil {
			return nil, err
		}
		c, err := desk.Choose(b.Machines[m.ID], choice, now)
		if err != nil {
			return planMade{trouble: Sentence(err)}, nil
		}
		return planMade{chosen: c, questions: desk.Questions(b.Machines[m.ID], c.Plan)}, nil
	})
}

func (v *planScreen) askLines() []string {
	t := v.Env.Theme
	q := v.ask
	out := []string{" " + t.Text.Strong.Text("Asked once of this machine"), ""}
	for _, l := range theme.Wrap(theme.Safe(q.q.Ask), min(textWidth, v.W-6)) {
		out = append(out, "   "+t.Text.Accent.Text(l))
	}
	out = append(out, "")
	if len(q.words) == 0 {
		out = append(out, "   "+theme.Safe(q.field.text)+"_")
	}
	for i, w := range q.words {
		mark := "   "
		if i == q.at {
			mark, w = " > ", t.Text.Accent.Text(theme.Safe(w))
		}
		out = append(out, "  "+mark+w)
	}
	if q.bad != "" {
		out = append(out, "", "   "+t.State.Due.Text(theme.Safe(q.bad)))
	}
	return append(out, "", "   "+t.Text.Dim.Text("oilcan machine edit changes it later"))
}

// mostMinutes is above the time anybody has.
const mostMinutes = 100000

// noLimit plans whatever it takes.
func (v *planScreen) noLimit() tea.Cmd {
	v.time, v.minutes = reason{}, 0
	return v.replan()
}

// takeTime plans for the minutes typed.
func (v *planScreen) takeTime() tea.Cmd {
	if strings.TrimSpace(v.time.text.text) == "" {
		return v.noLimit()
	}
	n, err := model.ReadAmount(v.time.text.text, "min", nil)
	if err == nil && (n <= 0 || n > mostMinutes) {
		err = errors.New("that is no time for a session: type how many minutes you have")
	}
	if err != nil {
		return Send(Notice{Sentence(err)})
	}
	v.time, v.minutes = reason{}, n
	return v.replan()
}
