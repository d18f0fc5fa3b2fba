package machine

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// machineForm is the guided form that adds a machine, or edits one.
type machineForm struct {
	screen.FormPage
	of  string             // the machine edited; "" where one is added
	old *model.MachineFact // the same as it was; nil where one is added

	from []model.Feature // what the questions were last answered by
}

// NewForm makes the form for a machine, or for a new one where the id is "".
func NewForm(e *screen.Env, machine string) screen.Screen {
	return &machineForm{FormPage: screen.FormPage{Base: e.Base()}, of: machine}
}

// Init makes the questions, now that the machine is known.
func (s *machineForm) Init() tea.Cmd {
	if s.of != "" {
		m := s.Data.Machine(s.of)
		if m == nil {
			return screen.Send(screen.Pop{})
		}
		f := m.MachineFact
		s.old = &f
	}
	s.make()
	return nil
}

func (s *machineForm) make() {
	name := &screen.Row{Name: "name", Ask: "name", Hint: "As you call it: up to 40 characters."}
	duty := &screen.Row{Name: "duty", Ask: "duty", Kind: screen.RowOne, Opts: []screen.Option{
		{Is: string(model.Home), Says: "home: some 10 to 20 print hours a week"},
		{Is: string(model.Production), Says: "production: some 80 to 140 print hours a week"}},
		Hint: "Only the calendar depends on it: a machine in production is looked at sooner."}
	s.Rows = []*screen.Row{name, duty}
	if s.old != nil {
		name.Text.Text = s.old.Name
		use := &screen.Row{Name: "use", Ask: "in use", Kind: screen.RowOne,
			Opts: []screen.Option{{Says: "in use"},
				{Is: "out", Says: "out of use: its calendar waits"}}}
		if s.old.Duty == model.Production {
			duty.One = 1
		}
		if s.old.OutOfUse {
			use.One = 1
		}
		s.Rows = append(s.Rows, use)
		s.featureRows()
		s.Rows = append(s.Rows, originRow(action.OriginOf(*s.old, s.Now)))
		s.settingRows()
	} else {
		s.Rows = append(s.Rows[:1], startRow())
		s.featureRows()
		s.Rows = append(s.Rows, duty, originRow(""))
		s.meterRows()
		s.Rows = append(s.Rows, careRow())
	}
	s.Rows = append(s.Rows, &screen.Row{Kind: screen.RowDo, Name: "save", Ask: "save the machine"})
	s.Moved, s.Edited = s.leaveRow, s.startFrom
	s.Begin("save", s.check, s.save, func(r screen.Result) tea.Cmd {
		id, _ := r.Value.(string)
		return screen.Send(screen.Pop{Then: screen.Chosen{Machine: id}})
	})
}

// startRow asks what kind of machine it is.
func startRow() *screen.Row {
	r := &screen.Row{
		Name: "start",
		Ask:  "start from",
		Kind: screen.RowOne,
		One:  len(action.StartingSets) - 1,
		Hint: "It answers some of the questions below, and leaves what you answered; change what differs. What else care must know is asked when a session first needs it.",
	}
	for _, x := range action.StartingSets {
		is := x.Name
		if x.Features == nil {
			is = ""
		}
		r.Opts = append(r.Opts, screen.Option{Is: is, Says: x.Says})
	}
	return r
}

// originRow asks how the machine came.
func originRow(said string) *screen.Row {
	r := &screen.Row{Name: "origin", Ask: "how it came", Empty: "not known",
		Hint: action.OriginHint, Head: "how old it is"}
	r.Text = screen.Known(said)
	return r
}

// careRow asks what the machine is kept by.
func careRow() *screen.Row {
	return &screen.Row{Name: "care", Ask: "kept by", Kind: screen.RowOne, Opts: []screen.Option{
		{Is: "starter", Says: "a list to start with: looks and cleaning"},
		{
			Is:   "all",
			Says: "all that fits it",
		},
	}, Hint: "The rest comes by a finding or a symptom; the machine's page (2) keeps or lets go what you choose."}
}

