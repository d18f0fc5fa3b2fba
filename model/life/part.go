package life

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// PartBand is the rule of thumb of a part on a machine, and the meter it is given in.
type PartBand struct {
	model.Band
	Meter model.Meter
}

// BandOf gives the rule of thumb by which a part is renewed on a machine: the machine's own band
// where it has one, else the first interval by use of the care that looks after the part, else by
// the calendar. A look comes round whether the part is worn or not and says nothing of its life.
// False where no care counts.
func BandOf(m *model.Machine, procs []*model.Procedure, part string) (PartBand, bool) {
	best, rank := PartBand{}, 0
	for _, b := range bandsOf(m, procs, part) {
		r := b.rank
		if b.Meter != model.Days {
			r++
		}
		if r > rank {
			best, rank = b.PartBand, r
		}
	}
	return best, rank > 0
}

// rankedBand is a band, and how much it says of a part's life: 4 care, 8 the machine's own.
type rankedBand struct {
	PartBand
	rank int
}

// bandsOf are the bands of the care that looks after a part on a machine.
func bandsOf(m *model.Machine, procs []*model.Procedure, part string) []rankedBand {
	fs := model.NewFeatureSet(m.Features...)
	var out []rankedBand
	for _, p := range procs {
		if p.Part != part || p.Kind == model.SetUp || p.Kind == model.Look || !p.Fits(fs) {
			continue
		}
		for i := range p.Intervals {
			iv := &p.Intervals[i]
			if iv.Once || !iv.Only.OnMachine(fs, m.Settings) || !(iv.Low > 0) || iv.When != nil {
				continue
			}
			band, own := model.BandOn(m, p, fs, i)
			b := rankedBand{PartBand{band, iv.Meter}, 4}
			if own {
				b.rank = 8
			}
			out = append(out, b)
		}
	}
	return out
}

// Short is a part that does not last on a machine.
type Short struct {
	Part string
	Text string // see shortLived
	// the same for a line: "blade short-lived: half by 1 534 cuts, rule of thumb from 3 000"
	Line string
	At   time.Time // the latest end
}

// ShortOn gives the short-lived parts of a machine, by name: those that came before their time by
// every meter their care counts, for a part is due by whichever comes first. The one that came
// nearest is named.
func ShortOn(m *model.Machine, procs []*model.Procedure) []Short {
	var out []Short
	for part, p := range m.Parts {
		if m.Retired || len(p.Lives) < shortAfter {
			continue
		}
		bands := bandsOf(m, procs, part)
		most := 0
		for _, b := range bands {
			most = max(most, b.rank)
		}
		text, line, nearest := "", "", 0.0
		for _, b := range bands {
			if b.rank < most {
				continue
			}
			said, median, ok := shortLived(p.Lives, part, b.Meter, b.Band)
			if !ok {
				continue // not counted in this meter
			}
			if said == "" {
				text = ""
				break
			}
			if share := median / b.Low; share > nearest {
				text, nearest = said, share
				line = fmt.Sprintf("%s short-lived: half by %s %s, rule of thumb from %s", part,
					number(median), b.Meter.Unit(), model.Number(b.Low))
			}
		}
		if text != "" {
			out = append(out, Short{part, text, line, p.Lives[len(p.Lives)-1].To})
		}
	}
	slices.SortFunc(out, func(x, y Short) int { return strings.Compare(x.Part, y.Part) })
	return out
}

// Ranked is one life in a Weibull plot: its use, and the share of parts that have ended by then.
type Ranked struct{ Used, Share float64 }

// Ranks gives where the ends among some lives stand in a Weibull plot: the ranks of those that
// ended, set on by the censored ones before them (Johnson 1964), as median ranks (rank − 0.3)/(n +
// 0.4) (Benard and Bos-Levenbach 1953). Shortest first.
func Ranks(lives []Observed) []Ranked {
	all := slices.Clone(lives)
	slices.SortStableFunc(all, func(a, b Observed) int {
		switch {
		case a.Used < b.Used:
			return -1
		case a.Used > b.Used:
			return 1
		case a.Censored == b.Censored:
			return 0
		case b.Censored: // an end counts before what outlasted it
			return -1
		}
		return 1
	})
	n := float64(len(all))
	var out []Ranked
	rank := 0.0
	for i, l := range all {
		if l.Censored {
			continue
		}
		rank += (n + 1 - rank) / (n - float64(i) + 1)
		out = append(out, Ranked{l.Used, (rank - 0.3) / (n + 0.4)})
	}
	return out
}
