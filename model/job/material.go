package job

import (
	"math"

	"bench/oilcan/model"
)

// Material is what a filament is made of, as far as it concerns wear and weight.
type Material struct {
	Name     string
	Density  float64 // g/cm³; 0: not known
	Abrasive float64 // abrasive hours an hour of printing counts for, 0 to 1
	Styrenic float64 // ABS/ASA hours an hour of printing counts for, 0 to 1
}

// densities by material id, in g/cm³, from memory: a metre of 1.75 mm filament weighs 2.98 g (PLA),
// 3.05 (PETG), 2.50 (ABS), 2.91 (TPU), 2.74 (PA), 2.89 (PC), 2.16 (PP). How heavy a filled material
// is depends on its filling and is not known.
var densities = map[string]float64{
	"pla": 1.24, "petg": 1.27, "abs": 1.04, "asa": 1.07, "hips": 1.04, "tpu": 1.21, "pa6": 1.14,
	"pa12": 1.02, "pc": 1.20, "pp": 0.90,
}

// MaterialOf takes a material of the library.
func MaterialOf(m *model.Material) Material {
	return Material{Name: m.Name, Density: densities[m.ID], Abrasive: m.Abrasive,
		Styrenic: m.Styrenic}
}

// Diameter is that of the filament almost all machines take, in mm.
const Diameter = 1.75

// Volume is what a length of round filament of a diameter in mm takes up, in cm³.
func Volume(l Length, diameter float64) float64 {
	return math.Pi / 4 * diameter * diameter * l.MM() / 1000
}

// Spool is what one tool uses of its filament.
type Spool struct {
	Tool     int
	Material string // empty: not said, or not known
	Used     Length
	CM3      float64
	Grams    float64 // NaN where the density is not known
}

// Use is what a print uses by material, and the hours it counts for by class.
type Use struct {
	Spools        []Spool
	StyrenicHours float64
	AbrasiveHours float64
	Unsaid        []int // tools whose material is not known: the hours are too low by theirs
}

// UseOf works out what a print uses, given what each tool is loaded with. Hours are those in which
// a tool is the chosen one, so they need a report read with time.
func UseOf(r *Report, loaded map[int]Material, diameter float64) Use {
	var u Use
	for _, f := range r.Filament {
		m, said := loaded[f.Tool]
		s := Spool{Tool: f.Tool, Material: m.Name, Used: f.Used(), CM3: Volume(f.Used(), diameter),
			Grams: math.NaN()}
		if m.Density > 0 {
			s.Grams = s.CM3 * m.Density
		}
		if !said {
			u.Unsaid = append(u.Unsaid, f.Tool)
		}
		u.StyrenicHours += f.Time.Hours() * m.Styrenic
		u.AbrasiveHours += f.Time.Hours() * m.Abrasive
		u.Spools = append(u.Spools, s)
	}
	return u
}
