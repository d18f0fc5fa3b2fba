package verdict

import (
	"cmp"
	"slices"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
)

// Row is one gauge through one print. Before, Need and After are in the gauge's meter.
type Row struct {
	Gauge               model.Gauge
	Before, Need, After float64
	Word                Word
	Why                 string        // of Unknown: what is missing
	At                  time.Duration // of Reaches: about when, from the print's start
	Layer               int64         // and in which layer; 0: before the first
	// probability that the part fails within this print; nil: no own lives
	Fails *float64
	// what Fails rests on: own lives, alone or with the rule of thumb
	By string
	// probability that low is reached by its end, by the pace since the last reading; nil: no pace
	Likely *float64
	Swap   string // when to renew: Before, After, or "" for neither
	Reason string // of Swap: what speaks for it
	// about when its band's end is passed, from the print's start; 0: it is not
	EndAt time.Duration
	EndIn int64  // and in which layer
	Spare string // what the drawer gives for it; "" where nothing is renewed
}

// Whole tells that one print uses more than the whole band, so that even a new part does not last.
func (r *Row) Whole() bool { return r.Word != Unknown && r.Need > r.Gauge.High && r.Gauge.Measured }

// Renews tells whether a row is of a part that wears.
func (r *Row) Renews() bool { return r.Gauge.Part != "" }

// Result is one print with the gauges it meets, the worst first.
type Result struct {
	Print Print
	Rows  []Row
}

// Ask is what a verdict is asked for.
type Ask struct {
	Machine    *model.Machine
	Bench      []*model.Machine // whose parts' lives count; all of the bench
	Procedures []*model.Procedure
	Prints     []Print // in the order they are to be printed
	Unattended bool
	Now        time.Time
}

// Judge goes through the prints in order. Of each procedure's limits the one that fares worst in a
// print is given. What is to be done before a print is new in it, and in those after.
func Judge(a Ask) []Result {
	f := life.NewForecaster(a.Machine, a.Now)
	var all [][]*run
	for _, limits := range model.GaugesOfLimits(a.Machine, a.Procedures, a.Now) {
		var runs []*run
		for _, g := range limits {
			runs = append(runs, &run{g: g, used: g.Used, life: lifetime(&a, &g)})
		}
		all = append(all, runs)
	}
	out := make([]Result, len(a.Prints))
	for n := range a.Prints {
		out[n].Print = a.Prints[n]
		for _, runs := range all {
			row := worst(runs, &out[n].Print, f, &a)
			row.Spare = spare(&a, &row.Gauge)
			out[n].Rows = append(out[n].Rows, row)
		}
		slices.SortStableFunc(out[n].Rows, compare)
	}
	return out
}

// run is one limit of a gauge on its way through the prints.
type run struct {
	g       model.Gauge
	used    float64 // before the next print
	added   float64 // by the prints so far
	renewed bool
	lost    bool // what an earlier print added is not known
	life    *life.Lifetime
}

// helps tells whether a new part would be at most half as likely to fail in the print (from
// memory). Where wear-out is not shown a new one fails as easily as the old one, and renewing it
// before buys nothing.
func (u *run) helps(r *Row) bool {
	return r.Fails != nil && u.life.Life.Fails(0, r.Need) <= *r.Fails/2
}

// worst judges the next print by every limit of a procedure, and goes on to the one after it.
func worst(runs []*run, p *Print, f *life.Forecaster, a *Ask) Row {
	var out Row
	for i, u := range runs {
		if r := u.through(p, f, a); i == 0 || compare(r, out) < 0 {
			out = r
		}
	}
	for _, u := range runs {
		need, known := p.need(&u.g)
		if out.Swap == Before {
			u.used, u.renewed, u.lost = 0, true, false
		}
		u.lost = u.lost || !known
		u.used, u.added = u.used+need, u.added+need
	}
	return out
}

// through judges the next print by one limit.
func (u *run) through(p *Print, f *life.Forecaster, a *Ask) Row {
	r := Row{Gauge: u.g, Before: u.used, After: u.used}
	need, known := p.need(&u.g)
	switch {
	case !u.g.Measured:
		r.Word, r.Why = Unknown, cmp.Or(u.g.Why.String(), "nothing is counted")
		if u.g.Word == model.WordDue && !u.renewed {
			r.Word, r.Swap = Due, After
			if a.Unattended {
				r.Swap = Before
			}
		}
		return r
	case u.lost || !known:
		r.Word, r.Why = Unknown, "the material is not said"
		if u.g.Word == model.WordPast && !u.renewed {
			r.Word, r.Swap = Past, Before
		}
		return r
	}
	r.Need, r.After = need, u.used+need
	r.Word = wordOf(&u.g, &r, u.renewed)
	if r.Word == Reaches {
		r.At, r.Layer = p.where(&u.g, u.g.Low-u.used, need)
	}
	if u.life != nil && need > 0 {
		fails := u.life.Life.Fails(r.Before, need)
		r.Fails, r.By = &fails, string(u.life.By)
	}
	if r.Before <= u.g.High && r.After > u.g.High {
		r.EndAt, r.EndIn = p.where(&u.g, u.g.High-u.used, need)
	}
	r.Swap, r.Reason = swap(a, &r, u.helps(&r))
	if !u.renewed {
		r.Likely = likely(f, &u.g, u.added+need, a.Now)
	}
	return r
}

