package model

import (
	"strings"
	"testing"
)

// TestCountsAgreeWithFeatures: what a setting counts is held against what the features say is
// there.
func TestCountsAgreeWithFeatures(t *testing.T) {
	full := NewFeatureSet(FullFeatures...)
	heated := NewFeatureSet("enclosed", "changer", "changer-dryer", "chamber-heater",
		"belt-springclamp", "knobs")
	for _, c := range []struct {
		name, value string
		fs          FeatureSet
		says        string // "" where it may be
	}{
		{"whole-count", "5", full, ""},
		{"whole-count", "4", full, ""}, // no cover on its head
		{"whole-count", "3", full,
			"build plate, the top panel, the changer and the door, so type at least 4"},
		{"whole-count", "6", full, "at most 5"},
		{"whole-count", "0", NewFeatureSet("open-frame"), "at least 1"},
		{"whole-count", "3", NewFeatureSet("open-frame"), "at most 2"},
		{"whole-count", "3", NewFeatureSet(), ""}, // nobody said whether it has a door
		{"whole-count", "4", NewFeatureSet(), "at most 3"},
		{"heaters", "0", full, "the hot end, so type at least 1"},
		{"heaters", "2", heated, "at least 3"},
		{"heaters", "4", heated, ""},
		{"supplies", "1", heated, "at least 2"},
		{"supplies-dryer", "1", heated, "at least 2"},
		{"supplies-dryer", "1", NewFeatureSet("battery-backup"), "at least 2"},
		{"supplies-dryer", "2", heated, ""},
		{"supplies", "1", full, ""},
		{"slots", "0", full, "at least 1"},
		{"slots", "0", NewFeatureSet(), ""},
		{"clamp-screws", "0", heated, "clamp screw"},
		{"bed-points", "0", heated, "knob"},
		{"bed-points", "0", full, ""},
		{"hose-clamps", "0", full, ""},
		{"whole-count", "", full, ""},
	} {
		err := CheckCount(c.name, c.value, c.fs)
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s=%s: %v, want %q", c.name, c.value, err, c.says)
		}
	}
}

// TestAnOldWrongCountKeepsNobodyFromSaving: only what an edit touches is checked.
func TestAnOldWrongCountKeepsNobodyFromSaving(t *testing.T) {
	old := MachineFact{Features: []Feature{"enclosed", "changer"},
		Settings: map[string]string{"slots": "0", "whole-count": "4"}}
	edited := old
	edited.Name = "Heron"
	if _, err := CheckCounts(old, edited); err != nil {
		t.Errorf("a new name: %v", err)
	}
	edited.Features = []Feature{"enclosed", "changer", "top-panel"}
	if _, err := CheckCounts(old, edited); err != nil {
		t.Errorf("a panel more, which the count has room for: %v", err)
	}
	edited.Features = []Feature{"open-frame"}
	if _, err := CheckCounts(old, edited); err == nil {
		t.Error("changer and door gone, and four parts still counted")
	}
	edited = old
	edited.Settings = map[string]string{"slots": "0", "whole-count": "1"}
	if name, err := CheckCounts(old, edited); err == nil || name != "whole-count" {
		t.Error("one part of three")
	}
}

// TestSuggestedCount: what features name is not asked as if nobody knew it.
func TestSuggestedCount(t *testing.T) {
	for _, c := range []struct {
		setting  string
		features []Feature
		want     string
	}{
		{"whole-count", []Feature{"enclosed", "top-panel", "changer"}, "5"},
		{"whole-count", []Feature{"enclosed", "top-panel"}, "4"},
		{"whole-count", []Feature{"open-frame"}, "2"},
		{"heaters", []Feature{"enclosed"}, "2"},
		{"heaters", []Feature{"chamber-heater", "changer-dryer"}, "4"},
		{"slots", []Feature{"changer"}, ""}, // features say that there are some, not how many
	} {
		if is := SuggestedCount(c.setting, NewFeatureSet(c.features...)); is != c.want {
			t.Errorf("%s of %v: %q, want %q", c.setting, c.features, is, c.want)
		}
	}
}
