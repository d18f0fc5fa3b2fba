package screen

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// bench is the first screen: one line a machine, what stands open, what to buy.
type bench struct {
	Base
	list  []*model.Machine // in the order shown
	at    string           // machine id under the cursor
	top   int              // first machine in view
	added bool             // in the order added, not the most pressing first

	touched bool // a key was pressed: the cursor stays with its machine

	finding bool // typing a name to go to
	name    field
	ask     bool // "go on with the session?"
	swap    swapLine

	table table    // drawn
	open  []string // drawn: what stands open, and the drawer
	body  string   // drawn
}

func newBench(e *Env) *bench {
	b := &bench{Base: e.Base()}
	b.swap.base = &b.Base
	return b
}

func (b *bench) SetSize(w, h int) {
	b.Base.SetSize(w, h)
	b.draw()
}

func (b *bench) Title() (string, string) {
	name := theme.Safe(b.Env.Title)
	if b.Env.Demo {
		name = "invented bench, thrown away when you leave"
	}
	return strings.TrimRight("oilcan   "+name, " "), b.Now.Format("Mon 2006-01-02 15:04")
}

// TakesText is so while a name is typed.
func (b *bench) TakesText() bool { return b.finding || b.swap.typing() }

// HasInner tells of the lines at the bottom.
func (b *bench) HasInner() bool { return b.finding || b.ask || b.swap.choosing() }

// m is the machine under the cursor; nil on an empty bench.
func (b *bench) m() *model.Machine { return b.Data.Machine(b.at) }

// worst is a machine's most pressing gauge.
func (b *bench) worst(id string) *model.Gauge {
	if gs := b.Data.Gauges[id]; len(gs) > 0 {
		return &gs[0]
	}
	return nil
}

// offersDemo tells whether the demo can be looked at from here: on an empty bench, and not from within it.
func (b *bench) offersDemo() bool { return len(b.list) == 0 && !b.Env.Demo }

// arrange puts the machines in order and keeps the cursor on its machine.
func (b *bench) arrange() {
	b.list = b.list[:0]
	if b.Data == nil {
		return
	}
	for _, m := range b.Data.Bench.Machines {
		if !m.Retired {
			b.list = append(b.list, m)
		}
	}
	slices.SortFunc(b.list, b.compare)
	if i := b.index(); i < 0 && len(b.list) > 0 {
		b.at = b.list[0].ID
	} else if len(b.list) == 0 {
		b.at = ""
	}
}

// compare orders machines: those in use first, then the most pressing gauge, or when they were added.
func (b *bench) compare(x, y *model.Machine) int {
	added := func() int {
		if c := x.Added.Compare(y.Added); c != 0 {
			return c
		}
		return strings.Compare(x.ID, y.ID)
	}
	if x.OutOfUse != y.OutOfUse {
		if y.OutOfUse {
			return -1
		}
		return 1
	}
	gx, gy := b.worst(x.ID), b.worst(y.ID)
	switch {
	case b.added || gx == nil && gy == nil:
		return added()
	case gx == nil:
		return 1
	case gy == nil:
		return -1
	}
	pair := []model.Gauge{*gx, *gy}
	model.SortGauges(pair)
	if gx.Word == gy.Word && gx.Fraction == gy.Fraction && gx.Item == gy.Item {
		return added()
	}
	if pair[0].MachineID == x.ID {
		return -1
	}
	return 1
}

// index is the place of the cursor in the list, -1 where it is on none.
func (b *bench) index() int {
	return slices.IndexFunc(b.list, func(m *model.Machine) bool { return m.ID == b.at })
}

// find puts the cursor on the first machine whose name begins with the text, or else holds it.
func (b *bench) find(text string) {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" {
		return
	}
	for _, fits := range []func(string, string) bool{strings.HasPrefix, strings.Contains} {
		for _, m := range b.list {
			if fits(strings.ToLower(m.Name), text) {
				b.at = m.ID
				return
			}
		}
	}
}

// noHistory tells that nothing is known of a machine yet: no reading, no care.
func noHistory(m *model.Machine) bool {
	if len(m.Readings) > 0 {
		return false
	}
	for _, c := range m.Care {
		if c.Known {
			return false
		}
	}
	return true
}

