package materials_test

import (
	"testing"

	"bench/oilcan/ui/screen/screentest"
)

var places = []screentest.Place{{Name: "materials", Keys: []string{"s", "g"}}}

// Golden frames, every size, one meaning a key.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromSession, places) }
