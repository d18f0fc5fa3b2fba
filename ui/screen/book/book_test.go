package book_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen/screentest"
)

var places = []screentest.Place{
	{Name: "book", Keys: []string{"/", "her", "enter", "enter", "n", "4"}},
	{Name: "book-strike", Keys: []string{"/", "her", "enter", "enter", "n", "4", "down", "u"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

func TestStrikeFromTheBook(t *testing.T) {
	d := screentest.Plain(t).On("her").Keys("enter", "4", "u", "ctrl+s")
	d.Shows("A reason is needed")
	d.Keys("wrong machine", "ctrl+s")
	d.Keys("home")
	d.Shows("(struck)", "wrong machine")
	if v := d.Machine("m1").Readings[model.Changes].Last.Value; v != 1500 {
		t.Errorf("changes %v: the reading still counts", v)
	}
}
