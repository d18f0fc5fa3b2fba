// Package session is one session between the walk's judgement and the data file: it chooses what
// goes into a session, begins, opens and carries it on. The screens and the line-by-line walk both
// stand on it.
//
// Judging is pure and writing is I/O, so that a screen can judge in its Update and write in a
// command.
package session

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
)

// Desk is what every session of a program run shares.
type Desk struct {
	Store *store.Store
	Lib   *procedures.Library
	By    string
	Pace  string // one of walk.Paces; "" goes step by step
	Piped bool   // answers come from no terminal: nobody is hurried
}

// Choice says what goes into a session. The zero value takes what is due or unknown.
type Choice struct {
	Only    []string // just these, proofs and bookends joining
	With    []string // these too, whatever they take
	Without []string // not these
	All     bool     // everything that fits the machine
	Minutes float64  // no more hands and waiting than this; 0 has no limit

	Leave  model.Value // how power is left: unplugged; empty: as it was
	Checks bool        // nothing but the checks under power that earlier sessions owe
}

// WhatIsDue tells that nothing is asked for but what is due, with no limit of time.
func (c Choice) WhatIsDue() bool {
	return len(c.Only)+len(c.With)+len(c.Without) == 0 && !c.All && c.Minutes == 0
}

// Chosen is a session chosen and planned.
type Chosen struct {
	// what is in of what was asked for or is due, without proofs and bookends that join
	IDs  []string
	Plan *plan.Plan
	// that it was chosen for, of hands and waiting; 0 where there was no limit
	Minutes float64

	For *model.Complaint // the symptoms it is to cure; nil where it is not for any

	Then *Then // when it was done on paper; nil where it is walked

	Follows []string // what is due at once when it is done, and is not in it, as gauges call it
}

// FollowsText says what is due as soon as the session is done, "" for nothing.
func (c Chosen) FollowsText() string {
	if len(c.Follows) == 0 {
		return ""
	}
	return "Due as soon as this is done, and not in it: " + model.Listed(c.Follows, "and") + "."
}

// Then is when work was done that is told from paper.
type Then struct{ From, To time.Time }

// Choose picks the procedures of a session and plans it. The start is as believed: what an earlier
// session left latched, everything else assumed.
func (d Desk) Choose(m *model.Machine, c Choice, now time.Time) (Chosen, error) {
	f := life.NewForecaster(m, now)
	gauges := f.Gauges(d.Lib.Heads())
	if m.Stopped() && len(c.Only) == 0 {
		// what is named, or all that may be looked at; else what most stops come from
		c.Only, c.All = d.inspections(m, c.All), false
	}
	ids, err := d.pick(m, c, gauges)
	if owes := len(m.OwedAtPower()) > 0 && !m.Stopped(); owes &&
		(c.Checks || errors.Is(err, ErrNothing)) {
		return d.checks(m)
	}
	if err != nil {
		return Chosen{}, err
	}
	if err := d.CanBegin(m, ids); err != nil {
		return Chosen{}, err
	}
	r := d.request(m)
	r.Unplugged = (c.Leave == model.Unplugged || d.putsAway(ids)) && !r.Locked
	var chosen Chosen
	switch {
	case c.WhatIsDue() && !m.Stopped() && len(unknown(gauges)) > 0:
		chosen, err = d.know(f, m, ids, gauges, r)
	case c.Minutes > 0:
		chosen, err = d.fit(f, m, c.time(ids, gauges), gauges, r)
		chosen.Minutes = c.Minutes
	default:
		chosen.IDs = ids
		chosen.Plan, _, err = plan.Assemble(d.Lib.Get, model.NewFeatureSet(m.Features...),
			m.Settings, ids, r)
		name(chosen.Plan, m)
	}
	if err == nil && r.Unplugged && d.onlyPaper(chosen.Plan) {
		err = errors.New(
			"all of this needs power: choose something else, or do not leave the machine unplugged")
	}
	if err == nil {
		chosen.Follows = d.follows(m, chosen.Plan.IDs())
	}
	return chosen, err
}

// follows names the kept care that some care makes due as soon as it is done.
func (d Desk) follows(m *model.Machine, ids []string) (names []string) {
	fs := model.NewFeatureSet(m.Features...)
	for _, p := range d.Lib.Heads() {
		later := slices.ContainsFunc(p.Intervals, func(iv model.Interval) bool { return iv.Once })
		if later || slices.Contains(ids, p.ID) || !m.Keeps(p.ID) || !p.Fits(fs) {
			continue
		}
		if slices.ContainsFunc(p.Triggers, func(t model.Trigger) bool {
			return t.Only.OnMachine(fs, m.Settings) && slices.ContainsFunc(t.Done,
				func(id string) bool { return slices.Contains(ids, id) })
		}) {
			names = append(names, p.Called())
		}
	}
	return names
}

