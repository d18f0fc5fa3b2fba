package command

import (
	"time"

	"bench/oilcan/store"
	"bench/oilcan/ui/theme"
)

// progressWidth is how many cells a progress line takes at most.
const progressWidth = 60

// barWidth is how many of them a bar takes.
const barWidth = 30

// unwatched is how long a person waits without being told how far it is; redrawn, how often that is
// drawn anew.
const (
	unwatched = time.Second
	redrawn   = 100 * time.Millisecond
)

// watch shows on a terminal how far work is that takes its time; done takes the bar away.
func watch(a *app, doing string) (seen store.Seen, done func()) {
	if !a.OutputTTY || a.flags.json {
		return nil, func() {}
	}
	next, shown := a.now().Add(unwatched), false
	return func(n, all int) {
			now := a.now()
			if now.Before(next) || all == 0 {
				return
			}
			next, shown = now.Add(redrawn), true
			a.errs.Over(progressWidth, "%s %s ", doing,
				theme.Painted(a.th.Progress(barWidth, float64(n)/float64(all))))
		}, func() {
			if shown {
				a.errs.Over(progressWidth, "")
			}
		}
}
