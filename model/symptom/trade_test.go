package symptom_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
)

// Machines the trade cases are about. None is one maker's.
var (
	box     = model.FullFeatures // closed, coreXY, carbon rods, changer
	slinger = []model.Feature{"open-frame", "bedslinger", "rollers", "z-screw", "nut-metal",
		"belt-manual", "remote-drive", "lined-hotend", "nozzle-threaded", "sock", "sensor-ntc", "knobs", "bed-cable"}
	slingerHD = []model.Feature{"open-frame", "bedslinger", "rods-steel", "bush-ball", "z-screw",
		"nut-metal", "belt-manual", "direct-drive", "nozzle-threaded", "sock", "sensor-ntc", "probe", "bed-cable"}
	railBox = []model.Feature{"enclosed", "corexy", "top-panel", "exhaust", "mains-bed", "rails",
		"z-screw", "z-belt", "nut-metal", "belt-manual", "direct-drive", "nozzle-threaded", "sock", "sensor-pt", "probe", "wiper", "chamber-filter", "camera"}
)

// tradeCase is a call at the bench: what is there, what was done when, what is seen and answered,
// and what a technician would go for. Exactly one of care and outside is given.
type tradeCase struct {
	name     string
	features []model.Feature
	care     map[string]int // done so many days ago, nothing left open
	open     []model.Found  // findings that stand
	heard    []string       // "symptom" or "symptom: answer"
	care1    string         // the care gone for; alternatives by "|"
	outside  string         // words of the cause no care mends
}

