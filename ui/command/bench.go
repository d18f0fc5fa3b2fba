package command

import (
	"errors"
)

// openBench opens the screens, or prints the gauges where there is no terminal for them.
func openBench(a *app) error {
	if !hasScreens(a) {
		return printBench(a)
	}
	a.drawing = true
	defer func() {
		for _, err := range a.untold {
			a.warn(err)
		}
	}()
	for {
		err := showScreens(a, false, nil)
		if !errors.Is(err, ErrShowDemo) {
			return err
		}
		if err := showDemo(fromEmpty(a), false); err != nil {
			return err
		}
	}
}
