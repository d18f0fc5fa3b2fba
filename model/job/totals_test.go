package job

import (
	"bytes"
	"context"
	"math"
	"os"
	"testing"
	"time"

	"bench/oilcan/model"
)

// scanFile reads a file of testdata. Its totals are worked out by hand in its own comments.
func scanFile(t *testing.T, name string, o Options) Report {
	t.Helper()
	b, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return mustScan(t, string(b), o)
}

func travel(t *testing.T, r Report, x, y, z Length) {
	t.Helper()
	if r.Travel != [3]Length{x, y, z} {
		t.Errorf("travel is %d, want %d", r.Travel, [3]Length{x, y, z})
	}
}

const mm = Length(1_000_000)

func TestTwoColours(t *testing.T) {
	r := scanFile(t, "two-colours.gcode", Options{Time: true})
	travel(t, r, 28*mm, 28*mm, 1200*mm/1000)
	if len(r.Filament) != 2 {
		t.Fatalf("filament %+v", r.Filament)
	}
	t0, t2 := r.Filament[0], r.Filament[1]
	if t0.Tool != 0 || t0.Pushed != 1500*mm/1000 || t0.Back != 0 || t2.Tool != 2 ||
		t2.Pushed != 3550*mm/1000 || t2.Back != 2800*mm/1000 {
		t.Errorf("filament %+v", r.Filament)
	}
	got := []int64{r.Moves, r.Layers, r.Starts, r.ToolChanges, r.ManualChanges, r.Changes(),
		r.Retractions, r.Homings, r.Waits.Heats, r.Arcs, r.Spiral}
	want := []int64{14, 2, 1, 2, 1, 3, 2, 1, 2, 0, 0}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("counts are %v, want %v", got, want)
			break
		}
	}
	if r.Hottest != (Temperatures{HotEnd: 230, Bed: 65}) ||
		r.Waits.Dwell != 3500*time.Millisecond || r.Top != 400*mm/1000 {
		t.Errorf("hottest %+v, waits %+v, top %v", r.Hottest, r.Waits, r.Top)
	}
	if count(r.Service, "T1000") != 1 || count(r.Service, "T255") != 1 || len(r.Unknown) != 0 {
		t.Errorf("service %v, unknown %v", r.Service, r.Unknown)
	}
	if len(r.Marks) != 3 || r.Marks[1].Layer != 2 || r.Marks[1].At <= r.Marks[0].At {
		t.Errorf("marks %+v", r.Marks)
	}
	if sum := t0.Time + t2.Time; sum != r.Total() {
		t.Errorf("the tools have %v, the file %v", sum, r.Total())
	}
}

func TestInches(t *testing.T) {
	r := scanFile(t, "inches.nc", Options{})
	travel(t, r, 14200*mm/1000, 205200*mm/1000, 0)
	if r.Moves != 5 || r.Deleted != 1 || len(r.Unknown) != 0 {
		t.Errorf("moves %d, deleted %d, unknown %v", r.Moves, r.Deleted, r.Unknown)
	}
}

func TestArcs(t *testing.T) {
	r := scanFile(t, "arcs.gcode", Options{Time: true})
	travel(t, r, 150*mm, 140*mm, 22*mm)
	if r.Moves != 10 || r.Arcs != 9 || r.LooseArcs != 0 || r.Spiral != 1 {
		t.Errorf("moves %d, arcs %d, loose %d, spiral %d", r.Moves, r.Arcs, r.LooseArcs, r.Spiral)
	}
	near(t, "path", r.Path.MM(), 245.746261, 1e-6)
}

// A quarter turn of radius 10 is 15.707963 mm long, with a rise of 2 mm 15.834775: r·a, and the
// root of (r·a)² + z².
func TestArcLength(t *testing.T) {
	for name, c := range map[string]struct {
		line string
		want float64
	}{
		"quarter":           {"G3 X0 Y10 I-10 J0", 15.707963},
		"quarter by radius": {"G3 X0 Y10 R10", 15.707963},
		"helix":             {"G3 X0 Y10 Z2 I-10 J0", 15.834775},
		"three quarters":    {"G2 X0 Y10 I-10", 47.123890},
		"by R below 0":      {"G3 X0 Y10 R-10", 47.123890},
	} {
		t.Run(name, func(t *testing.T) {
			r := mustScan(t, "G92 X10\n"+c.line+"\n", Options{Time: true})
			near(t, "length", r.Path.MM(), c.want, 5e-7)
		})
	}
}

