package measure

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/measure"
	"bench/oilcan/ui/measured"
	"bench/oilcan/ui/screen"
)

// work is one calculator: what can hurt, its questions, then its answer.
type work struct {
	screen.FormPage
	screen.Pager
	to    screen.ToCalculator
	c     *measure.Calculator
	w     *measured.Work
	keeps []*measure.Kept // what it can be kept as on this machine

	warned bool // what can hurt was read and said
	path   string
	sound  *measure.Sound
	wanted bool // the answer is wanted once the recording is read
	answer *measure.Result
}

// soundRead is a recording read from the disk, or why it could not be.
type soundRead struct {
	path  string
	sound measure.Sound
	err   error
}

// NewCalculator makes one calculator; nil where there is none of that name.
func NewCalculator(e *screen.Env, to screen.ToCalculator) screen.Screen {
	c := measure.Find(measured.All(), to.By)
	if c == nil {
		return nil
	}
	b := e.Base()
	b.MachinesOnly = true
	return &work{FormPage: screen.FormPage{Base: b}, to: to, c: c, warned: !c.Alone ||
		to.For != nil}
}

// Init makes the questions, now that the bench is known.
func (s *work) Init() tea.Cmd {
	m := s.Data.Machine(s.to.Machine)
	kept := s.to.For
	if kept == nil && m != nil {
		if s.keeps = measure.KeptOn(s.c.ID, m); len(s.keeps) == 1 {
			kept = s.keeps[0]
		}
	}
	s.w = measured.New(s.c, kept, m, s.to.Said)
	if len(s.keeps) > 0 {
		s.Rows = append(s.Rows, s.keepRow())
	}
	for i := range s.c.Fields {
		s.Rows = append(s.Rows, s.row(&s.c.Fields[i]))
	}
	s.Rows = append(s.Rows, &screen.Row{Kind: screen.RowDo, Name: doRow, Ask: "work it out"})
	s.Edited = s.edited
	s.Begin("work it out", s.check, s.workOut, s.saved)
	if len(s.keeps) != 1 {
		return nil
	}
	s.At = 1 // the first question
	return nil
}

// The rows that are no field of the calculator.
const (
	keepRow = "keep"
	doRow   = "do"
	noKeep  = ""
)

// keepRow asks what the answer is kept as.
func (s *work) keepRow() *screen.Row {
	r := &screen.Row{Kind: screen.RowOne, Name: keepRow, Ask: "Keep it as",
		Hint: "on the machine's record; what is known of it then stands below"}
	for _, k := range s.keeps {
		r.Opts = append(r.Opts, screen.Option{Is: k.Quantity, Says: k.Quantity})
	}
	r.Opts = append(r.Opts, screen.Option{Is: noKeep, Says: "not kept"})
	if s.w.Kept == nil {
		r.One = len(r.Opts) - 1
	}
	return r
}

// mostOptions is how many answers have a digit of their own; more are typed.
const mostOptions = 9

// row asks one field.
func (s *work) row(f *measure.Field) *screen.Row {
	r := &screen.Row{Name: f.Name, Ask: f.Ask, Hint: strings.TrimSpace(f.Hint)}
	r.When = func() bool { return s.c.Asks(f, s.typed()) }
	known := s.w.Typed[f.Name]
	if f.Kind == measure.Word && len(f.Options) <= mostOptions {
		s.choice(r, f, known)
		return r
	}
	r.Text = screen.Known(known)
	if wants := f.Range(); f.Kind == measure.Number {
		r.Hint = strings.TrimSuffix(wants+"; "+r.Hint, "; ")
	} else if f.Kind == measure.Word {
		r.Hint = wants
	}
	switch {
	case f.Usual != "":
		r.Empty = f.UsualText()
	case f.Optional:
		r.Empty = "left out"
	}
	return r
}

// choice makes a row of words; nothing is chosen for the person where nothing is usual.
func (s *work) choice(r *screen.Row, f *measure.Field, known string) {
	r.Kind = screen.RowOne
	if known == "" {
		known = f.Usual
	}
	r.One = -1
	for i, o := range f.Options {
		r.Opts = append(r.Opts, screen.Option{Is: o.Is, Says: o.Says})
		if o.Is == known {
			r.One = i
		}
	}
	if r.One < 0 {
		r.Opts = append(r.Opts, screen.Option{Is: "", Says: "not said"})
		r.One = len(r.Opts) - 1
	}
}

// typed is what stands in the rows, by field.
func (s *work) typed() map[string]string {
	out := map[string]string{}
	for _, r := range s.Rows {
		if r.Kind != screen.RowDo && r.Name != keepRow && r.Value() != "" {
			out[r.Name] = r.Value()
		}
	}
	return out
}

// asked is what stands in the rows that are asked.
func (s *work) asked() map[string]string {
	all, out := s.typed(), map[string]string{}
	for _, r := range s.Asked() {
		if text := all[r.Name]; text != "" {
			out[r.Name] = text
		}
	}
	return out
}

