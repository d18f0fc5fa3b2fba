package action

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Swapped is a swap to be written, and what to say of it.
type Swapped struct {
	Part   string
	Resets []string // procedures whose gauge starts again
	Look   string   // what to look for, where the old part was lost: a finding says it too
	Facts  []model.Fact
}

// Swap renews a part of a machine; end says how the old one was, "" where nobody knows. The gauges
// of the part's procedures start again, looks included, and the drawer goes down by one. An old
// part that was lost stays on the bench as a finding. A part that nothing on this machine takes, by
// its features, is refused.
func Swap(m *model.Machine, procs []*model.Procedure, part string, end model.End) (Swapped, error) {
	fs := model.NewFeatureSet(m.Features...)
	s := Swapped{Part: part}
	var others []*model.Procedure
	for _, p := range procs {
		switch {
		case p.Part != part || p.Kind == model.SetUp:
		case p.Fits(fs):
			s.Resets = append(s.Resets, p.ID)
		default:
			others = append(others, p)
		}
	}
	if len(s.Resets) == 0 && len(others) > 0 {
		return Swapped{},
			fmt.Errorf("%s has no %s, by its features: is it the right machine? If it is, say oilcan machine edit %s --features +%s",
				m.Name, part, Typed(m.Name), lacking(others[0], fs))
	}
	if end == "" {
		end = model.EndUnknown
	}
	s.Facts = []model.Fact{
		{Kind: model.KindSwap, Swap: &model.Swapped{Part: part, End: end, Resets: s.Resets}},
		{Kind: model.KindStock, Stock: &model.StockMove{Part: part, Change: -1, Why: "used"}},
	}
	if end == model.EndLost {
		s.Look = "old " + part + " not found: look for it, power off, before the next print"
		s.Facts = append(s.Facts,
			model.Fact{Kind: model.KindFinding,
				Finding: &model.Found{Kind: model.FoundLost, Text: s.Look}})
	}
	return s, nil
}

