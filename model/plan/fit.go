package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bench/oilcan/model"
)

// Gain is a chance that care takes away: that something is past its band by the next care.
type Gain struct {
	Done   []string // ids of procedures; one of them done takes it away
	Chance float64  // 0 … 1
	Guards bool     // it guards a person: such a gain comes before all others
}

// Time is a choice of care to be made for the minutes there are.
type Time struct {
	Minutes float64  // of hands and waiting together
	Hands   bool     // Minutes are of hands alone; waiting is free
	Must    []string // in, whatever they take
	// of these as much as goes; where two choices are worth the same the first in this list
	May   []string
	Gains []Gain // what doing them is worth
}

// Fit is what a choice for the minutes there are is worth.
type Fit struct {
	Minutes float64 `json:"minutes"` // there were
	Gained  float64 `json:"gained"`  // summed chance of being past the band that is taken away
	// no choice takes away more; Gained where the choice is proven best
	Bound   float64 `json:"bound"`
	Optimal bool    `json:"optimal"` // the choice is proven best
	Over    bool    `json:"over"`    // what must be in takes more than the minutes there are

	Kept []string `json:"-"` // what must be in, then what was taken, in the order given
}

// exactMay is up to how many candidates a choice is always exact.
const exactMay = 20

// FitTime chooses what takes away most: first of the gains that guard a person, then of all, then
// as many candidates as go, then in the least time. The minutes are those of the whole session,
// proofs, bookends and set-up actions included, which items share; a set goes where any order of it
// does. Up to exactMay candidates the choice is exact, beyond that it comes with a bound; more time
// never buys less. The plan is empty where nothing fits. Errors are those of Assemble.
func FitTime(get func(id string) *model.Procedure, fs model.FeatureSet, settings map[string]string,
	t Time, r Request) (*Plan, error) {
	f, err := newFitting(get, fs, settings, t, r)
	if err != nil {
		return nil, err
	}
	fit := f.choose()
	p, _, err := Assemble(get, fs, settings, fit.Kept, r)
	if err != nil {
		return nil, err
	}
	if measured(p, t.Hands) > t.Minutes {
		p = shorter(p, get, fs, settings, t, fit, r)
	}
	fit.Over = measured(p, t.Hands) > t.Minutes
	p.Fit = fit
	return p, nil
}

// shorter gives the order of a choice that takes the fewest minutes where the best order takes more
// than there are. Its order is proven no better than the best one.
func shorter(p *Plan, get func(id string) *model.Procedure, fs model.FeatureSet,
	settings map[string]string, t Time, fit *Fit, r Request) *Plan {
	r.by = byMinutes
	if t.Hands {
		r.by = byHands
	}
	q, _, err := Assemble(get, fs, settings, fit.Kept, r)
	if err != nil || measured(q, t.Hands) >= measured(p, t.Hands) {
		return p
	}
	q.Bound, q.Optimal = p.Bound, p.Optimal && q.Cost == p.Cost
	return q
}

// measured is what of a plan counts.
func measured(p *Plan, hands bool) float64 {
	if hands {
		return p.HandsOn
	}
	return p.Minutes()
}

// measure is what an order is the best by.
type measure int

const (
	byCost    measure = iota // set-up hands and pick-ups
	byMinutes                // hands and waiting
	byHands
)

// fitting is a choice under way. Jobs are numbered as in the session of all that could join.
type fitting struct {
	t      Time
	s      *least
	at     map[string]int
	must   set
	all    []candidate
	may    []candidate // those under way
	counts []set       // by job: the jobs that another one being done does too
	proofs []set       // by job: the proofs it names

	counting, counted set      // jobs that do another one too, and those that another one does
	proof             set      // jobs that are proofs
	ends              set      // bookends
	own               []uint32 // quarter minutes of each job, without what goes into a wait
	fill              []uint32 // by job: what does where the session cools down and pulls the plug
	gains             []gain
	gain              []set // by job: what doing it gains
	asked             set   // jobs of candidates
	limit             uint32
	stages            []stage

	byRatio []int // candidates by what they are worth a minute of their own, the most first
	nothing set   // jobs that take no time of their own
}

// candidate is one procedure that may be in.
type candidate struct {
	id    string
	job   int
	jobs  set // with the proofs it may bring
	done  set // with what they count for
	gains set
	worth int64
	level uint32 // see fitting.level
	// it leaves a state behind, bears on the one believed in, or does what others do: they may take
	// less with it
	loose bool
}

