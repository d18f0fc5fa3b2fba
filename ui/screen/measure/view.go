package measure

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/measured"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// TakesText is so at a row that is typed.
func (s *work) TakesText() bool { return s.warned && s.answer == nil && s.Typing() }

// HasInner is so while there is something to lose, or an answer that esc closes.
func (s *work) HasInner() bool { return s.answer != nil || s.FormPage.HasInner() }

func (s *work) Title() (string, string) {
	return strings.TrimSpace(s.Data.NameOf(s.to.Machine) + "   " + s.c.Title), ""
}

func (s *work) SetSize(w, h int) {
	s.Base.SetSize(w, h)
	s.lay()
}

// Keys are those of what can hurt, of the questions, or of the answer.
func (s *work) Keys() []screen.Key {
	switch {
	case !s.warned:
		return []screen.Key{
			screen.On("y", "so it is", "it is as the caution says: go on",
				screen.Do(func() { s.warned = true })).Afresh(), screen.Back}
	case s.answer == nil:
		return s.FormPage.Keys()
	case s.Saving:
		return nil
	}
	does, says := "keep it", "on the machine's record"
	v := s.w.Value(*s.answer)
	if s.to.For != nil {
		does, says = "take it", "types it where it was asked for; there it is answered"
	}
	if v != nil {
		does = strings.TrimSuffix(does, "it") + model.Figure(v.Value) + " " + v.Unit
	}
	return append([]screen.Key{
		screen.On("enter", does, says, func(screen.Press) tea.Cmd { return s.take() }).
			Afresh().
			When(v != nil),
		screen.On("esc", "change figures", "goes back to the questions",
			screen.Do(func() { s.answer = nil })),
	}, s.Pager.Keys()...)
}

// Help says what a field takes.
func (s *work) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: strings.ToLower(s.c.Title), Lines: []string{s.c.Purpose,
		"A unit may stand behind a figure: mm, cm, in, N, lbf, Hz, %RH, °C, °F, ohm, k.",
		"What describes the machine stands there again the next time."}}}
}

// lay lays the answer out.
func (s *work) lay() {
	if s.answer == nil || s.W == 0 {
		return
	}
	t := s.Env.Theme
	var out []string
	for i, l := range measured.Lines(*s.answer, min(s.W-4, answerWide)) {
		l = t.Plain(l)
		if i == 0 {
			l = t.Text.Strong.Text(l)
		}
		out = append(out, strings.TrimRight(screen.Fit(t, "  "+l, s.W), " "))
	}
	if s.w.Kept != nil {
		last := s.w.Before(s.Now)
		if last == "" {
			last = "none on record yet"
		}
		out = append(out, screen.Fit(t, "  "+t.Plain("last        "+theme.Safe(last)), s.W))
	}
	s.Fill(out, s.H)
}

// answerWide is the widest line of an answer.
const answerWide = 86

// View draws what can hurt, the questions, or the answer.
func (s *work) View() string {
	switch {
	case len(s.Rows) == 0:
		return ""
	case !s.warned:
		return strings.Join(
			screen.Clip(append(s.caution(), "", "   "+s.Env.Theme.Text.Strong.Text("Is it so?")+
				"  "+s.Env.Theme.Text.Accent.Text("y")+" it is"), s.H),
			"\n",
		)
	case s.answer != nil:
		return s.Pager.View(s.Env.Theme, s.W)
	}
	head := s.caution()
	if s.c.Alone && s.to.For == nil || len(head) > s.H/2 {
		head = nil // it was read and said, or there is no room
	}
	form := s.Form.View(s.Env.Theme, s.W, max(1, s.H-len(head)))
	return strings.Join(append(head, form), "\n")
}

// caution is what can hurt.
func (s *work) caution() []string {
	if s.c.Caution == "" {
		return nil
	}
	t := s.Env.Theme
	out := []string{" " + t.State.Past.Text("CAUTION")}
	for _, l := range theme.Wrap(t.Plain(s.c.Caution), max(20, min(s.W-4, answerWide))) {
		out = append(out, "   "+screen.Fit(t, l, s.W-3))
	}
	return append(out, "")
}
