package model

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"
)

// near compares within what a division may cost.
func near(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }

// base wants a procedure's meter at the last time.
func base(id string, meter Meter, want float64) func(*Machine) string {
	return func(m *Machine) string {
		if got, ok := m.Care[id].Base[meter]; !ok || !near(got, want) {
			return fmt.Sprintf("base of %s is %v (%v), want %v", id, got, ok, want)
		}
		return ""
	}
}

// machineCases are the rules of the fold: each a journal in the order written, and what the machine
// must show after it.
var machineCases = []struct {
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
	{"the first reading of a visit is that of its care", func(j *journal) {
		j.on(10, fCare("fans-blow", "done"))
		j.on(10.1, fRead(Starts, 40))
	}, base("fans-blow", Starts, 40)},
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
		j.on(0, Fact{Kind: KindCare, Care: &CareDone{Procedure: "oil", Outcome: "done",
			Memory: true, Base: map[Meter]float64{Hours: 4}}})
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
		if c := m.Care["blade-look"]; c == nil || c.Times != 1 || c.Base[Hours] != 50 ||
			len(m.Due) != 0 {
			return fmt.Sprintf("%+v %v", c, m.Due)
		}
		return ""
	}},
	{"part of a care leaves the gauge", func(j *journal) {
		j.on(0, fCare("oil", "done"))
		j.on(5, fDue("oil"))
		j.on(6, fCare("oil", "part"))
	}, func(m *Machine) string {
		if c := m.Care["oil"]; !c.At.Equal(onDay(0)) || c.Times != 1 ||
			m.Due["oil"].Because != "crackles" || !m.DueAt["oil"].Equal(onDay(5)) {
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

// TestFoldMachine folds every case at once and one entry after the other.
func TestFoldMachine(t *testing.T) {
	for _, c := range machineCases {
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

// partCases are lives of parts.
var partCases = []struct {
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
	}, []Life{{To: onDay(0), End: "worn"}, {From: onDay(0), To: onDay(10), End: "failed",
		Used: map[Meter]float64{Hours: 50, Changes: 3000}}}, 10},
	{"both ends lie between two readings", func(j *journal) {
		j.on(0, fRead(Hours, 100))
		j.on(2, fSwap("blade", "worn"))
		j.on(6, fSwap("blade", "early"))
		j.on(10, fRead(Hours, 200))
		j.on(20, fRead(Hours, 999))
	}, []Life{{To: onDay(2), End: "worn"},
		{From: onDay(2), To: onDay(6), End: "early", Used: map[Meter]float64{Hours: 40}}}, 6},
	{"its end lies between two readings", func(j *journal) {
		j.on(0, fRead(Hours, 100), fSwap("blade", "worn"))
		j.on(5, fRead(Hours, 120))
		j.on(6, fSwap("blade", "lost"))
		j.on(10, fRead(Hours, 220))
	}, []Life{{To: onDay(0), End: "worn"},
		{From: onDay(0), To: onDay(6), End: "lost", Used: map[Meter]float64{Hours: 40}}}, 6},
	{"a struck swap never was", func(j *journal) {
		j.on(0, fRead(Hours, 100), fSwap("blade", "worn"))
		j.on(5, fRead(Hours, 150))
		j.on(6, fStrike(j.on(5, fSwap("blade", "worn"))))
		j.on(9, fRead(Hours, 190), fSwap("blade", "worn"))
	}, []Life{{To: onDay(0), End: "worn"},
		{From: onDay(0), To: onDay(9), End: "worn", Used: map[Meter]float64{Hours: 90}}}, 9},
	{"a struck strike puts it back", func(j *journal) {
		j.on(0, fSwap("blade", "worn"))
		j.on(7, fStrike(j.on(6, fStrike(j.on(5, fSwap("blade", "failed"))))))
	}, []Life{{To: onDay(0), End: "worn"}, {From: onDay(0), To: onDay(5), End: "failed"}}, 5},
}

func TestFoldParts(t *testing.T) {
	for _, c := range partCases {
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
				if !got.From.Equal(want.From) || !got.To.Equal(want.To) || got.End != want.End ||
					len(got.Used) != len(want.Used) {
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
	j.on(1, fRead(Changes, 500), fDue("blade-check"),
		fSwap("blade", "worn", "blade-check", "blade-look"), fMove("blade", -1))
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
	if !near(m.Rested, 20) || !near(m.Care["oil"].Rested, 4) || !near(m.Care["belts"].Rested, 20) ||
		!m.Since.IsZero() {
		t.Errorf("rested %v, oil %v, belts %v", m.Rested, m.Care["oil"].Rested,
			m.Care["belts"].Rested)
	}
	if !m.Added.Equal(onDay(0)) {
		t.Errorf("added %v", m.Added)
	}
	if len(m.Rests) != 1 || !m.Rests[0].From.Equal(onDay(10)) || !m.Rests[0].To.Equal(onDay(30)) ||
		!near(RestedIn(m.Rests, onDay(25), onDay(40)), 5) {
		t.Errorf("rests %v", m.Rests)
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

// A counter that was new when first read stays so in the stored snapshot: it does not tell the
// machine's age.
func TestYoungerCounterIsStored(t *testing.T) {
	s := &Series{N: 1, First: Point{Value: 5}, Last: Point{Value: 5}, Younger: true}
	data, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var back Series
	if err := json.Unmarshal(data, &back); err != nil || !back.Younger {
		t.Errorf("%s became %+v, %v", data, back, err)
	}
}
