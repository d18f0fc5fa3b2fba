package model

import (
	"fmt"
	"math"
	"slices"
)

// keySizes are hex key sizes across flats in mm, by head and thread size: socket cap ISO 4762,
// button ISO 7380-1, countersunk ISO 10642, set screws ISO 4026 to 4029. The button and countersunk
// standards start at M3; M2 and M2.5 are trade parts (from memory).
var keySizes = map[string]map[string]float64{
	"cap": {"M1.6": 1.5, "M2": 1.5, "M2.5": 2, "M3": 2.5, "M4": 3, "M5": 4, "M6": 5,
		"M8": 6},
	"button":      {"M2": 1.3, "M2.5": 1.5, "M3": 2, "M4": 2.5, "M5": 3, "M6": 4, "M8": 5},
	"countersunk": {"M2": 1.3, "M2.5": 1.5, "M3": 2, "M4": 2.5, "M5": 3, "M6": 4, "M8": 5},
	"set": {"M1.6": 0.7, "M2": 0.9, "M2.5": 1.3, "M3": 1.5, "M4": 2, "M5": 2.5, "M6": 3,
		"M8": 4},
}

// HexKey gives the hex key a screw takes, mm across flats; ok is false for a screw not in the
// tables.
func HexKey(head, size string) (mm float64, ok bool) {
	mm, ok = keySizes[head][size]
	return mm, ok
}

// ScrewSizes are the thread sizes the tables know, smallest first.
var ScrewSizes = []string{"M1.6", "M2", "M2.5", "M3", "M4", "M5", "M6", "M8"}

// thread is one row of coarse-pitch geometry in mm: diameter and pitch (ISO 261, ISO 724), bearing
// diameter of a hexagon or cap head, and medium clearance hole (ISO 273).
type thread struct{ d, pitch, bearing, hole float64 }

// threads by size. M1.6 has no bearing face in the source, so no ceiling.
var threads = map[string]thread{
	"M2":   {2, 0.40, 3.07, 2.4},
	"M2.5": {2.5, 0.45, 4.07, 2.9},
	"M3":   {3, 0.50, 4.57, 3.4},
	"M4":   {4, 0.70, 5.88, 4.5},
	"M5":   {5, 0.80, 6.88, 5.5},
	"M6":   {6, 1.00, 8.88, 6.6},
	"M8":   {8, 1.25, 11.63, 9.0},
}

// yields is the yield stress of each property class in MPa: ISO 898-1 for steel, ISO 3506-1 for
// A2-70.
var yields = map[string]float64{"8.8": 640, "10.9": 940, "12.9": 1100, "A2-70": 450}

const (
	friction     = 0.12 // of thread and head, lightly oiled or zinc plated (VDI 2230 class B)
	yieldShare   = 0.9  // of yield, in tension and torsion together
	lowHeadShare = 0.8  // a button or countersunk head carries 80 % of the load (from memory)
	// engagement in aluminium, in diameters, from which the screw and not the thread decides
	softShare = 1.5
)

// PitchDiameter is d2 of a coarse thread in mm (ISO 724: d - 0.649519 P); 0 for an unknown size.
func PitchDiameter(size string) float64 {
	t, ok := threads[size]
	if !ok {
		return 0
	}
	return t.d - 0.649519*t.pitch
}

// StressArea is the nominal stress area in mm² (ISO 898-1: π/4 ((d2+d3)/2)²); 0 for an unknown
// size.
func StressArea(size string) float64 {
	d0 := stressDiameter(threads[size])
	return math.Pi / 4 * d0 * d0
}

// stressDiameter is (d2+d3)/2 with d3 = d - 1.226869 P.
func stressDiameter(t thread) float64 { return t.d - 0.938194*t.pitch }

// TorqueInSteel is the tightening torque in N·m of Tightening with friction 0.12.
// ok is false for a size or class not in the tables.
func TorqueInSteel(size, class string) (nm float64, ok bool) {
	nm, _, ok = Tightening(size, class, friction)
	return nm, ok
}

// Tightening is the torque in N·m that brings a screw to 90 % of yield in tension and torsion
// together, and the preload in N it gives then, with one friction at thread and head: the long form
// of VDI 2230 part 1. ok is false for a size or class not in the tables.
func Tightening(size, class string, friction float64) (nm, preload float64, ok bool) {
	t, known := threads[size]
	rp, graded := yields[class]
	if !known || !graded {
		return 0, 0, false
	}
	d2, d0 := PitchDiameter(size), stressDiameter(t)
	twist := 1.5 * (d2 / d0) * (t.pitch/(math.Pi*d2) + 1.155*friction)
	stress := yieldShare * rp / math.Sqrt(1+3*twist*twist)
	preload = stress * StressArea(size)
	head := (t.bearing + t.hole) / 2
	return preload * (0.16*t.pitch + 0.58*d2*friction + head/2*friction) / 1000, preload, true
}

