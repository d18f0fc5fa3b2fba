package screen

import (
	"crypto/rand"
	"maps"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/oklog/ulid/v2"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// Store is what the screens need of the data file. It is called from commands, several at a time,
// and what Bench gives is never changed afterwards.
type Store interface {
	Bench() (*model.Bench, error)
	Append(model.Action) ([]model.Entry, error)
	AppendAll([]model.Action) ([]model.Entry, error)
	Entries(store.Filter) ([]model.Entry, error)
	Page(machine string, skip, most int) (page []model.Entry, all int, err error)
	Referred(of []model.Entry) ([]model.Entry, error)
	Changed() bool
	Text(hash string) ([]byte, error)
}

// Library is what the screens need of the procedures; *procedures.Library has it.
type Library interface {
	Heads() []*model.Procedure // all a gauge needs; there before All is
	All() []*model.Procedure
	SetUps() []*model.Procedure
}

// Deps is what Run is handed: the store, the library, two clocks, and what the settings say.
type Deps struct {
	Store    Store
	Library  Library
	Theme    *theme.Theme
	Now      func() time.Time // the bench's clock; may be pinned
	Real     func() time.Time // a clock that always runs, to tell held keys
	Operator string           // who works here; entries are written in this name
	Bell     bool             // ring at the end of a wait
	Title    string           // of the bench; "" where it has no name; that of a demo is its own
	Currency string           // behind prices and costs; "" writes none
	Demo     bool             // a throw-away bench: the title says so
	// what was wrong at the start with settings and own procedures, a sentence each
	Notes      []string
	WrongClock string       // what spoke against the clock at the start, "" where nothing did
	Desk       session.Desk // where care sessions are planned, begun and walked
	Rooms      Rooms        // makes the screens
	// called once the screens end in order on a signal, before they draw; may be nil
	Caught func()
}

// Env is Deps together with what the screens share. Used from the event loop only, save where said.
type Env struct {
	Deps
	lastID ID
	writes int        // asked for and not yet answered
	out    *lockedTTY // nil in tests
	NewID  func(time.Time) string
}

// Rooms makes the screen of a place, nil where there is none.
type Rooms func(e *Env, to any) Screen

// NewEnv makes what all screens of one run share.
func NewEnv(d Deps) *Env {
	return &Env{Deps: d, NewID: func(now time.Time) string {
		// reading random numbers does not fail
		return ulid.MustNew(ulid.Timestamp(now), rand.Reader).String()
	}}
}

// Data is the bench and what follows from it at an instant. It is shared and never changed.
type Data struct {
	Bench  *model.Bench
	Gauges map[string][]model.Gauge // machine id -> worst first; none of machines retired
	At     time.Time
	// machine id -> parts that do not last there; with the forecast only
	Short map[string][]life.Short
	// machine id -> minutes the next session takes, hands and waiting; told after the forecast, not
	// where nothing is due
	Next map[string]float64
	// what is to be ordered within a fortnight, the most pressing first; told after the forecast
	Buy []life.Advice

	old bool // Bench is newer than all else here
}

// Machine is a machine of the bench; nil if there is none.
func (d *Data) Machine(id string) *model.Machine {
	if d == nil {
		return nil
	}
	return d.Bench.Machines[id]
}

// NameOf is what a machine is called, made safe; "" where there is none.
func (d *Data) NameOf(machine string) string {
	if m := d.Machine(machine); m != nil {
		return theme.Safe(m.Name)
	}
	return ""
}

// Names calls procedures and symptoms by their titles, and knows the currency of prices.
func (e *Env) Names() action.Names {
	return action.Names{Procs: e.Library.Heads(), Symptoms: procedures.Symptoms(), Currency: e.Currency}
}

// Load folds the bench at an instant and forecasts its gauges. It reads the data file: only for
// commands.
func (e *Env) Load(now time.Time) (*Data, error) {
	d, err := e.look(now)
	if err != nil {
		return nil, err
	}
	return e.nexts(e.buys(e.forecast(d))), nil
}

// loader gives what loads the bench for a screen, in a command.
func (e *Env) loader(machinesOnly bool, before *Data) func() (*Data, error) {
	if machinesOnly {
		return func() (*Data, error) { return e.machines(before, e.Now()) }
	}
	return func() (*Data, error) { return e.Load(e.Now()) }
}

// machines is the bench as it is now with what was known of its gauges before, for screens that
// need no more. It reads the data file: only for commands.
func (e *Env) machines(before *Data, now time.Time) (*Data, error) {
	b, err := e.Store.Bench()
	if err != nil {
		return nil, err
	}
	d := Data{Gauges: map[string][]model.Gauge{}}
	if before != nil {
		d = *before
	}
	d.Bench, d.At, d.old = b, now, true
	return &d, nil
}

// forecast gives the bench with its gauges dated by forecast. It takes a while: only for commands.
func (e *Env) forecast(d *Data) *Data {
	f := &Data{Bench: d.Bench, Gauges: make(map[string][]model.Gauge, len(d.Bench.Machines)),
		At: d.At, Short: map[string][]life.Short{}}
	procs := e.Library.Heads()
	for id, m := range d.Bench.Machines {
		f.Gauges[id] = life.Gauges(m, procs, d.At)
		f.Short[id] = life.ShortOn(m, procs)
	}
	return f
}

// soon is how long before its day an order is called for on the bench.
const soon = 14 * 24 * time.Hour

// buys says in a forecast bench what is to be ordered. It takes a while: only for commands.
func (e *Env) buys(d *Data) *Data {
	f := *d
	for _, a := range life.Orders(d.Bench, e.Library.All(), d.At) {
		if a.OrderBy != nil && a.OrderBy.Sub(d.At) < soon {
			f.Buy = append(f.Buy, a)
		}
	}
	slices.SortStableFunc(f.Buy, func(x, y life.Advice) int {
		return x.OrderBy.Compare(*y.OrderBy)
	})
	return &f
}

// nexts says in a forecast bench how long the next session at each machine takes. It takes a while:
// only for commands. What cannot be planned stays unsaid here; the plan says why.
func (e *Env) nexts(d *Data) *Data {
	if e.Desk.Lib == nil {
		return d
	}
	f := *d
	f.Next = map[string]float64{}
	for id, m := range d.Bench.Machines {
		if n, unknown := Due(d.Gauges[id]); m.Retired || m.OutOfUse || m.Session != "" || n == 0 &&
			!unknown {
			continue
		}
		if c, err := e.Desk.Choose(m, session.Choice{}, d.At); err == nil && c.Plan != nil {
			f.Next[id] = c.Plan.Minutes()
		}
	}
	return &f
}

// Due is how many of a machine's gauges are due or past, and whether any is unknown.
func Due(gs []model.Gauge) (n int, unknown bool) {
	for _, g := range gs {
		if g.Word.Rank() <= model.WordDue.Rank() {
			n++
		}
		unknown = unknown || g.Word == model.WordUnknown
	}
	return n, unknown
}

// look is load with dates by the mean pace alone, which a first frame need not wait for.
func (e *Env) look(now time.Time) (*Data, error) {
	b, err := e.Store.Bench()
	if err != nil {
		return nil, err
	}
	d := &Data{Bench: b, Gauges: make(map[string][]model.Gauge, len(b.Machines)), At: now}
	procs := e.Library.Heads()
	for id, m := range b.Machines {
		d.Gauges[id] = life.ByMean(m, procs, now)
	}
	return d, nil
}

// Base is what every screen has; embed it. Its fields are kept up to date by Take.
type Base struct {
	Env  *Env
	W, H int
	Now  time.Time
	Data *Data // never nil once the screen is on the stack

	// MachinesOnly is a screen that needs no gauges: what it writes brings back the machines and
	// nothing worked out of them.
	MachinesOnly bool

	id      ID
	request int
}

// Base makes the base of a new screen.
func (e *Env) Base() Base {
	e.lastID++
	return Base{Env: e, id: e.lastID}
}

// ID is the screen's id.
func (b *Base) ID() ID { return b.id }

// Init is no command.
func (b *Base) Init() tea.Cmd { return nil }

// TakesText is false.
func (b *Base) TakesText() bool { return false }

// SetSize keeps the size.
func (b *Base) SetSize(w, h int) { b.W, b.H = w, h }

// Take keeps the time and the bench, and tells whether the message brought either.
func (b *Base) Take(msg tea.Msg) bool {
	switch msg := msg.(type) {
	case Tick:
		b.Now = msg.Now
		return true
	case DataChanged:
		b.Data = msg.Data
		return true
	}
	return false
}

// Read runs f in a command; its value comes back as a Result. f must not touch the screen.
func (b *Base) Read(f func(Store) (any, error)) tea.Cmd {
	b.request++
	id, n, s := b.id, b.request, b.Env.Store
	return func() tea.Msg {
		v, err := f(s)
		return Result{Screen: id, Request: n, Value: v, Err: err}
	}
}

// onlyMachines tells the root what the screen needs.
func (b *Base) onlyMachines() bool { return b.MachinesOnly }

// Write runs f, which writes to the data file, in a command. The program does not quit before it
// has answered. Before the Result comes back the screen has been given the bench as it is then;
// screens beneath are given it when they are shown. f must not touch the screen.
func (b *Base) Write(f func(Store) (any, error)) tea.Cmd {
	b.request++
	e := b.Env
	e.writes++
	id, n, load := b.id, b.request, e.loader(b.MachinesOnly, b.Data)
	return func() (msg tea.Msg) {
		r := Result{Screen: id, Request: n, Wrote: true}
		if r.Value, r.Err = f(e.Store); r.Err == nil {
			r.data, _ = load() // where this fails the next look at the file says so
		}
		return r
	}
}

// Append writes one action in the operator's name, where it names nobody else. The Result's value
// is []model.Entry.
func (b *Base) Append(a model.Action) tea.Cmd {
	if a.By == "" {
		a.By = b.Env.Operator
	}
	return b.Write(func(s Store) (any, error) { return s.Append(a) })
}

// Strike writes that an action of a machine does not count, with the reason.
func (b *Base) Strike(machine, action, why string) tea.Cmd {
	return b.Append(model.Action{Machine: machine, Facts: []model.Fact{{Kind: model.KindStrike,
		Strike: &model.Strike{Action: action, Why: why}}}})
}

// Stale tells that a result answers an older request than the last one.
func (b *Base) Stale(r Result) bool { return r.Request != b.request }

// Sorted are the keys of a map in order.
func Sorted[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
