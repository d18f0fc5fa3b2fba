package life

import (
	"fmt"
	"sort"
	"time"

	"bench/oilcan/model"
)

// Forecaster forecasts one machine's gauges at one time; it keeps each meter's pace once told. It
// is not for more than one goroutine.
type Forecaster struct {
	m     *model.Machine
	now   time.Time
	paces map[counted]*Pace
	cuts  *model.Series
	// procedure -> its limits beside the governing one, once Gauges has been asked
	others map[string][]model.Gauge
}

// counted is a meter, and for cuts whether starts are counted in.
type counted struct {
	meter  model.Meter
	starts bool
}

// NewForecaster prepares to forecast a machine at a time; the machine must not change meanwhile.
func NewForecaster(m *model.Machine, now time.Time) *Forecaster {
	return &Forecaster{m: m, now: now, paces: map[counted]*Pace{},
		others: map[string][]model.Gauge{}}
}

// Gauges gives the gauges of model.Gauges with dates by the forecast: DueLow, DueMid and DueHigh by
// which they are as likely reached as not, or on which they were by the readings, and Forecast.
// Without two readings a day apart the three dates stay nil, and Forecast leans on the duty's usual
// pace and says so. A machine out of use has no dates.
//
// A gauge whose low end is as likely as not reached since the last reading is due, with Estimated
// set and DueLow when that was: a machine nobody reads must not look fresh for it.
func Gauges(m *model.Machine, procs []*model.Procedure, now time.Time) []model.Gauge {
	return NewForecaster(m, now).Gauges(procs)
}

// Gauges is the function of that name for the forecaster's machine.
func (f *Forecaster) Gauges(procs []*model.Procedure) []model.Gauge {
	gs := ByMean(f.m, procs, f.now)
	several := map[string]*model.Procedure{}
	for _, p := range procs {
		if len(p.Intervals) > 1 {
			several[p.ID] = p
		}
	}
	again := false
	for i := range gs {
		f.beside(&gs[i], several[gs[i].Item])
		f.date(&gs[i])
		again = again || gs[i].Estimated || gs[i].Word == model.WordUnknown
	}
	if again {
		model.SortGauges(gs)
	}
	return gs
}

// beside notes the limits of a gauge's procedure beside the one that governs: another may come
// first. One that only says the part is no older than the machine gives no date.
func (f *Forecaster) beside(g *model.Gauge, p *model.Procedure) {
	if p == nil || !g.Measured || g.AtMost || f.m.OutOfUse {
		return
	}
	var others []model.Gauge
	for _, o := range model.LimitsOf(f.m, p, *g, f.now) {
		if (o.Meter != g.Meter || o.Low != g.Low) && !o.AtMost && o.Low > 0 {
			o.DueLow, o.DueMid, o.DueHigh = nil, nil, nil
			others = append(others, o)
		}
	}
	if len(others) > 0 {
		f.others[g.Item] = others
	}
}

// NextCare is when a machine is cared for next if it is now: after 30 days at home, 14 in
// production (common practice: the looks of a session come round that often).
func NextCare(duty model.Duty, now time.Time) time.Time {
	if duty == model.Production {
		return now.AddDate(0, 0, 14)
	}
	return now.AddDate(0, 0, 30)
}

// Pace is the pace behind a gauge, that of its governing meter; nil for a gauge without one. What
// was begun anew after the last reading has been used since then, not since the reading, and no use
// fell in the time out of use since.
func (f *Forecaster) Pace(g *model.Gauge) *Pace {
	p := f.pace(g)
	if p == nil || g.Meter == model.Days {
		return p
	}
	from := p.At
	if g.Last.After(from) && !g.Last.After(f.now) {
		from = g.Last
	}
	if rested := model.RestedIn(f.m.Rests, from, f.now); rested > 0 {
		from = from.Add(time.Duration(rested * 24 * float64(time.Hour)))
	}
	if from.Equal(p.At) {
		return p
	}
	since := *p
	since.At = from
	return &since
}

