package verdict

import (
	"math"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
)

var now = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// bench is a machine whose blade was renewed at 0 changes and which stands at so many.
func bench(changes float64, facts ...model.Fact) *model.Machine {
	fact := func(n uint64, at time.Time, f model.Fact) model.Entry {
		return model.Entry{V: 1, Seq: n, ID: string(rune('a' + n)), At: at, Written: at,
			Machine: "m", Action: string(rune('a' + n)), Fact: f}
	}
	read := func(m model.Meter, v float64) model.Fact {
		return model.Fact{Kind: model.KindReading, Reading: &model.Reading{Meter: m, Value: v}}
	}
	es := []model.Entry{
		fact(1, now.AddDate(0, -3, 0),
			model.Fact{Kind: model.KindMachine, Machine: &model.MachineFact{ID: "m", Name: "Heron",
				Duty: model.Home}}),
	}
	for i, f := range append([]model.Fact{read(model.Changes, 0), read(model.Hours, 0),
		read(model.StyrenicHours, 0)}, facts...) {
		es = append(es, fact(uint64(2+i), now.AddDate(0, -2, 0), f))
	}
	for i, f := range []model.Fact{{Kind: model.KindSwap,
		Swap: &model.Swapped{Part: "blade", End: "worn", Resets: []string{"blade-check"}}},
		{Kind: model.KindCare, Care: &model.CareDone{Procedure: "filter-swap", Outcome: "done"}}} {
		es = append(es, fact(uint64(20+i), now.AddDate(0, -2, 0), f))
	}
	es = append(es, fact(40, now, read(model.Changes, changes)),
		fact(41, now, read(model.Hours, 100)), fact(42, now, read(model.StyrenicHours, 10)))
	return model.Fold(es).Machines["m"]
}

var procs = []*model.Procedure{
	{ID: "blade-check", Title: "Blade", Kind: model.Swap, Part: "blade",
		Intervals: []model.Interval{{Meter: model.Cuts, Low: 3000, High: 5000,
			Basis: "common practice"}}},
	{ID: "filter-swap", Title: "Filter", Kind: model.Swap, Part: "filter",
		Intervals: []model.Interval{{Meter: model.StyrenicHours, Low: 300, High: 400}}},
	{ID: "never", Title: "Never done", Part: "wiper",
		Intervals: []model.Interval{{Meter: model.Hours, Low: 80, High: 90}}},
}

// print is a print of so many changes over ten hours and 100 layers, evenly.
func ofChanges(n int64) Print {
	r := &job.Report{ToolChanges: n, Starts: 1, Layers: 100, Moving: 10 * time.Hour}
	for i := int64(1); i <= n; i++ {
		r.Marks = append(r.Marks,
			job.Mark{Change: i, Layer: 1 + i*99/n,
				At: time.Duration(i) * 10 * time.Hour / time.Duration(n)})
	}
	for i := int64(1); i <= 100; i++ {
		r.LayerMarks = append(r.LayerMarks,
			job.Mark{Layer: i, At: time.Duration(i-1) * 6 * time.Minute})
	}
	return PrintOf("a.gcode", r, &job.Use{StyrenicHours: 10})
}

func find(t *testing.T, r Result, item string) Row {
	t.Helper()
	for _, x := range r.Rows {
		if x.Gauge.Item == item {
			return x
		}
	}
	t.Fatalf("no row %s", item)
	return Row{}
}

func TestVerdict(t *testing.T) {
	for name, c := range map[string]struct {
		changes    float64
		print      int64
		unattended bool
		word       Word
		swap       string
	}{
		"far off":                            {1000, 500, false, Lasts, ""},
		"just below":                         {2499, 500, false, Lasts, ""},
		"to the low end":                     {2500, 500, false, Reaches, After},
		"over the whole band":                {2900, 2200, false, Reaches, Before},
		"in it":                              {3000, 10, false, Due, After},
		"in it, unattended":                  {3000, 10, true, Due, Before},
		"at its high end":                    {5000, 0, false, Due, After},
		"past it":                            {5001, 10, false, Past, Before},
		"lasts, with a margin":               {2399, 500, true, Lasts, ""},
		"lasts, and a fifth more is wanted":  {2401, 500, true, Lasts, Before},
		"the same with somebody there":       {2401, 500, false, Lasts, ""},
		"nothing to cut, nothing to renew":   {2999, 0, true, Lasts, ""},
		"nothing to cut, and it is past now": {6000, 0, true, Past, After},
	} {
		t.Run(name, func(t *testing.T) {
			m := bench(c.changes)
			got := find(t, Judge(Ask{Machine: m, Bench: []*model.Machine{m}, Procedures: procs,
				Prints: []Print{ofChanges(
					c.print)}, Unattended: c.unattended, Now: now})[0], "blade-check")
			if got.Word != c.word || got.Swap != c.swap || got.Before != c.changes ||
				got.After != c.changes+float64(c.print) {
				t.Errorf("%s, swap %q, %v + %v = %v", got.Word, got.Swap, got.Before, got.Need,
					got.After)
			}
		})
	}
}

