package figures

import (
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"bench/oilcan/model"
)

// TestPoissonAgainstGarwood: limits of a Poisson mean as printed in Garwood (1936), table of
// "Fiducial limits for the Poisson distribution", and in Pearson and Hartley, Biometrika Tables for
// Statisticians I, table 40, at 95 %; from memory, and each beside the chi-square quantiles of a
// library of statistics.
func TestPoissonAgainstGarwood(t *testing.T) {
	for _, row := range []struct {
		n         int
		low, high float64
	}{
		{0, 0, 3.69}, {1, 0.0253, 5.57}, {2, 0.242, 7.22}, {3, 0.619, 8.77}, {4, 1.09, 10.24},
		{5, 1.62, 11.67}, {6, 2.20, 13.06}, {7, 2.81, 14.42}, {8, 3.45, 15.76}, {9, 4.12, 17.08},
		{10, 4.80, 18.39}, {15, 8.40, 24.74}, {20, 12.22, 30.89}, {30, 20.24, 42.83},
		{50, 37.11, 65.92},
	} {
		low, high := Poisson(row.n, 0.95)
		if math.Abs(low-row.low) > 0.0055 || math.Abs(high-row.high) > 0.0055 {
			t.Errorf("%d: %.4f to %.4f, in the table %v to %v", row.n, low, high, row.low, row.high)
		}
		if row.n > 0 {
			near(t, low, distuv.ChiSquared{K: float64(2 * row.n)}.Quantile(0.025)/2)
		}
		near(t, high, distuv.ChiSquared{K: float64(2*row.n + 2)}.Quantile(0.975)/2)
	}
}

// TestPoissonHoldsByItsLaw: at the limits the count is just as far out as the confidence says, for
// counts no table has.
func TestPoissonHoldsByItsLaw(t *testing.T) {
	for _, n := range []int{0, 1, 2, 7, 33, 400, 5000} {
		for _, sure := range []float64{0.8, 0.95, 0.99} {
			low, high := Poisson(n, sure)
			if n > 0 {
				near(t, 1-distuv.Poisson{Lambda: low}.CDF(float64(n-1)), (1-sure)/2)
			}
			near(t, distuv.Poisson{Lambda: high}.CDF(float64(n)), (1-sure)/2)
		}
	}
}

func near(t *testing.T, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6*(1+want) {
		t.Errorf("%.9g, want %.9g", got, want)
	}
}

// journal is a machine's record in the making.
type journal struct {
	entries []model.Entry
	zero    time.Time
}

// on writes the facts of one action of a day, counted from the first.
func (j *journal) on(day float64, facts ...model.Fact) {
	at := j.zero.Add(time.Duration(day * 24 * float64(time.Hour)))
	action := "a" + at.String()
	for _, f := range facts {
		n := uint64(len(j.entries) + 1)
		e := model.Entry{Seq: n, ID: string(rune('A'+n)) + action, At: at, Written: at,
			Machine: "m", Action: action, Fact: f}
		if f.Begun != nil || f.Closed != nil {
			e.Session = "s"
		}
		j.entries = append(j.entries, e)
	}
}

func reading(v float64) model.Fact {
	return model.Fact{Kind: model.KindReading,
		Reading: &model.Reading{Meter: model.Hours, Value: v}}
}

func failedBy(symptom, note string) model.Fact {
	return model.Fact{Kind: model.KindFailed,
		Failed: &model.PrintFailed{Symptom: symptom, Note: note}}
}

func cared(id string) model.Fact {
	return model.Fact{Kind: model.KindCare,
		Care: &model.CareDone{Procedure: id, Outcome: model.OutcomeDone}}
}

func used(part string, n float64) model.Fact {
	return model.Fact{Kind: model.KindStock,
		Stock: &model.StockMove{Part: part, Change: -n, Why: "used"}}
}

func swapped(part string) model.Fact {
	return model.Fact{Kind: model.KindSwap, Swap: &model.Swapped{Part: part, End: model.EndWorn}}
}