// pace is the pace since the last reading.
func (f *Forecaster) pace(g *model.Gauge) *Pace {
	if g.Meter == "" {
		return nil
	}
	key := counted{g.Meter, g.Meter == model.Cuts && g.Why.Kind != model.WithoutStarts}
	if p, ok := f.paces[key]; ok {
		return p
	}
	p := Estimate(f.series(key), f.m.Rests, f.m.Duty, g.Meter, f.now)
	f.paces[key] = &p
	return &p
}

// PassBefore is the probability, 0 … 1, that a gauge has reached a level of its meter by a day:
// with g.Low that it is due by then, with g.High that it is past its band. ok is false
// where nothing is measured, the machine is out of use, or no pace is known, not even the duty's.
func (f *Forecaster) PassBefore(g *model.Gauge, level float64, day time.Time) (probability float64,
	ok bool) {
	p := f.Pace(g)
	if p == nil || !g.Measured || f.m.OutOfUse || !(p.Mean > 0) && g.Used < level {
		return 0, false
	}
	return passBefore(p, g, level, f.now, day), true
}

// ages is into how many ages a gauge at most so old is spread.
const ages = 16

// passBefore is Pace.PassBefore for a gauge: where it is at most so old, its age lies evenly
// between nothing and that.
func passBefore(p *Pace, g *model.Gauge, level float64, now, day time.Time) float64 {
	if !g.AtMost {
		return p.PassBefore(g.Used, level, now, day)
	}
	sum := 0.0
	for i := range ages {
		sum += p.PassBefore(g.Used*(float64(i)+0.5)/ages, level, now, day)
	}
	return sum / ages
}

// DueBy is the probability, 0 … 1, that a gauge has reached its low end by a day, by whichever of
// its procedure's limits comes first; ok as for PassBefore. The meters of one machine run together,
// so the likeliest of them tells.
func (f *Forecaster) DueBy(g *model.Gauge, day time.Time) (probability float64, ok bool) {
	probability, ok = f.PassBefore(g, g.Low, day)
	for i := range f.others[g.Item] {
		o := &f.others[g.Item][i]
		if p, known := f.PassBefore(o, o.Low, day); known && f.Pace(o).Own {
			probability, ok = max(probability, p), true
		}
	}
	return probability, ok
}

// date sets a gauge's dates and its forecast: those of the limit that comes first.
func (f *Forecaster) date(g *model.Gauge) {
	p := f.Pace(g)
	if p == nil || !g.Measured || f.m.OutOfUse {
		return
	}
	high := g.Used >= g.Low
	f.dateByOne(g, p, high)
	for _, o := range f.others[g.Item] {
		if by := f.Pace(&o); by != nil && by.Own {
			f.meanDay(&o)
			f.dateByOne(&o, by, high)
			first(g, &o)
		}
	}
	if g.DueLow != nil && g.Used < g.Low && !g.DueLow.After(f.now) &&
		g.Word.Rank() > model.WordDue.Rank() {
		if g.AtMost {
			unbounded(g)
			return
		}
		g.Word, g.Estimated = model.WordDue, true
	}
}

// meanDay sets the dates of a limit on the calendar, which are exact.
func (f *Forecaster) meanDay(o *model.Gauge) {
	if o.Meter == model.Days {
		meanDates(f.m, o, f.now)
	}
}

// first moves the dates of a gauge forward to those of another limit of its procedure, where they
// come before. Meters of one machine run together: what is early by one is early by the other, so
// that the first of each of their dates is the date of whichever comes first. Where the gauge
// itself has no history, the other tells all if it comes first.
func first(g, o *model.Gauge) {
	a, b := g.Forecast, o.Forecast
	if a == nil || b == nil {
		return
	}
	comes := !b.Mid.IsZero() && (a.Mid.IsZero() || b.Mid.Before(a.Mid))
	if !a.Own && !comes {
		return // the usual pace, from memory, comes before what is known
	}
	for _, d := range []struct{ to, by **time.Time }{{&g.DueLow, &o.DueLow}, {&g.DueMid, &o.DueMid},
		{&g.DueHigh, &o.DueHigh}} {
		if *d.by != nil && (*d.to == nil || (*d.by).Before(**d.to)) {
			*d.to = *d.by
		}
	}
	all := *a
	if !a.Own {
		all.Early, all.Mid, all.Late = b.Early, b.Mid, b.Late
	}
	all.Early, all.Mid, all.Late = earlier(all.Early, b.Early), earlier(all.Mid, b.Mid), earlier(
		all.Late, b.Late)
	all.Due, all.Fails = max(a.Due, b.Due), max(a.Fails, b.Fails)
	if comes {
		all.Of, all.Level, all.Own, all.Pace = b.Of, b.Level, b.Own, b.Pace
	}
	g.Forecast = &all
}

