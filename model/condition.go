package model

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

// Values holds the values each variable can take, the believed-at-start one first.
var Values = map[Variable][]string{
	Power:    {"on", "off", "unplugged"},
	Heat:     {"hot", "cold"},
	Filament: {"loaded", "unloaded"},
	Cover:    {"on", "off"},
	Top:      {"on", "off"},
	Changer:  {"mounted", "detached"},
	Bed:      {"high", "low"},
	Door:     {"closed", "open"},
	Vapour:   {"clear", "drying"},
	Sensor:   {"proved", "unproved"},
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
type Condition map[Variable]string

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
	for k, v := range c {
		d[k] = v
	}
	return d
}

// Meets tells whether value satisfies what is wanted of v: unplugged satisfies off; everything
// satisfies "".
func Meets(v Variable, value, want string) bool {
	if want == "" || value == want {
		return true
	}
	return v == Power && want == "off" && value == "unplugged"
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