// onlyPaper tells whether nothing of what was asked for is left in a plan that leaves something for
// another day.
func (d Desk) onlyPaper(p *plan.Plan) bool {
	return len(p.Left) > 0 && !slices.ContainsFunc(p.IDs(), func(id string) bool {
		return d.Lib.Get(id).Kind != model.Bookend
	})
}

// time is what is asked for in the minutes there are: what is named as well is in, of all else what
// is worth most.
func (c Choice) time(ids []string, gauges []model.Gauge) plan.Time {
	t := plan.Time{Minutes: c.Minutes}
	if len(c.Only) == 0 && !c.All {
		ids = slices.Concat(told(ids, gauges), c.With)
	}
	for _, id := range ids {
		switch {
		case slices.Contains(c.Without, id):
		case !slices.Contains(c.With, id):
			t.May = append(t.May, id)
		case !slices.Contains(t.Must, id):
			t.Must = append(t.Must, id)
		}
	}
	return t
}

func name(p *plan.Plan, m *model.Machine) *plan.Plan {
	if p != nil {
		p.Machine = m.Name
	}
	return p
}

func (d Desk) request(m *model.Machine) plan.Request {
	start := model.Condition{}
	maps.Copy(start, m.Latched)
	if m.Stopped() {
		standsStopped(start)
	}
	return plan.Request{SetUps: d.Lib.SetUps(), Start: start, Locked: m.Stopped(),
		Loose: m.Stopped()}
}

