// Package symptom goes from what is seen or heard to the care that is likely to cure it.
package symptom

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// symptomStage is where a person stands on the symptom screen.
type symptomStage int

const (
	judging  symptomStage = iota // an earlier session's outcome is asked
	choosing                     // which symptom
	asking                       // its question
	ranked                       // care, the likeliest first
	stopped                      // fire or shock: the page, and nothing else
	harmless                     // no fault
)

// page goes from what a person sees to the care that is likely to cure it. Ranking reads the
// procedures and runs in a command.
type page struct {
	screen.Base
	desk    session.Desk
	machine string
	seen    string // id of a symptom that was chosen already; "" for none

	stage       symptomStage
	screen.List     // in view
	top         int // first line in view

	find    screen.Field // letters a symptom is looked for by
	finding bool
	heard   []symptom.Heard
	r       symptom.Result
	ready   bool // r is of what was heard

	pending model.Complained // the outcome asked
	saving  bool
}

type rankedNow struct{ r symptom.Result }

// New asks for a symptom of a machine, or goes on from the one that was seen.
func New(e *screen.Env, desk session.Desk, to screen.ToSymptom) screen.Screen {
	return &page{Base: e.Base(), desk: desk, machine: to.Machine, seen: to.Symptom, stage: choosing}
}

func (v *page) m() *model.Machine { return v.Data.Machine(v.machine) }

// Init asks first for the outcome of an earlier session, where it was not said yet.
func (v *page) Init() tea.Cmd {
	v.toChoosing()
	if m := v.m(); m != nil {
		if c, asked := symptom.Pending(m); asked {
			v.pending, v.stage = c, judging
			return nil
		}
		if s := procedures.Symptoms().Get(v.seen); s != nil && s.On(m) {
			return v.choose(s)
		}
	}
	return nil
}

// HasInner tells that esc goes a stage back first.
func (v *page) HasInner() bool {
	return v.finding || v.stage == asking || v.stage == ranked || v.stage == harmless ||
		v.stage == stopped && !v.tagged() || v.stage == choosing && len(v.heard) > 0
}

// TakesText tells that letters look for a symptom.
func (v *page) TakesText() bool { return v.finding }

// Title names the machine and what was chosen.
func (v *page) Title() (string, string) {
	m := v.m()
	if m == nil {
		return "symptom", ""
	}
	name := theme.Safe(m.Name) + "   "
	switch {
	case v.stage == stopped:
		return name + "stop", ""
	case v.stage == judging:
		return name + "was it cured?", ""
	case v.stage == choosing && len(v.heard) > 0:
		return name + v.heard[0].Symptom.ID + ", and what else?", ""
	case v.stage == choosing:
		return name + "what do you see?", ""
	}
	var ids []string
	for _, h := range v.heard {
		ids = append(ids, h.Symptom.ID)
	}
	return name + strings.Join(ids, " and "), ""
}

func (v *page) Keys() []screen.Key {
	switch {
	case v.m() == nil || v.saving:
		return []screen.Key{screen.Back}
	case v.finding:
		return v.findKeys()
	case v.stage == judging:
		return v.judgeKeys()
	case v.stage == choosing:
		return v.chooseKeys()
	case v.stage == asking:
		return v.answerKeys()
	case v.stage == ranked:
		return v.rankedKeys()
	case v.stage == stopped:
		return v.stopKeys()
	}
	return []screen.Key{screen.On("esc", "back", "", screen.Do(v.again))}
}

// findKeys are those while the list is narrowed. Leaving keeps the cursor on its symptom.
func (v *page) findKeys() []screen.Key {
	list := v.shown()
	shut := screen.Do(func() {
		v.finding = false
		if v.At < len(list) {
			v.At = max(0, slices.Index(v.choices(), list[v.At]))
		}
	})
	return []screen.Key{screen.TabKey,
		screen.On("enter", "stay there", "shows the whole list again, the cursor on this symptom",
			shut),
		v.Moves("choose", "", len(list), 8).But("up", "down", "pgup", "pgdown"), screen.On("esc",
			"back", "", shut)}
}

// move moves in a list of n.
func (v *page) move(n int) screen.Key {
	return v.Moves("choose", "moves in the list; k and j do the same", n, 8)
}

func materialsKey() screen.Key {
	return screen.On("g", "materials", "how each polymer is dried, what it wears and gives off",
		screen.Opens(screen.ToMaterials{}))
}

