package demo

import (
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/store/storetest"
)

var moments = map[string]time.Time{
	"a working day":          time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC),
	"after the holidays":     time.Date(2027, 1, 2, 0, 5, 0, 0, time.UTC),
	"a leap day":             time.Date(2028, 2, 29, 23, 50, 0, 0, time.UTC),
	"another zone, Sunday":   time.Date(2026, 6, 7, 12, 0, 0, 0, time.FixedZone("", 9*3600+1800)),
	"summer, in closed days": time.Date(2026, 7, 20, 6, 0, 0, 0, time.UTC),
}

const opened = "a working day"

func library(t testing.TB) []*model.Procedure {
	t.Helper()
	l, problems := procedures.Load("")
	if len(problems) > 0 || len(l.All()) == 0 {
		t.Fatalf("%d procedures, problems %v", len(l.All()), problems)
	}
	return l.All()
}

func TestSameSeedSameHistory(t *testing.T) {
	lib, now := library(t), moments[opened]
	first := Actions(lib, now, 7)
	slices.Reverse(lib)
	if !reflect.DeepEqual(first, Actions(lib, now, 7)) {
		t.Error("the same seed gave another history")
	}
	if reflect.DeepEqual(first, Actions(lib, now, 8)) {
		t.Error("another seed gave the same history")
	}
}

// folded folds a history as a store would and checks each fact against the rules for what a person
// types.
func folded(t *testing.T, lib []*model.Procedure, now time.Time, seed uint64) (*model.Bench,
	[]model.Action) {
	t.Helper()
	as := Actions(lib, now, seed)
	ids := map[string]bool{}
	for _, p := range lib {
		ids[p.ID] = true
	}
	b, last := model.NewBench(), time.Time{}
	for i, a := range as {
		if a.At.Before(last) || a.At.After(now) || a.At.Before(now.AddDate(0, 0, -Span-1)) {
			t.Fatalf("action %d at %v, after %v", i, a.At, last)
		}
		last = a.At
		for j, f := range a.Facts {
			checkFact(t, b, ids, a, f, now)
			e := model.Entry{ID: fmt.Sprint(i, "-", j), At: a.At, By: a.By, Machine: a.Machine,
				Action: strconv.Itoa(i), Fact: f}
			if err := b.Apply(e); err != nil {
				t.Fatalf("action %d, %s at %v: %v", i, f.Kind, a.At, err)
			}
		}
	}
	return b, as
}

func checkFact(t *testing.T, b *model.Bench, ids map[string]bool, a model.Action, f model.Fact,
	now time.Time) {
	t.Helper()
	var used []string
	switch {
	case f.Kind == model.KindReading:
		if err := model.CheckReading(b.Machines[a.Machine], f.Reading.Meter, f.Reading.Value, a.At,
			now); err != nil {
			t.Errorf("%s at %v: %v", a.Machine, a.At, err)
		}
	case f.Kind == model.KindCare:
		used = append([]string{f.Care.Procedure}, f.Care.CountsAs...)
	case f.Kind == model.KindSwap:
		used = f.Swap.Resets
		if !slices.Contains(model.RenewableParts, f.Swap.Part) ||
			!slices.Contains(model.Ends, f.Swap.End) {
			t.Errorf("swap %+v", f.Swap)
		}
	case f.Kind == model.KindStock && !slices.Contains(model.SupplyNames, f.Stock.Part):
		t.Errorf("stock of %q", f.Stock.Part)
	case f.Failed != nil && f.Failed.Symptom != "" && procedures.Symptoms().Get(f.Failed.Symptom) == nil:
		t.Errorf("no symptom %q", f.Failed.Symptom)
	case f.Kind == model.KindFinding && f.Finding.Procedure != "":
		used = []string{f.Finding.Procedure}
	case f.Kind == model.KindMachine:
		if _, err := model.ParseFeatures(names(f.Machine.Features)); err != nil {
			t.Errorf("%s: %v", f.Machine.Name, err)
		}
		if err := model.CheckName(b, f.Machine.Name, f.Machine.ID); err != nil {
			t.Error(err)
		}
	}
	for _, id := range used {
		if !ids[id] {
			t.Errorf("%s at %v uses %q, which the library does not hold", f.Kind, a.At, id)
		}
	}
}

func names(fs []model.Feature) []string {
	var out []string
	for _, f := range fs {
		out = append(out, string(f))
	}
	return out
}