// tradeCases are common practice, each written down from the bench before the weights were looked
// at again.
var tradeCases = []tradeCase{
	{name: "nylon from an open roll strings and pops", features: box,
		heard: []string{"stringing: it pops or steams"}, care1: "dry-filament"},
	{name: "strings, roll dried yesterday, another dry roll is as bad", features: box,
		care:  map[string]int{"dry-filament": 1, "fans-blow": 20, "hotend-swap": 60},
		heard: []string{"stringing: a dry roll is as bad"}, outside: "etraction"},
	{name: "strings, nothing known but a roll dried yesterday; asked nothing", features: slinger,
		care:  map[string]int{"dry-filament": 1, "nozzle-swap": 300},
		heard: []string{"stringing"}, care1: "nozzle-swap|fans-blow"},
	{name: "strings since a new nozzle", features: slinger,
		care:  map[string]int{"nozzle-swap": 2, "dry-filament": 40},
		heard: []string{"stringing: since the nozzle was changed"}, care1: "nozzle-swap"},
	{name: "thin only in the first centimetres of every print", features: slinger,
		heard: []string{"under-extrusion: it clears in the first centimetres"}, outside: "oze"},
	{name: "thin with one roll only", features: box,
		heard: []string{"under-extrusion: one roll only"}, outside: "roll"},
	{name: "thin, clicks, every roll, gears never blown", features: box,
		heard: []string{"under-extrusion: every roll, and it clicks"},
		care1: "gears-blow|cold-pull"},
	{name: "thin, clicks, gears blown and pulled cold two days ago", features: slinger,
		care:  map[string]int{"gears-blow": 2, "cold-pull": 2, "nozzle-swap": 200},
		heard: []string{"under-extrusion: every roll, and it clicks"},
		care1: "tube-wear|nozzle-swap"},
	{name: "thin and rough walls without a click after 200 h of fibre", features: slingerHD,
		care:  map[string]int{"nozzle-swap": 400, "gears-blow": 20, "cold-pull": 30},
		heard: []string{"under-extrusion: every roll, no click"}, care1: "nozzle-swap"},
	{name: "thin with fibre-filled rolls only", features: box,
		heard: []string{"under-extrusion: filled filament only"}, care1: "cold-pull|hotend-swap"},
	{name: "thin, chipped gear on order", features: slingerHD,
		care: map[string]int{"gears-blow": 12, "cold-pull": 12},
		open: []model.Found{{Kind: "part", Text: "two teeth of the drive gear are chipped",
			Procedure: "gears-blow", Part: "gear set"}},
		heard: []string{"under-extrusion: every roll, and it clicks"}, care1: "gear-swap"},
	{name: "clicks in the first layer only", features: slinger,
		heard: []string{"extruder-clicks: in the first layer only"}, care1: "first-layer|bed-tram"},
	{name: "clicks after an hour, soft plastic, fans not blown for a year", features: slinger,
		care:  map[string]int{"fans-blow": 400, "cold-pull": 60, "gears-blow": 30, "tube-wear": 60},
		heard: []string{"extruder-clicks: after an hour or so"}, care1: "fans-blow"},
	{name: "clicks at two of four slots", features: box,
		heard: []string{"extruder-clicks: at certain slots or rolls"}, care1: "feed-path"},
	{name: "clicks at high speed only", features: slingerHD,
		care:  map[string]int{"gears-blow": 10, "cold-pull": 20},
		heard: []string{"extruder-clicks: at high speed only"}, outside: "melt"},
	{name: "rings along the bed's way, bed on rollers", features: slinger,
		heard: []string{"ringing: when the bed goes to and fro"}, care1: "rollers-set|belts-reset"},
	{name: "rings on one axis, belts set anew yesterday", features: box,
		care: map[string]int{"belts-reset": 1, "belt-tone": 1, "frame-screws": 20,
			"self-check": 1},
		heard: []string{"ringing: along one axis"}, care1: "pulley-screws"},
	{name: "rings since it stands on another table", features: box,
		heard: []string{"ringing: since a move or another speed"}, outside: "bench"},
	{name: "fine even marks that do not fade, on straight walls", features: railBox,
		care:  map[string]int{"belts-reset": 60},
		heard: []string{"ringing: even marks that never fade"}, outside: "teeth"},
	{name: "shifts along the bed's way, pulleys never looked at", features: slinger,
		heard: []string{"layer-shift: along the bed's way only"},
		care1: "pulley-screws|belts-reset"},
	{name: "shifts both ways, belts past", features: box,
		care:  map[string]int{"belts-reset": 200, "pulley-screws": 40},
		heard: []string{"layer-shift: both ways, at any height"}, care1: "belts-reset"},
	{name: "shifts always where the part curls", features: slinger,
		heard: []string{"layer-shift: at the same height"}, outside: "struck"},
	{name: "shifts only in long prints, the motor too hot to touch", features: slinger,
		heard: []string{"layer-shift: only in long prints, a motor is hot"}, outside: "hot"},
	{name: "shifts, belts and pulleys found good two days ago", features: box,
		care: map[string]int{"belts-reset": 2, "pulley-screws": 2, "belt-tone": 2,
			"rods-wipe": 120},
		heard: []string{"layer-shift: one way, at any height"}, care1: "rods-wipe"},
	{name: "nothing sticks, plate handled", features: railBox,
		heard: []string{"first-layer-not-sticking: where the plate was touched"},
		care1: "plate-wash"},
	{name: "one corner does not stick, knobs", features: slinger,
		heard: []string{"first-layer-not-sticking: at one corner or side"}, care1: "bed-tram"},
	{name: "whole plate does not stick, washed this morning", features: slingerHD,
		care:  map[string]int{"plate-wash": 0},
		heard: []string{"first-layer-not-sticking: over the whole plate"}, care1: "first-layer"},
	{name: "one plastic only does not stick", features: box,
		heard: []string{"first-layer-not-sticking: one plastic only"}, outside: "plate"},
	{name: "only the first line of each start drags", features: box,
		heard: []string{"first-layer-not-sticking: only the first centimetres of it"},
		care1: "wiper-check"},
	{name: "thick here, thin there, moves with the plate", features: railBox,
		heard: []string{"first-layer-uneven: it moves with the plate"}, care1: "plate-wash"},
	{name: "one side low and stays", features: slinger,
		heard: []string{"first-layer-uneven: one side or corner, it stays"}, care1: "bed-tram"},
	{name: "the middle high all along the gantry", features: slingerHD,
		care:  map[string]int{"bed-tram": 5, "first-layer": 5},
		heard: []string{"first-layer-uneven: the middle, it stays"}, outside: "beam"},
	{name: "another height every time", features: slingerHD,
		heard: []string{"first-layer-uneven: another spot each time"}, care1: "probe-clean"},
	{name: "leak over the block, nozzle changed three days ago", features: slinger,
		care:  map[string]int{"nozzle-swap": 3},
		heard: []string{"nozzle-blob: from above the block: a leak"}, care1: "nozzle-swap"},
	{name: "lump at the tip", features: box,
		heard: []string{"nozzle-blob: it collects at the tip"}, care1: "wiper-check"},
	{name: "the part came loose and hangs on the nozzle", features: slinger,
		heard: []string{"nozzle-blob: a part came loose and hangs on it"}, outside: "loose"},
	{name: "bridges sag, fan weak and furred", features: slinger,
		care:  map[string]int{"fans-blow": 400},
		heard: []string{"poor-bridging: the fan is not heard or weak"},
		care1: "fans-blow|fan-swap"},
	{name: "overhangs sag on one side of the part", features: slingerHD,
		care:  map[string]int{"fans-blow": 15},
		heard: []string{"poor-bridging: on one side of the part only"}, outside: "one side"},
	{name: "squeals when the bed goes up", features: box,
		heard: []string{"squeal-grind: when the bed or gantry goes up or down"},
		care1: "screws-oil"},
	{name: "head squeals, carbon rods wiped yesterday", features: box,
		care:  map[string]int{"rods-wipe": 1, "play-check": 1},
		heard: []string{"squeal-grind: when the head moves"}, outside: "groove"},
	{name: "bed on rollers grinds to and fro", features: slinger,
		heard: []string{"squeal-grind: when the bed goes to and fro"}, care1: "rollers-set"},
	{name: "rails hiss", features: railBox,
		heard: []string{"squeal-grind: when the head moves"}, care1: "rails-grease"},
	{name: "bands at the screw's pitch, screws long past", features: box,
		care:  map[string]int{"screws-oil": 300},
		heard: []string{"z-banding: evenly, at the screw's pitch"}, care1: "screws-oil"},
	{name: "bands at the screw's pitch, screws cleaned and oiled three days ago", features: slinger,
		care:  map[string]int{"screws-oil": 3, "rollers-set": 20},
		heard: []string{"z-banding: evenly, at the screw's pitch"}, outside: "bent screw"},
	{name: "bands in step with a swinging temperature", features: railBox,
		heard: []string{"z-banding: in step with the temperature shown"}, care1: "heat-tune"},
	{name: "does not home since a crash", features: box,
		heard: []string{"homing-error: after a crash or a jam"},
		care1: "belts-reset|pulley-screws|self-check"},
	{name: "does not home since the cover was off", features: slingerHD,
		heard: []string{"homing-error: after cleaning or opening it"}, care1: "cable-check"},
	{name: "stops at the wrong height, plastic on the tip", features: railBox,
		heard: []string{"homing-error: only in height, at the plate"},
		care1: "probe-clean|wiper-check"},
	{name: "cut end slanted", features: box,
		heard: []string{"fails-to-cut: slanted, stretched or crushed"}, care1: "blade-check"},
	{name: "cut end square, still refused", features: box, care: map[string]int{"blade-check": 10},
		heard: []string{"fails-to-cut: square and clean"}, outside: "stop"},
	{name: "one slot does not load", features: box,
		heard: []string{"changer-feed-failure: one slot"}, care1: "feed-path|tube-wear"},
	{name: "one roll does not load, in whichever slot", features: box,
		heard: []string{"changer-feed-failure: one roll, in any slot"}, outside: "crossed"},
	{name: "every slot fails to unload, blade three months old", features: box,
		care:  map[string]int{"blade-check": 90},
		heard: []string{"changer-feed-failure: every slot, unloading"}, care1: "blade-check"},
	{name: "nothing loads since the tubes were off", features: box,
		care:  map[string]int{"feed-path": 0, "tube-wear": 0},
		heard: []string{"changer-feed-failure: since it was opened or moved"}, care1: "put-back"},
	{name: "pops, roll dried yesterday, desiccant long past", features: box,
		care:  map[string]int{"dry-filament": 1, "desiccant": 200},
		heard: []string{"filament-wet-popping: yes, in free air too"}, care1: "desiccant"},
	{name: "jams with soft plastic and the door shut", features: box,
		heard: []string{"heat-creep-jam: soft plastic, door shut"}, outside: "hot for"},
	{name: "jams, the hot end's fan stands still", features: slinger,
		care:  map[string]int{"fans-blow": 10},
		heard: []string{"heat-creep-jam: the hot end's fan stands or is weak"}, care1: "fan-swap"},
	{name: "jams with any plastic, lined hot end, fan found good", features: slinger,
		care:  map[string]int{"fans-blow": 2},
		heard: []string{"heat-creep-jam: with any plastic, the fan turns"},
		care1: "tube-wear|cold-pull"},
	{name: "smells of ABS, filter past", features: box, care: map[string]int{"filter-swap": 400},
		heard: []string{"odour: sweet, of the plastic"}, care1: "filter-swap"},
	{name: "smells of ABS, filter new last week", features: box,
		care:  map[string]int{"filter-swap": 5},
		heard: []string{"odour: sweet, of the plastic"}, care1: "door-seals|exhaust-check"},
	{name: "corner nearest the door lifts", features: box,
		heard: []string{"warping: the corner nearest the door"}, care1: "door-seals"},
	{name: "ABS lifts on an open machine", features: slingerHD,
		care:  map[string]int{"plate-wash": 3},
		heard: []string{"warping: ABS, ASA, PC or nylon only"}, outside: "draught"},
	{name: "lifts on the window side in winter", features: slinger,
		care:  map[string]int{"plate-wash": 10},
		heard: []string{"warping: one side, or in a cold room"}, outside: "draught"},
	{name: "diagonals differ", features: slinger,
		heard: []string{"dimension-error: the diagonals differ"}, care1: "square-check"},
	{name: "one axis short", features: railBox,
		heard: []string{"dimension-error: one axis"}, care1: "pulley-screws|belts-reset"},
	{name: "one plastic comes out small", features: slinger, care: map[string]int{"flow-check": 30},
		heard: []string{"dimension-error: one plastic only"}, outside: "hrink"},
	{name: "foot too wide, only the lowest half millimetre", features: slingerHD,
		heard: []string{"elephant-foot: yes, only there"}, care1: "first-layer|bed-tram"},
	{name: "white after black is grey", features: box,
		heard: []string{"colour-bleed: dark to light only"}, outside: "urge"},
	{name: "dark specks hours after the change", features: box,
		heard: []string{"colour-bleed: specks, long after the change"}, care1: "cold-pull"},
	{name: "snaps in the tube overnight", features: box,
		heard: []string{"brittle-filament: in the tube, overnight"}, care1: "dry-filament"},
	{name: "old roll snaps though dried two days ago", features: slinger,
		care:  map[string]int{"dry-filament": 2},
		heard: []string{"brittle-filament: one old roll only"}, outside: "ld stock"},
	{name: "whines all the time, fans blown last week", features: slinger,
		care:  map[string]int{"fans-blow": 5},
		heard: []string{"loud-fan: all the time, a whine or grind"}, care1: "fan-swap"},
	{name: "restarts as the bed goes back", features: slinger,
		heard: []string{"power-resets: when the bed or the head moves"}, care1: "bed-cable"},
	{name: "restarts when the heater in the room starts", features: box,
		heard: []string{"power-resets: as another load switches on"}, outside: "strip"},
	{name: "door not seen since it was put back", features: box,
		heard: []string{"door-or-top-not-detected: since it was put back"}, care1: "put-back"},
}

