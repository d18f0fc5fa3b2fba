package model

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"
	"time"
)

// foldDay0 is the day the fold tests count from.
var foldDay0 = time.Date(2026, 1, 5, 8, 0, 0, 0, time.UTC)

// onDay is a time on the day n days later; n may be a fraction.
func onDay(n float64) time.Time {
	return foldDay0.Add(time.Duration(n * 24 * float64(time.Hour)))
}

// journal writes entries as a store would: numbered in the order written, an action each.
type journal struct{ entries []Entry }

// on adds the facts of one action that happened on a day; it gives the action's id.
func (j *journal) on(day float64, facts ...Fact) string {
	action := fmt.Sprintf("a%d", len(j.entries)+1)
	for _, f := range facts {
		n := uint64(len(j.entries) + 1)
		e := Entry{V: 1, Seq: n, ID: fmt.Sprintf("e%d", n), At: onDay(day), Machine: "m",
			Action: action, Fact: f}
		if ClassOf(f.Kind) != Dated && f.Kind != KindMachine {
			e.Session, e.Ordinal = "s", int(n)
		}
		j.entries = append(j.entries, e)
	}
	return action
}

// bench folds the journal one entry after the other, folding again where asked for, and requires
// the same as of folding it at once.
func (j *journal) bench(t testing.TB) *Bench {
	t.Helper()
	b := NewBench()
	for i, e := range j.entries {
		so := j.entries[:i+1]
		if e.Kind == KindStrike {
			b.Machines["m"] = FoldMachine("m", so, Struck(so))
			b.Drawer = FoldDrawer(so, Struck(so))
			continue
		}
		err := b.Apply(e)
		if err != nil && !errors.Is(err, ErrRefold) {
			t.Fatalf("entry %d: %v", e.Seq, err)
		}
		switch {
		case err == nil:
		case e.Kind == KindStock:
			b.Drawer = FoldDrawer(so, Struck(so))
		default:
			b.Machines["m"] = FoldMachine("m", so, Struck(so))
		}
	}
	sameJSON(t, b, Fold(j.entries))
	return b
}

func sameJSON(t testing.TB, got, want any) {
	t.Helper()
	a, err := json.Marshal(got)
	if err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	if string(a) != string(b) {
		t.Fatalf("folded one by one:\n%s\nfolded at once:\n%s", a, b)
	}
}

func fMachine(name string, change ...func(*MachineFact)) Fact {
	f := &MachineFact{ID: "m", Name: name, Duty: Home}
	for _, c := range change {
		c(f)
	}
	return Fact{Kind: KindMachine, Machine: f}
}

func outOfUse(f *MachineFact) { f.OutOfUse = true }

func fRead(m Meter, v float64, change ...func(*Reading)) Fact {
	r := &Reading{Meter: m, Value: v, How: "typed"}
	for _, c := range change {
		c(r)
	}
	return Fact{Kind: KindReading, Reading: r}
}

func isNew(r *Reading)   { r.NewMeter = true }
func isRight(r *Reading) { r.Correct = true }
func fDue(id string) Fact {
	return Fact{Kind: KindDue, Due: &FallsDue{Procedure: id, Because: "crackles"}}
}
func fFind(s string) Fact { return Fact{Kind: KindFinding, Finding: &Found{Kind: "note", Text: s}} }
func fSettle(e string) Fact {
	return Fact{Kind: KindSettled, Settled: &Settled{Finding: e, Why: "mended"}}
}
func fMoved(e string, again time.Time) Fact {
	return Fact{Kind: KindMoved, Moved: &Moved{Finding: e, Again: again}}
}
func fStrike(a string) Fact {
	return Fact{Kind: KindStrike, Strike: &Strike{Action: a, Why: "slip"}}
}

func fCare(id string, outcome CareOutcome, countsAs ...string) Fact {
	return Fact{Kind: KindCare, Care: &CareDone{Procedure: id, Outcome: outcome,
		CountsAs: countsAs}}
}

func fSwap(part string, end End, resets ...string) Fact {
	return Fact{Kind: KindSwap, Swap: &Swapped{Part: part, End: end, Resets: resets}}
}

func fTag(kind TagKind, clear bool) Fact {
	return Fact{Kind: KindTag, Tag: &TagMove{Kind: kind, Clear: clear, Why: "smoke"}}
}

func fMove(part string, change float64) Fact {
	return Fact{Kind: KindStock, Stock: &StockMove{Part: part, Change: change}}
}

func fCount(part string, n float64) Fact {
	return Fact{Kind: KindStock, Stock: &StockMove{Part: part, Counted: &n}}
}

func fWalk(what What, change ...func(*Walked)) Fact {
	w := &Walked{What: what}
	for _, c := range change {
		c(w)
	}
	return Fact{Kind: KindWalk, Walk: w}
}
