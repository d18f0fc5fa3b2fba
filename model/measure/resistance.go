package measure

import (
	"fmt"
	"math"
)

// unplugged stands before everything that is done with a meter at a machine.
const unplugged = "Only with every plug of the machine out and in your sight, five minutes after, stone cold, at the parted " +
	"plugs of heater and sensor. Never a mains bed, a power supply or anything live: that is for a qualified person."

// HeaterOhms is the resistance in ohm of a heater by its voltage in V and power in W: R = V²/P.
func HeaterOhms(volts, watts float64) float64 { return volts * volts / watts }

// kelvin is the zero of the Celsius scale in K.
const kelvin = 273.15

// Beta is the resistance in ohm of a thermistor at t in °C by the one-constant formula from its
// resistance at 25 °C: R = R25 exp(β (1/T - 1/298.15)).
func Beta(r25, beta, t float64) float64 {
	return r25 * math.Exp(beta*(1/(t+kelvin)-1/(25+kelvin)))
}

// BetaTemperature is the temperature in °C at a resistance in ohm: Beta turned round.
func BetaTemperature(r25, beta, ohms float64) float64 {
	return 1/(math.Log(ohms/r25)/beta+1/(25+kelvin)) - kelvin
}

// Steinhart are the constants of 1/T = A + B ln R + C (ln R)³ (Steinhart and Hart 1968), in K and
// ohm.
type Steinhart struct{ A, B, C float64 }

// SteinhartThrough are the constants through three pairs of temperature in °C and resistance in
// ohm.
func SteinhartThrough(t, r [3]float64) Steinhart {
	var l, y [3]float64
	for i := range l {
		l[i], y[i] = math.Log(r[i]), 1/(t[i]+kelvin)
	}
	g2, g3 := (y[1]-y[0])/(l[1]-l[0]), (y[2]-y[0])/(l[2]-l[0])
	c := (g3 - g2) / (l[2] - l[1]) / (l[0] + l[1] + l[2])
	b := g2 - c*(l[0]*l[0]+l[0]*l[1]+l[1]*l[1])
	return Steinhart{A: y[0] - (b+l[0]*l[0]*c)*l[0], B: b, C: c}
}

// Temperature is the temperature in °C at a resistance in ohm.
func (s Steinhart) Temperature(ohms float64) float64 {
	l := math.Log(ohms)
	return 1/(s.A+s.B*l+s.C*l*l*l) - kelvin
}

// Ohms is the resistance in ohm at t in °C: Temperature turned round (Cardano's formula).
func (s Steinhart) Ohms(t float64) float64 {
	x := (s.A - 1/(t+kelvin)) / (2 * s.C)
	y := math.Sqrt(math.Pow(s.B/(3*s.C), 3) + x*x)
	return math.Exp(math.Cbrt(y-x) - math.Cbrt(y+x))
}

// table100k is a published table of a 100 k thermistor (β25/50 about 4250): °C and ohm.
var table100k = [][2]float64{
	{0, 357012},
	{20, 127080},
	{25, 100000},
	{30, 79222},
	{40, 50677},
	{50, 33195},
	{
		60,
		22224,
	},
	{70, 15184},
	{80, 10566},
	{85, 8873},
	{90, 7481},
	{100, 5384},
	{110, 3934},
	{120, 2916},
	{125, 2522},
}

// TableOhms is the resistance in ohm of table100k at t in °C, between its rows by the straight line
// of ln R over 1/T; ok is false beyond its ends.
func TableOhms(t float64) (ohms float64, ok bool) {
	for i := 1; i < len(table100k); i++ {
		a, b := table100k[i-1], table100k[i]
		if t < a[0] || t > b[0] {
			continue
		}
		share := (1/(t+kelvin) - 1/(a[0]+kelvin)) / (1/(b[0]+kelvin) - 1/(a[0]+kelvin))
		return math.Exp(math.Log(a[1]) + share*math.Log(b[1]/a[1])), true
	}
	return 0, false
}

// Platinum is the resistance in ohm at t in °C of a platinum sensor of r0 ohm at 0 °C, by IEC 60751
// (-200 to 850 °C).
func Platinum(r0, t float64) float64 {
	const a, b, c = 3.9083e-3, -5.775e-7, -4.183e-12
	r := 1 + a*t + b*t*t
	if t < 0 {
		r += c * (t - 100) * t * t * t
	}
	return r0 * r
}

