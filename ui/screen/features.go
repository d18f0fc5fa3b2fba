package screen

import "bench/oilcan/model"

// featureQuestion asks about some features in plain words: one of a group that exclude each other, or
// any of several.
type featureQuestion struct {
	ask, hint string
	any       bool
	none      string // what the last answer says where not "don't know"
	of        []formOption
	only      []model.Feature // asked only where the machine has one of these
}

// notKnown is the last answer of every question of which only one answer can be.
var notKnown = formOption{"", "don't know"}

// featureQuestions go from what a person sees from across the room to what must be looked for.
var featureQuestions = []featureQuestion{
	{ask: "housing", of: []formOption{{"enclosed", "closed all round, with a door"}, {"open-frame", "open frame, no door"}}},
	{ask: "axes", of: []formOption{{"corexy", "crossed belts; the bed goes up and down"}, {"bedslinger", "the bed goes to and fro; the gantry goes up and down"}}},
	{ask: "built in", any: true, of: []formOption{
		{"top-panel", "a top panel that lifts off"}, {"chamber-heater", "a heater for the chamber"}, {"exhaust", "a powered outlet fan or hose"},
		{"chamber-filter", "a carbon filter for the chamber air"}, {"camera", "a camera"}, {"mains-bed", "a bed heated at mains voltage"},
		{"bed-cable", "a cable that bends with a moving bed"}, {"battery-backup", "a battery that takes over when the mains fail"},
		{"self-check", "a motion or vibration check of its own"}}},
	{ask: "guide rods", of: []formOption{{"rods-carbon", "carbon rods"}, {"rods-steel", "steel rods"}}, none: "none, or don't know",
		hint: "What the toolhead slides on. A machine on rails or wheels has none."},
	{ask: "on the rods run", of: []formOption{{"bush-ball", "bearings with balls"}, {"bush-polymer", "solid plastic bushings"}, {"bush-sintered", "oil-filled metal bushings"}},
		only: []model.Feature{"rods-carbon", "rods-steel"}, hint: "Not known takes the dry, oil-free way."},
	{ask: "also moves on", any: true, of: []formOption{{"rails", "ball rails"}, {"rollers", "V-groove wheels"},
		{"z-screw", "lead screws for the height"}, {"z-belt", "lead screws joined by a belt"}}},
	{ask: "screw nuts", of: []formOption{{"nut-metal", "metal, brass or bronze"}, {"nut-polymer", "plastic"}},
		only: []model.Feature{"z-screw", "z-belt"}},
	{ask: "belt tension", of: []formOption{{"belt-springclamp", "springs; clamp screws only hold"}, {"belt-manual", "set by hand with a screw"}}},
	{ask: "extruder", of: []formOption{{"direct-drive", "on the toolhead"}, {"remote-drive", "away from the hot end, with a tube between"}}},
	{ask: "nozzle", of: []formOption{{"nozzle-threaded", "screws in and out alone"}, {"nozzle-unit", "one piece with the hot end"}}},
	{ask: "heat sensor", of: []formOption{{"sensor-ntc", "thermistor"}, {"sensor-pt", "platinum element"}}},
	{ask: "toolhead", any: true, of: []formOption{{"cutter", "a cutter blade"}, {"layer-sensor", "a first-layer sensor"}, {"probe", "automatic levelling"},
		{"knobs", "levelling by hand, with knobs"}, {"sock", "a silicone sock on the hot end"}, {"lined-hotend", "a PTFE tube down to the nozzle"}}},
	{ask: "sensor window", of: []formOption{{"lens-glass", "glass"}, {"lens-polymer", "plastic"}},
		only: []model.Feature{"layer-sensor"}, hint: "Not known is cleaned without alcohol."},
	{ask: "round it", any: true, of: []formOption{{"changer", "a filament changer"}, {"lid-changer", "the changer stands on the top panel"},
		{"changer-dryer", "the changer dries, with its own supply"}, {"wiper", "a nozzle wiper"}, {"chute", "a purge chute"}}},
}
