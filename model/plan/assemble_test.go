package plan

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
)

func TestAssemble(t *testing.T) {
	lib := bench()
	for _, p := range lib {
		if p.ID == "hotend-swap" {
			p.Proof = []string{"heat-tune", "first-layer"}
		}
	}
	get := library(lib)
	cases := []struct {
		name   string
		chosen string
		want   string // sorted
	}{
		{"bookends join where it is unplugged", "fans-blow", "as-found close-out fans-blow"},
		{"a proof joins, and with it the bookends", "belts-reset",
			"as-found belts-reset close-out self-check"},
		{"a proof alone has bookends too", "first-layer", "as-found close-out first-layer"},
		{"a full part does its look", "blade-check blade-check-look",
			"as-found blade-check close-out"},
		{"several proofs", "hotend-swap belts-reset",
			"as-found belts-reset close-out first-layer heat-tune hotend-swap self-check"},
		{"a bookend chosen stays single", "as-found fans-blow", "as-found close-out fans-blow"},
		{"what needs no tear-down has none", "desiccant-look config-note",
			"config-note desiccant-look"},
		{"twice is once", "fans-blow fans-blow", "as-found close-out fans-blow"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p, ids, err := Assemble(get, full(), nil, strings.Fields(c.chosen),
				Request{SetUps: setUps()})
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(ids, p.IDs()) {
				t.Errorf("ids %v are not those of the plan %v", ids, p.IDs())
			}
			slices.Sort(ids)
			if got := strings.Join(ids, " "); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
	for chosen, want := range map[string]string{"wings": "wings", "heat": "set-up",
		"screws-oil": "z-screw"} {
		get := func(id string) *model.Procedure {
			if q := library(setUps())(id); q != nil {
				return q
			}
			q := get(id)
			if q != nil && q.ID == "screws-oil" {
				r := *q
				r.Needs = []model.Feature{"z-screw"}
				return &r
			}
			return q
		}
		_, _, err := Assemble(get, model.NewFeatureSet("enclosed"), nil, []string{chosen},
			Request{SetUps: setUps()})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", chosen, err)
		}
	}
}

// What is done by a procedure that is itself left to another one is done by nobody, and stays.
func TestWhatNobodyDoesStays(t *testing.T) {
	look, part, full := care("a-look", "dust", 1, 0, "", ""), care("part", "dust", 2, 0, "",
		""), care("full", "dust", 3, 0, "", "")
	full.CountsAs, part.CountsAs = []string{"part"}, []string{"a-look"}
	for _, x := range []struct{ chosen, want []string }{
		{[]string{"a-look", "part", "full"}, []string{"a-look", "full"}},
		{[]string{"a-look", "part"}, []string{"part"}},
		{[]string{"part", "full"}, []string{"full"}},
	} {
		_, ids, err := Assemble(library([]*model.Procedure{look, part, full}), model.FeatureSet{},
			nil, x.chosen, Request{Start: state("P=unpl H=cold")})
		slices.Sort(ids)
		if err != nil || !slices.Equal(ids, x.want) {
			t.Errorf("of %v it takes %v, %v", x.chosen, ids, err)
		}
	}
}
