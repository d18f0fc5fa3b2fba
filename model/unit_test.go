package model

import (
	"math"
	"testing"
)

// Inch and pound by definition (international yard and pound, 1959), the zero of Fahrenheit's scale
// at -17.78 °C and boiling water at 212 °F.
func TestReadIn(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		want       float64
	}{
		{"150", "mm", 150}, {"15 cm", "mm", 150}, {"15,5cm", "mm", 155}, {"6 in", "mm", 152.4},
		{`6"`, "mm", 152.4},
		{"0.15 m", "mm", 150}, {"2 lbf", "N", 8.896443}, {"12 N", "N", 12}, {"110 Hz", "Hz", 110},
		{"0.11 kHz", "Hz", 110},
		{"45 %RH", "%RH", 45}, {"45%", "%RH", 45}, {"212 °F", "°C", 100}, {"0 F", "°C", -17.7778},
		{"20 °C", "°C", 20},
		{"20C", "°C", 20}, {"-40 °F", "°C", -40}, {"100 k", "ohm", 100000}, {"100k", "kohm", 100},
		{"14.4 ohm", "ohm", 14.4},
		{"14,4 Ω", "ohm", 14.4}, {"1 Mohm", "ohm", 1e6}, {"99 k", "Mohm", 0.099},
		{"1 kg", "g", 1000}, {"30 min", "h", 0.5},
		{"2 days", "h", 48}, {"36 h", "d", 1.5}, {"50 µm", "mm", 0.05}, {"12", "", 12},
	} {
		got, err := ReadIn(c.text, c.unit, nil)
		if err != nil || math.Abs(got-c.want) > 1e-4*math.Max(1, math.Abs(c.want)) {
			t.Errorf("ReadIn(%q, %q) = %g, %v, want %g", c.text, c.unit, got, err, c.want)
		}
	}
	for _, c := range [][2]string{{"5 V", "mm"}, {"5 mm", "N"}, {"x", "mm"}, {"1,234", "mm"},
		{"", "mm"}, {"5 %", "°C"}} {
		if v, err := ReadIn(c[0], c[1], nil); err == nil {
			t.Errorf("ReadIn(%q, %q) = %g, want an error", c[0], c[1], v)
		}
	}
	if v, err := ReadIn(
		"1,234 m",
		"mm",
		func(v float64) bool { return v < 3000 },
	); err != nil ||
		v != 1234 {
		t.Errorf("of two readings the one that can be: %g, %v", v, err)
	}
}
