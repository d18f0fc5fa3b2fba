package procedures

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

var updateHeads = flag.Bool("update-heads", false, "write heads.jsonl anew from the library")

// TestHeadsAreOfTheLibrary compares the embedded heads with the whole files.
func TestHeadsAreOfTheLibrary(t *testing.T) {
	lib, problems := Load("")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var heads []*model.Procedure
	for _, p := range lib.All() {
		heads = append(heads, headOf(p))
	}
	want := headLines(t, heads)
	if *updateHeads {
		if err := os.WriteFile("heads.jsonl", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	have, err := os.ReadFile("heads.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(bytes.ReplaceAll(have, []byte("\r\n"), []byte("\n")), want) {
		t.Error(
			"heads.jsonl is not of these files: run go test ./procedures -run Heads -update-heads")
	}
}

// headOf is a procedure with what gauges ask for.
func headOf(p *model.Procedure) *model.Procedure {
	bare := *p
	bare.Purpose, bare.Why = "", ""
	bare.Tools, bare.Supplies, bare.Gear, bare.Cautions, bare.Steps, bare.Later = nil, nil, nil, nil, nil, nil
	bare.Settings, bare.Symptoms, bare.Change = nil, nil, nil
	bare.Require, bare.RequireFor, bare.Leave, bare.Owns = nil, nil, nil, nil
	return &bare
}

// headLines writes heads as they are embedded, a line each.
func headLines(t *testing.T, heads []*model.Procedure) []byte {
	t.Helper()
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	for _, p := range heads {
		if err := enc.Encode(p); err != nil {
			t.Fatal(err)
		}
	}
	return b.Bytes()
}

// TestHeadsNeedNoReading: they are there, in order, before the library is read.
func TestHeadsNeedNoReading(t *testing.T) {
	l := Open("")
	heads := l.Heads()
	if len(l.byID) > 0 {
		t.Error("asking for the heads has read the library")
	}
	if len(heads) == 0 || len(heads) != len(l.All()) {
		t.Fatalf("%d heads of %d procedures", len(heads), len(l.All()))
	}
	if !slices.IsSortedFunc(heads, func(a, b *model.Procedure) int {
		return strings.Compare(a.ID, b.ID)
	}) {
		t.Error("the heads are not in order")
	}
}

// TestHeadsGiveTheGaugesOfTheWholeFiles: what the heads leave out is asked for by no gauge.
func TestHeadsGiveTheGaugesOfTheWholeFiles(t *testing.T) {
	l := Open("")
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	m := &model.Machine{MachineFact: model.MachineFact{ID: "m", Name: "Heron",
		Features: model.Features}}
	have, want := model.Gauges(m, l.Heads(), now), model.Gauges(m, l.All(), now)
	if len(have) != len(want) || len(have) == 0 {
		t.Fatalf("%d gauges of the heads, %d of the whole files", len(have), len(want))
	}
	for i := range have {
		if !reflect.DeepEqual(have[i], want[i]) {
			t.Errorf("gauge %d: %+v, of the whole file %+v", i, have[i], want[i])
		}
	}
}
