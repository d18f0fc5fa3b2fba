package rooms_test

import (
	"testing"

	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
)

// Every place a screen may send a person to has a screen, and nothing else has.
func TestEveryPlaceHasAScreen(t *testing.T) {
	e := screentest.Plain(t).E
	for _, to := range []any{screen.ToBench{}, screen.ToMachine{}, screen.ToMachineForm{},
		screen.ToCareList{}, screen.ToClearTag{}, screen.ToRetire{}, screen.ToMeters{},
		screen.ToFindings{}, screen.ToLives{}, screen.ToBook{}, screen.ToSession{}, screen.ToPrintFile{},
		screen.ToSymptom{}, screen.ToPlan{}, screen.ToWalk{}, screen.ToSummary{},
		screen.ToDrawer{}, screen.ToMaterials{}} {
		if e.Rooms(e, to) == nil {
			t.Errorf("%T leads nowhere", to)
		}
	}
	if e.Rooms(e, 1) != nil {
		t.Error("a number leads somewhere")
	}
}
