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
	formPage
	of  string             // the machine edited; "" where one is added
	old *model.MachineFact // the same as it was; nil where one is added
}

// newMachineForm makes the form for a machine, or for a new one where the id is "".
func newMachineForm(e *Env, machine string) *machineForm {
	return &machineForm{formPage: formPage{Base: e.Base()}, of: machine}
}

// Init makes the questions, now that the machine is known.
func (s *machineForm) Init() tea.Cmd {
	if s.of != "" {
		m := s.Data.Machine(s.of)
		if m == nil {
			return Send(Pop{})
		}
		f := m.MachineFact
		s.old = &f
	}
	s.make()
	return nil
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
		s.featureRows()
		s.rows = append(s.rows, originRow(action.OriginOf(*s.old, s.Now)))
		s.settingRows()
	} else {
		s.rows = append(s.rows[:1], startRow())
		s.featureRows()
		s.rows = append(s.rows, duty, originRow(""))
		s.meterRows()
		s.rows = append(s.rows, careRow())
	}
	s.rows = append(s.rows, &formRow{kind: rowDo, name: "save", ask: "save the machine"})
	s.moved, s.edited = s.leaveRow, s.startFrom
	s.begin("save", s.check, s.save, func(r Result) tea.Cmd {
		id, _ := r.Value.(string)
		return Send(Pop{Then: Chosen{Machine: id}})
	})
}

// startRow asks what kind of machine it is.
func startRow() *formRow {
	r := &formRow{name: "start", ask: "start from", kind: rowOne, one: len(action.StartingSets) - 1,
		hint: "It answers some of the questions below; change what differs. What else care must know is asked when a session first needs it."}
	for _, x := range action.StartingSets {
		is := x.Name
		if x.Features == nil {
			is = ""
		}
		r.opts = append(r.opts, formOption{is, x.Says})
	}
	return r
}

// originRow asks how the machine came.
func originRow(said string) *formRow {
	r := &formRow{name: "origin", ask: "how it came", empty: "not known", hint: action.OriginHint, head: "how old it is"}
	r.text.text = said
	return r
}

// careRow asks what the machine is kept by.
func careRow() *formRow {
	return &formRow{name: "care", ask: "kept by", kind: rowOne, opts: []formOption{
		{"starter", "a list to start with: looks and cleaning"},
		{"all", "all that fits it"}}, hint: "The rest comes by a finding or a symptom; the machine's page (2) keeps or lets go what you choose."}
}

// start are the features of the set a new machine starts from; those it had, of one edited.
func (s *machineForm) start() []model.Feature {
	if s.old != nil {
		return s.old.Features
	}
	return action.StartingSets[s.row("start").one].Features
}

// featureRows ask what the machine has.
func (s *machineForm) featureRows() {
	for i, q := range action.FeatureQuestions {
		if q.Later && s.old == nil {
			continue
		}
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
		if s.row("feature-0") == nil && s.row("feature-2") == nil {
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
		if r == nil {
			continue
		}
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

// chosenFeatures are the names answered to the questions that apply, and those the machine starts with
// that no question is asked for.
func (s *machineForm) chosenFeatures() []string {
	var out []string
	for i, q := range action.FeatureQuestions {
		if r := s.row("feature-" + itoa(i)); r != nil && (r.when == nil || r.when()) {
			continue
		}
		for _, o := range q.Of {
			if slices.Contains(s.start(), o.Is) {
				out = append(out, string(o.Is))
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
	for _, a := range meterAsks[:2] {
		s.rows = append(s.rows, &formRow{name: string(a.meter), ask: a.ask, hint: a.hint, empty: "not read", when: func() bool {
			o, err := action.ReadOrigin(s.row("origin").value(), s.Now)
			return !(err == nil && o.New) && (a.meter == model.Hours || action.CountsChanges(s.set()))
		}})
	}
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
		"How it came and what its counters show bound the age of every part. When care was last done is told on the machine's page (2); what nobody knows is looked at first, in short sessions.",
		"Nothing is written before you save, and what you save can be edited again.",
	}}}
}

func (s *machineForm) Update(msg tea.Msg) (Screen, tea.Cmd) { return s, s.take(msg, s.keys()) }

// startFrom answers the questions below by the set a new machine starts from.
func (s *machineForm) startFrom(r *formRow) {
	if r.name == "start" {
		s.setFeatures(s.start())
	}
}

// leaveRow checks a row; the cursor goes back to a text that cannot be.
func (s *machineForm) leaveRow(r *formRow) {
	if r.bad = s.check(r); r.bad != "" && r.kind == rowText {
		s.goTo(r.name)
	}
}

// check says why one answer cannot be; "" where it can.
func (s *machineForm) check(r *formRow) string {
	var err error
	text := r.value()
	switch {
	case r.name == "name":
		id := ""
		if s.old != nil {
			id = s.old.ID
		}
		err = model.CheckName(s.Data.Bench, text, id)
	case strings.HasPrefix(r.name, "feature-"):
		_, err = model.ParseFeatures(s.chosenFeatures())
	case r.kind != rowText || text == "":
	case r.name == "origin":
		_, err = action.ReadOrigin(text, s.Now)
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
