// Package plan chooses what a care session does, and shows the order it takes.
package plan

import (
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
)

// page shows what is due on a machine, lets a person add and leave out, and shows the order the
// session will take. Planning is exact and runs in a command.
type page struct {
	screen.Base
	desk    session.Desk
	machine string
	why     *model.Complaint // the symptoms the session is to cure; nil where it is what is due
	only    []string         // the procedures chosen at first; nil where it is what is due

	rows []row
	screen.List
	top     int
	chosen  session.Chosen
	planned bool
	trouble string // why there is no plan
	minutes float64
	leave   model.Value // how power is left: unplugged, or "" as it was
	// nothing was put in or left out by hand: what is due is chosen anew for other minutes
	asIs bool
	fold screen.Pager

	finding bool // letters look for a row
	find    screen.Field
	hit     int // of what is found, the one the cursor is on
	was     int // the row to go back to

	ask    *asking
	time   screen.Line // the minutes being typed
	paper  screen.Line // when it was done on paper, being typed
	then   *session.Then
	asked  []session.Question
	begins bool // questions answered, the session is being begun
	// what was asked to be written has not answered: another enter would begin a second session
	saving bool
}

type row struct {
	id    string
	in    bool
	must  bool // put in by hand, whatever it takes of the minutes
	gauge *model.Gauge
	title string
}

type made struct {
	chosen    session.Chosen
	trouble   string
	questions []session.Question
}

type begun struct{ session string }

// New makes the plan of a care session.
func New(e *screen.Env, desk session.Desk, to screen.ToPlan) screen.Screen {
	return &page{Base: e.Base(), desk: desk, machine: to.Machine, why: to.Why, only: to.Only}
}

func (v *page) m() *model.Machine { return v.Data.Machine(v.machine) }

// Init lists what fits the machine and plans what is due or unknown.
func (v *page) Init() tea.Cmd {
	m := v.m()
	if m == nil {
		return screen.Send(screen.Pop{})
	}
	if v.leftOpen() {
		return nil
	}
	if m.Stopped() {
		v.why, v.only = nil, nil
	}
	pre := v.preselected()
	for i := range v.Data.Gauges[v.machine] {
		g := &v.Data.Gauges[v.machine][i]
		v.rows = append(v.rows, row{id: g.Item, in: slices.Contains(pre, g.Item), gauge: g,
			title: g.Title})
	}
	fs := model.NewFeatureSet(m.Features...)
	for _, p := range v.desk.Lib.All() {
		known := slices.ContainsFunc(v.rows, func(r row) bool { return r.id == p.ID })
		if p.Fits(fs) && p.Kind != model.Bookend && !known {
			v.rows = append(v.rows,
				row{id: p.ID, title: p.Heading(), in: slices.Contains(pre, p.ID)})
		}
	}
	if m.Stopped() { // nothing else can be begun, whatever it was to be for
		may := v.desk.Inspections(m)
		v.rows = slices.DeleteFunc(v.rows, func(r row) bool { return !slices.Contains(may, r.id) })
		slices.SortStableFunc(v.rows, func(a, b row) int { return rankIn(b) - rankIn(a) })
	}
	if v.why != nil || v.only != nil { // what it is about stands first
		slices.SortStableFunc(v.rows, func(a, b row) int { return rankIn(b) - rankIn(a) })
	}
	v.asIs = v.why == nil && v.only == nil
	return v.replan()
}

func rankIn(r row) int {
	if r.in {
		return 1
	}
	return 0
}

// preselected is what the session starts from.
func (v *page) preselected() []string {
	if v.why != nil {
		return []string{v.why.Start}
	}
	if v.only != nil {
		return v.only
	}
	return v.due()
}

// due is what a session does where nothing is chosen by hand.
func (v *page) due() []string {
	if m := v.m(); m.Stopped() {
		return v.desk.FirstInspections(m)
	}
	return model.Preselect(v.Data.Gauges[v.machine])
}