// laterCases are common practice too: written after the weights were set, most of them with nothing
// answered.
var laterCases = []tradeCase{
	{name: "thin, nothing asked, nothing known", features: railBox,
		heard: []string{"under-extrusion"}, care1: "gears-blow|cold-pull|nozzle-swap"},
	{name: "thin, nothing asked, gears and cold pull good", features: box,
		care: map[string]int{"gears-blow": 3, "cold-pull": 3}, heard: []string{"under-extrusion"},
		care1: "dry-filament|tube-wear|hotend-swap"},
	{name: "clicks, gears long past", features: box,
		care:  map[string]int{"gears-blow": 300, "cold-pull": 20},
		heard: []string{"extruder-clicks"}, care1: "gears-blow"},
	{name: "strings, nothing known", features: box, heard: []string{"stringing"},
		care1: "dry-filament"},
	{name: "strings, roll dried yesterday, unit fairly new", features: box,
		care: map[string]int{"dry-filament": 1, "hotend-swap": 10, "fans-blow": 10,
			"desiccant": 20}, heard: []string{"stringing"}, outside: "etraction"},
	{name: "rings, nothing asked", features: slingerHD, heard: []string{"ringing"},
		care1: "belts-reset|frame-screws"},
	{name: "rings both ways, belts just set", features: railBox,
		care:  map[string]int{"belts-reset": 10, "belt-tone": 10},
		heard: []string{"ringing: along both"}, care1: "frame-screws"},
	{name: "shifts, nothing asked", features: railBox, heard: []string{"layer-shift"},
		care1: "belts-reset|pulley-screws"},
	{name: "shifts along the bed, its cable noted to rub", features: slinger,
		open: []model.Found{{Kind: "note", Text: "jacket rubs on the frame",
			Procedure: "bed-cable"}}, heard: []string{"layer-shift: along the bed's way only"},
		care1: "bed-cable"},
	{name: "nothing sticks, nothing asked", features: slinger,
		heard: []string{"first-layer-not-sticking"}, care1: "plate-wash"},
	{name: "nothing sticks, washed yesterday", features: slinger,
		care:  map[string]int{"plate-wash": 1, "bed-tram": 90},
		heard: []string{"first-layer-not-sticking"}, care1: "bed-tram|first-layer"},
	{name: "uneven, nothing asked", features: railBox, heard: []string{"first-layer-uneven"},
		care1: "bed-tram|first-layer|z-belt-check"},
	{name: "one side low again three days after the tram", features: railBox,
		care:  map[string]int{"bed-tram": 3, "first-layer": 3, "self-check": 3},
		heard: []string{"first-layer-uneven: one side or corner, it stays"}, care1: "z-belt-check"},
	{name: "blob, nothing asked", features: railBox, heard: []string{"nozzle-blob"},
		care1: "wiper-check|sock-check|nozzle-swap"},
	{name: "leak on a hot-end unit", features: box,
		heard: []string{"nozzle-blob: from above the block: a leak"}, care1: "hotend-swap"},
	{name: "sags, fans good, every material", features: box, care: map[string]int{"fans-blow": 5},
		heard: []string{"poor-bridging: heard, with every material"}, outside: "fan share"},
	{name: "squeals, nothing asked, bed on rollers", features: slinger,
		heard: []string{"squeal-grind"}, care1: "rollers-set|screws-oil"},
	{name: "head squeals, rods long past", features: box, care: map[string]int{"rods-wipe": 200},
		heard: []string{"squeal-grind: when the head moves"}, care1: "rods-wipe"},
	{name: "bands, nothing asked", features: slinger, heard: []string{"z-banding"},
		care1: "rollers-set|screws-oil"},
	{name: "even bands, z belt", features: railBox,
		heard: []string{"z-banding: evenly, at another spacing"}, care1: "z-belt-check"},
	{name: "bands at the pitch, screws oiled five days ago", features: railBox,
		care:  map[string]int{"screws-oil": 5},
		heard: []string{"z-banding: evenly, at the screw's pitch"}, outside: "bent screw"},
	{name: "homing worse over days, rails", features: railBox,
		heard: []string{"homing-error: by itself, over days"}, care1: "rails-grease"},
	{name: "homing, nothing asked", features: box, heard: []string{"homing-error"},
		care1: "rods-wipe|belts-reset"},
	{name: "changer, nothing asked, blade past", features: box,
		care: map[string]int{"blade-check": 200}, heard: []string{"changer-feed-failure"},
		care1: "blade-check"},
	{name: "changer, unloading, blade good", features: box, care: map[string]int{"blade-check": 4},
		heard: []string{"changer-feed-failure: every slot, unloading"},
		care1: "gears-blow|feed-path|tube-wear"},
	{name: "one slot, its tube noted to be renewed", features: box,
		open: []model.Found{{Kind: "part", Text: "tube of slot 3 is oval", Procedure: "tube-wear",
			Part: "tube"}}, heard: []string{"changer-feed-failure: one slot"}, care1: "tube-wear"},
	{name: "jams late, fans past", features: slinger, care: map[string]int{"fans-blow": 300},
		heard: []string{"heat-creep-jam"}, care1: "fans-blow"},
	{name: "smells, nothing asked, filter past", features: railBox,
		care: map[string]int{"filter-swap": 400}, heard: []string{"odour"}, care1: "filter-swap"},
	{name: "smells, filter and seals good", features: box,
		care:  map[string]int{"filter-swap": 3, "door-seals": 3},
		heard: []string{"odour: sweet, of the plastic"}, care1: "exhaust-check"},
	{name: "corners lift, nothing known", features: box, heard: []string{"warping"},
		care1: "plate-wash|door-seals"},
	{name: "all parts lift, washed today", features: box, care: map[string]int{"plate-wash": 0},
		heard: []string{"warping: all parts"}, care1: "first-layer|door-seals"},
	{name: "too big alike, flow good", features: slinger, care: map[string]int{"flow-check": 5},
		heard: []string{"dimension-error: both axes alike"}, outside: "hrink"},
	{name: "holes oval, rollers", features: slinger,
		heard: []string{"dimension-error: round holes come out oval"},
		care1: "rollers-set|belts-reset"},
	{name: "wide foot, nothing asked", features: slinger, heard: []string{"elephant-foot"},
		care1: "first-layer|bed-tram"},
	{name: "colours bleed, pulled cold lately", features: box,
		care: map[string]int{"cold-pull": 2, "wiper-check": 8}, heard: []string{"colour-bleed"},
		outside: "urge"},
	{name: "snaps, nothing asked", features: slinger, heard: []string{"brittle-filament"},
		care1: "dry-filament"},
	{name: "fan loud, long not blown", features: slinger, care: map[string]int{"fans-blow": 300},
		heard: []string{"loud-fan"}, care1: "fans-blow"},
	{name: "restarts when hot", features: box,
		heard: []string{"power-resets: hot, after hours of printing"}, care1: "fans-blow"},
	{name: "pops, nothing asked", features: slingerHD, heard: []string{"filament-wet-popping"},
		care1: "dry-filament"},
	{name: "pops, packs seen to be spent", features: box,
		care:  map[string]int{"dry-filament": 10, "desiccant-look": 2},
		open:  []model.Found{{Kind: "due", Text: "packs are spent", Procedure: "desiccant-look"}},
		heard: []string{"filament-wet-popping: yes, in free air too"}, care1: "desiccant"},
	{name: "false alarm, nothing asked", features: box, heard: []string{"false-alarm"},
		care1: "camera-clean|layer-lens-clean"},
}

