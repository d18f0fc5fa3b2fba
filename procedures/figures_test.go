package procedures

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bench/oilcan/model"
)

// isoKeys are hex key sizes in mm, by thread: ISO 4762 (cap), ISO 7380-1 (button), ISO 10642
// (countersunk), ISO 4026 to 4029 (set), dimension tables. Button and countersunk heads below M3
// are trade parts, from memory.
var isoKeys = map[string]map[string]float64{
	"cap": {"M1.6": 1.5, "M2": 1.5, "M2.5": 2, "M3": 2.5, "M4": 3, "M5": 4, "M6": 5,
		"M8": 6},
	"button":      {"M2": 1.3, "M2.5": 1.5, "M3": 2, "M4": 2.5, "M5": 3, "M6": 4, "M8": 5},
	"countersunk": {"M2": 1.3, "M2.5": 1.5, "M3": 2, "M4": 2.5, "M5": 3, "M6": 4, "M8": 5},
	"set": {"M1.6": 0.7, "M2": 0.9, "M2.5": 1.3, "M3": 1.5, "M4": 2, "M5": 2.5, "M6": 3,
		"M8": 4},
}

// TestHexKeysOfTheLibrary: every key laid out fits each screw it is said to fit, and for every
// screw a step turns its key is laid out.
func TestHexKeysOfTheLibrary(t *testing.T) {
	lib, _ := Load("")
	keys, screws := 0, 0
	for _, p := range append(lib.All(), lib.SetUps()...) {
		laid := map[float64]bool{}
		for _, tool := range p.Tools {
			word, isKey := strings.CutPrefix(tool.Name, "hex key ")
			if !isKey {
				continue
			}
			mm, err := strconv.ParseFloat(strings.TrimSuffix(word, " mm"), 64)
			if err != nil || len(tool.Fits) == 0 {
				t.Errorf("%s: %q: %v, fits %v", p.ID, tool.Name, err, tool.Fits)
			}
			keys++
			laid[mm] = true
			for _, f := range tool.Fits {
				if isoKeys[f.Head][f.Size] != mm {
					t.Errorf("%s: %s for a %s screw %s, by its standard %g mm", p.ID, tool.Name,
						f.Head, f.Size, isoKeys[f.Head][f.Size])
				}
			}
		}
		for _, s := range p.Steps {
			if f := s.Fastener; f != nil && isoKeys[f.Head] != nil {
				screws++
				if !laid[isoKeys[f.Head][f.Size]] {
					t.Errorf("%s, %s: a %s screw %s, and its key of %g mm is not laid out", p.ID,
						s.Name, f.Head, f.Size, isoKeys[f.Head][f.Size])
				}
			}
		}
	}
	if keys < 20 || screws < 10 {
		t.Errorf("only %d keys and %d screws looked at", keys, screws)
	}
}

// figuresOf reads "KEY UNIT VALUE" pairs from a text; the unit stands once or at every pair.
func figuresOf(t *testing.T, text, unit string) map[float64]string {
	t.Helper()
	out := map[float64]string{}
	for _, m := range regexp.MustCompile(`(?:^|[ :])(\d+)(?: `+unit+
		`)? (\d+\.?\d*)(?:[,.;]|$)`).FindAllStringSubmatch(text, -1) {
		k, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		out[k] = strings.TrimSuffix(m[2], ".")
	}
	return out
}

// rounds tells whether a printed figure is the value rounded to its last digit.
func rounds(printed string, value float64) bool {
	digits := 0
	if i := strings.IndexByte(printed, '.'); i >= 0 {
		digits = len(printed) - i - 1
	}
	return strconv.FormatFloat(value, 'f', digits, 64) == printed
}

// thermistor is the resistance of a thermistor of 100 at 25 °C by its B value.
func thermistor(b, celsius float64) float64 {
	return 100 * math.Exp(b*(1/(celsius+273.15)-1/298.15))
}

// TestThermistorFormula: near 25 °C the formula meets a published table: part NCP03WF104, as the
// Linux kernel's ntc_thermistor driver prints it, with the B of its pair 25/50 °C, to 1 %.
func TestThermistorFormula(t *testing.T) {
	for c, want := range map[float64]float64{20: 127.080, 25: 100, 30: 79.222, 40: 50.677,
		50: 33.195} {
		if got := thermistor(4250, c); math.Abs(got-want) > 0.01*want {
			t.Errorf("%g °C: %.3f, want %g kohm", c, got, want)
		}
	}
}

