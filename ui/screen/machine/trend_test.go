package machine_test

import (
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/measure"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

// Readings are drawn from the second on; from eight on they have limits, and a reading outside them
// is said. The machine's page shows it at both sizes.
func TestTrendsAreShown(t *testing.T) {
	d := screentest.New(t, 120, 60, true, theme.Options{Dark: true, NoColour: true})
	read := func(day int, v float64) {
		t.Helper()
		at := screentest.Now.AddDate(0, 0, day-40)
		if _, err := d.S.Append(model.Action{At: at, By: "kit", Machine: "m1", Facts: []model.Fact{
			{Kind: model.KindValue, Value: &model.Measured{Name: "belt left", Value: v,
				Unit: "Hz"}}}}); err != nil {
			t.Fatal(err)
		}
		d.Look()
	}
	read(0, 110)
	d.Keys("/", "her", "enter", "enter")
	d.Keys("end").Shows("belt left 110 Hz")
	read(1, 111)
	d.Shows("belt left ▁█ 111 Hz", "(before: 110)")
	for i, v := range []float64{110, 111, 110, 112, 110, 111} {
		read(i+2, v)
	}
	d.Shows("usual 107.2 to 114 Hz")
	read(12, 125)
	d.Shows("125 Hz", measure.Outside)
	d.Pass(screentest.Now.Add(time.Minute))
	d.Shows(measure.Outside)
}