// pick gives ids from the most pressing down.
func (d Desk) pick(m *model.Machine, c Choice, gauges []model.Gauge) ([]string, error) {
	fs := model.NewFeatureSet(m.Features...)
	var ids []string
	switch {
	case len(c.Only) > 0:
		ids = slices.Clone(c.Only)
	case c.All:
		for _, g := range gauges {
			ids = append(ids, g.Item)
		}
		for _, p := range d.Lib.All() {
			if p.Fits(fs) && p.Kind != model.Bookend && !slices.Contains(ids, p.ID) {
				ids = append(ids, p.ID)
			}
		}
	default:
		ids = model.Preselect(gauges)
	}
	for _, id := range c.With {
		if !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	ids = slices.DeleteFunc(ids, func(id string) bool { return slices.Contains(c.Without, id) })
	for _, id := range ids {
		if d.Lib.Get(id) == nil {
			return nil, fmt.Errorf(
				"there is no procedure %q: oilcan procedures list names them all", id)
		}
	}
	if len(ids) == 0 {
		return nil, ErrNothing
	}
	return ids, nil
}

// ErrNothing is given where nothing is chosen and nothing is due.
var ErrNothing = errors.New(
	"nothing is due on this machine: name what to do with --only, or take everything with --all")

// Question is something a session must know of the machine before it begins.
type Question struct {
	Setting *model.Setting  // a setting not answered yet
	Group   []model.Feature // or a group of features of which none is known
	Ask     string
	// what it most likely is by what is known of the machine, to be typed over; "" where nothing is
	Suggested string
}

// Questions lists what the procedures of a plan ask of a machine and is not known yet: features of
// exclusive groups first, then settings.
func (d Desk) Questions(m *model.Machine, p *plan.Plan) []Question {
	fs := model.NewFeatureSet(m.Features...)
	var out []Question
	asked := map[string]bool{}
	for _, it := range p.Sequence {
		proc := d.procedure(it)
		if proc == nil {
			continue
		}
		for _, g := range fs.UnknownGroups(
			append(proc.MentionedFeatures(), d.joiningNeeds(proc)...)) {
			key := string(g[0])
			if !asked[key] && m.Settings[model.UnknownPrefix+key] == "" {
				asked[key] = true
				out = append(out, Question{Group: g, Ask: groupQuestion(g)})
			}
		}
	}
	var procs []*model.Procedure
	for _, it := range p.Sequence {
		procs = append(procs, d.procedure(it))
	}
	for _, proc := range append(procs, d.targets(m, p)...) {
		if proc == nil {
			continue
		}
		for _, s := range proc.For(fs, m.Settings).Settings {
			if _, has := m.Settings[s.Name]; !has && !asked["setting:"+s.Name] {
				asked["setting:"+s.Name] = true
				out = append(out, Question{Setting: &s, Ask: s.Ask,
					Suggested: cmp.Or(s.Default, model.SuggestedCount(s.Name, fs))})
			}
		}
	}
	return out
}

// joiningNeeds are the features that care needs which an answer lets join the session: not known,
// it could not join when the answer comes.
func (d Desk) joiningNeeds(p *model.Procedure) []model.Feature {
	var out []model.Feature
	for _, id := range p.Adds() {
		if q := d.Lib.Get(id); q != nil {
			out = append(append(out, q.Needs...), q.NeedsAny...)
		}
	}
	return out
}

// targets is the set-up action by which every heater's target is read as zero, where a plan may
// come to it: never on a stopped machine, which gets no power.
func (d Desk) targets(m *model.Machine, p *plan.Plan) []*model.Procedure {
	if m.Stopped() || !slices.ContainsFunc(p.Sequence, func(it plan.Item) bool {
		return walk.EndsWithTargets(d.procedure(it))
	}) {
		return nil
	}
	return []*model.Procedure{d.procedure(plan.Item{Kind: model.BlockSetUp, ID: walk.HeatOff})}
}

func (d Desk) procedure(it plan.Item) *model.Procedure {
	if it.Kind == model.BlockCare {
		return d.Lib.Get(it.ID)
	}
	return model.ByID(d.Lib.SetUps(), it.ID)
}

// groupQuestion asks for a group of features as a person is asked elsewhere.
func groupQuestion(g []model.Feature) string {
	q := action.QuestionOf(g)
	return strings.TrimSpace(q.Ask + " " + q.Hint)
}

// DontKnow is the answer that leaves a question open.
const DontKnow = "don't know"

// leftOpen tells whether an answer leaves its question open.
func leftOpen(text string) bool {
	return slices.ContainsFunc([]string{DontKnow, "dont know", "not known", "unknown"},
		func(w string) bool { return strings.EqualFold(w, text) })
}

// Heading is what a column of questions calls it.
func (q Question) Heading() string {
	if q.Setting != nil {
		return q.Setting.Heading()
	}
	return action.QuestionOf(q.Group).Name
}

// Words are the answers to choose from, in a person's words; none where the answer is typed.
func (q Question) Words() []string {
	if q.Setting != nil {
		return q.Setting.Options
	}
	var out []string
	for _, f := range q.Group {
		out = append(out, action.FeatureTitle(f))
	}
	return append(out, DontKnow)
}

// Answer takes the answer to a question into a copy of the machine's facts. "don't know" is an
// answer to a group: the cautious branch is taken; and to a number: it is left open, what is counted
// at the machine is held against nothing, and says so. Both are asked again only when the machine is
// edited.
func (q Question) Answer(f model.MachineFact, text string) (model.MachineFact, error) {
	text = strings.TrimSpace(text)
	set := map[string]string{}
	maps.Copy(set, f.Settings)
	f.Settings = set
	if q.Setting == nil {
		return q.answerGroup(f, text)
	}
	s := q.Setting
	if text == "" {
		text = s.Default
	}
	switch {
	case s.Number && leftOpen(text):
		text = ""
	case text == "" || text == "-":
		if len(s.Options) > 0 {
			return f, fmt.Errorf("choose one of %s", strings.Join(s.Options, ", "))
		}
		if s.Number {
			return f, errors.New("type a number, or don't know; it can be changed later")
		}
		text = ""
	default:
		kept, err := s.Value(text)
		if err != nil {
			return f, err
		}
		if err := model.CheckCount(s.Name, kept, model.NewFeatureSet(f.Features...)); err != nil {
			return f, err
		}
		text = kept
	}
	set[s.Name] = text
	return f, nil
}

func (q Question) answerGroup(f model.MachineFact, text string) (model.MachineFact, error) {
	if leftOpen(text) || text == "-" || text == "" {
		f.Settings[model.UnknownPrefix+string(q.Group[0])] = "asked"
		return f, nil
	}
	for _, g := range q.Group {
		if strings.EqualFold(string(g), text) || strings.EqualFold(action.FeatureTitle(g), text) {
			fs, err := model.ParseFeatures(model.Words(append(slices.Clone(f.Features), g)))
			f.Features = fs
			return f, err
		}
	}
	return f, fmt.Errorf("answer one of %s", strings.Join(q.Words(), ", "))
}
