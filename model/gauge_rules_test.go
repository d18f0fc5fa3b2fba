package model

import (
	"fmt"
	"math"
	"testing"
)

type gaugeWant struct {
	word     GaugeWord
	meter    Meter
	fraction float64
	used     string
	when     string // without dates, which the package life sets
	why      string
	basis    string
}

var gaugeCases = []struct {
	name string
	proc *Procedure
	set  func(m *Machine)
	want gaugeWant
}{
	{"never done, nobody knows", daysCare(), func(m *Machine) {},
		gaugeWant{WordUnknown, Days, 0, "not known", "", "last time not known", "common practice"}},
	{"asked, and not known", daysCare(), func(m *Machine) { m.Care["fans-blow"] = &CareLast{} },
		gaugeWant{WordUnknown, Days, 0, "not known", "", "last time not known", "common practice"}},
	{"no older than the machine", cutsCare(), func(m *Machine) {
		m.Readings[Changes] = series(1200, 10, 0, 20)
	},
		gaugeWant{WordFresh, Cuts, 0.4, "at most 1 200 of 3 000 cuts", "", "without starts",
			"common practice"}},
	{"the machine's age reaches the band", cutsCare(), func(m *Machine) {
		m.Readings[Changes] = series(3000, 10, 0, 20)
	},
		gaugeWant{WordUnknown, Cuts, 0, "not known", "", "last time not known", "common practice"}},
	{"a counter that was replaced tells no age", cutsCare(), func(m *Machine) {
		m.Recounts, m.Readings[Changes] = true, series(1200, 10, 0, 20)
	}, gaugeWant{WordUnknown, Cuts, 0, "not known", "", "last time not known", "common practice"}},
	{"no older by the day it was bought new", daysCare(), func(m *Machine) {
		m.Bought, m.Readings[Hours] = ago(6), series(10, 1, 0, 5)
	}, gaugeWant{WordFresh, Days, 0.2, "at most 6 of 30 days", "", "", "common practice"}},
	{"young by its hours, but for how long nobody knows", daysCare(), func(m *Machine) {
		m.Readings[Hours] = series(10, 1, 0, 5)
	},
		gaugeWant{WordUnknown, Days, 0, "not known", "", "last time not known", "common practice"}},
	{"original: the machine's age is its own", cutsCare(), func(m *Machine) {
		m.Care["blade-check"], m.Readings[Changes] = &CareLast{Known: true, Original: true}, series(
			3600, 10, 0, 20)
	}, gaugeWant{WordDue, Cuts, 1.2, "3 600 of 3 000–5 000 cuts", "now", "without starts",
		"common practice"}},
	{"original, on a day nobody knows", daysCare(), func(m *Machine) {
		m.Care["fans-blow"] = &CareLast{Known: true, Original: true}
	},
		gaugeWant{WordUnknown, Days, 0, "day it was bought not known", "",
			"day it was bought not known", "common practice"}},
	{"fresh by the calendar", daysCare(), func(m *Machine) { m.Care["fans-blow"] = done(6, nil) },
		gaugeWant{WordFresh, Days, 0.2, "6 of 30 days", "", "", "common practice"}},
	{"wearing from 0.8", daysCare(), func(m *Machine) { m.Care["fans-blow"] = done(24, nil) },
		gaugeWant{WordWearing, Days, 0.8, "24 of 30 days", "", "", "common practice"}},
	{"due at the low end exactly", daysCare(), func(m *Machine) {
		m.Care["fans-blow"] = done(30, nil)
	},
		gaugeWant{WordDue, Days, 1, "30 of 30–37.5 days", "now", "", "common practice"}},
	{"still due at the high end exactly", daysCare(), func(m *Machine) {
		m.Care["fans-blow"] = done(37.5, nil)
	},
		gaugeWant{WordDue, Days, 1.25, "37 of 30–37.5 days", "now", "", "common practice"}},
	{"past over the high end", daysCare(), func(m *Machine) { m.Care["fans-blow"] = done(50, nil) },
		gaugeWant{WordPast, Days, 50. / 30, "50 of 37.5 days", "now", "", "common practice"}},
	{"production shortens the calendar", daysCare(), func(m *Machine) {
		m.Duty, m.Care["fans-blow"] = Production, done(15, nil)
	}, gaugeWant{WordDue, Days, 15. / 14, "15 of 14–17.5 days", "now", "", "common practice"}},
	{"the use meter governs where it is worse", daysCare(), func(m *Machine) {
		m.Readings[Hours] = series(1210, 10, 0, 90)
		m.Care["fans-blow"] = done(20, map[Meter]float64{Hours: 1010})
	}, gaugeWant{WordDue, Hours, 1, "200 of 200–250 h", "now", "", "from memory"}},
	{"duty leaves the use meter alone", daysCare(), func(m *Machine) {
		m.Duty = Production
		m.Readings[Hours] = series(1180, 50, 0, 90)
		m.Care["fans-blow"] = done(3, map[Meter]float64{Hours: 1010})
	}, gaugeWant{WordWearing, Hours, 0.85, "170 of 200 h", "", "", "from memory"}},
	{"same word: the greater fraction governs", daysCare(), func(m *Machine) {
		m.Readings[Hours] = series(1100, 5, 0, 90)
		m.Care["fans-blow"] = done(6, map[Meter]float64{Hours: 1000})
	}, gaugeWant{WordFresh, Hours, 0.5, "100 of 200 h", "", "", "from memory"}},
	{"cuts are changes and starts", cutsCare(), func(m *Machine) {
		m.Readings[Changes], m.Readings[Starts] = series(9000, 100, 0, 90), series(500, 2, 0, 90)
		m.Care["blade-check"] = done(25, map[Meter]float64{Changes: 6500, Starts: 450})
	}, gaugeWant{WordWearing, Cuts, 0.85, "2 550 of 3 000 cuts", "", "", "common practice"}},
	{"cuts without starts say so", cutsCare(), func(m *Machine) {
		m.Readings[Changes] = series(9000, 100, 0, 90)
		m.Care["blade-check"] = done(25, map[Meter]float64{Changes: 6500})
	}, gaugeWant{WordWearing, Cuts, 2500. / 3000, "2 500 of 3 000 cuts", "", "without starts",
		"common practice"}},
	{"a meter never read", cutsCare(), func(m *Machine) { m.Care["blade-check"] = done(25, nil) },
		gaugeWant{WordUnknown, Cuts, 0, "changes never read", "", "changes never read",
			"common practice"}},
	{"the last reading is held", cutsCare(), func(m *Machine) {
		m.Readings[Changes] = series(7000, 10, 30, 90)
		m.Care["blade-check"] = done(60, map[Meter]float64{Changes: 6700})
	}, gaugeWant{WordFresh, Cuts, 0.1, "300 of 3 000 cuts", "", "without starts",
		"common practice"}},
	{"never below nothing", cutsCare(), func(m *Machine) {
		m.Readings[Changes] = series(50, 1, 0, 20)
		m.Care["blade-check"] = done(25, map[Meter]float64{Changes: 6700})
	}, gaugeWant{WordFresh, Cuts, 0, "0 of 3 000 cuts", "", "without starts", "common practice"}},
	{"an own band", cutsCare(), func(m *Machine) {
		m.Bands = map[string]Band{"blade-check": {Low: 2000, High: 3500}}
		m.Readings[Changes] = series(9000, 100, 0, 90)
		m.Care["blade-check"] = done(25, map[Meter]float64{Changes: 6500})
	}, gaugeWant{WordDue, Cuts, 1.25, "2 500 of 2 000–3 500 cuts", "now", "without starts",
		"own record"}},
	{"out of use: the calendar waits", daysCare(), func(m *Machine) {
		m.OutOfUse, m.Since, m.Care["fans-blow"] = true, ago(40), done(46, nil)
	}, gaugeWant{WordFresh, Days, 0.2, "6 of 30 days", "", "", "common practice"}},
	{"done while out of use", daysCare(), func(m *Machine) {
		m.OutOfUse, m.Since, m.Rested = true, ago(40), 5
		m.Care["fans-blow"] = &CareLast{At: ago(10), Known: true, Rested: 35}
	}, gaugeWant{WordFresh, Days, 0, "0 of 30 days", "", "", "common practice"}},
	{"back in use: the rest is taken off", daysCare(), func(m *Machine) {
		m.Rested = 45
		m.Care["fans-blow"] = &CareLast{At: ago(46), Known: true, Rested: 5}
	}, gaugeWant{WordFresh, Days, 0.2, "6 of 30 days", "", "", "common practice"}},
	{"due by a finding", daysCare(), func(m *Machine) {
		m.Care["fans-blow"] = done(6, nil)
		m.Due["fans-blow"], m.DueAt["fans-blow"] = FallsDue{Procedure: "fans-blow",
			Because: "dust seen"}, ago(1)
	}, gaugeWant{WordDue, Days, 0.2, "6 of 30 days", "a finding", "dust seen", "common practice"}},
	{"a finding before the last time is settled by it", daysCare(), func(m *Machine) {
		m.Care["fans-blow"] = done(6, nil)
		m.Due["fans-blow"], m.DueAt["fans-blow"] = FallsDue{Procedure: "fans-blow"}, ago(9)
	}, gaugeWant{WordFresh, Days, 0.2, "6 of 30 days", "", "", "common practice"}},
	{"a finding is worth more than not knowing", daysCare(), func(m *Machine) {
		m.Due["fans-blow"], m.DueAt["fans-blow"] = FallsDue{Procedure: "fans-blow"}, ago(9)
	}, gaugeWant{WordDue, Days, 0, "by a finding", "a finding", "by a finding", "common practice"}},
}