// gain is a Gain with its weight: one number, so that one that guards outweighs all that do not,
// and any chance the number of candidates done.
type gain struct {
	weight int64
	chance float64
}

// The weights: chances in ten-thousandths, so that sums are exact.
const (
	perChance  = 10_000
	countRoom  = 2 * maxJobs
	guardsRoom = 2 * maxJobs * perChance
)

// newFitting numbers everything that could be in the session.
func newFitting(get func(id string) *model.Procedure, fs model.FeatureSet,
	settings map[string]string, t Time, r Request) (*fitting, error) {
	procs, err := r.reach(get, fs, slices.Concat(t.Must, t.May))
	if err != nil {
		return nil, err
	}
	r.Features, r.Settings, r.Procedures = fs, settings, procs
	m, err := compile(r, false)
	if err != nil {
		return nil, err
	}
	f := &fitting{t: t, at: map[string]int{},
		limit: uint32(min(tooLong-1, max(0, math.Floor(t.Minutes/quarter))))}
	by := byMinutes
	if t.Hands {
		by = byHands
	}
	cold := r.Start[model.Heat] == "" && !m.stone().empty()
	if f.s, err = newLeast(m, r, by, cold); err != nil {
		return nil, err
	}
	for i, p := range m.procs {
		f.at[p.ID] = i
	}
	f.jobs(m, by, cold)
	if err := f.worths(); err != nil {
		return nil, err
	}
	f.candidates(m)
	return f, nil
}

// reach gives every procedure that could be in a session of some of the ids, with what opens and
// closes it.
func (r Request) reach(get func(id string) *model.Procedure, fs model.FeatureSet, ids []string) (
	[]*model.Procedure, error) {
	in := map[string]*model.Procedure{}
	for _, id := range ids {
		procs, err := r.gather(get, fs, []string{id})
		if err != nil {
			return nil, err
		}
		for _, p := range procs {
			in[p.ID] = p
		}
	}
	for _, id := range r.bookends() {
		if q := get(id); q != nil && q.Fits(fs) {
			in[id] = q
		}
	}
	return sorted(in), nil
}

// jobs takes over what each job takes, counts for and brings.
func (f *fitting) jobs(m *session, by measure, cold bool) {
	n := len(m.procs)
	f.fill = make([]uint32, n)
	if by == byMinutes && !cold {
		f.fill = m.coolFills()
	}
	f.own, f.counts, f.proofs = make([]uint32, n), make([]set, n), make([]set, n)
	for i, p := range m.procs {
		f.own[i] = uint32(p.HandsOn / quarter)
		if by == byMinutes {
			f.own[i] += uint32(p.Waiting / quarter)
		}
		f.own[i] -= f.fill[i]
		for _, id := range p.CountsAs {
			if j, ok := f.at[id]; ok && j != i {
				f.counts[i] = f.counts[i].with(j)
				f.counting, f.counted = f.counting.with(i), f.counted.with(j)
			}
		}
		for _, id := range p.Proof {
			if j, ok := f.at[id]; ok {
				f.proofs[i] = f.proofs[i].with(j)
			}
		}
		if p.Kind == model.Proof {
			f.proof = f.proof.with(i)
		}
	}
	for _, id := range Bookends {
		if i, ok := f.at[id]; ok {
			f.ends = f.ends.with(i)
		}
	}
	for _, id := range f.t.Must {
		if i, ok := f.at[id]; ok {
			f.must = f.must.with(i)
		}
	}
}

func (f *fitting) worths() error {
	if len(f.t.Gains) > maxJobs {
		return errTooMany
	}
	f.gain = make([]set, len(f.own))
	for n, g := range f.t.Gains {
		w := int64(math.Round(min(1, max(0, g.Chance))*perChance)) * countRoom
		if g.Guards {
			w *= guardsRoom
		}
		f.gains = append(f.gains, gain{w, g.Chance})
		for i := range f.gain {
			for _, id := range g.Done {
				if j, ok := f.at[id]; ok && f.done((set{}).with(i)).has(j) {
					f.gain[i] = f.gain[i].with(n)
				}
			}
		}
	}
	return nil
}

// done is what doing some jobs does, what they count for included.
func (f *fitting) done(jobs set) set {
	done := jobs
	for !jobs.empty() {
		done = done.or(f.counts[jobs.next()])
	}
	return done
}

