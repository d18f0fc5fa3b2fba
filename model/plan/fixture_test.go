package plan

import (
	"slices"

	"bench/oilcan/model"
)

// The states most blocks ask for.
const (
	inside     = "P=unpl H=cold B=low D=open"
	atHead     = "P=unpl H=cold C=off B=low D=open"
	fromTop    = "P=unpl H=cold T=off B=low D=open"
	allOff     = "P=unpl H=cold T=off M=det B=low D=open"
	atRods     = "P=unpl H=cold C=on T=off B=low D=open"
	atBelts    = "P=unpl H=cold C=on T=off M=det B=low D=open"
	headAndTop = "P=unpl H=cold C=off T=off M=det B=low D=open"
	wholeOn    = "P=on C=on T=on M=mtd"
)

// bench is a library in the shape of the real one: the state each block needs and leaves, its rung,
// its practised minutes and its tools, for a machine with everything (common practice and memory,
// as the real files say). It is 58 files.
func bench() []*model.Procedure {
	list := slices.Concat(untilDust(), inspectAndRenew(), fromSolvent())
	for _, p := range list {
		switch {
		case p.ID == "as-found" || p.ID == "close-out":
			p.Kind = model.Bookend
		case p.ID == "self-check" || p.ID == "first-layer":
			p.Kind = model.Proof
		case len(p.ID) > 5 && p.ID[len(p.ID)-5:] == "-look":
			p.Kind = model.Look
		}
		if look := p.ID + "-look"; p.Kind != model.Look {
			for _, q := range list {
				if q.ID == look {
					p.CountsAs = append(p.CountsAs, look)
				}
			}
		}
		if p.ID == "belts-reset" {
			p.Proof = []string{"self-check"}
		}
	}
	return list
}

// monthly are the blocks of a monthly session.
var monthly = []string{
	"as-found", "nozzle-swap-look", "desiccant-look", "plate-wash", "electrical-look-look",
	"belt-tone",
	"fans-blow", "gears-blow-look", "sock-check-look", "blade-check-look", "chute-clear-look",
	"wiper-check-look", "feed-path-look",
	"rods-wipe", "layer-lens-clean", "camera-clean", "self-check", "bed-tram-look", "first-layer",
	"close-out",
}

// untilDust are the blocks from the opening to the dust.
func untilDust() []*model.Procedure {
	return []*model.Procedure{
		care("return-to-service", "opening", 5, 20, "P=unpl H=cold D=open",
			"torch, hygrometer, dry cloth"),
		after(care("as-found", "opening", 2, 0, "P=on C=on", "phone, sticky notes"),
			"return-to-service"),
		after(care("config-note", "opening", 3, 0, "P=on", "memory card, notebook"), "as-found"),
		leaving(care("heater-ohms", "stone-cold", 8, 5, atHead,
			"multimeter, room thermometer, contact probe"), "S=unproved"),
		care("nozzle-swap-look", "hot", 1, 0, "P=on F=unloaded", "torch, small mirror"),
		leaving(owning(care("cold-pull", "hot", 10, 20, "P=on B=low S=proved V=clear C=on",
			"long strand, pliers, brass brush"), "hot"), "H=hot F=loaded"),
		care("desiccant-look", "making-safe", 1, 0, "", "hygrometer"),
		owning(care("plate-wash", "making-safe", 2, 0, "D=open", "dish soap, sponge, towel"),
			"hot"),
		care("electrical-look-look", "before-opening", 1, 0, "P=unpl H=cold B=low",
			"torch, dry cloth"),
		care("electrical-look", "before-opening", 6, 0, "P=unpl H=cold B=low",
			"torch, vacuum, soft brush"),
		care("door-seals", "before-opening", 4, 0, "P=off H=cold T=on B=low D=open",
			"paper strip, hex key 2 mm, hex key 2.5 mm, dry cloth"),
		care("exhaust-check", "before-opening", 3, 0, "P=unpl H=cold",
			"torch, vacuum, paper strip"),
		care("belt-tone", "first-values", 2, 0, fromTop, "phone tuner, rule"),
		care("play-check", "first-values", 2, 0, inside, "dial gauge"),
		care("fans-blow", "dust", 2, 0, atHead,
			"air blower, soft brush, wooden sticks, vacuum, dry cloth"),
		after(care("gears-blow-look", "dust", 1, 0, atHead, "torch"), "fans-blow"),
		after(care("gears-blow", "dust", 5, 0, atHead+" F=unloaded",
			"air blower, wooden pick, torch, vacuum"), "fans-blow", "gears-blow-look"),
		care("sock-check-look", "dust", 1, 0, atHead, "torch"),
		care("blade-check-look", "dust", 1, 0, atHead+" F=unloaded", "torch"),
		care("chute-clear-look", "dust", 1, 0, "P=off H=cold D=open", "torch"),
		after(care("chute-clear", "dust", 3, 0, "P=off H=cold D=open", "tweezers, vacuum, torch"),
			"chute-clear-look"),
		after(care("wiper-check-look", "dust", 1, 0, inside, "tweezers, torch"), "chute-clear",
			"chute-clear-look"),
		care("feed-path-look", "dust", 2, 0, "P=unpl", "vacuum, torch, tweezers"),
	}
}

