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

func (b *bench) SetSize(w, h int) Screen {
	b.Size(w, h)
	b.draw()
	return b
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

// move moves the cursor.
func (b *bench) move(by int) {
	if len(b.list) > 0 {
		b.at = b.list[max(0, min(b.index()+by, len(b.list)-1))].ID
	}
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
	add := Key{"a", "add a machine", "adds a machine, with a short guided form"}
	leave := Key{"q", "leave", "leaves oilcan; everything is saved already"}
	switch m := b.m(); {
	case b.finding:
		return []Key{{"enter", "stay there", ""}, {"esc", "back", ""}}
	case b.ask:
		return []Key{{"y", "go on", "goes on with the session"}, {"n", "the machine", "opens the machine instead"}, {"esc", "back", ""}}
	case b.swap.choosing():
		return b.swap.keys()
	case m == nil:
		ks := []Key{add}
		if b.offersDemo() {
			ks = append(ks, Key{"v", "view the demo", "an invented bench to look around in; nothing of it is kept, and you come back here"})
		}
		return append(ks, Key{"d", "drawer", "what is in stock"}, leave)
	default:
		var symptomKey []Key
		ks := []Key{{"enter", "open", "opens the machine under the cursor: every gauge, and its record"}}
		if b.Env.Makers.Plan != nil {
			care := "plans a care session for the machine"
			if m.Session != "" {
				care = "goes on with the machine's begun session"
			}
			ks = append(ks, Key{"c", "care", care})
		}
		if b.Env.Makers.Symptom != nil {
			symptomKey = []Key{{"s", "symptom", "what you see or hear, and the care that is likely to cure it"}}
		}
		if b.swap.saved() {
			ks = append(ks, Key{"u", "undo", "strikes the swap just saved; the book keeps both"})
		}
		ks = append(ks, Key{"w", "swap", "logs a renewed part: its letter, then how the old one was"},
			Key{"m", "meters", "types what the machine's counters show"})
		return append(append(ks, symptomKey...),
			Key{"d", "drawer", "what is in stock, and what to buy"}, add,
			Key{"f", "findings", "what was seen on the machine and is to be looked at again"},
			Key{"e", "", "edits the machine"},
			Key{"o", b.otherOrder(), "the most pressing machine first, or in the order they were added"},
			Key{"/", "find", "goes to a machine by its name; the arrows, j and k move too"}, leave)
	}
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

func (b *bench) press(p Press) tea.Cmd {
	switch {
	case b.finding:
		return b.pressFind(p)
	case b.ask:
		return b.pressAsk(p)
	case b.swap.choosing():
		return b.swap.press(p, b.m())
	}
	if cmd, ok := b.pressMachine(p); ok {
		return cmd
	}
	switch p.Key() {
	case "up", "k":
		b.move(-1)
	case "down", "j":
		b.move(1)
	case "home":
		b.move(-len(b.list))
	case "end":
		b.move(len(b.list))
	case "pgup":
		b.move(-10)
	case "pgdown":
		b.move(10)
	case "/":
		b.finding, b.name = len(b.list) > 0, field{}
	case "o":
		b.added = !b.added
	case "a":
		return Send(Push{newMachineForm(b.Env, nil)})
	case "v":
		if b.offersDemo() {
			return Send(ShowDemo{})
		}
	case "d":
		return Send(Push{newDrawer(b.Env)})
	case "u":
		return b.swap.undo(p)
	case "esc":
		b.swap.close()
	}
	return nil
}

// pressMachine takes the keys that do something with the machine under the cursor.
func (b *bench) pressMachine(p Press) (tea.Cmd, bool) {
	m := b.m()
	if m == nil {
		return nil, false
	}
	switch p.Key() {
	case "enter":
		if !p.Passes() {
			return nil, true
		}
		if m.Session != "" && b.Env.Makers.Walk != nil {
			b.ask = true
			return nil, true
		}
		return Send(Push{newMachine(b.Env, m.ID)}), true
	case "c":
		return care(b.Env, m), true
	case "w":
		b.swap.start(m)
	case "m":
		return Send(Push{newMeters(b.Env, m.ID)}), true
	case "e":
		return Send(Push{newMachineForm(b.Env, m)}), true
	case "f":
		return Send(Push{newFindings(b.Env, m.ID)}), true
	case "s":
		return symptoms(b.Env, m), true
	default:
		return nil, false
	}
	return nil, true
}

// care opens the machine's begun session, or plans one.
func care(e *Env, m *model.Machine) tea.Cmd {
	switch {
	case m.Session != "" && e.Makers.Walk != nil:
		return Send(OpenWalk{Session: m.Session})
	case e.Makers.Plan != nil:
		return Send(OpenPlan{Machine: m.ID})
	}
	return nil
}

// symptoms opens the symptoms of a machine in use.
func symptoms(e *Env, m *model.Machine) tea.Cmd {
	if e.Makers.Symptom == nil || m.Retired {
		return nil
	}
	return Send(Push{e.Makers.Symptom(m.ID)})
}

func (b *bench) pressFind(p Press) tea.Cmd {
	switch p.Key() {
	case "esc", "enter":
		b.finding = false
	case "up":
		b.move(-1)
	case "down":
		b.move(1)
	default:
		if b.name.press(p.Msg) {
			b.find(b.name.text)
		}
	}
	return nil
}

func (b *bench) pressAsk(p Press) tea.Cmd {
	switch p.Key() {
	case "y":
		b.ask = false
		if m := b.m(); m != nil && m.Session != "" {
			return Send(OpenWalk{Session: m.Session})
		}
	case "n":
		b.ask = false
		return Send(Push{newMachine(b.Env, b.at)})
	case "esc":
		b.ask = false
	}
	return nil
}
