package life

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"time"

	"bench/oilcan/model"
)

// Spares forecasts what a whole bench will want from the drawer.
type Spares struct {
	now    time.Time
	uses   map[string][]use
	tenths map[string]bool // reckoned in tenths, because some use takes less than one
	known  map[asked]Demand
	fits   map[string]int // part -> machines in use that wear it
	rates  map[string]Rate
}

// asked is what a demand was reckoned for, so that it is reckoned once.
type asked struct {
	part string
	days float64
}

// lived is what the lives of a part were reckoned for.
type lived struct {
	part      string
	meter     model.Meter
	low, high float64
}

// use is one procedure on one machine that takes something from the drawer.
type use struct {
	f        *Forecaster
	g        model.Gauge
	quantity float64
	// renewed when it is worn, by its lives; nil: taken each time the procedure is due
	worn  *lived
	lives *[len(classes)]Weibull // of what is renewed when worn
}

// unasked is what is taken of a part whose renewals no gauge counts (from memory): half a swap a
// year a machine, and not sure of it.
var unasked = Rate{Shape: 0.5, Days: 365}

// EmptyShare is the probability of an empty drawer within the lead time that is put up with (common
// practice).
const EmptyShare = 0.05

const (
	usualLead = 14  // days a delivery takes where the drawer was told none (from memory)
	lateShare = 0.1 // of the deliveries that come late (from memory) …
	lateBy    = 0.5 // … by so much of their time
	askWithin = 730 // days within which an order-by date is looked for
)

// Advice is what to keep of one part or supply, and when to order.
type Advice struct {
	Part   string
	Count  *float64 // nil: not counted
	Lead   int      // days a delivery takes
	Expect float64  // how many are wanted within the lead time, on average
	// probability of finding the drawer empty within the lead time; 0 where not counted
	Empty float64
	Keep  int // the smallest stock that keeps that probability at most the share asked for
	// pieces to order, whole packs; 0 where there is nothing to order or it is not counted
	Order int
	// the last day for it, not before now; nil: not within two years, or not counted
	OrderBy *time.Time
	Why     string // in words
}

// Orders says of everything kept in a bench's drawer what to keep and when to order it.
func Orders(b *model.Bench, procs []*model.Procedure, now time.Time) []Advice {
	s := NewSpares(b.ByID(), procs, now)
	var out []Advice
	for _, part := range model.SupplyNames {
		if st := b.Drawer[part]; st != nil {
			out = append(out, s.Advise(*st, EmptyShare))
		}
	}
	return out
}

// NewSpares prepares a bench: machines out of use or retired want nothing but their lives count. The
// prints booked on the others count as use.
func NewSpares(ms []*model.Machine, procs []*model.Procedure, now time.Time) *Spares {
	s := &Spares{now: now, uses: map[string][]use{}, tenths: map[string]bool{},
		known: map[asked]Demand{}, fits: map[string]int{}, rates: map[string]Rate{}}
	byID := map[string]*model.Procedure{}
	for _, p := range procs {
		byID[p.ID] = p
	}
	for _, m := range ms {
		if m.OutOfUse || m.Retired {
			continue
		}
		f := NewForecaster(m, now)
		fits := map[string]bool{}
		for _, g := range f.Gauges(procs) {
			s.takes(f, g, byID[g.Item], fits)
		}
		for part := range fits {
			s.fits[part]++
		}
	}
	s.believe(ms)
	s.countSwaps(ms, procs)
	return s
}

// takes notes what a procedure takes from the drawer on a machine.
func (s *Spares) takes(f *Forecaster, g model.Gauge, p *model.Procedure, fits map[string]bool) {
	for part, n := range quantities(f.m, p) {
		fits[part] = true
		if !g.Measured {
			continue
		}
		if n < 1 {
			s.tenths[part] = true
		}
		u := use{f: f, g: g, quantity: n}
		if part == p.Part && g.Meter != model.Days {
			u.worn = &lived{part, g.Meter, g.Low, g.High}
		}
		s.uses[part] = append(s.uses[part], u)
	}
}

// believe sets the lives of what is renewed when worn, once for all machines that have the same
// band. What is in a machine and sound tells how long such parts last even where nobody logged a
// swap of it.
func (s *Spares) believe(ms []*model.Machine) {
	sound := map[lived][]Observed{}
	for _, us := range s.uses {
		for _, u := range us {
			if u.worn == nil || !(u.g.Used > 0) || u.g.AtMost {
				continue
			}
			p := u.f.m.Parts[u.worn.part]
			if p != nil {
				if _, ok := inNow(u.f.m, p, u.worn.meter, s.now); ok {
					continue // observed with the lives
				}
			}
			sound[*u.worn] = append(sound[*u.worn], Observed{Used: u.g.Used, Censored: true})
		}
	}
	known := map[lived]*[len(classes)]Weibull{}
	for _, us := range s.uses {
		for i := range us {
			key := us[i].worn
			if key == nil {
				continue
			}
			if known[*key] == nil {
				lives := append(Observe(ms, key.part, key.meter, s.now), sound[*key]...)
				l := NewLifetime(lives, model.Band{Low: key.low, High: key.high})
				cut := l.Life.cut()
				known[*key] = &cut
			}
			us[i].lives = known[*key]
		}
	}
}

// quantities are what a procedure takes on a machine. What an answer decides counts only for the
// part the procedure renews, at its most.
func quantities(m *model.Machine, p *model.Procedure) map[string]float64 {
	fs := model.NewFeatureSet(m.Features...)
	sure, maybe := map[string]float64{}, map[string]float64{}
	for _, x := range p.Supplies {
		if !x.Only.OnMachine(fs, m.Settings) {
			continue
		}
		if x.Only.Step == "" {
			sure[x.Part] += x.Planned(p.ID, m.Settings)
		} else if x.Part == p.Part {
			maybe[x.Part] = max(maybe[x.Part], x.Planned(p.ID, m.Settings))
		}
	}
	for part, q := range maybe {
		sure[part] += q
	}
	maps.DeleteFunc(sure, func(_ string, q float64) bool { return !(q > 0) })
	return sure
}