func closed(hands, waited float64) []model.Fact {
	return []model.Fact{{Kind: model.KindBegun, Begun: &model.Begun{Title: "care session"}},
		{Kind: model.KindClosed, Closed: &model.Closed{State: "ready", Hands: hands,
			Waited: waited}}}
}

// sample is a machine that prints 10 h a day from 2026-09-01 on, and what befalls it.
func sample() (*journal, []*model.Procedure) {
	j := &journal{zero: time.Date(2026, 9, 1, 0, 0, 0, 0, time.UTC)}
	told := cared("rods-wipe")
	told.Care.Memory = true
	j.on(0, model.Fact{Kind: model.KindMachine,
		Machine: &model.MachineFact{ID: "m", Name: "Heron"}},
		reading(500), told)
	return j, []*model.Procedure{{ID: "rods-wipe", Title: "Wipe the rods",
		Intervals: []model.Interval{{Meter: model.Hours, Low: 200, High: 300,
			Basis: "common practice"}},
		Symptoms: []model.Cure{{Name: "layer-shift"}}}}
}

func (j *journal) figures(t *testing.T, procs []*model.Procedure, day float64,
	prices map[string]float64) Figures {
	t.Helper()
	now := j.zero.Add(time.Duration(day * 24 * float64(time.Hour)))
	struck := model.Struck(j.entries)
	kept, _ := model.ByClock(j.entries, struck, now)
	drawer := model.Drawer{}
	for part, price := range prices {
		drawer[part] = &model.Stock{Part: part, Price: &price}
	}
	return Of(Given{Machine: model.FoldMachine("m", kept, struck), Entries: j.entries,
		Struck: struck, Procs: procs, Drawer: drawer, Months: 3, Now: now})
}

// TestMinutesPartsAndCost by hand: two sessions, three things used, two of them with a price.
func TestMinutesPartsAndCost(t *testing.T) {
	j, procs := sample()
	j.on(10, append(closed(40, 20), used("wiper", 1), swapped("wiper"), used("canned air", 0.5))...)
	j.on(40, append(closed(30, 0), swapped("blade"))...) // nothing left the drawer
	j.on(50, reading(1000))
	j.on(51, used("wiper", 3))
	f := j.figures(t, procs, 50.5, map[string]float64{"wiper": 4, "blade": 2.5})
	if len(f.Months) != 3 || f.Months[0].Month != "2026-08" || f.Months[2].Month != "2026-10" {
		t.Fatalf("%+v", f.Months)
	}
	aug, sep, oct := f.Months[0], f.Months[1], f.Months[2]
	if aug.Hours != nil || aug.Sessions != 0 || aug.Cost != nil {
		t.Errorf("August: %+v", aug)
	}
	if sep.Hands != 40 || sep.Waited != 20 || sep.Sessions != 1 || sep.Renewed != 1 ||
		sep.Used["wiper"] != 1 || sep.Used["canned air"] != 0.5 || *sep.Cost != 4 {
		t.Errorf("September: %+v", sep)
	}
	if oct.Hands != 30 || oct.Renewed != 1 || oct.Used["blade"] != 1 || *oct.Cost != 2.5 {
		t.Errorf("October: %+v", oct)
	}
	near(t, *sep.Hours, 300)
	near(t, *oct.Hours, 200)
	near(t, *f.Upkeep.Minutes, 70.0/500)
	near(t, *f.Upkeep.Cost, 6.5/500)
	if len(f.Upkeep.Unpriced) != 1 || f.Upkeep.Unpriced[0] != "canned air" {
		t.Errorf("without a price: %v", f.Upkeep.Unpriced)
	}
}

