package life

import "bench/oilcan/model"

// unsaid is the chance that care is past its band where nothing at all tells its age (from memory).
const unsaid = 0.5

// Risk is the chance, 0 … 1, that a gauge is past the high end of its band by the next care if nothing is done. The
// age of a part that is at most so old is spread evenly from nothing to that.
func Risk(g *model.Gauge) float64 {
	switch {
	case g.Word == model.WordPast:
		return 1
	case g.Word == model.WordUnknown && g.Most > g.Low:
		return max(0, 1-g.High/g.Most)
	case g.Word == model.WordUnknown:
		return unsaid
	case g.Forecast != nil:
		return g.Forecast.Fails
	}
	return 0
}