// otherCases are common practice, written by another hand than the weights, before that hand had
// run any case. The first run had 16 of 20 first. Of the other four one is a miss of the ranking
// (no slot loads: the blade before the gears); three were found and worded unlike the case, or a
// note of the settings where none had been thought of.
var otherCases = []tradeCase{
	{name: "rings both ways, frame screws never tightened, belts toned last week",
		features: slinger, care: map[string]int{"belts-reset": 7, "belt-tone": 7},
		heard: []string{"ringing: along both"}, care1: "frame-screws|renip"},
	{name: "whole plate does not hold, washed 40 days ago", features: box,
		care:  map[string]int{"plate-wash": 40},
		heard: []string{"first-layer-not-sticking: over the whole plate"}, care1: "plate-wash"},
	{name: "thin without clicks, old nozzle, flow checked yesterday", features: slingerHD,
		care:  map[string]int{"nozzle-swap": 400, "flow-check": 1},
		heard: []string{"under-extrusion: every roll, no click"}, care1: "nozzle-swap"},
	{name: "bands with one roll only", features: railBox,
		heard: []string{"z-banding: one roll only"}, outside: "unevenly"},
	{name: "clicks all the time after blowing and a cold pull", features: box,
		care: map[string]int{"gears-blow": 2, "cold-pull": 2, "gear-swap": 500,
			"hotend-swap": 400},
		heard: []string{"extruder-clicks: all the time, with any roll"},
		care1: "gear-swap|hotend-swap"},
	{name: "no slot loads", features: box,
		heard: []string{"changer-feed-failure: every slot, loading"},
		care1: "feed-path|gears-blow"},
	{name: "soft plastic jams on an open machine, fans long not blown", features: slinger,
		care:  map[string]int{"fans-blow": 250},
		heard: []string{"heat-creep-jam: soft plastic only, the machine open"}, care1: "fans-blow"},
	{name: "only pointed tops melt", features: box, care: map[string]int{"fans-blow": 30},
		heard: []string{"poor-bridging: only small or pointed layers"}, outside: "mall"},
	{name: "grinds at the extruder while it feeds", features: railBox,
		heard: []string{"squeal-grind: at the extruder, while it feeds"},
		care1: "gears-blow|gear-swap"},
	{name: "no homing since an update", features: slinger,
		heard: []string{"homing-error: after an update or reset"}, care1: "config-note"},
	{name: "corners lift and the start does not hold where it was touched", features: box,
		care: map[string]int{"door-seals": 30},
		heard: []string{"warping: all parts",
			"first-layer-not-sticking: where the plate was touched"}, care1: "plate-wash"},
	{name: "one axis short, and shifts one way", features: slinger,
		heard: []string{"dimension-error: one axis", "layer-shift: one way, at any height"},
		care1: "pulley-screws|belts-reset"},
	{name: "every roll snaps by hand, dried three weeks ago", features: box,
		care:  map[string]int{"dry-filament": 20},
		heard: []string{"brittle-filament: every roll, while it is bent by hand"},
		care1: "dry-filament"},
	{name: "colours bleed at any change, wiper never looked at", features: box,
		care: map[string]int{"cold-pull": 30}, heard: []string{"colour-bleed: any change"},
		care1: "wiper-check|cold-pull"},
	{name: "fan rattles three days after it was blown out", features: slinger,
		care: map[string]int{"fans-blow": 3}, heard: []string{"loud-fan: all the time, a rattle"},
		care1: "fan-swap"},
	{name: "dark as the bed begins to heat", features: box,
		heard: []string{"power-resets: when the bed begins to heat"},
		care1: "electrical-look|bed-cable"},
	{name: "door not seen, by itself over weeks", features: box,
		care:  map[string]int{"door-seals": 200},
		heard: []string{"door-or-top-not-detected: by itself"}, care1: "door-seals"},
	{name: "another height each time, probe cleaned yesterday", features: slingerHD,
		care:  map[string]int{"probe-clean": 1},
		heard: []string{"first-layer-uneven: another spot each time"},
		care1: "play-check|frame-screws|self-check"},
	{name: "wide foot, height and tram done yesterday", features: railBox,
		care:  map[string]int{"first-layer": 1, "bed-tram": 1},
		heard: []string{"elephant-foot: yes, only there"}, outside: "hot"},
	{name: "not cut at all, blade new five days ago", features: box,
		care:    map[string]int{"blade-check": 5},
		heard:   []string{"fails-to-cut: not cut: the head does not reach the lever"},
		outside: "its stop"},
}

