package model

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Feature is one thing a machine has or is made of. The list is closed: see Features.
type Feature string

// Features is the closed list, in the order a person is asked for them.
var Features = []Feature{
	"enclosed", "open-frame", "corexy", "bedslinger", "top-panel", "chamber-heater", "exhaust",
	"battery-backup", "mains-bed", "bed-cable",
	"rods-carbon", "rods-steel", "bush-ball", "bush-polymer", "bush-sintered", "rails", "rollers",
	"z-screw", "z-belt", "nut-metal", "nut-polymer", "belt-springclamp", "belt-manual",
	"direct-drive", "remote-drive", "lined-hotend", "metal-hotend", "nozzle-threaded",
	"nozzle-unit", "sock",
	"sensor-ntc", "sensor-pt", "cutter", "layer-sensor", "lens-glass", "lens-polymer", "probe",
	"knobs",
	"changer", "lid-changer", "changer-dryer", "wiper", "chute", "camera", "chamber-filter",
	"self-check",
}

// ExclusiveGroups holds features of which a machine can have only one. None chosen means unknown,
// and unknown takes the cautious branch.
var ExclusiveGroups = [][]Feature{
	{"enclosed", "open-frame"},
	{"corexy", "bedslinger"},
	{"rods-carbon", "rods-steel"},
	{"bush-ball", "bush-polymer", "bush-sintered"},
	{"nut-metal", "nut-polymer"},
	{"belt-springclamp", "belt-manual"},
	{"direct-drive", "remote-drive"},
	{"lined-hotend", "metal-hotend"},
	{"nozzle-threaded", "nozzle-unit"},
	{"sensor-ntc", "sensor-pt"},
	{"lens-glass", "lens-polymer"},
}

// FullFeatures is what the word "full" stands for in a feature list.
var FullFeatures = []Feature{
	"enclosed", "corexy", "top-panel", "exhaust", "rods-carbon", "bush-polymer", "z-screw",
	"nut-metal",
	"belt-springclamp", "direct-drive", "metal-hotend", "nozzle-unit", "sock", "sensor-ntc",
	"cutter", "layer-sensor",
	"lens-glass", "probe", "changer", "wiper", "chute", "camera", "chamber-filter", "self-check",
}

// implied features: the first cannot be without the second.
var implied = [][2]Feature{
	{"lid-changer", "changer"},
	{"changer-dryer", "changer"},
}

// brings are features that no machine has without another: who names one has said both.
var brings = [][2]Feature{
	{"z-belt", "z-screw"}, // it joins them
}

// excluded pairs beside the groups: no machine carries both.
var excluded = [][2]Feature{
	{"open-frame", "top-panel"},
}

// IsFeature tells whether f is on the closed list.
func IsFeature(f Feature) bool { return slices.Contains(Features, f) }

// FeatureSet is what one machine has.
type FeatureSet map[Feature]bool

// NewFeatureSet makes a set of the given features, unchecked.
func NewFeatureSet(fs ...Feature) FeatureSet {
	s := FeatureSet{}
	for _, f := range fs {
		s[f] = true
	}
	return s
}

// ParseFeatures reads names into a checked set in the order of Features. The word "full" stands for
// FullFeatures. Unknown and contradicting names give an error of one sentence.
func ParseFeatures(names []string) ([]Feature, error) {
	set := FeatureSet{}
	for _, n := range names {
		n = strings.ToLower(strings.TrimSpace(n))
		switch {
		case n == "":
		case n == "full":
			for _, f := range FullFeatures {
				set[f] = true
			}
		case IsFeature(Feature(n)):
			set[Feature(n)] = true
		default:
			return nil, unknownFeature(n)
		}
	}
	for _, p := range brings {
		set[p[1]] = set[p[1]] || set[p[0]]
	}
	if err := set.check(); err != nil {
		return nil, err
	}
	return set.List(), nil
}

// check reports the first contradiction in the set.
func (s FeatureSet) check() error {
	for _, g := range ExclusiveGroups {
		var have []string
		for _, f := range g {
			if s[f] {
				have = append(have, string(f))
			}
		}
		if len(have) > 1 {
			return fmt.Errorf("%s and %s contradict each other: choose one, or neither if you do not know", have[0], have[1])
		}
	}
	for _, p := range excluded {
		if s[p[0]] && s[p[1]] {
			return fmt.Errorf("%s and %s do not go together: leave one out", p[0], p[1])
		}
	}
	for _, p := range implied {
		if s[p[0]] && !s[p[1]] {
			return fmt.Errorf("%s needs %s too: add it, or leave %s out", p[0], p[1], p[0])
		}
	}
	return nil
}

// List gives the set in the order of Features.
func (s FeatureSet) List() []Feature {
	var out []Feature
	for _, f := range Features {
		if s[f] {
			out = append(out, f)
		}
	}
	return out
}

// UnknownGroups gives the exclusive groups that touch any of fs and of which the set holds none.
func (s FeatureSet) UnknownGroups(fs []Feature) [][]Feature {
	var out [][]Feature
	for _, g := range ExclusiveGroups {
		touched, known := false, false
		for _, f := range g {
			touched = touched || slices.Contains(fs, f)
			known = known || s[f]
		}
		if touched && !known {
			out = append(out, g)
		}
	}
	return out
}

// Excludes tells whether the set has another feature of an exclusive group of f, and not f itself.
func (s FeatureSet) Excludes(f Feature) bool {
	return !s[f] && slices.ContainsFunc(ExclusiveGroups, func(g []Feature) bool {
		return slices.Contains(g, f) && slices.ContainsFunc(g, func(x Feature) bool { return s[x] })
	})
}

// unknownFeature names the closest known feature to a mistyped one.
func unknownFeature(n string) error {
	near := slices.MinFunc(Features, func(a, b Feature) int {
		return cmp.Compare(distance(n, string(a)), distance(n, string(b)))
	})
	if distance(n, string(near)) <= 3 {
		return fmt.Errorf("unknown feature %q: did you mean %s", n, near)
	}
	return fmt.Errorf("unknown feature %q: %w", n, ErrUnknownFeature)
}

// distance is the edit distance of two short words (Levenshtein 1966).
func distance(a, b string) int {
	prev := make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur := make([]int, len(b)+1)
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			c := 1
			if a[i-1] == b[j-1] {
				c = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+c)
		}
		prev = cur
	}
	return prev[len(b)]
}
