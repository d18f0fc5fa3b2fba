package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

// bookkeeper drives a store at random beside the plainest model there is: the list of all entries
// written, folded at once.
type bookkeeper struct {
	s        *Store
	c        *clock
	machines []string
	sessions map[string]int // begun: session -> its latest ordinal
	of       map[string]string
	written  []model.Entry
	actions  []string // dated ones
}

// marksOften is over how many entries marks are kept in these tests.
const marksOften = 3

// TestStoreModel: whatever is written, late, struck and put back, over reopenings and rebuilds,
// what the store shows is the fold of all entries written.
func TestStoreModel(t *testing.T) {
	storetest.Draws(t, 40)
	dir := t.TempDir()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		k := &bookkeeper{c: &clock{t0}, sessions: map[string]int{}, of: map[string]string{}}
		path := filepath.Join(dir, fmt.Sprintf("%d.db", n))
		var err error
		if k.s, err = Open(path, k.c.now); err != nil {
			t.Fatal(err)
		}
		k.s.every = marksOften
		defer os.Remove(path)
		t.Repeat(map[string]func(*rapid.T){
			"add": k.add, "log": k.log, "late": k.late, "strike": k.strike, "begin": k.begin,
			"walk": k.walk, "walk stale": k.stale, "close": k.close, "reopen": k.reopen,
			"many": k.many, "settle": k.settle, "": k.agree,
		})
		r, err := k.s.Check()
		if err != nil || !r.OK() || r.Entries != len(k.written) {
			t.Fatalf("check: %+v %v", r, err)
		}
	})
}

func (k *bookkeeper) append(t *rapid.T, as ...model.Action) {
	es, err := k.s.AppendAll(as)
	if err != nil {
		t.Fatal(err)
	}
	k.written = append(k.written, es...)
	for _, e := range es {
		if model.ClassOf(e.Kind) == model.Dated && !slices.Contains(k.actions, e.Action) {
			k.actions = append(k.actions, e.Action)
		}
		if e.Ordinal > 0 {
			k.sessions[e.Session], k.of[e.Session] = e.Ordinal, e.Machine
		}
	}
	k.c.move(time.Duration(rapid.IntRange(0, 100_000).Draw(t, "seconds")) * time.Second)
}

func (k *bookkeeper) machine(t *rapid.T) string {
	if len(k.machines) == 0 {
		t.Skip("no machine yet")
	}
	return rapid.SampledFrom(k.machines).Draw(t, "machine")
}

func (k *bookkeeper) facts(t *rapid.T) []model.Fact {
	var out []model.Fact
	for range rapid.IntRange(1, 3).Draw(t, "facts") {
		v := float64(rapid.IntRange(0, 3000).Draw(t, "value"))
		r := reading(rapid.SampledFrom(model.TypedMeters).Draw(t, "meter"), v)
		r.Reading.Correct = rapid.IntRange(0, 5).Draw(t, "correct") == 0
		r.Reading.NewMeter = !r.Reading.Correct && rapid.IntRange(0, 5).Draw(t, "new meter") == 0
		out = append(out, rapid.SampledFrom([]model.Fact{
			r, r, care("oil"), care("blade-check", "blade-look"),
			swap("blade", "worn", "blade-check"), used("blade", 1), counted("blade", v),
			{Kind: model.KindFinding,
				Finding: &model.Found{Kind: "note", Text: fmt.Sprint("seen ", v)}},
			{Kind: model.KindValue, Value: &model.Measured{Name: "tone", Value: v, Unit: "Hz"}},
			{Kind: model.KindBooked,
				Booked: &model.PrintJob{File: "a.gcode",
					Need: map[model.Meter]float64{model.Changes: v}}},
			{Kind: model.KindFailed, Failed: &model.PrintFailed{Symptom: "ringing"}},
			{Kind: model.KindPrinted, Printed: &model.PrintJob{File: "a.gcode"}},
			{Kind: model.KindDue, Due: &model.FallsDue{Procedure: "oil", Because: "squeaks"}},
			{Kind: model.KindTag, Tag: &model.TagMove{Kind: "waiting", Clear: v > 1500,
				Why: "part"}},
		}).Draw(t, "fact"))
	}
	return out
}

func (k *bookkeeper) add(t *rapid.T) {
	if len(k.machines) >= 3 {
		t.Skip("enough")
	}
	k.append(t,
		model.Action{Facts: append(
			[]model.Fact{machineFact(fmt.Sprint("Machine ", len(k.written)))}, k.facts(t)...)})
	k.machines = append(k.machines, k.written[len(k.written)-1].Machine)
}

func (k *bookkeeper) log(t *rapid.T) {
	k.append(t, model.Action{Machine: k.machine(t), Facts: k.facts(t)})
}

