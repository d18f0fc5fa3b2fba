package procedures

import "bench/oilcan/model"

// setUp is one row of the table of set-up actions: all their safety stands in require, so that
// anyone can check a plan again.
type setUp struct {
	id string
	// empty: it changes no state, and the walk puts it in where it is needed
	change         model.Change
	require        model.Condition
	hands, waiting float64 // minutes
	lidHands       float64 // hands where the changer stands on the lid; 0: the same
	emergency      bool    // no plan takes it but to leave power that must not be on
}

// setUpTable is the table. A file of a set-up action must agree with its row exactly; what the
// machine lacks counts as met.
var setUpTable = []setUp{
	{id: "heat", change: model.Change{Variable: "heat", From: "cold", To: "hot"}, waiting: 4,
		require: model.Condition{"power": model.On, "cover": model.On, "door": model.Shut,
			"vapour": model.Clear, "sensor": model.Proved}},
	{id: "unload", change: model.Change{Variable: "filament", From: "loaded", To: "unloaded"},
		hands:   2,
		require: model.Condition{"power": model.On, "heat": model.Hot}},
	{id: "part-filament", change: model.Change{Variable: "filament", From: "loaded", To: "parted"},
		hands: 3,
		require: model.Condition{"power": model.Unplugged, "heat": model.Cold, "bed": model.Low,
			"door": model.Open}},
	{id: "cool", change: model.Change{Variable: "heat", From: "hot", To: "cold"}, hands: 0.5,
		waiting: 15,
		require: model.Condition{"power": model.On, "door": model.Shut}},
	{id: "cool-off", change: model.Change{Variable: "heat", From: "hot", To: "cold"}, hands: 0.5,
		waiting: 30,
		require: model.Condition{"power": model.Off}},
	{id: "lower-bed", change: model.Change{Variable: "bed", From: "high", To: "low"},
		require: model.Condition{"power": model.On, "door": model.Shut}},
	{id: "switch-off", change: model.Change{Variable: "power", From: "on", To: "off"},
		require: model.Condition{"bed": model.Low}},
	{id: "cut-power", change: model.Change{Variable: "power", From: "on", To: "off"},
		emergency: true},
	{id: "cut-vapour", change: model.Change{Variable: "power", From: "on", To: "off"},
		emergency: true,
		require:   model.Condition{"vapour": model.Drying}},
	{id: "unplug", change: model.Change{Variable: "power", From: "off", To: "unplugged"},
		hands:   0.5,
		require: model.Condition{"heat": model.Cold}},
	{id: "open-door", change: model.Change{Variable: "door", From: "closed", To: "open"},
		require: model.Condition{"heat": model.Cold, "power": model.Off}},
	{id: "changer-off", change: model.Change{Variable: "changer", From: "mounted", To: "detached"},
		hands: 1, lidHands: 3,
		require: model.Condition{"power": model.Unplugged, "heat": model.Cold,
			"filament": model.Parted, "bed": model.Low, "door": model.Open}},
	{id: "top-off", change: model.Change{Variable: "top", From: "on", To: "off"}, hands: 1,
		require: model.Condition{"power": model.Unplugged, "heat": model.Cold, "bed": model.Low,
			"changer": model.Detached}},
	{id: "cover-off", change: model.Change{Variable: "cover", From: "on", To: "off"}, hands: 1,
		require: model.Condition{"power": model.Unplugged, "heat": model.Cold, "door": model.Open}},
	{id: "cover-on", change: model.Change{Variable: "cover", From: "off", To: "on"}, hands: 1,
		require: model.Condition{"power": model.Unplugged, "heat": model.Cold, "door": model.Open}},
	{id: "air", change: model.Change{Variable: "vapour", From: "drying", To: "clear"}, waiting: 10,
		require: model.Condition{"power": model.Unplugged, "door": model.Open}},
	{id: "top-on", change: model.Change{Variable: "top", From: "off", To: "on"}, hands: 1,
		require: model.Condition{"power": model.Unplugged, "cover": model.On,
			"vapour": model.Clear}},
	{id: "changer-on", change: model.Change{Variable: "changer", From: "detached", To: "mounted"},
		hands: 1, lidHands: 4,
		require: model.Condition{"power": model.Unplugged, "top": model.On, "door": model.Open}},
	{id: "close-door", change: model.Change{Variable: "door", From: "open", To: "closed"},
		require: model.Condition{"vapour": model.Clear}},
	{id: "plug-in", change: model.Change{Variable: "power", From: "unplugged", To: "off"},
		hands: 2.5,
		require: model.Condition{"cover": model.On, "top": model.On, "changer": model.Mounted,
			"door": model.Shut, "vapour": model.Clear}},
	{id: "switch-on", change: model.Change{Variable: "power", From: "off", To: "on"}, hands: 0.5,
		require: model.Condition{"cover": model.On, "top": model.On, "changer": model.Mounted,
			"door": model.Shut, "vapour": model.Clear}},
	{id: "gantry-free", change: model.Change{Variable: "bed", From: "low", To: "high"}, hands: 1,
		require: model.Condition{"power": model.On, "heat": model.Cold, "door": model.Shut}},
	{id: "gantry-held", change: model.Change{Variable: "bed", From: "low", To: "high"}, hands: 3,
		require: model.Condition{"power": model.Unplugged, "heat": model.Cold, "door": model.Open}},
	{id: "sensor-proof", require: model.Condition{"power": model.On, "cover": model.On,
		"top": model.On, "changer": model.Mounted, "door": model.Shut, "vapour": model.Clear}},
	{id: "heat-off", require: model.Condition{"power": model.On}},
	{id: "begin"},
	{id: "lay-out"},
}

// emergencyOnly tells whether a set-up action is one that only an emergency takes.
func emergencyOnly(id string) bool {
	row, _ := setUpRow(id)
	return row.emergency
}

// setUpRow finds a row by id.
func setUpRow(id string) (setUp, bool) {
	for _, s := range setUpTable {
		if s.id == id {
			return s, true
		}
	}
	return setUp{}, false
}
