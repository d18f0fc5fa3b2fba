package command

import (
	"errors"
	"os"
	"syscall"

	"bench/oilcan/ui/theme"
)

// Run runs one command line, without the program's name, and gives its exit code.
func Run(d Deps, args []string) int {
	errs := theme.NewWriter(d.Stderr)
	out := &output{Writer: d.Stdout, instead: errs}
	a := &app{Deps: d, out: theme.NewWriter(out), errs: errs}
	if f, ok := d.Stdout.(*os.File); ok && d.OutputTTY {
		a.terminal = f
	}
	root := rootCommand(a)
	root.SetArgs(args)
	err := root.Execute()
	if errors.Is(err, syscall.EPIPE) {
		return Done // whoever reads has seen enough
	}
	if err != nil && !errors.Is(err, errNo) {
		a.warn(err)
	}
	return out.code(exitCode(err))
}
