package screen

import (
	"cmp"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// machineForm is the guided form that adds a machine, or edits one.
type machineForm struct {
	Base
	form
	old *model.MachineFact // the machine edited; nil where one is added
}

// newMachineForm makes the form for m, or for a new machine where m is nil.
func newMachineForm(e *Env, m *model.Machine) *machineForm {
	s := &machineForm{Base: e.Base()}
	if m != nil {
		f := m.MachineFact
		s.old = &f
	}
	s.make()
	return s
}

// make makes the questions.
func (s *machineForm) make() {
	name := &formRow{name: "name", ask: "name", hint: "As you call it: up to 40 characters."}
	duty := &formRow{name: "duty", ask: "duty", kind: rowOne, opts: []formOption{
		{string(model.Home), "home: some 10 to 20 print hours a week"},
		{string(model.Production), "production: some 80 to 140 print hours a week"}},
		hint: "Only the calendar depends on it: a machine in production is looked at sooner."}
	s.rows = []*formRow{name, duty}
	if s.old != nil {
		name.text.text = s.old.Name
		use := &formRow{name: "use", ask: "in use", kind: rowOne, opts: []formOption{{"", "in use"}, {"out", "out of use: its calendar waits"}}}
		if s.old.Duty == model.Production {
			duty.one = 1
		}
		if s.old.OutOfUse {
			use.one = 1
		}
		s.rows = append(s.rows, use)
	} else {
		s.rows = append(s.rows, &formRow{name: "start", ask: "start from", kind: rowOne, opts: []formOption{
			{"", "the questions below, one by one"},
			{"full", "a full enclosed machine, with all that can be on it"}},
			hint: "A full machine answers the questions below; change what differs."})
	}
	s.featureRows()
	if s.old == nil {
		s.meterRows()
		s.lastRows()
	} else {
		s.settingRows()
	}
	s.rows = append(s.rows, &formRow{kind: rowDo, name: "save", ask: "save the machine"})
	s.begin()
}

// featureRows ask what the machine has.
func (s *machineForm) featureRows() {
	for i, q := range action.FeatureQuestions {
		r := &formRow{name: "feature-" + itoa(i), ask: q.Name, hint: q.Hint, kind: rowOne}
		for _, o := range q.Of {
			r.opts = append(r.opts, formOption{string(o.Is), o.Says})
		}
		if q.Any {
			r.kind, r.many = rowMany, map[int]bool{}
		} else {
			r.opts = append(r.opts, formOption{says: cmp.Or(q.None, "don't know")})
			r.one = len(q.Of)
		}
		if i == 0 {
			r.head = "what it has and is made of"
		}
		if len(q.Only) > 0 {
			r.when = func() bool { return q.Asked(s.set()) }
		}
		s.rows = append(s.rows, r)
	}
	if s.old != nil {
		s.setFeatures(s.old.Features)
	}
}

// setFeatures answers the questions with a list of features.
func (s *machineForm) setFeatures(fs []model.Feature) {
	for i, q := range action.FeatureQuestions {
		r := s.row("feature-" + itoa(i))
		if r.kind == rowOne {
			r.one = len(q.Of)
		} else {
			r.many = map[int]bool{}
		}
		for j, o := range q.Of {
			if !slices.Contains(fs, o.Is) {
				continue
			}
			if r.kind == rowOne {
				r.one = j
			} else {
				r.many[j] = true
			}
		}
	}
}

// set is what is answered, also to questions that are not asked for now.
func (s *machineForm) set() model.FeatureSet {
	fs := model.FeatureSet{}
	for i, q := range action.FeatureQuestions {
		r := s.row("feature-" + itoa(i))
		for j, o := range q.Of {
			if r != nil && r.picked(j) {
				fs[o.Is] = true
			}
		}
	}
	return fs
}

// chosenFeatures are the names answered to the questions that apply, and those a machine had before
// that no question is asked for.
func (s *machineForm) chosenFeatures() []string {
	var out []string
	if s.old != nil {
		for i, q := range action.FeatureQuestions {
			if r := s.row("feature-" + itoa(i)); r.when != nil && !r.when() {
				for _, o := range q.Of {
					if slices.Contains(s.old.Features, o.Is) {
						out = append(out, string(o.Is))
					}
				}
			}
		}
	}
	for _, r := range s.asked() {
		for j, o := range r.opts {
			if strings.HasPrefix(r.name, "feature-") && r.picked(j) {
				out = append(out, o.is)
			}
		}
	}
	return out
}

// meterRows ask what the counters show.
func (s *machineForm) meterRows() {
	for i, a := range meterAsks[:3] {
		r := &formRow{name: string(a.meter), ask: a.ask, hint: a.hint, empty: "not read"}
		if i == 0 {
			r.head = "what its counters show"
		}
		s.rows = append(s.rows, r)
	}
}

// lastRows ask when care that counts was last done.
func (s *machineForm) lastRows() {
	fresh := &formRow{name: "fresh", ask: "the machine is", kind: rowOne, head: "when was this last done? ctrl+s saves at any time; the rest stays \"don't know\"", opts: []formOption{
		{"", "in use: I say below what I know"},
		{"new", "new out of its box: every gauge starts today"}}}
	s.rows = append(s.rows, fresh)
	for _, p := range s.Env.Library.All() {
		if !asksLast(p) {
			continue
		}
		s.rows = append(s.rows, &formRow{
			name: "last-" + p.ID, ask: p.Called(), empty: "don't know",
			hint: theme.Safe(p.Title) + ". A day (2026-10-20, yesterday, 3d), or what its counter showed then.",
			when: func() bool { return fresh.one == 0 && p.Fits(s.set()) },
		})
	}
}

// asksLast tells whether the last time of a procedure is worth asking: care and swaps with a limit.
func asksLast(p *model.Procedure) bool {
	return (p.Kind == model.Care || p.Kind == model.Swap) && len(p.Intervals) > 0
}

// settingRows ask what procedures must know of this machine.
func (s *machineForm) settingRows() {
	fs := model.NewFeatureSet(s.old.Features...)
	asks := map[string]model.Setting{}
	for _, p := range slices.Concat(s.Env.Library.All(), s.Env.Library.SetUps()) {
		if !p.Fits(fs) {
			continue
		}
		for _, x := range p.For(fs, s.old.Settings).Settings {
			asks[x.Name] = x
		}
	}
	head := "what care must know of it"
	for _, n := range sortedNames(asks) {
		x := asks[n]
		hint := theme.Safe(x.Ask)
		if len(x.Options) > 0 {
			hint += " " + theme.Safe(strings.Join(x.Options, ", ")) + "."
		}
		r := &formRow{name: "setting-" + n, ask: theme.Safe(strings.ReplaceAll(n, "-", " ")), hint: hint, empty: "asked when a session needs it", head: head}
		r.text.text = s.old.Settings[n]
		s.rows = append(s.rows, r)
		head = ""
	}
}

func (s *machineForm) SetSize(w, h int) Screen { s.Size(w, h); return s }
func (s *machineForm) TakesText() bool         { return s.typing() }
func (s *machineForm) HasInner() bool          { return s.inner() }
func (s *machineForm) Keys() []Key             { return s.keys("save") }
func (s *machineForm) View() string            { return s.view(s.Env.Theme, s.W, s.H) }

func (s *machineForm) Title() (string, string) {
	rows := s.asked()
	right := "question " + itoa(min(s.at+1, len(rows)-1)) + " of " + itoa(len(rows)-1)
	if s.old == nil {
		return "a new machine", right
	}
	return theme.Safe(s.old.Name) + "   edit", right
}

// Help says what hangs on the answers.
func (s *machineForm) Help() []HelpPart {
	return []HelpPart{{"the answers", []string{
		"What a machine has decides which care it gets and which steps that care has. Not known is a fair answer: then the careful, dry way is taken until you say more, and you are asked again at the first session that meets it.",
		"The counters and the last times start the gauges. A gauge whose last time is not known reads unknown, and its care is offered first.",
		"Nothing is written before you save, and what you save can be edited again.",
	}}}
}

func (s *machineForm) Update(msg tea.Msg) (Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case Press:
		return s, s.key(msg)
	case Result:
		if !msg.Wrote || s.Stale(msg) {
			break
		}
		if s.saving = false; msg.Err == nil {
			id, _ := msg.Value.(string)
			return s, Send(Pop{Then: Chosen{Machine: id}})
		}
	default:
		s.Take(msg)
	}
	return s, nil
}

