package model

import (
	"encoding/json"
	"fmt"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"
)

var gaugeNow = time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)

func ago(days float64) time.Time {
	return gaugeNow.Add(-time.Duration(days * 24 * float64(time.Hour)))
}

// series makes a meter's readings: one a day, growing evenly to value at last days ago, over span
// days.
func series(value, perDay float64, lastAgo, span int) *Series {
	s := &Series{}
	for d := span; d >= 0; d-- {
		p := Point{ago(float64(lastAgo + d)), value - perDay*float64(d)}
		if s.N == 0 {
			s.First = p
		}
		s.Last, s.Days, s.N = p, append(s.Days, p), s.N+1
	}
	return s
}

func done(days float64, base map[Meter]float64) *CareLast {
	return &CareLast{At: ago(days), Known: true, Base: base, Times: 1}
}

// daysCare is a procedure on the calendar: 30 days at home, 14 in production (common practice).
func daysCare() *Procedure {
	return &Procedure{ID: "fans-blow", Title: "Blow out the fans", Kind: Care,
		Intervals: []Interval{
			{Meter: Days, Low: 30, High: 37.5, Production: &Band{Low: 14, High: 17.5},
				Basis: "common practice"},
			{Meter: Hours, Low: 200, High: 250, Basis: "from memory"},
		}}
}

// cutsCare is the blade by cuts: 3 000 to 5 000 (common practice).
func cutsCare() *Procedure {
	return &Procedure{ID: "blade-check", Title: "Check the cutter blade", Part: "blade", Kind: Swap,
		Needs:     []Feature{"cutter"},
		Intervals: []Interval{{Meter: Cuts, Low: 3000, High: 5000, Basis: "common practice"}}}
}

func machine() *Machine {
	return &Machine{MachineFact: MachineFact{ID: "heron", Name: "Heron", Duty: Home,
		Features: []Feature{"cutter"}},
		Readings: map[Meter]*Series{}, Care: map[string]*CareLast{}, Due: map[string]FallsDue{}, DueAt: map[string]time.Time{}}
}

func TestGaugeFitsAndShares(t *testing.T) {
	lens := &Procedure{ID: "layer-lens-clean", Kind: Care, Intervals: []Interval{
		{Meter: Days, Low: 30, High: 37.5, Basis: "common practice"},
		{Meter: Days, Low: 3, High: 5, Basis: "common practice", When: &When{StyrenicHours, 0.5}},
	}}
	cases := []struct {
		name     string
		styrenic *Series
		want     GaugeWord
	}{
		{"never read", nil, WordFresh},
		{"a third of the hours", series(100, 2, 0, 60), WordFresh},
		{"two thirds of the hours", series(400, 4, 0, 60), WordDue},
		{"two thirds, but long ago", series(400, 4, 31, 60), WordFresh},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			m := machine()
			m.Readings[Hours] = series(1000, 6, 0, 60)
			if c.styrenic != nil {
				m.Readings[StyrenicHours] = c.styrenic
			}
			m.Care[lens.ID] = done(4, nil)
			if g := Gauges(m, []*Procedure{lens}, gaugeNow); len(g) != 1 || g[0].Word != c.want {
				t.Errorf("got %+v, want %s", g, c.want)
			}
		})
	}
	m := machine()
	m.Features = nil
	if g := Gauges(m, []*Procedure{cutsCare()}, gaugeNow); len(g) != 0 {
		t.Errorf("a machine without a cutter has the gauge %+v", g)
	}
	m.Retired = true
	if g := Gauges(m, []*Procedure{daysCare()}, gaugeNow); len(g) != 0 {
		t.Errorf("a retired machine has the gauge %+v", g)
	}
}

func TestOwnBandReplacesTheFirstIntervalOnly(t *testing.T) {
	p := daysCare()
	m := machine()
	m.Bands = map[string]Band{p.ID: {Low: 10, High: 12}}
	m.Readings[Hours] = series(1000, 1, 0, 60)
	m.Care[p.ID] = done(11, map[Meter]float64{Hours: 989})
	g := Gauges(m, []*Procedure{p}, gaugeNow)[0]
	if g.Meter != Days || g.Word != WordDue || g.Basis != "own record" {
		t.Errorf("got %+v, want due by the own band of 10 days", g)
	}
	if got := OwnBandMeter(p, FeatureSet{}, nil); got != Days {
		t.Errorf("own band is in %q, want days", got)
	}
}

func TestGaugeOrderPreselectDue(t *testing.T) {
	m := machine()
	var procs []*Procedure
	add := func(id string, days float64) {
		procs = append(procs,
			&Procedure{ID: id, Kind: Care, Intervals: []Interval{{Meter: Days, Low: 10, High: 20}}})
		if days >= 0 {
			m.Care[id] = done(days, nil)
		}
	}
	add("fresh", 3)
	add("b-due", 12)
	add("unknown", -1)
	add("wearing", 9)
	add("a-due", 12)
	add("past", 21)
	add("due-more", 15)
	gs := Gauges(m, procs, gaugeNow)
	var ids []string
	for _, g := range gs {
		ids = append(ids, g.Item)
	}
	if want := []string{"past", "due-more", "a-due", "b-due", "unknown", "wearing",
		"fresh"}; !reflect.DeepEqual(ids, want) {
		t.Errorf("order %v, want %v", ids, want)
	}
	if got, want := Preselect(gs), ids[:5]; !reflect.DeepEqual(got, want) {
		t.Errorf("preselected %v, want %v", got, want)
	}
	for i, g := range gs { // as the calendar dates them
		if g.Measured {
			low := ago(g.Used - g.Low)
			gs[i].DueLow = &low
		}
	}
	for within, want := range map[time.Duration]int{0: 5, 24 * time.Hour: 6,
		14 * 24 * time.Hour: 7} {
		if got := Due(gs, within, gaugeNow); len(got) != want {
			t.Errorf("due within %v: %d, want %d", within, len(got), want)
		}
	}
}

