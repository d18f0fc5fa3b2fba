// Package findings is what was seen on a machine and is to be looked at again.
package findings

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// findings lists what stands on a machine; findings are added, moved and closed here.
type findings struct {
	screen.Base
	screen.List
	of    string
	form  *screen.Form // nil where the list is
	deed  deed         // of the form
	meant string       // id of the finding being closed or moved
}

// deed is what a form is for.
type deed int

const (
	adding deed = iota
	stopping
	closing
	moving
)

// New makes the findings of a machine.
func New(e *screen.Env, id string) screen.Screen { return &findings{Base: e.Base(), of: id} }

func (s *findings) standing() []model.Finding {
	if m := s.Data.Machine(s.of); m != nil {
		return m.Findings
	}
	return nil
}

func (s *findings) TakesText() bool { return s.form != nil && s.form.Typing() }
func (s *findings) HasInner() bool  { return s.form != nil }

func (s *findings) Title() (string, string) {
	name := s.Data.NameOf(s.of)
	if s.form != nil {
		return name + "   " + [...]string{"a new finding", "stop: do not use", "close a finding",
			"another day"}[s.deed], ""
	}
	return name + "   findings", strconv.Itoa(len(s.standing())) + " standing"
}

func (s *findings) Keys() []screen.Key {
	if s.form != nil {
		return s.form.Keys()
	}
	n := len(s.standing())
	return []screen.Key{
		screen.On("a", "add", "notes something seen", screen.Do(s.startAdding)),
		screen.On("1", "stop, do not use",
			"locks care and power until what was seen is put right and closed by name",
			screen.Do(s.startStop)),
		screen.On("enter", "close",
			"closes the finding under the cursor, with a word on how it was settled",
			screen.Do(s.startClosing)).Afresh().When(n > 0),
		screen.On("2", "another day", "gives the finding under the cursor another day to be looked at",
			screen.Do(s.startMoving)).Afresh().When(n > 0),
		s.Moves("move", "", n, 5).When(n > 0),
		screen.Back,
	}
}

// Help says what a finding is.
func (s *findings) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "findings", Lines: []string{
		"A finding is something seen that must be looked at again. It stands, here and on the bench, until it is closed with a word on how it was settled.",
		"stop\tpower stays locked until it is closed, by the person who put it right",
		"part\ta part is waited for",
		"limits\tthe machine is ready with limits, or out-of-use; closing it clears the machine's tag",
		"pro\ta licensed or qualified person is needed",
		"owed, later\treminders: nothing was seen, something is still to do on its day",
	}}}
}

func (s *findings) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.Press:
		return s, s.press(msg)
	case screen.Result:
		if s.form != nil && msg.Wrote && !s.Stale(msg) && s.form.Wrote(msg) {
			s.shut()
		}
	default:
		s.Take(msg)
	}
	s.Keep(len(s.standing()))
	return s, nil
}

func (s *findings) press(p screen.Press) tea.Cmd {
	if s.form != nil {
		return s.form.Press(p, s.form.Keys())
	}
	cmd, _ := screen.Act(s.Keys(), p)
	return cmd
}

func (s *findings) shut() tea.Cmd {
	s.form = nil
	return nil
}

// ask opens a form of rows, the last of which saves.
func (s *findings) ask(what deed, verb string, rows ...*screen.Row) {
	s.deed = what
	s.form = &screen.Form{Rows: rows, Verb: verb, Check: s.check, Save: s.save, Leave: s.shut}
	s.form.Hold()
}

func (s *findings) startAdding() {
	s.ask(adding, "save",
		&screen.Row{Name: "text", Ask: "what was seen",
			Hint: "In a few words, so that another person finds it."},
		againRow(),
		&screen.Row{Name: "part", Ask: "waits for a part", Empty: "no",
			Hint: "One of the parts and supplies of the drawer: nozzle, belt, fan …"},
		&screen.Row{Name: "save", Kind: screen.RowDo, Ask: "save the finding"})
}

// startStop asks what was seen on a machine that must not be used.
func (s *findings) startStop() {
	s.ask(stopping, "save",
		&screen.Row{Name: "text", Ask: "what was seen", Hint: model.StopNow +
			" Then write it down here."},
		&screen.Row{Name: "save", Kind: screen.RowDo, Ask: "stop the machine"})
}

func (s *findings) startClosing() {
	if s.At >= len(s.standing()) {
		return
	}
	f := s.standing()[s.At]
	why := &screen.Row{Name: "why", Ask: "how was it settled",
		Hint: "It stays in the book beside the finding."}
	rows := []*screen.Row{why, screen.ByRow(s.Env)}
	if m := s.Data.Machine(s.of); action.Unlocks(action.Settling(m, f, "")) {
		why.Hint = screen.Unlocks
		rows = append(rows, screen.NameRow())
	}
	s.meant = f.ID
	s.ask(closing, "close it",
		append(rows, &screen.Row{Name: "save", Kind: screen.RowDo, Ask: "close the finding"})...)
}

// startMoving asks for another day, the one it has being shown.
func (s *findings) startMoving() {
	if s.At >= len(s.standing()) {
		return
	}
	f := s.standing()[s.At]
	day := againRow()
	day.Ask, day.Empty = f.DayWord(), ""
	if !f.Again.IsZero() {
		day.Hint = "It has " + model.Day(f.Again, s.Now) + ". Another: " + day.Hint
	}
	s.meant = f.ID
	s.ask(moving, "move it", day,
		&screen.Row{Name: "put-off", Ask: "why", Empty: "no reason",
			Hint: "It stays in the book, with the day it had."},
		&screen.Row{Name: "save", Kind: screen.RowDo, Ask: "move the finding"})
}

