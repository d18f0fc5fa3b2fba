package symptom_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/procedures"
)

var now = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// bench is the real library, and the machines the tests are about.
type bench struct {
	table *symptom.Table
	procs []*model.Procedure
}

func newBench(t testing.TB) bench {
	t.Helper()
	lib, problems := procedures.Load("")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return bench{procedures.Symptoms(), lib.All()}
}

// machine has these features, and care done so many days ago.
func machine(features []model.Feature, care map[string]int) *model.Machine {
	m := &model.Machine{MachineFact: model.MachineFact{ID: "m", Name: "Heron", Features: features,
		Duty: model.Home},
		Care: map[string]*model.CareLast{}}
	for id, days := range care {
		m.Care[id] = &model.CareLast{At: now.AddDate(0, 0, -days), Known: true}
	}
	return m
}

// rank ranks symptoms, each "id" or "id: answer".
func (b bench) rank(t testing.TB, m *model.Machine, counts map[string]symptom.Counted,
	heard ...string) symptom.Result {
	t.Helper()
	c := symptom.Case{Table: b.table, Machine: m, Procs: b.procs, Counts: counts, Now: now}
	if m != nil {
		c.Gauges = model.Gauges(m, b.procs, now)
	}
	for _, h := range heard {
		id, answer, _ := strings.Cut(h, ": ")
		s := b.table.Get(id)
		if s == nil || answer != "" && s.Answer(answer) == nil {
			t.Fatalf("there is no %q", h)
		}
		c.Heard = append(c.Heard, symptom.Heard{Symptom: s, Answer: answer})
	}
	return symptom.Rank(c)
}

func causes(r symptom.Result) []string {
	var out []string
	for _, l := range r.Lines {
		out = append(out, l.Cause)
	}
	return out
}

func find(t testing.TB, r symptom.Result, cause string) symptom.Line {
	t.Helper()
	for _, l := range r.Lines {
		if l.Cause == cause {
			return l
		}
	}
	t.Fatalf("%s is not among %v", cause, causes(r))
	return symptom.Line{}
}

// TestOrderOfTheTable: with nothing known of a machine the order is by weight, then by minutes
// (common practice: the cheap one first).
func TestOrderOfTheTable(t *testing.T) {
	b := newBench(t)
	for _, s := range b.table.Symptoms {
		if s.Stop || s.Normal != "" {
			continue
		}
		r := b.rank(t, nil, nil, s.ID)
		whole := map[string]float64{}
		for _, p := range b.procs {
			whole[p.ID] = p.HandsOn
		}
		for i, l := range r.Lines[1:] {
			p := r.Lines[i]
			if l.Weight > p.Weight || l.Weight == p.Weight && whole[l.Cause] < whole[p.Cause] &&
				whole[l.Cause] > 0 {
				t.Errorf("%s: %s (%v) stands behind %s (%v)", s.ID, l.Cause, l.Weight, p.Cause,
					p.Weight)
			}
		}
		if len(r.NotCare) == 0 {
			t.Errorf("%s says no cause that no care cures", s.ID)
		}
	}
}

// TestStopShowsNothingElse: alone, with another symptom, and reached by an answer.
func TestStopShowsNothingElse(t *testing.T) {
	b := newBench(t)
	for _, heard := range [][]string{{"scorch-smell"}, {"case-tingle"}, {"breaker-trips"},
		{"temperature-fault"},
		{"ringing", "scorch-smell"}, {"case-tingle",
			"odour"}, {"odour: burnt, of cable or board"}} {
		r := b.rank(t, machine(model.FullFeatures, nil), nil, heard...)
		if r.Stop == nil || len(r.Lines)+len(r.NotCare)+len(r.Says) > 0 {
			t.Errorf("%v: %+v", heard, r)
		}
	}
}

func TestNormalNeedsNoCare(t *testing.T) {
	b := newBench(t)
	if r := b.rank(t, nil, nil, "bed-sinks-when-off"); r.Normal == nil || len(r.Lines) > 0 {
		t.Errorf("%+v", r)
	}
	r := b.rank(t, nil, nil, "ringing", "bed-sinks-when-off")
	if len(r.Lines) != len(b.rank(t, nil, nil, "ringing").Lines) ||
		r.Lines[0].Score != b.rank(t, nil, nil, "ringing").Lines[0].Score {
		t.Errorf("what is normal moves the list: %v", causes(r))
	}
}

