package walk_test

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// seen is one answer and what came of it, for the invariants.
type seen struct {
	r       *walktest.Run
	entries []model.Entry   // what the answer wrote
	was     model.Condition // what was believed before it
	ledger  model.Ledger    // the book before it
	before  shop            // the machine before it, by the test's own account
	now     shop            // and after it
}

// invariant is one thing that holds whatever is answered.
type invariant struct {
	name  string
	holds func(s seen) string // what is wrong, "" where nothing is
}

// always are looked at after each answer, atEnd once the session has closed.
var (
	always = []invariant{
		{"power comes on over nothing", powerOverNothing},
		{"over its blocks a gantry is freed and nothing else done", freedFirst},
		{"solvent is used dark and cold", solventDarkAndCold},
		{"vapour clears by ten minutes of air", vapourByTheClock},
		{"no count falls below nothing", countsNotNegative},
		{"care finds what it requires", careFindsWhatItRequires},
		{"hands go in cold", handsGoInCold},
		{"cold is believed only as read", coldAsRead},
		{"nothing stone cold is measured after heat", stoneColdFirst},
		{"nothing goes on under power over a ledger", nothingUnderPowerOver},
		{"what is out is put back without power", handsToFindDark},
		{"connectors are parted five minutes after the plug", partedDischarged},
		{"the book has the blocks that stand", blocksAreBooked},
		{"what is known was answered, and nothing came between", knownIsFresh},
		{"nothing is in its place and out", notInPlaceAndOut},
		{"work in a wait needs nothing of the machine that does not hold", workInWaits},
		{"filament is parted in the dark, and a stub is out before anything is loaded",
			stubOutFirst},
		{"what is left unplugged is not led back to power", staysDark},
	}
	atEnd = []invariant{
		{"no heater is left with a target", leftWithoutTargets},
		{"a session closes with nothing out", closesWithNothingOut},
		{"what is left unplugged has its plug out", leftDark},
		{"ready is not said of what owes checks", readyOwesNothing},
	}
)

// broken gives the first invariant that does not hold, as a sentence.
func (s seen) broken(list []invariant) string {
	for _, i := range list {
		if why := i.holds(s); why != "" {
			return i.name + ": " + why
		}
	}
	return ""
}

// passed calls f for each step that was passed by the answer, until f finds something wrong.
func (s seen) passed(f func(e model.Entry, step model.Step) string) string {
	for _, e := range s.entries {
		if e.Walk == nil || e.Walk.What != walk.Passed {
			continue
		}
		if step, ok := stepOf(s.r.W, e.Walk.ID, e.Walk.Step); ok {
			if why := f(e, step); why != "" {
				return why
			}
		}
	}
	return ""
}

// stepOf finds a step of a session's blocks; what is owed has none.
func stepOf(w *walk.Walk, block, step string) (model.Step, bool) {
	for _, b := range w.Blocks {
		if b.ID != block {
			continue
		}
		for _, s := range b.Proc.Steps {
			if s.Name == step {
				return s, true
			}
		}
	}
	return model.Step{}, false
}

func powerOverNothing(s seen) string {
	return s.passed(func(e model.Entry, step model.Step) string {
		if step.Gate != model.State || step.Variable != model.Power || step.Value != "on" {
			return ""
		}
		return badPower(s, e.Walk.ID)
	})
}

// badPower says what forbids that a block brings power.
func badPower(s seen, id string) string {
	e := model.ExceptionOf(id)
	owns := e.Block != ""
	l := s.ledger
	switch {
	case s.was[model.Vapour] == "drying" || l.Flags["belts"] != "" || l.Flags["lost-piece"] != "":
		return fmt.Sprintf("%s with vapour %s and %s", id, s.was[model.Vapour], walk.LedgerLine(l))
	case l.Flags["sensor-plug"] != "" && !slices.Contains(e.Flags, "sensor-plug"):
		return id + " with a sensor parted"
	case s.was[model.Cover] == "off" && !e.Cover:
		return id + " with the cover off"
	case gantry(s) && id == "switch-on" && len(l.Out) == 0 && len(l.Inside) == 1 &&
		l.Inside["blocks"] > 0:
		return "" // its motors lift the gantry off them, see freedFirst
	case !owns && len(l.Out)+len(l.Inside) > 0:
		return id + " with " + walk.LedgerLine(l)
	case s.r.W.Stopped != "":
		return id + " after a stop"
	}
	return ""
}

func gantry(s seen) bool { return s.r.W.Features()["bedslinger"] }

