// Package bench is the first screen: the machines, what stands open on them, and what to order.
package bench

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/swap"
	"bench/oilcan/ui/theme"
)

// bench is the first screen: one line a machine, what stands open, what to buy.
type bench struct {
	screen.Base
	list  []*model.Machine // in the order shown
	at    string           // machine id under the cursor
	top   int              // first machine in view
	added bool             // in the order added, not the most pressing first

	touched bool // a key was pressed: the cursor stays with its machine

	finding bool // typing a name to go to
	name    screen.Field
	ask     bool // "go on with the session?"
	swap    swap.Line

	table  table    // drawn
	open   []string // drawn: what stands open
	beside []string // drawn: what is said below it, the drawer too
	body   string   // drawn
}

// New makes the bench.
func New(e *screen.Env) screen.Screen {
	b := &bench{Base: e.Base()}
	b.swap = swap.New(&b.Base)
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
func (b *bench) TakesText() bool { return b.finding || b.swap.Typing() }

// HasInner tells of the lines at the bottom.
func (b *bench) HasInner() bool { return b.finding || b.ask || b.swap.Choosing() }

// m is the machine under the cursor; nil on an empty bench.
func (b *bench) m() *model.Machine { return b.Data.Machine(b.at) }

// worst is a machine's most pressing gauge.
func (b *bench) worst(id string) *model.Gauge {
	if gs := b.Data.Gauges[id]; len(gs) > 0 {
		return &gs[0]
	}
	return nil
}

// offersDemo tells whether the demo can be looked at from here: on an empty bench, and not from
// within it.
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
		// what was begun goes on first
		at := slices.IndexFunc(b.list, func(m *model.Machine) bool { return m.Session != "" })
		b.at = b.list[max(0, at)].ID
	} else if len(b.list) == 0 {
		b.at = ""
	}
}

// compare orders machines: those in use first, then the most pressing gauge, or when they were
// added.
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

// names are what the machines are called.
func (b *bench) names() []string {
	var out []string
	for _, m := range b.list {
		out = append(out, m.Name)
	}
	return out
}

// find puts the cursor on the first machine whose name begins with the text, or else holds it; it
// is false where none does.
func (b *bench) find(text string) bool {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" {
		return true
	}
	for _, fits := range []func(string, string) bool{strings.HasPrefix, strings.Contains} {
		for _, m := range b.list {
			if fits(strings.ToLower(m.Name), text) {
				b.at = m.ID
				return true
			}
		}
	}
	return false
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
func (b *bench) Keys() []screen.Key {
	add := screen.On("a", "add a machine", "adds a machine, with a short guided form",
		screen.Opens(screen.ToMachineForm{}))
	stock := screen.On("d", "drawer", "what is in stock, and what to buy",
		screen.Opens(screen.ToDrawer{}))
	leave := screen.Shown("q", "leave", "leaves oilcan; everything is saved already")
	switch m := b.m(); {
	case b.finding:
		return b.findKeys()
	case b.ask:
		return b.askKeys(m)
	case b.swap.Choosing():
		return b.swap.Keys(m)
	case m == nil:
		return []screen.Key{add,
			screen.On("1", "view the demo",
				"an invented bench to look around in; nothing of it is kept, and you come back here", screen.Sends(screen.ShowDemo{})).When(b.offersDemo()), stock, leave}
	default:
		return append(b.machineKeys(m), stock, add,
			screen.On("f", "findings", "what was seen on the machine and is to be looked at again",
				screen.Opens(screen.ToFindings{Machine: m.ID})),
			screen.On("8", "",
				"figures of all machines: what their care takes, and what it is good for",
				screen.Opens(screen.ToFigures{})),
			screen.On("e", "", "edits the machine",
				screen.Opens(screen.ToMachineForm{Machine: m.ID})),
			screen.On("o", b.otherOrder(),
				"the most pressing machine first, or in the order they were added",
				screen.Do(func() { b.added = !b.added })),
			screen.On("/", "find", "goes to a machine by its name",
				screen.Do(func() { b.finding, b.name = true, screen.Field{} })),
			screen.On("4", "book", "the record of the whole bench, to look through",
				screen.Opens(screen.ToBook{})),
			b.moves("", "moves to another machine; j and k, pgup and pgdn, home and end too"),
			screen.On("esc", "", "closes the line at the bottom", screen.Do(b.swap.Close)).When(
				b.swap.Open()), leave)
	}
}