// Exact boundaries of the trapezoid, through the whole reader: 100 mm at 100 mm/s and 1000 mm/s²
// from rest to rest take 1.1 s, 10 mm take 0.2 s.
func TestTimeOfOneMove(t *testing.T) {
	head := "M201 X1000\nM203 X500\nM204 P1000 T1000\n"
	for line, want := range map[string]float64{
		"G1 X100 F6000":                1.1,
		"G1 X10 F6000":                 0.2,
		"G1 X5 F6000":                  0.141421,
		"M203 X50\nG1 X100 F6000":      2.05, // 50 mm/s: 0.05 + 0.05 + 97.5/50
		"M220 S50\nG1 X100 F6000":      2.05,
		"G1 X50 F6000\nG1 X100":        1.1, // straight on: no stop between
		"G1 X50 F6000\nG4 P0\nG1 X100": 1.2, // rest between: two of 50 mm, 0.6 s each
		"G1 X50 F6000\nM0\nG1 X100":    1.2,
		// a reversal is passed at 20/2 = 10 mm/s each way: twice 0.1 + 0.09 + (50 - 5 - 4.95)/100
		"M205 X20\nG1 X50 F6000\nG1 X0":              1.181,
		"M204 T500\nM201 X1000\nG1 X100 F6000":       1.2, // 0.2 + 0.2 + 80/100
		"M205 J0.02\nG1 X50 F6000\nG1 X0 ; comment":  1.2, // a reversal is a stop
		"G20\nG1 X3.937007874 F236.2204724 ; 100 mm": 1.1,
	} {
		t.Run(line, func(t *testing.T) {
			r := mustScan(t, head+line+"\n", Options{Time: true})
			near(t, "time", r.Moving.Seconds(), want, 1e-6)
		})
	}
}

func TestHeatingAndChangesByProfile(t *testing.T) {
	p := DefaultProfile()
	p.HotRate, p.BedRate, p.ChangeSeconds = 2, 0.5, 40
	text := "M190 S60\nM109 S225\nM109 S215\nM109 R235\nM190\nT1\nT3\nT1\n"
	r := mustScan(t, text, Options{Time: true, Profile: &p})
	// (60-25)/0.5 = 70, (225-25)/2 = 100, cooling is not known, (235-215)/2 = 10; two changes
	if r.Waits.Heating != 180*time.Second || r.Waits.Heats != 5 ||
		r.Waits.Changing != 80*time.Second || r.Moving != 0 {
		t.Errorf("%+v", r.Waits)
	}
	// what comes before the first T belongs to its tool
	if len(r.Filament) != 2 || r.Filament[0].Tool != 1 || r.Filament[0].Time != 220*time.Second {
		t.Errorf("%+v", r.Filament)
	}
}

func TestUseOf(t *testing.T) {
	r := Report{Filament: []Filament{
		{Tool: 0, Pushed: 1000 * mm, Time: time.Hour},
		{Tool: 1, Pushed: 2500 * mm, Back: 500 * mm, Time: 2 * time.Hour},
		{Tool: 2, Pushed: 10 * mm, Time: time.Hour / 2},
		{Tool: 5, Pushed: 10 * mm, Time: time.Hour},
	}}
	loaded := map[int]Material{}
	for tool, m := range []model.Material{{ID: "pla", Name: "PLA"},
		{ID: "abs", Name: "ABS", Styrenic: 1},
		{ID: "pa-cf", Name: "PA-CF", Abrasive: 1, Styrenic: 0.5}} {
		loaded[tool] = MaterialOf(&m)
	}
	u := UseOf(&r, loaded, Diameter)
	// 1 m of 1.75 mm filament: pi/4 · 0.175² · 100 = 2.405282 cm³; PLA 1.24: 2.98 g, ABS 1.04: 2.50
	// g
	near(t, "cm3", u.Spools[0].CM3, 2.405282, 5e-7)
	near(t, "PLA", u.Spools[0].Grams, 2.98, 0.005)
	near(t, "ABS", u.Spools[1].Grams, 2*2.50, 0.01)
	if !math.IsNaN(u.Spools[2].Grams) || u.Spools[2].Material != "PA-CF" {
		t.Errorf("%+v", u.Spools[2])
	}
	near(t, "styrenic", u.StyrenicHours, 2+0.25, 1e-9)
	near(t, "abrasive", u.AbrasiveHours, 0.5, 1e-9)
	if len(u.Unsaid) != 1 || u.Unsaid[0] != 5 {
		t.Errorf("unsaid %v", u.Unsaid)
	}
}

func TestStreamReadsTheSame(t *testing.T) {
	b, err := os.ReadFile("testdata/two-colours.gcode")
	if err != nil {
		t.Fatal(err)
	}
	r, err := ScanStream(context.Background(), bytes.NewReader(b), Options{Time: true})
	if err != nil {
		t.Fatal(err)
	}
	same(t, "stream", r[0], scanFile(t, "two-colours.gcode", Options{Time: true}))
}