// A procedure is due by days or changes: the days govern now, and the print's changes are what it
// reaches.
func TestEveryLimitCounts(t *testing.T) {
	m := bench(90)
	two := []*model.Procedure{{ID: "blade-check", Title: "Chute", Intervals: []model.Interval{
		{Meter: model.Days, Low: 70, High: 80}, {Meter: model.Changes, Low: 100, High: 125}}}}
	m.Care["blade-check"].Base[model.Changes] = 90
	r := find(t, Judge(Ask{Machine: m, Procedures: two, Prints: []Print{ofChanges(500)},
		Now: now})[0], "blade-check")
	if r.Gauge.Meter != model.Changes || r.Word != Reaches || r.Before != 0 || r.After != 500 ||
		r.Swap != "" || !r.Whole() {
		t.Errorf("%s by %s: %v to %v, %s", r.Word, r.Gauge.Meter, r.Before, r.After, r.Swap)
	}
	if r := find(t, Judge(Ask{Machine: m, Procedures: two, Prints: []Print{ofChanges(5)},
		Now: now})[0], "blade-check"); r.Gauge.Meter != model.Days || r.Word != Lasts {
		t.Errorf("%s by %s", r.Word, r.Gauge.Meter)
	}
}

// The 250th of 500 changes comes in the middle: five hours in, in layer 1 + 250·99/500 = 50.
func TestWhere(t *testing.T) {
	m := bench(2750)
	rs := Judge(Ask{Machine: m, Procedures: procs, Prints: []Print{ofChanges(500)}, Now: now})
	r := find(t, rs[0], "blade-check")
	if r.Word != Reaches || r.At != 5*time.Hour || r.Layer != 50 {
		t.Errorf("%s at %v in layer %d", r.Word, r.At, r.Layer)
	}
	// 295 + 10 styrenic hours reach 300 half way, by the clock in layer 51
	m.Care["filter-swap"].Base[model.StyrenicHours] = 10 - 295
	if r := find(t, Judge(Ask{Machine: m, Procedures: procs, Prints: []Print{ofChanges(500)},
		Now: now})[0], "filter-swap"); r.Word != Reaches || r.At != 5*time.Hour || r.Layer != 51 {
		t.Errorf("%s at %v in layer %d", r.Word, r.At, r.Layer)
	}
	p := ofChanges(500)
	p.Unsaid = true
	rs = Judge(Ask{Machine: m, Procedures: procs, Prints: []Print{p}, Now: now})
	if r := find(t, rs[0], "filter-swap"); r.Word != Unknown ||
		!strings.Contains(r.Why, "material") {
		t.Errorf("%s: %s", r.Word, r.Why)
	}
	if r := find(t, rs[0], "never"); r.Word != Unknown || r.Why == "" {
		t.Errorf("%s: %s", r.Word, r.Why)
	}
}

// Of four prints of 900 changes from 1000 on, the third would pass 3000; renewed before it, with a
// margin, the fourth runs on the new blade.
func TestSeveral(t *testing.T) {
	m := bench(1000)
	ps := []Print{ofChanges(900), ofChanges(900), ofChanges(900), ofChanges(900)}
	rs := Judge(Ask{Machine: m, Procedures: procs, Prints: ps, Unattended: true, Now: now})
	stops := Stops(rs)
	var blade []Stop
	for _, s := range stops {
		if s.Row.Gauge.Item == "blade-check" {
			blade = append(blade, s)
		}
	}
	if len(blade) != 1 {
		t.Fatalf("%+v", blade)
	}
	// before the second 1900, 1100 left, 1080 wanted: it lasts; before the third 2800 and 200 left
	if blade[0].Print != 2 {
		t.Errorf("before print %d", blade[0].Print)
	}
	if r := find(t, rs[3], "blade-check"); r.Before != 900 || r.Word != Lasts || r.Swap != "" {
		t.Errorf("%+v", r)
	}
}

