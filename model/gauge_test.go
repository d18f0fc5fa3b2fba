package model

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"
)

var gaugeNow = time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)

func ago(days float64) time.Time {
	return gaugeNow.Add(-time.Duration(days * 24 * float64(time.Hour)))
}

// series makes a meter's readings: one a day, growing evenly to value at last days ago, over span days.
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
	return &Procedure{ID: "fans-blow", Title: "Blow out the fans", Kind: Care, Intervals: []Interval{
		{Meter: Days, Low: 30, High: 37.5, Production: &Band{14, 17.5}, Basis: "common practice"},
		{Meter: Hours, Low: 200, High: 250, Basis: "from memory"},
	}}
}

// cutsCare is the blade by cuts: 3,000 to 5,000 (common practice).
func cutsCare() *Procedure {
	return &Procedure{ID: "blade-check", Title: "Check the cutter blade", Part: "blade", Kind: Swap,
		Needs:     []Feature{"cutter"},
		Intervals: []Interval{{Meter: Cuts, Low: 3000, High: 5000, Basis: "common practice"}}}
}

func machine() *Machine {
	return &Machine{MachineFact: MachineFact{ID: "heron", Name: "Heron", Duty: Home, Features: []Feature{"cutter"}},
		Readings: map[Meter]*Series{}, Care: map[string]*CareLast{}, Due: map[string]FallsDue{}, DueAt: map[string]time.Time{}}
}