// check says why what stands in a row cannot be.
func (s *work) check(r *screen.Row) string {
	f := s.c.Field(r.Name)
	if f == nil {
		return ""
	}
	if f.Name == "tone" && r.Value() == "" && s.recording() != "" && s.answer == nil &&
		s.sound == nil {
		return "" // the recording is read first
	}
	if bad := f.Check(r.Value()); bad != "" {
		return strings.ToUpper(bad[:1]) + bad[1:] + "."
	}
	return ""
}

// edited follows an answer that was changed: what is known of another quantity stands then, and a
// tone typed is no tone heard.
func (s *work) edited(r *screen.Row) {
	switch r.Name {
	case keepRow:
		was := s.w.Typed
		s.w = measured.New(s.c, measure.KeptAs(r.Value()), s.w.Machine, s.to.Said)
		for i := range s.c.Fields {
			f := &s.c.Fields[i]
			if row := s.Row(f.Name); row.Kind == screen.RowText && row.Value() == was[f.Name] {
				row.Text = screen.Known(s.w.Typed[f.Name])
			}
		}
	case "tone":
		s.sound = nil
	}
}

// recording is the path typed, "" for none.
func (s *work) recording() string {
	if r := s.Row("recording"); r != nil {
		return r.Value()
	}
	return ""
}

// workOut works out what stands in the rows, after the recording was read.
func (s *work) workOut() tea.Cmd {
	if s.recording() != "" && s.recording() != s.path {
		s.wanted = true
		return s.read()
	}
	if !s.Sound() {
		return nil
	}
	s.w.Typed, s.w.Heard = s.asked(), nil
	if s.sound != nil {
		if err := s.w.Listen(*s.sound); err != nil {
			s.refused("recording", err)
			return nil
		}
	}
	r, err := s.w.Result()
	if err != nil {
		s.refused(doRow, err)
		return nil
	}
	s.answer, s.Top = &r, 0
	s.Hold() // nothing is lost by leaving now
	return nil
}

// refused says beside a row what is wrong.
func (s *work) refused(name string, err error) {
	s.Row(name).Bad = screen.Sentence(err)
	s.GoTo(name)
}

// read reads the recording in a command.
func (s *work) read() tea.Cmd {
	path := s.recording()
	s.path = path
	return s.Read(func(screen.Store) (any, error) {
		sound, err := measured.Sound(path)
		return soundRead{path, sound, err}, nil
	})
}

// heard finds the tone of the recording that was read, and types it.
func (s *work) heard(got soundRead) tea.Cmd {
	if got.path != s.recording() {
		return nil // another was named meanwhile
	}
	wanted := s.wanted
	s.wanted = false
	s.w.Typed = s.asked()
	err := got.err
	if err == nil {
		err = s.w.Listen(got.sound)
	}
	if err != nil {
		s.sound = nil
		s.refused("recording", err)
		return nil
	}
	s.sound = &got.sound
	tone := s.Row("tone")
	tone.Text, tone.Bad = screen.Known(s.w.Typed["tone"]), ""
	if wanted {
		return s.workOut()
	}
	return nil
}

// take gives the answer to the gate that asked, or keeps it on the machine's record.
func (s *work) take() tea.Cmd {
	v := s.w.Value(*s.answer)
	switch {
	case v == nil:
		return nil
	case s.to.For != nil:
		return screen.Send(screen.Pop{Then: screen.WorkedOut{Value: v}})
	}
	s.Saving = true
	return s.Append(model.Action{Machine: s.to.Machine,
		Facts: []model.Fact{{Kind: model.KindValue, Value: v}}})
}

// saved goes back to the list once it is written.
func (s *work) saved(screen.Result) tea.Cmd {
	v := s.w.Value(*s.answer)
	return tea.Batch(
		screen.Send(screen.Pop{}),
		screen.Tell("Kept: "+v.Name+" "+
			model.Figure(v.Value)+" "+v.Unit+"."),
	)
}

func (s *work) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case screen.Result:
		if got, ok := msg.Value.(soundRead); ok && !s.Stale(msg) {
			cmd = s.heard(got)
		} else {
			cmd = s.Handle(msg, nil)
		}
	case screen.Press:
		cmd = s.press(msg)
	default:
		s.Take(msg)
	}
	s.lay()
	return s, cmd
}

// press takes a key; a recording that was named is read once its row is left.
func (s *work) press(p screen.Press) tea.Cmd {
	if !s.warned || s.answer != nil {
		cmd, taken := screen.Act(s.Keys(), p)
		if !taken {
			cmd = screen.Wrong(s.Keys(), p)
		}
		return cmd
	}
	cmd := s.Press(p, s.Keys())
	if path := s.recording(); path != "" && path != s.path && s.Current().Name != "recording" &&
		!s.Leaving {
		return tea.Batch(cmd, s.read())
	}
	return cmd
}
