package walk_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// mixes are sessions that together open everything, wet, loosen, part and power.
var mixes = [][]string{
	{"rods-wipe", "belts-reset", "layer-lens-clean", "camera-clean"},
	{"screws-oil", "filter-swap", "plate-wash"},
	{"blade-check", "sock-check", "wiper-check", "fans-blow"},
	{"gears-blow", "feed-path", "tube-wear", "desiccant", "chute-clear"},
	{"nozzle-swap", "heater-ohms", "estop-check"},
	{"blade-check-look", "sock-check-look", "gears-blow-look", "chute-clear-look", "desiccant-look"},
}

// TestBrokenOffAnywhere walks sessions with good and bad answers, breaks them off anywhere and says that the
// machine stands anyhow; a watcher that shares nothing with the interlocks looks on. It always comes to an end.
func TestBrokenOffAnywhere(t *testing.T) {
	lib := library(t)
	rapid.Check(t, func(rt *rapid.T) {
		m := machine(lib, rapid.SampledFrom(machineKinds).Draw(rt, "machine")...)
		var ids []string
		for _, id := range rapid.SampledFrom(mixes).Draw(rt, "mix") {
			if p := lib.Get(id); p != nil && p.Fits(model.NewFeatureSet(m.Features...)) {
				ids = append(ids, id)
			}
		}
		if len(ids) == 0 {
			return
		}
		r := begin(t, lib, m, ids...)
		w := watcher{rt: rt, r: r}
		for range rapid.IntRange(1, 150).Draw(rt, "answers") {
			if r.W.Ended {
				break
			}
			w.act(rapid.IntRange(0, 19).Draw(rt, "kind"))
		}
		for n := 0; !r.W.Ended; n++ {
			if n > 3000 {
				rt.Fatalf("it does not end: %s, %s", r.W.Position(), r.W.Prompt(r.Now).Question)
			}
			w.step()
		}
		w.end()
	})
}

// watcher walks a session and sees to it that nothing dangerous happens.
type watcher struct {
	rt      *rapid.T
	r       *walktest.Run
	solvent time.Time // last use, or since when it airs again
}

func (w *watcher) act(kind int) {
	p := w.r.W.Prompt(w.r.Now)
	switch {
	case kind == 0:
		w.resume()
	case kind <= 3 && p.Kind == walk.AskStep:
		w.say(w.wrong(p))
	case kind == 4:
		w.say("back")
	case kind == 5 && p.Kind == walk.AskState:
		w.state(p)
	case kind == 6 && p.Kind == walk.AskLedger:
		w.say(fmt.Sprint(max(0, p.Want+rapid.IntRange(-1, 1).Draw(w.rt, "off"))) + rapid.SampledFrom([]string{"", " back", " more", " lost"}).Draw(w.rt, "how"))
	case kind == 7:
		w.say(rapid.SampledFrom([]string{"leave no time", "skip no time", "cut no time", "note hm", "pause"}).Draw(w.rt, "verb"))
	default:
		w.step()
	}
}

func (w *watcher) resume() {
	w.r.Now = w.r.Now.Add(rapid.SampledFrom([]time.Duration{time.Minute, time.Hour}).Draw(w.rt, "break"))
	rep, err := w.r.W.Resume(w.r.Context())
	if err := w.r.Take(rep, err); err != nil {
		w.rt.Fatal(err)
	}
	if err := w.r.Settle(); err != nil {
		w.rt.Fatal(err)
	}
	w.look()
}

func (w *watcher) state(p walk.Prompt) {
	vals := p.Options
	if p.Variable == model.Heat {
		vals = []string{"30", "80"}
	}
	text := rapid.SampledFrom(vals).Draw(w.rt, "state")
	if text == "unplugged" && w.r.W.Begun.Settings["plug-tag"] != "" {
		text = w.r.W.Begun.Settings["plug-tag"]
	}
	w.say(text)
}

func (w *watcher) wrong(p walk.Prompt) string {
	bad := append(wrongAnswers(w.r, p.Step), "fail", "0", "1")
	return rapid.SampledFrom(bad).Draw(w.rt, "wrong")
}

func (w *watcher) say(text string) {
	n := len(w.r.J.Entries)
	was := w.r.W.Believed.Clone()
	ledger := w.r.W.Ledger()
	if _, err := w.r.Say(text); err != nil {
		w.rt.Fatalf("%q: %v", text, err)
	}
	w.see(n, was, ledger)
}

func (w *watcher) step() {
	n := len(w.r.J.Entries)
	was := w.r.W.Believed.Clone()
	ledger := w.r.W.Ledger()
	if p := w.r.W.Prompt(w.r.Now); p.Kind == walk.AskState && rapid.IntRange(0, 3).Draw(w.rt, "any") == 0 {
		w.state(p)
		return
	}
	if _, err := w.r.Step(); err != nil && !strings.Contains(err.Error(), "was refused") {
		w.rt.Fatal(err)
	}
	w.see(n, was, ledger)
}

