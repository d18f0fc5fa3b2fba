package measure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Quantile is Student's t with some degrees of freedom that a share of readings stays within on
// both sides: by the inverse of the regularised incomplete beta function (Abramowitz and Stegun
// 26.7.1).
func Quantile(freedom, within float64) float64 {
	x := mathext.InvRegIncBeta(freedom/2, 0.5, 1-within)
	return math.Sqrt(freedom * (1/x - 1))
}

// Trials are some readings of one thing: their mean, standard deviation, and by how much the true
// mean may lie off with 95 % (t-interval, NIST/SEMATECH e-Handbook 1.3.5.2). Half is +Inf of one
// reading.
func Trials(list []float64) (mean, deviation, half float64) {
	n := float64(len(list))
	for _, v := range list {
		mean += v / n
	}
	for _, v := range list {
		deviation += (v - mean) * (v - mean)
	}
	if n < 2 {
		return mean, 0, math.Inf(1)
	}
	deviation = math.Sqrt(deviation / (n - 1))
	return mean, deviation, Quantile(n-1, 0.95) * deviation / math.Sqrt(n)
}

// asked are what was asked for and what came of it, several times.
func askedFields(asked, got, unit string, most float64, hint string) []Field {
	return []Field{
		{Name: "asked", Ask: asked, Unit: unit, Low: most / 100000, High: most},
		{Name: "got", Ask: got, Kind: Numbers, Unit: unit, Least: 1, Low: most / 100000, High: most,
			Hint: hint},
	}
}

// mostOffAsked is how far the mean may lie from what was asked before a figure is a slip.
const mostOffAsked = 0.5

// trials works out what was got against what was asked; factor is asked/got.
func trials(in In, unit string) (r Result, factor float64, err error) {
	asked, got := in.Num("asked"), in.List("got")
	mean, deviation, half := Trials(got)
	if math.Abs(mean/asked-1) > mostOffAsked {
		return r, 0,
			fmt.Errorf(
				"%s %s of %s %s asked is no setting that is off: look for a slip in the figures, or a machine that does not feed",
				figure(mean),
				unit,
				figure(asked),
				unit,
			)
	}
	r.Source = "mean and t-interval of the trials (NIST/SEMATECH e-Handbook 1.3.5.2)"
	r.row("mean", mean, unit)
	factor = asked / mean
	r.row("of what was asked", 100*mean/asked, "%")
	if len(got) < 2 {
		r.Tolerance = "unknown: one trial shows no spread"
		r.Grade = Doubtful
		r.say("One trial shows no spread: three or more say whether anything is off at all.")
		return r, factor, nil
	}
	r.row("spread", deviation, unit+" (standard deviation)")
	r.Tolerance = fmt.Sprintf("mean ± %s %s with 95 %% (%d trials)", figure(half), unit, len(got))
	switch off := math.Abs(mean/asked - 1); {
	case math.Abs(mean-asked) <= half:
		r.Grade = Good
		r.say(
			"What was asked lies within ± %s %s of the mean: these trials show nothing to correct.",
			figure(half),
			unit,
		)
	case off > 0.05:
		r.Grade = Doubtful
		r.say(
			"More than 5 %% off is rarely a setting: look for slip, a worn part or a wrong value first.",
		)
	default:
		r.say("The difference is more than chance: set the new value, and measure again with it.")
	}
	return r, factor, nil
}

var flowCalculator = Calculator{
	ID: "flow", Group: "flow", Title: "Flow, got against asked",
	Purpose: "What a machine extrudes of what it was asked for, over several trials.",
	Fields: append([]Field{
		{Name: "by", Ask: "Measured by", Kind: Word, Usual: "length", Options: []Option{
			{
				"length",
				"length of filament drawn in",
			},
			{"weight", "weight that came out"},
			{"wall", "width of one printed wall"},
		}},
		{Name: "old", Ask: "Flow set now", Unit: "%", Low: 20, High: 300, Usual: "100"},
	}, flowTrials()...),
	work: func(in In) (Result, error) {
		unit := map[string]string{"length": "mm", "weight": "g", "wall": "mm"}[in.Word("by")]
		r, factor, err := trials(in.ofWay(), unit)
		if err != nil {
			return r, err
		}
		r.row("flow to set", in.Num("old")*factor, "%")
		r.Spoils = "a cold or worn nozzle, slip at the gears, a roll of another diameter, walls pressed by the caliper"
		if math.Abs(factor-1) > 0.05 {
			r.say("At most 5 %% at one time; more is no setting.")
		}
		return r, nil
	},
}

// flowTrials are the trials by length, by weight and by wall.
func flowTrials() []Field {
	var out []Field
	for _, way := range []struct {
		by, unit, asked, got string
		most                 float64
	}{{"length", "mm", "Length asked", "Length drawn in", 2000},
		{"weight", "g", "Weight it should be", "Weight that came", 100},
		{"wall", "mm", "Wall as drawn", "Walls as printed", 3}} {
		for _, f := range askedFields(way.asked, way.got, way.unit, way.most,
			"one figure a trial, set apart by spaces") {
			f.Name = way.by + "-" + f.Name
			f.When = by(way.by)
			out = append(out, f)
		}
	}
	return out
}

