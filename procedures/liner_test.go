package procedures

import (
	"testing"

	"bench/oilcan/model"
)

// TestUnknownLinerStaysBelow240: PTFE at the nozzle gives off fumes that make people ill; it is
// kept at or below 240 °C (common practice). A machine of which nobody knows whether it has a liner
// is held there too.
func TestUnknownLinerStaysBelow240(t *testing.T) {
	lib, _ := Load("")
	asked := 0
	for _, features := range [][]model.Feature{nil, {"lined-hotend"}, {"metal-hotend"}} {
		fs := model.NewFeatureSet(append(features, "sock", "nozzle-threaded")...)
		for _, p := range append(lib.All(), lib.SetUps()...) {
			steps := p.For(fs, nil).Steps
			for _, s := range steps {
				if s.Unit != "°C" || s.High == nil || *s.High < 180 {
					continue
				}
				asked++
				if !fs["metal-hotend"] && *s.High > 240 {
					t.Errorf("%s, %s: up to %g °C on a machine with %v", p.ID, s.Name, *s.High,
						features)
				}
			}
		}
	}
	if asked < 12 {
		t.Errorf("only %d steps ask for heat", asked)
	}
	unknown := model.NewFeatureSet("nozzle-threaded").UnknownGroups([]model.Feature{"metal-hotend"})
	if len(unknown) != 1 {
		t.Errorf("the liner is not asked for: %v", unknown)
	}
}
