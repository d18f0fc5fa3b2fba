package screen

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/sitting"
)

// planScreen shows what is due on a machine, lets a person add and leave out, and shows the order the
// session will take. Planning is exact and runs in a command.
type planScreen struct {
	Base
	desk    sitting.Desk
	machine string
	why     *model.Complaint // the symptoms the session is to cure; nil where it is what is due
	only    []string         // the procedures chosen at first; nil where it is what is due

	rows []planRow
	list
	top     int
	chosen  sitting.Chosen
	planned bool
	trouble string // why there is no plan
	minutes float64
	asIs    bool // nothing was put in or left out by hand: what is due is chosen anew for other minutes
	fold    pager

	finding bool // letters look for a row
	find    field

	ask    *question
	time   reason // the minutes being typed
	asked  []sitting.Question
	begins bool // questions answered, the session is being begun
}

type planRow struct {
	id    string
	in    bool
	gauge *model.Gauge
	title string
}

// planMade is what planning gave.
type planMade struct {
	chosen    sitting.Chosen
	trouble   string
	questions []sitting.Question
}

// planBegun names the session begun.
type planBegun struct{ session string }

func newPlan(e *Env, desk sitting.Desk, to ToPlan) *planScreen {
	return &planScreen{Base: e.Base(), desk: desk, machine: to.Machine, why: to.Why, only: to.Only}
}

func (v *planScreen) m() *model.Machine { return v.Data.Machine(v.machine) }

// Init lists what fits the machine and plans what is due or unknown.
func (v *planScreen) Init() tea.Cmd {
	m := v.m()
	if m == nil {
		return Send(Pop{})
	}
	if v.leftOpen() {
		return nil
	}
	pre := v.preselected()
	for i := range v.Data.Gauges[v.machine] {
		g := &v.Data.Gauges[v.machine][i]
		v.rows = append(v.rows, planRow{id: g.Item, in: slices.Contains(pre, g.Item), gauge: g, title: g.Title})
	}
	fs := model.NewFeatureSet(m.Features...)
	for _, p := range v.desk.Lib.All() {
		known := slices.ContainsFunc(v.rows, func(r planRow) bool { return r.id == p.ID })
		if p.Fits(fs) && p.Kind != model.Bookend && !known {
			v.rows = append(v.rows, planRow{id: p.ID, title: p.Heading(), in: slices.Contains(pre, p.ID)})
		}
	}
	if v.why != nil || v.only != nil { // what it is about stands first
		slices.SortStableFunc(v.rows, func(a, b planRow) int { return rankIn(b) - rankIn(a) })
	}
	v.asIs = v.why == nil && v.only == nil
	return v.replan()
}

func rankIn(r planRow) int {
	if r.in {
		return 1
	}
	return 0
}

// preselected is what the session starts from.
func (v *planScreen) preselected() []string {
	if v.why != nil {
		return []string{v.why.Start}
	}
	if v.only != nil {
		return v.only
	}
	return model.Preselect(v.Data.Gauges[v.machine])
}

// complaint is what the session is to cure, as long as the care for it is in.
func (v *planScreen) complaint() *model.Complaint {
	ids := v.in()
	if v.why != nil && (slices.Contains(ids, v.why.Start) || slices.Contains(ids, v.why.Procedure)) {
		return v.why
	}
	return nil
}

// leftOpen tells whether an earlier session left something out: then a sitting that closes comes first.
func (v *planScreen) leftOpen() bool {
	m := v.m()
	return m != nil && !m.Ledger.Empty()
}

// beginClosing begins a sitting that only closes what was left open.
func (v *planScreen) beginClosing() tea.Cmd {
	desk, m, now := v.desk, v.m(), v.Now
	return v.writeBegun(func() (model.Action, error) { return desk.CloseAction(m, now) })
}

// writeBegun writes the action that begins a session.
func (v *planScreen) writeBegun(action func() (model.Action, error)) tea.Cmd {
	return v.Write(func(s Store) (any, error) {
		a, err := action()
		if err != nil {
			return nil, err
		}
		entries, err := s.Append(a)
		if err != nil {
			return nil, err
		}
		return planBegun{session: entries[0].Session}, nil
	})
}

func (v *planScreen) in() []string {
	var ids []string
	for _, r := range v.rows {
		if r.in {
			ids = append(ids, r.id)
		}
	}
	return ids
}

// choice is what is asked of the planner: what is due, or what was put in by hand.
func (v *planScreen) choice() sitting.Choice {
	if v.asIs {
		return sitting.Choice{Minutes: v.minutes}
	}
	return sitting.Choice{Only: v.in(), Minutes: v.minutes}
}

// take marks the rows of what the planner chose of what is due; with minutes given, what did not fit stays in and
// is said to be left out.
func (v *planScreen) take(ids []string) {
	if !v.asIs {
		return
	}
	if v.minutes > 0 {
		ids = model.Preselect(v.Data.Gauges[v.machine])
	}
	for i := range v.rows {
		v.rows[i].in = slices.Contains(ids, v.rows[i].id)
	}
}

// replan plans anew what is chosen now.
func (v *planScreen) replan() tea.Cmd {
	v.planned = false
	desk, m, c, now := v.desk, v.m(), v.choice(), v.Now
	if len(v.in()) == 0 {
		v.trouble = "Nothing is chosen: space puts something in."
		v.refill()
		return nil
	}
	return v.Read(func(Store) (any, error) {
		c, err := desk.Choose(m, c, now)
		if err != nil {
			return planMade{trouble: Sentence(err)}, nil
		}
		return planMade{chosen: c, questions: desk.Questions(m, c.Plan)}, nil
	})
}

func (v *planScreen) SetSize(w, h int) {
	v.Base.SetSize(w, h)
	v.refill()
}

