package model

import (
	"fmt"
	"testing"
	"time"
)

// near compares within what a division may cost.
func near(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }

// TestFoldMachine holds the rules of the fold: each case is a journal in the order written, and what
// the machine must show after it. Every case is also folded one entry after the other.
func TestFoldMachine(t *testing.T) {
	base := func(id string, meter Meter, want float64) func(*Machine) string {
		return func(m *Machine) string {
			if got, ok := m.Care[id].Base[meter]; !ok || !near(got, want) {
				return fmt.Sprintf("base of %s is %v (%v), want %v", id, got, ok, want)
			}
			return ""
		}
	}
	cases := []struct {
		name  string
		write func(j *journal)
		want  func(m *Machine) string
	}{
		{"a replaced counter runs on", func(j *journal) {
			j.on(0, fRead(Hours, 900))
			j.on(10, fRead(Hours, 0, isNew))
			j.on(20, fRead(Hours, 50))
		}, func(m *Machine) string {
			s := m.Readings[Hours]
			if s.Last.Value != 950 || s.Offset != 900 || s.N != 3 {
				return fmt.Sprintf("%+v", s)
			}
			return ""
		}},
		{"a correction drops what is above it", func(j *journal) {
			j.on(0, fRead(Hours, 100))
			j.on(1, fRead(Hours, 1200))
			j.on(2, fRead(Hours, 1210))
			j.on(3, fRead(Hours, 125, isRight))
		}, func(m *Machine) string {
			if s := m.Readings[Hours]; s.Last.Value != 125 || s.N != 2 || len(s.Days) != 2 {
				return fmt.Sprintf("%+v", s)
			}
			return ""
		}},
		{"a correction leaves the counter before it", func(j *journal) {
			j.on(0, fRead(Hours, 900))
			j.on(1, fRead(Hours, 20, isNew))
			j.on(2, fRead(Hours, 80))
			j.on(3, fRead(Hours, 10, isRight))
		}, func(m *Machine) string {
			if s := m.Readings[Hours]; s.First.Value != 900 || s.Last.Value != 900 || s.Offset != 890 {
				return fmt.Sprintf("%+v", s)
			}
			return ""
		}},
		{"a reading below the last counts for nothing", func(j *journal) {
			j.on(0, fRead(Changes, 400))
			j.on(1, fRead(Changes, 40))
		}, func(m *Machine) string {
			if s := m.Readings[Changes]; s.Last.Value != 400 || s.N != 1 {
				return fmt.Sprintf("%+v", s)
			}
			return ""
		}},
		{"care lies on the line between two readings", func(j *journal) {
			j.on(0, fRead(Hours, 100))
			j.on(4, fCare("fans-blow", "done"))
			j.on(10, fRead(Hours, 200))
			j.on(20, fRead(Hours, 900))
		}, base("fans-blow", Hours, 140)},
		{"after the last reading its value is held", func(j *journal) {
			j.on(0, fRead(Hours, 100))
			j.on(4, fCare("fans-blow", "done"))
		}, base("fans-blow", Hours, 100)},
		{"a late reading moves the line", func(j *journal) {
			j.on(0, fRead(Hours, 100))
			j.on(4, fCare("fans-blow", "done"))
			j.on(10, fRead(Hours, 200))
			j.on(5, fRead(Hours, 180))
		}, base("fans-blow", Hours, 164)},
		{"before the first reading nothing is known", func(j *journal) {
			j.on(0, fCare("fans-blow", "done"))
			j.on(1, fRead(Hours, 100))
			j.on(2, fRead(Hours, 110))
		}, func(m *Machine) string {
			if c := m.Care["fans-blow"]; !c.Known || len(c.Base) != 0 {
				return fmt.Sprintf("%+v", c)
			}
			return ""
		}},
		{"read and cared at the same moment", func(j *journal) {
			j.on(0, fRead(Hours, 100))
			j.on(3, fRead(Hours, 130), fCare("fans-blow", "done"))
			j.on(9, fRead(Hours, 200))
		}, base("fans-blow", Hours, 130)},
		{"a base that was told stays", func(j *journal) {
			j.on(-1, fRead(Hours, 10))
			j.on(0, Fact{Kind: KindCare, Care: &CareDone{Procedure: "oil", Outcome: "done", Memory: true, Base: map[Meter]float64{Hours: 4}}})
			j.on(1, fRead(Hours, 20))
		}, func(m *Machine) string {
			if c := m.Care["oil"]; c.Base[Hours] != 4 || !c.Memory || !c.Told {
				return fmt.Sprintf("%+v", c)
			}
			return ""
		}},
		{"one care counts as another", func(j *journal) {
			j.on(1, fRead(Hours, 50), fDue("blade-look"), fCare("blade-check", "done", "blade-look"))
		}, func(m *Machine) string {
			if c := m.Care["blade-look"]; c == nil || c.Times != 1 || c.Base[Hours] != 50 || len(m.Due) != 0 {
				return fmt.Sprintf("%+v %v", c, m.Due)
			}
			return ""
		}},
		{"part of a care leaves the gauge", func(j *journal) {
			j.on(0, fCare("oil", "done"))
			j.on(5, fDue("oil"))
			j.on(6, fCare("oil", "part"))
		}, func(m *Machine) string {
			if c := m.Care["oil"]; !c.At.Equal(onDay(0)) || c.Times != 1 || m.Due["oil"].Because != "crackles" || !m.DueAt["oil"].Equal(onDay(5)) {
				return fmt.Sprintf("%+v %v", c, m.Due)
			}
			return ""
		}},
		{"not known is no step back from known", func(j *journal) {
			j.on(0, fCare("oil", "done"), fCare("belts", "unknown"))
			j.on(1, fCare("oil", "unknown"))
		}, func(m *Machine) string {
			if !m.Care["oil"].Known || m.Care["belts"].Known {
				return fmt.Sprintf("%+v %+v", m.Care["oil"], m.Care["belts"])
			}
			return ""
		}},
		{"a proof owed is paid later", func(j *journal) {
			f := fCare("belts", "done")
			f.Care.ProofOwed = true
			j.on(0, f)
			j.on(2, fCare("belts", "proved"))
		}, func(m *Machine) string {
			if c := m.Care["belts"]; c.ProofOwed || !c.At.Equal(onDay(0)) || c.Times != 1 {
				return fmt.Sprintf("%+v", c)
			}
			return ""
		}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			j := &journal{}
			j.on(-30, fMachine("Anvil"))
			c.write(j)
			if wrong := c.want(j.bench(t).Machines["m"]); wrong != "" {
				t.Error(wrong)
			}
		})
	}
}

