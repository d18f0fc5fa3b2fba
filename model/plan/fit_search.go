package plan

import (
	"cmp"
	"math"
	"slices"
)

// label is a choice made so far: of the candidates before some stage.
type label struct {
	asked   set // what must be in and the candidates taken
	jobs    set // the session of it
	gains   set
	worth   int64
	minutes uint32 // quarter minutes, all included
	least   uint32 // whatever is taken later, it takes no less
}

// stage is what bears on decisions still open from a candidate on.
type stage struct {
	// what bears on the minutes of others is open: a longer choice may yet become shorter
	loose bool
	jobs  set // that may still join
	drops set // that may still turn out to be done by another
	close set // whose being in changes what a later candidate takes
	gains set
	done  set
}

// newStages works the stages out from the last candidate back; the last stage has nothing open.
func (f *fitting) newStages() []stage {
	out := make([]stage, len(f.may)+1)
	for i := len(f.may) - 1; i >= 0; i-- {
		c, s := f.may[i], out[i+1]
		s.loose = s.loose || c.loose
		s.jobs, s.gains, s.done = s.jobs.or(c.jobs), s.gains.or(c.gains), s.done.or(c.done)
		s.drops = set{}
		for todo := s.jobs; !todo.empty(); { // one that is dropped brings back what it did too
			more := f.counts[todo.next()].minus(s.drops)
			s.drops, todo = s.drops.or(more), todo.or(more)
		}
		s.close = s.jobs.or(s.drops)
		for j := range f.counts {
			if f.counts[j].meets(s.close) {
				s.close = s.close.with(j)
			}
		}
		out[i] = s
	}
	return out
}

// labelKey is all of a label that later decisions depend on.
type labelKey struct{ needs, asked, jobs, gains, done set }

func (f *fitting) key(l *label, s *stage) labelKey {
	return labelKey{f.s.reduce(l.jobs.or(f.ends), s.jobs.or(s.drops)), l.asked.and(s.close),
		l.jobs.and(s.close),
		l.gains.and(s.gains), f.done(l.jobs).and(s.done).and(f.asked)}
}

// choose makes the choice, exact for each exactMay candidates, those worth most a minute first:
// only where all of them are in, the next ones are looked at. So more time never holds less.
func (f *fitting) choose() *Fit {
	best := f.label(f.must)
	if best.minutes == tooLong { // what is measured stone cold is left for another day
		best = f.label(f.must.minus(f.s.p.stone))
	}
	if best.minutes < tooLong {
		f.limit = max(f.limit, best.minutes)
	}
	base, proven := best, len(f.all) <= exactMay
	for rest := f.all; len(rest) > 0; {
		n := min(exactMay, len(rest))
		f.take(rest[:n])
		most := f.most(&best)
		best, rest = f.exact(best, most), rest[n:]
		if best.worth < most {
			break
		}
		proven = proven || len(rest) == 0
	}
	fit := &Fit{Minutes: f.t.Minutes, Gained: f.chance(best.gains), Optimal: proven,
		Kept: f.kept(&best)}
	if fit.Bound = fit.Gained; !proven {
		fit.Bound = max(fit.Gained, f.bound(&base))
	}
	return fit
}

// bound is the chance that no choice takes away more of: whatever set-up the most demanding of a
// choice needs alone, all of it needs at least.
func (f *fitting) bound(base *label) float64 {
	all, levels := slices.Clone(f.all), []uint32{}
	for i := range all {
		c := &all[i]
		c.level, c.worth = f.level(c.job), int64(math.Ceil(f.chance(c.gains)*perChance))
		levels = append(levels, c.level)
	}
	f.take(all)
	own, more := f.sum(base.jobs.minus(f.stages[0].drops)), int64(0)
	for _, level := range levels {
		if room := int64(f.limit) - int64(own) - int64(level); level < tooLong && room >= 0 {
			more = max(more, f.restAt(base, 0, room, level))
		}
	}
	return f.chance(base.gains) + float64(more)/perChance
}

// level is what set-up actions and bookends take at least where a job is done, whatever else is.
func (f *fitting) level(j int) uint32 {
	job := (set{}).with(j)
	whole := f.s.relaxed(job, true)
	if whole < tooLong {
		whole += f.sum(f.ends.without(j))
	}
	if f.proof.has(j) {
		return whole
	}
	return min(whole, f.s.relaxed(job, false))
}

