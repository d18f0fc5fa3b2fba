package walk_test

import (
	"slices"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk/walktest"
)

// proving walks to a step of the proof of a sensor that was parted.
func proving(t *testing.T, step string) *walktest.Run {
	t.Helper()
	lib := library(t)
	m := machine(lib, "full")
	m.Latched = model.Condition{model.Sensor: "unproved", model.Vapour: "clear"}
	r := begin(t, lib, m, "heater-ohms")
	reach(t, r, "sensor-proof", step)
	return r
}

// TestAPartedSensorIsProvedByWatching: common practice: the first heat after a plug was parted is
// watched from the switch, and each thing that can be seen then but its own rise ends without heat.
func TestAPartedSensorIsProvedByWatching(t *testing.T) {
	r := proving(t, "sensor-rise")
	s := r.W.Step()
	if !s.Attended || !slices.ContainsFunc(r.W.Cautions(), func(c model.Caution) bool {
		return c.ID == "watched"
	}) {
		t.Error("nobody is told to stay at the switch")
	}
	for _, bad := range []string{"nothing after 20 s", "another one rises", "jumps or runs on"} {
		r := proving(t, "sensor-rise")
		stopAt(t, r, bad)
		finishStopped(t, r)
		if r.W.Believed[model.Sensor] == "proved" {
			t.Errorf("%s: the sensor is proved", bad)
		}
	}
}

// TestAWarmSensorWaits: hands go in at 45 °C, and a bed in a shut machine sheds half of what it has
// over the room in some twenty minutes (from memory): what is warm from work gets ten minutes at a
// time, five times more. What still does not read the room after that hour lies, and heat is not
// safe.
func TestAWarmSensorWaits(t *testing.T) {
	for _, place := range []string{"sensor-idle", "bed-idle"} {
		r := proving(t, "sensor-look")
		from := r.Now
		say(t, r, "still warm")
		for n := 1; r.W.Stopped == ""; n++ {
			reach(t, r, "sensor-proof", place)
			if d := r.Now.Sub(from); d < time.Duration(n)*10*time.Minute {
				t.Fatalf("%s: read for the %d. time after %s", place, n, d)
			}
			if n > 6 {
				t.Fatalf("%s: 9 °C over the room, and it goes round", place)
			}
			say(t, r, "9")
			say(t, r, "9")
			if n == 1 && r.W.Stopped != "" {
				t.Fatalf("%s: a machine warm from work is stopped", place)
			}
		}
	}
}