// TestFoldParts follows the lives of parts.
func TestFoldParts(t *testing.T) {
	cases := []struct {
		name  string
		write func(j *journal)
		lives []Life
		since float64
	}{
		{"the first one went in nobody knows when", func(j *journal) {
			j.on(3, fRead(Hours, 100), fSwap("blade", "worn"))
		}, []Life{{To: onDay(3), End: "worn"}}, 3},
		{"a life is what the meters went in between", func(j *journal) {
			j.on(0, fRead(Hours, 100), fRead(Changes, 1000), fSwap("blade", "worn"))
			j.on(10, fRead(Hours, 150), fRead(Changes, 4000), fSwap("blade", "failed"))
		}, []Life{{To: onDay(0), End: "worn"}, {From: onDay(0), To: onDay(10), End: "failed", Used: map[Meter]float64{Hours: 50, Changes: 3000}}}, 10},
		{"both ends lie between two readings", func(j *journal) {
			j.on(0, fRead(Hours, 100))
			j.on(2, fSwap("blade", "worn"))
			j.on(6, fSwap("blade", "early"))
			j.on(10, fRead(Hours, 200))
			j.on(20, fRead(Hours, 999))
		}, []Life{{To: onDay(2), End: "worn"}, {From: onDay(2), To: onDay(6), End: "early", Used: map[Meter]float64{Hours: 40}}}, 6},
		{"its end lies between two readings", func(j *journal) {
			j.on(0, fRead(Hours, 100), fSwap("blade", "worn"))
			j.on(5, fRead(Hours, 120))
			j.on(6, fSwap("blade", "lost"))
			j.on(10, fRead(Hours, 220))
		}, []Life{{To: onDay(0), End: "worn"}, {From: onDay(0), To: onDay(6), End: "lost", Used: map[Meter]float64{Hours: 40}}}, 6},
		{"a struck swap never was", func(j *journal) {
			j.on(0, fRead(Hours, 100), fSwap("blade", "worn"))
			j.on(5, fRead(Hours, 150))
			j.on(6, fStrike(j.on(5, fSwap("blade", "worn"))))
			j.on(9, fRead(Hours, 190), fSwap("blade", "worn"))
		}, []Life{{To: onDay(0), End: "worn"}, {From: onDay(0), To: onDay(9), End: "worn", Used: map[Meter]float64{Hours: 90}}}, 9},
		{"a struck strike puts it back", func(j *journal) {
			j.on(0, fSwap("blade", "worn"))
			j.on(7, fStrike(j.on(6, fStrike(j.on(5, fSwap("blade", "failed"))))))
		}, []Life{{To: onDay(0), End: "worn"}, {From: onDay(0), To: onDay(5), End: "failed"}}, 5},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			j := &journal{}
			j.on(-30, fMachine("Anvil"))
			c.write(j)
			p := j.bench(t).Machines["m"].Parts["blade"]
			if !p.Since.Equal(onDay(c.since)) || len(p.Lives) != len(c.lives) {
				t.Fatalf("%+v", p)
			}
			for i, want := range c.lives {
				got := p.Lives[i]
				if !got.From.Equal(want.From) || !got.To.Equal(want.To) || got.End != want.End || len(got.Used) != len(want.Used) {
					t.Errorf("life %d: %+v, want %+v", i, got, want)
				}
				for k, v := range want.Used {
					if !near(got.Used[k], v) {
						t.Errorf("life %d: %s %v, want %v", i, k, got.Used[k], v)
					}
				}
			}
		})
	}
}

