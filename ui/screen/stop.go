package screen

import (
	"os"
	"os/signal"
	"sync/atomic"

	tea "github.com/charmbracelet/bubbletea"
)

// stopped has the program stopped with the terminal restored, by the signal as by ctrl+z. The screen
// library restores the terminal, sends itself the signal and waits to be continued; once the signal
// was listened for it stops nothing by itself, so that is done here.
type stopped struct {
	got      chan os.Signal
	restored atomic.Bool // the terminal is, or is being: the next signal is the library's own
}

// listen takes the signal from here on; the function it gives ends that.
func (s *stopped) listen(send func(tea.Msg)) (end func()) {
	s.got = make(chan os.Signal, 1)
	if toStop != nil && !signal.Ignored(toStop) {
		signal.Notify(s.got, toStop)
	}
	done := make(chan struct{})
	go func() {
		for {
			select {
			case <-s.got:
				if s.restored.Load() {
					stopHere()
				} else {
					send(tea.SuspendMsg{})
				}
			case <-done:
				return
			}
		}
	}()
	return func() {
		signal.Stop(s.got)
		close(done)
	}
}

// watch notes whose the terminal is, and lets every message through.
func (s *stopped) watch(next func(tea.Model, tea.Msg) tea.Msg) func(tea.Model, tea.Msg) tea.Msg {
	return func(m tea.Model, msg tea.Msg) tea.Msg {
		switch msg.(type) {
		case tea.SuspendMsg:
			s.restored.Store(true)
		case tea.ResumeMsg:
			s.restored.Store(false)
		}
		return next(m, msg)
	}
}