// freedFirst holds a machine under power, its gantry on blocks by the test's own account, to being
// freed, switched off, or worked on under an exception that brought the power itself.
func freedFirst(s seen) string {
	if !gantry(s) || s.before.has["in:blocks"] == 0 || s.before.power != "on" {
		return ""
	}
	return s.passed(func(e model.Entry, step model.Step) string {
		if e.Walk.Auto {
			return "" // what passes by itself, behind the last block drawn, nobody does
		}
		x := model.ExceptionOf(e.Walk.ID)
		if id := e.Walk.ID; id == "gantry-free" || id == "switch-off" || id == "switch-on" ||
			plan.IsCut(id) || x.Power && (step.Own || step.Variable == model.Power) {
			return ""
		}
		return e.Walk.ID + "/" + e.Walk.Step
	})
}

func solventDarkAndCold(s seen) string {
	return s.passed(func(e model.Entry, step model.Step) string {
		if usesSolvent(step) && (s.was[model.Power] != "unplugged" || s.was[model.Heat] != "cold") {
			return fmt.Sprintf("%s/%s with power %s, heat %s", e.Walk.ID, e.Walk.Step,
				s.was[model.Power], s.was[model.Heat])
		}
		return ""
	})
}

func usesSolvent(step model.Step) bool {
	return step.Set["vapour"] == "drying" || slices.Contains(step.Starts, "airing")
}

func vapourByTheClock(s seen) string {
	cleared := s.was[model.Vapour] == "drying" && s.r.W.Believed[model.Vapour] == "clear" &&
		!wentBack(s.entries)
	if aired := s.r.Now.Sub(s.now.solvent); cleared && aired < 10*time.Minute {
		return fmt.Sprintf("%s after the last solvent", aired)
	}
	return ""
}

// partedDischarged holds by the test's own account of when the plug came out (five minutes: common
// practice).
func partedDischarged(s seen) string {
	return s.passed(func(e model.Entry, step model.Step) string {
		if !partsConnectors(e.Walk.ID, step) {
			return ""
		}
		if dark := s.before.dark; dark.IsZero() || e.At.Sub(dark) < 5*time.Minute {
			return fmt.Sprintf("%s/%s at %s, the plug out since %s", e.Walk.ID, e.Walk.Step,
				e.At.Format(time.TimeOnly), dark.Format(time.TimeOnly))
		}
		return ""
	})
}

func wentBack(es []model.Entry) bool {
	return slices.ContainsFunc(es, func(e model.Entry) bool {
		return e.Walk != nil && e.Walk.What == walk.Back
	})
}

func countsNotNegative(s seen) string {
	l := s.r.W.Ledger()
	for _, m := range []map[string]int{l.Out, l.Inside} {
		for item, n := range m {
			if n < 0 {
				return fmt.Sprintf("%d %s", n, item)
			}
		}
	}
	return ""
}

// care gives the block and step of care that stand before the person, nil where none do or the step
// runs under an owned exception.
func care(s seen) (*model.Procedure, *model.Step) {
	p := s.r.W.Prompt(s.r.Now)
	if p.Kind != walk.AskStep || p.Block.Kind != "care" || p.Step.Own {
		return nil, nil
	}
	return p.Block.Proc, p.Step
}

func careFindsWhatItRequires(s seen) string {
	b, step := care(s)
	if b == nil || len(b.Owns) > 0 {
		return ""
	}
	now := s.r.W.Believed
	if ok, miss := now.Meets(b.Require, s.r.W.Features()); !ok && !changes(b, miss) {
		return fmt.Sprintf("%s/%s stands with %s %q, it requires %q", b.ID, step.Name, miss,
			now[miss], b.Require[miss])
	}
	return ""
}

// changes tells whether a block's own gates change a variable.
func changes(b *model.Procedure, v model.Variable) bool {
	return slices.ContainsFunc(b.Steps, func(s model.Step) bool {
		return s.Gate == model.State && s.Variable == v || s.Set[string(v)] != ""
	})
}

func handsGoInCold(s seen) string {
	b, step := care(s)
	if b == nil || step.Gate == model.State || step.Gate == model.Wait || step.Unit == "°C" {
		return "" // no hand goes in by these
	}
	if now := s.r.W.Believed; b.Require[model.Heat] == "cold" && !slices.Contains(b.Owns, "hot") &&
		now[model.Heat] != "cold" {
		return fmt.Sprintf("%s/%s and heat is %s", b.ID, step.Name, now[model.Heat])
	}
	return ""
}

