package command

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bench/oilcan/procedures"
	"bench/oilcan/store"
)

// hasScreens tells whether there is a terminal to draw screens on.
func hasScreens(a *app) bool {
	return a.InputTTY && a.OutputTTY && a.Env("TERM") != "dumb" && !a.flags.json &&
		a.OpenBench != nil
}

// showScreens runs the screens on the data file until the person leaves them; caught is called once
// they end in order on a signal.
func showScreens(a *app, demo bool, caught func()) error {
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
		Notes: notes, Wrong: st.ClockWarning(),
		Store: st, Library: lib, Theme: a.th, Clock: a.Clock, By: a.who(), Bell: a.cfg.Bell,
		Pace:  a.cfg.Pace,
		Title: strings.TrimSpace(a.cfg.Bench), Currency: strings.TrimSpace(a.cfg.Currency), Demo: demo, Caught: caught,
	})
}

// fromEmpty is this run again, with nothing opened yet, for the demo in between.
func fromEmpty(a *app) *app {
	return &app{Deps: a.Deps, out: a.out, errs: a.errs, terminal: a.terminal, flags: a.flags,
		cfg: a.cfg, notes: a.notes, lib: a.lib, th: a.th}
}

// showDemo makes the invented bench and shows it, or prints where it lies. What is only shown
// leaves nothing behind, whether it ends by itself or by a signal: the screens end in order on one,
// and before they stand the folder is removed here.
func showDemo(a *app, print bool) error {
	if a.MakeDemo == nil || a.TempDir == nil {
		return errors.New("this oilcan was built without the demo")
	}
	dir, err := a.TempDir()
	if err != nil {
		return unusable(fmt.Errorf("no folder for the demo could be made: %w", err))
	}
	remove := func() { os.RemoveAll(dir) }
	release := whenEnded(a, remove)
	defer release()
	path := filepath.Join(dir, "demo.oilcan")
	if err := a.MakeDemo(path, a.library(), a.now()); err != nil {
		remove()
		return unusable(fmt.Errorf("the demo could not be made: %w", err))
	}
	if print {
		return answer(a, map[string]string{"file": path}, "%s", path)
	}
	defer remove()
	a.flags.file = path
	if !hasScreens(a) {
		return printBench(a)
	}
	return showScreens(a, true, release)
}

// whenEnded has clean run where a signal ends the program, until release.
func whenEnded(a *app, clean func()) (release func()) {
	if a.OnSignal == nil {
		return func() {}
	}
	return a.OnSignal(clean)
}
