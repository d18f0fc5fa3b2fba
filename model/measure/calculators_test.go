package measure

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"bench/oilcan/model"
)

// materials of a test: the bands are those of common practice.
var materials = []model.Material{
	{ID: "petg", Name: "PETG", Dry: model.Range{Low: 60, High: 65},
		Hours: model.Range{Low: 4, High: 8}, Basis: "common practice"},
	{ID: "pvc", Name: "PVC", Banned: true},
}

func work(t *testing.T, id string, typed map[string]string) Result {
	t.Helper()
	c := Find(All(materials), id)
	if c == nil {
		t.Fatalf("no calculator %q", id)
	}
	r, err := c.Work(typed)
	if err != nil {
		t.Fatalf("%s %v: %v", id, typed, err)
	}
	return r
}

func value(t *testing.T, r Result, name string) float64 {
	t.Helper()
	x, ok := r.Row(name)
	if !ok {
		t.Fatalf("no %q among %+v", name, r.Rows)
	}
	return x.Value
}

// Preload of the long form as calculated apart by VDI 2230 part 1 with hexagon bearing faces,
// friction 0.12; K of Shigley is about 0.20 at f 0.15 whatever the size (his chapter 8, from
// memory); engagement by 4 As/(π d2) calculated apart; proof loads of ISO 898-1 as three printed
// tables agree; the turn of an M3 at 12 mm grip calculated apart.
func TestTorque(t *testing.T) {
	for _, row := range []struct {
		size                 string
		p88, p109, stainless float64
	}{{"M2", 1029, 1511, 723}, {"M2.5", 1703, 2501, 1197}, {"M3", 2545, 3739, 1790},
		{"M4", 4421, 6494, 3109},
		{"M5", 7202, 10578, 5064}, {"M6", 10182, 14955, 7159}, {"M8", 18627, 27359, 13097}} {
		for class, want := range map[string]float64{"8.8": row.p88, "10.9": row.p109,
			"A2-70": row.stainless} {
			_, got, _ := model.Tightening(row.size, class, 0.12)
			near(t, row.size+" "+class, got, want, 0.5+0.001*want)
		}
		near(t, "K of "+row.size, NutFactor(row.size, 0.15), 0.20, 0.012)
	}
	for size, want := range map[string]float64{"M3": 1.427, "M4": 3.282, "M5": 6.484, "M6": 11.256,
		"M8": 27.301} {
		nm, _, _ := model.Tightening(size, "8.8", 0.14)
		near(t, size+" at 0.14", nm, want, 0.001*want+0.0005)
	}
	for size, want := range map[string]float64{"M2": 1.517, "M2.5": 1.956, "M3": 2.394, "M4": 3.153,
		"M5": 4.030} {
		near(t, "engagement of "+size, Engagement(size), want, 0.001)
	}
	for size, want := range map[string]float64{"M3": 2920, "M4": 5100, "M5": 8230, "M6": 11600,
		"M8": 21200} {
		// printed rounded down
		near(t, "proof load of "+size, proofs["8.8"]*model.StressArea(size), want, 0.007*want)
	}
	// 71,619 N/mm with the nominal area 5.03
	near(t, "1/12 turn", TurnForce("M3", "8.8", 12, 30), 2984, 3)
	near(t, "1/4 turn", TurnForce("M3", "8.8", 12, 90), 8952, 9)

	r := work(t, "torque", map[string]string{"screw": "M3", "class": "8.8", "grip": "12"})
	near(t, "ceiling", value(t, r, "ceiling"), 1.286, 0.001)
	near(t, "key", value(t, r, "key"), 2.5, 0)
	low := work(t, "torque", map[string]string{"screw": "M3", "class": "8.8", "head": "button"})
	near(t, "low head", value(t, low, "ceiling"), 0.8*1.286, 0.001)
	near(t, "low head's pull", value(t, low, "preload"), 0.8*2545, 1)
	for _, into := range []string{"plastic", "insert", "brass", "slot"} {
		r := work(t, "torque", map[string]string{"screw": "M3", "class": "8.8", "thread": into})
		if x, _ := r.Row(
			"ceiling",
		); x.Text != "no torque value" || x.Value != 0 ||
			len(r.Says) == 0 {
			t.Errorf("%s: %+v", into, r)
		}
	}
	if r := work(
		t,
		"torque",
		map[string]string{"screw": "M3", "class": "8.8", "thread": "aluminium", "engaged": "4.6"},
	); r.Grade != Doubtful {
		t.Errorf("too little thread is %q", r.Grade)
	}
}

