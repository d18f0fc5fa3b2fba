package walk_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

// values are those on record, oldest first.
func values(t *testing.T, d *screentest.Desk) []*model.Measured {
	t.Helper()
	es, err := d.S.Entries(store.Filter{Kinds: []model.EntryKind{model.KindValue}})
	if err != nil {
		t.Fatal(err)
	}
	var out []*model.Measured
	for _, e := range es {
		out = append(out, e.Value)
	}
	return out
}

// A gate opens its calculator on one key, with what the session read before in its fields; the
// answer is typed at the gate, passes it as any other, and goes on record with what it was made of.
func TestGateOpensItsCalculator(t *testing.T) {
	for _, z := range []screentest.Size{{W: 80, H: 24}, {W: 120, H: 40}} {
		d, _ := walkOf(t, "tone", "tone-sample", z.W, z.H,
			theme.Options{Dark: true, NoColour: true})
		d.Keys("1", "6", "0", "enter")
		d.Shows("Pluck the left belt", "= work it out")
		d.Keys("=")
		d.Shows("Belt, from its tone", "Free span             160_")
		d.Keys("esc")
		d.Shows("Pluck the left belt")
		d.Keys("=", "down", "down", "down", "down", "112,5 Hz", "ctrl+s")
		d.Shows("pull", "take 112.5 Hz", "none on record yet")
		d.Keys("enter")
		d.Shows("Left belt: 112.5_ Hz")
		if n := len(values(t, d)); n != 1 {
			t.Errorf("%d values before it was answered", n)
		}
		d.Keys("enter")
		got := values(t, d)
		last := got[len(got)-1]
		if last.Name != "belt left" || last.Value != 112.5 || last.From == nil {
			t.Fatalf("on record: %+v", last)
		}
		if w := last.From; w.By != "belt" ||
			w.Given[0] != (model.Given{Name: "span", Text: "160"}) ||
			len(w.Gave) < 4 {
			t.Errorf("worked out from %+v", w)
		}
	}
}

// A value that was worked out and then changed by hand is read off, and says no calculator.
func TestChangedByHandIsReadOff(t *testing.T) {
	d, _ := walkOf(t, "tone", "tone-sample", 80, 24, theme.Options{Dark: true, NoColour: true})
	d.Keys("1", "6", "0", "enter", "=", "down", "down", "down", "down", "112", "ctrl+s", "enter")
	d.Shows("Left belt: 112_ Hz")
	d.Keys("backspace", "5", "enter")
	got := values(t, d)
	if last := got[len(got)-1]; last.Value != 115 || last.From != nil {
		t.Errorf("on record: %+v", last)
	}
}

// The last value of this machine stands beside a gate that can be worked out, and in the calculator.
func TestLastStandsBesideTheGate(t *testing.T) {
	d, now := walkOf(t, "tone", "tone-sample", 80, 24, theme.Options{Dark: true, NoColour: true})
	var machine string
	for id := range d.Bench().Machines {
		machine = id
	}
	if _, err := d.S.Append(model.Action{At: now.AddDate(0, 0, -30), Machine: machine,
		Facts: []model.Fact{{Kind: model.KindValue,
			Value: &model.Measured{Name: "belt left", Value: 108, Unit: "Hz"}}}}); err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Keys("1", "6", "0", "enter")
	d.Shows("last 108 Hz, 2026-10-26; = works it out")
	d.Keys("=")
	d.Shows("Last tone on record   108")
}
