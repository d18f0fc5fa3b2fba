// Package meters takes what a machine's counters show.
package meters

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen"
)

// meterHint is what is said of a counter while nothing is wrong with what was typed.
func meterHint(name string) string {
	for _, a := range screen.Counters {
		if string(a.Meter) == name {
			return a.Hint
		}
	}
	return "today, yesterday, 3d, 2026-11-20 or 2026-11-20 14:30"
}

// meters is the form for what a machine's counters show.
type meters struct {
	screen.FormPage
	machine string
	flagged map[model.Meter]string // "correct" or "new", for readings that could not be otherwise
}

// New asks for the counters of a machine.
func New(e *screen.Env, machine string) screen.Screen {
	return &meters{FormPage: screen.FormPage{Base: e.Base()}, machine: machine,
		flagged: map[model.Meter]string{}}
}

// Init makes the questions, now that the bench is known.
func (s *meters) Init() tea.Cmd {
	m := s.Data.Machine(s.machine)
	if m == nil {
		return screen.Send(screen.Pop{})
	}
	for _, a := range screen.Counters {
		r := &screen.Row{Name: string(a.Meter), Ask: a.Ask, Hint: a.Hint, Empty: "not read",
			Digit: true}
		if at, ok := lastReading(m, a.Meter, s.Now); ok {
			r.Empty = "not read; last " + at
		}
		s.Rows = append(s.Rows, r)
	}
	s.Rows = append(s.Rows,
		&screen.Row{Name: "at", Ask: "read when", Empty: "now", Hint: meterHint("at"),
			Head: "when"},
		&screen.Row{Kind: screen.RowDo, Name: "save", Ask: "save the readings"})
	s.Moved, s.Edited = s.checkRow, s.unflag
	s.Begin("save", nil, s.save, func(screen.Result) tea.Cmd {
		return screen.LeaveWith(s.savedAs())
	})
	return nil
}

// lastReading is what a counter showed last, and when.
func lastReading(m *model.Machine, k model.Meter, now time.Time) (string, bool) {
	p, ok := m.Shows(k)
	return model.Number(p.Value) + " on " + model.Day(p.At, now), ok
}

func (s *meters) Title() (string, string) {
	return s.Data.NameOf(s.machine) + "   what the counters show", ""
}

// Keys are those of the form, and what a reading lower than the last one may be.
func (s *meters) Keys() []screen.Key {
	r := s.Current()
	flags := r.Bad != "" && s.canFlag(r) && !s.Leaving
	return append([]screen.Key{
		screen.On("e", "correction", screen.ItIsRight,
			screen.Do(func() { s.flag(r, "correct") })).When(flags),
		screen.On("a", "new counter", screen.ItIsNew, screen.Do(func() { s.flag(r, "new") })).When(
			flags),
	}, s.Form.Keys()...)
}

// Help says where the figures go.
func (s *meters) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "counters", Lines: []string{
		"Type what the machine shows, not what was added since. Leave empty what you did not read.",
		"A counter only grows. A lower value is asked about again: it can be a slip, a correction of earlier readings (e), or a replaced counter (a).",
		"Gauges count in these meters; dates follow the pace between the readings, so now and then is often enough.",
	}}}
}

// canFlag tells that a reading is wrong only because of earlier ones.
func (s *meters) canFlag(r *screen.Row) bool {
	k := model.Meter(r.Name)
	if !k.Typed() {
		return false
	}
	v, err := model.ReadMeter(s.against(k), k, r.Value(), s.Now, s.Now)
	if err != nil {
		return false
	}
	return model.Flaggable(k, v, s.Now, s.Now)
}

func (s *meters) Update(msg tea.Msg) (screen.Screen, tea.Cmd) { return s, s.Handle(msg, s.Keys()) }

// unflag takes back that a reading stands, where it is typed anew.
func (s *meters) unflag(r *screen.Row) {
	delete(s.flagged, model.Meter(r.Name))
	r.Hint = meterHint(r.Name)
}

// flag says that a reading stands although earlier ones are higher.
func (s *meters) flag(r *screen.Row, how string) {
	s.flagged[model.Meter(r.Name)] = how
	r.Bad = ""
	r.Hint = map[string]string{
		"correct": "A correction, not saved yet: once it is, earlier readings above it no longer count.",
		"new":     "A new counter, not saved yet: it starts again at this value, and the use before stays counted.",
	}[how]
}

// savedAs says what was saved, and as what.
func (s *meters) savedAs() string {
	for _, how := range s.flagged {
		return map[string]string{"correct": model.SavedCorrect, "new": model.SavedNew}[how]
	}
	return "Saved: the gauges follow the new readings."
}

// checkRow says at once, beside the row, what cannot be; the cursor goes back to it.
func (s *meters) checkRow(r *screen.Row) {
	if _, err := s.facts(r); err != nil {
		r.Bad = screen.Sentence(err)
		s.GoTo(r.Name)
	}
}

// against is the machine whose readings a new one is held against; one without any where it is said
// to be a correction or of a new counter.
func (s *meters) against(k model.Meter) *model.Machine {
	if m := s.Data.Machine(s.machine); m != nil && s.flagged[k] == "" {
		return m
	}
	return &model.Machine{}
}

// facts gives the facts of one row; none where it is empty.
func (s *meters) facts(r *screen.Row) ([]model.Fact, error) {
	k := model.Meter(r.Name)
	if r.Kind != screen.RowText || r.Value() == "" || !k.Typed() {
		return nil, nil
	}
	at := s.Now
	if when := s.Row("at").Value(); when != "" {
		if t, err := action.Time(when, s.Now); err == nil { // else said beside its own row
			at = t
		}
	}
	m := s.against(k)
	v, err := model.ReadMeter(m, k, r.Value(), at, s.Now)
	if err != nil {
		return nil, err
	}
	reading := model.Reading{Meter: k, Value: v, How: "typed", Correct: s.flagged[k] == "correct",
		NewMeter: s.flagged[k] == "new"}
	return action.Readings(m, []model.Reading{reading}, at, s.Now)
}

func (s *meters) save() tea.Cmd {
	a := model.Action{Machine: s.machine}
	if when := s.Row("at"); when.Value() != "" {
		at, err := action.Time(when.Value(), s.Now)
		if err != nil {
			when.Bad = screen.Sentence(err)
			s.GoTo("at")
			return nil
		}
		a.At = at
	}
	for _, r := range s.Rows {
		facts, err := s.facts(r)
		if err != nil {
			r.Bad = screen.Sentence(err)
			s.GoTo(r.Name)
			return nil
		}
		a.Facts = append(a.Facts, facts...)
	}
	if len(a.Facts) == 0 {
		s.Row("save").Bad = "Nothing is typed yet: type what a counter shows, or leave with esc."
		return nil
	}
	s.Saving = true
	return s.Append(a)
}