func TestGaugeConditions(t *testing.T) {
	for _, c := range gaugeCases {
		t.Run(c.name, func(t *testing.T) {
			m := machine()
			c.set(m)
			gs := Gauges(m, []*Procedure{c.proc}, gaugeNow)
			if len(gs) != 1 {
				t.Fatalf("%d gauges, want 1", len(gs))
			}
			g := gs[0]
			got := gaugeWant{g.Word, g.Meter, g.Fraction, g.UsedText(), g.WhenText(gaugeNow),
				g.Why.String(), g.Basis}
			if math.Abs(got.fraction-c.want.fraction) < 1e-9 {
				got.fraction = c.want.fraction
			}
			if got != c.want {
				t.Errorf("got  %+v\nwant %+v", got, c.want)
			}
		})
	}
}

var (
	checkProc = &Procedure{ID: "self-check", Kind: Proof,
		Triggers:  []Trigger{{Done: []string{"belts-reset", "rods-wipe"}}},
		Intervals: []Interval{{Meter: Days, Low: 30, High: 37.5, Basis: "from memory"}}}
	onlyProc = &Procedure{ID: "belts-reset", Kind: Care,
		Triggers: []Trigger{{Done: []string{"rods-wipe"}}}}
	nipProc = &Procedure{ID: "renip", Kind: Care,
		Triggers:  []Trigger{{Done: []string{"frame-screws", "belts-reset"}}},
		Intervals: []Interval{{Meter: Hours, Low: 20, High: 25, Basis: "from memory", Once: true}}}
	firstProc = &Procedure{ID: "frame-screws", Kind: Care,
		Intervals: []Interval{{Meter: Hours, Low: 50, High: 100, Basis: "from memory", Once: true}}}
)