func TestSwapSetsGaugesBack(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(1, fRead(Changes, 500), fDue("blade-check"), fSwap("blade", "worn", "blade-check", "blade-look"), fMove("blade", -1))
	m := j.bench(t).Machines["m"]
	for _, id := range []string{"blade-check", "blade-look"} {
		if c := m.Care[id]; c == nil || !c.Known || c.Base[Changes] != 500 || c.Times != 0 {
			t.Errorf("%s: %+v", id, c)
		}
	}
	if len(m.Due) != 0 || len(m.DueAt) != 0 {
		t.Errorf("still due: %v", m.Due)
	}
}

func TestLifeUsedOf(t *testing.T) {
	cases := []struct {
		name string
		used map[Meter]float64
		want float64
		ok   bool
	}{
		{"changes and starts", map[Meter]float64{Changes: 3000, Starts: 200}, 3200, true},
		{"without starts", map[Meter]float64{Changes: 3000}, 3000, true},
		{"starts alone are no cuts", map[Meter]float64{Starts: 200}, 200, false},
	}
	for _, c := range cases {
		if got, ok := (Life{Used: c.used}).UsedOf(Cuts); ok != c.ok || got != c.want {
			t.Errorf("%s: %v %v", c.name, got, ok)
		}
	}
}

// TestFoldOutOfUse: the calendar waits while a machine is out of use.
func TestFoldOutOfUse(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(10, fMachine("Anvil", outOfUse))
	j.on(14, fCare("oil", "done"))
	j.on(30, fMachine("Anvil"))
	j.on(31, fCare("belts", "done"))
	m := j.bench(t).Machines["m"]
	if !near(m.Rested, 20) || !near(m.Care["oil"].Rested, 4) || !near(m.Care["belts"].Rested, 20) || !m.Since.IsZero() {
		t.Errorf("rested %v, oil %v, belts %v", m.Rested, m.Care["oil"].Rested, m.Care["belts"].Rested)
	}
	if !m.Added.Equal(onDay(0)) {
		t.Errorf("added %v", m.Added)
	}
	j.on(40, fMachine("Anvil", outOfUse))
	if m = j.bench(t).Machines["m"]; !near(m.RestedBy(onDay(45)), 25) {
		t.Errorf("rested by day 45: %v", m.RestedBy(onDay(45)))
	}
}

