package action

import (
	"slices"
	"strings"

	"bench/oilcan/model"
)

// FeatureQuestion asks about some features in plain words: one of a group that exclude each other,
// or any of several. Every front end that asks for a machine goes through the same ones.
type FeatureQuestion struct {
	Name string // in a column of questions
	Ask  string // as a sentence
	Hint string // "" where the answers say enough
	Any  bool   // any of them may be; else one, or not known
	None string // what no answer means where not "don't know"
	Of   []FeatureOption
	Only []model.Feature // asked only where the machine has one of these so far
	// Later questions are not put to a new machine: a session asks where the answer first matters,
	// and the machine's page.
	Later bool
}

// FeatureOption is a feature as an answer, and what it means.
type FeatureOption struct {
	Is   model.Feature
	Says string
}

// Asked tells whether the question is put to a machine that has these features so far.
func (q FeatureQuestion) Asked(have model.FeatureSet) bool {
	return len(q.Only) == 0 || slices.ContainsFunc(q.Only, func(f model.Feature) bool {
		return have[f]
	})
}

// FeatureQuestions go from what a person sees from across the room to what must be looked for.
var FeatureQuestions = []FeatureQuestion{
	{Name: "housing", Later: true, Ask: "Is it enclosed?",
		Of: []FeatureOption{{"enclosed", "closed all round, with a door"},
			{"open-frame", "open frame, no door"}}},
	{Name: "axes", Later: true, Ask: "How does it move?",
		Of: []FeatureOption{{"corexy", "crossed belts; the bed goes up and down"},
			{"bedslinger", "the bed goes to and fro; the gantry goes up and down"}}},
	{Name: "built in", Ask: "What else is built in?",
		Any: true, Of: []FeatureOption{
			{"top-panel", "a top panel that lifts off"},
			{"chamber-heater", "a heater for the chamber"},
			{"exhaust", "a powered outlet fan or hose"},
			{"chamber-filter", "a carbon filter for the chamber air"}, {"camera", "a camera"},
			{"mains-bed", "a bed heated at mains voltage"},
			{"bed-cable", "a cable that bends with a moving bed"},
			{"battery-backup", "a battery that takes over when the mains fail"},
			{"self-check", "a motion or vibration check of its own"}}},
	{Name: "guide rods", Ask: "Are there guide rods, and of what?",
		Of:   []FeatureOption{{"rods-carbon", "carbon rods"}, {"rods-steel", "steel rods"}},
		None: "none, or don't know",
		Hint: "What the toolhead slides on. A machine on rails or wheels has none."},
	{Name: "on the rods run", Later: true, Ask: "What runs on the rods?",
		Of: []FeatureOption{{"bush-ball", "bearings with balls"},
			{"bush-polymer", "solid plastic bushings"},
			{"bush-sintered", "oil-filled metal bushings"}},
		Only: []model.Feature{"rods-carbon", "rods-steel"},
		Hint: "Not known takes the dry, oil-free way."},
	{Name: "also moves on", Ask: "What else do the axes run on?",
		Any: true, Of: []FeatureOption{{"rails", "ball rails"}, {"rollers", "V-groove wheels"},
			{"z-screw", "lead screws for the height"}, {"z-belt", "lead screws joined by a belt"}}},
	{Name: "screw nuts", Later: true, Ask: "What are the lead screw nuts made of?",
		Of:   []FeatureOption{{"nut-metal", "metal, brass or bronze"}, {"nut-polymer", "plastic"}},
		Only: []model.Feature{"z-screw", "z-belt"}},
	{Name: "belt tension", Later: true, Ask: "How are the belts tensioned?",
		Of: []FeatureOption{{"belt-springclamp", "springs; clamp screws only hold"},
			{"belt-manual", "set by hand with a screw"}}},
	{Name: "extruder", Later: true, Ask: "Where is the extruder?",
		Of: []FeatureOption{{"direct-drive", "on the toolhead"},
			{"remote-drive", "away from the hot end, with a tube between"}}},
	{Name: "melt path", Later: true, Ask: "Does a PTFE tube reach down to the nozzle?",
		Of: []FeatureOption{{"lined-hotend", "yes, a PTFE liner"},
			{"metal-hotend", "no, all metal below the cooling fins"}},
		Hint: "Not known is never heated above 240 °C."},
	{Name: "nozzle", Later: true, Ask: "How is the nozzle changed?",
		Of: []FeatureOption{{"nozzle-threaded", "screws in and out alone"},
			{"nozzle-unit", "one piece with the hot end"}}},
	{Name: "heat sensor", Later: true, Ask: "What is the temperature sensor?",
		Of: []FeatureOption{{"sensor-ntc", "thermistor"}, {"sensor-pt", "platinum element"}}},
	{Name: "toolhead", Ask: "What does the toolhead have?",
		Any: true, Of: []FeatureOption{{"cutter", "a cutter blade"},
			{"layer-sensor", "a first-layer sensor"}, {"probe", "automatic levelling"},
			{"knobs", "levelling by hand, with knobs"},
			{"sock", "a silicone sock on the hot end"}}},
	{Name: "sensor window", Later: true, Ask: "What is the layer sensor's window made of?",
		Of:   []FeatureOption{{"lens-glass", "glass"}, {"lens-polymer", "plastic"}},
		Only: []model.Feature{"layer-sensor"}, Hint: "Not known is cleaned without alcohol."},
	{Name: "round it", Ask: "What stands round it?",
		Any: true, Of: []FeatureOption{{"changer", "a filament changer"},
			{"lid-changer", "the changer stands on the top panel"},
			{"changer-dryer", "the changer dries, with its own supply"},
			{"wiper", "a nozzle wiper"}, {"chute", "a purge chute"}}},
}

// QuestionOf is the question that asks for a group of features which exclude each other.
func QuestionOf(group []model.Feature) FeatureQuestion {
	i := slices.IndexFunc(FeatureQuestions, func(q FeatureQuestion) bool {
		return !q.Any && q.Of[0].Is == group[0]
	})
	return FeatureQuestions[i] // a test holds that every group has one
}

// Said are the features of a machine by the questions they answer: "guide rods: carbon rods".
func Said(fs []model.Feature) []string {
	var out []string
	for _, q := range FeatureQuestions {
		var are []string
		for _, o := range q.Of {
			if slices.Contains(fs, o.Is) {
				are = append(are, o.Says)
			}
		}
		if len(are) > 0 {
			out = append(out, q.Name+": "+strings.Join(are, ", "))
		}
	}
	return out
}

// FeatureTitle says what a feature is in the words it is asked for in.
func FeatureTitle(f model.Feature) string {
	for _, q := range FeatureQuestions {
		for _, o := range q.Of {
			if o.Is == f {
				return o.Says
			}
		}
	}
	return string(f)
}
