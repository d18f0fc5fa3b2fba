package model

import (
	"cmp"
	"maps"
	"slices"
	"strings"
)

// Kind says what a procedure is for.
type Kind string

// The kinds. A set-up action is written as a procedure too, so that the walk shows its steps.
const (
	Care    Kind = "care"
	Swap    Kind = "swap"
	Look    Kind = "look"
	Proof   Kind = "proof"
	Bookend Kind = "bookend"
	SetUp   Kind = "setup"
)

// Rung is a procedure's place in the order ladder of a session.
type Rung string

// Rungs is the ladder from the first to the last; OffMachine stands outside it.
var Rungs = []Rung{
	"opening", "stone-cold", "hot", "making-safe", "before-opening", "first-values", "dust",
	"inspect",
	"renew", "solvent", "airing", "oil", "belts", "filter", "powered", "put-back", "proof", "paper",
}

// OffMachine is the rung of work that has no place in the ladder and fills waits.
const OffMachine Rung = "off-machine"

// Order is the rung's place in the ladder from 0, or -1 for OffMachine and unknown words.
func (r Rung) Order() int { return slices.Index(Rungs, r) }

// Only says when something applies. All the parts given must hold; the zero value always applies.
type Only struct {
	Features []Feature `json:"features,omitempty"` // any of these
	Unless   []Feature `json:"unless,omitempty"`   // none of these
	Setting  string    `json:"setting,omitempty"`  // this setting is one of Is
	Step     string    `json:"step,omitempty"`     // that earlier step was answered with one of Is
	Is       []string  `json:"is,omitempty"`
}

// Zero tells whether the condition always holds.
func (o Only) Zero() bool {
	return len(o.Features) == 0 && len(o.Unless) == 0 && o.Setting == "" && o.Step == ""
}

// OnMachine tells whether the part about features and settings holds; the part about a step is
// left to the walk.
func (o Only) OnMachine(fs FeatureSet, settings map[string]string) bool {
	if len(o.Features) > 0 && !slices.ContainsFunc(o.Features, func(f Feature) bool {
		return fs[f]
	}) {
		return false
	}
	if slices.ContainsFunc(o.Unless, func(f Feature) bool { return fs[f] }) {
		return false
	}
	return o.Setting == "" || slices.Contains(o.Is, cmp.Or(settings[o.Setting], NotKnown))
}

// NotKnown is what a condition calls a setting that nobody answered.
const NotKnown = "not known"

// Placed is a rung, and when it is this one.
type Placed struct {
	Is   Rung `json:"is"`
	Only Only `json:"only,omitzero"`
}

// Left is what differs after a procedure: a variable, its value, and when.
type Left struct {
	Variable Variable `json:"variable"`
	Is       string   `json:"is"`
	Only     Only     `json:"only,omitzero"`
}

// Change is what a set-up action does to the machine's state.
type Change struct {
	Variable Variable `json:"variable"`
	From     string   `json:"from"`
	To       string   `json:"to"`
}

// MinutesFor replaces a set-up action's minutes on some machines.
type MinutesFor struct {
	HandsOn float64 `json:"handson"`
	Waiting float64 `json:"waiting"`
	Only    Only    `json:"only,omitzero"`
}

// RequireFor is what a procedure requires of some machines, beside or in place of what it requires
// of all.
type RequireFor struct {
	Require Condition `json:"require"`
	Only    Only      `json:"only,omitzero"`
}

// Band is the low and high end of an interval, in the unit of its meter.
type Band struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
	// of a production band whose origin is another than the interval's
	Basis string `json:"basis,omitempty"`
}