// Vapour pressures over water in hPa of the international formulation (IAPWS, Wagner and Pruss's
// auxiliary equation; steam tables print them) and beside them Magnus with WMO's constants; dew
// points and water calculated apart with those.
func TestHumidity(t *testing.T) {
	for _, row := range []struct{ t, magnus, steam, water float64 }{{0, 6.112, 6.11213, 4.84841},
		{10, 12.2603, 12.28112, 9.38213},
		{20, 23.32596, 23.39194, 17.24116}, {25, 31.60057, 31.69824, 22.96555},
		{30, 42.33724, 42.46920, 30.26090},
		{40, 73.67458, 73.85110, 50.97792}, {50, 123.45158, 123.52479, 82.77693}} {
		near(t, "Magnus", Saturation(row.t), row.magnus, 1e-5*row.magnus)
		near(t, "steam table", Saturation(row.t), row.steam, 0.004*row.steam)
		near(t, "water", Water(row.t, 100), row.water, 1e-4*row.water)
	}
	for _, row := range []struct{ t, h, dew, water float64 }{{20, 50, 9.2552, 8.6206},
		{22, 45, 9.5150, 8.7129}, {25, 50, 13.8516, 11.4828},
		{25, 60, 16.6931, 13.7793}, {30, 70, 23.9272, 21.1826}, {25, 20, 0.4629, 4.5931}} {
		near(t, "dew point", DewPoint(row.t, row.h), row.dew, 1e-4)
		near(t, "water", Water(row.t, row.h), row.water, 1e-4)
	}
	near(t, "brought to the dew point", HumidityAt(25, 50, 13.8516), 100, 0.01)
	r := work(
		t,
		"air",
		map[string]string{
			"temperature": "77 °F",
			"humidity":    "60%",
			"cold":        "15 °C",
			"volume":      "50",
		},
	)
	near(t, "dew point", value(t, r, "dew point"), 16.6931, 1e-3)
	if r.Grade != Doubtful {
		t.Errorf("condensation is %q", r.Grade)
	}
}

// Silica gel by Toth at 25 °C calculated apart; a printed specification of type A gel (10.5 % at 20
// %RH, 23 % at 50, 34 % at 90, from memory) is a floor under it; MIL-D-3464E of 21 April 1987: 3.00
// g at 20 %RH and 6.00 g at 40 %RH make a unit, which is 28.5 g of such gel.
func TestDesiccant(t *testing.T) {
	a := []float64{0.0527, 0.1054, 0.1581, 0.2108, 0.2632, 0.3134, 0.3556, 0.3819, 0.3934}
	rd := []float64{0.0731, 0.1463, 0.2194, 0.2924, 0.3633, 0.4190, 0.4428, 0.4484, 0.4496}
	for i := range a { // their vapour pressure is the steam table's, 0.3 % over Magnus
		h := float64(10 * (i + 1))
		near(t, "fine", Held("fine", h, 25), a[i], 0.004*a[i])
		near(t, "regular", Held("regular", h, 25), rd[i], 0.004*rd[i])
	}
	for h, least := range map[float64]float64{20: 0.105, 50: 0.23, 90: 0.34} {
		if got := Held("fine", h, 25); got < least {
			t.Errorf("at %g %%RH %g, under the specification's %g", h, got, least)
		}
	}
	near(t, "a unit", Units("fine", 28.5), 1, 0.005)
	r := work(
		t,
		"desiccant",
		map[string]string{
			"dry":         "200 g",
			"seen":        "weights",
			"days":        "10",
			"weight-then": "202",
			"weight-now":  "207",
		},
	)
	near(t, "leak", value(t, r, "leak"), 0.5, 1e-9)
	near(t, "days left", value(t, r, "days left"), (200*Held("fine", 20, 25)-7)/0.5, 1e-9)
	r = work(
		t,
		"desiccant",
		map[string]string{
			"dry":           "200",
			"seen":          "humidities",
			"days":          "10",
			"humidity-then": "5",
			"humidity-now":  "10",
		},
	)
	// the isotherm is straight there
	near(t, "days left by humidity", value(t, r, "days left"), 20, 0.1)
	if r = work(
		t,
		"desiccant",
		map[string]string{
			"dry":         "200",
			"seen":        "weights",
			"days":        "10",
			"weight-then": "202",
			"weight-now":  "230",
		},
	); r.Grade != Stop {
		t.Errorf("full is %q", r.Grade)
	}
}