// tradeScore walks the cases and says where each stands.
func tradeScore(t *testing.T, b bench, cases []tradeCase) (first, two, missing int,
	short []string) {
	t.Helper()
	for _, x := range cases {
		m := machine(x.features, x.care)
		for i, f := range x.open {
			m.Findings = append(m.Findings,
				model.Finding{ID: fmt.Sprint(i), At: now.AddDate(0, 0, -12), Found: f})
		}
		r := b.rank(t, m, nil, x.heard...)
		switch place(x, r) {
		case 1:
			first, two = first+1, two+1
			continue
		case 2:
			two++
		case 0:
			missing++
		}
		short = append(short,
			fmt.Sprintf("%s: %v, outside %.2f", x.name, causes(r)[:min(4, len(r.Lines))],
				r.Outside))
	}
	return first, two, missing, short
}

// place is where the ranking has what the technician goes for: 1, 2, 3 for later, 0 for nowhere.
func place(x tradeCase, r symptom.Result) int {
	if x.outside != "" {
		return placeOutside(x.outside, r)
	}
	for i, l := range r.Lines {
		if slices.Contains(strings.Split(x.care1, "|"), l.Cause) {
			return min(3, i+1)
		}
	}
	return 0
}

// placeOutside is 1 where a cause no care mends is said because of the answer, or stands among
// those that are together likelier than any care; 2 where they are likelier than all care but one.
func placeOutside(words string, r symptom.Result) int {
	above := 0 // care likelier than what no care mends
	for _, l := range r.Lines {
		if l.Share > r.Outside {
			above++
		}
	}
	switch listed := strings.Contains(strings.Join(r.NotCare, " "), words); {
	case strings.Contains(strings.Join(r.Says, " "), words), listed && above == 0:
		return 1
	case listed:
		return min(3, above+1)
	}
	return 0
}

