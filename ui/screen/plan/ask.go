package plan

import (
	"errors"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// question is one thing the session must know first.
type question struct {
	q     session.Question
	field screen.Field
	screen.List
	words []string
	bad   string
}

// begin asks what is not known of the machine yet, then begins the session.
func (v *page) begin() tea.Cmd {
	if err := v.desk.CanBegin(v.m(), v.chosen.Plan.IDs()); err != nil { // stopped since it was planned
		return screen.Send(screen.Notice{Text: screen.Sentence(err)})
	}
	if len(v.asked) > 0 {
		q := v.asked[0]
		v.ask = &question{q: q, words: q.Words()}
		if q.Setting == nil {
			v.ask.At = len(v.ask.words) - 1 // not known, which takes the careful way, until somebody says more
		} else if len(q.Setting.Options) == 0 {
			v.ask.field.Text = q.Setting.Default
		}
		return nil
	}
	desk, m, c, now := v.desk, v.m(), v.chosen, v.Now
	c.For = v.complaint()
	return v.writeBegun(func() (model.Action, error) { return desk.BeginAction(m, c, now) })
}

// askKeys are those while the machine is asked about.
func (v *page) askKeys() []screen.Key {
	q := v.ask
	return []screen.Key{
		q.Moves("choose", "", len(q.words), len(q.words)).But("up", "k", "down", "j").When(len(q.words) > 0),
		screen.On("enter", "answer", "", func(screen.Press) tea.Cmd {
			if len(q.words) > 0 {
				return v.answer(q.words[q.At])
			}
			return v.answer(strings.TrimSpace(q.field.Text))
		}).Afresh(),
		screen.On("esc", "not now", "", screen.Do(func() { v.ask, v.begins = nil, false })),
	}
}

// answer writes what was said of the machine, and plans anew with it.
func (v *page) answer(text string) tea.Cmd {
	m := v.m()
	fact, err := v.ask.q.Answer(m.MachineFact, text)
	if err != nil {
		v.ask.bad = screen.Sentence(err)
		return nil
	}
	fact = fact.Refit(v.desk.Lib.Heads(), m.Features)
	v.ask, v.begins, v.saving = nil, true, true
	desk, choice, now := v.desk, v.choice(), v.Now
	return v.Write(func(s screen.Store) (any, error) {
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
			return made{trouble: screen.Sentence(err)}, nil
		}
		return made{chosen: c, questions: desk.Questions(b.Machines[m.ID], c.Plan)}, nil
	})
}

func (v *page) askLines() []string {
	t := v.Env.Theme
	q := v.ask
	out := []string{" " + t.Text.Strong.Text("Asked once of this machine"), ""}
	for _, l := range theme.Wrap(theme.Safe(q.q.Ask), min(screen.TextWidth, v.W-6)) {
		out = append(out, "   "+t.Text.Strong.Text(l))
	}
	out = append(out, "")
	if len(q.words) == 0 {
		out = append(out, "   "+q.field.Drawn(v.W-4))
	}
	for i, w := range q.words {
		mark := "   "
		if i == q.At {
			mark, w = " > ", t.Text.Accent.Text(theme.Safe(w))
		}
		out = append(out, "  "+mark+w)
	}
	if q.bad != "" {
		out = append(out, "")
		for _, l := range theme.Wrap(t.Plain(theme.Safe(q.bad)), min(screen.TextWidth, v.W-6)) {
			out = append(out, "   "+t.State.Due.Text(l))
		}
	}
	return append(out, "", "   "+t.Text.Dim.Text("oilcan machine edit changes it later"))
}

// mostMinutes is above the time anybody has.
const mostMinutes = 100000

// noLimit plans whatever it takes.
func (v *page) noLimit() tea.Cmd {
	v.time, v.minutes = screen.Line{}, 0
	return v.replan()
}

// takeTime plans for the minutes typed.
func (v *page) takeTime() tea.Cmd {
	if strings.TrimSpace(v.time.Text.Text) == "" {
		return v.noLimit()
	}
	n, err := model.ReadAmount(v.time.Text.Text, "min", nil)
	if err == nil && (n <= 0 || n > mostMinutes) {
		err = errors.New("that is no time for a session: type how many minutes you have")
	}
	if err != nil {
		return screen.Send(screen.Notice{Text: screen.Sentence(err)})
	}
	v.time, v.minutes = screen.Line{}, n
	return v.replan()
}
