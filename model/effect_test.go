package model

import (
	"fmt"
	"slices"
	"testing"
)

func TestEffects(t *testing.T) {
	s := Step{Out: map[string]Amount{"screws": {N: 4}, "cover": {N: 1}},
		Taken: map[string]Amount{"wipes": {Count: "wipes"}},
		Set: map[string]string{"oil": "wet", "belts": "clear",
			"sensor": "unproved"}, Starts: []string{"airing", "cooling"}}
	var got, worse []string
	for _, e := range s.Effects() {
		text := fmt.Sprintf("%s %s%s", e.Kind.Key(), e.Name,
			map[bool]string{true: "=" + e.Value}[e.Value != ""])
		got = append(got, text)
		if e.Worse() {
			worse = append(worse, text)
		}
	}
	want := []string{"out cover", "out screws", "taken wipes", "set belts=clear", "set oil=wet",
		"set sensor=unproved",
		"set vapour=drying", "starts airing", "starts cooling"}
	if !slices.Equal(got, want) {
		t.Errorf("effects %q, want %q", got, want)
	}
	// what counts of a step that was begun and not done
	if want := []string{"out cover", "out screws", "set oil=wet", "set sensor=unproved",
		"set vapour=drying", "starts airing"}; !slices.Equal(worse, want) {
		t.Errorf("worse %q, want %q", worse, want)
	}
	if !s.Wets() || (&Step{Set: map[string]string{"vapour": "clear"},
		Starts: []string{"cooling"}}).Wets() {
		t.Error("a step wets where it sets vapour drying or starts the airing, and nowhere else")
	}
}