// TestSharpened are the technician's rules for two symptoms together (from memory).
func TestSharpened(t *testing.T) {
	b := newBench(t)
	full := machine(append(slices.Clone(model.FullFeatures), "bed-cable"), nil)
	first := func(want string, heard ...string) {
		t.Helper()
		r := b.rank(t, full, nil, heard...)
		if r.Lines[0].Cause != want {
			t.Errorf("%v: %v, want %s first", heard, causes(r), want)
		}
	}
	first("dry-filament", "stringing", "filament-wet-popping")
	first("screws-oil", "squeal-grind", "z-banding: evenly, at the screw's pitch")
	first("bed-cable", "power-resets: when the bed or the head moves")
	r := b.rank(t, full, nil, "ringing", "layer-shift")
	if got := causes(r)[:2]; !slices.Contains(got, "belts-reset") ||
		!slices.Contains(got, "pulley-screws") {
		t.Errorf("ringing with layer shift: %v", got)
	}
	r = b.rank(t, full, nil, "changer-feed-failure: one slot")
	if got := causes(r)[:2]; !slices.Contains(got, "tube-wear") ||
		!slices.Contains(got, "feed-path") {
		t.Errorf("one slot: %v", got)
	}
	r = b.rank(t, full, nil, "extruder-clicks", "under-extrusion: one roll only")
	if !strings.Contains(strings.Join(r.Says, " "), "it is the roll") {
		t.Errorf("%v", r.Says)
	}
	wet, alone := b.rank(t, nil, nil, "stringing", "filament-wet-popping"), b.rank(t, nil, nil,
		"stringing")
	if find(t, wet, "nozzle-swap").Share >= find(t, alone, "nozzle-swap").Share {
		t.Error("popping does not clear the nozzle")
	}
}

// TestFeaturesAreRespected: nothing is offered that the machine cannot have.
func TestFeaturesAreRespected(t *testing.T) {
	b := newBench(t)
	m := machine([]model.Feature{"open-frame", "bedslinger", "rails", "direct-drive",
		"nozzle-threaded"}, nil)
	fs := model.NewFeatureSet(m.Features...)
	for _, s := range b.table.Symptoms {
		for _, l := range b.rank(t, m, nil, s.ID).Lines {
			for _, p := range b.procs {
				if (p.ID == l.Cause || p.ID == l.Start) && !p.Fits(fs) {
					t.Errorf("%s offers %s", s.ID, p.ID)
				}
			}
			if l.Cause == "put-back" {
				t.Errorf("%s offers to put back what it has not", s.ID)
			}
		}
	}
}

// TestLookComesFirst: a look is offered before its full part, until it has been done this week.
func TestLookComesFirst(t *testing.T) {
	b := newBench(t)
	l := find(t, b.rank(t, machine(model.FullFeatures, nil), nil, "under-extrusion"), "gears-blow")
	if l.Start != "gears-blow-look" || l.HandsOn != 1 {
		t.Errorf("%+v", l)
	}
	after := find(t, b.rank(t, machine(model.FullFeatures, map[string]int{"gears-blow-look": 2}),
		nil, "under-extrusion"), "gears-blow")
	if after.Start != "gears-blow" || after.Score >= l.Score ||
		!strings.Contains(strings.Join(after.Reasons, ";"), "found good 2 d ago") {
		t.Errorf("%+v", after)
	}
	if l := find(t, b.rank(t, machine(model.FullFeatures, nil), nil, "brittle-filament"),
		"return-to-service"); l.Start != "return-to-service" {
		t.Errorf("a glance at the mains lead is no look at old filament: %+v", l)
	}
}

