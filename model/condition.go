package model

import "maps"

// Variable is one element of a machine's state that care depends on.
type Variable string

// The variables, in the order a walk asks for them.
const (
	Power    Variable = "power"
	Heat     Variable = "heat"
	Filament Variable = "filament"
	Cover    Variable = "cover"
	Top      Variable = "top"
	Changer  Variable = "changer"
	Bed      Variable = "bed"
	Door     Variable = "door"
	Vapour   Variable = "vapour"
	Sensor   Variable = "sensor"
)

// Variables lists them all in asking order. The first eight become unknown at an interruption;
// vapour and sensor never do.
var Variables = []Variable{Power, Heat, Filament, Cover, Top, Changer, Bed, Door, Vapour, Sensor}

// Value is what a variable of the state can be. It is a text, as it stands in files, entries and
// answers.
type Value = string

// The values of the variables.
const (
	On        Value = "on"        // power, cover, top
	Off       Value = "off"       // power by its switch; cover and top taken off
	Unplugged Value = "unplugged" // every plug out and in sight: it meets off too
	Hot       Value = "hot"       // not read below 45 °C since it last could be warm
	Cold      Value = "cold"
	Loaded    Value = "loaded" // filament is in the head
	Unloaded  Value = "unloaded"
	// cut at the head: a stub is in it, and nothing beyond; unloaded meets it too
	Parted   Value = "parted"
	Mounted  Value = "mounted" // the changer on its lid
	Detached Value = "detached"
	High     Value = "high" // the bed, or what hangs, is up
	Low      Value = "low"  // it rests on its stops or on blocks
	Open     Value = "open"
	Shut     Value = "closed"
	Clear    Value = "clear" // no vapour in the air
	Drying   Value = "drying"
	Proved   Value = "proved" // the temperature sensor was seen to read true
	Unproved Value = "unproved"
)

// Values holds the values each variable can take, the believed-at-start one first.
var Values = map[Variable][]Value{
	Power:    {On, Off, Unplugged},
	Heat:     {Hot, Cold},
	Filament: {Loaded, Unloaded, Parted},
	Cover:    {On, Off},
	Top:      {On, Off},
	Changer:  {Mounted, Detached},
	Bed:      {High, Low},
	Door:     {Shut, Open},
	Vapour:   {Clear, Drying},
	Sensor:   {Proved, Unproved},
}

// Latched tells whether a variable outlives an interruption.
func (v Variable) Latched() bool { return v == Vapour || v == Sensor }

// Exists tells whether a machine with these features has the variable at all. An unknown build
// counts as having a door (common practice: the cautious reading).
func (v Variable) Exists(fs FeatureSet) bool {
	switch v {
	case Top:
		return fs["top-panel"]
	case Changer:
		return fs["changer"]
	case Door:
		return !fs["open-frame"]
	}
	return true
}

// Condition is what is believed of a machine's state; a variable not in it is unknown.
type Condition map[Variable]Value

// Assumed is the state the planner starts from where nothing is known: power on, hot, loaded,
// everything fitted, bed high, door closed, vapour clear, sensor proved.
func Assumed() Condition {
	c := Condition{}
	for _, v := range Variables {
		c[v] = Values[v][0]
	}
	return c
}

// Clone gives a copy that can be changed without changing this one.
func (c Condition) Clone() Condition {
	d := make(Condition, len(c))
	maps.Copy(d, c)
	return d
}

// Meets tells whether value satisfies what is wanted of v: unplugged satisfies off, unloaded
// satisfies parted; everything satisfies "".
func Meets(v Variable, value, want Value) bool {
	if want == "" || value == want {
		return true
	}
	return v == Power && want == Off && value == Unplugged || v == Filament && want == Parted &&
		value == Unloaded
}

// Meets tells whether the condition satisfies every requirement that exists on a machine with
// these features; miss is the first variable, in asking order, that does not.
func (c Condition) Meets(want Condition, fs FeatureSet) (ok bool, miss Variable) {
	for _, v := range Variables {
		if w := want[v]; w != "" && v.Exists(fs) && !Meets(v, c[v], w) {
			return false, v
		}
	}
	return true, ""
}
