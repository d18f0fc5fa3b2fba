package screen

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// Root is the tea.Model: a stack of screens, the first of which is the bench, and what belongs to
// all of them: title and key line, errors, help, the clock, the look at the data file, quitting.
type Root struct {
	env   *Env
	stack []Screen
	stale map[ID]bool // covered screens that were not told what is new
	w, h  int
	now   time.Time
	data  *Data

	status  string // an error, until dismissed
	notice  string // a word, until the next key
	polling bool   // a look at the data file is on its way
	quiet   string // the last error of such a look, so that it is said once
	failed  error  // the first look at the data file; the program ends with it
	leaving bool   // quit when every write has answered
	held    heldKeys
}

// NewRoot makes the root with its first screen. data may be nil; then it is loaded by Init.
func NewRoot(e *Env, first Screen, data *Data, now time.Time) *Root {
	r := &Root{env: e, now: now, data: data, stale: map[ID]bool{}}
	r.stack = []Screen{first}
	return r
}

// Init starts the clock and the first look at the data file.
func (r *Root) Init() tea.Cmd {
	cmds := []tea.Cmd{r.nextSecond(), r.readAhead()}
	if r.data == nil {
		cmds = append(cmds, r.first())
	} else {
		r.tell(0)
		cmds = append(cmds, r.Top().Init())
	}
	return tea.Batch(cmds...)
}

// readAhead reads the whole library once the first frame stands, so that the first plan need not
// wait.
func (r *Root) readAhead() tea.Cmd {
	lib := r.env.Library
	return tea.Tick(100*time.Millisecond, func(time.Time) tea.Msg { lib.All(); return nil })
}

// nextSecond waits a second and asks the clock.
func (r *Root) nextSecond() tea.Cmd {
	now := r.env.Now
	return tea.Tick(time.Second, func(time.Time) tea.Msg { return second{now()} })
}

// poll looks whether the data file has changed, and loads it if so.
func (r *Root) poll() tea.Cmd { return r.load(false) }

// Reload loads the data file.
func (r *Root) Reload() tea.Cmd { return r.load(true) }

// load loads the data file, in any case where always.
func (r *Root) load(always bool) tea.Cmd {
	if r.polling {
		return nil
	}
	r.polling = true
	e, load := r.env, r.env.loader(r.machinesOnly(), r.data)
	return func() tea.Msg {
		if !always && !e.Store.Changed() {
			return polled{}
		}
		d, err := load()
		return polled{Data: d, Err: err}
	}
}

// first is the first look at the data file, without the forecast, which follows.
func (r *Root) first() tea.Cmd {
	r.polling = true
	e := r.env
	return func() tea.Msg {
		d, err := e.look(e.Now())
		return polled{Data: d, Err: err}
	}
}

// forecast dates the gauges of a first look, once the first frame stands.
func (r *Root) forecast(d *Data) tea.Cmd {
	e := r.env
	return tea.Tick(30*time.Millisecond, func(time.Time) tea.Msg {
		return forecasted{of: d, data: e.forecast(d)}
	})
}

// rest adds what is to be ordered and how long the next sessions take.
func (r *Root) rest(d *Data) tea.Cmd {
	e := r.env
	return func() tea.Msg { return forecasted{of: d, data: e.nexts(e.buys(d)), whole: true} }
}

// Update delivers one message.
func (r *Root) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		r.w, r.h = msg.Width, msg.Height
		r.resize()
		return r, nil
	case Stamped:
		return r, r.key(msg)
	case tea.KeyMsg:
		return r, r.key(Stamped{Key: msg})
	case second:
		return r, r.tick(msg.Now)
	case polled:
		return r, r.gotPoll(msg)
	case forecasted:
		if r.data != msg.of {
			return r, nil // a later look knows it all
		}
		cmd := r.setData(msg.data)
		if !msg.whole {
			cmd = tea.Batch(cmd, r.rest(msg.data))
		}
		return r, cmd
	case Result:
		return r, r.result(msg)
	case Failed:
		r.status = Sentence(msg.Err)
	case Notice:
		r.notice = msg.Text
	case Ring:
		return r, r.ring()
	case AskHelp:
		return r, r.help()
	case ShowDemo:
		r.failed = ErrDemo
		return r, r.quit()
	case Open, Pop, Home:
		return r, r.navigate(msg)
	default: // of a field's own, such as the blinking of its cursor
		return r, r.deliver(len(r.stack)-1, msg)
	}
	return r, nil
}

// Top is the screen a person sees.
func (r *Root) Top() Screen { return r.stack[len(r.stack)-1] }

// deliver gives a message to one screen of the stack.
func (r *Root) deliver(i int, msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	r.stack[i], cmd = r.stack[i].Update(msg)
	return cmd
}

// awake are the places of the screens that are told everything at once: the one in view, and those
// that count a wait down beneath it. The others are told when they are shown.
func (r *Root) awake() []int {
	var out []int
	for i, s := range r.stack {
		t, ok := s.(Ticking)
		if i == len(r.stack)-1 || ok && t.EverySecond() {
			out = append(out, i)
			continue
		}
		r.stale[s.ID()] = true
	}
	return out
}

// tell gives a screen its size, the time and the bench.
func (r *Root) tell(i int) tea.Cmd {
	b := layout(r.w, r.h).body
	delete(r.stale, r.stack[i].ID())
	r.stack[i].SetSize(b.w, b.h)
	return tea.Batch(r.deliver(i, Tick{r.now}), r.deliver(i, DataChanged{r.data}))
}

