package job

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

// anyPrint writes a print of some kind: large or small loops, slow or fast; on a machine with a
// changer with few or many changes.
func anyPrint(r *rand.Rand, changer bool) string {
	var b strings.Builder
	b.WriteString("G90\nM83\nT0\n")
	size, feed, tool := 4+90*r.Float64()*r.Float64(), 1800+r.IntN(12000), 0
	often := 0 // layers between two changes
	if changer {
		often = []int{20, 8, 4, 2}[r.IntN(4)]
	}
	for n := range 30 + r.IntN(120) {
		fmt.Fprintf(&b, "G0 Z%.2f F600\nF%d\n", 0.2*float64(n+1), feed)
		if often > 0 && n%often == often-1 {
			tool = 1 - tool
			fmt.Fprintf(&b, "T%d\n", tool)
		}
		for k := range 8 {
			for i := range 5 {
				a := 2 * math.Pi * float64(i) / 4 * (1 + 0.1*float64(k))
				fmt.Fprintf(&b, "G1 X%.3f Y%.3f E0.3\n", 100+size*math.Cos(a), 100+size*math.Sin(a))
			}
			if k%3 == 0 {
				fmt.Fprintf(
					&b,
					"G0 X%.2f Y%.2f F12000\nF%d\n",
					100+size*r.Float64(),
					100+size*r.Float64(),
					feed,
				)
			}
		}
	}
	return b.String()
}

// TestTwoPrintsSuffice: on invented machines of every kind, whose times nobody has typed, nine
// prints of ten are within 15 % once two were told. The truth is the planner's, with the machine's
// own limits, its start routine and its changes, and 2 % that nobody can reckon.
func TestTwoPrintsSuffice(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 2))
	within15, inside, all := 0, 0, 0
	before := 0
	for range 25 {
		p := DefaultProfile()
		a := 800 * math.Pow(15, r.Float64())
		p.Accel[atX], p.Accel[atY], p.PrintAccel, p.TravelAccel, p.Limits = a, a, a, a, true
		p.Speed[atX] = 100 + 400*r.Float64()
		p.Speed[atY] = p.Speed[atX]
		p.Jerk[atX] = 5 + 10*r.Float64()
		p.Jerk[atY] = p.Jerk[atX]
		p.Speed[atZ], p.Accel[atZ] = 5+20*r.Float64(), 100+500*r.Float64()
		start, change := 120+600*r.Float64(), 25+120*r.Float64()
		m, changer := &model.Machine{}, r.IntN(2) == 0
		for n := range 10 {
			text := anyPrint(r, changer)
			truth := mustScan(t, text, Options{Time: true, Profile: &p})
			took := (start + truth.Moving.Seconds() + change*float64(truth.ToolChanges)) * (1 + 0.02*r.NormFloat64())
			got := mustScan(t, text, Options{Time: true})
			if n < 2 {
				m.Times = append(m.Times, model.PrintTime{Took: took, Moving: got.Moving.Seconds(),
					Cruise: got.Cruise.Seconds(), Changes: float64(got.ToolChanges)})
				continue
			}
			all++
			if math.Abs(got.Total().Seconds()-took) <= 0.15*took {
				before++
			}
			got.Retime(Learn(m))
			off := math.Abs(got.Total().Seconds() - took)
			if off <= 0.15*took {
				within15++
			}
			if off <= got.Spread.Seconds() {
				inside++
			}
		}
	}
	t.Logf(
		"of %d prints %d are within 15 %%, %d before anything was told; %d within the spread said",
		all,
		within15,
		before,
		inside,
	)
	if within15*10 < all*9 {
		t.Errorf("%d of %d are within 15 %%", within15, all)
	}
	if inside*100 < all*75 {
		t.Errorf("%d of %d lie within the spread, 80 %% is said", inside, all)
	}
}

// TestLearn: what was typed holds until prints say otherwise, prints under other limits say
// nothing, and two prints that differ in their changes give all three figures.
func TestLearn(t *testing.T) {
	m := &model.Machine{}
	if got := Learn(
		m,
	); got.Start != 0 || got.Change != 0 || got.Cruise != 1 || got.Ramps != 1 ||
		got.Prints != 0 {
		t.Errorf("of nothing %+v", got)
	}
	m.Settings = map[string]string{
		model.ChangeTime: "90",
		model.StartTime:  "5",
		model.TopAccel:   "8000",
	}
	if got := Learn(
		m,
	); got.Start != 5*time.Minute || got.Change != 90*time.Second ||
		got.Cruise != 1 {
		t.Errorf("of settings %+v", got)
	}
	m.Times = []model.PrintTime{{Took: 9999, Moving: 1}}
	if got := Learn(m); got.Prints != 0 {
		t.Errorf("of a print under other limits %+v", got)
	}
	// a change takes 110 s, the start 400 s, and speeding up twice what was reckoned
	m.Times = []model.PrintTime{
		{Took: 400 + 18000 + 2*3600, Moving: 21600, Cruise: 18000, Limits: m.PrintLimits()},
		{
			Took:    400 + 3000 + 2*600 + 60 + 100*110,
			Moving:  3600,
			Cruise:  3000,
			Waiting: 60,
			Changes: 100,
			Limits:  m.PrintLimits(),
		},
	}
	got := Learn(m)
	near(t, "ramps", got.Ramps, 2, 0.25)
	near(t, "change", got.Change.Seconds(), 110, 10)
	r := Report{
		Moves:       1,
		ToolChanges: 10,
		Moving:      time.Hour,
		Cruise:      50 * time.Minute,
		LayerMarks:  []Mark{{At: 0}, {At: time.Hour}},
		Filament:    []Filament{{Time: time.Hour}},
	}
	r.Retime(got)
	near(t, "total", r.Total().Hours(), (400+3000+2*600+1100)/3600., 0.1)
	if r.LayerMarks[0].At != got.Start || r.LayerMarks[1].At != r.Total() ||
		r.Filament[0].Time != r.Total() {
		t.Errorf("%+v of %v", r, r.Total())
	}
	if r.Spread < time.Minute || r.Spread > 30*time.Minute || r.Timed != 2 {
		t.Errorf("spread %v by %d", r.Spread, r.Timed)
	}
}
