package command

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"bench/oilcan/store"
)

// keptBackups is how many daily backups are kept beside the data file.
const keptBackups = 14

// openBench opens the screens, or prints the gauges where there is no terminal for them.
func (a *app) openBench(demo bool) error {
	if !a.InputTTY || !a.OutputTTY || a.Env("TERM") == "dumb" || a.flags.json || a.OpenBench == nil {
		ms, _, err := a.machines(false)
		if err != nil {
			return err
		}
		return a.gauges(ms)
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	if !demo {
		if _, err := st.Daily(store.BackupDir(st.Path()), keptBackups); err != nil {
			a.warn(fmt.Errorf("today's backup could not be made: %w", err))
		}
	}
	for {
		err := a.OpenBench(Opened{
			Store: st, Library: a.library(), Theme: a.th, Clock: a.Clock, By: a.who(), Bell: a.cfg.Bell, Demo: demo,
		})
		if !errors.Is(err, ErrShowDemo) || demo {
			return err
		}
		if err := a.fromEmpty().demo(false); err != nil {
			return err
		}
	}
}

// fromEmpty is this run again, with nothing opened yet, for the demo in between.
func (a *app) fromEmpty() *app {
	b := &app{Deps: a.Deps, flags: a.flags, cfg: a.cfg, lib: a.lib, th: a.th}
	return b
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

func (a *app) demo(print bool) (err error) {
	if a.MakeDemo == nil || a.TempDir == nil {
		return errors.New("this oilcan was built without the demo")
	}
	dir, err := a.TempDir()
	if err != nil {
		return unusable(fmt.Errorf("no folder for the demo could be made: %w", err))
	}
	path := filepath.Join(dir, "demo.oilcan")
	if err := a.MakeDemo(path, a.library(), a.now()); err != nil {
		os.RemoveAll(dir)
		return unusable(fmt.Errorf("the demo could not be made: %w", err))
	}
	if print {
		if a.flags.json {
			return a.writeJSON(map[string]string{"file": path})
		}
		a.say("%s", path)
		return nil
	}
	defer os.RemoveAll(dir)
	a.flags.file = path
	return a.openBench(true)
}
