package demo

import (
	"hash/fnv"
	"math"
	"slices"
	"strconv"
	"time"

	"bench/oilcan/model"
)

// clock is a time of a day, give or take some minutes.
func (k *keeper) clock(day int, hour, minute, spread int) time.Time {
	return k.cal.day(day).Add(time.Duration(hour)*time.Hour +
		time.Duration(minute-spread+k.rng.IntN(2*spread+1))*time.Minute)
}

// firstDay is the day after the machine was added.
func (k *keeper) firstDay() int { return k.cal.index(k.out[0].At) + 1 }

// read types the counters: whole units, and now and then one meter forgotten.
func (k *keeper) read(at time.Time, how string) {
	var facts []model.Fact
	for i, m := range k.meters {
		if i > 0 && how == "typed" && k.rng.Float64() < 0.1 {
			continue
		}
		facts = append(facts, model.Fact{Kind: model.KindReading,
			Reading: &model.Reading{Meter: m, Value: math.Floor(k.use.at(m, at)), How: how}})
	}
	k.fact(at, facts...)
}

// lastReading is when the counters were last typed before the bench is opened.
func (k *keeper) lastReading() time.Time { return k.cal.back(k.lastRead / 24) }

// readings are typed on the same weekday, when nobody forgets.
func (k *keeper) readings(add func(time.Time, func(time.Time))) {
	add(k.out[0].At.Add(2*time.Minute), func(at time.Time) { k.read(at, "start") })
	weekday := time.Weekday(1 + k.rng.IntN(3))
	for i := k.firstDay(); i < k.cal.index(k.lastReading()); i++ {
		typed := k.cal.day(i).Weekday() == weekday && k.rng.Float64() >= k.readSkip ||
			k.rng.Float64() < 0.03
		if typed && k.cal.workday(i) {
			add(k.clock(i, 8, 10, 25), func(at time.Time) { k.read(at, "typed") })
		}
	}
	add(k.lastReading(), func(at time.Time) { k.read(at, "session") })
}

// sessions come every few weeks, with lapses; the last one leaves the machine in order but for what
// is pinned.
func (k *keeper) sessions(add func(time.Time, func(time.Time))) {
	final := k.cal.index(k.cal.now) - k.lastSit
	for i := k.firstDay() + 1 + k.rng.IntN(4); i < final-5; {
		if !k.cal.workday(i) {
			i++
			continue
		}
		add(k.clock(i, 16, 20, 70), func(at time.Time) { k.sit(at, false) })
		i += max(4, k.sitEvery-3+k.rng.IntN(7))
		if k.rng.Float64() < 0.12 {
			i += k.sitEvery / 2
		}
	}
	add(k.clock(final, 15, 30, 40), func(at time.Time) { k.sit(at, true) })
}

// sit is one session: the counters, what is due or nearly so in the order of the ladder, then what
// that set off.
func (k *keeper) sit(at time.Time, tidy bool) {
	if at.Before(k.lastReading()) {
		k.read(at, "session")
	}
	asOf, from := at, 0.75
	if tidy { // what would be due by the time the bench is opened is done now
		asOf, from = k.cal.now, model.WearingFrom
	}
	want := map[string]bool{}
	for _, g := range model.Gauges(k.m, k.procs, asOf) {
		lapse := !tidy && k.rng.Float64() < 0.07
		if (g.Word.Rank() <= model.WordUnknown.Rank() || g.Fraction >= from) && !lapse {
			want[g.Item] = true
		}
	}
	hands, first := k.hands, len(k.out)
	defer func() { k.closed(k.hands-hands, k.out[first:]) }()
	for _, p := range k.procs {
		if want[p.ID] {
			at = k.care(at, p)
		}
	}
	for range 4 {
		again := false
		for _, g := range model.Gauges(k.m, k.procs, at) {
			if g.Word == model.WordDue && g.Why.Kind == model.AfterCare {
				next := k.care(at, k.proc(g.Item))
				again, at = again || next.After(at), next
			}
		}
		if !again {
			break
		}
	}
}