func closesWithNothingOut(s seen) string {
	l := s.r.W.Ledger()
	delete(l.Flags, "strand")
	if s.r.W.Stopped != "" {
		delete(l.Flags, "lost-piece")
	}
	if gantry(s) && s.r.W.Believed[model.Power] != "on" {
		delete(l.Inside, "blocks") // it stands on them until the motors hold it again
	}
	if !l.Empty() {
		return walk.LedgerLine(l)
	}
	return ""
}

// nothingUnderPowerOver holds by the test's own account of the machine: with power on and anything
// out, in or loose that the block under way does not name, or vapour in the air, all that is asked
// takes power away.
func nothingUnderPowerOver(s seen) string {
	p := s.r.W.Prompt(s.r.Now)
	if s.now.power != "on" || p.Kind == walk.AskOver || p.Kind == walk.AskResume ||
		s.r.W.Stopped != "" {
		return ""
	}
	block := ""
	if b := s.r.W.Block(); p.Block != nil || p.Kind == walk.AskLedger && b != nil {
		// counting is looking
		block = b.ID
	}
	e := model.ExceptionOf(block)
	over := s.now.holds(func(item string) bool {
		name, in := cut(item, "in:")
		opened := []string{"cover", "cover screws", "top panel", "changer", "tubes", "rolls",
			"in:blocks"}
		return item == "in:blocks" && gantry(s) && block == "switch-on" || // see freedFirst
			in && slices.Contains(e.Inside, name) || slices.Contains(e.Out, item) ||
			slices.Contains(e.Flags, item) ||
			e.Power && (item == "oil" || slices.Contains(opened, item))
	})
	if over == "" && !s.now.vapour {
		return ""
	}
	if p.Kind == walk.AskState && block == "" || plan.IsCut(block) {
		return ""
	}
	return fmt.Sprintf("power on over %q, vapour %v, and it asks %s at %q: %s", over, s.now.vapour,
		p.Kind, block, p.Question)
}

// handsToFindDark holds where something is to be put back or looked for: not under power.
func handsToFindDark(s seen) string {
	if p := s.r.W.Prompt(s.r.Now); s.now.power == "on" &&
		(p.Kind == walk.AskZero || p.Kind == walk.AskFind) {
		return p.Question
	}
	return ""
}

// blocksAreBooked holds the book to the blocks there are, none missing and none that never were,
// once nothing is to be counted any more.
func blocksAreBooked(s seen) string {
	p := s.r.W.Prompt(s.r.Now)
	if p.Kind != walk.AskStep || p.Step.In["blocks"] != (model.Amount{}) || plan.IsCut(p.Block.ID) {
		// where power is cut they are looked at and counted before it is over, after a break once
		// more
		return ""
	}
	if book, there := s.r.W.Ledger().Inside["blocks"], s.now.has["in:blocks"]; book != there {
		return fmt.Sprintf("%d on the book, %d in the machine", book, there)
	}
	return ""
}

// notInPlaceAndOut holds what is believed to what is out by the test's own account, once care goes
// on.
func notInPlaceAndOut(s seen) string {
	b, step := care(s)
	if b == nil {
		return ""
	}
	now := s.r.W.Believed
	for item, v := range map[string]model.Variable{"cover": model.Cover, "top panel": model.Top,
		"changer": model.Changer} {
		if s.now.has[item] > 0 && now[v] == model.Values[v][0] {
			return fmt.Sprintf("%s/%s stands with %s %s, and %d %s out", b.ID, step.Name, v, now[v],
				s.now.has[item], item)
		}
	}
	if s.now.has["in:blocks"] > 0 && now[model.Bed] == "high" && now[model.Power] != "on" &&
		len(b.Owns) == 0 {
		return fmt.Sprintf("%s/%s stands with the bed high on %d blocks", b.ID, step.Name,
			s.now.has["in:blocks"])
	}
	return ""
}

// leftWithoutTargets: nobody goes away from a machine under power whose heaters may have a target.
func leftWithoutTargets(s seen) string {
	if h := s.now.heat; h.targets && s.now.power == "on" && s.r.W.Stopped == "" {
		return "it is left " + s.r.W.State() + " with a target standing"
	}
	return ""
}

func coldAsRead(s seen) string {
	if s.now.heat.hot && s.r.W.Believed[model.Heat] == "cold" {
		return "it was heated, and nothing read since: " + walk.StateLine(s.r.W)
	}
	return ""
}