func againRow() *screen.Row {
	return &screen.Row{Name: "again", Ask: "look again", Empty: "no date",
		Hint: "tomorrow, 7d (in seven days) or 2026-12-01"}
}

// check says why an answer cannot be; "" where it can.
func (s *findings) check(r *screen.Row) string {
	var err error
	switch text := r.Value(); {
	case r.Name == "text" || r.Name == "why":
		_, err = action.Text(r.Ask, text)
	case r.Name == "by":
		return screen.NeedsName(text)
	case r.Name == "name":
		return screen.NotItsName(s.Data.Machine(s.of), text)
	case r.Name == "again" && (text != "" || s.deed == moving):
		_, err = s.day(text)
	case r.Name == "put-off" && text != "":
		_, err = action.Text("why", text)
	case r.Name == "part" && text != "":
		_, err = action.Find("part", text, model.SupplyNames)
	}
	return screen.Sentence(err)
}

// day reads the day to look again; of a finding that is moved it is another than it has.
func (s *findings) day(text string) (time.Time, error) {
	if s.deed != moving {
		return action.Ahead(text, s.Now)
	}
	if text == "" {
		return time.Time{}, errors.New("a day is needed")
	}
	day, err := action.Ahead(text, s.Now)
	if x := s.one(); err == nil && x != nil {
		_, err = action.Moving(*x, day, "")
	}
	return day, err
}

// one is the finding that is closed or moved; nil where it stands no longer.
func (s *findings) one() *model.Finding {
	list := s.standing()
	i := slices.IndexFunc(list, func(x model.Finding) bool { return x.ID == s.meant })
	if i < 0 {
		return nil
	}
	return &list[i]
}

func (s *findings) save() tea.Cmd {
	f := s.form
	if !f.Sound() {
		return nil
	}
	a := model.Action{Machine: s.of}
	switch x := s.one(); {
	case s.deed == adding || s.deed == stopping:
		a.Facts = s.added(f)
	case x != nil && s.deed == moving:
		day, _ := s.day(f.Row("again").Value())
		a.Facts, _ = action.Moving(*x, day, f.Row("put-off").Value())
	case x != nil:
		a.By = f.Row("by").Value()
		a.Facts = action.Settling(s.Data.Machine(s.of), *x, f.Row("why").Value())
	}
	if len(a.Facts) == 0 { // closed elsewhere meanwhile
		s.shut()
		return screen.Tell("That finding is closed already.")
	}
	if action.Unlocks(a.Facts) && f.Row("name") == nil { // the other stop was closed meanwhile
		s.startClosing()
		return nil
	}
	f.Saving = true
	return s.Append(a)
}

// added gives the facts of a form checked above.
func (s *findings) added(f *screen.Form) []model.Fact {
	text := f.Row("text").Value()
	if s.deed == stopping {
		return action.Stop(text)
	}
	x := &model.Found{Kind: model.FoundNote, Text: text}
	if again := f.Row("again").Value(); again != "" {
		x.Again, _ = action.Ahead(again, s.Now)
	}
	if part := f.Row("part").Value(); part != "" {
		x.Kind = model.FoundPart
		x.Part, _ = action.Find("part", part, model.SupplyNames)
	}
	return []model.Fact{{Kind: model.KindFinding, Finding: x}}
}

func (s *findings) View() string {
	t := s.Env.Theme
	if s.form != nil {
		return s.form.View(t, s.W, s.H)
	}
	list := s.standing()
	if len(list) == 0 {
		return strings.Join(screen.Clip([]string{"", "   Nothing stands on this machine.", "",
			"   " + t.Text.Accent.Text("a") +
				"  notes something seen, to be looked at again"}, s.H), "\n")
	}
	var lines []string
	from, to := 0, 0
	for i, f := range list {
		if i == s.At {
			from = len(lines)
		}
		lines = append(lines, s.findingLines(f, i == s.At)...)
		if i == s.At {
			to = len(lines)
		}
	}
	top := screen.InView(from, to, len(lines), s.H)
	return strings.Join(screen.Clip(lines[top:], s.H), "\n")
}

// findingLines draws one finding: its kind, its text, and when it was seen and is looked at again.
func (s *findings) findingLines(f model.Finding, at bool) []string {
	t := s.Env.Theme
	lead, _ := screen.UnderCursor(t, at, "")
	kind := t.Pad(theme.Safe(string(f.Kind)), 8)
	if f.Kind == model.FoundStop {
		kind = t.State.Past.Text(kind)
	}
	var out []string
	for _, l := range theme.Wrap(t.Plain(theme.Safe(f.Text)), max(20, s.W-14)) {
		if at {
			l = t.Text.Accent.Text(l)
		}
		out = append(out, lead+kind+" "+l)
		lead, kind = "   ", strings.Repeat(" ", 8)
	}
	when := []string{f.AtWord() + " " + model.Day(f.At, s.Now)}
	if !f.Again.IsZero() {
		again := f.DayWord() + " " + model.Day(f.Again, s.Now)
		if !f.Again.After(s.Now) {
			again = t.State.Due.Text(again + ", now")
		}
		when = append(when, again)
	}
	if f.Part != "" {
		when = append(when, "waits for "+theme.Safe(f.Part))
	}
	if f.Procedure != "" {
		when = append(when, "in "+theme.Safe(s.Env.Names().Procedure(f.Procedure)))
	}
	for _, l := range screen.WrapParts(strings.Join(when, "; "), "; ", max(20, s.W-12)) {
		out = append(out, screen.Fit(t, strings.Repeat(" ", 12)+t.Plain(l), s.W))
	}
	return out
}
