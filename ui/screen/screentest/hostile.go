package screentest

import (
	"testing"
	"unicode"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
	"bench/oilcan/ui/theme"
)

// hostileText is what no terminal may be given: the clipboard (OSC 52), a colour, a C1 introducer,
// marks that turn the direction, have no width or cannot be seen.
const hostileText = "\x1b]52;c;QUJD\x07\x1b[35;5mred\u009b31m\u0085\u202eabc\u2066\u200b\u200d\ufeff\u00ad\x7f\r"

// HostileFile makes a data file in which every text a person could have typed, and every word the
// program would have set, is hostile. The machines' names still begin with Heron, Teal and Knot.
func HostileFile(t testing.TB) string {
	t.Helper()
	d := FromBench(t, 80, 24, Place{}, theme.Options{})
	makeHostile(t, d)
	return d.S.Path()
}

func makeHostile(t testing.TB, d *Desk) {
	t.Helper()
	h := storetest.JSON(t, hostileText)
	bare := h[1 : len(h)-1]
	if _, err := d.S.Append(model.Action{Machine: "m1",
		Facts: []model.Fact{{Kind: model.KindBooked,
			Booked: &model.PrintJob{File: "filetext",
				Need: map[model.Meter]float64{model.Changes: 3}}}}}); err != nil {
		t.Fatal(err)
	}
	storetest.Craft(t, d.S.Path(), map[string]string{
		`"Heron"`: `"Heron` + bare + `"`, `"Teal"`: `"Teal` + bare + `"`, `"Knot"`: `"Knot` +
			bare + `"`, `"home"`: h, `"care session"`: h, `"step 14 of 61"`: h,
		`"nozzle on order"`: h, `"nozzle tip worn oval"`: h, `"kind":"part"`: `"kind":` + h,
		`"kind":"waiting"`: `"kind":` + h, `"by":"kit"`: `"by":` + h, `"filetext"`: h,
		`"part":"nozzle"`: `"part":` + h, `"worn"`: h, `"corexy"`: `"corexy` + bare + `"`,
	})
}

// NothingRaw looks at places on a bench where every stored text and word is hostile: nothing a
// terminal would obey or hide is drawn, in the title neither, and the last look at the frame has
// nothing to take out.
func NothingRaw(t *testing.T, places []Place) {
	t.Helper()
	for _, p := range places {
		if p.Empty {
			continue
		}
		d := FromBench(t, 120, 40, p, theme.Options{Dark: true, NoColour: true})
		makeHostile(t, d)
		d.Look()
		d.Look()
		seen := d.R.Draw()
		for _, r := range seen {
			if r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
				t.Errorf("%s draws %U: %q", p.Name, r, seen)
				break
			}
		}
		if d.View() != seen {
			t.Errorf("%s: the last look changes what was drawn", p.Name)
		}
	}
}
