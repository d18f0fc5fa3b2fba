package procedures

import (
	"regexp"
	"sync"

	"bench/oilcan/model"
)

// The closed lists of words a file may use where it is not free text.
var (
	weights       = []string{"high", "medium", "low"}
	signalWords   = []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}
	clockWords    = []string{"airing", "cooling", "unplugged"}
	headWords     = []string{"cap", "button", "countersunk", "set"}
	threadWords   = []string{"steel", "aluminium", "brass", "insert", "plastic", "slot"}
	classWords    = []string{"8.8", "10.9", "12.9", "A2-70"}
	featureWords  = model.Words(model.Features)
	meterWords    = model.Words(model.Meters)
	typedMeters   = model.Words(model.TypedMeters)
	variableWords = model.Words(model.Variables)
	missWords     = model.Words(model.Misses)
	gateWords     = model.Words(model.Gates)
	rungWords     = append(model.Words(model.Rungs), string(model.OffMachine))
)

// flagWords are what "set" may set: the ledger's flags, the variables that outlive a break, and the
// filament.
var flagWords = []string{"belts", "oil", "strand", "sensor-plug", "lost-piece", "vapour", "sensor",
	"filament"}

// flagValues are the values each of them may be set to; "" clears a flag too.
var flagValues = map[string][]string{
	"belts":       {"loosened", "clear"},
	"oil":         {"wet", "clear"},
	"strand":      {"left", "clear"},
	"sensor-plug": {"parted", "clear"},
	"lost-piece":  {"lost", "clear"},
	"vapour":      model.Values[model.Vapour],
	"sensor":      model.Values[model.Sensor],
	"filament":    model.Values[model.Filament],
}

// flagCleared tells whether "" clears it: the flags of the ledger, not the variables.
func flagCleared(key string) bool { return model.Values[model.Variable(key)] == nil }

// laterWhen are the times a later step may be owed at.
var laterWhen = lazy(`^(proof|next day|[1-9][0-9]{0,3} (min|h))$`)

// kebab is how ids, step names and setting names are written.
var kebab = lazy(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

// basisForm is how the origin of a figure is written.
var basisForm = lazy(`^(common practice|from memory|published: \S.*)$`)

// KnownIDs are the ids of the trade's blocks of care, whether or not this library has a file for
// each yet; a look part adds "-look". A file may refer to them. The steps of access (opening,
// closing, unloading) are set-up actions and are not among them.
var KnownIDs = []string{
	"as-found", "rods-wipe", "belts-reset", "self-check", "screws-oil", "gears-blow", "fans-blow",
	"layer-lens-clean", "camera-clean", "blade-check", "wiper-check", "filter-swap", "desiccant",
	"feed-path", "chute-clear", "tube-wear", "nozzle-swap", "hotend-swap", "cold-pull",
	"sock-check",
	"plate-wash", "bed-tram", "belt-tone", "rails-grease", "rollers-set", "pulley-screws",
	"cable-check",
	"heater-ohms", "electrical-look", "door-seals", "frame-screws", "square-check", "flow-check",
	"first-layer", "dry-filament", "estop-check", "config-note", "close-out", "bed-cable",
	"play-check",
	"z-belt-check", "probe-clean", "exhaust-check", "fan-swap", "gear-swap", "belt-swap",
	"bearing-swap",
	"heat-tune", "renip", "return-to-service",
}

// pattern is a regular expression made when first asked for: only the checker asks, and a first
// frame would pay for all of them.
type pattern = func() *regexp.Regexp

func lazy(expr string) pattern {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expr) })
}