// complaint is what the session is to cure, as long as the care for it is in.
func (v *page) complaint() *model.Complaint {
	ids := v.in()
	if v.why != nil && (slices.Contains(ids, v.why.Start) ||
		slices.Contains(ids, v.why.Procedure)) {
		return v.why
	}
	return nil
}

// leftOpen tells whether an earlier session left something out: then a session that closes comes
// first.
func (v *page) leftOpen() bool {
	m := v.m()
	return m != nil && walk.LeftOpen(m)
}

// beginClosing begins a session that only closes what was left open.
func (v *page) beginClosing() tea.Cmd {
	desk, m, now := v.desk, v.m(), v.Now
	return v.writeBegun(func() (model.Action, error) { return desk.CloseAction(m, "", now) })
}

// writeBegun writes the action that begins a session.
func (v *page) writeBegun(action func() (model.Action, error)) tea.Cmd {
	v.saving = true
	return v.Write(func(s screen.Store) (any, error) {
		a, err := action()
		if err != nil {
			return nil, err
		}
		entries, err := s.Append(a)
		if err != nil {
			return nil, err
		}
		return begun{session: entries[0].Session}, nil
	})
}

func (v *page) in() []string {
	var ids []string
	for _, r := range v.rows {
		if r.in {
			ids = append(ids, r.id)
		}
	}
	return ids
}

// choice is what is asked of the planner: what is due, or what was put in by hand; of a session on
// paper what is in, whatever was due then.
func (v *page) choice() session.Choice {
	c := session.Choice{Minutes: v.minutes, Leave: v.leave}
	if !v.asIs || v.then != nil {
		c.Only = v.in()
	}
	for _, r := range v.rows {
		if r.in && r.must && v.minutes > 0 {
			c.With = append(c.With, r.id)
		}
	}
	return c
}

// toggle puts a row in or leaves it out. What is put in where minutes are given is in whatever it
// takes, also what was left out for want of time.
func (v *page) toggle(r *row) {
	switch {
	case v.leftOut(*r):
		r.must = true
	case r.in:
		r.in, r.must, v.asIs = false, false, false
	default:
		r.in, r.must, v.asIs = true, v.minutes > 0, false
	}
}

// take marks the rows of what the planner chose of what is due; with minutes given, what did not
// fit stays in and is said to be left out.
func (v *page) take(ids []string) {
	if !v.asIs {
		return
	}
	if v.minutes > 0 {
		ids = v.due()
	}
	for i := range v.rows {
		v.rows[i].in = slices.Contains(ids, v.rows[i].id)
	}
}

const nothingChosen = "Nothing is chosen: space puts something in."

// replan plans anew what is chosen now.
func (v *page) replan() tea.Cmd {
	v.planned = false
	desk, m, c, now := v.desk, v.m(), v.choice(), v.Now
	if len(v.in()) == 0 && len(m.OwedAtPower()) > 0 {
		c = session.Choice{Checks: true}
	} else if len(v.in()) == 0 {
		v.trouble = nothingChosen
		v.refill()
		return nil
	}
	then := v.then
	return v.Read(func(screen.Store) (any, error) {
		c, err := chosen(desk, m, c, then, now)
		if err != nil {
			return made{trouble: screen.Sentence(err)}, nil
		}
		return made{chosen: c, questions: desk.Questions(m, c.Plan)}, nil
	})
}

// chosen is what goes into the session, or what is told of one that was done on paper.
func chosen(desk session.Desk, m *model.Machine, c session.Choice, then *session.Then,
	now time.Time) (session.Chosen, error) {
	if then != nil {
		return desk.ChooseThen(m, c, *then)
	}
	return desk.Choose(m, c, now)
}

// takeThen tells what is in as done on paper.
func (v *page) takeThen() tea.Cmd {
	then, err := session.ReadThen(v.paper.Text.Text, v.Now)
	if err != nil {
		return screen.Send(screen.Notice{Text: screen.Sentence(err)})
	}
	v.paper, v.then, v.begins = screen.Line{}, &then, true
	return v.replan()
}

