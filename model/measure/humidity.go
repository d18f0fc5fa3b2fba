package measure

import "math"

// Magnus' formula with the constants of WMO-No. 8, annex 4.B (Sonntag 1990), over water from -45 to
// 60 °C. It is at most 0.4 % below the steam table there.
const (
	magnusA = 6.112 // hPa
	magnusB = 17.62
	magnusC = 243.12 // °C
)

// Saturation is the pressure of water vapour in hPa over water at a temperature in °C.
func Saturation(t float64) float64 { return magnusA * math.Exp(magnusB*t/(magnusC+t)) }

// DewPoint is the temperature in °C at which air of a temperature in °C and a relative humidity in
// % is saturated: Saturation turned round.
func DewPoint(t, humidity float64) float64 {
	g := math.Log(humidity/100) + magnusB*t/(magnusC+t)
	return magnusC * g / (magnusB - g)
}

// Water is the mass of water in g in a cubic metre of air, of an ideal gas: 216.679 e/T.
func Water(t, humidity float64) float64 {
	return 216.679 * Saturation(t) * humidity / 100 / (t + 273.15)
}

// HumidityAt is the relative humidity in % of air brought from one temperature in °C to another,
// nothing taken up or given off.
func HumidityAt(t, humidity, other float64) float64 {
	return humidity * Saturation(t) / Saturation(other)
}

var airCalculator = Calculator{
	ID: "air", Group: "humidity", Title: "Air: dew point and water",
	Purpose: "What is in the air of a room or a box.",
	Fields: []Field{
		{Name: "temperature", Ask: "Temperature", Unit: "°C", Low: -40, High: 60},
		{Name: "humidity", Ask: "Relative humidity", Unit: "%RH", Low: 1, High: 100},
		{Name: "cold", Ask: "Coldest surface", Unit: "°C", Low: -40, High: 60, Optional: true,
			Hint: "a roll or a plate that comes in from the cold"},
		{Name: "volume", Ask: "Volume of the box", Unit: "l", Low: 0.1, High: 10000,
			Optional: true},
	},
	work: func(in In) (Result, error) {
		t, h := in.Num("temperature"), in.Num("humidity")
		r := Result{Source: "Magnus, constants of WMO-No. 8 annex 4.B",
			Tolerance: "0.4 % of the pressure; a common gauge is ± 3 to 5 %RH (from memory), which is about ± 1 °C in dew point",
			Spoils:    "a gauge not left to settle for half an hour, sun or a heater on it, one never checked with salt"}
		dew := DewPoint(t, h)
		r.row("dew point", dew, "°C")
		r.row("water", Water(t, h), "g/m³")
		r.row("vapour pressure", Saturation(t)*h/100, "hPa")
		if in.Has("volume") {
			r.row("water in the box", Water(t, h)*in.Num("volume")/1000, "g")
		}
		if in.Has("cold") {
			r.row("humidity at the surface", min(100, HumidityAt(t, h, in.Num("cold"))), "%RH")
		}
		if in.Has("cold") && in.Num("cold") <= dew {
			r.Grade = Doubtful
			r.say("Water condenses on anything at or below %s °C: leave it closed until it is warmer than that.", figure(dew))
		}
		return r, nil
	},
}
