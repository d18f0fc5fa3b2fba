package machine_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

// Six looks that met the part clean suggest a longer band; one key takes it, one gives back what
// was before, and without a key nothing changes.
func TestABandThatLooksSuggest(t *testing.T) {
	lib := append(screentest.Library(), &model.Procedure{ID: "pad-look", Title: "Look at the pad",
		Kind: model.Look, Intervals: screentest.Band(model.Days, 30, 38)})
	d := screentest.New(t, 80, 24, true, theme.Options{Dark: true}, screentest.Of(lib))
	for i := range 7 {
		if _, err := d.S.Append(model.Action{Machine: "m1",
			At: screentest.Now.AddDate(0, 0, 31*(i-7)),
			Facts: []model.Fact{{Kind: model.KindCare, Care: &model.CareDone{
				Procedure: "pad-look", Outcome: model.OutcomeDone, Found: model.MetClean}}}}); err != nil {
			t.Fatal(err)
		}
	}
	d.Look()
	d.On("her").Keys("enter")
	d.Shows("pad look: found clean 6 times of 6 at 31 days: 45 would do", "b takes it")
	band := func() model.Band { return d.Machine("m1").Bands["pad-look"] }
	if band() != (model.Band{}) {
		t.Fatalf("a band without a key: %v", band())
	}
	d.Keys("b").Shows("pad look: 45–57 days from now on, own record", "u undo")
	if band() != (model.Band{Low: 45, High: 57}) {
		t.Errorf("taken: %v", band())
	}
	d.Keys("end").Shows("own bands", "45–57")
	d.Hides("would do")
	d.Keys("u").Hides("45–57")
	if len(d.Machine("m1").Bands) != 0 {
		t.Errorf("undone: %v", d.Machine("m1").Bands)
	}
	d.Keys("home").Shows("45 would do")
}