// A loss that falls by half from stretch to stretch: 8 g, then 4 g, and so 4 g more in all; the
// rate is 4 ln 2/4 h at the end of the second and falls with ln 2/4 h.
func TestDrying(t *testing.T) {
	more, ok := DryTime(8, 4, 4, 0.125)
	near(t, "more", more, 4*math.Log2(4*math.Ln2/4/0.125), 1e-9)
	if !ok {
		t.Error("a loss that falls is no loss that falls")
	}
	r := work(
		t,
		"drying",
		map[string]string{
			"material": "petg",
			"before":   "1.21 kg",
			"middle":   "1202",
			"after":    "1198",
			"hours":    "8",
		},
	)
	near(t, "lost", value(t, r, "lost"), 12, 1e-9)
	near(t, "more", value(t, r, "more"), more, 1e-9)
	if _, err := Find(
		All(materials),
		"drying",
	).Work(map[string]string{"material": "petg", "before": "1000", "after": "1010"}); err == nil {
		t.Error("a roll grew heavier")
	}
	if _, err := Find(
		All(materials),
		"drying",
	).Work(map[string]string{"material": "pvc"}); err == nil {
		t.Error("PVC is dried")
	}
}

// Chapra and Canale, Numerical Methods for Engineers, multiple linear regression: y = 5 + 4 x1 - 3
// x2 without a remainder. Noisy planes against the QR solver of gonum.
func TestPlane(t *testing.T) {
	p, err := FitPlane([]Point{{0, 0, 5}, {2, 1, 10}, {2.5, 2, 9}, {1, 3, 0}, {4, 6, 3},
		{7, 2, 27}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "at", p.At, 5, 1e-9)
	near(t, "x", p.X, 4, 1e-9)
	near(t, "y", p.Y, -3, 1e-9)
	points := []Point{
		{30, 30, 0.12},
		{220, 30, -0.05},
		{125, 220, 0.02},
		{30, 220, 0.2},
		{220, 220, -0.11},
	}
	a, b := mat.NewDense(len(points), 3, nil), mat.NewVecDense(len(points), nil)
	for i, q := range points {
		a.SetRow(i, []float64{1, q.X, q.Y})
		b.SetVec(i, q.Z)
	}
	var want mat.VecDense
	if err := want.SolveVec(a, b); err != nil {
		t.Fatal(err)
	}
	got, _ := FitPlane(points)
	near(t, "at", got.At, want.AtVec(0), 1e-12)
	near(t, "x", got.X, want.AtVec(1), 1e-12)
	near(t, "y", got.Y, want.AtVec(2), 1e-12)
	if _, err := FitPlane([]Point{{0, 0, 1}, {1, 1, 2}, {2, 2, 4}}); err == nil {
		t.Error("a plane through a line")
	}
}

// A bed that was tilted on purpose lies level after the turns that are told, whichever screw is
// left alone; a bow stays.
func TestTilt(t *testing.T) {
	at := func(x, y float64) float64 { return 0.3 + 0.002*x - 0.001*y }
	screws := []Point{{20, 20, 0}, {230, 20, 0}, {125, 230, 0}}
	for fixed := range 4 {
		plane, _ := FitPlane([]Point{{0, 0, at(0, 0)}, {200, 0, at(200, 0)}, {0, 200, at(0, 200)}})
		rise := corrections(plane, screws, fixed)
		for i := range screws {
			near(t, "level", at(screws[i].X, screws[i].Y)+
				rise[i]-at(screws[0].X, screws[0].Y)-rise[0], 0, 1e-9)
		}
		if fixed > 0 {
			near(t, "left alone", rise[fixed-1], 0, 1e-12)
		}
	}
	r := work(
		t,
		"tilt",
		map[string]string{
			"points": "0 0 0.0; 200 0 0,35; 0 200 0.0; 200 200 0.35",
			"screws": "0 0; 200 0; 200 200; 0 200",
			"pitch":  "0.7",
			"fixed":  "1",
		},
	)
	if x, _ := r.Row("screw 2"); !strings.HasPrefix(x.Text, "0.50 turn clockwise, down 0.35") {
		t.Errorf("screw 2: %q", x.Text)
	}
	if x, _ := r.Row("screw 1"); x.Text != "leave it" {
		t.Errorf("screw 1: %q", x.Text)
	}
	near(t, "spread", value(t, r, "spread"), 0.35, 1e-9)
	near(t, "bow", value(t, r, "left after"), 0, 1e-9)
	gaps := work(
		t,
		"tilt",
		map[string]string{
			"points": "0 0 0.1; 200 0 0.45; 0 200 0.1; 200 200 0.45",
			"screws": "0 0; 200 0; 100 200",
			"pitch":  "0.7",
			"fixed":  "1",
			"values": "gaps",
		},
	)
	if x, _ := gaps.Row("screw 2"); !strings.Contains(x.Text, "counter-clockwise, up 0.35") {
		t.Errorf("by gaps: %q", x.Text)
	}
	twisted := work(
		t,
		"tilt",
		map[string]string{
			"points": "0 0 0.4; 200 0 0; 0 200 0; 200 200 0.4",
			"screws": "0 0; 200 0; 100 200",
		},
	)
	near(t, "bow", value(t, twisted, "left after"), 0.4, 1e-9)
	for _, l := range r.Picture {
		if len(l) > 78 {
			t.Errorf("the picture is %d wide", len(l))
		}
	}
	for _, bad := range []map[string]string{{"points": "0 0 1; 1 1 1; 2 2 1",
		"screws": "0 0; 1 0; 0 1"}, {"points": "0 0 1; 1 0 1; 0 1 1", "screws": "0 0; 1 1; 2 2"},
		{"points": "0 0; 1 0 1; 0 1 1", "screws": "0 0; 1 0; 0 1"},
		{"points": "0 0 1; 1 0 1", "screws": "0 0; 1 0; 0 1"},
		{"points": "0 0 1; 1 0 1; 0 1 1",
			"screws": "0 0; 1 0; 0 1; 1 1; 2 2"}, {"points": "0 0 1; 1 0 1; 0 1 1", "screws": "0 0; 1 0; 0 1", "fixed": "4"}} {
		if _, err := Find(All(nil), "tilt").Work(bad); err == nil {
			t.Errorf("%v is taken", bad)
		}
	}
}

// A parallelogram made with a known angle by the cosine rule.
func TestSquare(t *testing.T) {
	a, b, lean := 300.0, 200.0, 0.004
	first := math.Sqrt(a*a + b*b + 2*a*b*math.Sin(lean))
	second := math.Sqrt(a*a + b*b - 2*a*b*math.Sin(lean))
	got, ok := OutOfSquare(a, b, first, second)
	near(t, "angle", got, lean, 1e-12)
	if !ok {
		t.Error("refused")
	}
	r := work(
		t,
		"square",
		map[string]string{
			"width":  "300",
			"depth":  "200",
			"first":  model.Digits(first),
			"second": model.Digits(second),
		},
	)
	near(t, "per 100", value(t, r, "per 100 mm"), 0.4, 0.001)
	if r.Grade != Doubtful {
		t.Errorf("0.4 mm is %q", r.Grade)
	}
	r = work(t, "skew", map[string]string{"width": "10 cm", "depth": "100", "first": "141.5",
		"second": "141.3"})
	near(t, "factor", value(t, r, "skew factor"), 0.001414, 1e-5)
	if _, err := Find(
		All(nil),
		"square",
	).Work(map[string]string{"width": "300", "depth": "200", "first": "500",
		"second": "300"}); err == nil {
		t.Error("such diagonals are taken")
	}
}

// Heaters by their labels; a published table of a 100 k thermistor (part NCP03WF104, as the hwmon
// driver ntc_thermistor of Linux prints it) and the constants of Steinhart and Hart through 0, 50
// and 100 °C calculated apart; Beta calculated apart; IEC 60751 as its table prints it (138.51,
// 175.86).
func TestResistance(t *testing.T) {
	for _, row := range []struct{ v, w, ohms float64 }{{24, 40, 14.4}, {24, 50, 11.52},
		{24, 60, 9.6}, {12, 40, 3.6}} {
		near(t, "heater", HeaterOhms(row.v, row.w), row.ohms, 1e-9)
	}
	for _, row := range []struct{ t, b3950, b4092, b4267 float64 }{{60, 24861.6, 23648.3, 22234.1},
		{85, 10866.7, 10033.4, 9093.7},
		{100, 6975.2, 6338.5, 5633.1}, {200, 744.6, 624.4, 502.5}} {
		near(t, "B3950", Beta(1e5, 3950, row.t), row.b3950, 0.06)
		near(t, "B4092", Beta(1e5, 4092, row.t), row.b4092, 0.06)
		near(t, "B4267", Beta(1e5, 4267, row.t), row.b4267, 0.06)
		near(t, "and back", BetaTemperature(1e5, 3950, Beta(1e5, 3950, row.t)), row.t, 1e-9)
	}
	s := SteinhartThrough([3]float64{0, 50, 100}, [3]float64{357012, 33195, 5384})
	near(t, "A", s.A, 8.55414849673e-4, 1e-12)
	near(t, "B", s.B, 2.06547045622e-4, 1e-12)
	near(t, "C", s.C, 7.88331929819e-8, 1e-15)
	for _, row := range table100k {
		near(t, "Steinhart", s.Temperature(row[1]), row[0], 0.08)
		near(t, "and back", s.Ohms(s.Temperature(row[1])), row[1], 1e-6*row[1])
		got, ok := TableOhms(row[0])
		near(t, "table", got, row[1], 1e-6*row[1])
		if !ok {
			t.Errorf("%g °C is not in the table", row[0])
		}
	}
	mid, _ := TableOhms(35) // the same driver's row between: 63,167
	near(t, "between", mid, 63167, 0.01*63167)
	for c, want := range map[float64]float64{-50: 80.3063, -20: 92.1599, 0: 100, 20: 107.7935,
		25: 109.7347, 60: 123.2419,
		100: 138.5055, 150: 157.3251, 200: 175.8560, 250: 194.0981, 300: 212.0515} {
		near(t, "Pt100", Platinum(100, c), want, 5e-5)
		near(t, "and back", PlatinumTemperature(100, Platinum(100, c)), c, 1e-6)
	}
	for _, c := range []struct {
		id    string
		typed map[string]string
		want  Grade
	}{
		{"heater", map[string]string{"watts": "40", "measured": "14,6 ohm", "leads": "0.2"}, Good},
		{"heater", map[string]string{"watts": "40", "measured": "16.2"}, Doubtful},
		{"heater", map[string]string{"label": "14.4", "measured": "14.6"}, Good},
		{"heater", map[string]string{"watts": "40", "measured": "17"}, Stop},
		{"heater", map[string]string{"watts": "40", "measured": "3"}, Stop},
		{"heater", map[string]string{"watts": "40", "measured": "2 Mohm"}, Stop},
		{"thermistor", map[string]string{"temperature": "20", "by": "table", "measured": "127 k"},
			Good},
		{"thermistor", map[string]string{"temperature": "68 °F", "measured": "105"}, Doubtful},
		{"thermistor", map[string]string{"temperature": "20", "measured": "90"}, Stop},
		{"thermistor", map[string]string{"temperature": "20", "by": "pairs",
			"pairs": "0 357012 50 33195 100 5384", "measured": "127"}, Good},
		{"thermistor", map[string]string{"temperature": "20", "measured": "0"}, Stop},
		{"thermistor", map[string]string{"temperature": "20", "measured": "50000"}, Stop},
		{"platinum", map[string]string{"temperature": "20", "measured": "1078"}, Good},
		{"platinum", map[string]string{"temperature": "20", "sensor": "Pt100",
			"measured": "109.2 ohm"}, Doubtful},
		{"platinum", map[string]string{"temperature": "20", "measured": "1150"}, Stop},
	} {
		if r := work(t, c.id, c.typed); r.Grade != c.want {
			t.Errorf("%s %v is %q, want %q: %+v", c.id, c.typed, r.Grade, c.want, r.Rows)
		}
	}
	if c := Find(All(nil), "heater"); !strings.HasPrefix(c.Caution, "Only with every plug") {
		t.Error("no caution before a meter is at a machine")
	}
	got := value(t, work(t, "thermistor", map[string]string{"temperature": "20"}), "by the table")
	near(t, "100 k, B 3950 at 20 °C", got, 125, 0.5) // as procedures print it
}

// Student's t against gonum's own law, and as every table prints it; trials by hand.
func TestTrials(t *testing.T) {
	for _, row := range []struct{ n, t float64 }{{1, 12.706}, {2, 4.303}, {4, 2.776}, {9, 2.262},
		{30, 2.042}} {
		near(t, "t table", Quantile(row.n, 0.95), row.t, 5e-4)
		near(t, "gonum", Quantile(row.n, 0.95),
			distuv.StudentsT{Mu: 0, Sigma: 1, Nu: row.n}.Quantile(0.975), 1e-6)
	}
	mean, sd, half := Trials([]float64{98, 100, 102})
	near(t, "mean", mean, 100, 1e-9)
	near(t, "sd", sd, 2, 1e-9)
	near(t, "half", half, 4.3027*2/math.Sqrt(3), 1e-3)

	r := work(t, "steps", map[string]string{"old": "400", "asked": "100 mm", "got": "96 96.5 95,5"})
	near(t, "steps", value(t, r, "steps to set"), 400*100/96.0, 1e-9)
	r = work(t, "flow", map[string]string{"by": "wall", "wall-asked": "0.45",
		"wall-got": "0.47 0.46 0.47 0.48"})
	near(t, "flow", value(t, r, "flow to set"), 100*0.45/0.47, 1e-9)
	r = work(t, "flow", map[string]string{"length-asked": "100", "length-got": "99 101 100"})
	if !strings.Contains(strings.Join(r.Says, " "), "nothing to correct") {
		t.Errorf("%v", r.Says)
	}
	if r = work(
		t,
		"axis",
		map[string]string{"old": "80", "asked": "100", "got": "98 98.1 98"},
	); r.Grade != Doubtful {
		t.Errorf("2 %% on an axis is %q", r.Grade)
	}
	if _, err := Find(
		All(nil),
		"steps",
	).Work(map[string]string{"old": "400", "asked": "100", "got": "10"}); err == nil {
		t.Error("a tenth is taken")
	}
	near(t, "carbon", CarbonHours(100, 0.1, 50), 3333, 0.5) // 10 g at 50 µg a minute, by hand
	r = work(t, "carbon", map[string]string{"carbon": "100", "styrenic": "1000"})
	near(t, "used up", value(t, r, "used up"), 36, 0.01)
}

// The individuals chart of NIST/SEMATECH e-Handbook 6.3.2.2: mean 50.81, mean moving range 1.8778,
// limits 55.8041 and 45.8159.
func TestIndividuals(t *testing.T) {
	c, ok := Individuals([]float64{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1})
	near(t, "mean", c.Middle, 50.81, 1e-9)
	near(t, "range", c.Range, 1.8778, 5e-5)
	near(t, "high", c.High, 55.8041, 5e-5)
	near(t, "low", c.Low, 45.8159, 5e-5)
	if !ok || c.Outside(52.1) || !c.Outside(56) {
		t.Error("outside")
	}
	jets := []float64{
		78.4,
		80.1,
		84.4,
		79.1,
		80.4,
		83.5,
		73.8,
		83.5,
		75.0,
		76.8,
		70.5,
		80.3,
		82.4,
		79.4,
		86.4,
		90.5,
		77.7,
		82.5,
		79.9,
		83.2,
	}
	j, _ := Individuals(jets) // the sample JETS of SAS/QC: none outside
	for _, v := range jets {
		if j.Outside(v) {
			t.Errorf("%g is outside", v)
		}
	}
	if _, ok := Individuals(jets[:7]); ok {
		t.Error("limits from seven readings")
	}
	if r := work(
		t,
		"trend",
		map[string]string{"readings": "10 10.1 9.9 10 10.1 9.9 10 14"},
	); r.Grade != Doubtful {
		t.Errorf("14 among tens is %q", r.Grade)
	}
}

// What every calculator says with its answer, and how wide its questions are.
func TestAllCalculators(t *testing.T) {
	typed := map[string]map[string]string{
		"belt": {
			"span": "150",
			"tone": "110",
		},
		"belt-tone": {"span": "150", "pull": "20"},
		"torque":    {"screw": "M4"},
		"air": {
			"temperature": "20",
			"humidity":    "50",
		},
		"desiccant": {"dry": "100"},
		"drying":    {"material": "petg"},
		"tilt":      {"points": "0 0 1; 1 0 1; 0 1 1", "screws": "0 0; 1 0; 0 1"},
		"square": {
			"width":  "100",
			"depth":  "100",
			"first":  "141",
			"second": "141",
		},
		"skew": {"width": "100", "depth": "100", "first": "141", "second": "141"},
		"heater": {
			"watts":    "40",
			"measured": "14",
		},
		"thermistor": {"temperature": "20"},
		"platinum":   {"temperature": "20"},
		"flow": {
			"length-asked": "100",
			"length-got":   "99",
		},
		"steps":  {"old": "400", "asked": "100", "got": "99"},
		"axis":   {"old": "80", "asked": "100", "got": "100"},
		"carbon": {"carbon": "100"},
		"trend":  {"readings": "1 2"},
	}
	for _, c := range All(materials) {
		r := work(t, c.ID, typed[c.ID])
		if r.Source == "" || r.Tolerance == "" || r.Spoils == "" || len(r.Rows) == 0 ||
			c.Purpose == "" ||
			c.Title == "" {
			t.Errorf("%s does not say all it must: %+v", c.ID, r)
		}
		for _, f := range c.Fields {
			if len(f.Ask) > 26 || f.Ask == "" || f.Name != strings.ToLower(f.Name) {
				t.Errorf("%s asks %q %q", c.ID, f.Name, f.Ask)
			}
			if f.Usual != "" && f.Check("") != "" {
				t.Errorf("%s: the usual %s cannot be: %s", c.ID, f.Usual, f.Check(""))
			}
		}
		for name := range typed[c.ID] {
			bad := map[string]string{name: "nonsense"}
			if _, err := c.Work(bad); err == nil || strings.Contains(err.Error(), "\n") {
				t.Errorf("%s takes %v: %v", c.ID, bad, err)
			}
		}
	}
}

// What was struck counts as never read, a change of unit begins anew, one reading is no run, and an
// entry that came late stands at its time.
func TestRuns(t *testing.T) {
	at := time.Date(2026, 11, 1, 9, 0, 0, 0, time.UTC)
	var es []model.Entry
	add := func(days int, name string, v float64, unit string) {
		n := uint64(len(es) + 1)
		es = append(es, model.Entry{Seq: n, Action: fmt.Sprint("a", n), At: at.AddDate(0, 0, days),
			Fact: model.Fact{Kind: model.KindValue,
				Value: &model.Measured{Name: name, Value: v, Unit: unit}}})
	}
	for i, v := range []float64{100, 101, 100, 101, 100, 101, 100, 101} {
		add(i, "belt left", v, "Hz")
	}
	add(9, "belt left", 300, "Hz") // struck
	es = append(es, model.Entry{Seq: 10, Action: "s", At: at,
		Fact: model.Fact{Kind: model.KindStrike, Strike: &model.Strike{Action: "a9"}}})
	add(1, "once", 1, "g")
	add(1, "mixed", 1, "g")
	add(2, "mixed", 1, "mm")
	add(3, "mixed", 2, "mm")
	runs := Runs(es)
	if len(runs) != 3 || runs[0].Quantity != "belt left" || len(runs[0].Points) != 8 ||
		len(runs[1].Points) != 2 || runs[2].Quantity != "once" || len(runs[2].Points) != 1 {
		t.Fatalf("%+v", runs)
	}
	if limits, outside := runs[0].Usual(); limits != "97.84 to 103.2 Hz" || outside {
		t.Errorf("usual %q, outside %v", limits, outside)
	}
	add(-1, "belt left", 99, "Hz")
	add(20, "belt left", 140, "Hz")
	if _, outside := Runs(es)[0].Usual(); !outside || Runs(es)[0].Points[0].Value != 99 {
		t.Errorf("140 is not outside, or what came late stands last: %+v", Runs(es)[0])
	}
}
