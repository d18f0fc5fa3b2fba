// Command oilcan keeps the care of one bench of filament printers.
package main

import (
	"fmt"
	"os"
	"os/user"
	"time"

	_ "bench/oilcan/ui/theme/quiet" // first: see there

	"github.com/mattn/go-isatty"

	"bench/oilcan/ui/command"
)

// release is set by a build with -ldflags "-X main.release=v1.2.3".
var release string

func main() { os.Exit(run()) }

// run wires the program to the process it runs in. A mistake of the program itself ends in one sentence,
// not in a trace over the person's screen.
func run() (code int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(os.Stderr, "oilcan: this is a mistake of the program (%v): what was saved is safe, start it again\n", r)
			code = command.Unusable
		}
	}()
	clock, err := command.NewClock(time.Now, os.Getenv("OILCAN_NOW"))
	if err != nil {
		fmt.Fprintf(os.Stderr, "oilcan: %s\n", err)
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
	}, os.Args[1:])
}

// login is the name the person is logged in by, "" where the system does not say.
func login() string {
	if u, err := user.Current(); err == nil {
		return u.Username
	}
	return os.Getenv("USER")
}