func (v *page) chooseKeys() []screen.Key {
	list := v.choices()
	out := screen.Back
	if len(v.heard) > 0 {
		out = screen.On("esc", "back", "",
			screen.Do(func() { v.stage, v.At, v.top = ranked, 0, 0 }))
	}
	return []screen.Key{
		screen.On("enter", "this", "asks this symptom's question", func(screen.Press) tea.Cmd {
			return v.choose(list[v.At])
		}).Afresh().When(v.At < len(list)),
		v.move(len(list)),
		screen.On("/", "find", "goes to a symptom by everyday words: strings, jam, shift",
			screen.Do(func() { v.finding, v.find = true, screen.Field{} })),
		materialsKey(), out,
	}
}

func (v *page) answerKeys() []screen.Key {
	answers := v.asked().AnswersOn(v.m())
	n := len(answers) + 1 // and "don't know"
	return []screen.Key{
		screen.On("enter", "answer", "", func(screen.Press) tea.Cmd {
			if v.At < len(answers) {
				v.heard[len(v.heard)-1].Answer = answers[v.At].Is
			}
			v.stage, v.At, v.top = ranked, 0, 0
			return v.rank()
		}).Afresh(),
		v.move(n),
		screen.On("1-9", "", "chooses an answer by its number", func(p screen.Press) tea.Cmd {
			v.At = screen.DigitOf(p.Key()) - 1
			return nil
		}, screen.DigitKeys(n)...),
		screen.On("esc", "back", "", screen.Do(func() {
			v.heard = v.heard[:len(v.heard)-1]
			v.toChoosing()
		})),
	}
}

func (v *page) rankedKeys() []screen.Key {
	l := v.line()
	return []screen.Key{
		screen.On("enter", "begin with it", "plans a session with this care chosen",
			func(screen.Press) tea.Cmd { return v.begin(l) }).Afresh().When(l != nil &&
			l.Start != ""),
		screen.On("enter", "", "says why no session begins with it", func(screen.Press) tea.Cmd {
			return v.begin(l)
		}).Afresh().When(l != nil && l.Start == ""),
		v.move(len(v.r.Lines)),
		screen.On("a", "add a symptom", "a second symptom sharpens the list",
			screen.Do(v.toChoosing)).When(len(v.heard) == 1),
		materialsKey(), screen.On("esc", "back", "", screen.Do(v.again)),
	}
}

// stopKeys are those of the page of a stop: one chosen by mistake leads back; once tagged, esc
// leaves.
func (v *page) stopKeys() []screen.Key {
	out := screen.Back
	if !v.tagged() {
		out = screen.On("esc", "back", "", screen.Do(v.again))
	}
	return []screen.Key{
		screen.On("y", "set the tag",
			"marks the machine as stopped: its power is locked until the finding is closed by name", func(screen.Press) tea.Cmd {
				v.saving = true
				return v.Append(model.Action{Machine: v.machine,
					Facts: action.Stop(v.r.Stop.Title)})
			}).Afresh().When(!v.tagged()),
		screen.On("up/down", "read on", "", func(p screen.Press) tea.Cmd {
			v.top += map[string]int{"up": -1, "k": -1, "down": 1, "j": 1, "pgup": -4, "pgdown": 4,
				" ": 4}[p.Key()]
			return nil
		}, "up", "k", "down", "j", "pgup", "pgdown", "space").When(len(v.stopLines()) > v.H),
		out,
	}
}

func (v *page) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.Result:
		return v, v.result(msg)
	case screen.Press:
		return v, v.press(msg)
	case screen.DataChanged:
		v.Take(msg)
		return v, v.changed()
	default:
		v.Take(msg)
	}
	return v, nil
}

// changed looks again where the bench has changed: at the list, and whether an outcome is to be
// said.
func (v *page) changed() tea.Cmd {
	m := v.m()
	if m == nil || v.W == 0 {
		return nil
	}
	c, asked := symptom.Pending(m)
	switch {
	case asked && v.stage == ranked && c.Session != v.pending.Session:
		v.pending, v.stage = c, judging
	case !asked && v.stage == judging:
		v.leaveJudging()
	}
	if v.stage == ranked {
		return v.rank()
	}
	return nil
}

