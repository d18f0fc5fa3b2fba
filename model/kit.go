package model

// ToolNames is the closed list of tools a procedure may name. Protective gear is not among them; a
// second person is, for who is alone has to know before the first screw.
var ToolNames = []string{
	"hex key 0.9 mm", "hex key 1.3 mm", "hex key 1.5 mm", "hex key 2 mm", "hex key 2.5 mm",
	"hex key 3 mm",
	"hex key 4 mm", "hex key 5 mm", "hex key 6 mm", "open spanner 8 mm", "open spanner 10 mm",
	"block spanner",
	"nozzle socket", "torque driver", "tweezers", "pliers", "side cutter", "square tube cutter",
	"knife", "wooden pick",
	"wooden sticks", "peel tool", "brass brush", "soft brush", "bulb blower", "air blower",
	"vacuum",
	"torch", "small mirror", "magnifier", "phone", "phone tuner", "contact probe", "multimeter",
	"clip leads",
	"room thermometer", "second thermometer", "hygrometer", "feeler gauge", "calliper", "rule",
	"square",
	"kitchen scale", "fine scale", "stopwatch", "bore pins", "blocks 150 mm", "plug tags",
	"tool roll",
	"screw tray", "padded mat", "lidded tin", "metal tray", "white paper", "notebook", "marker pen",
	"pen", "marker tape",
	"paper strip", "paper", "sponge", "towel", "dry cloth", "long strand", "memory card", "dryer",
	"zip bag",
	"dummy rail", "blunt syringe", "lidded metal bin", "cup with handle", "dial gauge",
	SecondPerson, "sticky notes",
}

// SecondPerson is laid out like a tool, and nothing is as good.
const SecondPerson = "second person"

// SupplyNames is the closed list of parts and supplies the drawer holds.
var SupplyNames = []string{
	"blade", "wiper", "filter", "desiccant", "nozzle", "hot-end unit", "sock", "tube",
	"collar clip",
	"gear set", "belt", "bearing", "bushing", "fan", "heater and sensor", "bed cable",
	"plate sheet", "liner",
	"isopropyl alcohol", "lint-free wipe", "cotton bud", "microfibre tip", "microfibre cloth",
	"nitrile gloves",
	"canned air", "thin oil", "light oil", "light grease", "lens fluid", "dish soap", "thread lock",
	"cleaning strand", "glue", "screw assortment", "test filament",
}

// RenewableParts are the parts a quick swap can log, in the order of the menu.
var RenewableParts = []string{"blade", "wiper", "filter", "desiccant", "nozzle", "hot-end unit",
	"sock", "tube",
	"gear set", "belt", "bearing", "bushing", "fan", "heater and sensor", "bed cable", "plate sheet",
	"liner"}