// machineKeys do something with the machine under the cursor.
func (b *bench) machineKeys(m *model.Machine) []screen.Key {
	return []screen.Key{
		screen.On("enter", "open",
			"opens the machine under the cursor: every gauge, and its record",
			b.openMachine(m)).Afresh(),
		screen.CareKey(m),
		b.swap.UndoKey(),
		b.swap.StartKey(m),
		screen.On("m", "meters", "types what the machine's counters show",
			screen.Opens(screen.ToMeters{Machine: m.ID})),
		screen.SymptomKey(m),
	}
}

// openMachine opens a machine's page; where a session is begun on it, that is offered first.
func (b *bench) openMachine(m *model.Machine) screen.Deed {
	if m.Session == "" {
		return screen.Opens(screen.ToMachine{Machine: m.ID})
	}
	return screen.Do(func() { b.ask = true })
}

// findKeys are those while a name is typed.
func (b *bench) findKeys() []screen.Key {
	shut := screen.Do(func() { b.finding = false })
	return []screen.Key{screen.On("enter", "stay there", "", shut),
		screen.On("esc", "back", "", shut), screen.TabKey, b.moves("",
			"moves to another machine").But("up", "down")}
}

// askKeys answer whether to go on with the begun session.
func (b *bench) askKeys(m *model.Machine) []screen.Key {
	shut := func(then screen.Deed) screen.Deed {
		return func(p screen.Press) tea.Cmd { b.ask = false; return then(p) }
	}
	nothing := screen.Do(func() {})
	goOn, page := nothing, nothing
	if m != nil {
		goOn, page = screen.Opens(screen.ToWalk{Session: m.Session}), screen.Opens(
			screen.ToMachine{Machine: m.ID})
	}
	return []screen.Key{screen.On("y", "go on", "goes on with the session", shut(goOn)),
		screen.On("n", "the machine", "opens the machine instead", shut(page)), screen.On("esc",
			"back", "", shut(nothing))}
}

// moves moves the cursor among the machines.
func (b *bench) moves(does, says string) screen.Key {
	l := &screen.List{At: max(0, b.index())}
	return l.Moves(does, says, len(b.list), 10).Then(func() { b.at = b.list[l.At].ID }).When(
		len(b.list) > 0)
}

func (b *bench) otherOrder() string {
	if b.added {
		return "pressing first"
	}
	return "order added"
}

// Help says what the shapes mean.
func (b *bench) Help() []screen.HelpPart { return screen.RulesHelp() }

// Update takes keys, and redraws what is kept.
func (b *bench) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case screen.Press:
		b.touched = true
		cmd = b.press(msg)
	case screen.Result:
		b.swap.Result(msg)
	case screen.Chosen:
		b.at, b.touched = msg.Machine, true
	default:
		if _, ok := msg.(screen.DataChanged); ok && !b.touched {
			b.at = "" // the forecast may have put another machine first
		}
		b.Take(msg)
	}
	b.arrange()
	b.draw()
	return b, cmd
}

// Press takes a key: what is in the list, or a letter of the name or date that is typed.
func (b *bench) press(p screen.Press) tea.Cmd {
	b.swap.Passed(p.Key())
	cmd, taken := screen.Act(b.Keys(), p)
	switch {
	case taken:
	case b.finding && b.name.PressAmong(p.Msg, b.names()):
		if !b.find(b.name.Text) {
			cmd = screen.Tell("No machine on this bench has that in its name.")
		}
	case b.swap.Choosing():
		cmd = b.swap.Typed(p, b.m())
	}
	return cmd
}