func stoneColdFirst(s seen) string {
	return s.passed(func(e model.Entry, step model.Step) string {
		for _, b := range s.r.W.Blocks {
			if b.ID == e.Walk.ID && b.Kind == "care" && len(b.Proc.Rung) > 0 &&
				b.Proc.Rung[0].Is == "stone-cold" &&
				step.Gate == model.Measure && s.before.heat.session {
				return fmt.Sprintf("%s/%s on a machine that was hot in this session", e.Walk.ID,
					e.Walk.Step)
			}
		}
		return ""
	})
}

// unknowns are the events after which an answer is not believed any more, by the test's own list:
// of each thing that can be known, what of the journal takes it away.
var unknowns = map[string]func(x *model.Walked, step model.Step) bool{
	"cold": func(x *model.Walked, s model.Step) bool {
		return powers(x, s) || slices.Contains(s.Drives, "heat")
	},
	"plugs": powers,
	"targets-zero": func(x *model.Walked, s model.Step) bool {
		return powers(x, s) || slices.Contains(s.Drives, "heat")
	},
	"tube-clear": func(x *model.Walked, s model.Step) bool {
		return powers(x, s) || slices.Contains(s.Drives, "heat")
	},
	"strand": func(x *model.Walked, s model.Step) bool {
		return powers(x, s) || slices.Contains(s.Drives, "heat") || s.Set["strand"] == "left"
	},
	"rests": func(x *model.Walked, s model.Step) bool {
		return powers(x, s) || slices.Contains(s.Drives, "motion")
	},
	"plate": func(x *model.Walked, s model.Step) bool {
		_, out := s.Out["plate"]
		return out || powers(x, s) || slices.Contains(s.Drives, "motion")
	},
	"whole":          func(_ *model.Walked, s model.Step) bool { return len(s.Out) > 0 },
	"against":        powers,
	"inside-head":    opens,
	"inside-chamber": opens,
	"inside-changer": opens,
	"corners": func(x *model.Walked, s model.Step) bool {
		return opens(x, s) || s.Fastener != nil || slices.Contains(s.Drives, "motion")
	},
	"wipes-out": func(_ *model.Walked, s model.Step) bool { return s.Wets() },
}

// opens tells whether power comes by an entry, or something is taken out of the machine or put into
// it.
func opens(x *model.Walked, s model.Step) bool { return powers(x, s) || len(s.Out)+len(s.In) > 0 }

// powers tells whether power comes by an entry.
func powers(x *model.Walked, s model.Step) bool {
	return x.What == walk.Passed && s.Gate == model.State && s.Variable == model.Power &&
		s.Value == "on" || x.What == walk.Said && x.Variable == model.Power && x.Answer == "on"
}

// knownIsFresh looks back from each step that passed by what was known, to the answer it rests on:
// a person gave it in this session, by a step that stood alone or had its own key, since the last
// break, and nothing that could change it came since.
func knownIsFresh(s seen) string {
	for _, e := range s.entries {
		if e.Walk == nil || e.Walk.How != model.AsKnown ||
			strings.HasPrefix(e.Walk.Why, "asked once") {
			continue
		}
		step, _ := stepOf(s.r.W, e.Walk.ID, e.Walk.Step)
		if step.Known == "fitted" { // nobody answers it: the journal has no work on a part
			if id := workOnPart(s); id != "" {
				return e.Walk.ID + "/" + e.Walk.Step + ": " + id + " is about a part"
			}
			continue
		}
		if step.Known == "codes" { // nor this: the journal has the error list as it was read
			if codesRead(s) {
				return e.Walk.ID + "/" + e.Walk.Step + ": codes stood in the error list"
			}
			continue
		}
		if step.Known == model.KnownNoPrint { // nor this: the journal has what waits, and its file
			if !waitsIdle(s) {
				return e.Walk.ID + "/" + e.Walk.Step + ": nothing that waits forbids a print"
			}
			continue
		}
		if why := restsOn(s, e, step.Known); why != "" {
			return e.Walk.ID + "/" + e.Walk.Step + ": " + why
		}
	}
	return ""
}

// waitsIdle tells whether a miss of the session left work waiting that says no print before it.
func waitsIdle(s seen) bool {
	return slices.ContainsFunc(s.entries, func(e model.Entry) bool {
		if e.Walk == nil || e.Walk.What != walk.Missed {
			return false
		}
		step, _ := stepOf(s.r.W, e.Walk.ID, e.Walk.Step)
		return slices.ContainsFunc(step.Misses(), func(m *model.Miss) bool {
			return m.Idle && m.Then == e.Walk.Then
		})
	})
}

