package screen

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/sitting"
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

// symptomScreen goes from what a person sees to the care that is likely to cure it. Ranking reads the
// procedures and runs in a command.
type symptomScreen struct {
	Base
	desk    sitting.Desk
	machine string

	stage symptomStage
	at    int // of the list in view
	top   int // first line in view

	find    field // letters a symptom is looked for by
	finding bool
	heard   []symptom.Heard
	r       symptom.Result
	ready   bool // r is of what was heard

	pending model.Complained // the outcome asked
	saving  bool
}

// symptomRanked is a ranking made.
type symptomRanked struct{ r symptom.Result }

// NewSymptom makes the symptom screen of a machine.
func NewSymptom(e *Env, desk sitting.Desk, machine string) Screen {
	return &symptomScreen{Base: e.Base(), desk: desk, machine: machine, stage: choosing}
}

func (v *symptomScreen) m() *model.Machine { return v.Data.Machine(v.machine) }

// Init asks first for the outcome of an earlier session, where it was not said yet.
func (v *symptomScreen) Init() tea.Cmd {
	v.toChoosing()
	if m := v.m(); m != nil {
		if c, asked := symptom.Pending(m); asked {
			v.pending, v.stage = c, judging
		}
	}
	return nil
}

func (v *symptomScreen) SetSize(w, h int) Screen { v.Size(w, h); return v }

// HasInner tells that esc goes a stage back first.
func (v *symptomScreen) HasInner() bool {
	return v.finding || v.stage == asking || v.stage == ranked || v.stage == harmless || v.stage == stopped && !v.tagged() || v.stage == choosing && len(v.heard) > 0
}

// TakesText tells that letters look for a symptom.
func (v *symptomScreen) TakesText() bool { return v.finding }

// Title names the machine and what was chosen.
func (v *symptomScreen) Title() (string, string) {
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

// Keys are those that work now.
func (v *symptomScreen) Keys() []Key {
	back, move := Key{Label: "esc", Does: "back"}, Key{Label: "up/down", Does: "choose", Help: "moves in the list; k and j do the same"}
	materials := Key{Label: "t", Does: "materials", Help: "how each polymer is dried, what it wears and gives off"}
	switch {
	case v.finding:
		return []Key{{Label: "enter", Does: "stay there", Help: "shows the whole list again, the cursor on this symptom"}, {Label: "up/down", Does: "choose"}, {Label: "esc", Does: "back"}}
	case v.stage == judging:
		return []Key{{Label: "y", Does: "cured"}, {Label: "n", Does: "not cured"}, {Label: "u", Does: "not known", Help: "it is not asked again"},
			{Label: "enter", Does: "later", Help: "goes on; it is asked again at the next look here"}, back}
	case v.stage == choosing:
		return []Key{{Label: "enter", Does: "this", Help: "asks this symptom's question"}, move, {Label: "/", Does: "find", Help: "goes to a symptom by everyday words: strings, jam, shift"}, materials, back}
	case v.stage == asking:
		return []Key{{Label: "enter", Does: "answer"}, move, {Label: "1-9", Help: "chooses an answer by its number"}, back}
	case v.stage == ranked:
		var ks []Key
		if l := v.line(); l != nil && l.Start != "" {
			ks = append(ks, Key{Label: "enter", Does: "begin with it", Help: "plans a session with this care chosen"})
		}
		ks = append(ks, move)
		if len(v.heard) == 1 {
			ks = append(ks, Key{Label: "a", Does: "add a symptom", Help: "a second symptom sharpens the list"})
		}
		return append(ks, materials, back)
	case v.stage == stopped:
		var ks []Key
		if !v.tagged() {
			ks = append(ks, Key{Label: "y", Does: "set the tag", Help: "marks the machine as stopped: its power is locked until the finding is closed by name"})
		}
		if len(v.stopLines()) > v.H {
			ks = append(ks, Key{Label: "up/down", Does: "read on"})
		}
		return append(ks, back)
	}
	return []Key{back}
}

// Update takes a message.
func (v *symptomScreen) Update(msg tea.Msg) (Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case Result:
		return v, v.result(msg)
	case Press:
		return v, v.press(msg)
	case DataChanged:
		v.Take(msg)
		return v, v.changed()
	default:
		v.Take(msg)
	}
	return v, nil
}