// Interval is one limit after which a procedure is due.
type Interval struct {
	Meter Meter   `json:"meter"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	// in place of low and high where duty is production
	Production *Band `json:"production,omitempty"`
	// common practice | from memory | published: SOURCE | own record
	Basis string `json:"basis"`
	When  *When  `json:"when,omitempty"`
	Only  Only   `json:"only,omitzero"`
	Once  bool   `json:"once,omitempty"` // counts from the trigger, and only until done
}

// When restricts an interval to machines whose recent use has a share of one meter in hours.
type When struct {
	Meter Meter   `json:"meter"`
	Share float64 `json:"share"` // of the hours of the last 30 days, 0..1
}

// Trigger makes a procedure due after others, whatever the meters say.
type Trigger struct {
	Done []string `json:"done"`
	Only Only     `json:"only,omitzero"`
}

// Setting is what a procedure must know of a machine, asked once.
type Setting struct {
	Name    string   `json:"name"`
	Title   string   `json:"title,omitempty"` // in a column of questions
	Ask     string   `json:"ask"`
	Default string   `json:"default,omitempty"`
	Options []string `json:"options,omitempty"`
	Number  bool     `json:"number,omitempty"`
	// of a number that is measured; a number without one is a count
	Unit string `json:"unit,omitempty"`
	Only Only   `json:"only,omitzero"`
}

// Fit is one screw a key is for.
type Fit struct {
	Head string `json:"head"` // cap | button | countersunk | set
	Size string `json:"size"` // M3
	For  string `json:"for,omitempty"`
}

// Tool is something to lay out; its name is one of the closed list in tools.go.
type Tool struct {
	Name string `json:"name"`
	Fits []Fit  `json:"fits,omitempty"`
	Only Only   `json:"only,omitzero"`
}

// Supply is something used up; its name is one of the closed list in tools.go.
type Supply struct {
	Part     string  `json:"part"`
	Quantity float64 `json:"quantity"`
	Unit     string  `json:"unit,omitempty"` // piece where empty
	// counts of the procedure that say how many it took, the first that was answered; Quantity is
	// what is planned
	Count []string `json:"count,omitempty"`
	Only  Only     `json:"only,omitzero"`
}

// Took is the key under which a machine's settings keep how many of a supply a procedure took the
// last time they were counted.
func (s Supply) Took(id string) string { return CountedPrefix + id + "/" + s.Part }

// Planned is how many a procedure is reckoned to take on a machine: as many as the last time, where
// they are counted.
func (s Supply) Planned(id string, settings map[string]string) float64 {
	if n, ok := SettingNumber(settings[s.Took(id)]); ok && len(s.Count) > 0 {
		return n
	}
	return s.Quantity
}

// Caution is one hazard: its signal word, what harm it does, how to avoid it.
type Caution struct {
	// of the table of cautions; empty where the file has words of its own
	ID string `json:"id,omitempty"`
	// both in at most 44 characters, for where it was read in full before
	Brief  string `json:"brief,omitempty"`
	Signal string `json:"signal"` // DANGER | WARNING | CAUTION | NOTICE
	Harm   string `json:"harm"`
	Avoid  string `json:"avoid"`
	// the steps it is shown with; the first step where empty
	Before []string `json:"before,omitempty"`
	Basis  string   `json:"basis,omitempty"` // where a figure in it comes from
	Only   Only     `json:"only,omitzero"`

	// steps whose own line says how to avoid it: its brief is left out there
	Said []string `json:"said,omitempty"`
	// on a machine that is hot or live it harms no more than on a cold and dark one
	Steady bool `json:"steady,omitempty"`
	// it does not apply while this is known, one of KnownNames; "" it always does
	UnlessKnown string `json:"unless_known,omitempty"`
}

// Cure is a symptom a procedure may cure, and how likely.
type Cure struct {
	Name   string `json:"name"`
	Weight string `json:"weight"` // high | medium | low
}

// Procedure is one piece of care, or one set-up action, as data.
type Procedure struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	// what a gauge is called, at most 22 characters; the id where empty
	Short   string `json:"short,omitempty"`
	Purpose string `json:"purpose,omitempty"`
	// why it stands where it stands in a session, a few words
	Why  string   `json:"why,omitempty"`
	Kind Kind     `json:"kind"`
	Rung []Placed `json:"rung,omitempty"` // the first that applies
	Part string   `json:"part,omitempty"` // the part it looks at or renews

	Needs    []Feature `json:"needs,omitempty"`
	NeedsAny []Feature `json:"needs_any,omitempty"`
	CountsAs []string  `json:"counts_as,omitempty"`
	After    []string  `json:"after,omitempty"`
	Proof    []string  `json:"proof,omitempty"`

	Starter bool `json:"starter,omitempty"` // among what a new machine is kept by

	HandsOn    float64      `json:"handson"`           // minutes of hands, practised
	First      float64      `json:"first,omitempty"`   // minutes of hands, first time
	Waiting    float64      `json:"waiting,omitempty"` // minutes nobody is needed
	MinutesFor []MinutesFor `json:"minutes_for,omitempty"`

	Intervals []Interval `json:"interval,omitempty"`
	Triggers  []Trigger  `json:"trigger,omitempty"`
	Settings  []Setting  `json:"setting,omitempty"`

	Require    Condition    `json:"require,omitempty"`
	RequireFor []RequireFor `json:"require_for,omitempty"`

	// the exceptions to the interlocks that its own steps stand under
	Owns   []Own   `json:"owns,omitempty"`
	Leave  []Left  `json:"leave,omitempty"`
	Change *Change `json:"change,omitempty"` // set-up actions only

	Tools    []Tool    `json:"tool,omitempty"`
	Supplies []Supply  `json:"supply,omitempty"`
	Gear     []string  `json:"gear,omitempty"` // protective gear, listed with the cautions
	Cautions []Caution `json:"caution,omitempty"`
	Steps    []Step    `json:"step,omitempty"`
	Later    []Later   `json:"later,omitempty"`
	Symptoms []Cure    `json:"symptom,omitempty"`

	File  string `json:"file,omitempty"`  // where it was read from
	Yours bool   `json:"yours,omitempty"` // an operator's own file
}

// Heading is the title as a person reads it: an operator's own file says so.
func (p *Procedure) Heading() string {
	if p.Yours {
		return p.Title + " (yours)"
	}
	return p.Title
}

// Called is what a gauge of the procedure is called.
func (p *Procedure) Called() string {
	if p.Short != "" {
		return p.Short
	}
	return strings.ReplaceAll(p.ID, "-", " ")
}

// Fits tells whether a machine has what the procedure needs.
func (p *Procedure) Fits(fs FeatureSet) bool {
	for _, f := range p.Needs {
		if !fs[f] {
			return false
		}
	}
	return len(p.NeedsAny) == 0 || slices.ContainsFunc(p.NeedsAny, func(f Feature) bool {
		return fs[f]
	})
}

// Misses are all that may follow where a step is not passed, what a redo gives way to as well.
func (s *Step) Misses() (out []*Miss) {
	take := func(m *Miss) {
		for ; m != nil; m = m.Else {
			out = append(out, m)
		}
	}
	take(s.Miss)
	for i := range s.Options {
		take(s.Options[i].Miss)
	}
	return out
}

// Adds are the procedures that an answer to one of its steps lets join the session.
func (p *Procedure) Adds() []string {
	var out []string
	for i := range p.Steps {
		for _, m := range p.Steps[i].Misses() {
			if m.Then == ThenAdd {
				out = append(out, m.Procedures...)
			}
		}
	}
	return out
}

// RungOn is the procedure's rung on a machine.
func (p *Procedure) RungOn(fs FeatureSet, settings map[string]string) Rung {
	for _, r := range p.Rung {
		if r.Only.OnMachine(fs, settings) {
			return r.Is
		}
	}
	return OffMachine
}

// Minutes gives hands and waiting, practised, on a machine.
func (p *Procedure) Minutes(fs FeatureSet, settings map[string]string) (hands, waiting float64) {
	for _, m := range p.MinutesFor {
		if m.Only.OnMachine(fs, settings) {
			return m.HandsOn, m.Waiting
		}
	}
	return p.HandsOn, p.Waiting
}

// WithDefaults gives settings filled up with the defaults of those that the procedure asks for and
// nobody answered.
func (p *Procedure) WithDefaults(settings map[string]string) map[string]string {
	out := maps.Clone(settings)
	for _, s := range p.Settings {
		if _, has := out[s.Name]; !has && s.Default != "" {
			if out == nil {
				out = map[string]string{}
			}
			out[s.Name] = s.Default
		}
	}
	return out
}

// Step finds a step by name; nil if there is none.
func (p *Procedure) Step(name string) *Step {
	for i := range p.Steps {
		if p.Steps[i].Name == name {
			return &p.Steps[i]
		}
	}
	return nil
}

// For resolves the procedure for one machine: only the rungs, steps, tools, supplies, cautions,
// intervals, settings and leavings that apply there. Conditions on earlier answers stay for the
// walk.
func (p *Procedure) For(fs FeatureSet, settings map[string]string) *Procedure {
	r := *p
	on := func(o Only) bool { return o.OnMachine(fs, settings) }
	r.Rung = []Placed{{Is: p.RungOn(fs, settings)}}
	r.HandsOn, r.Waiting = p.Minutes(fs, settings)
	r.MinutesFor = nil
	r.Steps = keep(p.Steps, func(s Step) bool { return on(s.Only) })
	landed(p.Steps, r.Steps)
	for i := range r.Steps {
		r.Steps[i].Seen = keep(r.Steps[i].Seen, func(x Seen) bool { return on(x.Only) })
	}
	r.Later = keep(p.Later, func(l Later) bool { return on(l.Only) })
	for i := range r.Later {
		r.Later[i].Cautions = keep(r.Later[i].Cautions, func(c Caution) bool { return on(c.Only) })
	}
	r.Tools = keep(p.Tools, func(t Tool) bool { return on(t.Only) })
	r.Supplies = keep(p.Supplies, func(s Supply) bool { return on(s.Only) })
	for i := range r.Supplies {
		r.Supplies[i].Quantity = r.Supplies[i].Planned(p.ID, settings)
	}
	r.Cautions = keep(p.Cautions, func(c Caution) bool { return on(c.Only) })
	r.Intervals = keep(p.Intervals, func(i Interval) bool { return on(i.Only) })
	r.Triggers = keep(p.Triggers, func(t Trigger) bool { return on(t.Only) })
	r.Settings = keep(p.Settings, func(s Setting) bool { return on(s.Only) })
	r.Leave = keep(p.Leave, func(l Left) bool { return on(l.Only) && l.Variable.Exists(fs) })
	r.Require, r.RequireFor = p.RequireOn(fs, settings), nil
	return &r
}

// RequireOn is what the procedure requires of one machine.
func (p *Procedure) RequireOn(fs FeatureSet, settings map[string]string) Condition {
	c := Condition{}
	take := func(from Condition) {
		for v, want := range from {
			if v.Exists(fs) {
				c[v] = want
			}
		}
	}
	take(p.Require)
	for _, r := range p.RequireFor {
		if r.Only.OnMachine(fs, settings) {
			take(r.Require)
		}
	}
	return c
}

// ByID finds a procedure in a list; nil where it is not there.
func ByID(procs []*Procedure, id string) *Procedure {
	for _, p := range procs {
		if p.ID == id {
			return p
		}
	}
	return nil
}

// MentionedFeatures gives every feature the procedure's conditions ask about.
func (p *Procedure) MentionedFeatures() []Feature {
	seen := FeatureSet{}
	add := func(o Only) {
		for _, f := range append(slices.Clone(o.Features), o.Unless...) {
			seen[f] = true
		}
	}
	for _, f := range append(slices.Clone(p.Needs), p.NeedsAny...) {
		seen[f] = true
	}
	for _, r := range p.Rung {
		add(r.Only)
	}
	for _, s := range p.Steps {
		add(s.Only)
		for _, x := range s.Seen {
			add(x.Only)
		}
	}
	for _, l := range p.Later {
		add(l.Only)
		for _, c := range l.Cautions {
			add(c.Only)
		}
	}
	for _, l := range p.Leave {
		add(l.Only)
	}
	for _, x := range p.RequireFor {
		add(x.Only)
	}
	for _, t := range p.Tools {
		add(t.Only)
	}
	for _, s := range p.Supplies {
		add(s.Only)
	}
	for _, c := range p.Cautions {
		add(c.Only)
	}
	return seen.List()
}

// keep gives the elements for which f holds.
func keep[T any](in []T, f func(T) bool) []T {
	var out []T
	for _, x := range in {
		if f(x) {
			out = append(out, x)
		}
	}
	return out
}
