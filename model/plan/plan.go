package plan

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// Request is what is to be ordered.
type Request struct {
	Features   model.FeatureSet
	Settings   map[string]string
	Procedures []*model.Procedure // the care, unresolved as loaded; its order does not matter
	SetUps     []*model.Procedure // every set-up action of the library
	Start      model.Condition    // as believed; a variable not in it counts as model.Assumed
	// to end with where nothing need be opened; empty: as at the start
	Power  string
	Locked bool // after a stop: nothing may bring power back
	// it is left without power: nothing brings it back, and the plug is out at the end
	Unplugged bool
	Heated    bool // it was heated in this session, whatever is read now
	// something is out of the machine, in it or loose: it is unplugged before anything else
	Loose bool
	// nodes searched before optimality is given up; 0 takes DefaultLimit
	Limit int

	by measure // what the order is the best by
}

// DefaultLimit is how many nodes are searched before a plan is given without proof.
const DefaultLimit = 200_000

// Item is one set-up action or one procedure of a plan.
type Item struct {
	Kind    model.BlockKind `json:"kind"` // setup or care
	ID      string          `json:"id"`
	Change  *model.Change   `json:"change"`  // of a set-up action
	HandsOn float64         `json:"handson"` // minutes
	Waiting float64         `json:"waiting"` // minutes
	Why     string          `json:"-"`       // why it stands here, a few words; may be empty
}

// Plan is a session in order. Minutes are multiples of 0.25.
type Plan struct {
	Machine      string          `json:"machine"` // left for the caller
	Sequence     []Item          `json:"sequence"`
	Cost         float64         `json:"cost"`    // minutes of set-up hands + 0.25 a tool pick-up
	HandsOn      float64         `json:"handson"` // minutes, procedures and set-ups
	Waiting      float64         `json:"waiting"` // minutes, no overlap credited
	Filled       float64         `json:"filled"`  // minutes of hands that go into those waits
	SetUpActions int             `json:"setup_actions"`
	ToolPickups  int             `json:"tool_pickups"`
	Tools        []Lay           `json:"tools"`    // what to lay out, by name
	Supplies     []Lay           `json:"supplies"` // what may be used up, by name
	Optimal      bool            `json:"optimal"`  // the order is proven best
	Bound        float64         `json:"bound"`    // no order costs less than this, minutes
	Start        model.Condition `json:"start"`    // of the variables the machine has
	Goal         model.Condition `json:"goal"`     // what must hold at the end; the rest is free
	Precedence   [][2]string     `json:"precedence"`
	Left         []Left          `json:"left,omitempty"` // asked for and left for another day
	// how power is left: unplugged, on, or empty: as it was
	Leave model.Value `json:"leave,omitempty"`
	Fit   *Fit        `json:"fit,omitempty"` // of a choice for the minutes there are
}

// Minutes is how long the person is at it: hands, and what of the waits is not filled with them.
// What a session takes is counted here alone.
func (p *Plan) Minutes() float64 { return p.HandsOn + p.Idle() }

// Idle is how many minutes of the waits no hands fill.
func (p *Plan) Idle() float64 { return p.Waiting - p.Filled }

// IDs gives the procedures of the plan in their order, without the set-up actions.
func (p *Plan) IDs() []string {
	var ids []string
	for _, it := range p.Sequence {
		if it.Kind == model.BlockCare {
			ids = append(ids, it.ID)
		}
	}
	return ids
}

// Make orders exactly the procedures of the request. Errors are one sentence: a procedure that does
// not fit the machine, one whose require cannot be met, a circle in the precedence. It first tries
// the procedures on the machine as it stands.
func Make(r Request) (*Plan, error) {
	if r.Unplugged && !r.Locked {
		return makeUnplugged(r)
	}
	return order(r)
}

// order makes the plan of a request as it is.
func order(r Request) (*Plan, error) {
	m, err := compile(r, false)
	if err != nil {
		return nil, err
	}
	way, sol, goal, err := m.best(r)
	if errors.Is(err, errNoOrder) && !m.stone().empty() {
		without, why := compile(r, true)
		if why == nil {
			if v, s, g, e := without.best(r); e == nil {
				m, way, sol, goal, err = without, v, s, g, nil
			}
		}
	}
	if err != nil {
		return nil, m.explain(err, goal)
	}
	p := m.plan(way, sol, goal)
	if err := m.verify(p, goal); err != nil {
		return nil, fmt.Errorf("the plan made breaks a rule and is not shown: %w", err)
	}
	return p, nil
}

// best orders the session, on the machine as it stands where that goes, and gives what it ends in.
// What leads out of power first closes the machine whole at the end.
func (m *session) best(r Request) ([]int, *solution, model.Condition, error) {
	goal := m.goal()
	way, after, err := m.wayOut()
	if err != nil {
		return nil, nil, goal, err
	}
	m.state = after
	if len(way) == 0 {
		asIs := m.asIs(goal, r.Power)
		sol, err := solve(m.problem(asIs, make([][]move, stateCount)), m.limit)
		if !errors.Is(err, errNoOrder) {
			return way, sol, asIs, err
		}
	}
	sol, err := solve(m.problem(goal, m.moves()), m.limit)
	return way, sol, goal, err
}

// asIs is what a session without set-up actions ends in: the power as it was, or as asked for.
func (m *session) asIs(goal model.Condition, power string) model.Condition {
	goal = goal.Clone()
	goal[model.Power] = cmp.Or(power, m.start[model.Power])
	if m.unplugged {
		goal[model.Power] = model.Unplugged
	}
	if goal[model.Power] == OverBlocks {
		goal[model.Power] = model.On // nobody leaves it so
	}
	return goal
}

