package plan

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// asking is the form of what the session must know of the machine first.
type asking struct {
	screen.Form
	of []session.Question // of each row
}

// begin asks what is not known of the machine yet, then begins the session.
func (v *page) begin() tea.Cmd {
	if err := v.desk.CanBegin(v.m(), v.chosen.Plan.IDs()); err != nil {
		// stopped since it was planned; a plan made later does not begin by itself
		v.begins, v.then = false, nil
		return screen.Send(screen.Notice{Text: screen.Sentence(err)})
	}
	if len(v.asked) > 0 {
		v.ask = v.asks()
		return nil
	}
	desk, m, c, now := v.desk, v.m(), v.chosen, v.Now
	c.For, c.Then = v.complaint(), v.then
	return v.writeBegun(func() (model.Action, error) { return desk.BeginAction(m, c, now) })
}

// asks makes the form, a row a question, the careful answer standing in each.
func (v *page) asks() *asking {
	f := &asking{of: v.asked}
	f.Verb, f.Whole, f.Check, f.Save = "begin", true, f.check(v), v.answer
	f.Moved = func(r *screen.Row) {
		// the cursor goes back to what cannot be, so that what is typed next is its answer
		if r.Kind == screen.RowText {
			if r.Bad = f.Check(r); r.Bad != "" {
				f.GoTo(r.Name)
			}
		}
	}
	f.Leave = func() tea.Cmd {
		told := v.then != nil
		if v.ask, v.begins, v.then = nil, false, nil; told {
			return v.replan() // from now on, not from then
		}
		return nil
	}
	for i, q := range f.of {
		r := &screen.Row{Name: strconv.Itoa(i), Ask: theme.Safe(q.Heading()),
			Hint: theme.Safe(q.Ask)}
		if words := q.Words(); len(words) > 0 {
			r.Kind = screen.RowOne
			for _, w := range words {
				r.Opts = append(r.Opts, screen.Option{Is: w, Says: theme.Safe(w)})
			}
			if q.Setting == nil {
				// not known, which takes the careful way, until somebody says more
				r.One = len(words) - 1
			} else {
				r.One = max(0, slices.Index(words, q.Setting.Default))
			}
		} else {
			r.Text, r.Empty = screen.Known(q.Suggested), "none"
			if q.Setting.Number {
				r.Empty, r.Hint = "not answered", r.Hint+" A number, or "+session.DontKnow+"."
			}
		}
		f.Rows = append(f.Rows, r)
	}
	f.Rows = append(f.Rows, &screen.Row{Kind: screen.RowDo, Ask: "begin the session"})
	f.Hold()
	return f
}

// check says why an answer cannot be; "" where it can.
func (f *asking) check(v *page) func(*screen.Row) string {
	return func(r *screen.Row) string {
		_, err := f.answered(r, v.m().MachineFact)
		return screen.Sentence(err)
	}
}

// answered puts the answer of a row into the machine's facts.
func (f *asking) answered(r *screen.Row, fact model.MachineFact) (model.MachineFact, error) {
	return f.of[slices.Index(f.Rows, r)].Answer(fact, r.Value())
}

// answer writes what was said of the machine, and plans anew with it.
func (v *page) answer() tea.Cmd {
	if !v.ask.Sound() {
		return nil
	}
	m := v.m()
	fact := m.MachineFact
	for _, r := range v.ask.Rows[:len(v.ask.of)] {
		var err error
		if fact, err = v.ask.answered(r, fact); err != nil {
			// two answers that cannot stand together
			r.Bad = screen.Sentence(err)
			v.ask.GoTo(r.Name)
			return nil
		}
	}
	fact = fact.Refit(v.desk.Lib.Heads(), m.Features)
	v.ask, v.begins, v.saving = nil, true, true
	desk, choice, then, now := v.desk, v.choice(), v.then, v.Now
	return v.Write(func(s screen.Store) (any, error) {
		a := model.Action{At: now, By: desk.By, Machine: m.ID,
			Facts: []model.Fact{{Kind: model.KindMachine, Machine: &fact}}}
		if _, err := s.Append(a); err != nil {
			return nil, err
		}
		b, err := s.Bench()
		if err != nil {
			return nil, err
		}
		c, err := chosen(desk, b.Machines[m.ID], choice, then, now)
		if err != nil {
			return made{trouble: screen.Sentence(err)}, nil
		}
		return made{chosen: c, questions: desk.Questions(b.Machines[m.ID], c.Plan)}, nil
	})
}

// askView draws the form under what it is.
func (v *page) askView() string {
	t := v.Env.Theme
	head := []string{" " + t.Text.Strong.Text("Asked once of this machine"),
		" " + t.Text.Dim.Text("its page changes the answers later: enter, e"), ""}
	return strings.Join(head, "\n") + "\n" + v.ask.View(t, v.W, v.H-len(head))
}

// mostMinutes is above the time anybody has.
const mostMinutes = 100000

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
		v.time.Text.Refused()
		return screen.Send(screen.Notice{Text: screen.Sentence(err)})
	}
	v.time, v.minutes = screen.Line{}, n
	return v.replan()
}