// TestAnHourEndsWithItsReading by hand: 500 h are read from day 0 to day 50, with 40 and 30 min of
// hands and 4.00 of parts; what was done behind the last reading is in the month, and in no hour.
func TestAnHourEndsWithItsReading(t *testing.T) {
	j, procs := sample()
	j.on(10, append(closed(40, 0), used("wiper", 1))...)
	j.on(50, reading(1000))
	j.on(50, closed(30, 0)...)
	j.on(50.2, append(closed(95, 0), used("wiper", 2), swapped("blade"))...)
	f := j.figures(t, procs, 50.5, map[string]float64{"wiper": 4})
	if oct := f.Months[2]; oct.Hands != 125 || oct.Used["wiper"] != 2 || *oct.Cost != 8 {
		t.Errorf("October: %+v", oct)
	}
	u := f.Upkeep
	near(t, *u.Minutes, 70.0/500)
	near(t, *u.Cost, 4.0/500)
	if len(u.Unpriced) > 0 || !u.From.Equal(j.zero) || !u.To.Equal(j.zero.AddDate(0, 0, 50)) {
		t.Errorf("%+v", u)
	}
	if w := u.Words("EUR"); w[len(w)-1] !=
		"over 500 h, 2026-09-01 to the reading of 2026-10-21" {
		t.Errorf("%q", w)
	}
}

// TestTheSameSumEveryTime: cents that add up to a half are rounded one way, in whatever order the
// entries came.
func TestTheSameSumEveryTime(t *testing.T) {
	j, procs := sample()
	prices := map[string]float64{}
	for i, part := range model.SupplyNames {
		j.on(2+float64(i)/100, used(part, 1+float64(i)/10))
		prices[part] = 0.105 + float64(i)/1000
	}
	first := *j.figures(t, procs, 5, prices).Months[2].Cost
	for range 50 {
		if again := *j.figures(t, procs, 5, prices).Months[2].Cost; again != first {
			t.Fatalf("%.17g and %.17g", first, again)
		}
	}
}

// TestCareInTime: of the rods' band of 200 to 300 h, 250 h is in time and 310 h is not; what was
// told from memory does not count; what is past now is told.
func TestCareInTime(t *testing.T) {
	j, procs := sample()
	j.on(25, reading(750), cared("rods-wipe"))
	j.on(56, reading(1060), cared("rods-wipe"))
	memory := cared("rods-wipe")
	memory.Care.Memory = true
	j.on(57, memory)
	j.on(88, reading(1380))
	f := j.figures(t, procs, 89, nil)
	if f.Done != 2 || f.InTime != 1 || f.Past != 1 {
		t.Errorf("%d of %d in time, %d past", f.InTime, f.Done, f.Past)
	}
}

// TestFailuresBesideCare by hand: care at 700 h and 900 h, the record from 500 h to 1,000 h.
// Before: 600 to 700 and 800 to 900; after: 700 to 800 and 900 to 1,000.
func TestFailuresBesideCare(t *testing.T) {
	j, procs := sample()
	j.on(5, failedBy("layer-shift", "")) // 550 h: nearer to nothing
	for _, d := range []float64{11, 12, 13, 14, 15, 16, 17, 18, 19, 31, 32, 33, 34, 35, 36} {
		j.on(d, failedBy("layer-shift", ""))
	}
	j.on(20, cared("rods-wipe"))
	j.on(21, failedBy("layer-shift", ""))
	j.on(22, failedBy("warping", ""))
	j.on(40, cared("rods-wipe"))
	j.on(45, failedBy("", "the power went"))
	j.on(50, reading(1000))
	j.on(50.2, failedBy("layer-shift", ""))
	f := j.figures(t, procs, 50.5, nil)
	if len(f.Pays) != 1 { // no session was closed
		t.Fatalf("%+v", f.Pays)
	}
	p := f.Pays[0]
	if p.Times != 2 || p.Before.Times != 15 || p.After.Times != 1 || p.Shown != Fewer {
		t.Errorf("%+v", p)
	}
	near(t, p.Before.Hours, 200)
	near(t, p.After.Hours, 200)
	low, high := Poisson(15, 0.95) // 8.40 to 24.74
	near(t, *p.Before.Per100, 7.5)
	near(t, *p.Before.Low, low/2)
	near(t, *p.Before.High, high/2)
	if f.Late != 1 || f.Failing.Times != 19 || f.Failing.Hours != 500 {
		t.Errorf("%d after the last reading, %+v", f.Late, f.Failing)
	}
	if len(f.Failed) != 3 || f.Failed[0].Symptom != "layer-shift" || f.Failed[0].Times != 18 ||
		f.Failed[2].Notes[0] != "the power went" {
		t.Errorf("%+v", f.Failed)
	}
}