// TestFoldClockSetBack: a description written later is the newer one, whatever the clock said.
func TestFoldClockSetBack(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(900, fMachine("Wrong clock"))
	j.on(2, fMachine("Right name"))
	j.on(3, fRead(Hours, 10))
	if m := j.bench(t).Machines["m"]; m.Name != "Right name" || m.Readings[Hours] == nil {
		t.Errorf("%+v", m)
	}
}

func TestFoldFindingsAndTags(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(1, fFind("belt looks frayed"))
	j.on(2, fFind("fan hums"))
	j.on(3, fSettle("e2"))
	j.on(4, fTag("stopped", false))
	j.on(5, fTag("waiting", true))
	m := j.bench(t).Machines["m"]
	if len(m.Findings) != 1 || m.Findings[0].Text != "fan hums" || m.Findings[0].ID != "e3" {
		t.Errorf("standing: %+v", m.Findings)
	}
	if m.Tag == nil || m.Tag.Kind != "stopped" {
		t.Errorf("clearing another tag cleared this one: %+v", m.Tag)
	}
	j.on(6, fTag("stopped", true))
	if m = j.bench(t).Machines["m"]; m.Tag != nil {
		t.Errorf("tag stands: %+v", m.Tag)
	}
}

func TestFoldDrawer(t *testing.T) {
	minimum, lead, pack := 2.0, 9, 5
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(1, fMove("blade", 5))
	j.on(2, fCount("wiper", 4))
	j.on(3, fMove("wiper", -1), Fact{Kind: KindStock, Stock: &StockMove{Part: "wiper", Minimum: &minimum, Lead: &lead, Pack: &pack}})
	j.on(1.5, fCount("wiper", 9))
	j.on(4, fCount("sock", 1))
	j.on(5, fMove("sock", -3))
	gone := j.on(6, fMove("wiper", -2))
	j.on(7, fStrike(gone))
	d := j.bench(t).Drawer
	if d["blade"].Count != nil {
		t.Errorf("what was never counted is counted: %v", *d["blade"].Count)
	}
	if w := d["wiper"]; *w.Count != 3 || w.Minimum != 2 || w.Lead != 9 || w.Pack != 5 {
		t.Errorf("wiper: %+v %v", w, *w.Count)
	}
	if *d["sock"].Count != 0 {
		t.Errorf("sock fell below nothing: %v", *d["sock"].Count)
	}
}

func TestFoldSession(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(1, Fact{Kind: KindBegun, Begun: &Begun{Title: "monthly", Latched: Condition{Sensor: "unproved"}}})
	j.on(1.1, fWalk("passed", func(w *Walked) { w.Position, w.Ledger = "step 2 of 9", &Ledger{Out: map[string]int{"screws": 4}} }))
	j.on(1.2, fWalk("paused", func(w *Walked) { w.Latched = Condition{Vapour: "drying"} }))
	b := j.bench(t)
	s := b.Sessions["s"]
	if s.Title != "monthly" || s.Position != "step 2 of 9" || !s.Paused || s.Ordinal != 4 || s.Ledger.Out["screws"] != 4 {
		t.Errorf("%+v", s)
	}
	if s.Latched[Sensor] != "unproved" || s.Latched[Vapour] != "drying" || b.Machines["m"].Session != "s" {
		t.Errorf("%+v", s.Latched)
	}
	j.on(1.3, fWalk("resumed"))
	if j.bench(t).Sessions["s"].Paused {
		t.Error("resumed and still paused")
	}
	j.on(1.4, Fact{Kind: KindClosed, Closed: &Closed{GivenUp: true, Why: "called away", Ledger: Ledger{Out: map[string]int{"screws": 4}}, Latched: Condition{Vapour: "drying"}}})
	b = j.bench(t)
	m := b.Machines["m"]
	if len(b.Sessions) != 0 || m.Session != "" || m.Ledger.Out["screws"] != 4 || m.Latched[Vapour] != "drying" {
		t.Errorf("%+v", m)
	}
	if e := m.LastSession; e == nil || e.Title != "monthly" || e.State != "given up" || !e.At.Equal(onDay(1.4)) {
		t.Errorf("%+v", e)
	}
}

