package screentest

import (
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/store"
)

// Now is when the tests are.
var Now = time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)

// Shelf is a small library, so that frames do not move when procedures do.
type Shelf []*model.Procedure

// Heads are all of them.
func (s Shelf) Heads() []*model.Procedure { return s.All() }

// All are all of them.
func (s Shelf) All() []*model.Procedure { return s }

// SetUps are none.
func (s Shelf) SetUps() []*model.Procedure { return nil }

// Band is one interval in a meter.
func Band(meter model.Meter, low, high float64) []model.Interval {
	return []model.Interval{{Meter: meter, Low: low, High: high, Basis: "common practice"}}
}

// Library is eight procedures of all kinds.
func Library() Shelf {
	out := Shelf{
		{ID: "belts-reset", Title: "Let the belts find their tension again", Kind: model.Care,
			NeedsAny:  []model.Feature{"belt-springclamp", "belt-manual"},
			Intervals: Band(model.Days, 90, 113),
			Settings: []model.Setting{{Name: "clamp-screws",
				Ask: "How many screws clamp the tensioners?", Number: true}}},
		{ID: "blade-check", Title: "Check and change the cutter blade", Kind: model.Swap,
			Part: "blade", Needs: []model.Feature{"cutter"},
			Intervals: Band(model.Cuts, 3000, 5000)},
		{ID: "blade-check-look", Title: "Judge the cut and the cutter arm", Kind: model.Look,
			Part: "blade", Needs: []model.Feature{"cutter"}, Intervals: Band(model.Days, 30, 38)},
		{ID: "desiccant", Title: "Change the drying packs", Kind: model.Swap, Part: "desiccant",
			Needs: []model.Feature{"changer"}, Intervals: Band(model.Days, 7, 10)},
		{ID: "fans-blow", Title: "Blow out the fans", Kind: model.Care,
			Intervals: Band(model.Hours, 200, 250)},
		{ID: "filter-swap", Title: "Change the carbon air filter", Kind: model.Swap, Part: "filter",
			Needs: []model.Feature{"chamber-filter"}, Intervals: Band(model.Days, 72, 90)},
		{ID: "screws-oil", Title: "Clean and oil the bed lead screws", Kind: model.Care,
			Needs: []model.Feature{"z-screw"}, Intervals: Band(model.Days, 90, 113)},
		{ID: "wiper-check", Title: "Check and change the nozzle wiper", Kind: model.Swap,
			Part: "wiper", Needs: []model.Feature{"wiper"}, Intervals: Band(model.Hours, 300, 375)},
	}
	for _, p := range out {
		p.Starter = p.ID != "blade-check"
	}
	return out
}

// seed fills a data file with machines in every condition the bench can show.
func seed(t testing.TB, s *store.Store) {
	t.Helper()
	day := func(n int) time.Time { return Now.AddDate(0, 0, -n) }
	add := func(at time.Time, machine string, facts ...model.Fact) {
		t.Helper()
		if _, err := s.Append(model.Action{At: at, By: "kit", Machine: machine,
			Facts: facts}); err != nil {
			t.Fatal(err)
		}
	}
	described := func(id, name string, out bool, fs ...model.Feature) model.Fact {
		return model.Fact{Kind: model.KindMachine, Machine: &model.MachineFact{ID: id, Name: name,
			Duty: model.Home, Features: fs, OutOfUse: out}}
	}
	read := func(k model.Meter, v float64) model.Fact {
		return model.Fact{Kind: model.KindReading,
			Reading: &model.Reading{Meter: k, Value: v, How: "typed"}}
	}
	care := func(id string) model.Fact {
		return model.Fact{Kind: model.KindCare,
			Care: &model.CareDone{Procedure: id, Outcome: "done"}}
	}
	swap := func(part string, end model.End, resets ...string) model.Fact {
		return model.Fact{Kind: model.KindSwap,
			Swap: &model.Swapped{Part: part, End: end, Resets: resets}}
	}
	add(day(200), "m1", described("m1", "Heron", false, model.FullFeatures...),
		read(model.Hours, 600), read(model.Changes, 500))
	add(day(90), "m1", care("belts-reset"), care("screws-oil"), care("fans-blow"))
	add(day(60), "m1", swap("blade", "worn", "blade-check", "blade-check-look"),
		swap("wiper", "early", "wiper-check"))
	add(day(40), "m1", swap("filter", "worn", "filter-swap"), read(model.Hours, 800),
		read(model.Changes, 1500))
	add(day(8), "m1", swap("desiccant", "worn", "desiccant"), read(model.Hours, 900),
		read(model.Changes, 3412))
	add(day(200), "m2", described("m2", "Teal", false, "enclosed", "chamber-filter", "belt-manual"),
		read(model.Hours, 100))
	add(day(102), "m2", care("filter-swap"), care("belts-reset"), care("fans-blow"))
	add(day(3), "m2", model.Fact{Kind: model.KindTag,
		Tag: &model.TagMove{Kind: "waiting", Why: "nozzle on order"}},
		model.Fact{Kind: model.KindFinding,
			Finding: &model.Found{Kind: "part", Text: "nozzle tip worn oval", Part: "nozzle",
				Again: Now.AddDate(0, 0, 3)}})
	add(day(30), "m3", described("m3", "日本鷺 in a long row of letters", false, "bedslinger",
		"belt-manual"), care("belts-reset"))
	add(day(20), "m4", described("m4", "Knot", false))
	add(day(20), "m5", described("m5", "Plover", false, "bedslinger"), read(model.Hours, 10))
	add(day(10), "m5", described("m5", "Plover", true, "bedslinger"))
	add(day(1), "", model.Fact{Kind: model.KindStock,
		Stock: &model.StockMove{Part: "blade", Counted: ptr(2.0), Minimum: ptr(2.0), Lead: ptr(6),
			Why: "counted"}},
		model.Fact{Kind: model.KindStock, Stock: &model.StockMove{Part: "wiper", Counted: ptr(4.0),
			Why: "counted"}})
}

func ptr[T any](v T) *T { return &v }
