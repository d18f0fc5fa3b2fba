package screen

import "testing"

// A key that is held passes nothing, and a key that is not listed does nothing.
func TestActTakesFromTheListOnly(t *testing.T) {
	done := 0
	ks := []Key{On("a", "", "", Do(func() { done++ })).Afresh(),
		On("b", "", "", Do(func() { done++ })).When(false), Shown("c", "", "")}
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
