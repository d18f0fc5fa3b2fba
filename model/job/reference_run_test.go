package job

import (
	"math/big"
	"strings"
)

// command carries out one line: settings, M, T, then what takes the axis words.
func (r *reference) command(codes []string, vals map[string]string) {
	used, mover, anyM, by := "", "", false, "T"
	for _, c := range codes {
		switch c {
		case "G20", "G21":
			r.inch = c == "G20"
		case "G90", "G91":
			r.relative = c == "G91"
			r.eNow = r.eAlways || r.relative
		case "G80":
			r.mode = ""
		case "G17", "G18", "G19":
		default:
			if c[0] == 'M' {
				anyM = true
				if by == "T" {
					by = ""
				}
				if strings.Contains(" M6 M108 M135 M1020 ", " "+c+" ") {
					by = c
				}
			} else {
				mover = c
			}
		}
	}
	for _, c := range codes {
		if c[0] == 'M' {
			used += r.machine(c, vals)
		}
	}
	used += r.chooses(by, vals)
	axes := false
	for _, a := range []string{"X", "Y", "Z", "E"} {
		_, has := vals[a]
		axes = axes || has
	}
	if mover == "" && !anyM && axes {
		mover = r.mode
	}
	used += r.mover(mover, vals)
	if !anyM {
		used += "F"
	}
	prefix := ""
	if len(codes) > 0 {
		prefix = codes[0] + " "
	} else if _, has := vals["T"]; has {
		prefix = "T "
	}
	for l := range vals {
		if !strings.Contains(used, l) {
			r.unknown[prefix+l]++
		}
	}
}

// chooses carries out what names a tool on a line: T alone, or with a command.
func (r *reference) chooses(by string, vals map[string]string) string {
	letter := map[string]string{"T": "T", "M6": "T", "M108": "T", "M135": "T", "M1020": "S"}[by]
	v, has := vals[letter]
	if !has {
		return ""
	}
	if by != "M6" {
		r.chose = true
	}
	if by != "M6" || !r.own {
		r.choose(v)
	}
	return letter + map[string]string{"T": "SLDP", "M6": "P"}[by]
}

func (r *reference) mover(c string, vals map[string]string) string {
	switch c {
	case "G0", "G1":
		r.mode = c
		r.move(vals)
		return "XYZEF"
	case "G4":
		for l, per := range map[string]int64{"P": 1000, "S": 1} {
			if v, has := vals[l]; has {
				w := millionths(v)
				r.dwell.Add(r.dwell, w.Quo(w, big.NewRat(1_000_000*per, 1)))
			}
		}
		return "PS"
	case "G10", "G11":
		_, l := vals["L"]
		_, p := vals["P"]
		if c == "G10" && (l || p) {
			return "S"
		}
		if c == "G10" && !r.pulled {
			r.retractions++
		}
		r.pulled = c == "G10"
		return "S"
	case "G28":
		r.homing++
		all := true
		for _, a := range []string{"X", "Y", "Z"} {
			if _, has := vals[a]; has {
				all = false
			}
		}
		for _, a := range []string{"X", "Y", "Z"} {
			if _, has := vals[a]; has || all {
				r.pos[a] = new(big.Rat)
			}
		}
		if _, has := vals["Z"]; has || all {
			r.raised = new(big.Rat)
		}
		return "XYZEW"
	case "G92":
		before, none := r.pos["Z"], true
		for a := range r.pos {
			if v, has := vals[a]; has {
				none = false
				r.pos[a] = r.length(v)
			}
		}
		if none {
			for a := range r.pos {
				r.pos[a] = new(big.Rat)
			}
		}
		if r.laid || r.spiral > 0 {
			r.raised = new(big.Rat).Add(r.raised, before)
			r.raised.Sub(r.raised, r.pos["Z"])
		}
		return "XYZE"
	}
	return ""
}

// length is a number as nanometres.
func (r *reference) length(s string) *big.Rat {
	v := millionths(s)
	if r.inch {
		return step(v.Mul(v, big.NewRat(254, 10)))
	}
	return v
}

