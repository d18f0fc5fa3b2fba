package walk_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
	"bench/oilcan/store/storetest"
)

// mixes are sessions that together open everything, wet, loosen, part and power.
var mixes = [][]string{
	{"rods-wipe", "belts-reset", "layer-lens-clean", "camera-clean"},
	{"screws-oil", "filter-swap", "plate-wash"},
	{"blade-check", "sock-check", "wiper-check", "fans-blow"},
	{"gears-blow", "feed-path", "tube-wear", "desiccant", "chute-clear"},
	{"nozzle-swap", "heater-ohms", "estop-check"},
	{"bed-cable", "fan-swap", "fans-blow", "self-check"},
	{"return-to-service", "flow-check", "bed-tram", "nozzle-swap-look"},
	{"heater-ohms", "hotend-swap", "gear-swap"},
	{"blade-check-look", "sock-check-look", "gears-blow-look", "chute-clear-look",
		"desiccant-look"},
	{"desiccant-look", "rods-wipe", "filter-swap", "self-check"},
}

// TestBrokenOffAnywhere walks sessions with good and bad answers, breaks them off anywhere and says
// that the machine stands anyhow; a watcher that shares nothing with the interlocks looks on. It
// always comes to an end.
func TestBrokenOffAnywhere(t *testing.T) {
	storetest.Draws(t, 40)
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
		r := beginAs(t, lib, m, drawnStart(rt, lib, m), ids...)
		r.Pace = rapid.SampledFrom([]string{walk.Steps, walk.Pages}).Draw(rt, "pace")
		w := watcher{rt: rt, r: r, shop: newShop()}
		for range rapid.IntRange(1, 150).Draw(rt, "answers") {
			if r.W.Ended {
				break
			}
			w.act(rapid.IntRange(0, 19).Draw(rt, "kind"))
		}
		for n := 0; !r.W.Ended; n++ {
			if n > 3000 {
				rt.Logf("what led to it:\n%s", w.trail())
				rt.Fatalf("it does not end: %s, %s", r.W.Position(), r.W.Prompt(r.Now).Question)
			}
			w.step()
		}
		w.end()
	})
}

// drawnStart is how a session is begun: one in three leaves its machine unplugged, one in three
// finds checks owed.
func drawnStart(rt *rapid.T, lib *procedures.Library, m *model.Machine) walk.Start {
	var s walk.Start
	if rapid.IntRange(0, 2).Draw(rt, "leave") == 0 {
		s.Leave = model.Unplugged
	}
	if rapid.IntRange(0, 2).Draw(rt, "owed") == 0 {
		s.Owed = carried(lib, m, "fans-blow", "board-fans", "part-fan", "hot-end-fan")
	}
	return s
}

// carried are checks of a procedure that an earlier session owes.
func carried(lib *procedures.Library, m *model.Machine, id string, steps ...string) []walk.Carried {
	p := lib.Get(id)
	if p == nil {
		p = setUp(lib, id)
	}
	fs := model.NewFeatureSet(m.Features...)
	if !p.Fits(fs) {
		return nil
	}
	p = p.For(fs, m.Settings)
	var out []walk.Carried
	for _, step := range steps {
		if slices.ContainsFunc(p.Later, func(l model.Later) bool { return l.Name == step }) {
			out = append(out, walk.Carried{Text: p,
				Owed: model.Owed{Procedure: id, Step: step, Finding: "F-" + step}})
		}
	}
	return out
}

// setUp is a set-up action of the library.
func setUp(lib *procedures.Library, id string) *model.Procedure {
	all := lib.SetUps()
	return all[slices.IndexFunc(all, func(p *model.Procedure) bool { return p.ID == id })]
}

// watcher walks a session and sees to it that nothing dangerous happens.
type watcher struct {
	rt   *rapid.T
	r    *walktest.Run
	shop shop // the machine, by the test's own account
	cuts int  // plans that take power away, since something else was done or said
}

// cutsAtOneStand is how often power is taken away with nothing done between: once for what is out,
// once for what is found while looking.
const cutsAtOneStand = 3

func (w *watcher) act(kind int) {
	p := w.r.W.Prompt(w.r.Now)
	switch {
	case kind == 0:
		w.resume()
	case kind <= 3 && w.page() != nil:
		w.row()
	case kind <= 3 && p.Kind == walk.AskStep:
		w.say(w.wrong(p))
	case kind == 4:
		w.say("back")
	case kind == 5 && p.Kind == walk.AskState:
		w.state(p)
	case kind == 6 && p.Kind == walk.AskLedger:
		w.say(fmt.Sprint(max(0, p.Want+rapid.IntRange(-1, 1).Draw(w.rt, "off"))) +
			rapid.SampledFrom([]string{"", " back", " more", " lost"}).Draw(w.rt, "how"))
	case kind <= 7 && len(w.r.W.Meanwhile(w.r.Context())) > 0:
		w.meanwhile()
	case kind == 7:
		w.say(rapid.SampledFrom([]string{"leave no time", "skip no time", "cut no time", "note hm",
			"pause"}).Draw(w.rt, "verb"))
	default:
		w.step()
	}
}

