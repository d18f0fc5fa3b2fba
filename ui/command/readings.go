package command

import (
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

// readPairs reads hours=1234, as readings of a machine's counters at that time.
func readPairs(a *app, m *model.Machine, pairs []string, as model.Reading, at time.Time) (
	[]model.Reading, error) {
	if as.NewMeter || as.Correct {
		m = &model.Machine{} // its other readings say nothing of this one
	}
	var out []model.Reading
	// which are refused in a sentence of their own
	names := append(model.Words(model.TypedMeters), string(model.Cuts))
	for _, p := range pairs {
		name, value, ok := strings.Cut(p, "=")
		if !ok {
			return nil, misuse("%q is no reading: write hours=1234 or changes=3456", p)
		}
		found, err := action.Find("meter", name, names)
		if err != nil {
			return nil, err
		}
		r := as
		r.Meter = model.Meter(found)
		if r.Value, err = model.ReadMeter(m, r.Meter, value, at, a.now()); err != nil {
			return nil, err
		}
		for _, o := range out {
			if o.Meter == r.Meter {
				return nil, misuse("%s is given twice: give it once", r.Meter)
			}
		}
		out = append(out, r)
	}
	return out, nil
}

// on says when something happened where it was not now.
func on(at, now time.Time) string {
	if d := now.Sub(at); d >= 0 && d < time.Minute { // the clock went on meanwhile
		return ""
	}
	return ", on " + model.Stamp(at, now)
}