// take begins with some candidates: what bears on others is decided on first, then what is worth
// most a minute.
func (f *fitting) take(cs []candidate) {
	f.may = slices.Clone(cs)
	rank := func(c *candidate) int {
		if c.loose {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(f.may, func(a, b candidate) int {
		return cmp.Compare(rank(&a), rank(&b))
	})
	f.byRatio = f.byRatio[:0]
	for i := range f.may {
		f.byRatio = append(f.byRatio, i)
	}
	slices.SortStableFunc(f.byRatio, func(i, k int) int { return f.ratio(&f.may[k], &f.may[i]) })
	f.stages = f.newStages()
}

// exact makes the best choice of the candidates under way, one by one in lists of choices so far,
// of which no other is worth as much in as little time (dynamic programming with lists: Kellerer,
// Pferschy and Pisinger 2004, 3.4), and of which none falls behind the best by its bound.
func (f *fitting) exact(base label, most int64) label {
	if all := f.label(base.asked.or(f.jobsOf())); all.minutes <= f.limit && all.worth == most {
		return all
	}
	best := f.greedy(base)
	list := []label{base}
	for i := range f.may {
		list = f.undominated(f.extend(list, i, &best), &f.stages[i+1])
	}
	return best
}

// label makes the label of what is asked for.
func (f *fitting) label(asked set) label {
	l := label{asked: asked, jobs: f.close(asked)}
	for rest := l.jobs; !rest.empty(); {
		l.gains = l.gains.or(f.gain[rest.next()])
	}
	l.worth = f.weigh(l.gains) + int64(f.done(l.jobs).and(f.asked).len())
	l.minutes = f.minutes(l.jobs)
	return l
}

// extend takes the next candidate into each choice, and not.
func (f *fitting) extend(list []label, i int, best *label) []label {
	c, s := &f.may[i], &f.stages[i+1]
	var out []label
	put := func(l label) {
		if l.minutes == tooLong && !s.loose {
			return
		}
		l.least = max(l.least, f.sum(l.jobs.minus(s.drops)))
		if !s.loose {
			l.least = max(l.least, l.minutes)
		}
		if l.least > f.limit || l.worth+f.rest(&l, i+1) < best.worth {
			return
		}
		if l.minutes <= f.limit && f.better(&l, best) {
			*best = l
		}
		out = append(out, l)
	}
	for _, l := range list {
		if !f.done(l.jobs).has(c.job) {
			more := f.label(l.asked.with(c.job))
			more.least = l.least
			put(more)
		}
		put(l)
	}
	return out
}

// better orders choices: worth, then minutes, then what comes first in the order given.
func (f *fitting) better(a, b *label) bool {
	if a.worth != b.worth || a.minutes != b.minutes {
		return a.worth > b.worth || a.worth == b.worth && a.minutes < b.minutes
	}
	for _, id := range f.t.May {
		if i, ok := f.at[id]; ok && a.asked.has(i) != b.asked.has(i) {
			return a.asked.has(i)
		}
	}
	return false
}

// rest is the most that candidates from i on can still add to a choice: those worth most a minute
// of their own, the last of them in part (Dantzig 1957).
func (f *fitting) rest(l *label, i int) int64 {
	return f.restAt(l, i, int64(f.limit)-int64(l.least), tooLong)
}

// restAt is the same of those alone that need no more of the machine than some level, in some
// quarter minutes.
func (f *fitting) restAt(l *label, i int, room int64, level uint32) int64 {
	sum := int64(0)
	done, free := f.done(l.jobs), f.stages[i].drops.or(f.nothing)
	adds := func(c *candidate) bool { return !c.gains.in(l.gains) || !c.done.and(f.asked).in(done) }
	for k := i; k < len(f.may); k++ {
		if c := &f.may[k]; free.has(c.job) && c.level <= level && adds(c) {
			sum += c.worth
		}
	}
	for _, k := range f.byRatio {
		c := &f.may[k]
		if k < i || free.has(c.job) || c.level > level || !adds(c) {
			continue
		}
		own := int64(f.own[c.job])
		if own > room {
			return sum + c.worth*room/own
		}
		room -= own
		sum += c.worth
	}
	return sum
}

// undominated drops each choice where another, for which all that may come is the same, is worth no
// less, in no more time.
func (f *fitting) undominated(list []label, s *stage) []label {
	groups := map[labelKey][]int{}
	out := list[:0:0]
	slices.SortStableFunc(list, func(a, b label) int { return f.order(&a, &b) })
next:
	for i := range list {
		l := &list[i]
		k := f.key(l, s)
		for _, j := range groups[k] {
			if list[j].minutes <= l.minutes && list[j].least <= l.least {
				continue next
			}
		}
		groups[k] = append(groups[k], i)
		out = append(out, *l)
	}
	return out
}

// order sorts the better choice first.
func (f *fitting) order(a, b *label) int {
	switch {
	case f.better(a, b):
		return -1
	case f.better(b, a):
		return 1
	}
	return 0
}

// jobsOf are the candidates under way.
func (f *fitting) jobsOf() set {
	var jobs set
	for _, c := range f.may {
		jobs = jobs.with(c.job)
	}
	return jobs
}

// most is what any choice is worth at most that begins with this one.
func (f *fitting) most(base *label) int64 {
	gains, done := base.gains, f.done(base.jobs)
	for _, c := range f.may {
		gains, done = gains.or(c.gains), done.or(c.done)
	}
	return f.weigh(gains) + int64(done.and(f.asked).len())
}

// greedy is a choice to begin with: what is worth most a minute as long as it goes.
func (f *fitting) greedy(base label) label {
	best := base
	for _, k := range f.byRatio {
		if l := f.label(best.asked.with(f.may[k].job)); l.minutes <= f.limit &&
			f.better(&l, &best) {
			best = l
		}
	}
	return best
}
