package symptom

import (
	"fmt"
	"math"
	"time"

	"bench/oilcan/model"
)

// Figures of the ranking, all from memory.
const (
	// what a grade's weight is out of: as if so many outcomes had been seen before
	trials = 6.0
	// likelihood of a symptom the care is not named for: then there are two causes
	unlisted = 0.5
	recently = 7 * 24 * time.Hour // the last week
	// of a gauge that has just begun; one used up to its low end counts 1 more
	freshest = 0.5
	// no factor of an answer or pair is above this, nor under its inverse
	mostWorth = 20.0
)

// MaxFactor is the greatest likelihood ratio an answer or pair may state; its inverse is the least.
const MaxFactor = mostWorth

// Counted is how often care cured a symptom on this bench, and how often not.
type Counted struct{ Cured, Not int }

// Counts adds the outcomes of all machines of a bench, by model.TallyKey.
func Counts(b *model.Bench) map[string]Counted {
	out := map[string]Counted{}
	for _, m := range b.Machines {
		for key, t := range m.Outcomes {
			c := out[key]
			out[key] = Counted{c.Cured + t.Cured, c.Not + t.Not}
		}
	}
	return out
}

// Moved is a weight after outcomes were counted. The weight w stands for a Beta(w, 6-w) belief in
// how often the care cures the symptom; c cures and n failures make it Beta(w+c, 6-w+n), whose mean
// times 6 is the new weight: w where nothing was counted, never outside 0 to 6. (The conjugate
// update of a binomial share: Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.4.)
func Moved(w float64, c Counted) float64 {
	return trials * (w + float64(c.Cured)) / (trials + float64(c.Cured+c.Not))
}

// prior is how much likelier care is by how far its gauge is used up: 0.5 when just done, 1.5 from
// the low end of its band on, 1 where nobody knows or nothing counts.
func prior(g *model.Gauge) float64 {
	switch {
	case g == nil || g.Word == model.WordUnknown:
		return 1
	case !g.Measured: // due by a finding or after other care
		if g.Word.Rank() <= model.WordDue.Rank() {
			return freshest + 1
		}
		return 1
	}
	share := math.Min(1, g.Fraction)
	if g.Word.Rank() <= model.WordDue.Rank() {
		share = 1
	}
	return freshest + share
}

// gaugeReason says how far the gauge is, "" where it says nothing.
func gaugeReason(g *model.Gauge) string {
	switch {
	case g == nil:
		return ""
	case g.Word == model.WordUnknown:
		return "last time not known"
	case !g.Measured:
		return string(g.Word) + ", " + g.Why.String()
	}
	return string(g.Word) + ", " + g.UsedText()
}

// outcomeReason says how often it cured the symptom here, "" where nobody has said.
func outcomeReason(symptom string, w float64, c Counted) string {
	if c.Cured+c.Not == 0 {
		return ""
	}
	return fmt.Sprintf("here it cured %s %d of %d times: weight %.1f, was %.0f", symptom, c.Cured,
		c.Cured+c.Not, Moved(w, c), w)
}
