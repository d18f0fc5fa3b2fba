package life

import (
	"math"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

// blades is a bench of machines that cut a hundred times a day, each so far into its blade.
func blades(t *testing.T, used ...int) []*model.Machine {
	t.Helper()
	var out []*model.Machine
	for _, u := range used {
		ty := newTyped(t, model.Home)
		for d := range 201 {
			ty.read(t, model.Changes, float64(d), 100*float64(d))
			if d == 200-u/100 {
				careDone(t, ty, float64(d), "blade")
			}
		}
		out = append(out, ty.machine())
	}
	return out
}

func inDrawer(part string, n float64, change ...func(*model.Stock)) model.Stock {
	s := model.Stock{Part: part, Count: &n, Lead: 6}
	for _, c := range change {
		c(&s)
	}
	return s
}

func TestBladesWanted(t *testing.T) {
	now := dayAt(200.5)
	procs := []*model.Procedure{blade()}
	cases := []struct {
		name   string
		used   []int
		days   float64
		mean   [2]float64
		stock5 int // for 5 %
	}{
		{"fresh ones want none in a week", []int{100, 200, 300}, 7, [2]float64{0, 0.1}, 1},
		// lives of 1,200 are not ruled out
		{"a year of one machine, 100 a day, lives of about 4,000", []int{100}, 365,
			[2]float64{7.5, 11}, 23},
		// three that old and sound say that blades last long here
		{"three near their end want theirs in two weeks", []int{4900, 4900, 4900}, 14,
			[2]float64{0.4, 1.5}, 2},
	}
	for _, c := range cases {
		d := NewSpares(blades(t, c.used...), procs, now).Need("blade", c.days)
		if m := d.Mean(); m < c.mean[0] || m > c.mean[1] || d.Stock(0.05) > c.stock5 ||
			math.Abs(d.AtMost(len(d))-1) > 1e-6 {
			t.Errorf("%s: mean %.2f, stock %d", c.name, m, d.Stock(0.05))
		}
	}
}

func TestDrawerAdvice(t *testing.T) {
	now := dayAt(200.5)
	ms := blades(t, 2000, 2500)
	s := NewSpares(ms, []*model.Procedure{blade()}, now)
	none := s.Advise(model.Stock{Part: "blade", Lead: 6}, 0.05)
	if none.Count != nil || none.OrderBy != nil || none.Order != 0 || none.Why != "not counted" {
		t.Errorf("not counted: %+v", none)
	}
	empty := s.Advise(inDrawer("blade", 0), 0.05)
	if empty.OrderBy == nil || !empty.OrderBy.Equal(now) || empty.Order < 1 {
		t.Errorf("an empty drawer: %+v", empty)
	}
	var last time.Time
	for n := 1.0; n <= 6; n++ {
		a := s.Advise(inDrawer("blade", n), 0.05)
		if a.OrderBy == nil || a.OrderBy.Before(last) {
			t.Fatalf("%v in the drawer, order by %v, with one less by %v", n, a.OrderBy, last)
		}
		last = *a.OrderBy
		days := last.Sub(now).Hours() / 24
		if days > 0 && (s.until("blade", days, 6).Short(int(n)) > 0.05 ||
			s.until("blade", days+1, 6).Short(int(n)) <= 0.05) {
			t.Errorf("%v in the drawer: day %v is not the last", n, days)
		}
	}
	if a := s.Advise(inDrawer("blade", 5, func(s *model.Stock) { s.Minimum = 5 }),
		0.05); !a.OrderBy.Equal(now) || a.Order < 1 {
		t.Errorf("at the minimum: %+v", a)
	}
	if a := s.Advise(inDrawer("blade", 1, func(s *model.Stock) { s.Pack = 5 }),
		0.05); a.Order%5 != 0 || a.Order == 0 {
		t.Errorf("half a pack: %+v", a)
	}
	if a := s.Advise(inDrawer("blade", 3, func(s *model.Stock) { s.Lead = 0 }),
		0.05); a.Lead != usualLead || !strings.Contains(a.Why, "lead time not told") {
		t.Errorf("no lead time: %+v", a)
	}
	if a := s.Advise(inDrawer("wiper", 3), 0.05); a.OrderBy != nil || a.Expect != 0 {
		t.Errorf("a part no machine wears: %+v", a)
	}
	if keep := NewSpares(blades(t, 100, 100, 100, 100), []*model.Procedure{blade()},
		now).Advise(inDrawer("blade", 3), 0.05).Keep; keep != 2 {
		t.Errorf("four machines keep %d, one for each three wanted", keep)
	}
}

// A booked job that needs more than the usual week brings the blade's end nearer; a small one does
// not.
func TestBookedJobs(t *testing.T) {
	now := dayAt(200.5)
	ms := blades(t, 2000)
	need := func(changes float64) float64 {
		ms[0].Booked = []model.Booking{{PrintJob: model.PrintJob{File: "a",
			Need: map[model.Meter]float64{model.Changes: changes}}}}
		return NewSpares(ms, []*model.Procedure{blade()}, now).Need("blade", 7).Mean()
	}
	if none, small, large := need(0), need(300), need(2500); none != small || large < none+0.3 {
		t.Errorf("wanted %v, with a small job %v, with a large one %v", none, small, large)
	}
}

// A supply goes down by the calendar too, and a part nothing counts by how often it was swapped.
func TestOtherDemand(t *testing.T) {
	wipe := glance()
	wipe.Supplies = []model.Supply{{Part: "lint-free wipe", Quantity: 5},
		{Part: "isopropyl alcohol", Quantity: 2.5, Unit: "ml"},
		{Part: "lens fluid", Quantity: 0.1, Unit: "ml"}, {Part: "cotton bud", Quantity: 2,
			Only: model.Only{Step: "judge", Is: []string{"dusty"}}}}
	fan := &model.Procedure{ID: "fan-swap", Kind: model.Swap, Part: "fan"}
	ty := newTyped(t, model.Home)
	careDone(t, ty, 0, "glance")
	for d := range 2 {
		ty.fold(t, model.Entry{At: dayAt(float64(100 * (d + 1))),
			Fact: model.Fact{Kind: model.KindSwap,
				Swap: &model.Swapped{Part: "fan", End: "failed"}}})
	}
	m := ty.machine()
	careDone(t, ty, 360, "glance")
	s := NewSpares([]*model.Machine{m}, []*model.Procedure{wipe, fan}, dayAt(365))
	for days, want := range map[float64]float64{20: 0, 26: 5, 60: 10, 90: 15} {
		if got := s.Need("lint-free wipe", days).Mean(); math.Abs(got-want) > 1e-9 {
			t.Errorf("wipes in %v days: %v, want %v", days, got, want)
		}
	}
	if got := s.Need("isopropyl alcohol", 26).Mean(); got != 3 {
		t.Errorf("alcohol: %v", got)
	}
	for days, want := range map[float64]float64{26: 1, 120: 1, 360: 2} { // a tenth each time
		if got := s.Need("lens fluid", days).Mean(); got != want {
			t.Errorf("lens fluid in %v days: %v, want %v", days, got, want)
		}
	}
	if got := s.Need("cotton bud", 26).Mean(); got != 0 {
		t.Errorf("what an answer decides: %v", got)
	}
	// half a swap in a year taken for granted, two seen in one: 2.5 in 730 days
	if got := s.Need("fan", 73).Mean(); math.Abs(got-0.25) > 0.001 {
		t.Errorf("fans: %v", got)
	}
}
