package action

import (
	"testing"

	"bench/oilcan/model"
)

// The shares are those of the trade's table: from memory.
func TestMaterialHours(t *testing.T) {
	table := []model.Material{{ID: "abs", Name: "ABS", Styrenic: 1},
		{ID: "pa-cf", Name: "PA-CF", Styrenic: 0.5, Abrasive: 1}, {ID: "pla",
			Name: "PLA"}, {ID: "pvc", Name: "PVC", Banned: true}}
	m := &model.Machine{Readings: map[model.Meter]*model.Series{model.StyrenicHours: {N: 1,
		Last: model.Point{Value: 120}, Offset: 20}}}
	got, err := MaterialHours(m, table, []string{"abs=10", "PA CF=4", "PLA=50"})
	if err != nil || len(got) != 2 || got[0].Value != 112 || got[1].Value != 4 {
		t.Errorf("%+v, %v", got, err)
	}
	for _, bad := range []string{"ABS", "mud=1", "PVC=1", "ABS=-1", "ABS=x", "PLA=5"} {
		if got, err := MaterialHours(m, table, []string{bad}); err == nil {
			t.Errorf("%q is taken for %+v", bad, got)
		}
	}
	if got, err := MaterialHours(m, table, nil); err != nil || got != nil {
		t.Errorf("nothing printed gives %+v, %v", got, err)
	}
}
