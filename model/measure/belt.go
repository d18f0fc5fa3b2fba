package measure

import (
	"fmt"
	"math"
	"slices"
)

// Pull is the tension in N of a belt or string from its free span in mm, its mass in g per m and
// the ground tone in Hz of the plucked span: T = 4 m L² f², the ideal string (Mersenne's law).
func Pull(span, mass, tone float64) float64 {
	l, m := span/1000, mass/1000
	return 4 * m * l * l * tone * tone
}

// Tone is the ground tone in Hz of a span in mm with mass in g per m under a pull in N: Pull turned
// round.
func Tone(span, mass, pull float64) float64 {
	return math.Sqrt(pull/(mass/1000)) / (2 * span / 1000)
}

// beltKinds are built-in masses in g per m and mm of width with how far printed figures lie apart,
// as a share. All from memory: printed figures disagree, a weighed length is better.
var beltKinds = map[string]struct{ mass, apart float64 }{
	"2 mm": {1.3, 0.15},
	"3 mm": {2.8, 0.15},
	"5 mm": {4.1, 0.15},
}

// The limits of what is believed of a belt on such a machine, from memory.
const (
	leastTone, mostTone = 15.0, 1500.0 // Hz
	leastPull, mostPull = 1.0, 300.0   // N, of a belt that is used
	shortSpan           = 75.0         // mm: below, stiffness bends the tone up
	toneShare           = 0.01         // how well a tone is read
	spanError           = 1.0          // mm
	weighedShare        = 0.02         // how well a mass per length is weighed
)

// beltMass is the mass per length in g per m, how sure it is as a share, and where it is from.
func beltMass(in In) (mass, apart float64, from string) {
	switch kind := in.Word("belt"); kind {
	case "per m":
		return in.Num("mass"), weighedShare, "typed"
	case "weighed":
		return in.Num("weight") / max(in.Num("length")/1000, 1e-9), weighedShare, "weighed"
	default:
		k := beltKinds[kind]
		return k.mass * in.Num("width"), k.apart, "from memory"
	}
}

// beltFields are those by which a belt's mass is known.
func beltFields() []Field {
	is := func(words ...string) func(In) bool {
		return func(in In) bool {
			return slices.Contains(words, in.Word("belt"))
		}
	}
	return []Field{
		{Stays: true, Name: "span", Ask: "Free span", Unit: "mm", Low: 20, High: 3000,
			Hint: "the stretch that is plucked, from contact to contact"},
		{Stays: true, Name: "belt", Ask: "Its mass", Kind: Word, Usual: "2 mm",
			Hint: "a length you weighed is best: printed figures disagree by 15 %",
			Options: []Option{
				{"weighed", "a length of it was weighed"},
				{"per m", "grams per metre are known"},
				{"2 mm", "2 mm pitch, built-in, from memory"},
				{"3 mm", "3 mm pitch, built-in, from memory"},
				{"5 mm", "5 mm pitch, built-in, from memory"},
			}},
		{Stays: true, Name: "length", Ask: "Length weighed", Unit: "mm", Low: 50, High: 20000,
			When: is("weighed")},
		{Stays: true, Name: "weight", Ask: "Its weight", Unit: "g", Low: 0.1, High: 2000,
			When: is("weighed")},
		{Stays: true, Name: "mass", Ask: "Mass per metre", Unit: "g/m", Low: 0.5, High: 200,
			When: is("per m")},
		{Stays: true, Name: "width", Ask: "Width", Unit: "mm", Low: 2, High: 50, Usual: "6",
			When: is("2 mm", "3 mm", "5 mm")},
	}
}

var beltCalculator = Calculator{
	ID: "belt", Group: "belt", Title: "Belt, from its tone",
	Purpose: "What a plucked belt's tone says of its pull, and one belt against the other.",
	Fields: append(beltFields(),
		Field{Name: "recording", Ask: "Recording", Kind: Recording, Optional: true,
			Hint: "a WAV file of three plucks: its tone is found"},
		Field{Name: "tone", Ask: "Tone", Unit: "Hz", Low: leastTone, High: mostTone,
			Hint: "the ground tone, the middle of three plucks"},
		Field{Name: "other", Ask: "Other belt's tone", Unit: "Hz", Low: leastTone, High: mostTone,
			Optional: true, Hint: "where two belts pull one head: the other's, at the same span"},
		Field{Name: "last", Ask: "Last tone on record", Unit: "Hz", Low: leastTone, High: mostTone,
			Optional: true, Hint: "of this belt at this span on this machine"},
	),
	work: workBelt,
}

func workBelt(in In) (Result, error) {
	mass, apart, from := beltMass(in)
	span, tone := in.Num("span"), in.Num("tone")
	pull := Pull(span, mass, tone)
	r := beltResult(span, apart, from)
	r.row("tone", tone, "Hz")
	r.row("pull", pull, "N")
	r.Rows = append(r.Rows, Row{Name: "mass", Value: mass, Unit: "g/m", Text: from})
	share := pullShare(span, apart)
	r.row("pull at least", pull*(1-share), "N")
	r.row("pull at most", pull*(1+share), "N")
	if pull < leastPull || pull > mostPull {
		r.Grade = Doubtful
		r.say("%s N is no pull of such a belt (%s to %s N, from memory): look for the octave, the span and the mass.", figure(pull), figure(leastPull), figure(mostPull))
	}
	if in.Has("other") {
		compareBelts(&r, tone, in.Num("other"))
	}
	if in.Has("last") {
		driftOfBelt(&r, tone, in.Num("last"))
	}
	return r, nil
}