// Keys are those that work on this bench as it stands.
func (b *bench) Keys() []Key {
	add := On("a", "add a machine", "adds a machine, with a short guided form", Opens(ToMachineForm{}))
	stock := On("d", "drawer", "what is in stock, and what to buy", Opens(ToDrawer{}))
	leave := Shown("q", "leave", "leaves oilcan; everything is saved already")
	switch m := b.m(); {
	case b.finding:
		return b.findKeys()
	case b.ask:
		return b.askKeys(m)
	case b.swap.choosing():
		return b.swap.keys(m)
	case m == nil:
		return []Key{add, On("1", "view the demo", "an invented bench to look around in; nothing of it is kept, and you come back here", Sends(ShowDemo{})).When(b.offersDemo()), stock, leave}
	default:
		return append(b.machineKeys(m), stock, add,
			On("f", "findings", "what was seen on the machine and is to be looked at again", Opens(ToFindings{m.ID})),
			On("e", "", "edits the machine", Opens(ToMachineForm{m.ID})),
			On("o", b.otherOrder(), "the most pressing machine first, or in the order they were added", Do(func() { b.added = !b.added })),
			On("/", "find", "goes to a machine by its name", Do(func() { b.finding, b.name = true, field{} })),
			b.moves("", "moves to another machine; j and k, pgup and pgdn, home and end too"),
			On("esc", "", "closes the line at the bottom", Do(b.swap.close)).When(b.swap.stage != swapIdle), leave)
	}
}

// machineKeys do something with the machine under the cursor.
func (b *bench) machineKeys(m *model.Machine) []Key {
	return []Key{
		On("enter", "open", "opens the machine under the cursor: every gauge, and its record", b.openMachine(m)).Afresh(),
		careKey(m),
		b.swap.undoKey(),
		b.swap.startKey(m),
		On("m", "meters", "types what the machine's counters show", Opens(ToMeters{m.ID})),
		symptomKey(m),
	}
}

// openMachine opens a machine's page; where a session is begun on it, that is offered first.
func (b *bench) openMachine(m *model.Machine) Deed {
	if m.Session == "" {
		return Opens(ToMachine{m.ID})
	}
	return Do(func() { b.ask = true })
}

// careKey opens the machine's begun session, or plans one.
func careKey(m *model.Machine) Key {
	if m.Session != "" {
		return On("c", "care", "goes on with the machine's begun session", Opens(ToWalk{Session: m.Session}))
	}
	return On("c", "care", "plans a care session for the machine", Opens(ToPlan{Machine: m.ID})).When(!m.Retired)
}

// symptomKey opens the symptoms of a machine.
func symptomKey(m *model.Machine) Key {
	return On("s", "symptom", "what you see or hear, and the care that is likely to cure it", Opens(ToSymptom{m.ID})).When(!m.Retired)
}

// findKeys are those while a name is typed.
func (b *bench) findKeys() []Key {
	shut := Do(func() { b.finding = false })
	return []Key{On("enter", "stay there", "", shut), On("esc", "back", "", shut), b.moves("", "moves to another machine").But("up", "down")}
}

// askKeys answer whether to go on with the begun session.
func (b *bench) askKeys(m *model.Machine) []Key {
	shut := func(then Deed) Deed {
		return func(p Press) tea.Cmd { b.ask = false; return then(p) }
	}
	nothing := Do(func() {})
	goOn, page := nothing, nothing
	if m != nil {
		goOn, page = Opens(ToWalk{Session: m.Session}), Opens(ToMachine{m.ID})
	}
	return []Key{On("y", "go on", "goes on with the session", shut(goOn)), On("n", "the machine", "opens the machine instead", shut(page)), On("esc", "back", "", shut(nothing))}
}

// moves moves the cursor among the machines.
func (b *bench) moves(does, says string) Key {
	l := list{max(0, b.index())}
	k := l.moves(does, says, len(b.list), 10)
	move := k.do
	k.do = func(p Press) tea.Cmd {
		move(p)
		b.at = b.list[l.at].ID
		return nil
	}
	return k.When(len(b.list) > 0)
}

func (b *bench) otherOrder() string {
	if b.added {
		return "pressing first"
	}
	return "order added"
}

// Help says what the shapes mean.
func (b *bench) Help() []HelpPart { return benchHelp(b.Env.Theme) }

// Update takes keys, and redraws what is kept.
func (b *bench) Update(msg tea.Msg) (Screen, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case Press:
		b.touched = true
		cmd = b.press(msg)
	case Result:
		b.swap.result(msg)
	case Chosen:
		b.at, b.touched = msg.Machine, true
	default:
		if _, ok := msg.(DataChanged); ok && !b.touched {
			b.at = "" // the forecast may have put another machine first
		}
		b.Take(msg)
	}
	b.arrange()
	b.draw()
	return b, cmd
}

// Chosen tells the bench which machine to stand on: one just added.
type Chosen struct{ Machine string }

// press takes a key: what is in the list, or a letter of the name or date that is typed.
func (b *bench) press(p Press) tea.Cmd {
	cmd, taken := Act(b.Keys(), p)
	switch {
	case taken:
	case b.finding && b.name.press(p.Msg):
		b.find(b.name.text)
	case b.swap.choosing():
		b.swap.typed(p)
	}
	return cmd
}
