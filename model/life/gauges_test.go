package life

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"
	_ "time/tzdata"

	"bench/oilcan/model"
)

func oil() *model.Procedure {
	return &model.Procedure{ID: "oil", Title: "Oil the screws", Kind: model.Care, HandsOn: 5,
		Intervals: []model.Interval{{Meter: model.Hours, Low: 200, High: 250,
			Basis: "from memory"}}}
}

func blade() *model.Procedure {
	return &model.Procedure{ID: "blade", Title: "Change the blade", Kind: model.Swap, Part: "blade",
		HandsOn: 5,
		Intervals: []model.Interval{{Meter: model.Cuts, Low: 3000, High: 5000,
			Basis: "common practice"}},
		Supplies: []model.Supply{{Part: "blade", Quantity: 1}}}
}

func glance() *model.Procedure {
	return &model.Procedure{ID: "glance", Title: "Look at the fans", Kind: model.Look, HandsOn: 1,
		Intervals: []model.Interval{{Meter: model.Days, Low: 30, High: 38, Basis: "from memory"}}}
}

// careDone books care at the meters of that day.
func careDone(t testing.TB, ty *typed, day float64, ids ...string) {
	t.Helper()
	for _, id := range ids {
		ty.fold(t, model.Entry{At: dayAt(day),
			Fact: model.Fact{Kind: model.KindCare,
				Care: &model.CareDone{Procedure: id, Outcome: "done"}}})
	}
}

func TestGaugesAreDated(t *testing.T) {
	ty := newTyped(t, model.Home)
	for d := range 121 {
		if d == 100 {
			careDone(t, ty, 100, "oil", "blade", "glance")
		}
		ty.read(t, model.Hours, float64(d), 5*float64(d))
		ty.read(t, model.Changes, float64(d), 80*float64(d))
		ty.read(t, model.Starts, float64(d), 20*float64(d))
	}
	now := dayAt(121)
	procs := []*model.Procedure{oil(), blade(), glance()}
	gs := Gauges(ty.machine(), procs, now)
	f := NewForecaster(ty.machine(), now)
	for _, c := range []struct {
		item           string
		low, high, off float64 // days, and how exactly
		pace           string
	}{
		{"oil", 140, 150, 1.5, "5 h a day by 120 days of readings"},
		// 20 days of 100, then 1,000 and 3,000 more
		{"blade", 130, 150, 1.5, "100 cuts a day by 120 days of readings"},
		{"glance", 130, 138, 1e-6, "the calendar"},
	} {
		g := gs[gaugeAt(t, gs, c.item)]
		low, high := g.DueLow.Sub(simStart).Hours()/24, g.DueHigh.Sub(simStart).Hours()/24
		if math.Abs(low-c.low) > c.off || math.Abs(high-c.high) > c.off || g.Forecast == nil ||
			g.Forecast.Pace != c.pace {
			t.Errorf("%s: day %.2f to %.2f, want %v to %v; %+v", c.item, low, high, c.low, c.high,
				g.Forecast)
			continue
		}
		if fc := g.Forecast; fc.Level != g.Low || !fc.Own || fc.Early.After(fc.Mid) ||
			fc.Mid.After(fc.Late) {
			t.Errorf("%s: %+v", c.item, fc)
		}
		near, ok := f.PassBefore(&g, g.High, dayAt(c.high-12))
		far, ok2 := f.PassBefore(&g, g.High, dayAt(c.high+12))
		if !ok || !ok2 || near > 0.02 || far < 0.98 {
			t.Errorf("%s: not to last to twelve days before %.3f, after %.3f", c.item, near, far)
		}
	}
}

// A machine that nobody reads any more is due by estimate, not fresh by its last reading; read
// again it is what the reading says.
func TestStaleReadingIsDueByEstimate(t *testing.T) {
	ty := newTyped(t, model.Home)
	for d := range 101 {
		if d == 90 {
			careDone(t, ty, 90, "oil")
		}
		ty.read(t, model.Hours, float64(d), 5*float64(d))
	}
	for _, c := range []struct {
		day       float64
		word      model.GaugeWord
		estimated bool
	}{{101, model.WordFresh, false}, {125, model.WordFresh, false}, {135, model.WordDue, true},
		{300, model.WordDue, true}} {
		g := Gauges(ty.machine(), []*model.Procedure{oil()}, dayAt(c.day))[0]
		if g.Word != c.word || g.Estimated != c.estimated || g.Used != 50 {
			t.Errorf("day %v: %s, by estimate %v, %v used; want %s, %v, 50", c.day, g.Word,
				g.Estimated, g.Used, c.word, c.estimated)
		}
		if off := g.DueLow.Sub(dayAt(130)).Hours() / 24; off < -1.5 || off > 1.5 {
			t.Errorf("day %v: low end on %s, want about %s", c.day, g.DueLow, dayAt(130))
		}
	}
	ty.read(t, model.Hours, 140, 520)
	if g := Gauges(ty.machine(), []*model.Procedure{oil()},
		dayAt(140))[0]; g.Word != model.WordFresh || g.Estimated {
		t.Errorf("read again it is %s, by estimate %v", g.Word, g.Estimated)
	}
}