// pullShare is how far off a pull can be, as a share: the errors of tone, span and mass together.
func pullShare(span, apart float64) float64 {
	return math.Sqrt(math.Pow(2*toneShare, 2) + math.Pow(2*spanError/span, 2) + apart*apart)
}

func beltResult(span, apart float64, from string) Result {
	r := Result{
		Source: "ideal string, T = 4 m L² f² (Mersenne)",
		Tolerance: fmt.Sprintf("± %.0f %%: tone 1 %% counts twice, span 1 mm, mass %.0f %% (%s)",
			100*pullShare(span, apart), 100*apart, from),
		Spoils: "another span or place, the octave, a finger or pulley on the belt, a short stiff span (reads high)",
	}
	if span < shortSpan {
		r.say("A span under %.0f mm is stiff (from memory): the pull is lower than the tone says.",
			shortSpan)
	}
	if from == "from memory" {
		r.say("The belt's mass is from memory: for the true pull weigh a length of it. Two tones can be compared without.")
	}
	return r
}

// Belts that pull one head together: how far apart their tones may be, as a share (from memory).
const beltsApart = 0.05

// compareBelts tells two belts that pull one head against each other, at one span.
func compareBelts(r *Result, tone, other float64) {
	apart := tone/other - 1
	r.row("against the other", 100*apart, "%")
	r.row("pull against the other", 100*(tone*tone/other/other-1), "%")
	switch {
	case math.Abs(apart) <= beltsApart:
		r.Grade = worse(r.Grade, Good)
		r.say("Both belts are within %.0f %% of each other in tone (from memory).", 100*beltsApart)
	case octaveApart(tone, other):
		r.Grade = worse(r.Grade, Doubtful)
		r.say("One tone is about twice the other: that is the octave, not the pull; pluck softer, mid-span.")
	default:
		r.Grade = worse(r.Grade, Doubtful)
		r.say("More than %.0f %% apart: the head is drawn askew; pluck both again at one span, then set them alike.", 100*beltsApart)
	}
}

// beltDrift is how far a belt's tone may be from its own record, as a share (from memory).
const beltDrift = 0.1

// driftOfBelt tells a belt against its own record.
func driftOfBelt(r *Result, tone, last float64) {
	drift := tone/last - 1
	r.row("since the last", 100*drift, "%")
	switch {
	case octaveApart(tone, last):
		r.Grade = worse(r.Grade, Doubtful)
		r.say("The tone is about twice, or half, the one on record: that is the octave; pluck softer, mid-span.")
	case math.Abs(drift) > beltDrift:
		r.Grade = worse(r.Grade, Doubtful)
		r.say("More than %.0f %% off its record (from memory): check place and span, pluck again, then set the pull.", 100*beltDrift)
	default:
		r.Grade = worse(r.Grade, Good)
	}
}

// octaveApart tells whether one tone is about twice the other.
func octaveApart(a, b float64) bool {
	ratio := max(a, b) / min(a, b)
	return ratio > 1.85 && ratio < 2.15
}

// worse is the worse of two grades.
func worse(a, b Grade) Grade {
	rank := map[Grade]int{"": 0, Good: 1, Doubtful: 2, Stop: 3}
	if rank[b] > rank[a] {
		return b
	}
	return a
}

var pullCalculator = Calculator{
	ID: "belt-tone", Group: "belt", Title: "Belt, the tone for a pull",
	Purpose: "At which tone a belt of this span has the pull that is wanted.",
	Fields: append(beltFields(),
		Field{Name: "pull", Ask: "Pull wanted", Unit: "N", Low: 0.5, High: 1000,
			Hint: "by the machine maker's word; where there is none, leave it as it runs well"}),
	work: func(in In) (Result, error) {
		mass, apart, from := beltMass(in)
		span, pull := in.Num("span"), in.Num("pull")
		r := beltResult(span, apart, from)
		tone, share := Tone(span, mass, pull), pullShare(span, apart)
		r.row("tone", tone, "Hz")
		r.row("tone at least", tone*math.Sqrt(1-share), "Hz")
		r.row("tone at most", tone*math.Sqrt(1+share), "Hz")
		r.Rows = append(r.Rows, Row{Name: "mass", Value: mass, Unit: "g/m", Text: from})
		return r, nil
	},
}

// BandOf is where the tone of a recording is looked for, by what was typed of the belt so far, and
// the tone that is expected of it, 0 where none is.
func (c *Calculator) BandOf(typed map[string]string) (band Band, near float64) {
	in := c.before("recording", typed)
	mass, _, _ := beltMass(in)
	band = AnyTone
	if in.Has("span") && mass > 0 {
		band = PlausibleTones(in.Num("span"), mass)
	}
	last := noIn()
	if f := c.Field("last"); f != nil && f.read(&last, f.text(typed)) == nil {
		near = last.Num("last")
	}
	return band, near
}
