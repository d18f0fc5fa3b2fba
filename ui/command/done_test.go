package command

import (
	"path/filepath"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
)

// TestDoneClosesWhatCalledForIt: a note that called for two procedures stands after one of them is
// told as done, and is closed by both together or by the last of them.
func TestDoneClosesWhatCalledForIt(t *testing.T) {
	for _, told := range [][][]string{
		{{"done", "belt-tone", "frame-screws", "Heron"}},
		{{"done", "belt-tone", "Heron"}, {"done", "frame-screws", "Heron"}},
	} {
		file := filepath.Join(t.TempDir(), "bench.oilcan")
		lib, _ := procedures.Load("")
		addHeron(t, file, lib)
		st, err := store.Open(file, func() time.Time { return walkNow })
		if err != nil {
			t.Fatal(err)
		}
		b, err := st.Bench()
		if err != nil {
			t.Fatal(err)
		}
		m := b.ByName()[0]
		if _, err := st.Append(model.Action{At: walkNow.Add(-time.Hour), Machine: m.ID,
			Facts: []model.Fact{{Kind: model.KindFinding, Finding: &model.Found{
				Kind: model.FoundNote, Text: "Resonance out of range.",
				Calls: []string{"belt-tone", "frame-screws"}}}}}); err != nil {
			t.Fatal(err)
		}
		for i, words := range told {
			if _, errs, code := benchRun(t, file, "", words...); code != Done {
				t.Fatalf("%v: %s", words, errs)
			}
			if b, err = st.Bench(); err != nil {
				t.Fatal(err)
			}
			if last := i == len(told)-1; last == (len(b.Machines[m.ID].Findings) > 0) {
				t.Errorf("%v: %v stands", words, b.Machines[m.ID].Findings)
			}
		}
	}
}