// ofWay gives the trials of the way chosen under the names that all ways have.
func (in In) ofWay() In {
	way := in.Word("by")
	in.numbers["asked"], in.numbers["got"] = in.List(way+"-asked"), in.List(way+"-got")
	return in
}

var stepsCalculator = Calculator{
	ID: "steps", Group: "flow", Title: "Extruder steps",
	Purpose: "The steps per millimetre at which it draws in what is asked.",
	Caution: "The nozzle is hot and the gears pull: hand and hair off while it feeds; slowly.",
	Fields: append(
		[]Field{{Name: "old", Ask: "Steps now", Unit: "steps/mm", Low: 1, High: 10000}},
		askedFields("Length asked", "Length drawn in", "mm", 2000,
			"120 less what was left to the mark; one figure a trial")...),
	work: func(in In) (Result, error) {
		r, factor, err := trials(in, "mm")
		if err != nil {
			return r, err
		}
		r.row("steps to set", in.Num("old")*factor, "steps/mm")
		r.Spoils = "fed too fast or too cold (slip), a strand that bends before the mark, worn gears"
		return r, nil
	},
}

var axisCalculator = Calculator{
	ID: "axis", Group: "flow", Title: "Axis steps",
	Purpose: "The steps per millimetre at which an axis goes as far as it is asked.",
	Fields: append(
		[]Field{{Name: "old", Ask: "Steps now", Unit: "steps/mm", Low: 1, High: 10000}},
		askedFields("Distance asked", "Distance measured", "mm", 2000,
			"by a rule or dial gauge on the machine; one figure a trial")...),
	work: func(in In) (Result, error) {
		r, factor, err := trials(in, "mm")
		if err != nil {
			return r, err
		}
		r.row("steps to set", in.Num("old")*factor, "steps/mm")
		r.Spoils = "a printed part instead of the axis (flow and shrinkage get into it), a loose belt, a short distance"
		if math.Abs(factor-1) > 0.005 {
			r.Grade = worse(r.Grade, Doubtful)
			r.say(
				"A belt axis goes by its teeth: over 0.5 %% off is a wrong pulley, a slack belt or a slip; look there first.",
			)
		}
		return r, nil
	},
}

// CarbonHours is how many hours of printing a mass of carbon in g takes, by the share of its weight
// it holds and what a print gives off in µg a minute.
func CarbonHours(mass, share, gives float64) float64 { return mass * share / (gives * 60 / 1e6) }

var carbonCalculator = Calculator{
	ID: "carbon", Group: "flow", Title: "Carbon filter: hours left",
	Purpose: "A rough figure of how long activated carbon takes up what prints give off.",
	Fields: []Field{
		{Name: "carbon", Ask: "Carbon in it", Unit: "g", Low: 1, High: 20000},
		{Name: "share", Ask: "It holds", Unit: "%", Low: 1, High: 40, Usual: "10",
			Hint: "of its weight: charts say 17 to 33, in practice a third of that"},
		{Name: "styrenic", Ask: "Hours of ABS, ASA, HIPS", Unit: "h", Low: 0, High: 100000,
			Usual: "0", Hint: "printed since it was new; some 60 µg of styrene a minute"},
		{Name: "nylon", Ask: "Hours of nylon", Unit: "h", Low: 0, High: 100000, Usual: "0",
			Hint: "some 90 µg of caprolactam a minute"},
		{Name: "other", Ask: "Hours of PLA, PETG", Unit: "h", Low: 0, High: 100000, Usual: "0"},
	},
	work: func(in In) (Result, error) {
		gives := []struct {
			name, says string
			rate       float64
		}{{"styrenic", "styrenic", 60}, {"nylon", "nylon", 90}, {"other", "PLA, PETG", 5}}
		holds := in.Num("carbon") * in.Num("share") / 100
		taken := 0.0
		for _, g := range gives {
			taken += in.Num(g.name) * g.rate * 60 / 1e6
		}
		r := Result{
			Source:    "mass balance; emissions of Azimi and others 2016 (styrene 10 to 110, caprolactam 2 to 180, lactide 4 to 5 µg a minute)",
			Tolerance: "rough: a factor of 3 either way, for prints give off ten times more or less",
			Spoils:    "humidity over 50 %, heat, dust on it, air that finds a way round it, solvent in the room",
		}
		left := max(0, holds-taken)
		r.Rows = append(r.Rows, Row{Name: "used up", Value: 100 * taken / holds, Unit: "%",
			Text: "roughly"})
		for _, g := range gives {
			r.Rows = append(r.Rows,
				Row{Name: "left, " + g.says, Value: CarbonHours(left, 1, g.rate), Unit: "h",
					Text: "roughly"})
		}
		r.say(
			"Smell decides before any figure: what comes through is smelled; it holds no dust, that is the other filter's work.",
		)
		if left < 0.2*holds {
			r.Grade = Doubtful
			r.say("Near its end by this reckoning: renew it.")
		}
		return r, nil
	},
}
