package demo

import (
	"math"
	"slices"
	"time"

	"bench/oilcan/model"
)

// shelf is one thing in the drawer: what is kept, how many come in a pack, how long they take.
type shelf struct {
	part        string
	first, keep float64
	pack, lead  int
	price       float64 // of one; 0: nobody told it
}

// shelves are what this bench keeps and counts; light oil, thin oil and glue stand there uncounted.
var shelves = []shelf{
	{"blade", 4, 2, 5, 6, 2.4}, {"wiper", 3, 1, 4, 9, 1.6}, {"filter", 3, 1, 3, 12, 7.5},
	{"desiccant", 6, 3, 10, 5, 0.9}, {"nozzle", 2, 1, 2, 8, 14},
	{"hot-end unit", 1, 1, 1, 10, 38}, {"sock", 3, 1, 5, 8, 2.2}, {"tube", 2, 1, 2, 6, 3},
	{"gear set", 1, 0, 1, 14, 21}, {"belt", 1, 0, 1, 14, 6},
	{"fan", 1, 0, 2, 9, 9}, {"lint-free wipe", 180, 40, 300, 4, 0.04}, {"cotton bud", 120, 30, 200, 4, 0.02},
	{"nitrile gloves", 60, 20, 100, 4, 0.12},
	{"isopropyl alcohol", 600, 200, 1000, 4, 0.009}, {"canned air", 5, 2, 6, 4, 6.5},
	{"microfibre tip", 30, 10, 50, 7, 0.3},
	{"microfibre cloth", 6, 2, 10, 7, 1.1}, {"lens fluid", 25, 8, 30, 9, 0.15},
}

// spare is what runs short when the bench is opened.
const spare = "blade"

// stocked adds the drawer's history to the actions: counts at the start and each quarter,
// deliveries when something ran low, and a last count that finds one blade.
func stocked(as []model.Action, cal *calendar) []model.Action {
	have, ordered := map[string]float64{}, map[string]bool{}
	start := cal.day(1).Add(9 * time.Hour)
	counts := []time.Time{cal.day(92).Add(10 * time.Hour), cal.day(183).Add(10 * time.Hour)}
	last := cal.back(5)
	out := []model.Action{count(start, have, true)}
	var coming []model.Action
	emit := func(until time.Time) { // deliveries and counts up to a time
		for len(coming) > 0 && !coming[0].At.After(until) {
			a := coming[0]
			coming = coming[1:]
			for _, f := range a.Facts {
				have[f.Stock.Part] += f.Stock.Change
				ordered[f.Stock.Part] = false
			}
			out = append(out, a)
		}
		for len(counts) > 0 && !counts[0].After(until) {
			out = append(out, count(counts[0], have, false))
			counts = counts[1:]
		}
	}
	for _, a := range as {
		if a.At.Before(start) {
			out = append(out, a)
			continue
		}
		emit(a.At)
		out = append(out, a)
		for _, f := range a.Facts {
			if f.Kind != model.KindStock {
				continue
			}
			have[f.Stock.Part] = max(0, have[f.Stock.Part]+f.Stock.Change)
			if s := onShelf(f.Stock.Part); s != nil && have[s.part] <= s.keep && !ordered[s.part] {
				at := a.At.Add(time.Duration(s.lead)*24*time.Hour + 3*time.Hour)
				if s.part == spare && at.After(last.AddDate(0, 0, -20)) || at.After(cal.now) {
					continue
				}
				ordered[s.part] = true
				coming = append(coming, received(at, s))
				byTime(coming)
			}
		}
	}
	emit(cal.now)
	have[spare] = 1
	out = append(out, count(last, have, false))
	byTime(out)
	return out
}

func onShelf(part string) *shelf {
	i := slices.IndexFunc(shelves, func(s shelf) bool { return s.part == part })
	if i < 0 {
		return nil
	}
	return &shelves[i]
}

// count is a count of the whole drawer; the first also says what to keep, and sets what there is.
func count(at time.Time, have map[string]float64, first bool) model.Action {
	a := model.Action{At: at.Truncate(time.Second), By: "LN"}
	for _, s := range shelves {
		move := &model.StockMove{Part: s.part, Why: "counted"}
		if first {
			have[s.part] = s.first
			keep, lead, pack := s.keep, s.lead, s.pack
			move.Minimum, move.Lead, move.Pack = &keep, &lead, &pack
			if price := s.price; price > 0 {
				move.Price = &price
			}
		}
		n := math.Round(have[s.part]*10) / 10
		move.Counted = &n
		a.Facts = append(a.Facts, model.Fact{Kind: model.KindStock, Stock: move})
	}
	return a
}

func received(at time.Time, s *shelf) model.Action {
	return model.Action{At: at.Truncate(time.Second), By: "LN",
		Facts: []model.Fact{{Kind: model.KindStock,
			Stock: &model.StockMove{Part: s.part, Change: float64(s.pack), Why: "received"}}}}
}