// changed looks again where the bench has changed: at the list, and whether an outcome is to be said.
func (v *symptomScreen) changed() tea.Cmd {
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

func (v *symptomScreen) result(r Result) tea.Cmd {
	if v.Stale(r) {
		return nil
	}
	v.saving = false
	if x, ok := r.Value.(symptomRanked); ok && r.Err == nil {
		v.r, v.ready = x.r, true
		switch {
		case x.r.Stop != nil:
			v.stage, v.top = stopped, 0
		case x.r.Normal != nil:
			v.stage = harmless
		}
		v.at = max(0, min(v.at, len(v.r.Lines)-1))
	}
	if note, ok := r.Value.(Notice); ok && r.Err == nil {
		return Send(note)
	}
	return nil
}

// press takes a key.
func (v *symptomScreen) press(p Press) tea.Cmd {
	switch {
	case v.m() == nil || v.saving:
		return nil
	case v.finding:
		return v.pressFind(p)
	case p.Key() == "t" && (v.stage == choosing || v.stage == ranked):
		return Send(Push{newMaterials(v.Env)})
	}
	switch v.stage {
	case judging:
		return v.pressJudge(p)
	case choosing:
		return v.pressChoose(p)
	case asking:
		return v.pressAnswer(p)
	case ranked:
		return v.pressRanked(p)
	case harmless:
		if p.Key() == "esc" {
			v.again()
		}
	case stopped:
		if p.Key() == "esc" { // chosen by mistake; once tagged, esc leaves
			v.again()
			return nil
		}
		v.top += map[string]int{"up": -1, "k": -1, "down": 1, "j": 1, "pgup": -4, "pgdown": 4, " ": 4}[p.Key()]
		if p.Key() == "y" && p.Passes() && !v.tagged() {
			v.saving = true
			return v.Append(model.Action{Machine: v.machine, Facts: symptom.Stopped(v.r.Stop)})
		}
	}
	return nil
}

// tagged tells whether the machine is stopped already.
func (v *symptomScreen) tagged() bool { m := v.m(); return m != nil && sitting.Stopped(m) }

// again begins anew with the list of symptoms.
func (v *symptomScreen) again() {
	v.heard, v.ready = nil, false
	v.toChoosing()
}

// toChoosing goes to the list, the cursor on the first symptom that stops nothing.
func (v *symptomScreen) toChoosing() {
	v.stage, v.top = choosing, 0
	v.at = max(0, slices.IndexFunc(v.choices(), func(s *symptom.Symptom) bool { return !s.Stop }))
}

func (v *symptomScreen) pressChoose(p Press) tea.Cmd {
	list := v.choices()
	if v.move(p.Key(), len(list)) {
		return nil
	}
	switch p.Key() {
	case "/":
		v.finding, v.find = true, field{}
	case "esc":
		v.stage, v.at, v.top = ranked, 0, 0
	case "enter":
		if p.Passes() && v.at < len(list) {
			return v.choose(list[v.at])
		}
	}
	return nil
}

// choose takes a symptom: its question comes first, save where it asks none.
func (v *symptomScreen) choose(s *symptom.Symptom) tea.Cmd {
	v.heard = append(slices.Clone(v.heard), symptom.Heard{Symptom: s})
	v.at, v.top = 0, 0
	if len(s.Answers) > 0 {
		v.stage = asking
		return nil
	}
	v.stage = ranked
	return v.rank()
}

// pressFind takes a key while the list is narrowed. Leaving keeps the cursor on its symptom.
func (v *symptomScreen) pressFind(p Press) tea.Cmd {
	list := v.shown()
	switch key := p.Key(); {
	case key == "esc" || key == "enter":
		v.finding = false
		if v.at < len(list) {
			v.at = max(0, slices.Index(v.choices(), list[v.at]))
		}
	case key == "up" || key == "down" || key == "pgup" || key == "pgdown":
		v.move(key, len(list))
	case v.find.press(p.Msg):
		v.top = 0
		v.at = max(0, slices.Index(v.shown(), v.likeliest()))
	}
	return nil
}

// meant are the symptoms the words typed may mean, the likeliest first; none where they mean none.
func (v *symptomScreen) meant() []*symptom.Symptom {
	list := v.choices()
	return slices.DeleteFunc(procedures.Symptoms().Search(v.find.text), func(s *symptom.Symptom) bool { return !slices.Contains(list, s) })
}

// likeliest is the symptom the words typed most likely mean; without any, the first that stops nothing.
func (v *symptomScreen) likeliest() *symptom.Symptom {
	if found := v.meant(); len(found) > 0 {
		return found[0]
	}
	list := v.choices()
	return list[max(0, slices.IndexFunc(list, func(s *symptom.Symptom) bool { return !s.Stop }))]
}

// shown is the list in view: narrowed as words are typed, whole where they mean nothing.
func (v *symptomScreen) shown() []*symptom.Symptom {
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
func (v *symptomScreen) asked() *symptom.Symptom { return v.heard[len(v.heard)-1].Symptom }

func (v *symptomScreen) pressAnswer(p Press) tea.Cmd {
	s := v.asked()
	answers := s.AnswersOn(v.m())
	n := len(answers) + 1 // and "don't know"
	key := p.Key()
	if v.move(key, n) {
		return nil
	}
	switch {
	case key == "esc":
		v.heard = v.heard[:len(v.heard)-1]
		v.toChoosing()
	case len(key) == 1 && key[0] >= '1' && int(key[0]-'1') < n:
		v.at = int(key[0] - '1')
	case key == "enter" && p.Passes():
		if v.at < len(answers) {
			v.heard[len(v.heard)-1].Answer = answers[v.at].Is
		}
		v.stage, v.at, v.top = ranked, 0, 0
		return v.rank()
	}
	return nil
}

// rank ranks what was heard.
func (v *symptomScreen) rank() tea.Cmd {
	v.ready = false
	desk, b, m, heard, now := v.desk, v.Data.Bench, v.m(), slices.Clone(v.heard), v.Now
	return v.Read(func(Store) (any, error) { return symptomRanked{desk.Rank(b, m, heard, now)}, nil })
}

// line is the care under the cursor, nil where there is none.
func (v *symptomScreen) line() *symptom.Line {
	if !v.ready || v.at >= len(v.r.Lines) {
		return nil
	}
	return &v.r.Lines[v.at]
}

func (v *symptomScreen) pressRanked(p Press) tea.Cmd {
	if v.move(p.Key(), len(v.r.Lines)) {
		return nil
	}
	switch l := v.line(); p.Key() {
	case "esc":
		v.again()
	case "a":
		if len(v.heard) == 1 {
			v.toChoosing()
		}
	case "enter":
		switch {
		case l == nil || !p.Passes() || v.Env.Makers.Plan == nil:
		case l.Begun:
			return Send(Notice{"The session begun on " + theme.Safe(v.m().Name) + " has it still to come: c on the bench goes on with it."})
		case v.m().Session != "":
			return Send(Notice{"A session is begun on " + theme.Safe(v.m().Name) + ": close it first, c on the bench goes on with it."})
		case l.Start == "":
			return Send(Notice{"This is done by hand: no session to begin."})
		default:
			why := model.Complaint{Procedure: l.Cause, Start: l.Start}
			for _, h := range v.heard {
				why.Symptoms = append(why.Symptoms, h.Symptom.ID)
			}
			return Send(Push{NewPlanFor(v.Env, v.desk, v.machine, why)})
		}
	}
	return nil
}

// move moves the cursor in a list of n; true where the key was for that.
func (v *symptomScreen) move(key string, n int) bool {
	step := map[string]int{"up": -1, "k": -1, "down": 1, "j": 1, "pgup": -8, "pgdown": 8, "home": -n, "end": n}[key]
	if step == 0 {
		return false
	}
	v.at = max(0, min(v.at+step, n-1))
	return true
}