func (k *bookkeeper) late(t *rapid.T) {
	at := k.c.now().Add(-time.Duration(rapid.IntRange(1, 1_000_000).Draw(t, "late")) * time.Second)
	f := k.facts(t)
	if rapid.IntRange(0, 4).Draw(t, "describe") == 0 {
		id := k.machine(t)
		d := machineFact("Machine of " + id)
		d.Machine.ID, d.Machine.OutOfUse = id, rapid.Bool().Draw(t, "out of use")
		f = append(f, d)
		k.append(t, model.Action{At: at, Machine: id, Facts: f})
		return
	}
	k.append(t, model.Action{At: at, Machine: k.machine(t), Facts: f})
}

// many writes several actions in one transaction.
func (k *bookkeeper) many(t *rapid.T) {
	var as []model.Action
	for range rapid.IntRange(2, 5).Draw(t, "actions") {
		late := time.Duration(rapid.IntRange(0, 500_000).Draw(t, "late")) * time.Second
		as = append(as, model.Action{At: k.c.now().Add(-late), Machine: k.machine(t),
			Facts: k.facts(t)})
	}
	k.append(t, as...)
}

func (k *bookkeeper) strike(t *rapid.T) {
	struck := model.Struck(k.written)
	var can []string
	for _, a := range k.actions {
		if !struck[a] {
			can = append(can, a)
		}
	}
	if len(can) == 0 {
		t.Skip("nothing to strike")
	}
	k.append(t, model.Action{Facts: []model.Fact{strike(rapid.SampledFrom(can).Draw(t, "action"))}})
}

// settle closes a finding that stands.
func (k *bookkeeper) settle(t *rapid.T) {
	id := k.machine(t)
	b, err := k.s.Bench()
	if err != nil {
		t.Fatal(err)
	}
	standing := b.Machines[id].Findings
	if len(standing) == 0 {
		t.Skip("nothing stands")
	}
	f := rapid.SampledFrom(standing).Draw(t, "finding")
	k.append(t, model.Action{Machine: id, Facts: []model.Fact{settle(f.ID)}})
}

func (k *bookkeeper) begin(t *rapid.T) {
	id := k.machine(t)
	for session := range k.sessions {
		if k.of[session] == id {
			_, err := k.s.Append(model.Action{Machine: id,
				Facts: []model.Fact{{Kind: model.KindBegun, Begun: &model.Begun{Title: "second"}}}})
			if !errors.Is(err, ErrBegun) {
				t.Fatalf("a second session: %v", err)
			}
			return
		}
	}
	k.append(t, model.Action{Machine: id,
		Facts: []model.Fact{{Kind: model.KindBegun, Begun: &model.Begun{Title: "monthly"}}}})
}

// begun gives a begun session.
func (k *bookkeeper) begun(t *rapid.T) string {
	if len(k.sessions) == 0 {
		t.Skip("no session begun")
	}
	return rapid.SampledFrom(slices.Sorted(maps.Keys(k.sessions))).Draw(t, "session")
}

func (k *bookkeeper) walk(t *rapid.T) {
	s := k.begun(t)
	what := rapid.SampledFrom([]model.What{"passed", "paused", "resumed"}).Draw(t, "what")
	k.append(t, model.Action{Session: s, Machine: k.of[s], Ordinal: k.sessions[s] + 1,
		Facts: append(k.facts(t), step(what, "step 2 of 9"), step("passed", ""))})
}

func (k *bookkeeper) stale(t *rapid.T) {
	s := k.begun(t)
	wrong := rapid.IntRange(0, 9).Filter(func(n int) bool { return n != k.sessions[s]+1 }).Draw(t,
		"ordinal")
	if _, err := k.s.Append(model.Action{Session: s, Machine: k.of[s], Ordinal: wrong,
		Facts: []model.Fact{step("passed", "")}}); !errors.Is(err, ErrStale) {
		t.Fatalf("ordinal %d: %v", wrong, err)
	}
}

func (k *bookkeeper) close(t *rapid.T) {
	s := k.begun(t)
	k.append(t, model.Action{Session: s, Machine: k.of[s], Ordinal: k.sessions[s] + 1,
		Facts: []model.Fact{{Kind: model.KindClosed, Closed: &model.Closed{State: "ready"}}}})
	delete(k.sessions, s)
}

func (k *bookkeeper) reopen(t *rapid.T) {
	s, err := Open(k.s.Path(), k.c.now)
	if err != nil {
		t.Fatal(err)
	}
	k.s, s.every = s, marksOften
	if rapid.Bool().Draw(t, "rebuild") {
		if err := s.Rebuild(); err != nil {
			t.Fatal(err)
		}
	}
}

// agree compares what the store shows with the fold of all that was written.
func (k *bookkeeper) agree(t *rapid.T) {
	b, err := k.s.Bench()
	if err != nil {
		t.Fatal(err)
	}
	got, err := json.Marshal(b)
	if err != nil {
		t.Fatal(err)
	}
	want, err := json.Marshal(model.Fold(k.written))
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Fatalf("the store shows\n%s\nthe entries say\n%s", got, want)
	}
}