// wordOf names what becomes of a gauge. A finding makes it due whatever its meter says.
func wordOf(g *model.Gauge, r *Row, renewed bool) Word {
	switch {
	case r.Before > g.High:
		return Past
	case r.Before >= g.Low, g.Word == model.WordDue && !renewed:
		return Due
	case r.After >= g.Low:
		return Reaches
	}
	return Lasts
}

// swap says when to renew. Unattended: before, where less than Margin times the need is left to the
// low end (common practice). With somebody there: before what is past its band or would pass it in
// the print, else after what reaches it. Where by own lives it is likely to fail in the print, and
// a new one helps: before.
func swap(a *Ask, r *Row, helps bool) (when, why string) {
	g, margin := &r.Gauge, 1.0
	if r.Renews() {
		margin = Margin
	}
	switch {
	case r.Need <= 0: // the print does not touch it
		if r.Word == Lasts {
			return "", ""
		}
		return After, "this print does not use it"
	case r.Whole() && r.Before < g.Low: // renewing it before does not save the print
		return "", ""
	case helps && *r.Fails >= mayFail(a):
		return Before, "a new one is at most half as likely to fail"
	case r.Word == Past:
		return Before, "it is past its band"
	case r.After > g.High:
		return Before, "this print takes it past its band"
	case a.Unattended && r.Word == Due:
		return Before, "nobody is there, and it is due"
	case a.Unattended && g.Low-r.Before < margin*r.Need:
		return Before, "nobody is there, and less than a fifth more than it needs is left"
	case r.Word == Due || r.Word == Reaches:
		return After, "within its band to the end of this print"
	}
	return "", ""
}

// mayFail is the probability of failing in the print from which a part is renewed before it (from
// memory).
func mayFail(a *Ask) float64 {
	if a.Unattended {
		return 0.1
	}
	return 0.5
}

// lifetime is how long the part of a gauge lasts by this bench's own lives; nil where there are
// none, or the procedure only looks at the part.
func lifetime(a *Ask, g *model.Gauge) *life.Lifetime {
	if spare(a, g) == "" || !g.Measured || !(g.Low > 0) {
		return nil
	}
	l := life.NewLifetime(life.Observe(a.Bench, g.Part, g.Meter, a.Now),
		model.Band{Low: g.Low, High: g.High, Basis: g.Basis})
	if l.Ends == 0 {
		return nil
	}
	return &l
}

// spare is the part that a gauge's procedure renews; "" where it renews none.
func spare(a *Ask, g *model.Gauge) string {
	renews := func(p *model.Procedure) bool { return p.ID == g.Item && p.Kind == model.Swap }
	if g.Part == "" || !slices.ContainsFunc(a.Procedures, renews) {
		return ""
	}
	return g.Part
}

// likely is the probability that a gauge has reached low once so much is added, given what may have
// been used since its last reading.
func likely(f *life.Forecaster, g *model.Gauge, added float64, now time.Time) *float64 {
	if p := f.Pace(g); p == nil || !p.Own || g.Meter == model.Days {
		return nil
	}
	if q, ok := f.PassBefore(g, g.Low-added, now); ok {
		return &q
	}
	return nil
}

// compare orders rows: what is to be renewed before, then the worst word, then what comes nearest
// to its band.
func compare(a, b Row) int {
	first := func(r *Row) int {
		if r.Swap == Before {
			return 0
		}
		return 1
	}
	share := func(r *Row) float64 {
		if r.Gauge.Low > 0 {
			return r.After / r.Gauge.Low
		}
		return 0
	}
	return cmp.Or(cmp.Compare(first(&a), first(&b)), cmp.Compare(a.Word.rank(), b.Word.rank()),
		cmp.Compare(share(&b), share(&a)), cmp.Compare(a.Gauge.Item, b.Gauge.Item))
}

// Stop is a part to be renewed, and before which of several prints.
type Stop struct {
	Row   Row
	Print int // from 0
}

// Stops are the renewals that cannot wait, in the order of the prints; each gauge once.
func Stops(rs []Result) []Stop {
	var out []Stop
	seen := map[string]bool{}
	for n := range rs {
		for _, r := range rs[n].Rows {
			if r.Swap == Before && !seen[r.Gauge.Item] {
				seen[r.Gauge.Item] = true
				out = append(out, Stop{r, n})
			}
		}
	}
	return out
}

// Shown are the rows a person has to see: of the parts that wear those with a verdict, and of the
// rest what does not last.
func Shown(rows []Row) []Row {
	return slices.DeleteFunc(slices.Clone(rows), func(r Row) bool {
		switch {
		case r.Word == Lasts:
			return !r.Renews() || r.Need == 0
		case r.Word == Unknown:
			return true
		}
		return false
	})
}