// codesRead tells whether the error list was read last with codes in it.
func codesRead(s seen) bool {
	read := false
	for _, e := range s.entries {
		if x := e.Walk; x != nil && x.ID == model.AsFound && x.Step == "errors" &&
			(x.What == walk.Passed || x.What == walk.Missed) {
			read = x.Answer == "codes shown"
		}
	}
	return read
}

func restsOn(s seen, known model.Entry, name string) string {
	es := s.r.J.Entries
	i := slices.IndexFunc(es, func(e model.Entry) bool { return e.Seq == known.Seq })
	for i--; i >= 0; i-- {
		x := es[i].Walk
		if x == nil {
			continue
		}
		step, _ := stepOf(s.r.W, x.ID, x.Step)
		switch {
		case x.What == walk.LeftOut:
			continue // the step it stood at was not done
		case x.What == walk.Back:
			return "" // what it took back is not looked at here
		case name != "supplies" && (x.What == walk.Resumed || x.What == walk.Paused ||
			x.Then == "stop"):
			return "it was known before a break" // what was laid out lies there still
		case name == "blocks" && x.What == walk.Said && x.Variable == model.Bed:
			return "" // said to be high or low, and so on none
		case (x.What == walk.Passed || x.What == walk.Early) && !x.Auto && step.Known == name:
			return ""
		case unknowns[name] != nil && unknowns[name](x, step):
			return "known over " + x.ID + "/" + x.Step + " " + string(x.Variable)
		}
	}
	return "nobody answered it"
}

// staysDark: in a session that leaves its machine unplugged power comes only where a block owns it
// and takes it away again.
func staysDark(s seen) string {
	if s.r.W.Begun.Leave != model.Unplugged {
		return ""
	}
	return s.passed(func(e model.Entry, step model.Step) string {
		x := model.ExceptionOf(e.Walk.ID)
		if powers(e.Walk, step) && !x.Power || step.Variable == model.Power &&
			s.before.power == "unplugged" && e.Walk.ID == "plug-in" {
			return e.Walk.ID + "/" + e.Walk.Step
		}
		return ""
	})
}

// leftDark holds by the test's own account of the plug.
func leftDark(s seen) string {
	if s.r.W.Begun.Leave == model.Unplugged && s.r.W.Stopped == "" && s.now.power != "unplugged" {
		return "power is " + s.now.power
	}
	return ""
}

// readyOwesNothing: a machine without power whose checks are owed is not ready, with limits or
// without.
func readyOwesNothing(s seen) string {
	owes, state := false, ""
	for _, e := range s.r.J.Entries {
		if e.Closed != nil {
			state = e.Closed.State
		}
		owes = owes || e.Finding != nil && e.Finding.Kind == model.FoundOwed && e.Finding.Hash != ""
	}
	if owes && s.now.power != "on" && strings.HasPrefix(state, "ready") {
		return "it is left " + state
	}
	return ""
}

// stubOutFirst holds by the test's own account: filament is cut with the plug out and cold, and no
// check loads the head over a stub that is in it.
func stubOutFirst(s seen) string {
	return s.passed(func(e model.Entry, step model.Step) string {
		cuts := e.Walk.ID == "part-filament" && step.Set["strand"] == "left"
		switch {
		case cuts && (s.before.power != "unplugged" || s.before.heat.hot):
			return fmt.Sprintf("it is cut with power %s, hot %t", s.before.power, s.before.heat.hot)
		case step.Set["filament"] != "loaded" || step.Set["strand"] == "clear" ||
			s.before.flags["strand"] == "":
			return ""
		}
		if last(s.r, func(block, _ string, x model.Step) bool {
			return x.Set["strand"] == "clear" && strings.HasPrefix(block, "owed")
		}) < 0 &&
			last(s.r, func(block, _ string, x model.Step) bool {
				return block == "part-filament"
			}) >= 0 {
			return e.Walk.ID + "/" + e.Walk.Step + " loads over a stub"
		}
		return ""
	})
}

// workOnPart is a procedure about a part of which a step was passed in the session, "" for none.
func workOnPart(s seen) string {
	for _, e := range s.r.W.Counting() {
		for _, b := range s.r.W.Blocks {
			if x := e.Walk; x != nil && x.What == walk.Passed && b.ID == x.ID && b.Kind == "care" &&
				b.Proc.Part != "" {
				return b.ID
			}
		}
	}
	return ""
}