// session is a request with everything resolved for the machine.
type session struct {
	fs       model.FeatureSet
	settings map[string]string
	procs    []*model.Procedure // resolved, by id
	setups   []*model.Procedure // resolved, by id; only those whose variable the machine has
	prec     *precedence
	to       [][]int16 // by procedure and state: the state after it
	tools    []map[string]bool
	start    model.Condition
	state    int
	locked   bool
	loose    bool

	unplugged bool // see Request
	limit     int
	left      []Left
	by        measure
}

// compile resolves and checks a request; with heatFirst what is measured stone cold is left out,
// because something else must heat before it.
func compile(r Request, heatFirst bool) (*session, error) {
	m := &session{fs: r.Features, settings: r.Settings, locked: r.Locked, loose: r.Loose,
		unplugged: r.Unplugged, by: r.by, limit: cmp.Or(r.Limit, DefaultLimit)}
	if len(r.Procedures) > maxJobs {
		return nil, fmt.Errorf("one session holds at most %d procedures: choose fewer", maxJobs)
	}
	seen := map[string]bool{}
	for _, p := range r.Procedures {
		if err := fits(p, r.Features); err != nil {
			return nil, err
		}
		if seen[p.ID] {
			return nil, fmt.Errorf("%s is asked for twice: name it once", p.ID)
		}
		seen[p.ID] = true
		m.procs = append(m.procs, p.For(r.Features, r.Settings))
	}
	for _, p := range r.SetUps {
		if p.Change == nil || p.ID == PartFilament && !r.parts() {
			continue // the walk puts it in where it is needed
		}
		if seen[p.ID] {
			return nil, fmt.Errorf("%s is the id of two files: rename one", p.ID)
		}
		seen[p.ID] = true
		if q := p.For(r.Features, p.WithDefaults(r.Settings)); does(q, r.Features) {
			m.setups = append(m.setups, q)
		}
	}
	byID := func(a, b *model.Procedure) int { return cmp.Compare(a.ID, b.ID) }
	slices.SortFunc(m.procs, byID)
	slices.SortFunc(m.setups, byID)
	if heatFirst {
		m.leaveStone("something else of this session has to heat before it")
	}
	m.leaveHot(&r)
	if err := m.values(r.Start); err != nil {
		return nil, err
	}
	for _, p := range m.procs {
		m.tools = append(m.tools, toolsOf(p))
		if err := allowed(p); err != nil {
			return nil, err
		}
		if err := m.contradiction(p); err != nil {
			return nil, err
		}
		if m.locked && slices.Contains(p.Owns, model.OwnPower) {
			return nil,
				fmt.Errorf("%s needs power, which is locked after a stop: clear the stop by name first", p.Title)
		}
		m.to = append(m.to, m.after(p))
	}
	var err error
	m.prec, err = precede(m.procs)
	return m, err
}

// does tells whether a resolved set-up action is one of a machine's: it has the variable and the
// features, and a step is left that does not hang on another.
func does(p *model.Procedure, fs model.FeatureSet) bool {
	first := slices.ContainsFunc(p.Steps, func(s model.Step) bool { return s.Only.Step == "" })
	return p.Change.Variable.Exists(fs) && p.Fits(fs) && (len(p.Steps) == 0 || first)
}

// fits says which feature a machine lacks for a procedure.
func fits(p *model.Procedure, fs model.FeatureSet) error {
	for _, f := range p.Needs {
		if !fs[f] {
			return fmt.Errorf("%s needs %s, which this machine does not have: leave it out, or add the feature", p.Title, f)
		}
	}
	if !p.Fits(fs) {
		return fmt.Errorf("%s needs %s, which this machine does not have: leave it out, or add one", p.Title,
			model.Listed(model.Words(p.NeedsAny), "or"))
	}
	return nil
}

// values checks every value used, minutes included, and takes the start.
func (m *session) values(start model.Condition) error {
	m.start = model.Condition{}
	for v, value := range start {
		if _, _, ok := bitsOf(v, value); !ok && value != "" {
			return fmt.Errorf("%s cannot be %q: it is one of %v", v, value, model.Values[v])
		}
		if value != "" {
			m.start[v] = value
		}
	}
	m.state = encode(m.start, m.fs)
	m.start = decode(m.state, m.fs)
	for _, p := range slices.Concat(m.procs, m.setups) {
		for v, value := range p.Require {
			if _, _, ok := bitsOf(v, value); !ok {
				return fmt.Errorf("%s requires %s = %q, which is not one of %v", p.ID, v, value,
					model.Values[v])
			}
		}
		for _, l := range p.Leave {
			if _, _, ok := bitsOf(l.Variable, l.Is); !ok {
				return fmt.Errorf("%s leaves %s = %q, which is not one of %v", p.ID, l.Variable,
					l.Is, model.Values[l.Variable])
			}
		}
		for _, x := range []float64{p.HandsOn, p.Waiting} {
			if x < 0 || x > 1000 || x*4 != float64(int(x*4)) {
				return fmt.Errorf("%s takes %v minutes: use a multiple of 0.25 from 0 to 1000",
					p.ID, x)
			}
		}
	}
	return nil
}

// goal is what must hold at the end where the machine has to be closed.
func (m *session) goal() model.Condition {
	g := model.Condition{}
	for _, v := range []model.Variable{model.Power, model.Cover, model.Top, model.Changer,
		model.Door, model.Vapour, model.Sensor} {
		if v.Exists(m.fs) {
			g[v] = model.Values[v][0]
		}
	}
	switch {
	case m.locked:
		delete(g, model.Power)
		delete(g, model.Sensor) // only switching on proves it: it stays latched
	case m.unplugged:
		g[model.Power] = model.Unplugged
		delete(g, model.Sensor)
	}
	return g
}