func readHours(m *Machine, value float64) { m.Readings[Hours] = series(value, 2, 0, 20) }

var triggerCases = []struct {
	name string
	proc *Procedure
	set  func(m *Machine)
	want string // word, used text, why; "" for no gauge
}{
	{"not triggered", checkProc, func(m *Machine) {
		m.Care["self-check"], m.Care["belts-reset"] = done(3, nil), done(4, nil)
	}, "fresh/3 of 30 days/"},
	{"same moment is not later", checkProc, func(m *Machine) {
		m.Care["self-check"], m.Care["belts-reset"] = done(3, nil), done(3, nil)
	}, "fresh/3 of 30 days/"},
	{"done after", checkProc, func(m *Machine) {
		m.Care["self-check"], m.Care["belts-reset"], m.Care["rods-wipe"] = done(3, nil), done(2,
			nil), done(1, nil)
	}, "due/3 of 30 days/after \"rods-wipe\""},
	{"past stays past", checkProc, func(m *Machine) {
		m.Care["self-check"], m.Care["belts-reset"] = done(60, nil), done(2, nil)
	}, "past/60 of 37.5 days/"},
	{"trigger alone, nothing done", onlyProc, func(m *Machine) {}, ""},
	{"trigger alone, done before it", onlyProc, func(m *Machine) {
		m.Care["rods-wipe"] = done(2, nil)
	},
		"due/after \"rods-wipe\"/after \"rods-wipe\""},
	{"told from memory sets off nothing", onlyProc, func(m *Machine) {
		m.Care["rods-wipe"] = &CareLast{At: ago(2), Known: true, Memory: true}
	}, ""},
	{"one-off waits for its trigger", nipProc, func(m *Machine) { readHours(m, 500) }, ""},
	{"one-off counts from its trigger", nipProc, func(m *Machine) {
		readHours(m, 500)
		m.Care["frame-screws"] = done(4, map[Meter]float64{Hours: 492})
	}, "fresh/8 of 20 h/after \"frame-screws\""},
	{"one-off: the worst trigger governs", nipProc, func(m *Machine) {
		readHours(m, 500)
		m.Care["frame-screws"] = done(4, map[Meter]float64{Hours: 492})
		m.Care["belts-reset"] = done(9, map[Meter]float64{Hours: 479})
	}, "due/21 of 20–25 h/after \"belts-reset\""},
	{"one-off is over when done", nipProc, func(m *Machine) {
		readHours(m, 500)
		m.Care["frame-screws"] = done(4, map[Meter]float64{Hours: 492})
		m.Care["renip"] = done(1, map[Meter]float64{Hours: 498})
	}, ""},
	{"first hours of a new machine", firstProc, func(m *Machine) { readHours(m, 60) },
		"due/60 of 50–100 h/first time"},
	{"first hours long gone unseen", firstProc, func(m *Machine) { readHours(m, 3000) }, ""},
	{"first hours done", firstProc, func(m *Machine) {
		readHours(m, 60)
		m.Care["frame-screws"] = done(1, nil)
	}, ""},
}

func TestGaugeTriggersAndOneOffs(t *testing.T) {
	for _, c := range triggerCases {
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

// Where the room is narrow the low end of the band is left out, never the unit.
func TestUsedWithin(t *testing.T) {
	g := Gauge{Meter: Changes, Measured: true, Word: WordDue, Used: 2100, Low: 2000, High: 2500}
	for n, want := range map[int]string{40: "2 100 of 2 000–2 500 changes",
		28: "2 100 of 2 000–2 500 changes", 23: "2 100 of 2 500 changes"} {
		if got := g.UsedWithin(n); got != want {
			t.Errorf("in %d cells %q, want %q", n, got, want)
		}
	}
	g.Used, g.Word = 1900, WordWearing
	if got := g.UsedWithin(23); got != "1 900 of 2 000 changes" {
		t.Errorf("below the band %q", got)
	}
}

func TestAmount(t *testing.T) {
	for want, got := range map[string]string{"1 start": Starts.Amount(1),
		"312 changes": Changes.Amount(312), "1 h": Hours.Amount(1), "0 cuts": Cuts.Amount(0)} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