// start are the features of the set a new machine starts from; those it had, of one edited.
func (s *machineForm) start() []model.Feature {
	if s.old != nil {
		return s.old.Features
	}
	return action.StartingSets[s.Row("start").One].Features
}

// featureRows ask what the machine has.
func (s *machineForm) featureRows() {
	for i, q := range action.FeatureQuestions {
		if q.Later && s.old == nil {
			continue
		}
		r := &screen.Row{Name: "feature-" + strconv.Itoa(i), Ask: q.Name, Hint: q.Hint,
			Kind: screen.RowOne}
		for _, o := range q.Of {
			r.Opts = append(r.Opts, screen.Option{Is: string(o.Is), Says: o.Says})
		}
		if q.Any {
			r.Kind, r.Many = screen.RowMany, map[int]bool{}
		} else {
			r.Opts = append(r.Opts, screen.Option{Says: cmp.Or(q.None, "don't know")})
			r.One = len(q.Of)
		}
		if s.Row("feature-0") == nil && s.Row("feature-2") == nil {
			r.Head = "what it has and is made of"
		}
		if len(q.Only) > 0 {
			r.When = func() bool { return q.Asked(s.set()) }
		}
		s.Rows = append(s.Rows, r)
	}
	if s.old != nil {
		s.setFeatures(s.old.Features)
	}
}

// setFeatures answers the questions with a list of features. What is not as the last list said was
// answered by hand, and stays.
func (s *machineForm) setFeatures(fs []model.Feature) {
	for i, q := range action.FeatureQuestions {
		r := s.Row("feature-" + strconv.Itoa(i))
		if r == nil {
			continue
		}
		if r.Kind == screen.RowOne && r.One == oneOf(q, s.from) {
			r.One = oneOf(q, fs)
		}
		for j, o := range q.Of {
			if r.Kind == screen.RowMany && r.Many[j] == slices.Contains(s.from, o.Is) {
				r.Many[j] = slices.Contains(fs, o.Is)
			}
		}
	}
	s.from = fs
}

// oneOf is the answer a list of features gives to a question that has one; the last, that nothing
// is known, where none.
func oneOf(q action.FeatureQuestion, fs []model.Feature) int {
	i := slices.IndexFunc(q.Of, func(o action.FeatureOption) bool {
		return slices.Contains(fs, o.Is)
	})
	if i < 0 {
		return len(q.Of)
	}
	return i
}

// set is what is answered, also to questions that are not asked for now.
func (s *machineForm) set() model.FeatureSet {
	fs := model.FeatureSet{}
	for i, q := range action.FeatureQuestions {
		r := s.Row("feature-" + strconv.Itoa(i))
		for j, o := range q.Of {
			if r != nil && r.Picked(j) {
				fs[o.Is] = true
			}
		}
	}
	return fs
}

// chosenFeatures are the names answered to the questions that apply, and those the machine starts
// with that no question is asked for.
func (s *machineForm) chosenFeatures() []string {
	var out []string
	for i, q := range action.FeatureQuestions {
		if r := s.Row("feature-" + strconv.Itoa(i)); r != nil && (r.When == nil || r.When()) {
			continue
		}
		for _, o := range q.Of {
			if slices.Contains(s.start(), o.Is) {
				out = append(out, string(o.Is))
			}
		}
	}
	for _, r := range s.Asked() {
		for j, o := range r.Opts {
			if strings.HasPrefix(r.Name, "feature-") && r.Picked(j) {
				out = append(out, o.Is)
			}
		}
	}
	return out
}