// freshen tells a screen what it missed while it was covered.
func (r *Root) freshen(i int) tea.Cmd {
	if !r.stale[r.stack[i].ID()] {
		return nil
	}
	return r.tell(i)
}

// show makes the top screen one that can be looked at: told all it missed, with gauges where it
// needs them.
func (r *Root) show() tea.Cmd {
	cmd := r.freshen(len(r.stack) - 1)
	if r.data.old && !r.machinesOnly() {
		return tea.Batch(cmd, r.Reload())
	}
	return cmd
}

// machinesOnly tells whether the screen in view needs no gauges.
func (r *Root) machinesOnly() bool {
	s, ok := r.Top().(interface{ onlyMachines() bool })
	return ok && s.onlyMachines()
}

func (r *Root) resize() {
	b := layout(r.w, r.h).body
	for _, i := range r.awake() {
		r.stack[i].SetSize(b.w, b.h)
	}
}

// tick is a second of the program's own: the data file is looked at, when the minute changes in any
// case.
func (r *Root) tick(now time.Time) tea.Cmd {
	look := r.poll
	if r.minute(now) {
		look = r.Reload
	}
	return tea.Batch(r.nextSecond(), look(), r.Pass(now))
}

// minute tells whether another minute has begun.
func (r *Root) minute(now time.Time) bool {
	return !now.Truncate(time.Minute).Equal(r.now.Truncate(time.Minute))
}

// Pass passes the time on: to the screen in view and to those that count a wait down.
func (r *Root) Pass(now time.Time) tea.Cmd {
	r.now = now
	var cmds []tea.Cmd
	for _, i := range r.awake() {
		cmds = append(cmds, r.deliver(i, Tick{now}))
	}
	return tea.Batch(cmds...)
}

// gotPoll takes in what a look at the data file found. A failing look is said once, not every
// second.
func (r *Root) gotPoll(msg polled) tea.Cmd {
	r.polling = false
	if msg.Err != nil && r.data == nil {
		r.failed = msg.Err
		return tea.Quit
	}
	if msg.Err != nil {
		if s := Sentence(msg.Err); s != r.quiet {
			r.quiet, r.status = s, s
		}
		return nil
	}
	if msg.Data == nil && r.data.old && !r.machinesOnly() {
		return r.Reload() // it was asked for while another screen was in view
	}
	if msg.Data == nil {
		return nil
	}
	r.quiet = ""
	return r.setData(msg.Data)
}

// Err is what the program ends with; nil where the person just left.
func (r *Root) Err() error { return r.failed }

func (r *Root) setData(d *Data) tea.Cmd {
	first := r.data == nil
	r.data = d
	if first {
		r.tell(0)
		return tea.Batch(r.Top().Init(), r.forecast(d))
	}
	var cmds []tea.Cmd
	for _, i := range r.awake() {
		cmds = append(cmds, r.deliver(i, DataChanged{d}))
	}
	if d.old && !r.machinesOnly() {
		cmds = append(cmds, r.Reload())
	}
	return tea.Batch(cmds...)
}

// Result counts writes, shows errors, and hands the answer to the screen that asked.
func (r *Root) result(msg Result) tea.Cmd {
	var cmds []tea.Cmd
	if msg.Wrote {
		r.env.writes--
	}
	if msg.Err != nil {
		r.status = Sentence(msg.Err)
	}
	if msg.data != nil {
		cmds = append(cmds, r.setData(msg.data))
	}
	for i, s := range r.stack {
		if s.ID() == msg.Screen {
			cmds = append(cmds, r.freshen(i), r.deliver(i, msg))
			break
		}
	}
	if r.leaving && r.env.writes <= 0 {
		if msg.Err == nil {
			return tea.Quit
		}
		r.leaving, r.failed = false, nil // what could not be saved is said before anyone leaves
	}
	return tea.Batch(cmds...)
}

// quit leaves once every write has answered; asked a second time it leaves at once.
func (r *Root) quit() tea.Cmd {
	if r.env.writes <= 0 || r.leaving {
		return tea.Quit
	}
	r.leaving = true
	r.notice = "Saving; leaves when it is on disk."
	return nil
}

func (r *Root) ring() tea.Cmd {
	out := r.env.out
	if out == nil || !r.env.Bell {
		return nil
	}
	return func() tea.Msg {
		out.ring()
		return nil
	}
}

func (r *Root) navigate(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case Open:
		s := r.env.Rooms(r.env, msg.To)
		switch {
		case s == nil:
			return nil
		case msg.Instead:
			return r.replace(s)
		}
		return r.push(s)
	case Pop:
		return r.pop(msg.Then)
	case Home:
		r.stack = r.stack[:1]
		return r.show()
	}
	return nil
}

func (r *Root) push(s Screen) tea.Cmd {
	r.stack = append(r.stack, s)
	r.tell(len(r.stack) - 1)
	return tea.Batch(r.Top().Init(), r.show())
}

// replace puts a screen in place of the top one, on top of the bench where that is all there is.
func (r *Root) replace(s Screen) tea.Cmd {
	if len(r.stack) > 1 {
		r.stack = r.stack[:len(r.stack)-1]
	}
	return r.push(s)
}

func (r *Root) pop(then tea.Msg) tea.Cmd {
	if len(r.stack) > 1 {
		r.stack = r.stack[:len(r.stack)-1]
	}
	cmd := r.show()
	if then == nil {
		return cmd
	}
	return tea.Batch(cmd, r.deliver(len(r.stack)-1, then))
}
