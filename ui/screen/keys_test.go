package screen

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/ui/theme"
)

// No key stands twice in a list: what is shown is what is done.
func TestNoKeyStandsTwice(t *testing.T) {
	for i, p := range places {
		seen := map[string]string{}
		for _, k := range open(t, 80, 24, i, theme.Options{Dark: true}).r.top().Keys() {
			if !k.Enabled() || k.do == nil {
				continue
			}
			for _, name := range k.Keys() {
				if seen[name] != "" {
					t.Errorf("%s: %q is %s and %s", p.name, name, seen[name], k.label())
				}
				seen[name] = k.label()
			}
		}
	}
}

// A key that is held passes nothing, and a key that is not listed does nothing.
func TestActTakesFromTheListOnly(t *testing.T) {
	done := 0
	ks := []Key{On("a", "", "", Do(func() { done++ })).Afresh(), On("b", "", "", Do(func() { done++ })).When(false), Shown("c", "", "")}
	press := func(key string, again bool) bool {
		_, taken := Act(ks, Press{Msg: runes(key), Again: again})
		return taken
	}
	if !press("a", true) || done != 0 {
		t.Error("a held key passed")
	}
	if press("b", false) || press("c", false) || press("d", false) || done != 0 {
		t.Error("a key that does not work did something")
	}
	if !press("a", false) || done != 1 {
		t.Error("the key did nothing")
	}
}

// meanings has the letters that are keys, each with what it does and the words under which it may stand in a key line. Digits choose
// in a list; the line of a swap and the answers of what stands alone have letters of their own.
var meanings = map[string]struct {
	does  string
	words []string
}{
	"a": {"adds", []string{"add", "add a machine", "add a symptom", "new counter"}},
	"b": {"takes back, in a session", []string{"back"}},
	"c": {"care", []string{"care", "care before it"}},
	"d": {"drawer", []string{"drawer"}},
	"e": {"edits what is on record", []string{"", "edit", "costs", "correction", "record is wrong"}},
	"f": {"what is wrong", []string{"findings", "fails"}},
	"g": {"materials", []string{"materials"}},
	"h": {"hot", []string{"hot"}},
	"l": {"leaves out the rest", []string{"leave out"}},
	"m": {"meters", []string{"meters"}},
	"n": {"no where yes or no is asked; a note in a session", []string{"note", "stay", "the machine"}},
	"o": {"order", []string{"order added", "pressing first", "plan again"}},
	"p": {"pauses", []string{"pause"}},
	"q": {"leaves", []string{"leave"}},
	"r": {"not read", []string{"not read"}},
	"s": {"symptom", []string{"symptom"}},
	"t": {"time at hand", []string{"minutes"}},
	"u": {"takes back what was saved", []string{"undo", "strike"}},
	"v": {"pace", []string{"step by step", "page by page"}},
	"w": {"swap", []string{"swap"}},
	"x": {"passes over, with a reason", []string{"skip", "cut short"}},
	"y": {"yes", []string{"go on", "leave without saving", "set the tag", "so it is"}},
	"G": {"gives up, with a reason", []string{"give up"}},
	"!": {"cautions", []string{"cautions"}},
	"/": {"finds", []string{"find"}},
	".": {"more of it, or less", []string{"", "large gauges", "small gauges", "steps too", "no steps", "all names", "counted only"}},
	"?": {"help", []string{""}},
}

// One key has one meaning, wherever it works.
func TestOneKeyOneMeaning(t *testing.T) {
	check := func(place string, ks []Key) {
		for _, k := range ks {
			if !k.Enabled() || k.label() == "letter" || slices.Contains(k.Keys(), "up") || slices.Contains(k.Keys(), "down") {
				continue
			}
			for _, name := range k.Keys() {
				letter := strings.TrimPrefix(name, "ctrl+")
				if len(letter) > 1 || letter == " " || digitOf(letter) > 0 || name == "ctrl+s" || name == "ctrl+u" {
					continue
				}
				if m, known := meanings[letter]; !known || !slices.Contains(m.words, k.does()) {
					t.Errorf("%s: %s %q, but that key %s", place, name, k.does(), m.does)
				}
			}
		}
	}
	for i, p := range places {
		check(p.name, open(t, 80, 24, i, theme.Options{Dark: true}).r.top().Keys())
	}
	for i, p := range symptomPlaces {
		check(p.name, openSymptom(t, 80, 24, i, theme.Options{Dark: true}).r.top().Keys())
	}
	d, _ := sampleWalk(t, 80, 24, theme.Options{Dark: true})
	for _, p := range walkPlaces {
		check(p.name, d.keys(p.keys...).r.top().Keys())
	}
}
