// Package demo invents a bench: six machines of different kinds and nine months of their history,
// made by a seeded generator from a simple model of use (weekly rhythm, holidays, bursts of work,
// weeks of many colours) and of habit (sessions every few weeks with lapses, a walk past each
// morning, parts swapped when they give out). Nothing in it is anybody's: names, figures and
// stories are invented.
//
// The person in it looks at the same gauges as anybody who uses the program, so the history fits
// whatever procedures the library holds. A few gauges are pinned so that the bench shows each
// condition at the moment it is opened.
package demo

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"strconv"
	"time"

	"bench/oilcan/model"
)

// Span is how far back the history reaches.
const Span = 270 // days

// Actions makes the invented history up to now as a person's actions in the order of time, for a
// store to append. The same library, time and seed give the same actions. lib may hold set-up
// actions; they are left out.
func Actions(lib []*model.Procedure, now time.Time, seed uint64) []model.Action {
	now = now.Truncate(time.Second)
	lib = slices.SortedStableFunc(slices.Values(lib), func(a, b *model.Procedure) int {
		return cmp.Compare(a.ID, b.ID)
	})
	cal := newCalendar(now, rand.New(rand.NewPCG(seed, 0)))
	var out []model.Action
	for i, p := range profiles {
		k := newKeeper(p, lib, cal, rand.New(rand.NewPCG(seed, uint64(i)+1)))
		k.luck = rand.New(rand.NewPCG(seed, uint64(i)+101))
		out = append(out, k.live()...)
	}
	byTime(out)
	return stocked(out, cal)
}

// byTime orders actions by when they happened; those at the same moment keep their order.
func byTime(as []model.Action) {
	slices.SortStableFunc(as, func(a, b model.Action) int { return a.At.Compare(b.At) })
}

// keeper lives through one machine's history and folds it as it goes, so that each decision rests
// on the gauges of its day.
type keeper struct {
	profile
	id    string
	rng   *rand.Rand
	luck  *rand.Rand // of prints alone
	cal   *calendar
	use   *use
	procs []*model.Procedure // those that fit, set-up actions left out, in the order of a session
	bench *model.Bench
	m     *model.Machine
	pins  map[string]time.Time // procedure -> last time, after which nobody does it
	out   []model.Action
	last  time.Time
	usual map[string]float64 // quantity -> what this machine reads
	hands float64            // minutes of care so far
	sits  int                // sessions closed
}

func newKeeper(p profile, lib []*model.Procedure, cal *calendar, rng *rand.Rand) *keeper {
	k := &keeper{profile: p, rng: rng, cal: cal, bench: model.NewBench(),
		pins: map[string]time.Time{}, usual: map[string]float64{}}
	k.id = "demo-" + p.name
	features, err := model.ParseFeatures(p.features)
	if err != nil {
		panic("demo: " + p.name + ": " + err.Error()) // our own table, held by a test
	}
	fs := model.NewFeatureSet(features...)
	for _, q := range lib {
		if q.Kind != model.SetUp && q.Kind != model.Bookend && q.Fits(fs) {
			k.procs = append(k.procs, q)
		}
	}
	slices.SortStableFunc(k.procs, func(a, b *model.Procedure) int {
		return cmp.Compare(a.RungOn(fs, nil).Order(), b.RungOn(fs, nil).Order())
	})
	k.use = newUse(p, cal, rng)
	k.fact(cal.back(float64(p.added)),
		model.Fact{Kind: model.KindMachine, Machine: &model.MachineFact{
			ID: k.id, Name: p.name, Features: features, Duty: p.duty}})
	k.m = k.bench.Machines[k.id]
	return k
}

// fact books one action, never before the one booked last, and folds it.
func (k *keeper) fact(at time.Time, facts ...model.Fact) {
	if len(facts) == 0 {
		return
	}
	if at.Before(k.last) {
		at = k.last
	}
	by := "LN"
	if k.rng.Float64() < 0.15 {
		by = "RB"
	}
	k.book(at, by, facts)
}

// book books an action in somebody's name.
func (k *keeper) book(at time.Time, by string, facts []model.Fact) {
	at = at.Truncate(time.Second)
	k.last = at
	k.out = append(k.out, model.Action{At: at, By: by, Machine: k.id, Facts: facts})
	action := strconv.Itoa(len(k.out))
	for i, f := range facts {
		e := model.Entry{ID: action + "-" + strconv.Itoa(i), At: at, By: by, Machine: k.id,
			Action: action, Fact: f}
		if f.Kind == model.KindStock {
			continue // the drawer is the whole bench's, see stocked
		}
		if err := k.bench.Apply(e); err != nil {
			// the generator keeps to the order of time, held by a test
			panic("demo: " + err.Error())
		}
	}
}

// event is something that happens at a time.
type event struct {
	at time.Time
	do func(at time.Time)
}

// live runs the history from the day the machine was added, and gives its actions.
func (k *keeper) live() []model.Action {
	var events []event
	add := func(at time.Time, do func(time.Time)) { events = append(events, event{at, do}) }
	if k.hoursWeek > 0 {
		k.pin()
		k.tellUnknown()
		k.readings(add)
		k.sessions(add)
		k.walks(add)
		k.mishaps(add)
		k.failures(add)
		k.pinned(add)
	}
	k.stories(add)
	slices.SortStableFunc(events, func(a, b event) int { return a.at.Compare(b.at) })
	for _, e := range events {
		if !e.at.After(k.last) { // a session took longer: one thing after the other
			e.at = k.last.Add(time.Minute)
		}
		if !e.at.After(k.cal.now) {
			e.do(e.at)
		}
	}
	return k.out
}

// between draws a number evenly from a range.
func (k *keeper) between(lo, hi float64) float64 { return lo + (hi-lo)*k.rng.Float64() }