// meterRows ask what the counters show.
func (s *machineForm) meterRows() {
	for _, a := range screen.Counters[:2] {
		s.Rows = append(s.Rows, &screen.Row{Name: string(a.Meter), Ask: a.Ask, Hint: a.Hint,
			Empty: "not read", When: func() bool {
				o, err := action.ReadOrigin(s.Row("origin").Value(), s.Now)
				return !(err == nil && o.New) &&
					(a.Meter == model.Hours || action.CountsChanges(s.set()))
			}})
	}
}

// settingRows ask what procedures must know of this machine, and what print files do not say.
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
	for _, n := range screen.Sorted(asks) {
		x := asks[n]
		hint := theme.Safe(x.Ask)
		if len(x.Options) > 0 {
			hint += " " + theme.Safe(strings.Join(x.Options, ", ")) + "."
		}
		r := &screen.Row{Name: "setting-" + n, Ask: theme.Safe(x.Heading()), Hint: hint,
			Empty: "asked when a session needs it", Head: head}
		r.Text = screen.Known(s.old.Settings[n])
		s.Rows = append(s.Rows, r)
		head = ""
	}
	for i, x := range model.PrintSettings {
		r := &screen.Row{
			Name:  "setting-" + x.Name,
			Ask:   x.Heading(),
			Hint:  x.Ask,
			Empty: "not known",
		}
		if i == 0 {
			r.Head = "how it prints, for the time and the wear of print files"
		}
		r.Text = screen.Known(s.old.Settings[x.Name])
		s.Rows = append(s.Rows, r)
	}
}

func (s *machineForm) Title() (string, string) {
	rows := s.Asked()
	right := "question " + strconv.Itoa(min(s.At+1, len(rows)-1)) + " of " +
		strconv.Itoa(len(rows)-1)
	if s.old == nil {
		return "a new machine", right
	}
	return theme.Safe(s.old.Name) + "   edit", right
}

// Help says what hangs on the answers.
func (s *machineForm) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "the answers", Lines: []string{
		"What a machine has decides which care it gets and which steps that care has. Not known is a fair answer: then the careful, dry way is taken until you say more, and you are asked again at the first session that meets it.",
		"How it came and what its counters show bound the age of every part. When care was last done is told on the machine's page (2); what nobody knows is looked at first, in short sessions.",
		"Nothing is written before you save, and what you save can be edited again.",
	}}}
}

func (s *machineForm) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	return s, s.Handle(msg, s.Keys())
}

// startFrom answers the questions below by the set a new machine starts from.
func (s *machineForm) startFrom(r *screen.Row) {
	if r.Name == "start" {
		s.setFeatures(s.start())
	}
}

// leaveRow checks a row; the cursor goes back to a text that cannot be.
func (s *machineForm) leaveRow(r *screen.Row) {
	if r.Bad = s.check(r); r.Bad != "" && r.Kind == screen.RowText {
		s.GoTo(r.Name)
	}
}

// check says why one answer cannot be; "" where it can.
func (s *machineForm) check(r *screen.Row) string {
	var err error
	text := r.Value()
	switch {
	case r.Name == "name":
		id := ""
		if s.old != nil {
			id = s.old.ID
		}
		err = model.CheckName(s.Data.Bench, text, id)
	case strings.HasPrefix(r.Name, "feature-"):
		_, err = model.ParseFeatures(s.chosenFeatures())
	case r.Kind != screen.RowText || text == "":
	case r.Name == "origin":
		_, err = action.ReadOrigin(text, s.Now)
	case strings.HasPrefix(r.Name, "setting-"):
		_, _, err = action.Setting(slices.Concat(s.Env.Library.All(), s.Env.Library.SetUps()),
			strings.TrimPrefix(r.Name, "setting-")+"="+text)
	default:
		var v float64
		if v, err = model.ReadMeter(&model.Machine{}, model.Meter(r.Name), text, s.Now,
			s.Now); err == nil {
			err = model.CheckReading(&model.Machine{}, model.Meter(r.Name), v, s.Now, s.Now)
		}
	}
	return screen.Sentence(err)
}
