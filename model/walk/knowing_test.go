package walk

import (
	"slices"
	"testing"
	"time"

	"bench/oilcan/model"
)

// at is when the tests of what is known are.
var at = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// knowsAll is a walk that knows all that can be known, answered by one operator a minute ago.
func knowsAll() *Walk {
	w := &Walk{history: history{LastAt: at.Add(-time.Minute), LastBy: "LN", Ordinal: 9}}
	w.known = map[string]known{}
	for _, name := range model.KnownNames {
		w.known[name] = known{at: w.LastAt}
	}
	return w
}

// passes passes a step of care.
func passes(s model.Step) func(w *Walk) {
	return func(w *Walk) {
		w.staleByStep(&Block{Kind: model.BlockCare, Proc: &model.Procedure{}}, &s)
	}
}

// becomes changes the machine's state.
func becomes(v model.Variable, to, from string) func(w *Walk) {
	return func(w *Walk) { w.staleByState(v, to, from) }
}

// writes takes an entry of the session.
func writes(e model.Entry) func(w *Walk) {
	return func(w *Walk) { w.staleByBreak(e) }
}

// TestWhatAnEventMakesUnknown holds the table of what is asked again to the machine, event by
// event: what guards a person is never known over what could have changed it.
func TestWhatAnEventMakesUnknown(t *testing.T) {
	inside := []string{"inside-head", "inside-chamber", "inside-changer"}
	live := slices.Concat([]string{"against", "rests", "targets-zero", "cold", "plugs", "strand",
		"tube-clear", "plate", "corners", "fins-fan"}, inside)
	heat := []string{"targets-zero", "cold", "strand", "tube-clear"}
	motion := []string{"rests", "plate", "corners"}
	var all []string // that does not outlast a break: what was laid out lies there still
	for _, name := range model.KnownNames {
		if name != "supplies" {
			all = append(all, name)
		}
	}
	item := map[string]model.Amount{"pin": {N: 1}}
	for _, c := range []struct {
		name string
		do   func(w *Walk)
		gone []string
	}{
		{"power comes", becomes(model.Power, model.On, model.Off), live},
		{"the plug goes in", becomes(model.Power, model.Off, model.Unplugged), live},
		{"nobody knew of the plug, and it is in", becomes(model.Power, model.Off, ""), live},
		{"the plug comes out", becomes(model.Power, model.Unplugged, model.Off), nil},
		{"it is off as before", becomes(model.Power, model.Off, model.Off), nil},
		{"it is said to be hot", becomes(model.Heat, model.Hot, model.Cold), heat},
		{"it has cooled", becomes(model.Heat, model.Cold, model.Hot), nil},
		{"a heater gets a target", passes(model.Step{Drives: []string{"heat"}}), heat},
		{"it moves by itself", passes(model.Step{Drives: []string{"motion"}}), motion},
		{"it runs under an exception", passes(model.Step{Own: true}), slices.Concat(heat, motion)},
		{"the bed goes up", becomes(model.Bed, model.High, model.Low), motion},
		{"the cover comes off", becomes(model.Cover, model.Values[model.Cover][1],
			model.Values[model.Cover][0]), []string{"whole", "corners", "tools", "fins-fan",
			"inside-head"}},
		{"the changer comes off", becomes(model.Changer, model.Values[model.Changer][1],
			model.Values[model.Changer][0]), []string{"whole", "corners", "tools", "fins-fan",
			"inside-changer"}},
		{"the top comes off", becomes(model.Top, model.Values[model.Top][1],
			model.Values[model.Top][0]), []string{"whole", "corners", "tools", "fins-fan",
			"inside-chamber"}},
		{"the door opens", becomes(model.Door, model.Values[model.Door][1],
			model.Values[model.Door][0]), []string{"whole", "corners", "tools", "fins-fan",
			"inside-chamber"}},
		{"the cover goes on", func(w *Walk) {
			on := model.Change{Variable: model.Cover, From: model.Values[model.Cover][1],
				To: model.Values[model.Cover][0]}
			w.staleByStep(&Block{Kind: model.BlockSetUp, key: "cover-on#0",
				Proc: &model.Procedure{Change: &on}}, &model.Step{})
		}, []string{"corners"}},
		{"something is taken out", passes(model.Step{Out: item}),
			append([]string{"whole", "corners"}, inside...)},
		{"something is put in", passes(model.Step{In: item}),
			append([]string{"whole", "corners"}, inside...)},
		{"a block is stood in", passes(model.Step{In: map[string]model.Amount{"blocks": {N: 1}}}),
			append([]string{"whole", "corners", "blocks", "rests"}, inside...)},
		{"a block is drawn", passes(model.Step{Taken: map[string]model.Amount{"blocks": {N: 1}}}),
			[]string{"blocks", "rests"}},
		{"the plate goes back", passes(model.Step{Back: map[string]model.Amount{"plate": {N: 1}}}),
			[]string{"plate", "rests"}},
		{"a wipe goes in", passes(model.Step{In: map[string]model.Amount{"wipes": {N: 1}}}),
			append([]string{"whole", "corners", "wipes-out"}, inside...)},
		{"solvent is wetted", passes(model.Step{Set: map[string]string{"vapour": "drying"}}),
			[]string{"wipes-out"}},
		{"a screw is turned", passes(model.Step{Fastener: &model.Fastener{}}), []string{"corners"}},
		{"a stub is left in the head", passes(model.Step{Set: map[string]string{"strand": "left"}}),
			[]string{"strand"}},
		{"a look", passes(model.Step{Gate: model.Choice}), nil},
		{"an answer a minute later", writes(model.Entry{At: at, By: "LN"}), nil},
		{"half an hour and more without one", writes(model.Entry{At: at.Add(maxIdle), By: "LN"}),
			all},
		{"another operator", writes(model.Entry{At: at, By: "RB"}), all},
		{"a pause", writes(model.Entry{At: at, By: "LN",
			Fact: model.Fact{Walk: &model.Walked{What: Paused}}}), all},
		{"it is gone on with",
			writes(model.Entry{At: at, By: "LN",
				Fact: model.Fact{Walk: &model.Walked{What: Resumed}}}), all},
		{"a stop", writes(model.Entry{At: at, By: "LN",
			Fact: model.Fact{Walk: &model.Walked{What: Missed, Then: model.ThenStop}}}), all},
	} {
		w := knowsAll()
		c.do(w)
		for _, name := range model.KnownNames {
			if name == fitted || name == codes { // told by the journal itself
				continue
			}
			if _, known := w.known[name]; known == slices.Contains(c.gone, name) {
				t.Errorf("%s: %s is known %t", c.name, name, known)
			}
		}
	}
	for event, names := range stale {
		for _, name := range names {
			if !slices.Contains(model.KnownNames, name) {
				t.Errorf("%s makes %q unknown, which nothing makes known", event, name)
			}
		}
	}
	if n := len(stale); n != 15 {
		t.Errorf("%d events make something unknown: each has its lines above", n)
	}
}