func (r *reference) move(vals map[string]string) {
	d := map[string]*big.Rat{}
	from := r.pos["Z"]
	any := false
	for a := range r.pos {
		d[a] = new(big.Rat)
		v, has := vals[a]
		if !has {
			continue
		}
		any = true
		d[a] = r.length(v)
		if relative := a == "E" && r.eNow || a != "E" && r.relative; !relative {
			d[a].Sub(d[a], r.pos[a])
		}
		r.pos[a] = new(big.Rat).Add(r.pos[a], d[a])
		r.travel[a].Add(r.travel[a], new(big.Rat).Abs(d[a]))
	}
	if !any {
		return
	}
	r.moves++
	e := d["E"]
	x, _ := d["X"].Float64()
	y, _ := d["Y"].Float64()
	r.way = append(r.way, refMove{way: complex(x, y),
		from: new(big.Rat).Add(from, r.raised).RatString(),
		to:   new(big.Rat).Add(r.pos["Z"], r.raised).RatString(), e: e.Sign()})
	if e.Sign() == 0 {
		return
	}
	if r.pushed[r.tool] == nil {
		r.pushed[r.tool], r.back[r.tool] = new(big.Rat), new(big.Rat)
	}
	share := new(big.Rat).Mul(new(big.Rat).Abs(e), r.flow)
	if e.Sign() < 0 {
		r.back[r.tool].Add(r.back[r.tool], share)
		if !r.pulled {
			r.retractions++
		}
		r.pulled = true
		return
	}
	r.pulled = false
	r.pushed[r.tool].Add(r.pushed[r.tool], share)
	if d["X"].Sign() == 0 && d["Y"].Sign() == 0 {
		return
	}
	if d["Z"].Sign() != 0 {
		r.spiral++
	}
	r.laid = true
}

func (r *reference) choose(t string) {
	v := millionths(t)
	v.Quo(v, big.NewRat(1_000_000, 1))
	if !v.IsInt() || v.Sign() < 0 || v.Cmp(big.NewRat(64, 1)) >= 0 {
		f, _ := v.Float64()
		r.service["T"+decimal(int64(f*1e6))]++
		return
	}
	n := int(v.Num().Int64())
	if (r.chosen || r.laid || r.spiral > 0) && n != r.tool {
		r.changes++
	}
	r.chosen, r.tool = true, n
	if r.pushed[n] == nil {
		r.pushed[n], r.back[n] = new(big.Rat), new(big.Rat)
	}
}

func (r *reference) machine(c string, vals map[string]string) string {
	v := new(big.Rat)
	if s, has := vals["S"]; has {
		v = millionths(s)
	} else if s, has := vals["R"]; has {
		v = millionths(s)
	}
	switch c {
	case "M0", "M1":
		r.pauses++
		return "PS"
	case "M82", "M83":
		r.eAlways = c == "M83"
		r.eNow = r.eAlways
	case "M104", "M109", "M140", "M190", "M141", "M191":
		top := map[string]*big.Rat{"M104": r.hot, "M109": r.hot, "M140": r.bed, "M190": r.bed}[c]
		if top != nil && v.Cmp(top) > 0 {
			top.Set(v)
		}
		if c[2] == '9' || c == "M109" || c == "M191" {
			r.heats++
		}
		return "SRT"
	case "M221":
		if _, has := vals["S"]; has && v.Sign() >= 0 {
			r.flow = v.Quo(v, big.NewRat(100_000_000, 1))
		}
		return "S"
	case "M220":
		return "S"
	case "M108", "M135", "M1020":
		return "SPRI"
	case "M600":
		r.manual++
		return "XYZELURTB"
	case "M201", "M203":
		return "XYZE"
	case "M204":
		return "SPRT"
	case "M205":
		return "XYZEJ"
	}
	return ""
}

// layers are the layers of all that was read.
func (r *reference) layers() int64 {
	return refLayers(r.way, func(a, b string) bool {
		x, _ := new(big.Rat).SetString(a)
		y, _ := new(big.Rat).SetString(b)
		return x.Cmp(y) < 0
	})
}