// walks past the machine each morning settle what takes a moment and comes round within days.
func (k *keeper) walks(add func(time.Time, func(time.Time))) {
	today := k.cal.index(k.cal.now)
	for i := k.firstDay(); i <= today; i++ {
		if k.cal.workday(i) && i < today {
			add(k.clock(i, 7, 40, 15), func(at time.Time) { k.pass(at, at, 0.45) })
		}
	}
	add(k.cal.back(1./24), func(at time.Time) { k.pass(at, k.cal.now.Add(24*time.Hour), 1) })
}

func (k *keeper) pass(at, asOf time.Time, likely float64) {
	for _, g := range model.Gauges(k.m, k.procs, asOf) {
		p := k.proc(g.Item)
		short := g.Meter == model.Days && g.Low <= 8 || g.Meter == model.Changes && g.Low <= 200
		if g.Word.Rank() <= model.WordDue.Rank() && short && p.HandsOn <= 3 &&
			k.rng.Float64() < likely {
			at = k.care(at, p)
		}
	}
}

// mishaps are parts that give out between sessions.
func (k *keeper) mishaps(add func(time.Time, func(time.Time))) {
	parts := []string{"wiper", "sock", "nozzle", "tube"}
	for i := k.firstDay(); i < k.cal.index(k.cal.now)-20; i++ {
		if !k.cal.workday(i) || k.rng.Float64() >= 0.012 {
			continue
		}
		part := parts[k.rng.IntN(len(parts))]
		if !slices.ContainsFunc(k.procs, func(p *model.Procedure) bool { return p.Part == part }) {
			continue
		}
		end := []model.End{model.EndFailed, model.EndFailed, model.EndLost}[k.rng.IntN(3)]
		add(k.clock(i, 11, 0, 90), func(at time.Time) { k.swap(at, part, end) })
	}
	if k.bladeWear > 0 {
		k.shortBlades(add)
	}
}

// shortBlades wears blades out before the rule of thumb, as filled strands do.
func (k *keeper) shortBlades(add func(time.Time, func(time.Time))) {
	check := k.proc("blade-check")
	if check == nil || len(check.Intervals) == 0 {
		return
	}
	lasts := check.Intervals[0].Low * k.bladeWear
	from := k.use.at(model.Cuts, k.cal.day(k.firstDay()))
	for i := k.firstDay(); i < k.cal.index(k.cal.now)-8; i++ {
		at := k.clock(i, 12, 0, 60)
		if k.use.at(model.Cuts, at)-from < lasts || !k.cal.workday(i) {
			continue
		}
		from, lasts = k.use.at(model.Cuts, at), check.Intervals[0].Low*k.bladeWear*k.between(0.8,
			1.2)
		add(at, func(at time.Time) { k.swap(at, "blade", model.EndWorn) })
	}
}

// swap logs a part renewed on its own, unless a pinned gauge forbids it.
func (k *keeper) swap(at time.Time, part string, end model.End) {
	f, ok := k.renewed(at, part, end)
	if ok {
		k.fact(at, f...)
	}
}

// renewed are the facts of a renewed part: the swap, the gauges it resets, one less in the drawer.
func (k *keeper) renewed(at time.Time, part string, end model.End) ([]model.Fact, bool) {
	s := &model.Swapped{Part: part, End: end}
	for _, p := range k.procs {
		if p.Part != part {
			continue
		}
		if k.left(p.ID, at) {
			return nil, false
		}
		s.Resets = append(s.Resets, p.ID)
	}
	slices.Sort(s.Resets)
	return []model.Fact{{Kind: model.KindSwap, Swap: s}, taken(part, 1)}, true
}

// taken is a part or supply taken out of the drawer.
func taken(part string, n float64) model.Fact {
	return model.Fact{Kind: model.KindStock, Stock: &model.StockMove{Part: part, Change: -n,
		Why: "used"}}
}

