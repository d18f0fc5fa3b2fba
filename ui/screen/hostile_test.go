package screen

import (
	"testing"
	"unicode"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
	"bench/oilcan/ui/theme"
)

// hostileText is what no terminal may be given: the clipboard (OSC 52), a colour, a C1 introducer, marks that turn the
// direction, have no width or cannot be seen.
const hostileText = "\x1b]52;c;QUJD\x07\x1b[35;5mred\u009b31m\u0085\u202eabc\u2066\u200b\u200d\ufeff\u00ad\x7f\r"

// Every screen of a bench on which every stored text and word is hostile: nothing a terminal would obey or hide is
// drawn, in the title neither, and the last look at the frame has nothing to take out.
func TestNothingStoredReachesTheTerminalRaw(t *testing.T) {
	h := storetest.JSON(t, hostileText)
	bare := h[1 : len(h)-1]
	for i, p := range places {
		if p.empty {
			continue
		}
		d := open(t, 120, 40, i, theme.Options{Dark: true, NoColour: true})
		if _, err := d.s.Append(model.Action{Machine: "m1", Facts: []model.Fact{{Kind: model.KindBooked, Booked: &model.PrintJob{File: "filetext", Need: map[model.Meter]float64{model.Changes: 3}}}}}); err != nil {
			t.Fatal(err)
		}
		storetest.Craft(t, d.s.Path(), map[string]string{
			`"Heron"`: `"Heron` + bare + `"`, `"Teal"`: `"Teal` + bare + `"`, `"Knot"`: `"Knot` + bare + `"`, `"home"`: h, `"care session"`: h, `"step 14 of 61"`: h,
			`"nozzle on order"`: h, `"nozzle tip worn oval"`: h, `"kind":"part"`: `"kind":` + h, `"kind":"waiting"`: `"kind":` + h, `"by":"kit"`: `"by":` + h, `"filetext"`: h,
			`"part":"nozzle"`: `"part":` + h, `"worn"`: h, `"corexy"`: `"corexy` + bare + `"`,
		})
		d.run(d.r.poll(true))
		d.run(d.r.poll(true))
		seen := d.r.draw()
		for _, r := range seen {
			if r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
				t.Errorf("%s draws %U: %q", p.name, r, seen)
				break
			}
		}
		if d.view() != seen {
			t.Errorf("%s: the last look changes what was drawn", p.name)
		}
	}
}