// TestGaugeAndLastDoneCount: what is used up is likelier, what was done this week less so, and each
// says why.
func TestGaugeAndLastDoneCount(t *testing.T) {
	b := newBench(t)
	at := func(days int) (symptom.Line, symptom.Result) {
		r := b.rank(t, machine(model.FullFeatures, map[string]int{"belts-reset": days}), nil,
			"ringing")
		return find(t, r, "belts-reset"), r
	}
	last := symptom.Line{}
	for _, days := range []int{1, 8, 30, 80, 95, 200} {
		l, r := at(days)
		if l.Score < last.Score {
			t.Errorf("%d days: %v, less than before", days, l.Score)
		}
		if says := strings.Join(r.Says, " "); strings.Contains(says, "Done last") != (days <= 7) {
			t.Errorf("%d days: %q", days, says)
		}
		last = l
	}
	if !strings.Contains(strings.Join(last.Reasons, ";"), "past") {
		t.Errorf("%v", last.Reasons)
	}
	fresh, _ := at(1)
	if !strings.Contains(strings.Join(fresh.Reasons, ";"),
		"done yesterday and nothing left open, so little likely") {
		t.Errorf("%v", fresh.Reasons)
	}
	medium := find(t, b.rank(t, machine(model.FullFeatures, map[string]int{"rods-wipe": 300}), nil,
		"ringing"), "rods-wipe")
	if medium.Grade != "high" {
		t.Errorf("what is past is not raised by a grade: %+v", medium)
	}
}

// TestMoved checks against a Beta posterior worked by hand: prior Beta(5, 1), three failures:
// 6 x 5/9 = 3.33; prior Beta(1, 5), three cures: 6 x 4/9 = 2.67.
func TestMoved(t *testing.T) {
	for _, x := range []struct {
		w    float64
		c    symptom.Counted
		want float64
	}{{5, symptom.Counted{}, 5}, {3, symptom.Counted{}, 3}, {5, symptom.Counted{Not: 3}, 10.0 / 3},
		{1, symptom.Counted{Cured: 3}, 8.0 / 3}, {3, symptom.Counted{Cured: 2, Not: 2}, 3}} {
		if got := symptom.Moved(x.w, x.c); math.Abs(got-x.want) > 1e-12 {
			t.Errorf("%v after %+v: %v, want %v", x.w, x.c, got, x.want)
		}
	}
}

// TestOutcomesMoveTheList: what did not cure sinks, what did rises, and the line says so.
func TestOutcomesMoveTheList(t *testing.T) {
	b := newBench(t)
	m := machine(model.FullFeatures, nil)
	counts := map[string]symptom.Counted{"ringing/belts-reset": {Not: 4},
		"ringing/bearing-swap": {Cured: 6}}
	before, after := causes(b.rank(t, m, nil, "ringing")), causes(b.rank(t, m, counts, "ringing"))
	if slices.Index(after, "belts-reset") <= slices.Index(before, "belts-reset") ||
		slices.Index(after, "bearing-swap") >= slices.Index(before, "bearing-swap") {
		t.Errorf("before %v\nafter %v", before, after)
	}
	l := find(t, b.rank(t, m, counts, "ringing"), "belts-reset")
	if text := strings.Join(l.Reasons, "; "); !strings.Contains(text,
		"here it cured this 0 of 4 times: weight 3.0, was 5") {
		t.Error(text)
	}
}

// TestCountsAddTheBench: outcomes of all machines count together.
func TestCountsAddTheBench(t *testing.T) {
	mk := func(c, n int) *model.Machine {
		return &model.Machine{Outcomes: map[string]*model.Tally{"ringing/belts-reset": {Cured: c,
			Not: n}}}
	}
	got := symptom.Counts(
		&model.Bench{Machines: map[string]*model.Machine{"a": mk(1, 0), "b": mk(2, 3)}})
	if got["ringing/belts-reset"] != (symptom.Counted{Cured: 3, Not: 3}) {
		t.Errorf("%v", got)
	}
}

// TestPending: an outcome is asked after the session, of care that was done in it, once.
func TestPending(t *testing.T) {
	c := &model.Complained{Complaint: model.Complaint{Symptoms: []string{"under-extrusion"},
		Procedure: "gears-blow", Start: "gears-blow-look"}, Session: "s", At: now.Add(-time.Hour)}
	for _, x := range []struct {
		name  string
		care  map[string]int
		open  bool
		asked bool
	}{
		{"done", map[string]int{"gears-blow": 0}, false, true},
		{"its look done", map[string]int{"gears-blow-look": 0}, false, true},
		{"nothing done", map[string]int{"gears-blow": 9}, false, false},
		{"still open", map[string]int{"gears-blow": 0}, true, false},
	} {
		m := machine(model.FullFeatures, x.care)
		m.Complaint = c
		if x.open {
			m.Session = "s"
		}
		if _, asked := symptom.Pending(m); asked != x.asked {
			t.Errorf("%s: %v", x.name, asked)
		}
	}
	if fs := symptom.Said(*c, "cured"); len(fs) != 1 || fs[0].Outcome.Session != "s" ||
		fs[0].Outcome.Is != "cured" {
		t.Errorf("%+v", fs)
	}
}