func (v *page) result(r screen.Result) tea.Cmd {
	if v.Stale(r) {
		return nil
	}
	v.saving = false
	if x, ok := r.Value.(rankedNow); ok && r.Err == nil {
		v.r, v.ready = x.r, true
		switch {
		case x.r.Stop != nil:
			v.stage, v.top = stopped, 0
		case x.r.Normal != nil:
			v.stage = harmless
		}
		v.At = max(0, min(v.At, len(v.r.Lines)-1))
	}
	if note, ok := r.Value.(screen.Notice); ok && r.Err == nil {
		return screen.Send(note)
	}
	return nil
}

// Press takes a key: what is in the list, or a letter of what is looked for.
func (v *page) press(p screen.Press) tea.Cmd {
	cmd, taken := screen.Act(v.Keys(), p)
	if !taken && v.finding && v.find.PressAmong(p.Msg, v.titles()) {
		v.top = 0
		v.At = max(0, slices.Index(v.shown(), v.likeliest()))
	}
	return cmd
}

// titles are those of the symptoms that can be found.
func (v *page) titles() []string {
	var out []string
	for _, s := range v.choices() {
		out = append(out, s.Title)
	}
	return out
}

// tagged tells whether the machine is stopped already.
func (v *page) tagged() bool { return v.m().Stopped() }

// again begins anew with the list of symptoms.
func (v *page) again() {
	v.heard, v.ready = nil, false
	v.toChoosing()
}

// toChoosing goes to the list, the cursor on the first symptom that stops nothing.
func (v *page) toChoosing() {
	v.stage, v.top = choosing, 0
	v.At = max(0, slices.IndexFunc(v.choices(), func(s *symptom.Symptom) bool { return !s.Stop }))
}

// choose takes a symptom: its question comes first, save where it asks none.
func (v *page) choose(s *symptom.Symptom) tea.Cmd {
	v.heard = append(slices.Clone(v.heard), symptom.Heard{Symptom: s})
	v.At, v.top = 0, 0
	if len(s.Answers) > 0 {
		v.stage = asking
		return nil
	}
	v.stage = ranked
	return v.rank()
}

// meant are the symptoms the words typed may mean, the likeliest first; none where they mean none.
func (v *page) meant() []*symptom.Symptom {
	list := v.choices()
	return slices.DeleteFunc(procedures.Symptoms().Search(v.find.Text),
		func(s *symptom.Symptom) bool { return !slices.Contains(list, s) })
}

// likeliest is the symptom the words typed most likely mean; without any, the first that stops
// nothing.
func (v *page) likeliest() *symptom.Symptom {
	if found := v.meant(); len(found) > 0 {
		return found[0]
	}
	list := v.choices()
	return list[max(0, slices.IndexFunc(list, func(s *symptom.Symptom) bool { return !s.Stop }))]
}

// shown is the list in view: narrowed as words are typed, whole where they mean nothing.
func (v *page) shown() []*symptom.Symptom {
	if !v.finding {
		return v.choices()
	}
	found := v.meant()
	if len(found) == 0 {
		return v.choices()
	}
	return stopsFirst(found)
}

// asked is the symptom whose question is put: the one chosen last.
func (v *page) asked() *symptom.Symptom { return v.heard[len(v.heard)-1].Symptom }

func (v *page) rank() tea.Cmd {
	v.ready = false
	desk, b, m, heard, now := v.desk, v.Data.Bench, v.m(), slices.Clone(v.heard), v.Now
	return v.Read(func(screen.Store) (any, error) {
		return rankedNow{desk.Rank(b, m, heard, now)},
			nil
	})
}

// line is the care under the cursor, nil where there is none.
func (v *page) line() *symptom.Line {
	if !v.ready || v.At >= len(v.r.Lines) {
		return nil
	}
	return &v.r.Lines[v.At]
}

// begin plans a session with a line's care, or says why there is none.
func (v *page) begin(l *symptom.Line) tea.Cmd {
	switch {
	case l.Begun:
		return screen.Tell("The session begun on " + theme.Safe(v.m().Name) +
			" has it still to come: c on the bench goes on with it.")
	case v.m().Session != "":
		return screen.CloseFirst(v.m())
	case l.Start == "":
		return screen.Tell("This is done by hand: no session to begin.")
	}
	why := &model.Complaint{Procedure: l.Cause, Start: l.Start}
	for _, h := range v.heard {
		why.Symptoms = append(why.Symptoms, h.Symptom.ID)
	}
	return screen.Send(screen.Open{To: screen.ToPlan{Machine: v.machine, Why: why}})
}