// see looks at what was written.
func (w *watcher) see(n int, was model.Condition, ledger model.Ledger) {
	for _, e := range w.r.J.Entries[n:] {
		x := e.Walk
		if x == nil || x.What != walk.Passed {
			continue
		}
		p := w.proc(x.ID)
		i := slices.IndexFunc(p.Steps, func(s model.Step) bool { return s.Name == x.Step })
		if i < 0 {
			continue // what is owed
		}
		s := p.Steps[i]
		if s.Gate == model.State && s.Variable == model.Power && s.Value == "on" {
			w.power(x.ID, was, ledger)
		}
		if s.Set["vapour"] == "drying" || slices.Contains(s.Starts, "airing") {
			w.solvent = e.At
			if was[model.Power] != "unplugged" || was[model.Heat] != "cold" {
				w.rt.Fatalf("solvent at %s/%s with power %s, heat %s", x.ID, x.Step, was[model.Power], was[model.Heat])
			}
		}
	}
	cleared := was[model.Vapour] == "drying" && w.r.W.Believed[model.Vapour] == "clear" && !wentBack(w.r.J.Entries[n:])
	if cleared && w.r.Now.Sub(w.solvent) < 10*time.Minute {
		w.rt.Fatalf("vapour cleared %s after the last solvent", w.r.Now.Sub(w.solvent))
	}
	w.look()
}

func wentBack(es []model.Entry) bool {
	return slices.ContainsFunc(es, func(e model.Entry) bool { return e.Walk != nil && e.Walk.What == walk.Back })
}

func (w *watcher) proc(id string) *model.Procedure {
	for _, b := range w.r.W.Blocks {
		if b.ID == id {
			return b.Proc
		}
	}
	return &model.Procedure{}
}

// power looks whether it may come on.
func (w *watcher) power(id string, was model.Condition, l model.Ledger) {
	e, owns := plan.ExceptionOf(id)
	if was[model.Vapour] == "drying" || l.Flags["belts"] != "" || l.Flags["lost-piece"] != "" {
		w.rt.Fatalf("power comes on at %s with vapour %s and %s", id, was[model.Vapour], walk.LedgerLine(l))
	}
	if l.Flags["sensor-plug"] != "" && !slices.Contains(e.Flags, "sensor-plug") {
		w.rt.Fatalf("power comes on at %s with a sensor parted", id)
	}
	if was[model.Cover] == "off" && !e.Cover {
		w.rt.Fatalf("power comes on at %s with the cover off", id)
	}
	if !owns && !l.Empty() && (len(l.Out) > 0 || len(l.Inside) > 0) {
		w.rt.Fatalf("power comes on at %s with %s", id, walk.LedgerLine(l))
	}
	if w.r.W.Stopped != "" {
		w.rt.Fatalf("power comes on at %s after a stop", id)
	}
}

// look sees whether hands are asked for where they must not be.
func (w *watcher) look() {
	p := w.r.W.Prompt(w.r.Now)
	l := w.r.W.Ledger()
	for item, n := range l.Out {
		if n < 0 {
			w.rt.Fatalf("%d %s out", n, item)
		}
	}
	for item, n := range l.Inside {
		if n < 0 {
			w.rt.Fatalf("%d %s in", n, item)
		}
	}
	if p.Kind != walk.AskStep || p.Block.Kind != "care" || p.Step.Own {
		return
	}
	b := p.Block.Proc
	now := w.r.W.Believed
	if len(b.Owns) == 0 {
		if ok, miss := now.Meets(b.Require, w.r.W.Features()); !ok && !w.changes(b, miss) {
			w.rt.Fatalf("%s/%s stands with %s %q, it requires %q", b.ID, p.Step.Name, miss, now[miss], b.Require[miss])
		}
	}
	if b.Require[model.Heat] == "cold" && !slices.Contains(b.Owns, "hot") && now[model.Heat] != "cold" {
		w.rt.Fatalf("hands in at %s/%s and heat is %s", b.ID, p.Step.Name, now[model.Heat])
	}
}

// changes tells whether a block's own gates change a variable.
func (w *watcher) changes(b *model.Procedure, v model.Variable) bool {
	return slices.ContainsFunc(b.Steps, func(s model.Step) bool { return s.Gate == model.State && s.Variable == v || s.Set[string(v)] != "" })
}

// end looks at a session that has closed.
func (w *watcher) end() {
	l := w.r.W.Ledger()
	delete(l.Flags, "strand")
	if w.r.W.Stopped != "" {
		delete(l.Flags, "lost-piece")
	}
	if !l.Empty() {
		w.rt.Fatalf("it closed with %s", walk.LedgerLine(l))
	}
	loadsTheSame(w.rt, w.r)
}
