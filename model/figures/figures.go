// Package figures sums up what the care of a machine takes and what it is good for: minutes, parts
// and their cost by month, stops, care done in time, prints that failed, and how often they fail
// before and after care. It is pure: the machine, its entries and the time come in.
//
// # What it holds to
//
//   - Minutes are those of sessions, by their own times, in the month a session ended in.
//   - A part is used where the drawer says so, or by a swap that took none from it. It costs what
//     one costs now, as last told: nobody keeps what each was bought at.
//   - Hours printed are the growth of the meter, linear between its readings; the newest reading
//     ends them. Where nothing was read there are none, and nothing is said per hour.
//   - What an hour takes is hands and parts over hours of one span: from the first reading within
//     the months, or their begin, to the newest. What was done since then is in no hour yet.
//   - Care is in time where its gauge was not past its band as it was done. What was told from
//     memory, and what nobody knew the last time of, says nothing here.
//   - A rate is a count over hours, with the exact interval of a Poisson count (Poisson). Two rates
//     whose intervals overlap are not told apart: "not shown" is no "no". Care is often done because
//     something failed, so that before looks worse than it is; and one of many rows may stand apart
//     by chance.
package figures

import (
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Given is what the figures of a machine are made of.
type Given struct {
	Machine *model.Machine // by the clock
	Entries []model.Entry  // all about it, in any order; the steps of its sessions may be left out
	Struck  map[string]bool
	Procs   []*model.Procedure
	Drawer  model.Drawer // for prices
	Months  int          // how many, the current one among them; from 1 on
	Now     time.Time
}

// Figures are those of one machine over some months.
type Figures struct {
	Machine string    `json:"machine"`
	From    time.Time `json:"from"`
	To      time.Time `json:"to"`
	Months  []Month   `json:"months"` // oldest first
	Upkeep  Upkeep    `json:"upkeep"`
	// care done whose gauge was measured, how much of it in time, and what is past its band now
	Done   int `json:"care_done"`
	InTime int `json:"care_in_time"`
	Past   int `json:"past_now"`

	Stops   []Stop   `json:"stops"`         // oldest first
	Failed  []Reason `json:"failed_prints"` // the most frequent first
	Failing Rate     `json:"failing"`       // of all failed prints
	Late    int      `json:"failed_unread"` // failed since the hours were last read: in no rate
	// any session first, then what is told apart, then by how many failed
	Pays []Pays `json:"before_after"`
}

// Month is what one month took.
type Month struct {
	Month    string   `json:"month"`    // 2026-11
	Hands    float64  `json:"hands"`    // minutes
	Waited   float64  `json:"waited"`   // minutes
	Sessions int      `json:"sessions"` // ended
	Hours    *float64 `json:"hours"`    // printed; null where none were read
	Renewed  int      `json:"renewed"`  // parts
	// part or supply -> how many, as the drawer counts
	Used map[string]float64 `json:"used"`
	// of what has a price; null where nothing used has one
	Cost   *float64 `json:"cost"`
	Stops  int      `json:"stops"`
	Failed int      `json:"failed_prints"`
}

// Upkeep is what an hour printed takes: hands and parts of the time hours are known of, over those
// hours.
type Upkeep struct {
	From     time.Time `json:"from,omitzero"` // of that time; neither end without hours
	To       time.Time `json:"to,omitzero"`   // the newest reading
	Hours    float64   `json:"hours"`         // printed
	Minutes  *float64  `json:"minutes"`       // of hands, an hour; null without hours
	Cost     *float64  `json:"cost"`          // an hour; null without hours or prices
	Unpriced []string  `json:"unpriced"`      // what was used and has no price
}

// Stop is once that the machine was stopped.
type Stop struct {
	At   time.Time `json:"at"`
	Text string    `json:"text"`
	// procedure whose step stopped it; "" where it was told
	Procedure string `json:"procedure"`
}

// Reason is why prints failed.
type Reason struct {
	Symptom string   `json:"symptom"` // its id; "" for other reasons
	Times   int      `json:"times"`
	Notes   []string `json:"notes"` // what was said of them, as often as it was
}

// Of sums up a machine.
func Of(g Given) Figures {
	y, m, _ := g.Now.Date()
	first := time.Date(y, m, 1, 0, 0, 0, 0, g.Now.Location()).AddDate(0, 1-g.Months, 0)
	s := sum{Given: g, first: first, used: map[string]float64{}}
	s.out = Figures{Machine: g.Machine.Name, From: first, To: g.Now, Stops: []Stop{},
		Failed: []Reason{}, Pays: []Pays{}}
	for i := range g.Months {
		s.out.Months = append(s.out.Months, Month{Used: map[string]float64{},
			Month: first.AddDate(0, i, 0).Format("2006-01")})
	}
	s.kept, _ = model.ByClock(g.Entries, g.Struck, g.Now)
	s.care()
	for _, e := range s.kept {
		if i := s.month(e.At); i >= 0 && !s.isStruck(e) {
			s.add(&s.out.Months[i], e)
		}
	}
	s.parts()
	s.hours()
	s.failing()
	return s.out
}

// sum is figures in the making.
type sum struct {
	Given
	first time.Time // of the first month
	kept  []model.Entry
	out   Figures
	hands float64            // minutes, since hours are known
	used  map[string]float64 // part or supply -> how many, since hours are known

	cares    []event // care done, in the order of time
	sessions []event
	failed   []event
}

// event is something at a place of the hours meter.
type event struct {
	what  string // procedure or symptom
	at    time.Time
	hours float64 // -1 where it was not read yet, or not any more
}

func (s *sum) isStruck(e model.Entry) bool {
	return s.Struck[e.Action] && model.ClassOf(e.Kind) == model.Dated
}

// month is the place of a time among the months, -1 where in none.
func (s *sum) month(t time.Time) int {
	t = t.In(s.Now.Location())
	i := (t.Year()-s.first.Year())*12 + int(t.Month()) - int(s.first.Month())
	if i < 0 || i >= s.Months || t.After(s.Now) {
		return -1
	}
	return i
}

// event places something on the hours meter.
func (s *sum) event(what string, at time.Time) event {
	e := event{what, at, -1}
	x := s.Machine.Readings[model.Hours]
	if v, ok := x.At(at); ok && !at.After(x.Last.At) {
		e.hours = v
	}
	return e
}

// read tells whether a time lies between the first and the last reading of the hours printed.
func (s *sum) read(at time.Time) bool {
	x := s.Machine.Readings[model.Hours]
	return x != nil && x.N > 0 && !at.Before(x.First.At) && !at.After(x.Last.At)
}

// add counts an entry in its month.
func (s *sum) add(m *Month, e model.Entry) {
	switch {
	case e.Closed != nil:
		m.Hands += e.Closed.Hands
		m.Waited += e.Closed.Waited
		m.Sessions++
		if s.read(e.At) {
			s.hands += e.Closed.Hands
		}
		if !e.Closed.GivenUp && !e.Closed.Stopped {
			s.sessions = append(s.sessions, s.event("", e.At))
		}
	case e.Finding != nil && e.Finding.Kind == model.FoundStop:
		m.Stops++
		s.out.Stops = append(s.out.Stops, Stop{e.At, e.Finding.Text, e.Finding.Procedure})
	case e.Care != nil && e.Care.Outcome == model.OutcomeDone && !e.Care.Memory && !e.Care.Undated:
		s.cares = append(s.cares, s.event(e.Care.Procedure, e.At))
	case e.Failed != nil:
		m.Failed++
		s.reason(e.Failed)
		s.failed = append(s.failed, s.event(e.Failed.Symptom, e.At))
	}
}

// reason counts why a print failed.
func (s *sum) reason(f *model.PrintFailed) {
	i := slices.IndexFunc(s.out.Failed, func(r Reason) bool { return r.Symptom == f.Symptom })
	if i < 0 {
		i = len(s.out.Failed)
		s.out.Failed = append(s.out.Failed, Reason{Symptom: f.Symptom, Notes: []string{}})
	}
	r := &s.out.Failed[i]
	r.Times++
	if f.Note != "" {
		r.Notes = append(r.Notes, f.Note)
	}
}

// parts counts what was used: by what left the drawer, and by swaps that took nothing from it.
func (s *sum) parts() {
	type took struct{ action, part string }
	moved := map[took]bool{}
	for _, e := range s.kept {
		if e.Stock != nil && e.Stock.Change < 0 && e.Stock.Counted == nil {
			moved[took{e.Action, e.Stock.Part}] = true
		}
	}
	for _, e := range s.kept {
		i := s.month(e.At)
		if i < 0 || s.isStruck(e) {
			continue
		}
		part, n := "", 0.0
		switch {
		case e.Stock != nil && moved[took{e.Action, e.Stock.Part}]:
			part, n = e.Stock.Part, -e.Stock.Change
		case e.Swap != nil:
			s.out.Months[i].Renewed++
			if part = e.Swap.Part; !moved[took{e.Action, part}] {
				n = 1
			}
		}
		if n > 0 {
			s.out.Months[i].Used[part] += n
			if s.read(e.At) {
				s.used[part] += n
			}
		}
	}
	for i := range s.out.Months {
		for part, n := range s.out.Months[i].Used {
			s.out.Months[i].Used[part] = math.Round(n*1e6) / 1e6 // tenths do not add up
		}
		s.out.Months[i].Cost, _ = s.cost(s.out.Months[i].Used)
	}
}

// cost is what was used costs, nil where none of it has a price, and what of it has none.
func (s *sum) cost(used map[string]float64) (cost *float64, unpriced []string) {
	unpriced = []string{}
	for _, part := range slices.Sorted(maps.Keys(used)) { // in one order: sums of cents are rounded
		st, n := s.Drawer[part], used[part]
		if st == nil || st.Price == nil {
			unpriced = append(unpriced, part)
			continue
		}
		if cost == nil {
			cost = new(float64)
		}
		*cost += n * *st.Price
	}
	return cost, unpriced
}

// hours says what was printed in each month, and what an hour of it took.
func (s *sum) hours() {
	u := &s.out.Upkeep
	u.Unpriced = []string{}
	x := s.Machine.Readings[model.Hours]
	for i := range s.out.Months {
		h, ok := Grown(x, s.first.AddDate(0, i, 0), s.first.AddDate(0, i+1, 0), s.Now)
		if ok {
			s.out.Months[i].Hours = &h
			u.Hours += h
		}
	}
	cost, unpriced := s.cost(s.used)
	if !(u.Hours > 0) {
		return
	}
	minutes := s.hands / u.Hours
	u.Minutes, u.Unpriced = &minutes, unpriced
	u.From, u.To = x.First.At.In(s.Now.Location()), x.Last.At.In(s.Now.Location())
	if u.From.Before(s.first) {
		u.From = s.first
	}
	if cost != nil {
		*cost /= u.Hours
		u.Cost = cost
	}
}

// Grown is how much a counter grew from one time to another, which is now at the latest; false
// where it was not read by then, or once alone. Before its first reading it did not grow.
func Grown(x *model.Series, from, to, now time.Time) (float64, bool) {
	if to.After(now) {
		to = now
	}
	b, ok := x.At(to)
	if !ok || x.N < 2 || !to.After(x.First.At) {
		return 0, false
	}
	a, ok := x.At(from)
	if !ok {
		a = x.First.Value
	}
	return max(0, b-a), true
}

// care counts care done in time, with the machine folded up to each time, and what is past now.
func (s *sum) care() {
	byID := map[string]*model.Procedure{}
	for _, p := range s.Procs {
		byID[p.ID] = p
	}
	model.FoldSeen(s.Machine.ID, s.kept, s.Struck, func(m *model.Machine, e model.Entry) {
		p := (*model.Procedure)(nil)
		if c := e.Care; c != nil && c.Outcome == model.OutcomeDone && !c.Memory && !c.Undated {
			p = byID[c.Procedure]
		}
		if p == nil || s.month(e.At) < 0 {
			return
		}
		for _, g := range model.Gauges(m, []*model.Procedure{p}, e.At) {
			if g.Measured && !g.AtMost {
				s.out.Done++
				if g.Word != model.WordPast {
					s.out.InTime++
				}
			}
		}
	})
	for _, g := range model.Gauges(s.Machine, s.Procs, s.Now) {
		if g.Word == model.WordPast && !g.AtMost && !s.Machine.OutOfUse {
			s.out.Past++
		}
	}
}

// failing says how often prints fail, and whether care pays.
func (s *sum) failing() {
	slices.SortStableFunc(s.out.Failed, func(a, b Reason) int {
		if a.Times != b.Times {
			return b.Times - a.Times
		}
		if (a.Symptom == "") != (b.Symptom == "") {
			return strings.Compare(b.Symptom, a.Symptom) // other reasons last
		}
		return strings.Compare(a.Symptom, b.Symptom)
	})
	slices.SortStableFunc(s.out.Stops, func(a, b Stop) int { return a.At.Compare(b.At) })
	read := s.failed[:0:0]
	for _, f := range s.failed {
		if f.hours >= 0 {
			read = append(read, f)
		} else if x := s.Machine.Readings[model.Hours]; x != nil && x.N > 0 && f.at.After(x.Last.At) {
			s.out.Late++
		}
	}
	s.out.Failing = rate(len(read), s.out.Upkeep.Hours)
	s.pays(read)
}