// inspectAndRenew are the blocks of the two rungs after it.
func inspectAndRenew() []*model.Procedure {
	return []*model.Procedure{
		care("cable-check", "inspect", 4, 5, atHead+" T=off", "torch, magnifier"),
		care("frame-screws", "inspect", 8, 0, allOff,
			"hex key 2 mm, hex key 2.5 mm, hex key 3 mm, hex key 4 mm, hex key 5 mm, marker pen"),
		care("renip", "inspect", 4, 0, inside,
			"hex key 2 mm, hex key 2.5 mm, hex key 3 mm, marker pen, phone tuner"),
		care("pulley-screws-look", "inspect", 2, 0, fromTop, "torch"),
		after(care("pulley-screws", "inspect", 8, 0, fromTop,
			"hex key 1.5 mm, hex key 2 mm, torch, marker pen, thread lock"), "pulley-screws-look"),
		care("blade-check", "renew", 6, 0, atHead+" F=unloaded",
			"hex key 1.5 mm, tweezers, blade, lidded tin, white paper, wooden pick, torch"),
		care("wiper-check", "renew", 5, 0, inside, "hex key 2 mm, tweezers, wiper"),
		owning(owning(care("sock-check", "renew", 4, 15, atHead+" V=clear S=proved",
			"sock, brass brush, wooden pick, peel tool, hex key 2 mm, contact probe"), "power"),
			"hot"),
		leaving(care("hotend-swap", "renew", 8, 5, atHead+" F=unloaded",
			"hot-end unit, hex key 2 mm, tweezers, marker pen, contact probe"), "S=unproved"),
		care("fan-swap", "renew", 8, 5, atHead, "fan, hex key 2 mm, wooden sticks, marker pen"),
		care("gear-swap", "renew", 10, 0, atHead+" F=unloaded",
			"gear set, hex key 1.5 mm, hex key 2 mm, marker pen, light grease"),
		care("bearing-swap", "renew", 20, 0, headAndTop,
			"bearing, hex key 2 mm, hex key 2.5 mm, hex key 3 mm, marker pen, dummy rail"),
		care("belt-swap", "renew", 25, 0, headAndTop,
			"belt, hex key 1.5 mm, hex key 2 mm, hex key 2.5 mm, side cutter, marker tape, marker pen"),
		after(care("square-check", "renew", 12, 0, allOff, "square, rule, feeler gauge"),
			"bearing-swap", "frame-screws"),
		leaving(owning(care("estop-check", "renew", 8, 13, atHead+" V=clear",
			"stopwatch, contact probe"), "power"), "S=unproved"),
	}
}

// fromSolvent are the blocks from there to the paper.
func fromSolvent() []*model.Procedure {
	return []*model.Procedure{
		leaving(after(care("rods-wipe", "solvent", 4, 0, atRods,
			"lint-free wipe, isopropyl alcohol, cotton bud"), "fans-blow"), "V=drying"),
		care("layer-lens-clean", "airing", 2, 0, inside,
			"bulb blower, microfibre tip, lens fluid, small mirror"),
		care("camera-clean", "airing", 1, 0, "P=off H=cold B=low D=open",
			"bulb blower, microfibre cloth, lens fluid, torch"),
		care("probe-clean", "airing", 3, 0, inside,
			"microfibre tip, bulb blower, torch, hex key 2 mm"),
		care("tube-wear", "airing", 6, 0, "P=unpl H=cold M=det B=low F=unloaded",
			"square tube cutter, rule, torch, tube, collar clip, long strand"),
		care("feed-path", "airing", 8, 0, "P=unpl M=det F=unloaded",
			"vacuum, bulb blower, wooden pick, torch, long strand, hex key 2 mm"),
		after(care("belts-reset", "belts", 6, 0, atBelts, "hex key 2 mm, marker pen, phone tuner"),
			"rods-wipe", "frame-screws", "square-check", "pulley-screws", "belt-tone"),
		care("filter-swap", "filter", 3, 0, "P=off H=cold D=open V=clear",
			"filter, zip bag, marker pen, vacuum"),
		owning(care("screws-oil", "powered", 12, 3, atRods+" V=clear",
			"lint-free wipe, soft brush, thin oil, blocks 150 mm, paper"), "power"),
		after(care("desiccant", "put-back", 3, 0, "P=off M=mtd", "desiccant, hygrometer, zip bag"),
			"feed-path"),
		care("estop-check-look", "proof", 4, 0, wholeOn+" D=cl", "stopwatch"),
		leaving(care("heat-tune", "proof", 2, 12, "P=on C=on B=low V=clear S=proved", "pen"),
			"H=hot"),
		leaving(after(care("self-check", "proof", 2, 12, wholeOn+" D=cl V=clear S=proved",
			"stopwatch"), "heat-tune", "plate-wash"), "H=hot"),
		after(care("bed-tram-look", "proof", 0, 0, wholeOn, ""), "self-check"),
		leaving(owning(after(care("bed-tram", "proof", 5, 16, wholeOn+" V=clear S=proved",
			"feeler gauge, brass brush, hex key 2.5 mm"), "self-check", "bed-tram-look"), "hot"),
			"H=hot"),
		leaving(after(care("first-layer", "proof", 4, 12, wholeOn, "calliper, torch"), "bed-tram",
			"self-check", "bed-tram-look"), "H=cold"),
		leaving(owning(after(care("flow-check-look", "proof", 3, 6,
			"P=on C=on M=mtd B=low V=clear S=proved", "cup with handle, kitchen scale"),
			"first-layer"), "hot"), "H=hot"),
		leaving(owning(after(care("flow-check", "proof", 8, 50,
			"P=on C=on M=mtd B=low V=clear S=proved", "marker pen, rule, kitchen scale, calliper"),
			"first-layer", "flow-check-look"), "hot"), "H=hot"),
		care("close-out", "paper", 3, 0, "", "notebook"),
		care("dry-filament", "off-machine", 5, 390, "", "dryer, hygrometer"),
	}
}