func TestGaugeConditions(t *testing.T) {
	type want struct {
		word     GaugeWord
		meter    Meter
		fraction float64
		used     string
		when     string
		why      string
		basis    string
	}
	cases := []struct {
		name string
		proc *Procedure
		set  func(m *Machine)
		want want
	}{
		{"never done, nobody knows", daysCare(), func(m *Machine) {},
			want{WordUnknown, Days, 0, "not known", "", "last time not known", "common practice"}},
		{"asked, and not known", daysCare(), func(m *Machine) { m.Care["fans-blow"] = &CareLast{} },
			want{WordUnknown, Days, 0, "not known", "", "last time not known", "common practice"}},
		{"fresh by the calendar", daysCare(), func(m *Machine) { m.Care["fans-blow"] = done(6, nil) },
			want{WordFresh, Days, 0.2, "6 of 30 days", "19 Dec", "", "common practice"}},
		{"wearing from 0.8", daysCare(), func(m *Machine) { m.Care["fans-blow"] = done(24, nil) },
			want{WordWearing, Days, 0.8, "24 of 30 days", "1 Dec", "", "common practice"}},
		{"due at the low end exactly", daysCare(), func(m *Machine) { m.Care["fans-blow"] = done(30, nil) },
			want{WordDue, Days, 1, "30 of 30–37.5 days", "now", "", "common practice"}},
		{"still due at the high end exactly", daysCare(), func(m *Machine) { m.Care["fans-blow"] = done(37.5, nil) },
			want{WordDue, Days, 1.25, "37 of 30–37.5 days", "now", "", "common practice"}},
		{"past over the high end", daysCare(), func(m *Machine) { m.Care["fans-blow"] = done(50, nil) },
			want{WordPast, Days, 50. / 30, "50 of 37.5 days", "12 d ago", "", "common practice"}},
		{"production shortens the calendar", daysCare(), func(m *Machine) {
			m.Duty, m.Care["fans-blow"] = Production, done(15, nil)
		}, want{WordDue, Days, 15. / 14, "15 of 14–17.5 days", "now", "", "common practice"}},
		{"the use meter governs where it is worse", daysCare(), func(m *Machine) {
			m.Readings[Hours] = series(1210, 10, 0, 90)
			m.Care["fans-blow"] = done(20, map[Meter]float64{Hours: 1010})
		}, want{WordDue, Hours, 1, "200 of 200–250 h", "now", "", "from memory"}},
		{"duty leaves the use meter alone", daysCare(), func(m *Machine) {
			m.Duty = Production
			m.Readings[Hours] = series(1180, 50, 0, 90)
			m.Care["fans-blow"] = done(3, map[Meter]float64{Hours: 1010})
		}, want{WordWearing, Hours, 0.85, "170 of 200 h", "25 Nov", "", "from memory"}},
		{"same word: the greater fraction governs", daysCare(), func(m *Machine) {
			m.Readings[Hours] = series(1100, 5, 0, 90)
			m.Care["fans-blow"] = done(6, map[Meter]float64{Hours: 1000})
		}, want{WordFresh, Hours, 0.5, "100 of 200 h", "15 Dec", "", "from memory"}},
		{"cuts are changes and starts", cutsCare(), func(m *Machine) {
			m.Readings[Changes], m.Readings[Starts] = series(9000, 100, 0, 90), series(500, 2, 0, 90)
			m.Care["blade-check"] = done(25, map[Meter]float64{Changes: 6500, Starts: 450})
		}, want{WordWearing, Cuts, 0.85, "2,550 of 3,000", "29 Nov", "", "common practice"}},
		{"cuts without starts say so", cutsCare(), func(m *Machine) {
			m.Readings[Changes] = series(9000, 100, 0, 90)
			m.Care["blade-check"] = done(25, map[Meter]float64{Changes: 6500})
		}, want{WordWearing, Cuts, 2500. / 3000, "2,500 of 3,000", "30 Nov", "without starts", "common practice"}},
		{"a meter never read", cutsCare(), func(m *Machine) { m.Care["blade-check"] = done(25, nil) },
			want{WordUnknown, Cuts, 0, "changes never read", "", "changes never read", "common practice"}},
		{"the last reading is held", cutsCare(), func(m *Machine) {
			m.Readings[Changes] = series(7000, 10, 30, 90)
			m.Care["blade-check"] = done(60, map[Meter]float64{Changes: 6700})
		}, want{WordFresh, Cuts, 0.1, "300 of 3,000", "23 Jul", "without starts", "common practice"}},
		{"never below nothing", cutsCare(), func(m *Machine) {
			m.Readings[Changes] = series(50, 1, 0, 20)
			m.Care["blade-check"] = done(25, map[Meter]float64{Changes: 6700})
		}, want{WordFresh, Cuts, 0, "0 of 3,000", "", "without starts", "common practice"}},
		{"an own band", cutsCare(), func(m *Machine) {
			m.Bands = map[string]Band{"blade-check": {2000, 3500}}
			m.Readings[Changes] = series(9000, 100, 0, 90)
			m.Care["blade-check"] = done(25, map[Meter]float64{Changes: 6500})
		}, want{WordDue, Cuts, 1.25, "2,500 of 2,000–3,500", "now", "without starts", "own record"}},
		{"out of use: the calendar waits", daysCare(), func(m *Machine) {
			m.OutOfUse, m.Since, m.Care["fans-blow"] = true, ago(40), done(46, nil)
		}, want{WordFresh, Days, 0.2, "6 of 30 days", "", "", "common practice"}},
		{"done while out of use", daysCare(), func(m *Machine) {
			m.OutOfUse, m.Since, m.Rested = true, ago(40), 5
			m.Care["fans-blow"] = &CareLast{At: ago(10), Known: true, Rested: 35}
		}, want{WordFresh, Days, 0, "0 of 30 days", "", "", "common practice"}},
		{"back in use: the rest is taken off", daysCare(), func(m *Machine) {
			m.Rested = 45
			m.Care["fans-blow"] = &CareLast{At: ago(46), Known: true, Rested: 5}
		}, want{WordFresh, Days, 0.2, "6 of 30 days", "19 Dec", "", "common practice"}},
		{"due by a finding", daysCare(), func(m *Machine) {
			m.Care["fans-blow"] = done(6, nil)
			m.Due["fans-blow"], m.DueAt["fans-blow"] = FallsDue{Procedure: "fans-blow", Because: "dust seen"}, ago(1)
		}, want{WordDue, Days, 0.2, "6 of 30 days", "now", "dust seen", "common practice"}},
		{"a finding before the last time is settled by it", daysCare(), func(m *Machine) {
			m.Care["fans-blow"] = done(6, nil)
			m.Due["fans-blow"], m.DueAt["fans-blow"] = FallsDue{Procedure: "fans-blow"}, ago(9)
		}, want{WordFresh, Days, 0.2, "6 of 30 days", "19 Dec", "", "common practice"}},
		{"a finding is worth more than not knowing", daysCare(), func(m *Machine) {
			m.Due["fans-blow"], m.DueAt["fans-blow"] = FallsDue{Procedure: "fans-blow"}, ago(9)
		}, want{WordDue, Days, 0, "by a finding", "now", "by a finding", "common practice"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			m := machine()
			c.set(m)
			gs := Gauges(m, []*Procedure{c.proc}, gaugeNow)
			if len(gs) != 1 {
				t.Fatalf("%d gauges, want 1", len(gs))
			}
			g := gs[0]
			got := want{g.Word, g.Meter, g.Fraction, g.UsedText(), g.WhenText(gaugeNow), g.Why, g.Basis}
			if math.Abs(got.fraction-c.want.fraction) < 1e-9 {
				got.fraction = c.want.fraction
			}
			if got != c.want {
				t.Errorf("got  %+v\nwant %+v", got, c.want)
			}
		})
	}
}

