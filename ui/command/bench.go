package command

import (
	"errors"
	"fmt"

	"bench/oilcan/store"
)

// openBench opens the screens, or prints the gauges where there is no terminal for them.
func openBench(a *app) error {
	if !hasScreens(a) {
		return printBench(a)
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	if _, err := st.Daily(store.BackupDir(st.Path()), keptBackups); err != nil {
		a.warn(fmt.Errorf("today's backup could not be made: %w", err))
	}
	for {
		err := showScreens(a, false)
		if !errors.Is(err, ErrShowDemo) {
			return err
		}
		if err := showDemo(fromEmpty(a), false); err != nil {
			return err
		}
	}
}
