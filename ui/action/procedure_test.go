package action

import (
	"testing"

	"bench/oilcan/model"
)

func TestFindProcedure(t *testing.T) {
	procs := []*model.Procedure{{ID: "blade-check", Short: "cutter blade"},
		{ID: "blade-check-look", Short: "cutter arm, look"},
		{ID: "belts-reset", Short: "belts"}, {ID: "belts"}, {ID: "flow-check",
			Short: "flow"}, {ID: "flow-check-look", Short: "flow, look"}}
	for _, c := range []struct{ word, want, err string }{
		{word: "blade-check", want: "blade-check"},
		{word: "Blade Check", want: "blade-check"},
		{word: "blade-check-l", want: "blade-check-look"},
		{word: "belts", want: "belts"}, // an id comes before a gauge of that name
		{word: "belts-r", want: "belts-reset"},
		{word: "flow", want: "flow-check"},
		{word: "cutter blade", want: "blade-check"},
		{word: "cutter-b", want: "blade-check"},
		{word: "cutter arm, look", want: "blade-check-look"},
		{word: "blade", err: `"blade" may be blade-check, blade-check-look: type more of it`},
		{word: "cutter",
			err: `there is no procedure "cutter": oilcan procedures list names them all`},
		{word: "polish",
			err: `there is no procedure "polish": oilcan procedures list names them all`},
	} {
		t.Run(c.word, func(t *testing.T) {
			p, err := FindProcedure(procs, c.word)
			if text(err) != c.err {
				t.Fatalf("error %q, want %q", text(err), c.err)
			}
			if p != nil && p.ID != c.want {
				t.Errorf("found %s, want %s", p.ID, c.want)
			}
		})
	}
}