// countSwaps counts how often parts whose renewal no gauge tells were swapped, over all machines.
func (s *Spares) countSwaps(ms []*model.Machine, procs []*model.Procedure) {
	for _, part := range model.RenewableParts {
		if len(s.uses[part]) > 0 {
			continue
		}
		r, machines := unasked, 0.0
		for _, m := range ms {
			p, used := m.Parts[part], slices.ContainsFunc(procs, func(x *model.Procedure) bool {
				return x.Part == part && x.Fits(model.NewFeatureSet(m.Features...))
			})
			if p == nil && !used {
				continue
			}
			if !m.OutOfUse && !m.Retired {
				machines++
			}
			if p != nil {
				r = r.Seen(float64(len(p.Lives)), 0)
			}
			r = r.Seen(0, max(0, s.now.Sub(m.Added).Hours()/24))
		}
		if machines > 0 {
			s.rates[part] = Rate{r.Shape, r.Days / machines} // of all machines in use together
			s.fits[part] = int(machines)
		}
	}
}

// Need is how many of a part or supply may be wanted within so many days from now, in pieces or
// whole units of the drawer; what takes less than one is reckoned in tenths and rounded up in the
// end.
func (s *Spares) Need(part string, days float64) Demand {
	key := asked{part, days}
	if d, ok := s.known[key]; ok {
		return d
	}
	grain := 1.0
	if s.tenths[part] {
		grain = 10
	}
	d := s.wantedOf(s.uses[part], days, grain)
	if r, ok := s.rates[part]; ok {
		d = d.And(r.Over(days))
	}
	d = d.every(int(grain))
	s.known[key] = d
	return d
}

// stopping are the parts without which a machine stands still: one on the shelf for three machines
// that wear it (common practice).
var stopping = []string{"nozzle", "blade", "sock", "fan", "tube"}

// until is how many of a part may be wanted before a delivery ordered in so many days is there:
// most come in time, some do not.
func (s *Spares) until(part string, days, lead float64) Demand {
	return mixed([]Demand{s.Need(part, days+lead), s.Need(part, days+math.Ceil(lead*(1+lateBy)))},
		[]float64{1 - lateShare, lateShare})
}

// Advise says what to keep of a part and when to order it, so that the probability of finding the
// drawer empty within the lead time is at most a share (0 … 1; 0.05 is usual). The order-by date is
// the last day on which an order still arrives before that probability is passed, or before the
// drawer's own minimum is more likely reached than not.
func (s *Spares) Advise(stock model.Stock, share float64) Advice {
	a := Advice{Part: stock.Part, Count: stock.Count, Lead: stock.Lead}
	note := ""
	if a.Lead <= 0 {
		a.Lead, note = usualLead, fmt.Sprintf("; lead time not told, %d days taken (from memory)",
			usualLead)
	}
	lead := float64(a.Lead)
	need := s.until(stock.Part, 0, lead)
	a.Expect, a.Keep = need.Mean(), need.Stock(share)
	if slices.Contains(stopping, stock.Part) {
		a.Keep = max(a.Keep, (s.fits[stock.Part]+2)/3)
	}
	if stock.Count == nil {
		a.Why = "not counted" + note
		return a
	}
	count := int(math.Floor(*stock.Count))
	a.Empty = need.Short(count)
	if days, ok := s.orderIn(stock, count, lead, share); ok {
		by := model.AddDays(s.now, days, s.now)
		a.OrderBy = &by
		a.Order = s.order(stock, count, lead, share, a.Keep)
	}
	a.Why = s.why(stock, a, count) + note
	return a
}

// why is an advice in words.
func (s *Spares) why(stock model.Stock, a Advice, count int) string {
	expect := "hardly any"
	if a.Expect >= 0.1 {
		expect = number(math.Round(a.Expect*10) / 10)
	}
	if stock.Minimum > 0 && float64(count) <= stock.Minimum {
		return fmt.Sprintf("%s in stock, at the minimum of %s; %s wanted within %s",
			number(*stock.Count), number(stock.Minimum), expect, model.Counted(a.Lead, "day"))
	}
	return fmt.Sprintf("%s wanted within %s; %.0f %% that %d are not enough", expect,
		model.Counted(a.Lead, "day"), 100*a.Empty, count)
}

// orderIn is in how many days at the latest to order; false where not within two years.
func (s *Spares) orderIn(stock model.Stock, count int, lead, share float64) (float64, bool) {
	late := func(days float64) bool {
		if s.until(stock.Part, days, lead).Short(count) > share {
			return true
		}
		least := int(math.Ceil(stock.Minimum))
		return stock.Minimum > 0 &&
			(count <= least || s.Need(stock.Part, days).Short(count-least-1) > 0.5)
	}
	if late(0) {
		return 0, true
	}
	if !late(askWithin) {
		return 0, false
	}
	lo, hi := 0, askWithin
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; late(float64(mid)) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return float64(lo), true
}

// order is how many to order: what two lead times want, the stock to keep and one over the minimum,
// in whole packs.
func (s *Spares) order(stock model.Stock, count int, lead, share float64, keep int) int {
	want := max(s.Need(stock.Part, 2*lead).Stock(share), keep, int(math.Ceil(stock.Minimum))+1)
	n := max(1, want-count)
	if pack := stock.Pack; pack > 1 {
		n = (n + pack - 1) / pack * pack
	}
	return n
}