func gaugeAt(t testing.TB, gs []model.Gauge, item string) int {
	t.Helper()
	for i := range gs {
		if gs[i].Item == item {
			return i
		}
	}
	t.Fatalf("no gauge %s", item)
	return 0
}

// 200 h or 30 days, whichever comes first: a busy spell used half of the hours, so that they
// govern, but at 2 h a day since the days come first. The date, its spread and the chances are
// those of the days, and say so.
func TestWhicheverComesFirst(t *testing.T) {
	both := oil()
	both.Intervals = append(both.Intervals, model.Interval{Meter: model.Days, Low: 30, High: 38,
		Basis: "common practice"})
	ty := newTyped(t, model.Home)
	value := 0.0
	for d := range 119 {
		ty.read(t, model.Hours, float64(d), value)
		if d == 100 {
			careDone(t, ty, 100, "oil")
		}
		if value += 2; d >= 100 && d < 105 {
			value += 18
		}
	}
	now := dayAt(118.5)
	f := NewForecaster(ty.machine(), now)
	g := f.Gauges([]*model.Procedure{both})[0]
	alone := Gauges(ty.machine(), []*model.Procedure{oil()}, now)[0]
	if g.Meter != model.Hours || g.Used != alone.Used {
		t.Fatalf("%s, %v used", g.Meter, g.Used)
	}
	if !alone.DueLow.After(dayAt(133)) || g.DueLow == nil || !g.DueLow.Equal(dayAt(130)) ||
		g.DueHigh == nil || g.DueHigh.After(dayAt(138)) {
		t.Errorf("low on %v, high on %v; by the hours alone %v", g.DueLow, g.DueHigh, alone.DueLow)
	}
	fc := g.Forecast
	if fc.Of != model.Days || fc.Level != 30 || !fc.Mid.Equal(dayAt(130)) ||
		fc.Early.After(alone.Forecast.Early) || fc.Late.After(dayAt(130)) ||
		fc.Pace != "the calendar" {
		t.Errorf("%+v", fc)
	}
	if fc.Due != 1 || fc.Fails < alone.Forecast.Fails {
		t.Errorf("by the next care %v due, %v past", fc.Due, fc.Fails)
	}
	if p, ok := f.DueBy(&g, dayAt(130.1)); !ok || p != 1 {
		t.Errorf("due on day 130 with %v", p)
	}
}

// 10 h a day, 60 days out of use, and 10 h a day again: the pace is 10, and what is not read since
// the machine came back counts from then on, not from the reading before.
func TestOutOfUseIsCutOut(t *testing.T) {
	out := func(ty *typed, day float64, is bool) {
		ty.fold(t, model.Entry{At: dayAt(day), Fact: model.Fact{Kind: model.KindMachine,
			Machine: &model.MachineFact{ID: "m", Name: "Anvil", Duty: model.Home, OutOfUse: is}}})
	}
	ty := newTyped(t, model.Home)
	for d := range 101 {
		ty.read(t, model.Hours, float64(d), 10*float64(d))
	}
	careDone(t, ty, 100, "oil")
	out(ty, 100, true)
	out(ty, 160, false)
	now := dayAt(161)
	g := Gauges(ty.machine(), []*model.Procedure{oil()}, now)[0]
	if g.Estimated || g.DueLow == nil || g.DueLow.Sub(dayAt(180)).Abs() > 24*time.Hour {
		t.Errorf("read before it was out of use, due %v", g.DueLow)
	}
	for d := 160; d <= 170; d++ {
		ty.read(t, model.Hours, float64(d), 1000+10*float64(d-160))
	}
	p := Estimate(ty.machine().Readings[model.Hours], ty.machine().Rests, model.Home, model.Hours,
		dayAt(170))
	if p.Mean < 9.8 || p.Mean > 10.2 || p.usage.stand > 0.01 {
		t.Errorf("%.2f h a day, standing still with %.2f: %s", p.Mean, p.usage.stand, p.Words())
	}
	if perDay, _ := meanPace(ty.machine(), model.Hours); perDay < 9.9 || perDay > 10.1 {
		t.Errorf("by the mean %.2f h a day", perDay)
	}
}

