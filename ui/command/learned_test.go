package command

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/store"
)

// Gauges say what a machine's own looks suggest, and the command they name takes it; in JSON it
// stands at its gauge with the chances behind it.
func TestGaugesSayWhatLooksSuggest(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	do := func(args ...string) string {
		t.Helper()
		out, errs, code := run(t, file, args...)
		if code != Done {
			t.Fatalf("%v gives %d: %s", args, code, errs)
		}
		return out
	}
	do("machine", "add", "Heron", "--start", "enclosed-changer")
	id := lookedAt(t, file)
	take := "oilcan machine edit Heron --band belt-tone=20-26"
	out := do("gauges", "Heron", "--all")
	if !strings.Contains(out, "belt-tone: late 3 of 5 at 31 days: 20") ||
		!strings.Contains(out, take) {
		t.Errorf("gauges:\n%s", out)
	}
	type row struct {
		Item, Basis string
		Low         float64
		Learned     *struct {
			Take struct{ Low, High float64 }
			Late float64 `json:"late_now"`
		}
	}
	gauge := func() (r row) {
		t.Helper()
		var rows []row
		if err := json.Unmarshal([]byte(do("gauges", "--all", "--json")), &rows); err != nil {
			t.Fatal(err)
		}
		for _, r := range rows {
			if r.Item == "belt-tone" {
				return r
			}
		}
		t.Fatalf("no gauge of it: %.3000s", do("gauges", "--all", "--json"))
		return r
	}
	if r := gauge(); r.Low != 30 || r.Learned == nil || r.Learned.Take.Low != 20 ||
		!(r.Learned.Late > 0.25 && r.Learned.Late < 0.35) {
		t.Errorf("%s: %+v", id, r)
	}
	do(strings.Fields(take)[1:]...)
	if r := gauge(); r.Low != 20 || r.Basis != model.OwnRecord || r.Learned != nil {
		t.Errorf("taken: %+v", r)
	}
	do("machine", "edit", "Heron", "--band", "belt-tone=")
	if r := gauge(); r.Low != 30 || r.Learned == nil {
		t.Errorf("given back: %+v", r)
	}
}

// lookedAt puts looks at a machine's belts on record, a month apart: three of five met them late.
func lookedAt(t *testing.T, file string) (machine string) {
	t.Helper()
	s, err := store.Open(file,
		func() time.Time { return time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC) })
	if err != nil {
		t.Fatal(err)
	}
	b, err := s.Bench()
	if err != nil {
		t.Fatal(err)
	}
	for id := range b.Machines {
		machine = id
	}
	for i, found := range []string{"clean", "clean", "late", "clean", "late", "late"} {
		_, err := s.Append(model.Action{Machine: machine,
			At: time.Date(2026, 5, 1, 9, 0, 0, 0, time.UTC).AddDate(0, 0, 31*i),
			Facts: []model.Fact{{Kind: model.KindCare, Care: &model.CareDone{
				Procedure: "belt-tone", Outcome: model.OutcomeDone, Found: found}}}})
		if err != nil {
			t.Fatal(err)
		}
	}
	return machine
}