// candidates lists what may be in and can be done today, what is worth most a minute first.
func (f *fitting) candidates(m *session) {
	seen := f.must
	for _, id := range f.t.May {
		if i, ok := f.at[id]; ok {
			f.asked = f.asked.with(i)
		}
	}
	for _, id := range f.t.May {
		i, ok := f.at[id]
		if !ok || seen.has(i) {
			continue
		}
		seen = seen.with(i)
		c := candidate{id: id, job: i}
		for todo := (set{}).with(i); !todo.empty(); {
			j := todo.next()
			c.jobs = c.jobs.with(j)
			c.gains = c.gains.or(f.gain[j])
			c.loose = c.loose || len(m.procs[j].Leave) > 0 || f.s.p.stone.has(j) ||
				!f.counts[j].empty()
			todo = todo.or(f.proofs[j].minus(c.jobs))
		}
		c.done = f.done(c.jobs)
		c.worth = f.weigh(c.gains) + int64(c.done.and(f.asked).len())
		f.all = append(f.all, c)
	}
	slices.SortStableFunc(f.all, func(a, b candidate) int { return f.ratio(&b, &a) })
	for i, own := range f.own {
		if own == 0 {
			f.nothing = f.nothing.with(i)
		}
	}
}

// ratio compares what two candidates are worth a minute of their own.
func (f *fitting) ratio(a, b *candidate) int {
	return cmp.Compare(float64(a.worth)/float64(max(1, f.own[a.job])),
		float64(b.worth)/float64(max(1, f.own[b.job])))
}

func (f *fitting) weigh(gains set) int64 {
	sum := int64(0)
	for !gains.empty() {
		sum += f.gains[gains.next()].weight
	}
	return sum
}

func (f *fitting) chance(gains set) float64 {
	sum := 0.0
	for !gains.empty() {
		sum += f.gains[gains.next()].chance
	}
	return sum
}

// close makes the session of some jobs, as gather does: without what another does too, with the
// proofs.
func (f *fitting) close(jobs set) set {
	jobs = f.drop(jobs)
	for todo := jobs; !todo.empty(); {
		more := f.proofs[todo.next()].minus(jobs)
		jobs, todo = jobs.or(more), todo.or(more)
	}
	return f.drop(jobs)
}

// drop takes out what another job does too, as dropCounted does.
func (f *fitting) drop(jobs set) set {
	doer := func(of, but int) int {
		for by := jobs.and(f.counting); !by.empty(); {
			if i := by.next(); i != of && i != but && f.counts[i].has(of) {
				return i
			}
		}
		return -1
	}
	for again := true; again; {
		again = false
		for rest := jobs.and(f.counted); !rest.empty(); {
			j := rest.next()
			if by := doer(j, -1); by >= 0 && doer(by, j) < 0 {
				jobs, again = jobs.without(j), true
			}
		}
	}
	return jobs
}

// minutes is what a closed session takes in the order that takes least, quarter minutes; tooLong
// where no order does it.
func (f *fitting) minutes(jobs set) uint32 {
	own, unfilled := f.sum(jobs), f.unfilled(jobs)
	whole := f.s.setUp(jobs.or(f.ends), true)
	if whole != tooLong {
		whole += own + f.sum(f.ends.minus(jobs))
		if !jobs.meets(f.s.dark) {
			whole += unfilled
		}
	}
	own += unfilled
	if jobs.meets(f.proof) {
		return whole
	}
	if shut := f.s.setUp(jobs, false); shut != tooLong && shut+own <= whole {
		return shut + own
	}
	return whole
}

// unfilled is what of some jobs would go into the cooling down.
func (f *fitting) unfilled(jobs set) uint32 {
	sum := uint32(0)
	for !jobs.empty() {
		sum += f.fill[jobs.next()]
	}
	return sum
}

func (f *fitting) sum(jobs set) uint32 {
	sum := uint32(0)
	for !jobs.empty() {
		sum += f.own[jobs.next()]
	}
	return sum
}

// kept names what was taken: what must be in, then the candidates that are done, by whatever does
// them, so that the session of all named is the one chosen.
func (f *fitting) kept(l *label) []string {
	asked, done := l.asked, f.done(l.jobs)
	ids := slices.Clone(f.t.Must)
	for _, id := range f.t.May {
		i, ok := f.at[id]
		if !ok || slices.Contains(ids, id) || !asked.has(i) &&
			(!done.has(i) || f.close(asked.with(i)) != l.jobs) {
			continue
		}
		asked = asked.with(i)
		ids = append(ids, id)
	}
	return ids
}

// errTooMany is given where more could be in a session than it holds.
var errTooMany = fmt.Errorf("one session holds at most %d procedures: choose fewer", maxJobs)