// Without history the date is that of the duty's usual pace, and what looks ahead knows it: 200 h
// at 3 h a day.
func TestDueFromMemory(t *testing.T) {
	ty := newTyped(t, model.Home)
	ty.read(t, model.Hours, 0, 700)
	careDone(t, ty, 0.1, "oil")
	now := dayAt(1)
	gs := Gauges(ty.machine(), []*model.Procedure{oil()}, now)
	fc := gs[0].Forecast
	if gs[0].DueLow != nil || fc == nil || fc.Own || fc.Mid.IsZero() ||
		gs[0].WhenLong(now) != "about "+model.Day(fc.Mid, now)+", from memory" {
		t.Fatalf("%q, %+v", gs[0].WhenLong(now), fc)
	}
	ahead := fc.Mid.Sub(now)
	for within, want := range map[time.Duration]int{0: 0, ahead - time.Hour: 0,
		ahead + time.Hour: 1} {
		if got := model.Due(gs, within, now); len(got) != want {
			t.Errorf("within %v: %d due, want %d", within, len(got), want)
		}
	}
}

// What is reached was reached when the readings say, whatever the pace has been since.
func TestReachedByTheReadings(t *testing.T) {
	ty := newTyped(t, model.Home)
	ty.read(t, model.Hours, 0, 0)
	careDone(t, ty, 0, "oil")
	ty.read(t, model.Hours, 40, 100)
	ty.read(t, model.Hours, 50, 300) // 200 on day 45, 225 and 250 after
	ty.read(t, model.Hours, 90, 300)
	g := Gauges(ty.machine(), []*model.Procedure{oil()}, dayAt(91))[0]
	for i, want := range []float64{45, 46.25, 47.5} {
		if got := []*time.Time{g.DueLow, g.DueMid, g.DueHigh}[i]; got == nil ||
			got.Sub(dayAt(want)).Abs() > time.Minute {
			t.Errorf("end %d on %v, want day %v", i, got, want)
		}
	}
	if g.Word != model.WordPast || g.Forecast != nil {
		t.Errorf("%s, %+v", g.Word, g.Forecast)
	}
}

func TestGaugesWithoutDates(t *testing.T) {
	cases := []struct {
		name string
		set  func(ty *typed)
		own  any // of the forecast; nil: none
	}{
		{"read once: the duty's pace, apart from the dates", func(ty *typed) {}, false},
		{"out of use", func(ty *typed) {
			ty.fold(t, model.Entry{At: dayAt(50), Fact: model.Fact{Kind: model.KindMachine,
				Machine: &model.MachineFact{ID: "m", Name: "Anvil", OutOfUse: true}}})
		}, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			ty := newTyped(t, model.Home)
			ty.read(t, model.Hours, 0, 700)
			careDone(t, ty, 0.1, "oil")
			c.set(ty)
			f := NewForecaster(ty.machine(), dayAt(60))
			g := f.Gauges([]*model.Procedure{oil()})[0]
			if g.DueLow != nil || g.DueMid != nil || g.DueHigh != nil {
				t.Errorf("dates from nothing: %v %v %v", g.DueLow, g.DueMid, g.DueHigh)
			}
			_, ok := f.PassBefore(&g, g.High, dayAt(100))
			if c.own == nil && (g.Forecast != nil || ok) || c.own != nil &&
				(g.Forecast == nil || g.Forecast.Own != c.own || !ok) {
				t.Errorf("%+v, probability %v", g.Forecast, ok)
			}
		})
	}
	if gs := Gauges(&model.Machine{MachineFact: model.MachineFact{Retired: true}},
		[]*model.Procedure{oil()}, simStart); len(gs) != 0 {
		t.Errorf("a retired machine has gauges: %v", gs)
	}
	unread := Gauges(newTyped(t, model.Home).machine(), []*model.Procedure{oil()}, dayAt(1))[0]
	if unread.Word != model.WordUnknown || unread.Forecast != nil {
		t.Errorf("%+v", unread)
	}
}