// Whatever the seed and the day, the bench shows each condition and a thing to buy. Without
// OILCAN_LONG two seeds are tried instead of four.
func TestMix(t *testing.T) {
	lib := library(t)
	for name, now := range moments {
		for seed := uint64(1); seed <= uint64(storetest.Times(2, 4, 4)); seed++ {
			t.Run(fmt.Sprintf("%s, seed %d", name, seed), func(t *testing.T) {
				b, _ := folded(t, lib, now, seed)
				all := map[model.GaugeWord]int{}
				words := map[string]map[model.GaugeWord]int{}
				for _, m := range b.Machines {
					words[m.Name] = map[model.GaugeWord]int{}
					for _, g := range model.Gauges(m, lib, now) {
						words[m.Name][g.Word]++
						if m.Name != "Knot" {
							all[g.Word]++
						}
					}
				}
				if all[model.WordPast] < 1 || all[model.WordPast] > 3 || all[model.WordDue] < 3 ||
					all[model.WordDue] > 12 ||
					all[model.WordWearing] < 3 || all[model.WordFresh] < 40 {
					t.Errorf("no good mix: %v", words)
				}
				if words["Teal"][model.WordPast] == 0 || words["Dunlin"][model.WordUnknown] != 3 ||
					len(words["Knot"]) != 1 || words["Knot"][model.WordUnknown] == 0 {
					t.Errorf("past on Teal, three unknown on Dunlin, all on Knot: %v", words)
				}
				checkStories(t, b, now)
			})
		}
	}
}

func checkStories(t *testing.T, b *model.Bench, now time.Time) {
	t.Helper()
	if len(b.Machines) != 6 {
		t.Errorf("%d machines", len(b.Machines))
	}
	knot, teal := b.Machines["demo-Knot"], b.Machines["demo-Teal"]
	if knot == nil || len(knot.Care) > 0 || len(knot.Readings) > 0 {
		t.Errorf("Knot has a history: %+v", knot)
	}
	if len(teal.Findings) != 1 || !teal.Findings[0].Again.After(now) || teal.Tag == nil ||
		teal.Tag.Kind != "waiting" {
		t.Errorf("Teal waits for a part: %+v, tag %+v", teal.Findings, teal.Tag)
	}
	if s := b.Drawer[spare]; s == nil || s.Count == nil || *s.Count >= s.Minimum {
		t.Errorf("blades are not low: %+v", s)
	}
	if plover := b.Machines["demo-Plover"]; len(plover.Parts["blade"].Lives) < 2 {
		t.Errorf("no blades renewed on Plover: %+v", plover.Parts)
	}
}

// A library that holds little or nothing still gives a bench.
func TestAnyLibrary(t *testing.T) {
	lib := library(t)
	for _, some := range [][]*model.Procedure{nil, lib[:1], lib[3:5]} {
		if b, _ := folded(t, some, moments[opened], 1); len(b.Machines) != 6 {
			t.Errorf("%d machines from %d procedures", len(b.Machines), len(some))
		}
	}
}

// The store takes the whole history, and its own check agrees.
func TestStoreTakesIt(t *testing.T) {
	now := moments[opened]
	s, err := store.Open(filepath.Join(t.TempDir(), "demo.db"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	lib := library(t)
	if _, err := s.AppendAll(Actions(lib, now, 1)); err != nil {
		t.Fatal(err)
	}
	b, err := s.Bench()
	if err != nil {
		t.Fatal(err)
	}
	want, _ := folded(t, lib, now, 1)
	for id, m := range want.Machines {
		got := b.Machines[id]
		for i, g := range model.Gauges(m, lib, now) {
			if h := model.Gauges(got, lib, now)[i]; h.Item != g.Item || h.Word != g.Word {
				t.Errorf("%s: %s %s in the store, %s %s here", m.Name, h.Item, h.Word, g.Item,
					g.Word)
			}
		}
	}
	if r, err := s.Check(); err != nil || len(r.Problems) > 0 {
		t.Error(err, r.Problems)
	}
}

func BenchmarkActions(b *testing.B) {
	lib := library(b)
	b.ReportAllocs()
	for b.Loop() {
		Actions(lib, moments[opened], 1)
	}
}

func BenchmarkActionsStored(b *testing.B) {
	lib := library(b)
	now := moments[opened]
	as := Actions(lib, now, 1)
	for b.Loop() {
		s, err := store.Open(filepath.Join(b.TempDir(), "demo.db"), func() time.Time { return now })
		if err != nil {
			b.Fatal(err)
		}
		if _, err := s.AppendAll(as); err != nil {
			b.Fatal(err)
		}
	}
}
