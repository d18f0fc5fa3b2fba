package plan

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// Verify walks a sequence of resolved procedures and set-up actions (model.Procedure.For) step by
// step from a believed state and gives the first breach of what a file requires or of an interlock,
// as one sentence; nil where there is none. It shares nothing with the search. Variables that are
// not in start count as model.Assumed. Whether everything is closed at the end is not its business:
// see VerifyClosed.
func Verify(fs model.FeatureSet, sequence []*model.Procedure, start model.Condition) error {
	c := believed(fs, start)
	warm := c[model.Heat] != model.Cold
	for i, p := range sequence {
		why := breach(fs, p, c)
		if why == "" {
			why = breachOfStone(p, warm)
		}
		if why != "" {
			return fmt.Errorf("step %d, %s: %s", i+1, p.ID, why)
		}
		after := afterStep(fs, p, c)
		warm = warm || warms(p, c, after)
		c = after
	}
	return nil
}

// breachOfStone says why something must not be measured on a machine that was warm in this session.
func breachOfStone(p *model.Procedure, warm bool) string {
	if warm && p.Kind != model.SetUp && rungOf(p) == model.RungStoneCold {
		return "it is measured stone cold, and the machine was hot in this session; leave it off overnight first"
	}
	return ""
}

// warms tells whether a step makes the machine hot, at its end or meanwhile. An unproved sensor is
// proved at switching on, by asking heat of it.
func warms(p *model.Procedure, c, after model.Condition) bool {
	e := model.ExceptionOf(p.ID)
	maybe := slices.ContainsFunc(p.Leave, func(l model.Left) bool {
		return l.Variable == model.Heat && l.Is == model.Hot
	})
	proves := c[model.Power] != model.On && after[model.Power] == model.On &&
		c[model.Sensor] == model.Unproved
	return after[model.Heat] != model.Cold || c[model.Heat] != model.Cold || maybe || proves ||
		e.Heats && slices.Contains(p.Owns, model.OwnPower)
}

// VerifyClosed tells whether a sequence leaves nothing open (rule g): cover and top on, changer
// mounted, door closed, vapour clear, sensor proved, and power as goal says, free where it says
// nothing. With locked nothing in it may bring power back, and a sensor that is unproved stays so.
func VerifyClosed(fs model.FeatureSet, sequence []*model.Procedure, start, goal model.Condition,
	locked bool) error {
	c := believed(fs, start)
	for i, p := range sequence {
		if locked && p.Change != nil && p.Change.Variable == model.Power &&
			p.Change.To == model.On {
			return fmt.Errorf("step %d, %s: power is locked after a stop; clear the stop by name first", i+1, p.ID)
		}
		if locked && slices.Contains(p.Owns, model.OwnPower) {
			return fmt.Errorf("step %d, %s: it needs power, which is locked after a stop; clear the stop by name first", i+1, p.ID)
		}
		c = afterStep(fs, p, c)
	}
	if err := closedAtEnd(fs, c, locked); err != nil {
		return err
	}
	if w := goal[model.Power]; w != "" && c[model.Power] != w {
		return fmt.Errorf("the sequence ends with power %s and should end with it %s",
			c[model.Power], w)
	}
	return nil
}

// VerifyUnplugged tells whether a sequence leaves a machine closed with its plug out: no set-up
// action in it brings power or plug back, whatever for, and a sensor that is unproved stays so.
func VerifyUnplugged(fs model.FeatureSet, sequence []*model.Procedure,
	start model.Condition) error {
	c := believed(fs, start)
	for i, p := range sequence {
		if ch := p.Change; ch != nil && ch.Variable == model.Power &&
			(ch.To == model.On || ch.From == model.Unplugged) {
			return fmt.Errorf("step %d, %s: it is left unplugged; nothing brings power back", i+1,
				p.ID)
		}
		c = afterStep(fs, p, c)
	}
	if err := closedAtEnd(fs, c, true); err != nil {
		return err
	}
	if c[model.Power] != model.Unplugged {
		return fmt.Errorf("the sequence ends with power %s and should end unplugged",
			c[model.Power])
	}
	return nil
}

