package walk_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// reading answers a step with one value, twice where it is asked again.
func reading(t *testing.T, r *walktest.Run, id, step, value string) {
	t.Helper()
	reach(t, r, id, step)
	for range 2 {
		if s := r.W.Step(); s != nil && s.Name == step && r.W.Block().ID == id {
			say(t, r, value)
		}
	}
}

// Only what is read at hot end, bed, chamber or heated changer is the machine's temperature.
func TestWhatIsNotTheMachineIsNoTemperatureOfIt(t *testing.T) {
	lib := library(t)
	for _, x := range []struct {
		id, step, value string
		ids             []string
	}{
		{"camera-clean", "probe", "39", []string{"camera-clean"}},
		{"heater-ohms", "room", "19.5", []string{"heater-ohms"}},
		{"filter-swap", "probe", "17", []string{"filter-swap"}},
		{"chute-clear", "probe", "16", []string{"chute-clear"}},
	} {
		r := begin(t, lib, machine(lib, "full"), x.ids...)
		reach(t, r, x.id, x.step)
		was := r.W.Seen[model.Heat]
		reading(t, r, x.id, x.step, x.value)
		if now := r.W.Seen[model.Heat]; now != was {
			t.Errorf("%s/%s: %s °C became the machine's temperature: %q", x.id, x.step, x.value,
				now.Note)
		}
	}
}

// How far a hot end strays from its target is no temperature, and the sensor's proof neither.
func TestADifferenceIsNoTemperature(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "heater-ohms")
	reach(t, r, "sensor-proof", "sensor-idle")
	was := r.W.Seen[model.Heat]
	say(t, r, "0")
	if now := r.W.Seen[model.Heat]; now != was {
		t.Errorf("a difference of 0 °C became the machine's temperature: %q", now.Note)
	}
}

func TestTheWarmestPlaceIsTheMachine(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reading(t, r, "cool", "hot-end", "38")
	reading(t, r, "cool", "bed", "44")
	reading(t, r, "cool", "chamber", "30")
	if note := r.W.Seen[model.Heat].Note; note != "44 °C" {
		t.Errorf("hot end 38, bed 44, chamber 30: the machine is shown at %q", note)
	}
	reading(t, r, "cover-off", "probe", "31")
	if note := r.W.Seen[model.Heat].Note; note != "44 °C" {
		t.Errorf("the bed was read at 44 and the hot end now at 31: the machine is shown at %q",
			note)
	}
}

// Heat inside an owned stretch is heat: it is believed as read, and cold again only once it is read
// cold.
func TestHeatReadInAnOwnedStretchIsBelieved(t *testing.T) {
	lib := library(t)
	m := machine(lib, machineKinds[1]...)
	r := begin(t, lib, m, "nozzle-swap")
	reach(t, r, "nozzle-swap", "power-on")
	if r.W.Believed[model.Heat] != "cold" {
		t.Fatalf("before it heats it is %s", r.W.Believed[model.Heat])
	}
	reading(t, r, "nozzle-swap", "heat-lined", "235")
	if r.W.Believed[model.Heat] != "hot" {
		t.Errorf("the hot end was read at 235 °C and is believed %s", r.W.Believed[model.Heat])
	}
	reading(t, r, "nozzle-swap", "cool", "40")
	if r.W.Believed[model.Heat] != "cold" {
		t.Errorf("it was read cold and is believed %s", r.W.Believed[model.Heat])
	}
}

// A room at 1 or 78 °C is a slip: it is asked again, and what no room can have is not taken at all.
// A hot end that read 180 °C is no cold one seconds later; some minutes later it can be, and given
// twice it is believed, for the slip may have been the one before.
func TestNothingCoolsInSeconds(t *testing.T) {
	lib := library(t)
	for _, c := range []struct {
		hot   string
		after time.Duration
		says  []string
		want  string // of the last
	}{
		{"180", 5 * time.Second, []string{"31"}, "nothing cools so fast"},
		{"180", 5 * time.Second, []string{"31", "31 °C"}, ""},
		{"180", 5 * time.Second, []string{"31", "32"}, "nothing cools so fast"},
		{"180", 3 * time.Minute, []string{"31"}, ""},
		{"50", 2 * time.Second, []string{"38"}, "nothing cools so fast"},
		{"50", 2 * time.Second, []string{"44"}, ""}, // by another instrument
	} {
		r := begin(t, lib, machine(lib, "full"), "rods-wipe")
		reach(t, r, "cool", "hot-end")
		say(t, r, c.hot)
		r.Now = r.Now.Add(c.after)
		var last walk.Reply
		for _, text := range c.says {
			var err error
			if last, err = r.W.Answer(r.Context(), text); err != nil {
				t.Fatal(err)
			}
			if err := r.Take(last, nil); err != nil {
				t.Fatal(err)
			}
		}
		if (c.want == "") != (last.Refusal == "") || !strings.Contains(last.Refusal, c.want) {
			t.Errorf("%s, %v after %s: %q", c.hot, c.says, c.after, last.Refusal)
		}
	}
}