func TestGaugeJSON(t *testing.T) {
	m := machine()
	m.Care["fans-blow"] = done(6, nil)
	for name, g := range map[string]Gauge{
		"dated": Gauges(m, []*Procedure{daysCare()}, gaugeNow)[0],
		"bare":  {},
	} {
		b, err := json.Marshal(g)
		if err != nil {
			t.Fatal(err)
		}
		var keys map[string]any
		if err := json.Unmarshal(b, &keys); err != nil {
			t.Fatal(err)
		}
		// the stable keys of a gauges row
		want := []string{"machine", "item", "condition", "meter", "used", "low", "high", "fraction",
			"basis", "due_low", "due_mid", "due_high", "care", "estimated", "forecast"}
		for _, k := range want {
			if _, ok := keys[k]; !ok {
				t.Errorf("%s: no key %s in %s", name, k, b)
			}
		}
		if len(keys) != len(want) {
			t.Errorf("%s: keys beyond the stable ones in %s", name, b)
		}
	}
}

// Doing the work never makes a gauge worse, and time alone never makes one better.
func TestGaugeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := machine()
		m.Readings[Hours] = series(rapid.Float64Range(100, 5000).Draw(t, "hours"),
			rapid.Float64Range(0, 24).Draw(t, "pace"), 0, 60)
		m.Rested = rapid.Float64Range(0, 50).Draw(t, "rested")
		m.Duty = rapid.SampledFrom([]Duty{Home, Production}).Draw(t, "duty")
		p := daysCare()
		m.Care[p.ID] = &CareLast{At: ago(rapid.Float64Range(0, 400).Draw(t, "ago")), Known: true,
			Base: map[Meter]float64{Hours: rapid.Float64Range(0, 5000).Draw(t, "base")}}
		before := Gauges(m, []*Procedure{p}, gaugeNow)[0]
		later := Gauges(m, []*Procedure{p},
			gaugeNow.AddDate(0, 0, rapid.IntRange(0, 100).Draw(t, "later")))[0]
		if before.Used < 0 || before.Fraction != before.Used/before.Low ||
			wordFor(before.Used, before.Low, before.High) != before.Word {
			t.Fatalf("%+v does not agree with itself", before)
		}
		if later.Word.Rank() > before.Word.Rank() {
			t.Fatalf("time made it better: %+v then %+v", before, later)
		}
		m.Care[p.ID] = &CareLast{At: gaugeNow, Known: true, Rested: m.Rested,
			Base: map[Meter]float64{Hours: m.Readings[Hours].Last.Value}}
		if after := Gauges(m, []*Procedure{p}, gaugeNow)[0]; after.Used != 0 ||
			after.Word != WordFresh {
			t.Fatalf("done just now and still %+v", after)
		}
	})
}

func TestUnreadMeterIsNotPreselected(t *testing.T) {
	m := machine()
	never := Gauges(m, []*Procedure{cutsCare()}, gaugeNow)
	m.Care["blade-check"] = done(5, nil)
	unread := Gauges(m, []*Procedure{cutsCare()}, gaugeNow)
	m.Readings[Changes] = series(900, 10, 0, 3)
	before := Gauges(m, []*Procedure{cutsCare()}, gaugeNow)
	for _, c := range []struct {
		name string
		gs   []Gauge
		want int
	}{
		{"never done, never read", never, 1},
		{"done, never read: only typing helps", unread, 0},
		{"done before the first reading: doing it again helps", before, 1},
	} {
		if got := len(Preselect(c.gs)); got != c.want || len(Due(c.gs, 0, gaugeNow)) != c.want ||
			c.gs[0].Word != WordUnknown {
			t.Errorf("%s: %d preselected, want %d: %+v", c.name, got, c.want, c.gs)
		}
	}
}

func TestWhenTextFarAway(t *testing.T) {
	for days, want := range map[int]string{1: "2026-11-26", 299: "2027-09-20", 900: "2029-05-13"} {
		at := gaugeNow.AddDate(0, 0, days)
		if got := (Gauge{Word: WordFresh, DueLow: &at}).WhenText(gaugeNow); got != want {
			t.Errorf("%d days: %q, want %q", days, got, want)
		}
	}
}

func TestNumber(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 999: "999", 1000: "1 000", 2410: "2 410",
		1234567: "1 234 567",
		6.54:    "6.5", 112.5: "112.5", -1500: "-1 500", 999.96: "1 000"} {
		if got := Number(v); got != want {
			t.Errorf("Number(%v) = %q, want %q", v, got, want)
		}
	}
}

// Measured on two shared cores (Go 1.26, 2026-11-25), other work running: all gauges of 24
// machines: 3 ms.
func BenchmarkGauges24Machines(b *testing.B) {
	var procs []*Procedure
	for i := range 58 {
		p := daysCare()
		p.ID = fmt.Sprintf("care-%02d", i)
		procs = append(procs, p)
	}
	var ms []*Machine
	for range 24 {
		m := machine()
		m.Readings[Hours] = series(3000, 8, 0, 399)
		for i, p := range procs {
			m.Care[p.ID] = done(float64(i), map[Meter]float64{Hours: 2900})
		}
		ms = append(ms, m)
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, m := range ms {
			Gauges(m, procs, gaugeNow)
		}
	}
}
