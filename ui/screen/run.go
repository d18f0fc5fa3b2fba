package screen

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/term"

	_ "bench/oilcan/ui/theme/quiet" // before the screen library asks the terminal for its colours
)

// Terminal is where Run draws.
type Terminal struct {
	In, Out *os.File
	Name    string // TERM
}

// usable tells whether screens can be drawn there.
func (t Terminal) usable() bool {
	return t.Name != "dumb" && t.Name != "" && term.IsTerminal(t.In.Fd()) &&
		term.IsTerminal(t.Out.Fd())
}

// lockedTTY lets the bell ring between two frames, never inside one. It keeps the file's
// descriptor, by which the screen library knows a terminal and its size.
type lockedTTY struct {
	*os.File
	mu sync.Mutex
}

func (l *lockedTTY) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.File.Write(p)
}

// WriteString and ReadFrom would go round the lock by the embedded file.
func (l *lockedTTY) WriteString(s string) (int, error) { return l.Write([]byte(s)) }

func (l *lockedTTY) ReadFrom(r io.Reader) (int64, error) {
	return io.Copy(struct{ io.Writer }{l}, r)
}

// ring rings the bell; one that fails is no matter.
func (l *lockedTTY) ring() { _, _ = l.WriteString("\a") }

// errEnded is why the screens end where they are asked to in order: by ctrl+c or a termination.
var errEnded = errors.New("ended by a signal")

// Run opens the bench on a terminal and returns when the person leaves. The terminal is restored
// whatever happens: a signal (that to stop too), a mistake of the program in a screen or command,
// which comes back as a *Crash. ErrNoTerminal comes back where nothing can be drawn. What was
// written before stays written.
func Run(d Deps, t Terminal) error {
	if !t.usable() {
		return ErrNoTerminal
	}
	e := NewEnv(d)
	ctx, stop := context.WithCancelCause(context.Background())
	defer stop(nil)
	out := &lockedTTY{File: t.Out}
	e.out = out
	root := NewRoot(e, e.Rooms(e, ToBench{}), nil, d.Now())
	toStop := &stopped{}
	var p *tea.Program
	var ended atomic.Pointer[error]
	end := func(why error) { // in order: the library waits for the keyboard's reader
		if ended.CompareAndSwap(nil, &why) {
			time.AfterFunc(patience, func() { stop(why) })
			go p.Quit()
		}
	}
	p = tea.NewProgram(&guarded{Root: root, stop: end}, tea.WithAltScreen(), tea.WithFPS(120),
		tea.WithInput(t.In), tea.WithOutput(out), tea.WithContext(ctx),
		tea.WithFilter(toStop.watch(stamp(d))), tea.WithoutSignalHandler())
	defer catch(end)()
	defer toStop.listen(p.Send)()
	if d.Caught != nil {
		d.Caught()
	}
	_, err := p.Run()
	var crash *Crash
	switch why := ended.Load(); {
	case why != nil && errors.As(*why, &crash):
		return crash
	case why != nil && errors.Is(*why, errEnded):
		return nil
	case why != nil:
		return fmt.Errorf("stopped: %w; what was saved is in the data file", *why)
	}
	if errors.Is(err, tea.ErrInterrupted) {
		return nil
	}
	if err == nil {
		err = root.Err()
	}
	return err
}

// stamp marks keys with the time they came at. It lets every message through: one that dropped the
// message to quit would leave the terminal raw at the next signal.
func stamp(d Deps) func(tea.Model, tea.Msg) tea.Msg {
	return func(_ tea.Model, msg tea.Msg) tea.Msg {
		if k, ok := msg.(tea.KeyMsg); ok {
			return Stamped{Key: k, At: d.Real()}
		}
		return msg
	}
}

// patience is how long the screens may take to end in order.
const patience = 2 * time.Second

// catch ends the program in order on a signal, from before the screens stand: the screen library
// would catch two of the four, and only once it draws. What does not end in order is stopped, which
// does not wait for the keyboard. The function it gives stops that.
func catch(end func(why error)) func() {
	ch := make(chan os.Signal, 1)
	done := make(chan struct{})
	signal.Notify(ch, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT)
	go func() {
		select {
		case s := <-ch:
			why := fmt.Errorf("signal %v", s)
			if s == os.Interrupt || s == syscall.SIGTERM {
				why = errEnded
			}
			end(why)
		case <-done:
		}
	}()
	return func() {
		signal.Stop(ch)
		close(done)
	}
}