func (v *page) SetSize(w, h int) {
	v.Base.SetSize(w, h)
	v.refill()
}

// HasInner tells that minutes or an answer are being typed.
func (v *page) HasInner() bool {
	return v.ask != nil || v.time.Open || v.paper.Open || v.finding
}

// TakesText tells that letters are text.
func (v *page) TakesText() bool {
	return v.time.Open || v.paper.Open || v.finding || (v.ask != nil && v.ask.Typing())
}

// Title names the machine and the minutes.
func (v *page) Title() (string, string) {
	m := v.m()
	if m == nil {
		return "care session", ""
	}
	left := m.Name + "   what is due, and what goes with it"
	if m.Stopped() {
		left = m.Name + "   stopped: what may be looked at"
	}
	if v.why != nil {
		left = m.Name + "   for " + strings.Join(v.why.Symptoms, " and ")
	}
	if v.W < 70 {
		left = m.Name + "   care session"
	}
	if !v.planned {
		return left, ""
	}
	return left, fmt.Sprintf("hands %s min + wait %s", model.Minutes(v.chosen.Plan.HandsOn),
		model.Minutes(v.chosen.Plan.Idle()))
}

// Keys are those that work now.
func (v *page) Keys() []screen.Key {
	switch {
	case v.saving:
		return []screen.Key{screen.Back}
	case v.leftOpen():
		return []screen.Key{screen.On("enter", "close it now", "", func(screen.Press) tea.Cmd {
			return v.beginClosing()
		}).Afresh(), screen.Back}
	case v.time.Open:
		return []screen.Key{screen.On("enter", "plan for that", "", func(screen.Press) tea.Cmd {
			return v.takeTime()
		}), screen.On("esc", "no limit", "", func(screen.Press) tea.Cmd { return v.noLimit() })}
	case v.paper.Open:
		return []screen.Key{screen.On("enter", "tell it", "", func(screen.Press) tea.Cmd {
			return v.takeThen()
		}), screen.On("esc", "never mind", "", screen.Do(func() { v.paper = screen.Line{} }))}
	case v.ask != nil:
		return v.ask.Keys()
	case v.finding:
		return v.findKeys()
	}
	fold := func(p screen.Press) tea.Cmd { v.fold.Scroll(p.Key()); return nil }
	return []screen.Key{
		screen.On("enter", "begin",
			"begin the session: the machine's state is asked, then it is walked step by step", func(screen.Press) tea.Cmd {
				v.begins, v.then = true, nil
				return v.begin()
			}).Afresh().When(v.planned),
		screen.On("space", "in or out",
			"put the procedure into the session or leave it out; what the minutes left out is put in whatever it takes", func(screen.Press) tea.Cmd {
				v.toggle(&v.rows[v.At])
				return v.replan()
			}).When(len(v.rows) > 0),
		screen.On("t", "minutes", "keep what lowers the risk most in the minutes you have",
			screen.Do(func() {
				v.time = screen.Line{Open: true,
					Ask: "Minutes you have, hands and waiting together"}
			})),
		screen.On("pgdn", "scroll", "the order, page by page; pgup goes back", fold, "pgdown",
			"pgup").When(v.fold.More()),
		screen.On("1", "all", "everything in, and again only what is due",
			func(screen.Press) tea.Cmd { return v.all() }),
		screen.On("2", "none", "nothing in; space then puts in what you want",
			func(screen.Press) tea.Cmd { return v.none() }),
		screen.On("3", v.leaveWord(),
			"the machine is left unplugged, and again: with power as it was",
			func(screen.Press) tea.Cmd { return v.flipLeave() }).When(!v.m().Stopped()),
		screen.On("/", "find", "goes to a procedure by letters of its title or id",
			screen.Do(func() { v.finding, v.find, v.hit, v.was = true, screen.Field{}, 0, v.At })),
		screen.On("4", "done on paper",
			"tell a session that was done by its sheet: rows ticked, readings typed; how the machine stands now is asked behind it",
			screen.Do(func() {
				v.paper = screen.Line{Open: true, Ask: session.ThenAsked}
			})).When(v.planned && !v.m().Stopped()),
		screen.Back,
		v.Moves("", "move in the list", len(v.rows), 8).But("up", "k", "down", "j", "home", "end"),
	}
}

