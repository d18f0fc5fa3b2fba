package measure

import (
	"fmt"
	"math"

	"bench/oilcan/model"
)

// proofs is the proof stress Sp in MPa (ISO 898-1; screws below M3 stand outside it). Stainless
// A2-70 has none there: its yield Rp0.2 of ISO 3506-1 is taken, from memory.
var proofs = map[string]float64{"8.8": 580, "10.9": 830, "12.9": 970, "A2-70": 450}

// elastic is Young's modulus in N/mm² (from memory).
var elastic = map[string]float64{"8.8": 205000, "10.9": 205000, "12.9": 205000, "A2-70": 193000}

// Of the short form and the joint, from Shigley's Mechanical Engineering Design, chapter 8 (from
// memory): reused screws are pulled to three quarters of proof, the collar is 1.25 diameters wide,
// clamped steel is about five times as stiff as its screw.
const (
	proofShare  = 0.75
	collarShare = 0.625
	stiffJoint  = 5.0
	halfFlank   = math.Pi / 6 // of a metric thread (ISO 68-1)
)

// NutFactor is K of the short form T = K F d for a coarse thread with one friction at thread and
// head: K = dm/2d (tan λ + f sec α)/(1 − f tan λ sec α) + 0.625 f (Shigley). About 0.20 at f = 0.15
// whatever the size. 0 for an unknown size.
func NutFactor(size string, friction float64) float64 {
	d, pitch := model.ThreadPitch(size)
	if d == 0 {
		return 0
	}
	dm := model.PitchDiameter(size)
	lead := pitch / (math.Pi * dm)
	flank := friction / math.Cos(halfFlank)
	return dm/(2*d)*(lead+flank)/(1-lead*flank) + collarShare*friction
}

// Engagement is the length in mm of thread that holds as much as the screw, both of one strength:
// 4 As/(π d2), half of the cylinder at the pitch diameter being in shear.
func Engagement(size string) float64 {
	return 4 * model.StressArea(size) / (math.Pi * model.PitchDiameter(size))
}

// TurnForce is the pull in N that an angle in degrees after snug adds to a screw of this grip in
// mm: F = k P θ/360 with the stiffness k of screw (E As/L) and joint in a row.
func TurnForce(size, class string, grip, degrees float64) float64 {
	_, pitch := model.ThreadPitch(size)
	screw := elastic[class] * model.StressArea(size) / grip
	joint := screw * stiffJoint / (1 + stiffJoint)
	return joint * pitch * degrees / 360
}

// engagements are how many diameters of thread a material wants (common practice).
var engagements = map[string]float64{"steel": 1, "aluminium": 2, "brass": 1.5, "plastic": 2.5}

var torqueCalculator = Calculator{
	ID: "torque", Group: "screws", Title: "Screw: torque and turn",
	Purpose: "How tight a screw may be, what a turn after snug does, which key fits.",
	Fields: []Field{
		{Name: "screw", Ask: "Screw", Kind: Word, Options: sizes()},
		{Name: "head", Ask: "Head", Kind: Word, Usual: "cap", Options: []Option{
			{
				"cap",
				"cylinder, socket",
			},
			{"button", "button"},
			{"countersunk", "countersunk"},
			{"set", "set screw, none"},
		}},
		{Name: "thread", Ask: "It goes into", Kind: Word, Usual: "steel", Options: []Option{
			{
				"steel",
				"steel",
			},
			{"aluminium", "aluminium"},
			{"brass", "brass"},
			{"insert", "an insert in plastic"},
			{"plastic", "plastic itself"},
			{"slot", "a slot that clamps"},
		}},
		{
			Name:  "class",
			Ask:   "Strength class",
			Kind:  Word,
			Usual: "unknown",
			Hint:  "stamped on the head; a plain black one is often 12.9 or 8.8: unknown, if it is not stamped",
			Options: []Option{
				{"8.8", "8.8"},
				{"10.9", "10.9"},
				{"12.9", "12.9"},
				{"A2-70", "A2-70, stainless"},
				{"unknown", "not known"},
			},
		},
		{Name: "friction", Ask: "Friction", Usual: "0.12", Low: 0.08, High: 0.3,
			Hint: "greased 0.10, lightly oiled or zinc 0.12, dry 0.14 and more"},
		{Name: "engaged", Ask: "Thread engaged", Unit: "mm", Low: 0.5, High: 60, Optional: true},
		{Name: "grip", Ask: "Clamped thickness", Unit: "mm", Low: 0.5, High: 200, Optional: true,
			Hint: "from under the head to the first engaged thread: then the turn is worked out"},
	},
	work: workTorque,
}