// PlatinumTemperature is the temperature in °C at a resistance in ohm: Platinum turned round.
func PlatinumTemperature(r0, ohms float64) float64 {
	low, high := -200.0, 850.0
	for range 60 {
		mid := (low + high) / 2
		if Platinum(r0, mid) < ohms {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// leads are asked wherever ohms are read.
var leads = Field{Name: "leads", Ask: "Leads alone", Unit: "ohm", Low: 0, High: 5, Usual: "0",
	Hint: "the meter's probes held together"}

// withoutLabel asks volts and watts where no ohms are given.
func withoutLabel(in In) bool { return !in.Has("label") }

var heaterCalculator = Calculator{
	ID:      "heater",
	Group:   "resistance",
	Title:   "Heater, by its ohms",
	Caution: unplugged,
	Alone:   true,
	Purpose: "Whether a heater has the resistance its label gives it.",
	Fields: []Field{
		{Name: "label", Ask: "Ohms on the label", Unit: "ohm", Low: 0.5, High: 1000, Optional: true,
			Hint: "where it gives them; else volts and watts"},
		{Stays: true, Name: "volts", Ask: "Voltage on the label", Unit: "V", Low: 5, High: 60,
			Usual: "24", When: withoutLabel,
			Hint: "mains heaters are not measured here: that is for a qualified person"},
		{Stays: true, Name: "watts", Ask: "Power on the label", Unit: "W", Low: 5, High: 1000,
			When: withoutLabel},
		{Stays: true, Name: "tolerance", Ask: "Tolerance", Unit: "%", Low: 1, High: 15,
			Usual: "10"},
		{Name: "measured", Ask: "Measured", Unit: "ohm", Low: 0, High: 1e7,
			Hint: "at its own two pins, stone cold"},
		leads,
	},
	work: func(in In) (Result, error) {
		want, got := in.Num("label"), in.Num("measured")-in.Num("leads")
		if !in.Has("label") {
			want = HeaterOhms(in.Num("volts"), in.Num("watts"))
		}
		r := Result{
			Source: "R = V²/P; 15 % as the limit from memory",
			Tolerance: fmt.Sprintf("± %s %% by the label, the meter ± 1 %% and 0.1 ohm (from memory)",
				figure(in.Num("tolerance"))),
			Spoils: "heat left in it, fingers on the probes, a loose crimp, the meter's leads not taken off",
		}
		r.row("measured", got, "ohm")
		r.row("by the label", want, "ohm")
		off := got/want - 1
		r.row("off", 100*off, "%")
		switch {
		case got < want/2:
			r.Grade = Stop
			r.say("Under half its label is a short: no power until heater or unit is renewed.")
		case got > 1000*want:
			r.Grade = Stop
			r.say("Open: a heater that reads open is broken, and arcs where it touches: no power until it is renewed.")
		case math.Abs(off) > 0.15:
			r.Grade = Stop
			r.say("More than 15 %% off its label: above, a joint or wire gives way and burns there; below, a short. No heat until it is renewed.")
		case math.Abs(off) > in.Num("tolerance")/100:
			r.Grade = Doubtful
			r.say("Beyond its tolerance: measure once more with clean pins, and again soon; a value that moves is a joint that gives way.")
		default:
			r.Grade = Good
		}
		return r, nil
	},
}

// Of a sensor, how far in °C it may read off, from memory: 10 % of a thermistor are some 2 °C.
const (
	sensorGood     = 2.5
	sensorDoubtful = 5
)

// judgeSensor says what a sensor is worth by how far it reads off, in °C.
func judgeSensor(r *Result, off, resistance float64) {
	r.row("reads off by", off, "°C")
	switch {
	case resistance < 10:
		r.Grade = Stop
		r.say("Near zero is a short: it reads far too hot or stops the machine; no power until it is renewed.")
	case math.Abs(off) > 50:
		r.Grade = Stop
		r.say("Open, shorted or another kind of sensor: no heat, no power, until it is known or renewed.")
	case math.Abs(off) > sensorDoubtful:
		r.Grade = Stop
		r.say("It reads wrong by more than %d °C: no heat until sensor and kind are put right.",
			sensorDoubtful)
	case math.Abs(off) > sensorGood:
		r.Grade = Doubtful
		r.say("A little off: was the block really at that temperature? Leave it overnight and measure again.")
	default:
		r.Grade = Good
	}
}

var thermistorCalculator = Calculator{
	ID:      "thermistor",
	Group:   "resistance",
	Title:   "Thermistor of 100 k",
	Caution: unplugged,
	Alone:   true,
	Purpose: "Whether a thermistor reads what it should at the block's temperature.",
	Fields: []Field{
		{Name: "temperature", Ask: "Block, by a probe", Unit: "°C", Low: -20, High: 60,
			Hint: "stone cold, the probe on the block itself"},
		{Stays: true, Name: "by", Ask: "It goes by", Kind: Word, Usual: "beta", Options: []Option{
			{
				"beta",
				"Beta, as its maker gives it",
			},
			{"table", "the table of one 100 k kind (β 4250)"},
			{"pairs", "three rows of its own table"},
		}},
		{Stays: true, Name: "beta", Ask: "Beta", Unit: "K", Low: 2500, High: 5500, Usual: "3950",
			When: by("beta")},
		{Stays: true, Name: "r25", Ask: "At 25 °C", Unit: "ohm", Low: 1000, High: 1e6,
			Usual: "100 k", When: by("beta")},
		{Stays: true, Name: "pairs", Ask: "Three rows: °C and ohm", Kind: Numbers, Least: 6,
			Low: -60, High: 1e7, When: by("pairs"), Hint: "0 357012 50 33195 100 5384"},
		{Name: "measured", Ask: "Measured", Unit: "kohm", Low: 0, High: 1e5, Optional: true,
			Hint: "at its two pins, pins not touched; empty: only what it should be"},
	},
	work: workThermistor,
}

func by(word string) func(In) bool { return func(in In) bool { return in.Word("by") == word } }

func workThermistor(in In) (Result, error) {
	t := in.Num("temperature")
	r := Result{Tolerance: "1 °C of the block is 4 to 5 %; Beta holds near its pair only, 6 % off 75 °C away",
		Spoils: "fingers on the pins, a block not at the probe's temperature, another kind of sensor"}
	var want float64
	var read func(ohms float64) float64
	switch in.Word("by") {
	case "beta":
		r.Source = "R = R25 exp(β (1/T - 1/298.15))"
		want = Beta(in.Num("r25"), in.Num("beta"), t)
		read = func(ohms float64) float64 {
			return BetaTemperature(in.Num("r25"), in.Num("beta"), ohms)
		}
	case "table":
		ohms, ok := TableOhms(t)
		if !ok {
			return r,
				fmt.Errorf("the table goes from 0 to 125 °C, not to %s °C: let the block come to the room", figure(t))
		}
		r.Source = "a maker's published table of one 100 k kind, 0 to 125 °C"
		want = ohms
		s := SteinhartThrough([3]float64{0, 50, 100}, [3]float64{357012, 33195, 5384})
		read = s.Temperature
	default:
		s, err := steinhartOf(in.List("pairs"))
		if err != nil {
			return r, err
		}
		r.Source = "Steinhart and Hart 1968, through three rows of its table"
		want, read = s.Ohms(t), s.Temperature
	}
	r.row("by the table", want/1000, "kohm")
	if in.Has("measured") {
		got := 1000 * in.Num("measured")
		r.Rows = append([]Row{{Name: "measured", Value: got / 1000, Unit: "kohm"}}, r.Rows...)
		judgeSensor(&r, read(max(got, 1))-t, got)
	}
	return r, nil
}

// steinhartOf reads three rows of a thermistor's table.
func steinhartOf(list []float64) (Steinhart, error) {
	bad := fmt.Errorf("three rows are six figures: °C and ohm, warmer and fewer ohm each time, not %d figures", len(list))
	if len(list) != 6 {
		return Steinhart{}, bad
	}
	t, r := [3]float64{list[0], list[2], list[4]}, [3]float64{list[1], list[3], list[5]}
	if !(t[0] < t[1] && t[1] < t[2] && r[0] > r[1] && r[1] > r[2] && r[2] > 0) {
		return Steinhart{},
			fmt.Errorf("the rows of the table must grow warmer, with fewer ohm each time: type them again, coldest first")
	}
	return SteinhartThrough(t, r), nil
}

var platinumCalculator = Calculator{
	ID: "platinum", Group: "resistance", Title: "Pt100 or Pt1000", Caution: unplugged, Alone: true,
	Purpose: "Whether a platinum sensor reads what it should at the block's temperature.",
	Fields: []Field{
		{Name: "temperature", Ask: "Block, by a probe", Unit: "°C", Low: -20, High: 60,
			Hint: "stone cold, the probe on the block itself"},
		{Stays: true, Name: "sensor", Ask: "Sensor", Kind: Word, Usual: "Pt1000", Options: []Option{
			{"Pt1000", "Pt1000"}, {"Pt100", "Pt100"}}},
		{Name: "measured", Ask: "Measured", Unit: "ohm", Low: 0, High: 1e7, Optional: true,
			Hint: "at its two pins; empty: only what it should be"},
		leads,
	},
	work: func(in In) (Result, error) {
		r0, t := 1000.0, in.Num("temperature")
		if in.Word("sensor") == "Pt100" {
			r0 = 100
		}
		r := Result{Source: "IEC 60751",
			Tolerance: fmt.Sprintf("class B ± %s °C (from memory), and what the probe is off",
				figure(0.3+
					0.005*math.Abs(t))),
			Spoils: "leads not taken off (0.4 ohm is 1 °C of a Pt100), a block not at the probe's temperature"}
		r.row("by the table", Platinum(r0, t), "ohm")
		if in.Has("measured") {
			got := in.Num("measured") - in.Num("leads")
			r.Rows = append([]Row{{Name: "measured", Value: got, Unit: "ohm"}}, r.Rows...)
			judgeSensor(&r, PlatinumTemperature(r0, got)-t, got)
		}
		return r, nil
	},
}