// Update takes a message.
func (v *page) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.Result:
		return v.result(msg)
	case screen.Press:
		return v, v.press(msg)
	default:
		v.Take(msg)
	}
	return v, nil
}

func (v *page) result(r screen.Result) (screen.Screen, tea.Cmd) {
	if r.Wrote {
		v.saving = false
	}
	if v.Stale(r) {
		return v, nil // what is asked for now answers yet
	}
	if r.Err != nil {
		v.begins, v.then = false, nil
		return v, nil
	}
	switch x := r.Value.(type) {
	case made:
		if v.then != nil && x.trouble != "" { // nothing is told, and the plan is as it was
			v.begins, v.then = false, nil
			return v, tea.Batch(v.replan(), screen.Send(screen.Notice{Text: x.trouble}))
		}
		v.chosen, v.trouble, v.asked = x.chosen, x.trouble, x.questions
		v.fold.Top = 0 // another order is read from its beginning
		if x.trouble == "" {
			v.take(x.chosen.IDs)
		}
		v.planned = x.trouble == "" && x.chosen.Plan != nil && len(x.chosen.Plan.Sequence) > 0
		if v.trouble == "" && !v.planned {
			v.trouble = v.nothing()
		}
		if v.begins && v.planned {
			return v, v.begin()
		}
		v.begins, v.then = false, nil
		v.refill()
	case begun:
		return v, screen.Send(screen.Open{To: screen.ToWalk{Session: x.session, Fresh: true},
			Instead: true})
	}
	return v, nil
}

// nothing says why a plan is empty.
func (v *page) nothing() string {
	if v.minutes == 0 {
		return nothingChosen
	}
	return "Nothing that is due fits into " + model.Minutes(v.minutes) +
		" min: press t for another number, or t and enter for no limit."
}

// Press takes a key: what is in the list, or a letter of what is typed.
func (v *page) press(p screen.Press) tea.Cmd {
	if v.ask != nil {
		return v.ask.Press(p, v.ask.Keys())
	}
	cmd, taken := screen.Act(v.Keys(), p)
	switch {
	case taken:
	case v.paper.Open && v.paper.Text.Press(p.Msg):
	case v.time.Open && (screen.Digits(p.Msg) || screen.Edits(p.Msg)):
		v.time.Text.Press(p.Msg)
	case v.finding && v.find.PressAmong(p.Msg, v.titles()):
		v.hit = 0
		return v.toFound()
	default:
		return screen.Wrong(v.Keys(), p)
	}
	return cmd
}

// leaveWord is what the key for it does now.
func (v *page) leaveWord() string {
	if v.leave == model.Unplugged {
		return "power as it was"
	}
	return "leave unplugged"
}

// flipLeave leaves the machine unplugged, or with power as it was.
func (v *page) flipLeave() tea.Cmd {
	if v.leave == "" {
		v.leave = model.Unplugged
	} else {
		v.leave = ""
	}
	return v.replan()
}

func (v *page) none() tea.Cmd {
	for i := range v.rows {
		v.rows[i].in, v.rows[i].must = false, false
	}
	v.asIs = false
	return v.replan()
}

// all puts everything in, or where everything is in, what is due.
func (v *page) all() tea.Cmd {
	every := !slices.ContainsFunc(v.rows, func(r row) bool { return !r.in })
	pre := v.due()
	for i := range v.rows {
		v.rows[i].in, v.rows[i].must = !every || slices.Contains(pre, v.rows[i].id), false
	}
	v.asIs = every
	return v.replan()
}
