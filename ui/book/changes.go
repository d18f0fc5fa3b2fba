package book

import (
	"maps"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Changes says what differs between two descriptions of a machine: "+wiper, production duty", ""
// where nothing does, with days in the zone of now. It is not made safe to draw.
func Changes(was, is model.MachineFact, now time.Time) string {
	var out []string
	if was.Name != is.Name {
		out = append(out, "renamed "+is.Name+", was "+was.Name)
	}
	if was.Duty != is.Duty {
		out = append(out, string(is.Duty)+" duty")
	}
	if use := inUse(was, is); use != "" {
		out = append(out, use)
	}
	out = append(out, bought(was, is, now)...)
	had, have := model.NewFeatureSet(was.Features...), model.NewFeatureSet(is.Features...)
	for _, f := range model.Features {
		switch {
		case have[f] && !had[f]:
			out = append(out, "+"+string(f))
		case had[f] && !have[f]:
			out = append(out, "-"+string(f))
		}
	}
	for _, k := range keys(was.Settings, is.Settings) {
		by, counted := strings.CutPrefix(k, model.CountedPrefix)
		switch v, ok := is.Settings[k]; {
		case counted && was.Settings[k] != v:
			out = append(out, by+" "+v+" as counted")
		case model.Aside(k):
		case !ok:
			out = append(out, k+" forgotten")
		case was.Settings[k] != v:
			out = append(out, k+" "+v)
		}
	}
	for _, k := range keys(was.Bands, is.Bands) {
		switch v, ok := is.Bands[k]; {
		case !ok:
			out = append(out, k+" by the procedure's band")
		case was.Bands[k] != v:
			out = append(out, k+" "+model.Number(v.Low)+"–"+model.Number(v.High)+", own record")
		}
	}
	return strings.Join(append(out, careList(was, is)...), ", ")
}

// careList says what a machine is kept by now and was not, and what was let go.
func careList(was, is model.MachineFact) []string {
	switch {
	case is.CareList == nil && was.CareList != nil:
		return []string{"kept by all that fits it"}
	case is.CareList != nil && was.CareList == nil:
		return []string{"kept by a list of " + model.Counted(len(is.CareList), "procedure")}
	}
	var out []string
	for _, id := range is.CareList {
		if !slices.Contains(was.CareList, id) {
			out = append(out, "kept by "+id)
		}
	}
	for _, id := range was.CareList {
		if !slices.Contains(is.CareList, id) {
			out = append(out, id+" let go")
		}
	}
	return out
}

// bought says what was said of a machine's age.
func bought(was, is model.MachineFact, now time.Time) []string {
	var out []string
	switch {
	case was.Bought.Equal(is.Bought):
	case is.Bought.IsZero():
		out = append(out, "day bought new not known")
	default:
		out = append(out, "bought new "+model.Day(is.Bought, now))
	}
	switch {
	case is.Recounts && !was.Recounts:
		out = append(out, "its counters were replaced before")
	case was.Recounts && !is.Recounts:
		out = append(out, "its counters are the first")
	}
	return out
}

// inUse says whether a machine went out of use or off the bench, or came back; "" where neither.
func inUse(was, is model.MachineFact) string {
	switch {
	case is.Retired && !was.Retired:
		return "retired"
	case was.Retired && !is.Retired:
		return "back from retirement"
	case is.OutOfUse && !was.OutOfUse:
		return "out of use, its calendar waits"
	case was.OutOfUse && !is.OutOfUse:
		return "in use again"
	}
	return ""
}

// keys are the keys of two maps, sorted.
func keys[V any](a, b map[string]V) []string {
	both := slices.AppendSeq(slices.Collect(maps.Keys(a)), maps.Keys(b))
	slices.Sort(both)
	return slices.Compact(both)
}