// TestTrade holds the ranking to what technicians go for (common practice): the right care first,
// or the cause no care mends said, in 85 of 100; in the first two in 95; nowhere in none. It holds
// for each list by itself.
func TestTrade(t *testing.T) {
	b := newBench(t)
	for name, cases := range map[string][]tradeCase{"set by": tradeCases, "later": laterCases,
		"by another hand": otherCases} {
		t.Run(name, func(t *testing.T) {
			first, two, missing, short := tradeScore(t, b, cases)
			n := len(cases)
			t.Logf("%d cases: first %d, in the first two %d, not found %d", n, first, two, missing)
			if first*100 < 85*n || two*100 < 95*n || missing > 0 {
				t.Errorf("of %d cases: first %d, in the first two %d, not found %d\n%s", n, first,
					two, missing, strings.Join(short, "\n"))
			}
		})
	}
}

// TestTheChangerIsLookedIntoWhereThereIsOne: whatever is answered, hub and gears of a changer that
// fails to feed are on the list of every kind of machine that has one, and where no slot loads they
// stand before the blade (common practice: the slots share them).
func TestTheChangerIsLookedIntoWhereThereIsOne(t *testing.T) {
	b := newBench(t)
	answers := []string{"", ": one slot", ": one roll, in any slot", ": every slot, unloading",
		": every slot, loading", ": since it was opened or moved"}
	for _, kind := range [][]model.Feature{box, append(slices.Clone(slinger), "changer"),
		append(slices.Clone(slingerHD), "changer", "cutter"),
		append(slices.Clone(railBox), "changer", "lid-changer", "changer-dryer", "cutter")} {
		for _, a := range answers {
			got := causes(b.rank(t, machine(kind, nil), nil, "changer-feed-failure"+a))
			at := slices.Index(got, "feed-path")
			if at < 0 {
				t.Errorf("%q on a machine with %v: %v", a, kind, got)
			}
			if blade := slices.Index(got, "blade-check"); a == answers[4] && blade >= 0 &&
				(at > blade || slices.Index(got, "gears-blow") > blade) {
				t.Errorf("no slot loads, and the blade stands before what they share: %v", got)
			}
		}
	}
}
