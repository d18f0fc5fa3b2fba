package drawer_test

import (
	"testing"

	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

var places = []screentest.Place{
	{Name: "drawer", Keys: []string{"d"}},
	{Name: "drawer-count", Keys: []string{"d", "enter"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

func TestDrawer(t *testing.T) {
	d := screentest.Plain(t).Keys("d", "enter", "5", "enter", "ctrl+u", "1", "ctrl+s")
	b := d.Bench().Drawer["blade"]
	if *b.Count != 5 || b.Minimum != 1 || b.Lead != 6 {
		t.Errorf("%+v", *b)
	}
	d.Keys("a", "3", "ctrl+s")
	if n := *d.Bench().Drawer["blade"].Count; n != 8 {
		t.Errorf("%v blades", n)
	}
	d.Keys("a", "ctrl+s")
	d.Shows("Type how many came")
}

// The drawer says what to order and by when, and what that rests on.
func TestDrawerAdvises(t *testing.T) {
	d := screentest.New(t, 80, 24, true, theme.Options{Dark: true})
	d.Keys("d")
	d.Shows("order 1 now", "blade: 2 in stock, at the minimum of 2")
	d.Keys("enter", "9", "ctrl+s")
	d.Hides("order 1 now", "at the minimum")
}