// Five own lives around 3000 cuts, and the rule of thumb beside them: 1 − S(after)/S(before).
func TestFails(t *testing.T) {
	m := bench(2000)
	for _, used := range []float64{2800, 3000, 3100, 3300, 2900} {
		m.Parts["blade"].Lives = append(m.Parts["blade"].Lives,
			model.Life{From: now.AddDate(-1, 0, 0), To: now.AddDate(0, -6, 0),
				Used: map[model.Meter]float64{model.Changes: used}, End: "worn"})
	}
	ask := Ask{Machine: m, Bench: []*model.Machine{m}, Procedures: procs,
		Prints: []Print{ofChanges(100), ofChanges(1500)}, Now: now}
	rs := Judge(ask)
	short, long := find(t, rs[0], "blade-check"), find(t, rs[1], "blade-check")
	if short.Fails == nil || long.Fails == nil || !(*short.Fails < 0.04) || !(*long.Fails > 0.8) ||
		!strings.Contains(short.By, "own lives") || long.Swap != Before || short.Swap != "" {
		t.Fatalf("%v %v %s %s %s", *short.Fails, *long.Fails, short.By, short.Swap, long.Swap)
	}
	together := Judge(Ask{Machine: m, Bench: ask.Bench, Procedures: procs,
		Prints: []Print{ofChanges(1600)}, Now: now})
	whole := find(t, together[0], "blade-check")
	if want := 1 - (1-*short.Fails)*(1-*long.Fails); math.Abs(*whole.Fails-want) > 1e-12 {
		t.Errorf("%v in one print, %v in two", *whole.Fails, want)
	}
	look := []*model.Procedure{{ID: "blade-check", Kind: model.Look, Part: "blade",
		Intervals: procs[0].Intervals}}
	if r := find(t, Judge(Ask{Machine: m, Bench: ask.Bench, Procedures: look, Prints: ask.Prints,
		Now: now})[0], "blade-check"); r.Fails != nil {
		t.Errorf("a look has a life of %v", *r.Fails)
	}
	m = bench(2000)
	if r := find(t, Judge(Ask{Machine: m, Bench: []*model.Machine{m}, Procedures: procs,
		Prints: []Print{ofChanges(100)}, Now: now})[0], "filter-swap"); r.Fails != nil {
		t.Errorf("without own lives %v", *r.Fails)
	}
}

// Lives that end by chance, shape 0.6 or so: a new part fails as easily as the one that is in, so
// that to renew it before the print buys nothing. Neither does it where nothing was used yet.
func TestANewPartMustHelp(t *testing.T) {
	for name, used := range map[string]float64{"half worn": 400, "just renewed": 0} {
		m := bench(used)
		for _, life := range []float64{10, 40, 150, 500, 900, 2400} {
			m.Parts["blade"].Lives = append(m.Parts["blade"].Lives,
				model.Life{From: now.AddDate(-1, 0, 0), To: now.AddDate(0, -6, 0),
					Used: map[model.Meter]float64{model.Changes: life}, End: "worn"})
		}
		ask := Ask{Machine: m, Bench: []*model.Machine{m}, Procedures: procs,
			Prints: []Print{ofChanges(1000)}, Unattended: true, Now: now}
		if r := find(t, Judge(ask)[0], "blade-check"); r.Fails == nil || *r.Fails < 0.4 ||
			r.Swap != "" {
			t.Errorf("%s: %v to fail, swap %q", name, r.Fails, r.Swap)
		}
	}
}

// Where the end of a band is passed, and why a part is renewed before or after: a print of 1,000
// changes over ten hours and 100 layers, evenly; the band of the blade is 3,000 to 5,000.
func TestEndAndReason(t *testing.T) {
	for _, c := range []struct {
		at         float64
		unattended bool
		swap, why  string
		end        time.Duration
		layer      int64
	}{
		{at: 1000},
		{at: 1900, unattended: true, swap: Before,
			why: "nobody is there, and less than a fifth more than it needs is left"},
		{at: 2500, swap: After, why: "within its band to the end of this print"},
		{at: 3500, swap: After, why: "within its band to the end of this print"},
		{at: 3500, unattended: true, swap: Before, why: "nobody is there, and it is due"},
		{at: 4500, swap: Before, why: "this print takes it past its band",
			end: 5 * time.Hour, layer: 50},
		{at: 6000, swap: Before, why: "it is past its band"},
	} {
		r := find(t, Judge(Ask{Machine: bench(c.at), Procedures: procs, Now: now,
			Prints: []Print{ofChanges(1000)}, Unattended: c.unattended})[0], "blade-check")
		if r.Swap != c.swap || r.Reason != c.why || r.EndAt != c.end || r.EndIn != c.layer ||
			r.Spare != "blade" {
			t.Errorf("at %v: %q %q, end %v in %d, spare %q", c.at, r.Swap, r.Reason, r.EndAt,
				r.EndIn, r.Spare)
		}
	}
}