// TestApplyRefuses what does not fit what is folded.
func TestApplyRefuses(t *testing.T) {
	cases := []struct {
		name string
		e    Entry
	}{
		{"a machine that is not there", Entry{Machine: "x", Fact: fRead(Hours, 1)}},
		{"a session that is not begun", Entry{Machine: "m", Session: "s", Fact: fWalk("passed")}},
		{"a kind without its part", Entry{Machine: "m", At: onDay(2), Fact: Fact{Kind: KindReading}}},
		{"an unknown kind", Entry{Machine: "m", At: onDay(2), Fact: Fact{Kind: "dance"}}},
		{"earlier than what was seen", Entry{Machine: "m", At: onDay(-2), Fact: fRead(Hours, 1)}},
		{"a correction", Entry{Machine: "m", At: onDay(2), Fact: fRead(Hours, 1, isRight)}},
		{"a strike", Entry{Machine: "m", At: onDay(2), Fact: fStrike("a1")}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			j := &journal{}
			j.on(0, fMachine("Anvil"))
			b := j.bench(t)
			if _, err := b.Apply(c.e); err == nil {
				t.Error("taken")
			}
			sameJSON(t, b, Fold(j.entries))
		})
	}
}

func TestSnapshotCaps(t *testing.T) {
	j := &journal{}
	j.on(-800, fMachine("Anvil"))
	for i := range 700 {
		day := float64(i - 700)
		j.on(day, fRead(Hours, float64(i)), fFind(fmt.Sprintf("finding %d", i)), fSwap(RenewableParts[i%len(RenewableParts)], "worn"),
			Fact{Kind: KindValue, Value: &Measured{Name: fmt.Sprintf("value %d", i%100), Value: float64(i), Unit: "Hz"}})
	}
	m := j.bench(t).Machines["m"]
	lives := 0
	for _, p := range m.Parts {
		lives += len(p.Lives)
	}
	if lives != maxAllLives || len(m.Findings) != maxFindings || len(m.Values) != maxNames || len(m.Readings[Hours].Days) != keptDays {
		t.Errorf("%d lives, %d findings, %d values, %d days", lives, len(m.Findings), len(m.Values), len(m.Readings[Hours].Days))
	}
	if m.Findings[maxFindings-1].Text != "finding 699" || m.Readings[Hours].First.Value != 0 || m.Readings[Hours].N != 700 {
		t.Errorf("the newest is not kept: %+v", m.Findings[maxFindings-1])
	}
}

func TestSeriesAt(t *testing.T) {
	s := &Series{}
	for _, p := range []struct {
		day   float64
		value float64
	}{{0, 100}, {10, 200}, {10.2, 210}, {20, 310}} {
		s.add(Point{onDay(p.day), p.value})
	}
	cases := []struct {
		name string
		day  float64
		want float64
		ok   bool
	}{
		{"before the first", -0.1, 0, false},
		{"at the first", 0, 100, true},
		{"between", 5, 100 + 110*5/10.2, true},
		{"of two on one day the last is kept", 10.2, 210, true},
		{"at the last", 20, 310, true},
		{"after the last it is held", 99, 310, true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, ok := s.At(onDay(c.day))
			if ok != c.ok || got-c.want > 1e-6 || c.want-got > 1e-6 {
				t.Errorf("%v %v, want %v", got, ok, c.want)
			}
		})
	}
	if _, ok := (*Series)(nil).At(time.Time{}); ok {
		t.Error("a meter never read has a value")
	}
}