// Anew says which gauges a swap sets back to nothing, the looks' too; "" where it sets none.
func Anew(procs []*model.Procedure, resets []string) string {
	var names []string
	for _, id := range resets {
		p := model.ByID(procs, id)
		if p != nil && len(p.Intervals) > 0 && !slices.Contains(names, p.Called()) {
			names = append(names, p.Called())
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "starts anew: " + strings.Join(names, " and ")
}

// With adds to a swap what counters showed when it was done, so that the new part counts from
// there, and closes what called for it.
func (s Swapped) With(m *model.Machine, readings []model.Reading, at, now time.Time) (Swapped,
	error) {
	facts, err := Readings(m, readings, at, now)
	if err != nil {
		return s, err
	}
	s.Facts = append(append(facts, s.Facts...), m.Remedied(s.Facts, at)...)
	return s, nil
}

// WhenAndCount reads when something was done and what a counter showed then, both as people write
// them: "yesterday", "3412", "2026-11-20 3412", "3d hours=1180". A bare number is of the meter
// given; m is the machine whose counters they are. Now where no date is in it.
func WhenAndCount(text string, m *model.Machine, bare model.Meter, now time.Time) (at time.Time,
	readings []model.Reading, err error) {
	var date, counts []string
	at = now
	for _, w := range joinGroups(strings.Fields(text)) {
		if _, err := model.ReadAmount(w, "", nil); err == nil || errors.As(err, &model.TwoWays{}) {
			w = string(bare) + "=" + w
		}
		if strings.Contains(w, "=") {
			counts = append(counts, w)
		} else {
			date = append(date, w)
		}
	}
	if len(date) > 0 {
		if at, err = Time(strings.Join(date, " "), now); err != nil {
			return at, nil, err
		}
	}
	readings, err = Counts(m, counts, model.Reading{How: "typed"}, at, now)
	return at, readings, err
}

// Counts reads hours=1234, each as a reading of a machine's counter at a time.
func Counts(m *model.Machine, pairs []string, as model.Reading, at, now time.Time) (
	out []model.Reading, err error) {
	if as.NewMeter || as.Correct {
		m = &model.Machine{} // its other readings say nothing of this one
	}
	// cuts are refused in a sentence of their own
	names := append(model.Words(model.TypedMeters), string(model.Cuts))
	for _, p := range pairs {
		name, value, ok := strings.Cut(p, "=")
		if !ok {
			return nil, fmt.Errorf("%q is no reading: write hours=1234 or changes=3456", p)
		}
		found, err := Find("meter", name, names)
		if err != nil {
			return nil, err
		}
		r := as
		r.Meter = model.Meter(found)
		if r.Value, err = model.ReadMeter(m, r.Meter, value, at, now); err != nil {
			return nil, err
		}
		if slices.ContainsFunc(out, func(o model.Reading) bool { return o.Meter == r.Meter }) {
			return nil, fmt.Errorf("%s is given twice: give it once", r.Meter)
		}
		out = append(out, r)
	}
	return out, nil
}

// A number in groups of three with spaces between them, and what may follow it.
var (
	groupsSoFar = regexp.MustCompile(`^([a-z-]+=)?[0-9]{1,3}( [0-9]{3})*$`)
	groupNext   = regexp.MustCompile(`^[0-9]{3}([.,][0-9]+)?$`)
)

// joinGroups makes one word again of a number whose thousands are set apart by spaces.
func joinGroups(words []string) []string {
	var out []string
	for _, w := range words {
		if n := len(out); n > 0 && groupsSoFar.MatchString(out[n-1]) && groupNext.MatchString(w) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// lacking gives the features a procedure needs and the machine has not, as they are typed.
func lacking(p *model.Procedure, fs model.FeatureSet) string {
	var out []string
	for _, f := range p.Needs {
		if !fs[f] {
			out = append(out, string(f))
		}
	}
	if len(p.NeedsAny) > 0 && !slices.ContainsFunc(p.NeedsAny, func(f model.Feature) bool {
		return fs[f]
	}) {
		out = append(out, string(p.NeedsAny[0]))
	}
	return strings.Join(out, ",+")
}

// Done books care done outside a session. Whatever the procedure also does is done too; one that
// renews its part as a rule books the swap and the drawer as well.
func Done(m *model.Machine, procs []*model.Procedure, p *model.Procedure) ([]model.Fact, error) {
	if !p.Fits(model.NewFeatureSet(m.Features...)) {
		return nil, fmt.Errorf("%q needs %s, which %s does not have: is it the right machine?",
			p.Title, strings.ReplaceAll(lacking(p, model.NewFeatureSet(m.Features...)), ",+",
				" and "), m.Name)
	}
	facts := []model.Fact{{Kind: model.KindCare, Care: &model.CareDone{
		Procedure: p.ID, Outcome: model.OutcomeDone, CountsAs: slices.Clone(p.CountsAs),
	}}}
	if p.Kind == model.Swap && slices.Contains(model.RenewableParts, p.Part) {
		s, err := Swap(m, procs, p.Part, "")
		if err != nil {
			return nil, err
		}
		facts = append(facts, s.Facts...)
	}
	return facts, nil
}

// Readings checks typed meter readings against those on record and gives their facts. A reading
// said to be of a new counter or a correction is taken as it is, save that it must be a meter and a
// number.
func Readings(m *model.Machine, readings []model.Reading, at, now time.Time) ([]model.Fact, error) {
	var facts []model.Fact
	for _, r := range readings {
		against := m
		if r.NewMeter || r.Correct {
			against = &model.Machine{}
		}
		if err := model.CheckReading(against, r.Meter, r.Value, at, now); err != nil {
			return nil, err
		}
		facts = append(facts, model.Fact{Kind: model.KindReading, Reading: &r})
	}
	return facts, nil
}

// Settled is the fact that closes a finding by its id, with the reason.
func Settled(id, why string) model.Fact {
	return model.Fact{Kind: model.KindSettled, Settled: &model.Settled{Finding: id, Why: why}}
}
