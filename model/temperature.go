package model

import "slices"

// Place is where a machine keeps its heat.
type Place string

// The places a reading can be of.
const (
	HotEnd     Place = "hot end"
	BedPlate   Place = "bed"
	ChamberAir Place = "chamber"
	HeatedBox  Place = "heated changer"
)

// Places lists every place a temperature is read at.
var Places = []Place{HotEnd, BedPlate, ChamberAir, HeatedBox}

// PlacesOn lists those a machine has.
func PlacesOn(fs FeatureSet) []Place {
	has := map[Place]bool{HotEnd: true, BedPlate: true, ChamberAir: !fs["open-frame"],
		HeatedBox: fs["changer-dryer"]}
	return keep(Places, func(p Place) bool { return has[p] })
}

// Temperature is a quantity that steps measure in °C.
type Temperature struct {
	Quantity string
	// of the machine it is a reading of; none: it tells nothing of the machine's heat
	Places   []Place
	Usual    Span // °C; outside it is asked again
	Possible Span // °C; outside it is not taken
}

// Span is a range of values, both ends included.
type Span struct{ Low, High float64 }

// Holds tells whether a value lies in the span.
func (s Span) Holds(v float64) bool { return v >= s.Low && v <= s.High }

var (
	// warm is what a part of a printer can read where people work on it (from memory); less is more
	// often a digit left out.
	warm = Span{10, 500}
	// shown is what a thermometer at a printer can show (common practice: an unheated room in
	// winter, the hottest hot ends); what lies beyond is a slip or a broken sensor, and proves
	// nothing.
	shown = Span{-20, 500}
	// lived is what a room has in which people work on printers, garages included (common
	// practice).
	lived = Span{5, 40}
	// rooms are the coldest and the hottest room there is.
	rooms = Span{-20, 50}
)

// Temperatures is the closed list of what is measured in °C. Only a reading of a place is the
// machine's heat: a difference, a target, a dryer's knob, the room and a pane of glass are not.
var Temperatures = []Temperature{
	{"hot end temperature", []Place{HotEnd}, warm, shown},
	{"hot end temperature at work", []Place{HotEnd}, warm, shown},
	{"block temperature, cold", []Place{HotEnd}, warm, shown},
	{"block by probe at 60 °C", []Place{HotEnd}, warm, shown},
	{"idle reading", []Place{HotEnd}, warm, shown},
	{"softening temperature", []Place{HotEnd}, warm, shown},
	{"pull temperature", []Place{HotEnd}, warm, shown},
	{"brushing temperature", []Place{HotEnd}, warm, shown},
	{"bed temperature", []Place{BedPlate}, warm, shown},
	{"warmest of bed and hot end", []Place{HotEnd, BedPlate}, warm, shown},
	{"chamber temperature", []Place{ChamberAir}, warm, shown},
	{"changer temperature", []Place{HeatedBox}, warm, shown},

	{"room temperature", nil, lived, rooms},
	{"hot end target", nil, shown, shown},
	{"tuning temperature", nil, shown, shown}, // as asked for, not as read
	{"hot end off target", nil, shown, shown},
	{"idle reading less room", nil, shown, shown},
	{"lamp temperature", nil, shown, shown},
	{"purge area temperature", nil, shown, shown},
	{"filter holder temperature", nil, shown, shown},
	{"door glass temperature", nil, shown, shown},
	{"dryer setting", nil, shown, shown},
	{"dryer over its setting", nil, shown, shown},
	{"drying box temperature", nil, shown, shown},
	{"battery case temperature", nil, shown, shown},
}

// TemperatureOf finds a quantity in the list. One that is not in it, an operator's own, is a
// reading of nothing.
func TemperatureOf(quantity string) (t Temperature, known bool) {
	i := slices.IndexFunc(Temperatures, func(t Temperature) bool { return t.Quantity == quantity })
	if i < 0 {
		return Temperature{Quantity: quantity, Usual: shown, Possible: shown}, false
	}
	return Temperatures[i], true
}

// WarmestOf is what is asked of a machine in one value, whatever place is the warmest.
func WarmestOf(fs FeatureSet) Temperature {
	return Temperature{"warmest of the machine", PlacesOn(fs), shown, shown}
}
