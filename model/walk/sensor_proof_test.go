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

// TestAPartedSensorIsProvedByWatching: common practice: the first heat after a plug was parted is watched from the
// switch, and each thing that can be seen then but its own rise ends without heat.
func TestAPartedSensorIsProvedByWatching(t *testing.T) {
	r := proving(t, "sensor-rise")
	s := r.W.Step()
	if !s.Attended || !slices.ContainsFunc(r.W.Cautions(), func(c model.Caution) bool { return c.ID == "watched" }) {
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

// TestAWarmSensorWaitsOnce: what is warm from work gets ten minutes, and then it reads the room or heat is not safe.
func TestAWarmSensorWaitsOnce(t *testing.T) {
	for _, place := range []string{"sensor-idle", "bed-idle"} {
		r := proving(t, "sensor-look")
		from := r.Now
		say(t, r, "still warm")
		reach(t, r, "sensor-proof", place)
		if d := r.Now.Sub(from); d < 10*time.Minute {
			t.Errorf("read again after %s", d)
		}
		say(t, r, "9")
		say(t, r, "9")
		if r.W.Stopped == "" {
			t.Errorf("%s: 9 °C over the room, and it goes round: %s", place, r.W.Step().Name)
		}
	}
}
