package model

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawFact draws one dated fact.
func drawFact(t *rapid.T) Fact {
	meter := rapid.SampledFrom([]Meter{Hours, Changes, Starts}).Draw(t, "meter")
	id := rapid.SampledFrom([]string{"oil", "belts", "blade-check", "blade-look"}).Draw(t,
		"procedure")
	part := rapid.SampledFrom([]string{"blade", "wiper"}).Draw(t, "part")
	switch rapid.IntRange(0, 17).Draw(t, "kind") {
	case 0, 1, 2:
		return fRead(meter, float64(rapid.IntRange(0, 40000).Draw(t, "tenths"))/10)
	case 3:
		return fRead(meter, float64(rapid.IntRange(0, 500).Draw(t, "value")), isNew)
	case 4:
		return fRead(meter, float64(rapid.IntRange(0, 2000).Draw(t, "value")), isRight)
	case 5, 6:
		return fCare(id, rapid.SampledFrom([]CareOutcome{"done", "done", "part", "unknown",
			"proved"}).Draw(t, "outcome"), "blade-look")
	case 7:
		return fSwap(part, rapid.SampledFrom(Ends).Draw(t, "end"), "blade-check")
	case 8:
		return fMove(part, float64(rapid.IntRange(-3, 5).Draw(t, "change")))
	case 9:
		return fCount(part, float64(rapid.IntRange(0, 9).Draw(t, "count")))
	case 10:
		return fDue(id)
	case 11:
		return Fact{Kind: KindOutcome,
			Outcome: &Outcome{Symptom: rapid.SampledFrom([]string{"ringing", "stringing"}).Draw(t,
				"symptom"),
				Procedure: id, Is: rapid.SampledFrom(Outcomes).Draw(t, "outcome")}}
	case 12:
		return Fact{Kind: KindBooked,
			Booked: &PrintJob{File: "a.gcode",
				Need: map[Meter]float64{meter: float64(rapid.IntRange(0, 40).Draw(t, "need"))}}}
	case 13:
		return Fact{Kind: KindPrinted,
			Printed: &PrintJob{File: "a.gcode",
				Booking: fmt.Sprintf("e%d", rapid.IntRange(1, 60).Draw(t, "booking"))}}
	}
	of := fmt.Sprintf("e%d", rapid.IntRange(1, 40).Draw(t, "finding"))
	switch rapid.IntRange(0, 3).Draw(t, "noted") {
	case 0:
		return fFind("hums")
	case 1:
		return fMoved(of, onDay(float64(rapid.IntRange(1, 90).Draw(t, "again"))))
	case 2:
		return fSettle(of)
	}
	return fTag(rapid.SampledFrom([]TagKind{"stopped", "waiting"}).Draw(t, "tag"),
		rapid.Bool().Draw(t, "clear"))
}

// TestFoldAnyOrder: what is folded entry by entry, each late one by folding again, is what folding
// the whole journal gives, and the order in which the entries are handed over does not matter.
func TestFoldAnyOrder(t *testing.T) {
	foldedOn := 0
	defer func() {
		if foldedOn < 100 {
			t.Errorf("folded on from a snapshot %d times", foldedOn)
		}
	}()
	rapid.Check(t, func(t *rapid.T) {
		j := &journal{}
		j.on(0, fMachine("Anvil"))
		for range rapid.SampledFrom([]int{0, 0, 0, maxFindings, maxFindings + 2}).Draw(t, "findings") {
			j.on(0, fFind("hums")) // one more than these is only counted
		}
		for i := range rapid.IntRange(1, 30).Draw(t, "actions") {
			day := float64(i) / 2
			if rapid.IntRange(0, 3).Draw(t, "late") == 0 {
				day -= float64(rapid.IntRange(0, 30).Draw(t, "days late")) / 4
			}
			switch {
			case rapid.IntRange(0, 6).Draw(t, "strike") == 0:
				j.on(day,
					fStrike(fmt.Sprintf("a%d",
						rapid.IntRange(2, len(j.entries)+1).Draw(t, "which"))))
			case rapid.IntRange(0, 8).Draw(t, "describe") == 0:
				j.on(day, fMachine("Anvil", func(f *MachineFact) {
					f.OutOfUse = rapid.Bool().Draw(t, "out of use")
				}))
			default:
				j.on(day, drawFact(t), drawFact(t))
			}
		}
		foldedOn += j.benchRapid(t)
		shuffled := rapid.Permutation(j.entries).Draw(t, "order")
		a, _ := json.Marshal(Fold(j.entries))
		b, _ := json.Marshal(Fold(shuffled))
		if string(a) != string(b) {
			t.Fatalf("the order handed over matters:\n%s\n%s", a, b)
		}
		checkGrows(t, Fold(j.entries))
	})
}

