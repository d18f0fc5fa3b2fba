package plan

import "bench/oilcan/model"

// The state of a machine as bits: two for power (on 00, off 01, unplugged 11, on over blocks 10),
// two for the filament (loaded 00, parted 01, unloaded 11), one for each other variable, 0 for its
// believed-at-start value. So "off is met by unplugged" and "parted by unloaded" are tests of one
// bit.
const (
	stateCount = 1 << 12
	across     = 4 << 1  // the place of the filament: nothing of it runs beyond the head
	headEmpty  = 1 << 11 // nor is any of it in the head
)

// bitsOf gives the bits of a variable and, of those, the ones set at a value. ok is false for an
// unknown variable or value.
func bitsOf(v model.Variable, value string) (mask, is int, ok bool) {
	if v == model.Power {
		switch value {
		case model.On:
			return 3, 0, true
		case model.Off:
			return 3, 1, true
		case model.Unplugged:
			return 3, 3, true
		case OverBlocks:
			return 3, 2, true
		}
		return 3, 0, false
	}
	if v == model.Filament {
		switch value {
		case model.Loaded:
			return across | headEmpty, 0, true
		case model.Parted:
			return across | headEmpty, across, true
		case model.Unloaded:
			return across | headEmpty, across | headEmpty, true
		}
		return across | headEmpty, 0, false
	}
	for i, w := range model.Variables[1:] {
		if w != v {
			continue
		}
		bit := 4 << i
		for k, val := range model.Values[v] {
			if val == value {
				return bit, k * bit, true
			}
		}
		return bit, 0, false
	}
	return 0, 0, false
}

// pattern is a set of states: those that agree with is on mask.
type pattern struct{ mask, is int }

func (p pattern) meets(s int) bool { return s&p.mask == p.is }

// put gives the state after what the pattern says was brought about.
func (p pattern) put(s int) int { return s&^p.mask | p.is }

// over gives the pattern with another brought about after it.
func (p pattern) over(q pattern) pattern { return pattern{p.mask | q.mask, q.put(p.is)} }

// then gives the pattern with a value brought about after it.
func (p pattern) then(v model.Variable, value string) pattern {
	mask, is, _ := bitsOf(v, value)
	return p.over(pattern{mask, is})
}

// want makes the pattern of what a procedure requires or a plan ends in.
func want(c model.Condition, fs model.FeatureSet) pattern {
	var p pattern
	for _, v := range model.Variables {
		value := c[v]
		if value == "" || !v.Exists(fs) {
			continue
		}
		mask, is, _ := bitsOf(v, value)
		if v == model.Power && value == model.Off {
			mask, is = 1, 1
		}
		if v == model.Filament && value == model.Parted {
			mask, is = across, across
		}
		p.mask |= mask
		p.is |= is
	}
	return p
}

// encode gives the state of a condition; what is not in it counts as assumed.
func encode(c model.Condition, fs model.FeatureSet) int {
	s := 0
	for _, v := range model.Variables {
		if value, ok := c[v]; ok && v.Exists(fs) {
			_, is, _ := bitsOf(v, value)
			s |= is
		}
	}
	return s
}

// decode gives the condition of a state, for the variables the machine has.
func decode(s int, fs model.FeatureSet) model.Condition {
	c := model.Condition{}
	for _, v := range model.Variables {
		if !v.Exists(fs) {
			continue
		}
		for _, value := range model.Values[v] {
			if mask, is, _ := bitsOf(v, value); s&mask == is {
				c[v] = value
			}
		}
		if v == model.Power && overBlocks(s) {
			c[v] = OverBlocks
		}
	}
	return c
}

// put gives the state after a variable takes a value.
func put(s int, v model.Variable, value string) int {
	return pattern{}.then(v, value).put(s)
}

// overBlocks tells whether a machine stands under power with its gantry on blocks.
func overBlocks(s int) bool { return s&3 == 2 }

// emergency tells whether a machine stands under power with its head open or solvent in the air.
// Nothing may be done then but to switch it off.
func emergency(s int) bool { return s&3 == 0 && s&openOrWet != 0 }

// openOrWet are the bits of an open head and of solvent in the air; unproved that of a sensor, low
// that of a bed.
var (
	openOrWet = put(put(0, model.Cover, "off"), model.Vapour, "drying")
	unproved  = put(0, model.Sensor, "unproved")
	low       = put(0, model.Bed, "low")
)
