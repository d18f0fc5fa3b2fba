package plan_test

import (
	"testing"
	"time"

	"bench/oilcan/ui/screen/screentest"
)

var places = []screentest.Place{{Name: "plan", Keys: []string{"s", "/", "fails-to", "enter", "enter", "2", "enter", "enter"}}}

// Golden frames, every size, one meaning a key.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromSession, places) }

// TestPlanFindAndNone: nothing chosen shows no order; letters find a procedure, space puts it in.
func TestPlanFindAndNone(t *testing.T) {
	d, _, m := screentest.Session(t, func() time.Time { return screentest.Now })
	d.Keys("c")
	d.Shows("in this order")
	d.Keys("2")
	d.Shows("Nothing is chosen")
	d.Hides("in this order", " begin")
	d.Keys("/", "rods")
	d.Shows("find:", " rods_")
	d.Keys("enter", "space")
	d.Shows("in this order", "Wipe the motion rods")
	d.Keys("/", "no such care", "esc")
	d.Shows("Wipe the motion rods")
	if d.Bench().Machines[m.ID].Session != "" {
		t.Error("a session was begun")
	}
	d.Fits(screentest.EverySize...)
}
