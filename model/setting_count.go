package model

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// countedPart is one of the things a setting counts: surely there with a feature, perhaps there
// where nobody knows.
type countedPart struct {
	says    string
	with    Feature   // there on machines that have it; every machine where empty
	without []Feature // never there, or counted otherwise, on machines that have any of these
	perhaps bool      // some machines of the kind have it
}

// countedParts are the settings that count what the features of a machine name too. One that is
// open counts more of the kind than features know: slots, screws, plugs.
var countedParts = map[string]struct {
	parts []countedPart
	open  bool
	all   bool // most machines have what features name, and no more of it
}{
	"whole-count": {all: true, parts: []countedPart{{says: "the build plate"},
		{says: "a toolhead cover", perhaps: true}, {says: "the top panel", with: "top-panel"},
		{says: "the changer", with: "changer"}, {says: "the door", with: "enclosed"},
		{says: "a door", without: []Feature{"open-frame", "enclosed"}, perhaps: true}}},
	"heaters": {open: true, all: true,
		parts: []countedPart{{says: "the hot end"}, {says: "the bed", perhaps: true},
			{says: "the chamber heater", with: "chamber-heater"},
			{says: "the changer's dryer", with: "changer-dryer"}}},
	"supplies":       {open: true, parts: plugsParts},
	"supplies-dryer": {open: true, parts: plugsParts},
	"head-tubes":     {open: true, parts: []countedPart{{says: "one feed tube", with: "changer"}}},
	"slots": {open: true,
		parts: []countedPart{{says: "one slot of the changer", with: "changer"}}},
	"clamp-screws": {open: true,
		parts: []countedPart{{says: "one clamp screw of the tensioners",
			with: "belt-springclamp"}}},
	"bed-points": {open: true,
		parts: []countedPart{{says: "one point with a knob", with: "knobs"}}},
}

// plugsParts are what has a plug of its own.
var plugsParts = []countedPart{{says: "the machine's own plug"},
	{says: "the changer's dryer", with: "changer-dryer"},
	{says: "its battery backup", with: "battery-backup"}}

// CheckCount says in a sentence why a setting cannot be so on a machine with these features: it
// counts fewer than they name, or more than there can be, or a plug's tag says how power is. Nil
// for what is not judged so, and for what is not answered.
func CheckCount(name, value string, fs FeatureSet) error {
	if name == PlugTag {
		return checkTag(value)
	}
	n, ok := SettingNumber(value)
	c, counted := countedParts[name]
	if !ok || !counted {
		return nil
	}
	sure, most := partsOn(c.parts, fs)
	switch {
	case int(n) < len(sure):
		return fmt.Errorf("%s cannot be: by its features this machine has %s, so type at least %d",
			value, Listed(sure, "and"), len(sure))
	case !c.open && int(n) > most:
		return fmt.Errorf("%s cannot be: by its features this machine has at most %d of them; add the feature, or type fewer", value, most)
	}
	return nil
}

// partsOn are the parts that a machine with these features surely has, and how many at most.
func partsOn(parts []countedPart, fs FeatureSet) (sure []string, most int) {
	for _, p := range parts {
		switch {
		case p.with != "" && !fs[p.with], slices.ContainsFunc(p.without, func(f Feature) bool {
			return fs[f]
		}):
		case p.perhaps:
			most++
		default:
			most++
			sure = append(sure, p.says)
		}
	}
	return sure, most
}

// SuggestedCount is what a setting most likely counts on a machine with these features, to be typed
// over: all there can be where that is known, else nothing. "" for what is not told by features.
func SuggestedCount(name string, fs FeatureSet) string {
	c, counted := countedParts[name]
	if !counted || !c.all {
		return ""
	}
	_, most := partsOn(c.parts, fs)
	return strconv.Itoa(most)
}

// checkTag refuses an id of a plug's tag that is a word for power: typed at the plug it would be
// taken for the tag, or for the word.
func checkTag(value string) error {
	for _, w := range Values[Power] {
		if strings.EqualFold(strings.TrimSpace(value), string(w)) {
			return fmt.Errorf("%q cannot be the id on a plug's tag: it says how power is; write another id on it", value)
		}
	}
	return nil
}

// CheckCounts checks the settings that an edit has changed, or whose features it has changed: what
// stood on record before and is left alone keeps nobody from saving. It gives the first setting
// that cannot be, and why.
func CheckCounts(old, f MachineFact) (setting string, err error) {
	was, is := NewFeatureSet(old.Features...), NewFeatureSet(f.Features...)
	for _, name := range slices.Sorted(maps.Keys(f.Settings)) {
		if old.Settings[name] == f.Settings[name] &&
			CheckCount(name, f.Settings[name], was) != nil {
			continue
		}
		if err := CheckCount(name, f.Settings[name], is); err != nil {
			return name, err
		}
	}
	return "", nil
}
