package screen

import (
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