// closedAtEnd tells whether nothing is open; without power a sensor may be unproved.
func closedAtEnd(fs model.FeatureSet, c model.Condition, dark bool) error {
	for _, v := range []model.Variable{model.Cover, model.Top, model.Changer, model.Door,
		model.Vapour, model.Sensor} {
		if v.Exists(fs) && c[v] != model.Values[v][0] && !(dark && v == model.Sensor) {
			return fmt.Errorf("the sequence ends with %s %s: close what was opened", v, c[v])
		}
	}
	return nil
}

// VerifyOrder tells whether resolved procedures stand in the order of their rungs, each after what
// its file names, and nothing behind the bookend that closes the session.
func VerifyOrder(sequence []*model.Procedure) error {
	for i, p := range sequence {
		for _, q := range sequence[:i] {
			if closesSession(q) {
				return fmt.Errorf("%s stands after %s, which counts the machine whole: close it first", p.ID, q.ID)
			}
			if slices.Contains(q.After, p.ID) {
				return fmt.Errorf("%s comes after %s and stands before it", q.ID, p.ID)
			}
			rp, rq := rungOf(p).Order(), rungOf(q).Order()
			if p.Kind != model.SetUp && q.Kind != model.SetUp && rp >= 0 && rq > rp {
				return fmt.Errorf("%s (rung %s) stands after %s (rung %s)", p.ID, rungOf(p), q.ID,
					rungOf(q))
			}
		}
	}
	return nil
}

// believed fills a condition up with what is assumed, for the variables a machine has; what it
// lacks counts as closed and calm.
func believed(fs model.FeatureSet, start model.Condition) model.Condition {
	c := model.Assumed()
	for v, value := range start {
		if value != "" && v.Exists(fs) {
			c[v] = value
		}
	}
	return c
}

// afterStep is what is believed after a step.
func afterStep(fs model.FeatureSet, p *model.Procedure, c model.Condition) model.Condition {
	d := c.Clone()
	if p.Change != nil {
		if unsafeUnderPower(c) || IsCut(p.ID) {
			// switched off at once: blocked by hand where it was not at rest
			d[model.Bed] = model.Low
		}
		d[p.Change.Variable] = p.Change.To
		if p.Change.Variable == model.Power && p.Change.To == model.On {
			d[model.Sensor] = model.Proved
		}
		switch {
		case switchesOn(fs, p.Change, c[model.Bed]):
			d[model.Power] = OverBlocks
		case p.ID == GantryFree:
			d[model.Power] = model.On
		}
	}
	for _, l := range p.Leave {
		if l.Only.Step == "" && l.Variable.Exists(fs) {
			d[l.Variable] = l.Is
		}
	}
	return d
}

// unsafeUnderPower tells whether the machine stands under power as it never should.
func unsafeUnderPower(c model.Condition) bool {
	return c[model.Power] == model.On &&
		(c[model.Cover] == model.Off || c[model.Vapour] == model.Drying)
}

// breach gives the first rule that a step in a state breaks, "" for none.
func breach(fs model.FeatureSet, p *model.Procedure, c model.Condition) string {
	emergency := unsafeUnderPower(c) || IsCut(p.ID)
	if emergency && !(p.Change != nil && p.Change.Variable == model.Power &&
		p.Change.To == model.Off) {
		return "power is on with the cover off or vapour in the air; switch off first, and do nothing else before"
	}
	if why := breachOverBlocks(fs, p, c); why != "" {
		return why
	}
	if c[model.Power] == OverBlocks { // what may be done here is done under power
		c = c.Clone()
		c[model.Power] = model.On
	}
	need := p.Require
	if emergency {
		need = need.Clone()
		delete(need, model.Bed)
	}
	if ok, miss := c.Meets(need, fs); !ok {
		return fmt.Sprintf("it requires %s %s, and %s is %s", miss, need[miss], miss, c[miss])
	}
	if p.Change != nil {
		return breachOfSetUp(fs, p.Change, c, emergency)
	}
	if err := allowed(p); err != nil {
		return err.Error()
	}
	for _, rule := range rules {
		if why := rule(fs, p, c, afterStep(fs, p, c)); why != "" {
			return why
		}
	}
	return ""
}

