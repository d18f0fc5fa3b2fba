package measure

import (
	"fmt"
	"math"
	"slices"
)

// Toth's isotherm of silica gel after Ng, Chua and others, Applied Thermal Engineering 21 (2001)
// 1631: q = K p/(1+(K p/qm)^n)^(1/n), K = K0 exp(ΔH/RT), p in kPa. Parameters from memory.
type toth struct{ k0, heat, most, n float64 }

var tothGels = map[string]toth{
	"fine":    {4.65e-10, 2710, 0.40, 10}, // fine pore, type A
	"regular": {7.30e-10, 2693, 0.45, 12}, // regular density
}

const gasWater = 0.4615 // kJ/(kg K), of water vapour

// Held is the water in g that a gram of dry desiccant holds at a humidity in %RH and a temperature
// in °C: "fine" and "regular" silica gel by Toth, "sieve" a molecular sieve, a fifth of its weight
// from 5 %RH on (from memory).
func Held(kind string, humidity, t float64) float64 {
	g, gel := tothGels[kind]
	if !gel {
		return 0.2 * min(1, humidity/5)
	}
	p := Saturation(t) * humidity / 100 / 10
	k := g.k0 * math.Exp(g.heat/(gasWater*(t+273.15)))
	return k * p / math.Pow(1+math.Pow(k*p/g.most, g.n), 1/g.n)
}

// Units is how many desiccant units of MIL-D-3464E a mass in g of it makes: one takes up at least
// 3.00 g at 20 %RH and 6.00 g at 40 %RH, at 25 °C.
func Units(kind string, mass float64) float64 {
	return min(mass*Held(kind, 20, 25)/3, mass*Held(kind, 40, 25)/6)
}

// regeneration is how a desiccant is dried again.
var regeneration = map[string]string{
	"fine":    "plain gel 120 to 150 °C for 2 to 3 h; gel that shows colour at most 120 °C, in a thin layer, to constant weight",
	"regular": "plain gel 120 to 150 °C for 2 to 3 h; gel that shows colour at most 120 °C, in a thin layer, to constant weight",
	"sieve":   "200 to 300 °C, which no filament dryer reaches: buy it anew, or have it done",
}

var desiccantCalculator = Calculator{
	ID:      "desiccant",
	Group:   "humidity",
	Title:   "Desiccant in a box",
	Purpose: "How much it holds, how long it lasts by the leak that is seen, and how it is dried.",
	Caution: "Drying it anew: hot tray, gloves; never in an oven for food; no bag, plastic box or paper in it; " +
		"air the room. Blue gel that turns pink has cobalt chloride in it, which may cause cancer: no dust, " +
		"and waste by local rules.",
	Fields: []Field{
		{Stays: true, Name: "kind", Ask: "Desiccant", Kind: Word, Usual: "fine", Options: []Option{
			{
				"fine",
				"silica gel, fine pore (common beads)",
			},
			{"regular", "silica gel, regular density"},
			{"sieve", "molecular sieve"},
		}},
		{Stays: true, Name: "dry", Ask: "Its dry weight", Unit: "g", Low: 1, High: 20000},
		{Name: "temperature", Ask: "Temperature", Unit: "°C", Low: 0, High: 60, Usual: "25"},
		{Stays: true, Name: "limit", Ask: "Highest humidity wanted", Unit: "%RH", Low: 1, High: 80,
			Usual: "20",
			Hint:  "where it counts as used up: 25 for most rolls, 15 for nylon and PVA"},
		{Name: "seen", Ask: "The leak is seen by", Kind: Word, Usual: "nothing", Options: []Option{
			{
				"weights",
				"two weights",
			},
			{"humidities", "two humidities"},
			{"nothing", "nothing yet"},
		}},
		{Name: "days", Ask: "Days between", Unit: "d", Low: 0.1, High: 3650,
			When: seen("weights", "humidities")},
		{Name: "weight-then", Ask: "Weight then", Unit: "g", Low: 1, High: 30000,
			When: seen("weights")},
		{Name: "weight-now", Ask: "Weight now", Unit: "g", Low: 1, High: 30000,
			When: seen("weights")},
		{Name: "humidity-then", Ask: "Humidity then", Unit: "%RH", Low: 0.5, High: 95,
			When: seen("humidities")},
		{Name: "humidity-now", Ask: "Humidity now", Unit: "%RH", Low: 0.5, High: 95,
			When: seen("humidities")},
	},
	work: workDesiccant,
}

func seen(words ...string) func(In) bool {
	return func(in In) bool {
		return slices.Contains(words, in.Word("seen"))
	}
}

func workDesiccant(in In) (Result, error) {
	kind, dry, t := in.Word("kind"), in.Num("dry"), in.Num("temperature")
	r := Result{Source: "Toth isotherm, Ng and Chua 2001 (parameters from memory); units MIL-D-3464E",
		Tolerance: "± 15 %: gels differ, and one that was dried often holds less; days left as sure as the leak is even",
		Spoils:    "a lid opened meanwhile, a scale at another zero, gel that was not dry at the start, a warm box"}
	most := dry * Held(kind, in.Num("limit"), t)
	r.row("holds at the limit", most, "g")
	r.row("units", Units(kind, dry), "MIL-D-3464E units")
	r.text("dried anew", regeneration[kind])
	if in.Word("seen") == "nothing" {
		r.say("Weigh it now and in a week: two weights show the leak, and the days it lasts.")
		return r, nil
	}
	then, now := in.Num("weight-then")-dry, in.Num("weight-now")-dry
	if in.Word("seen") == "humidities" {
		then, now = dry*Held(kind, in.Num("humidity-then"), t), dry*Held(kind,
			in.Num("humidity-now"), t)
	}
	if in.Word("seen") == "weights" && (then < -0.02*dry || now < -0.02*dry) {
		return r,
			fmt.Errorf("the weights are below the dry weight of %s g: weigh the desiccant alone, without its bag or tin", figure(dry))
	}
	leak(&r, then, now, most, in.Num("days"))
	return r, nil
}

// leak says how fast water comes in, and for how long the desiccant takes it.
func leak(r *Result, then, now, most, days float64) {
	rate := (now - then) / days
	r.row("holds now", now, "g")
	r.row("leak", rate, "g a day")
	switch {
	case now >= most:
		r.Grade = Stop
		r.text("days left", "none: it is full")
		r.say("It is full for the humidity wanted: dry it anew or change it.")
	case rate <= 0:
		r.Grade = Good
		r.text("days left", "no end in sight")
		r.say("It took up nothing: the box is tight, or the time between was too short to see a leak.")
	default:
		left := (most - now) / rate
		r.row("days left", left, "d")
		r.Grade = Good
		if left < 14 {
			r.Grade = Doubtful
			r.say("Less than two weeks: have dry desiccant ready, and look at the seal.")
		}
	}
}