// benchRapid is bench for a rapid test; a snapshot is written and read back between two entries. What
// can be folded on from an older snapshot is what folding anew gives.
func (j *journal) benchRapid(t *rapid.T) (foldedOn int) {
	b := NewBench()
	var snapshots [][]byte
	for i, e := range j.entries {
		so := j.entries[:i+1]
		alone := foldsAlone(t, b, so)
		err := b.Apply(e)
		if alone != (err == nil) && e.Kind != KindStrike {
			t.Fatalf("entry %d: folded on: %v, applied: %v", e.Seq, alone, err)
		}
		if e.Kind == KindStrike || err != nil && e.Kind == KindStock {
			b.Drawer = FoldDrawer(so, Struck(so))
		}
		if err != nil && e.Kind != KindStock {
			b.Machines["m"] = FoldMachine("m", so, Struck(so))
		}
		data, err := json.Marshal(b)
		if err != nil {
			t.Fatal(err)
		}
		b = NewBench()
		if err := json.Unmarshal(data, b); err != nil {
			t.Fatal(err)
		}
		want, _ := json.Marshal(Fold(so))
		if string(data) != string(want) {
			t.Fatalf("after entry %d:\n%s\nfolded at once:\n%s", e.Seq, data, want)
		}
		snapshots = append(snapshots, data)
		for _, at := range []int{i * 2 / 3, i - 2} {
			if at >= 0 && !reachesBack(so, at) && foldsOn(t, snapshots[at], so, at, b) {
				foldedOn++
			}
		}
	}
	return foldedOn
}

// foldsAlone tells whether the last of some entries can be folded on behind all the others, which
// must be what Apply says of it. A bench without the machine has nothing to fold on.
func foldsAlone(t *rapid.T, b *Bench, entries []Entry) bool {
	data, err := json.Marshal(b)
	if err != nil {
		t.Fatal(err)
	}
	old, last := NewBench(), entries[len(entries)-1:]
	if err := json.Unmarshal(data, old); err != nil {
		t.Fatal(err)
	}
	m := old.Machines["m"]
	if m == nil {
		m = newMachine("m")
	}
	return FoldOn(m, last, nil) && old.Drawer.FoldOn(last, nil)
}

// reachesBack tells whether something behind a place strikes, or puts back, what is before it.
func reachesBack(entries []Entry, place int) bool {
	before := map[string]bool{}
	for _, e := range entries[:place+1] {
		before[e.Action] = true
	}
	return slices.ContainsFunc(entries[place+1:], func(e Entry) bool {
		return e.Strike != nil && before[e.Strike.Action]
	})
}

// foldsOn folds an older snapshot on, and tells whether the machine's could be.
func foldsOn(t *rapid.T, snapshot []byte, entries []Entry, place int, want *Bench) bool {
	old := NewBench()
	if err := json.Unmarshal(snapshot, old); err != nil {
		t.Fatal(err)
	}
	behind, struck := entries[place+1:], Struck(entries)
	m := old.Machines["m"]
	on := FoldOn(m, behind, struck)
	for _, x := range []struct {
		on        bool
		got, want any
	}{{on, m, want.Machines["m"]}, {old.Drawer.FoldOn(behind, struck), old.Drawer, want.Drawer}} {
		got, _ := json.Marshal(x.got)
		must, _ := json.Marshal(x.want)
		if x.on && string(got) != string(must) {
			t.Fatalf("folded on from entry %d:\n%s\nfolded at once:\n%s", place+1, got, must)
		}
	}
	return on
}

// checkGrows: a meter only grows, no care lies above its meter, no life is negative.
func checkGrows(t *rapid.T, b *Bench) {
	m := b.Machines["m"]
	for meter, s := range m.Readings {
		last := s.First.Value
		for _, p := range append(s.Days, s.Last) {
			if p.Value < last-0.01 { // day points are kept in whole hundredths
				t.Fatalf("%s falls from %v to %v", meter, last, p.Value)
			}
			last = p.Value
		}
		for id, c := range m.Care {
			if c.Base[meter] > s.Last.Value {
				t.Fatalf("%s was done at %s %v, which stands at %v", id, meter, c.Base[meter],
					s.Last.Value)
			}
		}
	}
	for part, p := range m.Parts {
		for _, l := range p.Lives {
			for meter, used := range l.Used {
				if used < -1e-9 || l.To.Before(l.From) {
					t.Fatalf("%s: a life of %v %s", part, used, meter)
				}
			}
		}
	}
}

// TestSeriesPacks: a series reads back as it was written.
func TestSeriesPacks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := &Series{}
		day, value := 0.0, 0.0
		for range rapid.IntRange(0, 40).Draw(t, "readings") {
			day += float64(rapid.IntRange(0, 4_000_000).Draw(t, "seconds")) / 86400
			value += rapid.Float64Range(0, 1000).Draw(t, "growth")
			s.add(Point{onDay(day).Truncate(1e6), value})
		}
		data, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		var back Series
		if err := json.Unmarshal(data, &back); err != nil {
			t.Fatal(err)
		}
		again, _ := json.Marshal(&back)
		if string(again) != string(data) || len(back.Days) != len(s.Days) {
			t.Fatalf("%s\n%s", data, again)
		}
	})
}

// FuzzSeries: a stored series that was tampered with is an error or a series, never a panic.
func FuzzSeries(f *testing.F) {
	s := &Series{}
	for i := range 5 {
		s.add(Point{onDay(float64(i)), float64(i) * 7.25})
	}
	data, _ := json.Marshal(s)
	for _, seed := range []string{string(data), `{}`, `{"days":"gA"}`, `{"days":"!"}`, `[]`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var s Series
		if json.Unmarshal(data, &s) == nil {
			s.At(onDay(2))
		}
	})
}