func TestAnOddRoomIsAskedAgain(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "heater-ohms")
	reach(t, r, "heater-ohms", "room")
	for _, v := range []string{"1", "78"} {
		if rep := say(t, r, v); !strings.Contains(rep.Refusal, "again") {
			t.Errorf("a room at %s °C: %q", v, rep.Refusal)
		}
	}
	if rep := say(t, r, "78"); rep.Refusal == "" {
		t.Error("a room at 78 °C is taken when given twice")
	}
	say(t, r, "1")
	say(t, r, "1")
	if s := r.W.Step(); s.Name != "block" {
		t.Errorf("a cold room typed twice is not taken: %s", walk.StateLine(r.W))
	}
}

// The machine's own unloading heats the hot end to the print temperature: what was read before says
// nothing after it.
func TestUnloadingLeavesNoOlderReading(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	for range 20 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskStep && p.Block.ID == "unload" && p.Step.Name == "draw" {
			break
		}
		if p.Kind == walk.AskState && p.Variable == model.Heat {
			say(t, r, "62")
		} else if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if line := walk.StateLine(r.W); !strings.Contains(line, "62 °C") {
		t.Fatalf("it was read at 62 °C, and its line is %q", line)
	}
	say(t, r, "unloaded")
	if line := walk.StateLine(r.W); strings.Contains(line, "62 °C") ||
		r.W.Believed[model.Heat] != "hot" {
		t.Errorf("the machine heated since, and its line is %q", line)
	}
}

// order lists the blocks a session went through.
func order(r *walktest.Run) []string {
	var ids []string
	for _, b := range r.W.Blocks {
		ids = append(ids, b.ID)
	}
	return ids
}

// Heater and sensor are measured before anything heats, though other work of the session wants the
// strand out.
func TestOhmsAreMeasuredStoneCold(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "heater-ohms", "blade-check")
	for {
		if b := r.W.Block(); b != nil && b.ID == "heater-ohms" {
			break
		}
		if b := r.W.Block(); b != nil && (b.ID == "heat" || b.ID == "unload") {
			t.Fatalf("%s stands before the measurement: %v", b.ID, order(r))
		}
		if over, err := r.Step(); err != nil || over {
			t.Fatal(err, order(r))
		}
	}
	finish(t, r)
}

// Found hot, it is left for another day: said, and a finding that stands.
func TestOhmsOfAHotMachineAreLeft(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "heater-ohms", "fans-blow")
	var said string
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		text := walktest.Good(r.W, r.Context(), r.W.Prompt(r.Now))
		if r.W.Prompt(r.Now).Variable == model.Heat {
			text = "120"
		}
		said += say(t, r, text).Note
	}
	if !strings.Contains(said, "left for another day") {
		t.Errorf("it says %q", said)
	}
	finish(t, r)
	for _, id := range order(r) {
		if id == "heater-ohms" {
			t.Errorf("it was measured all the same: %v", order(r))
		}
	}
	for _, e := range r.J.Entries {
		if e.Finding != nil && e.Finding.Procedure == "heater-ohms" && e.Finding.Kind == "later" {
			return
		}
	}
	t.Error("no finding says that it is still to be measured")
}

// Read hot on the way, though it was said to be cold, it is left for another day too, and nothing
// is opened for it.
func TestOhmsOfAMachineReadHotOnTheWayAreLeft(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, machineKinds[1]...), "heater-ohms", "fans-blow")
	reach(t, r, "switch-off", "cold")
	if !slices.Contains(blocksOf(r), "heater-ohms") {
		t.Fatalf("it is not planned: %v", blocksOf(r))
	}
	if rep := say(t, r, "46"); rep.Refusal == "" {
		t.Fatal("46 °C passes for cold")
	}
	finish(t, r)
	if slices.Contains(order(r), "heater-ohms") {
		t.Errorf("it was measured all the same: %v", order(r))
	}
	if !slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
		return e.Finding != nil && e.Finding.Procedure == "heater-ohms" && e.Finding.Kind == "later"
	}) {
		t.Error("no finding says that it is still to be measured")
	}
}

// TestTheFanOnTheFinsRunsBeforeMoreThan60: common practice: the fan that keeps the heat break cold
// starts at 50 to 60 °C. It is seen to run before any more is asked for, before filament is drawn
// as before what is owed while it warms up.
func TestTheFanOnTheFinsRunsBeforeMoreThan60(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	for r.W.Prompt(r.Now).Variable != model.Heat {
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	say(t, r, "25")
	reach(t, r, "heat", "fan")
	if s := r.W.Step(); !s.Attended || slices.Contains(passedOf(r), "heat/target") {
		t.Error("the target is set before the fan is seen")
	}
	stopAt(t, r, "stands still")
	finishStopped(t, r)

	r = begin(t, lib, machine(lib, machineKinds[1]...), "sock-check")
	reach(t, r, "sock-check", "tug")
	say(t, r, "loose")
	reach(t, r, "owed-hot", "sock-check.first-heat")
	if !slices.Contains(passedOf(r), "owed-hot/fan") {
		t.Errorf("warmed up before the fan is seen: %v", passedOf(r))
	}
}