// drawn is a random machine with random care and outcomes.
func drawn(t *rapid.T, b bench) (*model.Machine, map[string]symptom.Counted) {
	care := map[string]int{}
	counts := map[string]symptom.Counted{}
	for _, p := range b.procs {
		if rapid.IntRange(0, 2).Draw(t, "known") == 0 {
			care[p.ID] = rapid.IntRange(0, 400).Draw(t, "days")
		}
		for _, s := range p.Symptoms {
			if rapid.IntRange(0, 5).Draw(t, "counted") == 0 {
				counts[model.TallyKey(s.Name, p.ID)] = symptom.Counted{Cured: rapid.IntRange(0,
					5).Draw(t, "cured"), Not: rapid.IntRange(0, 5).Draw(t, "not")}
			}
		}
	}
	var fs []model.Feature
	for _, f := range model.Features {
		if rapid.Bool().Draw(t, string(f)) {
			fs = append(fs, f)
		}
	}
	return machine(fs, care), counts
}

// TestSecondSymptomNeverLowersWhatBothName: of the care the first symptom names, what the second
// names too is never overtaken by what it does not name. Shares add up to one, and nothing weighs
// nothing.
func TestSecondSymptomNeverLowersWhatBothName(t *testing.T) {
	b := newBench(t)
	var ids []string
	for _, s := range b.table.Symptoms {
		if !s.Stop && s.Normal == "" {
			ids = append(ids, s.ID)
		}
	}
	names := map[string]bool{}
	for _, p := range b.procs {
		for _, s := range p.Symptoms {
			names[s.Name+" "+p.ID] = true
		}
	}
	rapid.Check(t, func(rt *rapid.T) {
		m, counts := drawn(rt, b)
		one := rapid.SampledFrom(ids).Draw(rt, "one")
		two := rapid.SampledFrom(slices.DeleteFunc(slices.Clone(ids), func(s string) bool {
			return s == one
		})).Draw(rt, "two")
		before, after := causes(b.rank(t, m, counts, one)), b.rank(t, m, counts, one, two)
		order := causes(after)
		for i, low := range before {
			for _, high := range before[:i] {
				if names[two+" "+high] && !names[two+" "+low] &&
					slices.Index(order, low) < slices.Index(order, high) {
					rt.Fatalf("%s with %s: %s overtakes %s", one, two, low, high)
				}
			}
		}
		sum := after.Outside
		for _, l := range after.Lines {
			if !(l.Score > 0) || math.IsInf(l.Score, 0) || len(l.Reasons) == 0 {
				rt.Fatalf("%+v", l)
			}
			sum += l.Share
		}
		if len(order) > 0 && math.Abs(sum-1) > 1e-9 {
			rt.Fatalf("the shares add up to %v", sum)
		}
	})
}

// TestOutcomesAreMonotone: a cure never lowers care, a failure never raises it; the order of two
// symptoms does not matter.
func TestOutcomesAreMonotone(t *testing.T) {
	b := newBench(t)
	rapid.Check(t, func(rt *rapid.T) {
		m, counts := drawn(rt, b)
		r := b.rank(t, m, counts, "ringing", "layer-shift")
		if fmt.Sprint(causes(r)) != fmt.Sprint(
			causes(b.rank(t, m, counts, "layer-shift", "ringing"))) {
			rt.Fatal("the order in which two symptoms are named matters")
		}
		if len(r.Lines) == 0 {
			return
		}
		cause := rapid.SampledFrom(causes(r)).Draw(rt, "cause")
		key := model.TallyKey("ringing", cause)
		was := counts[key]
		place := func(c symptom.Counted) int {
			counts[key] = c
			return slices.Index(causes(b.rank(t, m, counts, "ringing", "layer-shift")), cause)
		}
		if up := place(symptom.Counted{Cured: was.Cured + 1, Not: was.Not}); up > slices.Index(
			causes(r), cause) {
			rt.Fatalf("a cure lowers %s", cause)
		}
		if down := place(symptom.Counted{Cured: was.Cured, Not: was.Not + 1}); down < slices.Index(
			causes(r), cause) {
			rt.Fatalf("a failure raises %s", cause)
		}
	})
}
