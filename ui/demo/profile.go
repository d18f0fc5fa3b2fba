package demo

import "bench/oilcan/model"

// profile is one invented machine: what it is, how hard it works, and how well it is looked after.
type profile struct {
	name     string
	features []string
	duty     model.Duty
	added    int // days ago

	hours, changes, starts float64 // on its counters when it was added
	hoursWeek, jobHours    float64 // print hours a week; 0: no history
	multi                  float64 // share of weeks with many colours
	styrenic, abrasive     float64 // shares of the hours
	meters                 []model.Meter
	readSkip               float64 // share of weekly readings left out
	lastRead               float64 // hours ago
	sitEvery, lastSit      int     // days between sessions; days since the last one
	bladeWear              float64 // share of the rule of thumb a blade lasts here; 0: all of it

	fails, dirty float64 // prints in 100 h, and the share of them that comes of dirt and wear

	pinned  []pin
	unknown []string // never done and nobody knows since when
	stories []story
}

// pin sets how far a gauge is when the bench is opened: the first of the procedures that fits the
// machine and has an interval in the meter.
type pin struct {
	ids   []string
	meter model.Meter
	share float64 // of low where below 1; 1 to 2 from low to high, 2.x that much over high
}

// story is something found by hand, days ago.
type story struct {
	ago  float64
	kind model.FindingKind
	text string
	part string
	proc []string // the first the library holds
	due  bool     // that procedure is due by it
	days float64  // look again so many days from now
	tag  model.TagKind
}

// profiles are the six machines: two enclosed with changers, two enclosed without, a bed-slinger,
// and one on rails that was unpacked the day before yesterday.
var profiles = []profile{
	{
		name: "Heron", features: []string{"full"}, duty: model.Production, added: 268,
		hours: 1320, changes: 18400, starts: 410, hoursWeek: 62, jobHours: 7.5, multi: 0.35,
		styrenic: 0.7,
		fails:    0.9, dirty: 0.3,
		meters:   []model.Meter{model.Hours, model.Changes, model.Starts, model.StyrenicHours},
		readSkip: 0.15, lastRead: 14, sitEvery: 13, lastSit: 4,
		pinned: []pin{
			{[]string{"desiccant-look", "desiccant", "camera-clean"}, model.Days, 1.4},
			{[]string{"blade-check"}, model.Cuts, 0.86},
			{[]string{"rods-wipe", "fans-blow"}, model.Days, 0.9},
		},
		stories: []story{{ago: 4, kind: model.FoundNote,
			text: "left belt tone a little under the right one",
			proc: []string{"belt-tone", "belts-reset"}, days: 9}},
	},
	{
		name: "Plover", features: []string{"enclosed", "corexy", "top-panel", "rods-steel",
			"bush-ball", "z-screw", "nut-metal",
			"belt-springclamp", "direct-drive", "metal-hotend", "nozzle-unit", "sock", "sensor-ntc",
			"cutter", "layer-sensor", "lens-glass", "probe",
			"changer", "lid-changer", "changer-dryer", "wiper", "chute", "camera", "chamber-filter",
			"self-check"},
		duty: model.Home, added: 262,
		hours: 640, changes: 5200, starts: 220, hoursWeek: 30, jobHours: 6, multi: 0.35,
		abrasive: 0.5,
		fails:    1.1, dirty: 0.3,
		meters:   []model.Meter{model.Hours, model.Changes, model.Starts, model.AbrasiveHours},
		readSkip: 0.3, lastRead: 63, sitEvery: 26, lastSit: 6, bladeWear: 0.5,
		pinned: []pin{
			{[]string{"gears-blow-look"}, model.AbrasiveHours, 0.87},
			{[]string{"screws-oil", "belts-reset"}, model.Days, 0.93},
		},
	},
	{
		name: "Dunlin", features: []string{"enclosed", "corexy", "top-panel", "rods-carbon",
			"bush-polymer", "z-screw", "z-belt", "nut-polymer",
			"belt-springclamp", "direct-drive", "metal-hotend", "nozzle-unit", "sock", "sensor-ntc",
			"probe", "wiper", "camera", "chamber-filter", "self-check"},
		duty: model.Home, added: 148,
		hours: 2210, changes: 1900, starts: 1450, hoursWeek: 17, jobHours: 4,
		fails: 1.6, dirty: 0.2,
		meters:   []model.Meter{model.Hours, model.Starts},
		readSkip: 0.4, lastRead: 110, sitEvery: 28, lastSit: 9,
		pinned:  []pin{{[]string{"fans-blow"}, model.Days, 0.88}},
		unknown: []string{"door-seals", "screws-oil", "filter-swap"},
	},
	{
		name: "Teal", features: []string{"enclosed", "corexy", "top-panel", "rods-carbon",
			"bush-polymer", "z-screw", "nut-metal",
			"belt-springclamp", "direct-drive", "metal-hotend", "nozzle-unit", "sock", "sensor-ntc",
			"cutter", "layer-sensor", "lens-polymer", "probe",
			"wiper", "chute", "camera", "chamber-filter", "self-check"},
		duty: model.Production, added: 266,
		hours: 980, changes: 1500, starts: 620, hoursWeek: 70, jobHours: 5,
		fails: 1.7, dirty: 0.97,
		meters:   []model.Meter{model.Hours, model.Changes, model.Starts},
		readSkip: 0.2, lastRead: 16, sitEvery: 14, lastSit: 3,
		pinned: []pin{
			{[]string{"filter-swap", "screws-oil"}, model.Days, 2.3},
			{[]string{"camera-clean", "fans-blow"}, model.Days, 1.3},
		},
		stories: []story{{ago: 2, kind: model.FoundPart,
			text: "nozzle tip worn oval, a new one is on order", part: "nozzle",
			proc: []string{"nozzle-swap-look", "nozzle-swap"}, days: 3, tag: model.TagWaiting}},
	},
	{
		name: "Wigeon", features: []string{"open-frame", "bedslinger", "rods-steel", "bush-ball",
			"z-screw", "nut-metal", "belt-manual",
			"remote-drive", "lined-hotend", "nozzle-threaded", "sensor-ntc", "knobs", "bed-cable"},
		duty: model.Home, added: 255,
		hours: 3140, changes: 900, starts: 1100, hoursWeek: 12, jobHours: 4,
		fails: 2.2, dirty: 0.5,
		meters:   []model.Meter{model.Hours, model.Starts},
		readSkip: 0.55, lastRead: 205, sitEvery: 30, lastSit: 11,
		stories: []story{{ago: 1, kind: model.FoundNote,
			text: "faint steps on the tall faces of the last print",
			proc: []string{"belts-reset", "rods-wipe", "fans-blow"}, due: true, days: 6}},
	},
	{
		name: "Knot", features: []string{"enclosed", "corexy", "rails", "z-screw", "z-belt",
			"nut-metal", "belt-manual", "direct-drive", "metal-hotend",
			"nozzle-threaded", "sensor-pt", "probe", "exhaust", "mains-bed"},
		duty: model.Home, added: 2,
	},
}