func (w *watcher) resume() {
	n, was, ledger := len(w.r.J.Entries), w.r.W.Believed.Clone(), w.r.W.Ledger()
	w.r.Now = w.r.Now.Add(rapid.SampledFrom([]time.Duration{time.Minute, time.Hour}).Draw(w.rt,
		"break"))
	rep, err := w.r.W.Resume(w.r.Context())
	if err := w.r.Take(rep, err); err != nil {
		w.rt.Fatal(err)
	}
	if err := w.r.Settle(); err != nil {
		w.rt.Fatal(err)
	}
	w.see(n, was, ledger)
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

// meanwhile answers something that is offered while a wait runs, well or not.
func (w *watcher) meanwhile() {
	offers := w.r.W.Meanwhile(w.r.Context())
	i := rapid.IntRange(0, len(offers)-1).Draw(w.rt, "offer")
	answers := []string{"", "-", "ok"}
	for _, o := range offers[i].Step.Options {
		answers = append(answers, o.Is)
	}
	w.say(fmt.Sprintf("#%d %s", i+1, rapid.SampledFrom(answers).Draw(w.rt, "meanwhile")))
}

// page is the page whose rows are to be answered, nil where none stands.
func (w *watcher) page() *walk.Page {
	if pg := w.r.W.Page(w.r.Context()); pg != nil && !pg.Asked() {
		return pg
	}
	return nil
}

// row answers any row of the page, wrong.
func (w *watcher) row() {
	n, was, ledger := len(w.r.J.Entries), w.r.W.Believed.Clone(), w.r.W.Ledger()
	pg := w.page()
	i := rapid.IntRange(0, len(pg.Rows)-1).Draw(w.rt, "row")
	w.r.Now = w.r.Now.Add(5 * time.Second)
	rep, err := w.r.W.AnswerRow(w.r.Context(), i+1, w.wrong(walk.Prompt{Step: pg.Rows[i].Step}))
	if err := w.r.Take(rep, err); err != nil {
		w.rt.Fatal(err)
	}
	if err := w.r.Settle(); err != nil {
		w.rt.Fatal(err)
	}
	w.see(n, was, ledger)
}

func (w *watcher) step() {
	n := len(w.r.J.Entries)
	was := w.r.W.Believed.Clone()
	ledger := w.r.W.Ledger()
	if p := w.r.W.Prompt(w.r.Now); p.Kind == walk.AskState &&
		rapid.IntRange(0, 3).Draw(w.rt, "any") == 0 {
		w.state(p)
		return
	}
	next := w.r.Step
	if w.page() != nil {
		next = w.r.PageStep
	}
	if _, err := next(); err != nil && !strings.Contains(err.Error(), "was refused") {
		w.rt.Fatal(err)
	}
	w.see(n, was, ledger)
}

// see takes what was written into the test's own account, and looks whether all still holds.
func (w *watcher) see(n int, was model.Condition, ledger model.Ledger) {
	w.counted(w.r.J.Entries[n:])
	before := w.shop
	w.shop = before.take(w.r.W, w.r.J.Entries[n:])
	s := seen{r: w.r, entries: w.r.J.Entries[n:], was: was, ledger: ledger, before: before,
		now: w.shop}
	if why := s.broken(always); why != "" {
		w.rt.Logf("what led to it:\n%s", w.trail())
		w.rt.Fatal(why)
	}
}

// counted holds the walk to coming away from power that is cut: well answered it does not bring it
// back only to have it cut again.
func (w *watcher) counted(entries []model.Entry) {
	for _, e := range entries {
		switch x := e.Walk; {
		case x == nil:
		case x.What == walk.Planned && x.Item == "emergency":
			w.cuts++
		case x.What == walk.Resumed, x.What == walk.Back, x.What == walk.Said &&
			x.Variable == model.Power && x.Answer == "on",
			x.What == walk.Passed && w.isCare(x.ID):
			w.cuts = 0
		}
	}
	if w.cuts > cutsAtOneStand {
		w.rt.Fatalf("power is cut %d times with nothing done between, at %s", w.cuts,
			w.r.W.Position())
	}
}

// isCare tells whether a block is care, not what sets the machine up for it.
func (w *watcher) isCare(id string) bool {
	return slices.ContainsFunc(w.r.W.Blocks, func(b *walk.Block) bool {
		return b.ID == id && b.Kind == "care"
	})
}

// end looks at a session that has closed.
func (w *watcher) end() {
	if why := (seen{r: w.r, now: w.shop}).broken(atEnd); why != "" {
		w.rt.Logf("what led to it:\n%s", w.trail())
		w.rt.Fatal(why)
	}
	loadsTheSame(w.rt, w.r)
}
