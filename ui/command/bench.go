package command

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/procedures"
	"bench/oilcan/store"
)

// keptBackups is how many daily backups are kept beside the data file.
const keptBackups = 14

// openBench opens the screens, or prints the gauges where there is no terminal for them.
func (a *app) openBench() error {
	if !a.hasScreens() {
		return a.printBench()
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	if _, err := st.Daily(store.BackupDir(st.Path()), keptBackups); err != nil {
		a.warn(fmt.Errorf("today's backup could not be made: %w", err))
	}
	for {
		err := a.screens(false)
		if !errors.Is(err, ErrShowDemo) {
			return err
		}
		if err := a.fromEmpty().demo(false); err != nil {
			return err
		}
	}
}

// hasScreens tells whether there is a terminal to draw screens on.
func (a *app) hasScreens() bool {
	return a.InputTTY && a.OutputTTY && a.Env("TERM") != "dumb" && !a.flags.json && a.OpenBench != nil
}

// screens runs the screens on the data file until the person leaves them.
func (a *app) screens(demo bool) error {
	st, err := a.store()
	if err != nil {
		return err
	}
	lib := a.library()
	notes := append(slices.Clone(a.notes), procedures.LeftOut(lib.Problems())...)
	if w := store.PlaceWarning(st.Path()); w != "" && !demo {
		notes = append(notes, w)
	}
	return a.OpenBench(Opened{
		Notes: notes,
		Store: st, Library: lib, Theme: a.th, Clock: a.Clock, By: a.who(), Bell: a.cfg.Bell, Pace: a.cfg.Pace,
		Title: strings.TrimSpace(a.cfg.Bench), Demo: demo,
	})
}

// printBench prints the gauges of every machine.
func (a *app) printBench() error {
	ms, _, err := a.machines(false)
	if err != nil {
		return err
	}
	return a.gauges(ms)
}

// fromEmpty is this run again, with nothing opened yet, for the demo in between.
func (a *app) fromEmpty() *app {
	return &app{Deps: a.Deps, out: a.out, errs: a.errs, terminal: a.terminal, flags: a.flags, cfg: a.cfg, notes: a.notes, lib: a.lib, th: a.th}
}

func (a *app) demoCommand() *cobra.Command {
	var print bool
	c := &cobra.Command{
		Use: "demo", Short: "an invented bench to look around in",
		Long: "Open an invented bench of six machines with some months of history, in a file that is\n" +
			"thrown away at the end. Without a terminal it prints its gauges. With --print the file\n" +
			"is made and kept, and its path printed, for --file.",
		Example: "  oilcan demo\n  oilcan gauges --file \"$(oilcan demo --print)\"",
		Args:    between(0, 0, "no name"),
		RunE:    func(*cobra.Command, []string) error { return a.demo(print) },
	}
	c.Flags().BoolVar(&print, "print", false, "make the file, print its path and leave it")
	return c
}

// demo makes the invented bench and shows it, or prints where it lies. What is only shown leaves nothing
// behind, whether it ends by itself or by a signal: the screens end in order on one, and before they stand
// the folder is removed here.
func (a *app) demo(print bool) error {
	if a.MakeDemo == nil || a.TempDir == nil {
		return errors.New("this oilcan was built without the demo")
	}
	dir, err := a.TempDir()
	if err != nil {
		return unusable(fmt.Errorf("no folder for the demo could be made: %w", err))
	}
	remove := func() { os.RemoveAll(dir) }
	release := a.onSignal(remove)
	defer release()
	path := filepath.Join(dir, "demo.oilcan")
	if err := a.MakeDemo(path, a.library(), a.now()); err != nil {
		remove()
		return unusable(fmt.Errorf("the demo could not be made: %w", err))
	}
	if print {
		if a.flags.json {
			return a.writeJSON(map[string]string{"file": path})
		}
		a.say("%s", path)
		return nil
	}
	defer remove()
	a.flags.file = path
	if !a.hasScreens() {
		return a.printBench()
	}
	release()
	return a.screens(true)
}

// onSignal has clean run where a signal ends the program, until release.
func (a *app) onSignal(clean func()) (release func()) {
	if a.OnSignal == nil {
		return func() {}
	}
	return a.OnSignal(clean)
}