// BenchmarkForecast24Machines is all gauges with forecast of 24 machines with 58 procedures each
// and ten years behind them, of which the snapshots hold 400 days a meter. The limit is 50 ms.
func BenchmarkForecast24Machines(b *testing.B) {
	ms, procs := longBench(b)
	now := dayAt(3651)
	b.ReportAllocs()
	for b.Loop() {
		for _, m := range ms {
			f := NewForecaster(m, now)
			gs := f.Gauges(procs)
			for i := range gs {
				f.PassBefore(&gs[i], gs[i].High, dayAt(3680))
			}
		}
	}
}

func longBench(b *testing.B) ([]*model.Machine, []*model.Procedure) {
	meters := []model.Meter{model.Hours, model.Changes, model.Starts, model.StyrenicHours,
		model.AbrasiveHours}
	var procs []*model.Procedure
	for i := range 58 {
		p := &model.Procedure{ID: fmt.Sprintf("care-%02d", i), Title: "Care", Kind: model.Care}
		of := []model.Meter{model.Hours, model.Changes, model.Cuts, model.StyrenicHours,
			model.AbrasiveHours, model.Days}[i%6]
		p.Intervals = []model.Interval{{Meter: of, Low: 400, High: 500, Basis: "from memory"},
			{Meter: model.Days, Low: 400, High: 500, Basis: "from memory"}}
		procs = append(procs, p)
	}
	var ms []*model.Machine
	for i := range 24 {
		ty, r := newTyped(b, model.Home), rand.New(rand.NewPCG(5, uint64(i)))
		values := make([]float64, len(meters))
		for d := range 3650 {
			for k, m := range meters {
				values[k] += gamma(r, 4, 0.8)
				if d > 3200 || d%7 == 0 {
					ty.read(b, m, float64(d), values[k])
				}
			}
			if d > 3560 && d < 3560+len(procs) {
				careDone(b, ty, float64(d), procs[d-3560-1].ID)
			}
		}
		ms = append(ms, ty.machine())
	}
	return ms, procs
}

// A blade renewed between two readings: 30 days of 100 changes went by before it, and are no use of
// the new one. Its 3,000 are as likely as not reached 30 days from the renewal, not on the day of
// it.
func TestRenewedSinceTheLastReading(t *testing.T) {
	ty := newTyped(t, model.Home)
	careDone(t, ty, 0, "blade")
	for d := range 121 {
		ty.read(t, model.Changes, float64(d), 100*float64(d))
	}
	careDone(t, ty, 150, "blade")
	now := dayAt(151)
	f := NewForecaster(ty.machine(), now)
	gs := f.Gauges([]*model.Procedure{blade()})
	g := gs[gaugeAt(t, gs, "blade")]
	if g.Word != model.WordFresh || g.Estimated || g.DueLow == nil ||
		math.Abs(g.DueLow.Sub(dayAt(180)).Hours()/24) > 2 {
		t.Errorf("%s, estimated %v, due %v, want about %v", g.Word, g.Estimated, g.DueLow,
			dayAt(180))
	}
	if p, ok := f.PassBefore(&g, g.Low, dayAt(160)); !ok || p > 0.01 {
		t.Errorf("%v that 3,000 are used in ten days", p)
	}
}

// Care done half an hour after midnight, before the clock was put back: 30 days on, it is due on
// that day, and not at half past eleven of the evening before.
func TestCalendarAcrossAClockChange(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	done := time.Date(2026, 10, 20, 0, 30, 0, 0, berlin)
	m := &model.Machine{MachineFact: model.MachineFact{ID: "m", Name: "Anvil", Duty: model.Home},
		Care: map[string]*model.CareLast{"glance": {At: done.UTC(), Known: true}}}
	now := time.Date(2026, 10, 22, 8, 0, 0, 0, berlin)
	for _, gs := range [][]model.Gauge{Gauges(m, []*model.Procedure{glance()}, now),
		ByMean(m, []*model.Procedure{glance()}, now)} {
		g := gs[0]
		if got := g.WhenText(now); got != "2026-11-19" ||
			g.DueLow.Sub(time.Date(2026, 11, 19, 0, 30, 0, 0, berlin)).Abs() > time.Second {
			t.Errorf("%s, %v", got, g.DueLow)
		}
		if f := g.Forecast; f != nil && !f.Mid.Equal(*g.DueLow) &&
			f.Mid.Sub(*g.DueLow).Abs() > time.Second {
			t.Errorf("forecast for %v", f.Mid)
		}
	}
}
