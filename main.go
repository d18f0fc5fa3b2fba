// Command oilcan keeps the care of one bench of filament printers.
package main

import (
	"errors"
	"fmt"
	"os"
	"os/signal"
	"os/user"
	"runtime/debug"
	"sync"
	"syscall"
	"time"

	_ "bench/oilcan/ui/theme/quiet" // first: see there

	"github.com/mattn/go-isatty"

	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/command"
	"bench/oilcan/ui/demo"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/rooms"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// release is set by a build with -ldflags "-X main.release=v1.2.3".
var release string

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(collectAt)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memory)
	}
	os.Exit(run())
}

// collectAt lets the heap of a few MiB grow to five times what lives before it is swept: at the
// usual twice a first frame waits through two sweeps (BenchmarkFirstFrame).
const collectAt = 400

// memory is the number of bytes from which it is swept sooner: what goes over a whole journal holds
// little at a time and leaves much behind.
const memory = 160 << 20

// run wires the program to the process it runs in. A mistake of the program itself ends in one
// sentence, not in a trace over the person's screen.
func run() (code int) {
	defer func() {
		if r := recover(); r != nil {
			code = crashed(r, debug.Stack())
		}
	}()
	// a reader that has seen enough must not keep the demo's file from being removed
	signal.Ignore(syscall.SIGPIPE)
	clock, err := command.NewClock(time.Now, os.Getenv("OILCAN_NOW"))
	if err != nil {
		theme.NewWriter(os.Stderr).Say("oilcan: %s", err)
		return command.Misuse
	}
	return command.Run(command.Deps{
		Clock:     clock,
		Stdin:     os.Stdin,
		Stdout:    os.Stdout,
		Stderr:    os.Stderr,
		Env:       os.Getenv,
		InputTTY:  isatty.IsTerminal(os.Stdin.Fd()),
		OutputTTY: isatty.IsTerminal(os.Stdout.Fd()),
		Login:     login,
		Version:   command.Version(release),
		TempDir:   func() (string, error) { return os.MkdirTemp("", "oilcan-demo-") },
		OpenBench: openBench,
		MakeDemo:  makeDemo,
		OnSignal:  onSignal,
	}, os.Args[1:])
}

// crashed says a mistake of the program itself in one sentence, and where the report of it is.
func crashed(r any, stack []byte) int {
	if c, ok := r.(*screen.Crash); ok {
		stack = c.Stack
	}
	told := ""
	path, err := command.Report(os.Getenv, time.Now(), command.Version(release), fmt.Sprint(r), stack)
	if err == nil {
		told = "; what whoever mends it needs to know is in " + path
	}
	theme.NewWriter(os.Stderr).Say("oilcan: this is a mistake of the program (%s): what was saved is safe, start it again%s", fmt.Sprint(r), told)
	return command.Unusable
}

// login is the name the person is logged in by, "" where the system does not say.
func login() string {
	if u, err := user.Current(); err == nil {
		return u.Username
	}
	return os.Getenv("USER")
}

// openBench runs the screens on this terminal.
func openBench(o command.Opened) error {
	err := screen.Run(screen.Deps{
		Store: o.Store, Library: o.Library, Theme: o.Theme, Now: o.Clock.Now, Real: time.Now,
		Operator: o.By, Bell: o.Bell, Title: o.Title, Currency: o.Currency, Demo: o.Demo, Notes: o.Notes,
		WrongClock: o.Wrong,
		Desk:       session.Desk{Store: o.Store, Lib: o.Library, By: o.By, Pace: o.Pace},
		Rooms:      rooms.Open,
		Caught:     o.Caught,
	}, screen.Terminal{In: os.Stdin, Out: os.Stdout, Name: os.Getenv("TERM")})
	if crash := (*screen.Crash)(nil); errors.As(err, &crash) {
		panic(crash) // as any other mistake of the program: run says it
	}
	if errors.Is(err, screen.ErrDemo) {
		return command.ErrShowDemo
	}
	return err
}

// onSignal cleans up and ends the program where a signal asks it to end, until release is called. A
// signal that came before still does: release does not return then.
func onSignal(clean func()) (release func()) {
	got, released, idle := make(chan os.Signal, 1), make(chan struct{}), make(chan struct{})
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT} {
		if !signal.Ignored(s) { // as a program is that is to outlive its terminal
			signal.Notify(got, s)
		}
	}
	end := func(s os.Signal) {
		clean()
		n, _ := s.(syscall.Signal)
		os.Exit(128 + int(n)) // as a shell says it
	}
	go func() {
		select {
		case s := <-got:
			end(s)
		case <-released:
		}
		select { // both were ready
		case s := <-got:
			end(s)
		default:
			close(idle)
		}
	}()
	return sync.OnceFunc(func() {
		signal.Stop(got)
		close(released)
		<-idle
	})
}

// demoSeed gives the invented bench its history; any number would do.
const demoSeed = 7

// makeDemo writes the invented bench into a new file; the same time gives the same bench.
func makeDemo(path string, lib *procedures.Library, now time.Time) error {
	st, err := store.Open(path, func() time.Time { return now })
	if err != nil {
		return err
	}
	_, err = st.AppendAll(demo.Actions(lib.All(), now, demoSeed))
	return err
}