// ThreadPitch gives the diameter and pitch of a coarse thread in mm (ISO 261); 0 for an unknown
// size.
func ThreadPitch(size string) (diameter, pitch float64) {
	return threads[size].d, threads[size].pitch
}

// Torque is what a person is told at a screw: a ceiling with its source, or the rule of the hand
// and why there is no figure.
type Torque struct {
	Ceiling float64 `json:"ceiling,omitempty"` // N·m, never to be passed; 0: no figure
	Source  string  `json:"source,omitempty"`  // of the figure
	// how tight, without a torque driver (common practice)
	Rule string `json:"rule"`
	// why never beyond, and why no figure where there is none
	Why string `json:"why"`
}

// rules of the hand by thread material: common practice.
var torqueRules = map[string]Torque{
	"steel": {Rule: "snug, then 1/12 to 1/8 turn",
		Why: "the socket rounds first, then the screw yields"},
	"aluminium": {Rule: "snug, then 1/12 turn, at most 1/8",
		Why: "the thread in the aluminium tears out"},
	"brass": {Rule: "snug, then 1/16 turn",
		Why: "soft brass strips or shears; no torque value: do not over-tighten"},
	"insert": {Rule: "snug, then 1/16 turn",
		Why: "the insert turns or pulls out and the hole is scrap; what it holds depends on the plastic; no torque value: do not over-tighten"},
	"plastic": {Rule: "turn back until it drops into the old thread, then snug and no further",
		Why: "it strips in one go and the boss cracks later; what it holds depends on the plastic; no torque value: do not over-tighten"},
	"slot": {Rule: "snug, then up to a quarter turn while the resistance rises evenly; stop if it jumps", Why: "the clamp only holds; over-tight it bends the slot and pins the slider; no torque value: do not over-tighten"},
}

// Turns are what Fastener.Turn may say: the step only undoes the screw; no angle after snug;
// another angle.
var Turns = []string{"undo", "snug", "1/16", "1/12"}

// Ceiling says how tight a screw may be. A figure is given for cap, button and countersunk screws
// of a known class in steel, and in aluminium only where the engaged length is known and at least
// 1.5 diameters; everywhere else the rule and why. Rule is empty where the step only undoes the
// screw.
func (f Fastener) Ceiling() Torque {
	switch f.Turn {
	case "":
	case "undo":
		return Torque{}
	case "snug":
		return Torque{Rule: "snug and no further",
			Why: "tighter does harm here; no torque value: do not over-tighten"}
	default:
		return Torque{Rule: "snug, then " + f.Turn + " turn",
			Why: "tighter does harm here; no torque value: do not over-tighten"}
	}
	t, ok := torqueRules[f.Thread]
	if !ok {
		return Torque{Rule: "snug and no further",
			Why: "what the thread is made of is not known; no torque value: do not over-tighten"}
	}
	if f.Head == "set" {
		return Torque{Rule: "snug, then 1/12 to 1/8 turn",
			Why: "the thread in the soft part strips first; set screws have no class here; no torque value: do not over-tighten"}
	}
	if f.Thread != "steel" && f.Thread != "aluminium" {
		return t
	}
	nm, ok := TorqueInSteel(f.Size, f.Class)
	if !ok {
		t.Why += "; the class or size of the screw is not known; no torque value: do not over-tighten"
		return t
	}
	if f.Thread == "aluminium" && f.Engagement < softShare*threads[f.Size].d {
		t.Why += fmt.Sprintf("; a figure needs at least %.3g mm of engaged thread, measured",
			softShare*threads[f.Size].d)
		return t
	}
	t.Source = "calculated by VDI 2230 with ISO 898-1 strengths, friction 0.12"
	if f.Class == "A2-70" {
		t.Source = "calculated by VDI 2230 with ISO 3506-1 strengths, friction 0.12"
	}
	if slices.Contains([]string{"button", "countersunk"}, f.Head) {
		nm *= lowHeadShare
		t.Source += ", 80 % for the low head"
	}
	t.Ceiling = nm
	return t
}