// TestOverlapShowsNothing: 4 beside 1 in as many hours may be chance.
func TestOverlapShowsNothing(t *testing.T) {
	j, procs := sample()
	for _, d := range []float64{12, 13, 14, 15, 21} {
		j.on(d, failedBy("layer-shift", ""))
	}
	j.on(20, cared("rods-wipe"))
	j.on(50, reading(1000))
	if f := j.figures(t, procs, 50, nil); f.Pays[0].Before.Times != 4 ||
		f.Pays[0].After.Times != 1 ||
		f.Pays[0].Shown != NotShown {
		t.Errorf("%+v", f.Pays)
	}
}

// TestStopsAndStrikes: a stop counts with its words; what was struck does not.
func TestStopsAndStrikes(t *testing.T) {
	j, procs := sample()
	stop := func(text string) model.Fact {
		return model.Fact{Kind: model.KindFinding,
			Finding: &model.Found{Kind: model.FoundStop, Text: text, Procedure: "cold-look"}}
	}
	j.on(3, stop("brown plug"))
	j.on(4, stop("wrong machine"), failedBy("warping", ""), cared("rods-wipe"), swapped("blade"))
	j.on(5, model.Fact{Kind: model.KindStrike,
		Strike: &model.Strike{Action: j.entries[4].Action, Why: "other machine"}})
	j.on(9, reading(590))
	f := j.figures(t, procs, 10, nil)
	if len(f.Stops) != 1 || f.Stops[0].Text != "brown plug" ||
		f.Stops[0].Procedure != "cold-look" ||
		f.Months[2].Stops != 1 || f.Months[2].Failed != 0 || f.Months[2].Renewed != 0 ||
		f.Done != 0 {
		t.Errorf("%+v", f)
	}
}

// TestWithoutHours: nothing is said per hour where no hours were read.
func TestWithoutHours(t *testing.T) {
	j := &journal{zero: time.Date(2026, 9, 1, 0, 0, 0, 0, time.UTC)}
	j.on(0, model.Fact{Kind: model.KindMachine, Machine: &model.MachineFact{ID: "m", Name: "Knot"}})
	j.on(1, append(closed(10, 0), failedBy("warping", ""))...)
	f := j.figures(t, nil, 2, map[string]float64{"wiper": 4})
	if f.Upkeep.Minutes != nil || f.Upkeep.Cost != nil || f.Failing.Per100 != nil || f.Late != 0 ||
		len(f.Pays) != 0 || f.Months[2].Hands != 10 || f.Months[2].Failed != 1 {
		t.Errorf("%+v", f)
	}
}

// TestCanTell: in as many hours on both sides 9 beside none are told apart and 8 are not, for 4.12 is
// above 3.69 and 3.45 is below it (the table above).
func TestCanTell(t *testing.T) {
	for n, want := range map[int]bool{8: false, 9: true} {
		p := Pays{Before: rate(n-2, 100), After: rate(2, 100)}
		if p.CanTell() != want {
			t.Errorf("%d failures: %v", n, p.CanTell())
		}
	}
	told, few := Told([]Pays{{Title: "wash", Before: rate(9, 100), After: rate(0, 100)},
		{Title: "oil", Before: rate(1, 100), After: rate(1, 100)}})
	if len(told) != 1 || few != "too few failures yet to tell: oil 2" {
		t.Errorf("%v, %q", told, few)
	}
}