// care does a procedure and gives the time at which it is done; the same time where it is left.
func (k *keeper) care(at time.Time, p *model.Procedure) time.Time {
	if k.leaves(p, at) {
		return at
	}
	minutes := math.Round(10*max(p.HandsOn, 0.5)*k.between(0.9, 1.7)) / 10
	at = at.Add(time.Duration(minutes * float64(time.Minute)))
	done := &model.CareDone{Procedure: p.ID, Outcome: model.OutcomeDone, CountsAs: k.counts(p),
		Minutes: minutes, Found: k.found(p)}
	facts := []model.Fact{{Kind: model.KindCare, Care: done}}
	renew := p.Kind == model.Swap && slices.Contains(model.RenewableParts, p.Part) &&
		k.rng.Float64() < 0.9
	if renew {
		end := []model.End{model.EndWorn, model.EndWorn, model.EndWorn, model.EndEarly,
			model.EndFailed}[k.rng.IntN(5)]
		if more, ok := k.renewed(at, p.Part, end); ok {
			facts = append(facts, more...)
		}
	}
	for _, s := range p.Supplies {
		if s.Only.Zero() && s.Part != p.Part {
			facts = append(facts, taken(s.Part, s.Quantity))
		}
	}
	facts = append(facts, k.values(p)...)
	if at.After(k.cal.now) {
		return at
	}
	k.fact(at, facts...)
	k.hands += minutes
	return at
}

// found is how a look met its part, by a draw of its own: on some machines a part is nearly always
// clean, on others often not.
func (k *keeper) found(p *model.Procedure) string {
	if !slices.ContainsFunc(p.Steps, func(s model.Step) bool {
		return slices.ContainsFunc(s.Options, func(o model.Option) bool {
			return o.Found == model.MetClean
		})
	}) {
		return ""
	}
	h := fnv.New64a()
	which, nth := []byte(k.id+p.ID), []byte(strconv.Itoa(len(k.out)))
	_, _ = h.Write(which)
	clean := 0.5 + 0.5*float64(h.Sum64()%11)/10
	_, _ = h.Write(nth)
	switch r := float64(h.Sum64()%1000) / 1000; {
	case r < clean:
		return model.MetClean
	case r < clean+0.6*(1-clean):
		return model.MetExpected
	}
	return model.MetLate
}

// closed books a session in which something was done.
func (k *keeper) closed(hands float64, did []model.Action) {
	var items []model.BlockRef
	for _, a := range did {
		for _, f := range a.Facts {
			if f.Care != nil {
				items = append(items, model.BlockRef{Kind: model.BlockCare, ID: f.Care.Procedure})
			}
		}
	}
	if len(items) == 0 {
		return
	}
	k.sits++
	id := k.id + "-" + strconv.Itoa(k.sits)
	a := model.Action{At: k.last, By: "LN", Machine: k.id, Session: id, Ordinal: 1,
		Facts: []model.Fact{
			{Kind: model.KindBegun, Begun: &model.Begun{Title: "care session", Items: items,
				Features: k.m.Features}},
			{Kind: model.KindClosed, Closed: &model.Closed{State: "ready", Hands: math.Round(hands),
				Waited: math.Round(k.between(15, 40))}}}}
	for i, f := range a.Facts {
		e := model.Entry{ID: id + "-" + strconv.Itoa(i), At: k.last, By: a.By, Machine: k.id,
			Session: id, Ordinal: i + 1, Action: id, Fact: f}
		if err := k.bench.Apply(e); err != nil {
			// the generator keeps to the order of time, held by a test
			panic("demo: " + err.Error())
		}
	}
	k.out = append(k.out, a)
}

// leaves tells whether the procedure, or one it counts as, is to be left as it is.
func (k *keeper) leaves(p *model.Procedure, at time.Time) bool {
	return k.left(p.ID, at) || slices.ContainsFunc(p.CountsAs, func(id string) bool {
		return k.left(id, at)
	})
}

func (k *keeper) left(id string, at time.Time) bool {
	last, is := k.pins[id]
	return is && !at.Before(last)
}

// counts are the procedures that one also does, of those this machine has.
func (k *keeper) counts(p *model.Procedure) []string {
	var out []string
	for _, id := range p.CountsAs {
		if k.proc(id) != nil {
			out = append(out, id)
		}
	}
	return out
}

func (k *keeper) proc(id string) *model.Procedure { return model.ByID(k.procs, id) }