func TestGaugeTriggersAndOneOffs(t *testing.T) {
	check := &Procedure{ID: "self-check", Kind: Proof, Triggers: []Trigger{{Done: []string{"belts-reset", "rods-wipe"}}},
		Intervals: []Interval{{Meter: Days, Low: 30, High: 37.5, Basis: "from memory"}}}
	only := &Procedure{ID: "belts-reset", Kind: Care, Triggers: []Trigger{{Done: []string{"rods-wipe"}}}}
	nip := &Procedure{ID: "renip", Kind: Care, Triggers: []Trigger{{Done: []string{"frame-screws", "belts-reset"}}},
		Intervals: []Interval{{Meter: Hours, Low: 20, High: 25, Basis: "from memory", Once: true}}}
	first := &Procedure{ID: "frame-screws", Kind: Care,
		Intervals: []Interval{{Meter: Hours, Low: 50, High: 100, Basis: "from memory", Once: true}}}
	hours := func(m *Machine, value float64) { m.Readings[Hours] = series(value, 2, 0, 20) }
	cases := []struct {
		name string
		proc *Procedure
		set  func(m *Machine)
		want string // word, used text, why; "" for no gauge
	}{
		{"not triggered", check, func(m *Machine) {
			m.Care["self-check"], m.Care["belts-reset"] = done(3, nil), done(4, nil)
		}, "fresh/3 of 30 days/"},
		{"same moment is not later", check, func(m *Machine) {
			m.Care["self-check"], m.Care["belts-reset"] = done(3, nil), done(3, nil)
		}, "fresh/3 of 30 days/"},
		{"done after", check, func(m *Machine) {
			m.Care["self-check"], m.Care["belts-reset"], m.Care["rods-wipe"] = done(3, nil), done(2, nil), done(1, nil)
		}, "due/3 of 30 days/after rods-wipe"},
		{"past stays past", check, func(m *Machine) {
			m.Care["self-check"], m.Care["belts-reset"] = done(60, nil), done(2, nil)
		}, "past/60 of 37.5 days/"},
		{"trigger alone, nothing done", only, func(m *Machine) {}, ""},
		{"trigger alone, done before it", only, func(m *Machine) { m.Care["rods-wipe"] = done(2, nil) },
			"due/after rods-wipe/after rods-wipe"},
		{"told from memory sets off nothing", only, func(m *Machine) {
			m.Care["rods-wipe"] = &CareLast{At: ago(2), Known: true, Memory: true}
		}, ""},
		{"one-off waits for its trigger", nip, func(m *Machine) { hours(m, 500) }, ""},
		{"one-off counts from its trigger", nip, func(m *Machine) {
			hours(m, 500)
			m.Care["frame-screws"] = done(4, map[Meter]float64{Hours: 492})
		}, "fresh/8 of 20 h/after frame-screws"},
		{"one-off: the worst trigger governs", nip, func(m *Machine) {
			hours(m, 500)
			m.Care["frame-screws"] = done(4, map[Meter]float64{Hours: 492})
			m.Care["belts-reset"] = done(9, map[Meter]float64{Hours: 479})
		}, "due/21 of 20–25 h/after belts-reset"},
		{"one-off is over when done", nip, func(m *Machine) {
			hours(m, 500)
			m.Care["frame-screws"] = done(4, map[Meter]float64{Hours: 492})
			m.Care["renip"] = done(1, map[Meter]float64{Hours: 498})
		}, ""},
		{"first hours of a new machine", first, func(m *Machine) { hours(m, 60) }, "due/60 of 50–100 h/first time"},
		{"first hours long gone unseen", first, func(m *Machine) { hours(m, 3000) }, ""},
		{"first hours done", first, func(m *Machine) {
			hours(m, 60)
			m.Care["frame-screws"] = done(1, nil)
		}, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			m := machine()
			c.set(m)
			got := ""
			for _, g := range Gauges(m, []*Procedure{c.proc}, gaugeNow) {
				got += fmt.Sprintf("%s/%s/%s", g.Word, g.UsedText(), g.Why)
			}
			if got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
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
	m.Bands = map[string]Band{p.ID: {10, 12}}
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
		procs = append(procs, &Procedure{ID: id, Kind: Care, Intervals: []Interval{{Meter: Days, Low: 10, High: 20}}})
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
	if want := []string{"past", "due-more", "a-due", "b-due", "unknown", "wearing", "fresh"}; !reflect.DeepEqual(ids, want) {
		t.Errorf("order %v, want %v", ids, want)
	}
	if got, want := Preselect(gs), ids[:5]; !reflect.DeepEqual(got, want) {
		t.Errorf("preselected %v, want %v", got, want)
	}
	for within, want := range map[time.Duration]int{0: 5, 24 * time.Hour: 6, 14 * 24 * time.Hour: 7} {
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
		want := []string{"machine", "item", "condition", "meter", "used", "low", "high", "fraction", "basis", "due_low", "due_mid", "due_high"}
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

func TestGaugeAheadAndDates(t *testing.T) {
	m := machine()
	m.Readings[Changes] = series(9000, 100, 0, 90)
	m.Care["blade-check"] = done(20, map[Meter]float64{Changes: 7000})
	g := Gauges(m, []*Procedure{cutsCare()}, gaugeNow)[0]
	for i, want := range []time.Time{ago(-10), ago(-20), ago(-30)} { // 100 a day from 2,000 to 3,000, 4,000, 5,000
		got := []*time.Time{g.DueLow, g.DueMid, g.DueHigh}[i]
		if got == nil || got.Sub(want).Abs() > time.Second {
			t.Errorf("date %d is %v, want %v", i, got, want)
		}
	}
	for days, want := range map[float64]float64{-1: 2000, 0: 2000, 5: 2500, 15: 3500, 40: 6000} {
		if got := g.Ahead(gaugeNow, ago(-days)); math.Abs(got-want) > 0.01 {
			t.Errorf("ahead %v days: %v, want %v", days, got, want)
		}
	}
	if got := g.WhenLong(gaugeNow); got != "2026-12-05" {
		t.Errorf("long date %q", got)
	}
}

// Doing the work never makes a gauge worse, and time alone never makes one better.
func TestGaugeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := machine()
		m.Readings[Hours] = series(rapid.Float64Range(100, 5000).Draw(t, "hours"), rapid.Float64Range(0, 24).Draw(t, "pace"), 0, 60)
		m.Rested = rapid.Float64Range(0, 50).Draw(t, "rested")
		m.Duty = rapid.SampledFrom([]Duty{Home, Production}).Draw(t, "duty")
		p := daysCare()
		m.Care[p.ID] = &CareLast{At: ago(rapid.Float64Range(0, 400).Draw(t, "ago")), Known: true,
			Base: map[Meter]float64{Hours: rapid.Float64Range(0, 5000).Draw(t, "base")}}
		before := Gauges(m, []*Procedure{p}, gaugeNow)[0]
		later := Gauges(m, []*Procedure{p}, gaugeNow.AddDate(0, 0, rapid.IntRange(0, 100).Draw(t, "later")))[0]
		if before.Used < 0 || before.Fraction != before.Used/before.Low || wordFor(before.Used, before.Low, before.High) != before.Word {
			t.Fatalf("%+v does not agree with itself", before)
		}
		if later.Word.Rank() > before.Word.Rank() {
			t.Fatalf("time made it better: %+v then %+v", before, later)
		}
		m.Care[p.ID] = &CareLast{At: gaugeNow, Known: true, Rested: m.Rested, Base: map[Meter]float64{Hours: m.Readings[Hours].Last.Value}}
		if after := Gauges(m, []*Procedure{p}, gaugeNow)[0]; after.Used != 0 || after.Word != WordFresh {
			t.Fatalf("done just now and still %+v", after)
		}
	})
}

func TestNumber(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 999: "999", 1000: "1,000", 2410: "2,410", 1234567: "1,234,567",
		6.54: "6.5", 112.5: "112.5", -1500: "-1,500", 999.96: "1,000"} {
		if got := Number(v); got != want {
			t.Errorf("Number(%v) = %q, want %q", v, got, want)
		}
	}
}

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