// earlier is the first of two dates; zero is never.
func earlier(a, b time.Time) time.Time {
	if a.IsZero() || !b.IsZero() && b.Before(a) {
		return b
	}
	return a
}

// dateByOne sets the dates and the forecast of one limit; high where the high end comes next.
func (f *Forecaster) dateByOne(g *model.Gauge, p *Pace, high bool) {
	g.Forecast = f.forecast(g, p, high)
	if g.Meter == model.Days {
		return // exact as they are
	}
	ends := []struct {
		at    **time.Time
		level float64
	}{{&g.DueLow, g.Low}, {&g.DueMid, (g.Low + g.High) / 2}, {&g.DueHigh, g.High}}
	defer inOrder(g)
	for _, end := range ends {
		if g.Used >= end.level {
			f.reached(g, end.at, end.level)
			continue
		}
		*end.at = nil
		if p.Own {
			*end.at = f.middle(g, p, end.level)
		}
		if by, ok := f.bookedBy(g, end.level); ok && (*end.at == nil || by.Before(**end.at)) {
			*end.at = &by
		}
	}
}

// inOrder keeps the ends of a band from coming before the ones below them: each has a course of its
// own, matched over its own horizon, so that two ends close together could cross where the pace is
// hardly known.
func inOrder(g *model.Gauge) {
	var at *time.Time
	for _, end := range []**time.Time{&g.DueLow, &g.DueMid, &g.DueHigh} {
		if *end != nil && at != nil && (*end).Before(*at) {
			*end = at
		}
		if *end != nil {
			at = *end
		}
	}
}

// unbounded makes a gauge unknown whose bound has reached the band since the last reading: that it
// is at most so old says nothing any more.
func unbounded(g *model.Gauge) {
	g.Most, g.Used, g.Fraction, g.AtMost, g.Measured = g.Used, 0, 0, false, false
	g.Word, g.Why, g.Forecast = model.WordUnknown, model.Reason{Kind: model.LastUnknown}, nil
	g.DueLow, g.DueMid, g.DueHigh = nil, nil, nil
}

// middle is when a level is as likely reached as not, be it before now; nil where that is more than
// three years off.
func (f *Forecaster) middle(g *model.Gauge, p *Pace, level float64) *time.Time {
	if fc := g.Forecast; fc != nil && fc.Level == level && fc.Mid.After(f.now) {
		at := fc.Mid
		return &at
	}
	at, ok := p.reach(level-g.Used, 0.5, p.At)
	if !ok {
		return nil
	}
	return &at
}

// forecast is the spread of the date of the end that comes next, and how the next care will find
// the gauge; nil once the band is passed.
func (f *Forecaster) forecast(g *model.Gauge, p *Pace, high bool) *model.Forecast {
	out := &model.Forecast{Level: g.Low, Of: g.Meter, Own: p.Own, Pace: p.Words(),
		Next: NextCare(f.m.Duty, f.now)}
	if high {
		out.Level = g.High
	}
	if g.Used >= out.Level {
		return nil
	}
	out.Early, out.Mid, out.Late, _ = p.Reach(g.Used, out.Level, f.now)
	out.Due = passBefore(p, g, g.Low, f.now, out.Next)
	out.Fails = min(out.Due, passBefore(p, g, g.High, f.now, out.Next))
	if by, booked := f.bookedBy(g, out.Level); booked {
		out.Early, out.Mid, out.Late = sooner(out.Early, by), sooner(out.Mid, by), sooner(out.Late,
			by)
		out.Pace += "; the prints booked reach it"
	}
	if by, booked := f.bookedBy(g, g.Low); booked && !by.After(out.Next) {
		out.Due = 1
	}
	if by, booked := f.bookedBy(g, g.High); booked && !by.After(out.Next) {
		out.Fails = 1
	}
	return out
}

