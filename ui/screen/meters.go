package screen

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// meterAsks are the counters a person can read, and what they are called.
var meterAsks = []struct {
	meter     model.Meter
	ask, hint string
}{
	{model.Hours, "print hours", "As the machine's own counter shows them."},
	{model.Changes, "filament changes", "Every change the cutter or the hot end has seen; a purge counts as one."},
	{model.Starts, "print starts", "Each start cuts once more; leave it empty if the machine does not count them."},
	{model.StyrenicHours, "hours of ABS or ASA", "Hours printed with styrene plastics, if you keep them: they use up the carbon filter."},
	{model.AbrasiveHours, "hours of abrasive filament", "Hours printed with fibre, glow or metal-filled filament, if you keep them: they wear the nozzle."},
}

// meterHint is what is said of a counter while nothing is wrong with what was typed.
func meterHint(name string) string {
	for _, a := range meterAsks {
		if string(a.meter) == name {
			return a.hint
		}
	}
	return "today, yesterday, 3d, 2026-11-20 or 2026-11-20 14:30"
}

// meters is the form for what a machine's counters show.
type meters struct {
	formPage
	machine string
	flagged map[model.Meter]string // "correct" or "new", for readings that could not be otherwise
}

func newMeters(e *Env, machine string) *meters {
	return &meters{formPage: formPage{Base: e.Base()}, machine: machine, flagged: map[model.Meter]string{}}
}

// Init makes the questions, now that the bench is known.
func (s *meters) Init() tea.Cmd {
	m := s.Data.Machine(s.machine)
	if m == nil {
		return Send(Pop{})
	}
	for _, a := range meterAsks {
		r := &formRow{name: string(a.meter), ask: a.ask, hint: a.hint, empty: "not read", digit: true}
		if at, ok := lastReading(m, a.meter, s.Now); ok {
			r.empty = "not read; last " + at
		}
		s.rows = append(s.rows, r)
	}
	s.rows = append(s.rows,
		&formRow{name: "at", ask: "read when", empty: "now", hint: meterHint("at"), head: "when"},
		&formRow{kind: rowDo, name: "save", ask: "save the readings"})
	s.moved, s.edited = s.checkRow, s.unflag
	s.begin("save", nil, s.save, func(Result) tea.Cmd {
		return tea.Batch(Send(Pop{}), Send(Notice{s.savedAs()}))
	})
	return nil
}

// lastReading is what a counter showed last, and when.
func lastReading(m *model.Machine, k model.Meter, now time.Time) (string, bool) {
	s := m.Readings[k]
	if s == nil || s.N == 0 {
		return "", false
	}
	return model.Number(s.Last.Value-s.Offset) + " on " + model.Day(s.Last.At, now), true
}

func (s *meters) Title() (string, string) {
	name := ""
	if m := s.Data.Machine(s.machine); m != nil {
		name = theme.Safe(m.Name)
	}
	return name + "   what the counters show", ""
}

// What makes a reading true that others speak against, on the form and in a session.
const (
	itIsRight = "the new reading is right and the earlier, higher ones were wrong"
	itIsNew   = "the counter was replaced or reset and starts again at this value"
)

// Keys are those of the form, and what a reading lower than the last one may be.
func (s *meters) Keys() []Key {
	r := s.current()
	flags := r.bad != "" && s.canFlag(r) && !s.leaving
	return append([]Key{
		On("e", "correction", itIsRight, Do(func() { s.flag(r, "correct") })).When(flags),
		On("a", "new counter", itIsNew, Do(func() { s.flag(r, "new") })).When(flags),
	}, s.keys()...)
}

// Help says where the figures go.
func (s *meters) Help() []HelpPart {
	return []HelpPart{{"counters", []string{
		"Type what the machine shows, not what was added since. Leave empty what you did not read.",
		"A counter only grows. A lower value is asked about again: it can be a slip, a correction of earlier readings (e), or a replaced counter (a).",
		"Gauges count in these meters; dates follow the pace between the readings, so now and then is often enough.",
	}}}
}

// canFlag tells that a reading is wrong only because of earlier ones.
func (s *meters) canFlag(r *formRow) bool {
	k := model.Meter(r.name)
	if !k.Typed() {
		return false
	}
	v, err := model.ReadMeter(s.against(k), k, r.value(), s.Now, s.Now)
	if err != nil {
		return false
	}
	return model.Flaggable(k, v, s.Now, s.Now)
}

func (s *meters) Update(msg tea.Msg) (Screen, tea.Cmd) { return s, s.take(msg, s.Keys()) }

// unflag takes back that a reading stands, where it is typed anew.
func (s *meters) unflag(r *formRow) {
	delete(s.flagged, model.Meter(r.name))
	r.hint = meterHint(r.name)
}

// flag says that a reading stands although earlier ones are higher.
func (s *meters) flag(r *formRow, how string) {
	s.flagged[model.Meter(r.name)] = how
	r.bad = ""
	r.hint = map[string]string{
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
func (s *meters) checkRow(r *formRow) {
	if _, err := s.facts(r); err != nil {
		r.bad = Sentence(err)
		s.goTo(r.name)
	}
}

// against is the machine whose readings a new one is held against; one without any where it is said to be
// a correction or of a new counter.
func (s *meters) against(k model.Meter) *model.Machine {
	if m := s.Data.Machine(s.machine); m != nil && s.flagged[k] == "" {
		return m
	}
	return &model.Machine{}
}

// facts gives the facts of one row; none where it is empty.
func (s *meters) facts(r *formRow) ([]model.Fact, error) {
	k := model.Meter(r.name)
	if r.kind != rowText || r.value() == "" || !k.Typed() {
		return nil, nil
	}
	at := s.Now
	if when := s.row("at").value(); when != "" {
		if t, err := action.Time(when, s.Now); err == nil { // else said beside its own row
			at = t
		}
	}
	m := s.against(k)
	v, err := model.ReadMeter(m, k, r.value(), at, s.Now)
	if err != nil {
		return nil, err
	}
	reading := model.Reading{Meter: k, Value: v, How: "typed", Correct: s.flagged[k] == "correct", NewMeter: s.flagged[k] == "new"}
	return action.Readings(m, []model.Reading{reading}, at, s.Now)
}

func (s *meters) save() tea.Cmd {
	a := model.Action{Machine: s.machine}
	if when := s.row("at"); when.value() != "" {
		at, err := action.Time(when.value(), s.Now)
		if err != nil {
			when.bad = Sentence(err)
			s.goTo("at")
			return nil
		}
		a.At = at
	}
	for _, r := range s.rows {
		facts, err := s.facts(r)
		if err != nil {
			r.bad = Sentence(err)
			s.goTo(r.name)
			return nil
		}
		a.Facts = append(a.Facts, facts...)
	}
	if len(a.Facts) == 0 {
		s.row("save").bad = "Nothing is typed yet: type what a counter shows, or leave with esc."
		return nil
	}
	s.saving = true
	return s.Append(a)
}