// TestHeaterFigures: the figures heater-ohms prints: a heater by R = V²/P at 24 V, a thermistor of
// 100 kohm by B 3950, a platinum element of 1000 ohm by IEC 60751, R = R0 (1 + 3.9083e-3 t -
// 5.775e-7 t²).
func TestHeaterFigures(t *testing.T) {
	lib, _ := Load("")
	p := lib.Get("heater-ohms")
	why := map[string]string{}
	for _, s := range p.Steps {
		why[s.Name] = s.Why
	}
	var label string
	for _, s := range p.Settings {
		if s.Name == "heater-label" {
			label = s.Ask
		}
	}
	for _, x := range []struct {
		name, text, unit string
		value            func(float64) float64
	}{
		{"heater at 24 V", label[strings.Index(label, "24 V:"):], "W", func(w float64) float64 {
			return 24 * 24 / w
		}},
		{"thermistor", why["table-ntc"][strings.Index(why["table-ntc"], ":"):], "°C",
			func(c float64) float64 { return thermistor(3950, c) }},
		{"platinum", why["table-pt"][strings.Index(why["table-pt"], ":"):], "°C",
			func(c float64) float64 { return 1000 * (1 + 3.9083e-3*c - 5.775e-7*c*c) }},
	} {
		figures := figuresOf(t, x.text, x.unit)
		if len(figures) < 5 {
			t.Errorf("%s: only %v in %q", x.name, figures, x.text)
		}
		for k, printed := range figures {
			if !rounds(printed, x.value(k)) {
				t.Errorf("%s at %g: %s is printed, %.4f it is", x.name, k, printed, x.value(k))
			}
		}
	}
}

// TestAlcoholFigures: what rods-wipe warns of. NIOSH Pocket Guide, isopropyl alcohol: lower
// explosive limit 2.0 %, molecular weight 60.1, REL 400 ppm over a day and 500 ppm short-term; a
// mole of gas at 20 °C is 24.06 litres; the density 0.785 g/ml is from memory.
func TestAlcoholFigures(t *testing.T) {
	lib, _ := Load("")
	const litres = 50
	ml := litres * 0.020 / 24.06 * 60.1 / 0.785
	text, basis := "", ""
	for _, q := range lib.Get("rods-wipe").Cautions {
		text += q.Harm + " " + q.Avoid + "\n"
		basis += q.Basis + "\n"
	}
	for _, s := range lib.Get("rods-wipe").Steps {
		text += s.Why + "\n"
	}
	for _, want := range []string{strconv.FormatFloat(ml, 'f', 1, 64) +
		" ml as vapour fill 50 litres", "400 ppm over a day, 500 ppm for 15 minutes"} {
		if !strings.Contains(text, want) {
			t.Errorf("nothing says %q", want)
		}
	}
	if !strings.Contains(basis, "NIOSH Pocket Guide, isopropyl alcohol") {
		t.Error("the cautions name no source")
	}
}

// TestDesiccantFigures: MIL-D-3464E (1987): a unit takes up at least 3.00 g of water at 20 %RH and
// 25 °C. Fine-pore gel holds 0.1054 of its weight there, by the isotherm of Ng and others (2001),
// parameters from memory.
func TestDesiccantFigures(t *testing.T) {
	lib, _ := Load("")
	for _, s := range lib.Get("desiccant").Steps {
		if s.Name != "stock" {
			continue
		}
		if want := "3 g of water at 20 %RH: some " + strconv.FormatFloat(3.00/0.1054, 'f', 0, 64) +
			" g"; !strings.Contains(s.Why, want) {
			t.Errorf("%q does not say %q", s.Why, want)
		}
	}
}

// TestEveryFigureHasItsOrigin: no interval is without one, in the library as a whole.
func TestEveryFigureHasItsOrigin(t *testing.T) {
	lib, _ := Load("")
	origins := map[string]int{}
	for _, p := range lib.All() {
		for _, v := range p.Intervals {
			word, _, _ := strings.Cut(v.Basis, ":")
			origins[word]++
			if v.Basis == "" || v.Meter != model.Days && v.Production != nil {
				t.Errorf("%s: %+v", p.ID, v)
			}
		}
	}
	for word := range origins {
		if word != "common practice" && word != "from memory" && word != "published" {
			t.Errorf("basis %q", word)
		}
	}
	t.Log(origins)
}