// TestWhatAnAnswerMakesKnown: a row passed together with others makes nothing known that guards a
// person; what stands alone or has its own key does, answered well and by a person.
func TestWhatAnAnswerMakesKnown(t *testing.T) {
	// wrong, only the machine suffers
	harmless := []string{"strand", "tube-clear", "plate", "corners", "supplies"}
	b := &Block{ID: layOut, Kind: model.BlockCare, Proc: &model.Procedure{}}
	learnt := func(s model.Step, x model.Walked) bool {
		w := &Walk{}
		w.known = map[string]known{}
		w.learn(model.Entry{At: at}, b, &s, &x)
		return len(w.known) > 0
	}
	for _, name := range model.KnownNames {
		if name == fitted || name == codes { // told by the journal itself, never by an answer
			continue
		}
		row := model.Step{Gate: model.Choice, Known: name,
			Options: []model.Option{{Is: "well"}, {Is: "not well"}}}
		alone, own := row, row
		alone.Alone, own.OwnKey = true, true
		well := model.Walked{What: Passed, Answer: "well"}
		if got := learnt(row, well); got != slices.Contains(harmless, name) {
			t.Errorf("%s is known by a plain row: %t", name, got)
		}
		if name == "cold" { // known by a reading of the hot end alone
			if learnt(alone, well) || learnt(own, well) {
				t.Error("it is known to be cold by a word")
			}
			alone.Gate, alone.Unit, alone.Quantity, alone.Options = model.Measure, "°C", "hot end temperature", nil
			if !learnt(alone, well) {
				t.Error("it is not known to be cold by a reading of the hot end")
			}
			if alone.Quantity = "lamp temperature"; learnt(alone, well) {
				t.Error("it is known to be cold by a reading of the lamp")
			}
			continue
		}
		if !learnt(alone, well) || !learnt(own, well) {
			t.Errorf("%s is not known by what stands alone or has its own key", name)
		}
		if name != "blow-with" && learnt(alone, model.Walked{What: Passed, Answer: "not well"}) {
			// there it is a choice, not a proof
			t.Errorf("%s is known by the other answer", name)
		}
		if learnt(alone, model.Walked{What: Passed, Answer: "well", Auto: true}) ||
			learnt(alone, model.Walked{What: Passed, Answer: "well", How: model.OnPaper}) {
			t.Errorf("%s is known by what nobody answered here", name)
		}
	}
}
