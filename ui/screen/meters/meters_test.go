package meters_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen/screentest"
)

var places = []screentest.Place{
	{Name: "meters", Keys: []string{"/", "her", "enter", "m"}},
	{Name: "meters-refused", Keys: []string{"/", "her", "enter", "m", "12", "enter"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

func TestMeters(t *testing.T) {
	d := screentest.Plain(t).On("her").Keys("m", "950", "enter", "3500", "ctrl+s")
	if s := d.Machine("m1").Readings[model.Hours]; s.Last.Value != 950 {
		t.Errorf("hours %v", s.Last.Value)
	}
	d.Shows("the gauges follow", "most pressing")
}

func TestMetersAskAgain(t *testing.T) {
	for _, c := range []struct {
		name string
		keys []string
		want float64 // of the running meter
		off  float64
	}{
		{"read again", []string{"50", "enter", "951", "ctrl+s"}, 951, 0},
		{"emptied and read again", []string{"50", "enter", "ctrl+u", "951", "ctrl+s"}, 951, 0},
		{"correction", []string{"850", "enter", "e", "ctrl+s"}, 850, 0},
		{"new counter", []string{"50", "enter", "a", "ctrl+s"}, 900, 850},
		{"changed after it was flagged", []string{"50", "enter", "a", "backspace", "1", "ctrl+s",
			"ctrl+u", "960", "ctrl+s"}, 960, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := screentest.Plain(t).On("her").Keys("m").Keys(c.keys...)
			s := d.Machine("m1").Readings[model.Hours]
			if s.Last.Value != c.want || s.Offset != c.off {
				t.Errorf("meter %v, offset %v; want %v, %v\n%s", s.Last.Value, s.Offset, c.want,
					c.off, d.View())
			}
		})
	}
	d := screentest.Plain(t).On("her").Keys("m", "50", "enter", "a")
	d.Shows("A new counter, not saved yet")
	d.Hides("Saved as")
	d.Keys("ctrl+s")
	d.Shows("Saved as a new counter")
	d = screentest.Plain(t).On("her").Keys("m", "50", "enter", "a")
	d.Keys("backspace")
	d.Hides("A new counter")
	d = screentest.Plain(t).On("her").Keys("m", "999999", "enter")
	d.Shows("over 24 hours a day")
	d.Keys("esc", "n") // stays
	d.Shows("999999")
	d.Keys("esc", "y")
	d.Shows("most pressing")
}
