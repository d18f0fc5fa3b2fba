package machine

import (
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// takenBand is an own band just taken, and what counted before; nil is the procedure's own.
type takenBand struct {
	id     string
	before *model.Band
	says   string
}

// bandKeys take the band that the machine's own looks suggest, and give back the one before.
func (s *machine) bandKeys(m *model.Machine) []screen.Key {
	return []screen.Key{
		screen.On("b", "own band", "takes the band that its own looks suggest",
			func(screen.Press) tea.Cmd { return s.takeBand(m, s.more.learned[0]) }).
			Afresh().When(len(s.more.learned) > 0),
		screen.On("u", "undo", "gives back the band that counted before",
			func(screen.Press) tea.Cmd { return s.giveBack(m) }).
			Afresh().When(s.band != nil && !s.swap.Open() && !s.fail.Open()),
	}
}

// takeBand makes a suggestion the machine's own band.
func (s *machine) takeBand(m *model.Machine, l life.Learned) tea.Cmd {
	s.swap.Close()
	s.fail.Close()
	s.band = &takenBand{id: l.Item, says: s.called(l.Item) + ": " + bandText(l.Take) + " " +
		l.Meter.Unit() + " from now on, " + l.Basis}
	if b, ok := m.Bands[l.Item]; ok {
		s.band.before = &b
	}
	s.more.learned = nil // told anew once it is written
	return describe(&s.Base, action.WithBand(m.MachineFact, l.Item, &l.Take))
}

// giveBack undoes that.
func (s *machine) giveBack(m *model.Machine) tea.Cmd {
	b := s.band
	s.band = nil
	return describe(&s.Base, action.WithBand(m.MachineFact, b.id, b.before))
}

// describe writes a machine's new description.
func describe(b *screen.Base, f model.MachineFact) tea.Cmd {
	return b.Append(model.Action{Machine: f.ID,
		Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}})
}

// called is what a procedure is called.
func (s *machine) called(id string) string {
	if p := model.ByID(s.Env.Library.Heads(), id); p != nil {
		return theme.Safe(p.Called())
	}
	return theme.Safe(id)
}

func bandText(b model.Band) string { return model.Number(b.Low) + "–" + model.Number(b.High) }

// learnedLines say what the machine's own looks suggest, one band at a time: taking it brings up
// the next.
func (s *machine) learnedLines() []string {
	if len(s.more.learned) == 0 {
		return nil
	}
	l := s.more.learned[0]
	text := s.called(l.Item) + ": " + l.Words() + "; b takes it"
	if n := len(s.more.learned) - 1; n > 0 {
		text += ", " + strconv.Itoa(n) + " more behind it"
	}
	return s.labelled("own looks", text)
}

// bandFoot is the line at the bottom behind a band just taken.
func (s *machine) bandFoot() []string {
	t := s.Env.Theme
	return []string{screen.Fit(t, " "+t.Plain(s.band.says)+"   "+t.Text.Accent.Text("u")+" undo",
		s.W)}
}