// reached mends the date on which a level was reached by the readings around it; the one by the
// mean pace stays where they do not go back so far.
func (f *Forecaster) reached(g *model.Gauge, at **time.Time, level float64) {
	s := f.series(counted{g.Meter, g.Why.Kind != model.WithoutStarts})
	t, ok := crossed(s, g.Used-level)
	if !ok {
		return
	}
	if t.Before(g.Last) {
		t = g.Last
	}
	if t.After(f.now) {
		t = f.now
	}
	*at = &t
}

// crossed is when a meter stood so much below its last reading, on the line between two readings.
func crossed(s *model.Series, back float64) (time.Time, bool) {
	pts := readings(s)
	if len(pts) == 0 || back < 0 {
		return time.Time{}, false
	}
	value := s.Last.Value - back
	i := sort.Search(len(pts), func(i int) bool { return pts[i].Value >= value })
	switch {
	case i == len(pts):
		return s.Last.At, true
	case i == 0:
		return pts[0].At, pts[0].Value == value
	}
	a, b := pts[i-1], pts[i]
	share := (value - a.Value) / (b.Value - a.Value)
	return a.At.Add(time.Duration(share * float64(b.At.Sub(a.At)))), true
}

// series are the readings behind a meter. Cuts are changes with the starts of the same moment
// added.
func (f *Forecaster) series(k counted) *model.Series {
	switch {
	case k.meter != model.Cuts:
		return f.m.Readings[k.meter]
	case !k.starts:
		return f.m.Readings[model.Changes]
	}
	if f.cuts == nil {
		f.cuts = summed(f.m.Readings[model.Changes], f.m.Readings[model.Starts])
	}
	return f.cuts
}

// summed adds a second meter to a first at the first one's readings; before its first reading the
// second stands still.
func summed(a, b *model.Series) *model.Series {
	if a == nil || b == nil || a.N == 0 || b.N == 0 {
		return a
	}
	with := func(p model.Point) model.Point {
		v, ok := b.At(p.At)
		if !ok {
			v = b.First.Value
		}
		return model.Point{At: p.At, Value: p.Value + v}
	}
	out := &model.Series{First: with(a.First), Last: with(a.Last), N: a.N,
		Days: make([]model.Point, len(a.Days))}
	for i, p := range a.Days {
		out.Days[i] = with(p)
	}
	return out
}

// Words says what a pace rests on: "9.3 h a day by 212 days of readings"; "9.3 h a day when it
// runs, by 212 days of readings; it stands still"; "about 3 h a day, the usual pace at home, from
// memory: no history yet"; "no history yet".
func (p *Pace) Words() string {
	switch {
	case p.Meter == model.Days:
		return "the calendar"
	case !p.Own && !(p.Mean > 0):
		return "no history yet"
	case !p.Own && p.Duty == model.Production:
		return fmt.Sprintf("about %s %s a day, the usual pace in production, from memory: no history yet", number(p.Mean), p.Meter.Unit())
	case !p.Own:
		return fmt.Sprintf("about %s %s a day, the usual pace at home, from memory: no history yet",
			number(p.Mean), p.Meter.Unit())
	}
	by := fmt.Sprintf("by %s of readings", model.Counted(int(p.Span), "day"))
	switch u := p.usage; {
	case u == nil:
		return fmt.Sprintf("%s %s a day %s", number(p.Mean), p.Meter.Unit(), by)
	case u.stand > 0.5:
		return fmt.Sprintf("%s %s a day when it runs, %s; it stands still", number(u.unit),
			p.Meter.Unit(), by)
	default:
		return fmt.Sprintf("%s %s a day %s", number(u.unit*u.mean), p.Meter.Unit(), by)
	}
}

// number writes a value to a precision a person reads: 0.25, 9.3, 84.
func number(v float64) string {
	if v >= 10 {
		return model.Number(float64(int(v + 0.5)))
	}
	if v < 1 {
		return fmt.Sprintf("%.2g", v)
	}
	return model.Number(v)
}
