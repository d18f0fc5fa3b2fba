package book

import (
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/ui/action"
)

func TestLinesSayEveryKind(t *testing.T) {
	at := func(d int) time.Time { return time.Date(2026, 11, d, 9, 0, 0, 0, time.UTC) }
	three, twelve := 3.0, 12.25
	machine := func(f model.MachineFact) model.Fact {
		return model.Fact{Kind: model.KindMachine, Machine: &f}
	}
	names := action.Names{Procs: []*model.Procedure{{ID: "rods-wipe",
		Title: "Wipe the motion rods"}},
		Symptoms: &symptom.Table{Symptoms: []symptom.Symptom{{ID: "ringing",
			Title: "Echoes beside edges"}}}}
	for _, c := range []struct {
		name string
		fact model.Fact
		want string
	}{
		{"reading", model.Fact{Kind: model.KindReading,
			Reading: &model.Reading{Meter: model.Hours, Value: 1234}}, "hours 1 234"},
		{"new counter", model.Fact{Kind: model.KindReading,
			Reading: &model.Reading{Meter: model.Hours, Value: 1, NewMeter: true}},
			"hours 1, a new counter"},
		{"care", model.Fact{Kind: model.KindCare, Care: &model.CareDone{Procedure: "rods-wipe",
			Outcome: "done", ProofOwed: true}}, "Wipe the motion rods: done, proof owed"},
		{"a look", model.Fact{Kind: model.KindCare, Care: &model.CareDone{Procedure: "rods-wipe",
			Outcome: "done", Found: "expected"}}, "Wipe the motion rods: done, found as expected"},
		{"last time not known",
			model.Fact{Kind: model.KindCare, Care: &model.CareDone{Procedure: "rods-wipe",
				Outcome: "unknown"}}, "Wipe the motion rods: last time not known"},
		{"swap", model.Fact{Kind: model.KindSwap, Swap: &model.Swapped{Part: "blade", End: "worn"}},
			"blade renewed, the old one worn"},
		{"swap, end not known",
			model.Fact{Kind: model.KindSwap, Swap: &model.Swapped{Part: "blade", End: "unknown"}},
			"blade renewed"},
		{"counted", model.Fact{Kind: model.KindStock,
			Stock: &model.StockMove{Part: "blade", Counted: &three}}, "drawer: blade counted, 3"},
		{"used", model.Fact{Kind: model.KindStock,
			Stock: &model.StockMove{Part: "blade", Change: -1}}, "drawer: blade -1"},
		{"finding", model.Fact{Kind: model.KindFinding,
			Finding: &model.Found{Text: "squeal", Again: at(28)}},
			"found: squeal; look again 2026-11-28"},
		{"value", model.Fact{Kind: model.KindValue,
			Value: &model.Measured{Name: "heater", Value: twelve, Unit: "ohm"}},
			"heater 12.25 ohm"},
		{"due", model.Fact{Kind: model.KindDue,
			Due: &model.FallsDue{Procedure: "rods-wipe", Because: "grit"}},
			"Wipe the motion rods: is now due: grit"},
		{"no longer in the library",
			model.Fact{Kind: model.KindCare, Care: &model.CareDone{Procedure: "wicks-trim",
				Outcome: "done"}}, "wicks-trim: done"},
		{"not cured", model.Fact{Kind: model.KindOutcome,
			Outcome: &model.Outcome{Symptom: "ringing", Procedure: "rods-wipe",
				Is: model.NotCured}}, "Wipe the motion rods did not cure Echoes beside edges"},
		{"failed print", model.Fact{Kind: model.KindFailed,
			Failed: &model.PrintFailed{Symptom: "ringing", Note: "tall vase"}},
			"print failed, Echoes beside edges: tall vase"},
		{"failed print, other", model.Fact{Kind: model.KindFailed,
			Failed: &model.PrintFailed{Note: "the power went"}}, "print failed: the power went"},
		{"tag", model.Fact{Kind: model.KindTag,
			Tag: &model.TagMove{Kind: "waiting", Why: "nozzle"}}, "tag waiting: nozzle"},
		{"tag cleared", model.Fact{Kind: model.KindTag,
			Tag: &model.TagMove{Kind: "waiting", Clear: true}}, "tag waiting cleared"},
		{"begun", model.Fact{Kind: model.KindBegun,
			Begun: &model.Begun{Title: "care session", Items: make([]model.BlockRef, 1)}},
			"care session begun, 1 procedure"},
		{"given up", model.Fact{Kind: model.KindClosed,
			Closed: &model.Closed{GivenUp: true, Hands: 5, Why: "late"}},
			"care session given up; hands 5 min, waited 0: late"},
		{"step", model.Fact{Kind: model.KindWalk, Walk: &model.Walked{What: "refused", ID: "unplug",
			Step: "plug", Answer: "no"}}, "unplug: plug refused no"},
		{"added", machine(model.MachineFact{ID: "m", Name: "Heron", Duty: model.Home}),
			"added, home duty"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Lines([]model.Entry{{ID: "e", At: at(1), Fact: c.fact}}, names,
				at(1))[0].Text; got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestLinesSayChangesAndStrikes(t *testing.T) {
	at := time.Date(2026, 11, 1, 9, 0, 0, 0, time.UTC)
	was := model.MachineFact{ID: "m", Name: "Heron", Duty: model.Home,
		Features: []model.Feature{"camera"}, Settings: map[string]string{"rods": "2",
			"unknown:plug-tag": "x"}}
	is := model.MachineFact{ID: "m", Name: "Teal", Duty: model.Production, OutOfUse: true,
		Features: []model.Feature{"wiper"}, Settings: map[string]string{"rods": "4"},
		Bands: map[string]model.Band{"blade-check": {Low: 2000, High: 3500}}}
	got := Lines([]model.Entry{
		{Seq: 4, ID: "d", Action: "a4", At: at.Add(3),
			Fact: model.Fact{Kind: model.KindStrike,
				Strike: &model.Strike{Action: "a3", Why: "wrong"}}},
		{Seq: 3, ID: "c", Action: "a3", At: at.Add(-9),
			Fact: model.Fact{Kind: model.KindReading,
				Reading: &model.Reading{Meter: model.Hours, Value: 5}}},
		{Seq: 1, ID: "a", Action: "a1", At: at,
			Fact: model.Fact{Kind: model.KindMachine, Machine: &was}},
		{Seq: 2, ID: "b", Action: "a2", At: at.Add(1),
			Fact: model.Fact{Kind: model.KindMachine, Machine: &is}},
	}, action.Names{}, at)
	want := []struct {
		text   string
		struck bool
	}{
		{"hours 5", true},
		{"added, home duty", false},
		{"renamed Teal, was Heron, production duty, out of use, its calendar waits, +wiper, -camera, rods 4, blade-check 2 000–3 500, own record", false},
		{`struck "hours 5": wrong`, false},
	}
	for i, w := range want {
		if got[i].Text != w.text || got[i].Struck != w.struck {
			t.Errorf("line %d: %q, struck %v; want %q, %v", i, got[i].Text, got[i].Struck, w.text,
				w.struck)
		}
	}
}

func TestChangesOfUse(t *testing.T) {
	use := func(out, retired bool) model.MachineFact {
		return model.MachineFact{OutOfUse: out, Retired: retired}
	}
	for _, c := range []struct {
		name    string
		was, is model.MachineFact
		want    string
	}{
		{"nothing", use(false, false), use(false, false), ""},
		{"out of use", use(false, false), use(true, false), "out of use, its calendar waits"},
		{"in use again", use(true, false), use(false, false), "in use again"},
		{"retired", use(false, false), use(false, true), "retired"},
		{"retired while out of use", use(true, false), use(true, true), "retired"},
		{"back", use(true, true), use(false, false), "back from retirement"},
		{"a question put", model.MachineFact{},
			model.MachineFact{Settings: map[string]string{"unknown:plug-tag": "x"}}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Changes(c.was, c.is, time.Time{}); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}
