package walk

import (
	"testing"
	"time"

	"bench/oilcan/model"
)

// TestWhatAWaitAllows: two waits may run at once, so that the one a step names is not all that the
// machine is in. In vapour only what airing allows is done, at a hot or live machine only what
// cooling allows.
func TestWhatAWaitAllows(t *testing.T) {
	cold := model.Condition{model.Power: model.Unplugged, model.Heat: model.Cold,
		model.Vapour: model.Clear}
	vapour := model.Condition{model.Power: model.Unplugged, model.Heat: model.Cold,
		model.Vapour: model.Drying}
	hot := model.Condition{model.Power: model.Unplugged, model.Heat: model.Hot,
		model.Vapour: model.Clear}
	live := model.Condition{model.Power: model.On, model.Heat: model.Cold,
		model.Vapour: model.Clear}
	both := []string{"cool", "air"}
	for _, c := range []struct {
		name  string
		is    model.Condition
		named []string
		want  bool
	}{
		{"cold, beside cooling", cold, []string{"cool"}, true},
		{"cold, beside airing", cold, []string{"air"}, true},
		{"in vapour, beside cooling", vapour, []string{"cool"}, false},
		{"in vapour, beside airing", vapour, []string{"air"}, true},
		{"hot, beside airing", hot, []string{"air"}, false},
		{"hot, beside cooling", hot, []string{"cool"}, true},
		{"live, beside airing", live, []string{"air"}, false},
		{"live, beside either", live, both, true},
		{"cold, beside none that runs", cold, []string{"map"}, false},
		{"cold, beside none", cold, nil, false},
	} {
		w := &Walk{}
		w.Believed = c.is
		s := &model.Step{Name: "look", Gate: model.Confirm, Meanwhile: c.named}
		if got := w.fills(&Block{Kind: model.BlockCare}, s, both); got != c.want {
			t.Errorf("%s: allowed %t", c.name, got)
		}
	}
	for _, clock := range []string{"cooling", "airing", ""} {
		// whoever watches a wait does nothing else
		if name := nameOfWait(
			&model.Step{Name: "watch", Clock: clock, Attended: true}); name != "" {
			t.Errorf("an attended wait is called %s", name)
		}
	}
	w := &Walk{}
	w.Believed = cold
	w.Waits = []Running{{Name: "cool", Until: at.Add(time.Hour)}, {Until: at.Add(time.Minute)}}
	if names := w.waitsRunning(at); len(names) > 0 {
		t.Errorf("beside a watched wait %v give time", names)
	}
	for name, s := range map[string]model.Step{
		"takes something out": {Out: map[string]model.Amount{"lid": {N: 1}}},
		"moves by itself":     {Drives: []string{"motion"}},
		"turns a screw":       {Fastener: &model.Fastener{}},
	} {
		s.Name, s.Gate, s.Meanwhile = "work", model.Confirm, both
		if w.fills(&Block{Kind: model.BlockCare}, &s, both) {
			t.Errorf("what %s is done while a wait runs", name)
		}
	}
}
