package walk

import "bench/oilcan/model"

// belief is what is believed of the machine's state, since when, and by whose word. It holds no
// guess: what nobody said or read since it could have changed is not in Believed.
type belief struct {
	Believed model.Condition
	Seen     map[model.Variable]Seen // when each was last said or read

	words   map[model.Variable]int // ordinal at which a variable was said last
	brought map[model.Variable]int // ordinal at which work last brought or may have changed one
	left    model.Condition        // how the machine was before its state was asked: a guess
	degrees map[model.Place]degree // read since it last grew hot
	heated  bool                   // it was hot at some time of this session
	// it is cold again once it is read cold, without a set-up action
	hotAsRead bool
	// a heater may have a target: it heated, and none was read since
	targets bool
	powered bool // power was on at some time here
	// what vapour there is came of work told from paper, or of before: whether it was aired is asked
	aired bool
}

// forget makes a variable unknown.
func (bel *belief) forget(v model.Variable) {
	delete(bel.Believed, v)
	delete(bel.Seen, v)
}

// warmest is the reading of the warmest place, of those read since it last grew hot.
func (bel *belief) warmest() (d degree, ok bool) {
	for _, p := range model.Places {
		if x, has := bel.degrees[p]; has && (!ok || x.value > d.value) {
			d, ok = x, true
		}
	}
	return d, ok
}

// settleHeat goes on from heat that is believed by more than a reading: grown hot, no reading of
// before says anything; grown cold, none of when it was hot does, and what was read cold stands
// with its time.
func (bel *belief) settleHeat(is string) {
	if is == model.Hot {
		bel.forgetHeat()
		bel.heated, bel.targets = true, true
		return
	}
	bel.hotAsRead = false
	for p, d := range bel.degrees {
		if d.value > coldUpTo {
			delete(bel.degrees, p)
		}
	}
	if d, ok := bel.warmest(); ok {
		bel.Seen[model.Heat] = d.seen()
	}
}

// forgetHeat drops every reading: the machine heats, or nobody knows what it did since.
func (bel *belief) forgetHeat() {
	clear(bel.degrees)
	bel.hotAsRead = false
}

// darkened forgets targets of a machine without power.
func (bel *belief) darkened(v model.Variable) {
	if v == model.Power && bel.powerless() {
		bel.targets = false
	}
}

// powerless tells whether the machine is known to have no power.
func (bel *belief) powerless() bool {
	return model.Meets(model.Power, bel.Believed[model.Power], "off")
}

// unproven tells whether the temperature sensor was parted and not seen to read true since.
func (bel *belief) unproven() bool { return bel.Believed[model.Sensor] == model.Unproved }

// guessAgain keeps how the machine was believed to stand: a guess, for what a person may only
// confirm.
func (bel *belief) guessAgain() {
	for _, v := range model.Variables {
		if val := bel.Believed[v]; val != "" && !v.Latched() {
			bel.left[v] = val
		}
	}
}

// guess is how a variable was left, "" where nothing may be confirmed unseen: power and heat, how a
// bed stands, and what lets vapour out.
func (bel *belief) guess(v model.Variable) string {
	switch v {
	case model.Power, model.Heat, model.Bed:
		return ""
	case model.Door, model.Top:
		if bel.Believed[model.Vapour] == model.Drying {
			return ""
		}
	}
	return bel.left[v]
}

// stoodAs is how the machine is left, as far as it is known; the next session shows it as a guess.
func (bel *belief) stoodAs() model.Condition {
	out := model.Condition{}
	for _, v := range model.Variables {
		if val := bel.Believed[v]; val != "" && !v.Latched() && v != model.Power &&
			v != model.Heat {
			out[v] = val
		}
	}
	return out
}

// Latched gives vapour and sensor as they stand.
func (bel *belief) Latched() model.Condition {
	c := model.Condition{}
	for _, v := range model.Variables {
		if v.Latched() {
			c[v] = bel.Believed[v]
		}
	}
	return c
}