// breachOfSetUp gives the interlock a change of state breaks, "" for none.
func breachOfSetUp(fs model.FeatureSet, ch *model.Change, c model.Condition,
	emergency bool) string {
	if c[ch.Variable] != ch.From && !(unloads(ch) && c[model.Filament] == model.Parted) {
		return fmt.Sprintf("%s is %s already, not %s", ch.Variable, c[ch.Variable], ch.From)
	}
	closed := func(v model.Variable) bool { return !v.Exists(fs) || c[v] == model.Values[v][0] }
	dark := c[model.Power] == model.Unplugged && c[model.Heat] == model.Cold
	switch {
	case ch.Variable == model.Power && ch.From != model.On && ch.To != model.Unplugged:
		// plug-in, switch-on
		for _, v := range []model.Variable{model.Vapour, model.Cover, model.Top, model.Changer,
			model.Door} {
			if !closed(v) {
				return fmt.Sprintf(
					"no power comes back with %s %s; close and clear everything first", v, c[v])
			}
		}
	case ch.Variable == model.Power && ch.To == model.Unplugged && c[model.Heat] != model.Cold:
		return "an unplugged screen shows no temperature; let it cool below 45 °C and read it first"
	case ch.Variable == model.Power && ch.To == model.Off && c[model.Bed] != model.Low &&
		!emergency:
		return "bed or gantry may drop when power goes; bring it to rest first"
	case ch.Variable == model.Filament && ch.To == model.Parted && !dark:
		return "filament is parted cold and unplugged only; while there is power it is unloaded"
	case ch.Variable == model.Heat && ch.To == model.Hot:
		return breachOfHeat(c)
	case ch.Variable == model.Door && ch.To == model.Open && c[model.Heat] != model.Cold:
		return "the door opens only below 45 °C; let it cool first"
	case ch.Variable == model.Door && ch.To == model.Open && c[model.Power] == model.On:
		return "the door opens only with the power off; switch off first"
	case uncovers(ch) && !dark:
		return "nothing is opened before it is cold and unplugged; cool it and pull the plug first"
	case ch.Variable == model.Vapour && ch.To == model.Clear:
		if c[model.Power] != model.Unplugged ||
			!(c[model.Door] == model.Open || !model.Door.Exists(fs)) {
			return "vapour clears only with the plug out and the door open"
		}
	case (ch.Variable == model.Door || ch.Variable == model.Top) && closing(ch) &&
		c[model.Vapour] != model.Clear:
		return "vapour is still in the air; let it out before anything closes"
	case ch.Variable == model.Sensor:
		return "only switching on proves the sensor; no other action may"
	}
	return ""
}

// uncovers tells whether a change opens cover, top or changer.
func uncovers(ch *model.Change) bool {
	return (ch.Variable == model.Cover || ch.Variable == model.Top ||
		ch.Variable == model.Changer) && !closing(ch)
}

func closing(ch *model.Change) bool { return ch.To == model.Values[ch.Variable][0] }

// breachOfHeat gives what forbids heating, "" for nothing.
func breachOfHeat(c model.Condition) string {
	switch {
	case c[model.Power] != model.On:
		return "nothing heats without power; switch on first"
	case c[model.Vapour] != model.Clear:
		return "solvent vapour is in the air; let it out before anything heats"
	case c[model.Cover] != model.On:
		return "the head is open; put the cover on before anything heats"
	case c[model.Sensor] != model.Proved:
		return "the temperature sensor is unproved; switch on without a target and see that it reads the room first"
	}
	return ""
}