// HasInner tells that minutes or an answer are being typed.
func (v *planScreen) HasInner() bool { return v.ask != nil || v.time.open || v.finding }

// TakesText tells that letters are text.
func (v *planScreen) TakesText() bool {
	return v.time.open || v.finding || (v.ask != nil && len(v.ask.words) == 0)
}

// Title names the machine and the minutes.
func (v *planScreen) Title() (string, string) {
	m := v.m()
	if m == nil {
		return "care session", ""
	}
	left := m.Name + "   what is due, and what goes with it"
	if v.why != nil {
		left = m.Name + "   for " + strings.Join(v.why.Symptoms, " and ")
	}
	if v.W < 70 {
		left = m.Name + "   care session"
	}
	if !v.planned {
		return left, ""
	}
	return left, fmt.Sprintf("hands %s min + wait %s", model.Figure(v.chosen.Plan.HandsOn), model.Figure(v.chosen.Plan.Waiting))
}

// Keys are those that work now.
func (v *planScreen) Keys() []Key {
	switch {
	case v.leftOpen():
		return []Key{On("enter", "close it now", "", func(Press) tea.Cmd { return v.beginClosing() }).Afresh(), back}
	case v.time.open:
		return []Key{On("enter", "plan for that", "", func(Press) tea.Cmd { return v.takeTime() }), On("esc", "no limit", "", func(Press) tea.Cmd { return v.noLimit() })}
	case v.ask != nil:
		return v.askKeys()
	case v.finding:
		shut := Do(func() { v.finding = false })
		return []Key{On("enter", "stay there", "", shut), On("esc", "back", "", shut)}
	}
	fold := func(p Press) tea.Cmd { v.fold.scroll(p.Key()); return nil }
	return []Key{
		On("enter", "begin", "begin the session: the machine's state is asked, then it is walked step by step", func(Press) tea.Cmd {
			v.begins = true
			return v.begin()
		}).Afresh().When(v.planned),
		On("space", "in or out", "put the procedure into the session or leave it out", func(Press) tea.Cmd {
			v.rows[v.at].in, v.asIs = !v.rows[v.at].in, false
			return v.replan()
		}).When(len(v.rows) > 0),
		On("t", "minutes", "keep only the most pressing that fit the minutes you have", Do(func() {
			v.time = reason{open: true, ask: "Minutes you have, hands and waiting together"}
		})),
		On("pgdn", "scroll", "the order, page by page; pgup goes back", fold, "pgdown", "pgup").When(v.fold.more()),
		On("1", "all", "everything in, and again only what is due", func(Press) tea.Cmd { return v.all() }),
		On("2", "none", "nothing in; space then puts in what you want", func(Press) tea.Cmd { return v.none() }),
		On("/", "find", "goes to a procedure by letters of its title or id", Do(func() { v.finding, v.find = true, field{} })),
		back,
		v.moves("", "move in the list", len(v.rows), 8).But("up", "k", "down", "j"),
	}
}

// Update takes a message.
func (v *planScreen) Update(msg tea.Msg) (Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case Result:
		return v.result(msg)
	case Press:
		return v, v.press(msg)
	default:
		v.Take(msg)
	}
	return v, nil
}

func (v *planScreen) result(r Result) (Screen, tea.Cmd) {
	if v.Stale(r) || r.Err != nil {
		v.begins = false
		return v, nil
	}
	switch x := r.Value.(type) {
	case planMade:
		v.chosen, v.trouble, v.asked = x.chosen, x.trouble, x.questions
		if x.trouble == "" {
			v.take(x.chosen.IDs)
		}
		v.planned = x.trouble == "" && x.chosen.Plan != nil && len(x.chosen.Plan.Sequence) > 0
		if v.trouble == "" && !v.planned {
			v.trouble = "Nothing fits into that time: press t for another number, or t and enter for no limit."
		}
		if v.begins && v.planned {
			return v, v.begin()
		}
		v.begins = false
		v.refill()
	case planBegun:
		return v, Send(Open{To: ToWalk{Session: x.session, Fresh: true}, Instead: true})
	}
	return v, nil
}

// press takes a key: what is in the list, or a letter of what is typed.
func (v *planScreen) press(p Press) tea.Cmd {
	cmd, taken := Act(v.Keys(), p)
	switch {
	case taken:
	case v.time.open:
		if digits(p.Msg) || p.Msg.Type == tea.KeyBackspace {
			v.time.text.press(p.Msg)
		}
	case v.ask != nil && len(v.ask.words) == 0 && !p.Msg.Paste:
		v.ask.field.press(p.Msg)
	case v.finding && v.find.press(p.Msg):
		v.toFound()
	}
	return cmd
}

// toFound puts the cursor on the first procedure whose title or id holds what is typed.
func (v *planScreen) toFound() {
	text := strings.ToLower(strings.TrimSpace(v.find.text))
	i := slices.IndexFunc(v.rows, func(r planRow) bool {
		return strings.Contains(strings.ToLower(r.title), text) || strings.Contains(r.id, text)
	})
	if text != "" && i >= 0 {
		v.at = i
	}
}

// none takes everything out.
func (v *planScreen) none() tea.Cmd {
	for i := range v.rows {
		v.rows[i].in = false
	}
	v.asIs = false
	return v.replan()
}

// all puts everything in, or where everything is in, what is due.
func (v *planScreen) all() tea.Cmd {
	every := !slices.ContainsFunc(v.rows, func(r planRow) bool { return !r.in })
	pre := model.Preselect(v.Data.Gauges[v.machine])
	for i := range v.rows {
		v.rows[i].in = !every || slices.Contains(pre, v.rows[i].id)
	}
	v.asIs = every
	return v.replan()
}
