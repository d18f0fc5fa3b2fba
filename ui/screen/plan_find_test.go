package screen

import (
	"testing"
	"time"
)

// TestPlanFindAndNone: nothing chosen shows no order; letters find a procedure, space puts it in.
func TestPlanFindAndNone(t *testing.T) {
	d, _, m := sessionDesk(t, func() time.Time { return fixedNow })
	d.keys("c")
	d.shows("in this order")
	d.keys("2")
	d.shows("Nothing is chosen")
	d.hides("in this order", " begin")
	d.keys("/", "rods")
	d.shows("find:", " rods_")
	d.keys("enter", "space")
	d.shows("in this order", "Wipe the motion rods")
	d.keys("/", "no such care", "esc")
	d.shows("Wipe the motion rods")
	if d.bench().Machines[m.ID].Session != "" {
		t.Error("a session was begun")
	}
	d.fits(everySize...)
}