func (s *machineForm) key(p Press) tea.Cmd {
	r := s.current()
	start := s.row("start")
	was := 0
	if start != nil {
		was = start.one
	}
	if p.Key() == "?" && r.kind == rowText && r.text.text == "" && !s.leaving {
		return Send(AskHelp{})
	}
	act := s.press(p)
	if start != nil && start.one != was {
		s.setFeatures(nil)
		if start.one == 1 {
			s.setFeatures(model.FullFeatures)
		}
	}
	switch act {
	case formLeave:
		return Send(Pop{})
	case formMoved:
		if r.bad = s.check(r); r.bad != "" && r.kind == rowText {
			s.goTo(r.name)
		}
	case formSave:
		return s.save()
	}
	return nil
}

// check says why one answer cannot be; "" where it can.
func (s *machineForm) check(r *formRow) string {
	var err error
	text := r.value()
	switch last, isLast := strings.CutPrefix(r.name, "last-"); {
	case r.name == "name":
		id := ""
		if s.old != nil {
			id = s.old.ID
		}
		err = model.CheckName(s.Data.Bench, text, id)
	case strings.HasPrefix(r.name, "feature-"):
		_, err = model.ParseFeatures(s.chosenFeatures())
	case r.kind != rowText || text == "":
	case isLast:
		_, err = action.ParseLast(last+"="+text, s.Now)
	case strings.HasPrefix(r.name, "setting-"):
		_, _, err = action.Setting(slices.Concat(s.Env.Library.All(), s.Env.Library.SetUps()), strings.TrimPrefix(r.name, "setting-")+"="+text)
	default:
		var v float64
		if v, err = model.ReadMeter(&model.Machine{}, model.Meter(r.name), text, s.Now, s.Now); err == nil {
			err = model.CheckReading(&model.Machine{}, model.Meter(r.name), v, s.Now, s.Now)
		}
	}
	return Sentence(err)
}