func sizes() []Option {
	var out []Option
	for _, s := range model.ScrewSizes {
		out = append(out, Option{s, s})
	}
	return out
}

func workTorque(in In) (Result, error) {
	f := model.Fastener{Head: in.Word("head"), Size: in.Word("screw"), Thread: in.Word("thread"),
		Class: in.Word("class"), Engagement: in.Num("engaged")}
	r := Result{Source: "VDI 2230 part 1 (long form), T = K F d after Shigley (short form), strengths ISO 898-1, ISO 3506-1",
		Tolerance: "± 25 % of the pull for a torque driver, ± 35 % by hand (from memory): friction is what nobody knows",
		Spoils:    "oil or threadlock (pulls more), dirt, damage, paint, soft parts between, a rounded socket"}
	told := f.Ceiling()
	friction := in.Num("friction")
	if nm, pull, ok := model.Tightening(f.Size, f.Class, friction); ok && told.Ceiling > 0 {
		low := told.Ceiling / mustTorque(f.Size, f.Class) // a low head carries less
		r.row("ceiling", nm*low, "N·m")
		r.row("preload", pull*low, "N")
		force := proofShare * proofs[f.Class] * model.StressArea(f.Size) * low
		d, _ := model.ThreadPitch(f.Size)
		r.row("ceiling, short form", NutFactor(f.Size, friction)*force*d/1000, "N·m")
		r.row("preload, short form", force, "N")
		r.say("Stay below the lower one: the long form goes to 90 %% of yield, the short one to 75 %% of proof.")
		turns(&r, f, in.Num("grip"), pull*low)
	} else {
		r.text("ceiling", "no torque value")
		r.Tolerance = "none: no figure is given"
	}
	r.text("by hand", told.Rule)
	r.say("Never tighter: %s.", told.Why)
	engaged(&r, f)
	if mm, ok := model.HexKey(f.Head, f.Size); ok {
		r.row("key", mm, "mm")
	} else {
		r.text("key", "not in the tables: one that fits without play")
	}
	return r, nil
}

// mustTorque is the torque the model gives for a socket head of this screw.
func mustTorque(size, class string) float64 {
	nm, _ := model.TorqueInSteel(size, class)
	return nm
}

// turns says what a twelfth and a quarter turn after snug do.
func turns(r *Result, f model.Fastener, grip, most float64) {
	if grip == 0 {
		r.say("Give the clamped thickness, and what a turn after snug does is worked out.")
		return
	}
	for _, t := range []struct {
		name    string
		degrees float64
	}{{"1/12 turn adds", 30}, {"1/4 turn adds", 90}} {
		pull := TurnForce(f.Size, f.Class, grip, t.degrees)
		r.Rows = append(r.Rows, Row{Name: t.name, Value: pull, Unit: "N",
			Text: fmt.Sprintf("%.0f %% of the preload", 100*pull/most)})
	}
	r.say("The turn is for bare steel on steel: paint, plastic and washers take up a part of it first.")
}

// engaged says how much thread is needed, and whether it is there.
func engaged(r *Result, f model.Fastener) {
	share, known := engagements[f.Thread]
	d, _ := model.ThreadPitch(f.Size)
	if !known || d == 0 {
		return
	}
	need := max(share*d, Engagement(f.Size))
	r.Rows = append(r.Rows, Row{Name: "thread needed", Value: need, Unit: "mm",
		Text: fmt.Sprintf("%s × diameter in %s", model.Figure(share), f.Thread)})
	if f.Engagement > 0 && f.Engagement < need {
		r.Grade = Doubtful
		r.say("Only %s mm of thread are engaged: the thread tears before the screw yields; take a longer screw.", figure(f.Engagement))
	}
}
