package symptom_test

import (
	"slices"
	"testing"

	"bench/oilcan/model/symptom"
	"bench/oilcan/procedures"
)

// TestSearch: everyday words find the symptom a person means (common practice), whatever their
// case, order and ending, half typed or mistyped.
func TestSearch(t *testing.T) {
	table := procedures.Symptoms()
	for text, want := range map[string]string{
		"strings": "stringing", "STRING": "stringing", "cobwebs": "stringing",
		"ghosting": "ringing", "shift": "layer-shift", "layer": "layer-shift",
		"fails-to": "fails-to-cut",
		"blob":     "nozzle-blob", "won't stick": "first-layer-not-sticking",
		"does not stick": "first-layer-not-sticking",
		"corners lift":   "warping", "lifting corner": "warping", "ghostng": "ringing",
		"restart": "power-resets",
		"fire":    "scorch-smell", "tingles": "case-tingle", "fuse": "breaker-trips",
		"thermal runaway": "temperature-fault",
	} {
		if found := table.Search(text); len(found) == 0 || found[0].ID != want {
			t.Errorf("%q finds %v, want %s first", text, ids(found), want)
		}
	}
	for text, want := range map[string][]string{
		"jam": {"changer-feed-failure", "heat-creep-jam"}, "smell": {"odour", "scorch-smell"},
		"not loading": {"under-extrusion", "changer-feed-failure"},
		"rings":       {"ringing", "z-banding"},
	} {
		found := ids(table.Search(text))
		for _, id := range want {
			if !slices.Contains(found, id) {
				t.Errorf("%q finds %v, without %s", text, found, id)
			}
		}
	}
	for _, text := range []string{"", "  ", "the", "qqxzv"} {
		if found := table.Search(text); len(found) > 0 {
			t.Errorf("%q finds %v", text, ids(found))
		}
	}
}

func ids(list []*symptom.Symptom) []string {
	var out []string
	for _, s := range list {
		out = append(out, s.ID)
	}
	return out
}
