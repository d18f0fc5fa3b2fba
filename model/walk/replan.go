package walk

import (
	"slices"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// wantsPlan tells whether the blocks ahead have to be laid anew before the walk goes on.
func (w *Walk) wantsPlan() bool {
	if w.telling {
		return w.needs
	}
	if w.lack != nil || w.Ended || w.paused || w.cutting() || len(w.lost) > 0 && w.dark() ||
		w.unended != nil || len(w.toAsk) > 0 || len(w.toCount) > 0 {
		return false
	}
	return w.needs || w.boundary() &&
		(w.unmet() || w.tooLate() || (len(w.pending) > 0 && !w.careDebt()))
}

// unmet tells whether the next block's needs differ from what is believed.
func (w *Walk) unmet() bool {
	b := w.Block()
	if b == nil {
		return false
	}
	if c := b.Proc.Change; c != nil && c.Variable == model.Heat && w.Believed[model.Heat] == c.To {
		return true // proofs heated it meanwhile
	}
	if b.ID == HeatOff {
		return false // asked wherever power is not known to be off, and no plan brings it
	}
	ok, _ := w.Believed.Meets(b.Proc.Require, w.Features())
	return !ok
}

// careDebt tells whether care, set-up actions apart, has something out, in or loose. What set-up
// actions have out (cover, panels, their screws) the planner sees as state and closes again.
func (w *Walk) careDebt() bool {
	if w.Block() == nil && !w.due(w.Ledger()).Empty() {
		return true
	}
	for _, b := range w.Blocks {
		if b.Kind == model.BlockCare && w.debt(b) {
			return true
		}
	}
	return false
}

// remaining are the procedures still to be done, those that join included.
func (w *Walk) remaining(c Context) ([]*model.Procedure, map[string][]byte, error) {
	var out []*model.Procedure
	if len(w.Blocks) == 0 && w.Cur == 0 {
		for _, r := range w.Begun.Items {
			if !slices.Contains(w.leftIDs, r.ID) {
				out = append(out, w.texts[r.Hash])
			}
		}
	}
	for i := w.Cur; i < len(w.Blocks); i++ {
		b := w.Blocks[i]
		_, parked := w.parked[b.key]
		if slices.Contains(w.leftIDs, b.ID) {
			continue
		}
		if b.Kind == model.BlockCare && (b.Status == Ahead || parked && i == w.Cur) {
			// what waits for a part still puts back what it has out
			out = append(out, b.text)
		}
	}
	texts := map[string][]byte{}
	for _, id := range w.joins(c) {
		p, err := w.joining(c, id)
		if err != nil {
			return nil, nil, err
		}
		if p == nil || w.wantsBarred(p) || w.Begun.Locked && !plan.Inspects(p) ||
			model.ByID(out, id) != nil {
			continue
		}
		hash, data := model.Text(p)
		texts[hash] = data
		w.texts[hash] = p
		out = append(out, p)
	}
	if w.Stopped != "" {
		out = w.closing()
	} else if len(w.Blocks) > 0 {
		out = append(out, w.untold()...)
	}
	return out, texts, nil
}

// joins are the procedures that join: those asked for, and the bookends where the first of them
// opens a machine that was not to be opened.
func (w *Walk) joins(c Context) []string {
	ids := slices.Clone(w.pending)
	if len(ids) == 0 || c.Get == nil || w.hasBookend() {
		return ids
	}
	for _, id := range w.pending {
		if p := c.Get(id); p != nil && len(p.Require) > 0 {
			return append(ids, plan.Bookends...)
		}
	}
	return ids
}

func (g *given) hasBookend() bool {
	return slices.ContainsFunc(g.Begun.Items, func(r model.BlockRef) bool {
		p := g.texts[r.Hash]
		return p != nil && p.Kind == model.Bookend
	})
}

// joining reads a procedure that joins; nil where the machine has no use for it.
func (g *given) joining(c Context, id string) (*model.Procedure, error) {
	if c.Get == nil {
		return nil, nil
	}
	p := c.Get(id)
	if p == nil || !p.Fits(g.Features()) {
		return nil, nil
	}
	return p.For(g.Features(), g.Begun.Settings), nil
}

// closing is what is left after a stop: the paper at the end.
func (g *given) closing() []*model.Procedure {
	for _, r := range g.Begun.Items {
		if p := g.texts[r.Hash]; isPaper(p) {
			return []*model.Procedure{p}
		}
	}
	return nil
}

// replan plans the rest, or asks the state first where what joined needs it and nobody was asked
// yet.
func (w *Walk) replan(c Context) (Reply, error) {
	ask, err := w.mustAsk(c)
	if err != nil {
		return Reply{}, err
	}
	if ask {
		return Reply{Facts: []model.Fact{w.walked(model.Walked{What: Resumed,
			Why: "what joins needs to know how the machine stands"})}}, nil
	}
	return w.planned(c)
}

// mustAsk tells whether something ahead requires a state that is not known.
func (w *Walk) mustAsk(c Context) (bool, error) {
	if len(w.pending) == 0 {
		return false, nil
	}
	procs, _, err := w.remaining(c)
	if err != nil {
		return false, err
	}
	for _, p := range procs {
		for v := range p.Require {
			if w.Believed[v] == "" && v.Exists(w.Features()) {
				return true, nil
			}
		}
	}
	return false, nil
}

// planned plans the rest from what is believed now. What was to join and cannot is left: it is on
// record as due, and comes with another session. What is left for another day is a finding, and
// said.
func (w *Walk) planned(c Context) (Reply, error) {
	if w.telling {
		return w.toTell(), nil
	}
	procs, texts, err := w.remaining(c)
	if err != nil {
		return Reply{}, err
	}
	procs, note := w.asFound(procs)
	pl, err := w.plan(c, procs)
	if err != nil && len(w.pending) > 0 {
		alone := *w
		alone.pending = nil
		if procs, texts, err = alone.remaining(c); err == nil {
			procs, note = w.asFound(procs)
			pl, err = w.plan(c, procs)
		}
	}
	if err != nil && (w.powerLocked() || w.leavesUnplugged()) {
		pl, err = plan.WithinReach(w.request(c, procs))
	}
	if err != nil {
		return Reply{}, err
	}
	if why := w.overLedger(c, pl); why != "" {
		if f, texts, ok := w.cutFact(c, why); ok {
			return Reply{Facts: []model.Fact{f}, Texts: texts}, nil
		}
	}
	lacking := w.lacking(c, pl, texts)
	r := Reply{Facts: []model.Fact{w.walked(
		model.Walked{What: Planned, Plan: w.refs(c, pl, append(procs, lacking...))})}, Texts: texts}
	if len(lacking) > 0 {
		r.Note = "This session was begun by an older program: the gantry comes off its blocks by steps it did not have then."
	}
	r.Note = strings.TrimSpace(strings.TrimSpace(r.Note+" "+leftOver(pl, procs)) + " " + note)
	for _, l := range pl.Left {
		r.Facts = append(r.Facts,
			model.Fact{Kind: model.KindFinding, Finding: &model.Found{Kind: model.FoundLater,
				Text:      l.Why,
				Procedure: l.ID, Again: c.Now.AddDate(0, 0, 1)}})
	}
	return r, nil
}

// asFound leaves out what reads a machine as it was found where it was found without power: there
// is nothing to read, and nobody plugs it in for that. It says so.
func (w *Walk) asFound(procs []*model.Procedure) (rest []*model.Procedure, note string) {
	if len(w.Blocks) > 0 || !w.powerless() || w.powerLocked() {
		return procs, ""
	}
	for _, p := range procs {
		if p.Kind == model.Bookend && p.Require[model.Power] == model.On {
			note = "Not read as found: it was without power."
			continue
		}
		rest = append(rest, p)
	}
	return rest, note
}

// leftOver says in a sentence what a plan of procedures leaves for another day, "" where it leaves
// nothing.
func leftOver(pl *plan.Plan, procs []*model.Procedure) string {
	if len(pl.Left) == 1 {
		return pl.Left[0].Why
	}
	var titles []string
	for _, p := range procs {
		if slices.ContainsFunc(pl.Left, func(l plan.Left) bool { return l.ID == p.ID }) {
			titles = append(titles, p.Title)
		}
	}
	if titles == nil {
		return ""
	}
	return "Left for another day: " + strings.Join(titles, "; ") + ". Findings say why."
}

// overLedger says what is out, in or loose under power where a plan does not go on with the block
// that accounts for it; "" where it does, or nothing is.
func (w *Walk) overLedger(c Context, pl *plan.Plan) string {
	owner := w.keeper()
	if len(pl.Sequence) == 0 || pl.Sequence[0].ID != owner {
		owner = ""
	}
	return w.interlocks(c).Emergency(owner)
}

// plan orders procedures from what is believed. Where vapour is in the air the top has to come off
// before it counts as airing; a machine whose top cannot be reached is asked for it at the wait.
func (w *Walk) plan(c Context, procs []*model.Procedure) (*plan.Plan, error) {
	r := w.request(c, procs)
	if r.Start[model.Vapour] == model.Drying && model.Top.Exists(w.Features()) {
		open := r
		open.SetUps = airOpen(r.SetUps)
		if pl, err := plan.Make(open); err == nil {
			return pl, nil
		}
	}
	return plan.Make(r)
}

// request asks for a plan of procedures from what is believed.
func (w *Walk) request(c Context, procs []*model.Procedure) plan.Request {
	start := model.Condition{}
	for v, val := range w.Believed {
		if val != "" {
			start[v] = val
		}
	}
	if power := plan.Gantry(w.Features(), start, w.Ledger()); power != "" {
		start[model.Power] = power
	}
	r := plan.Request{Features: w.Features(), Settings: w.Begun.Settings, Procedures: procs,
		SetUps: w.actions(c), Start: start, Locked: w.powerLocked(), Unplugged: w.leavesUnplugged(), Heated: w.heated, Loose: w.loose(c) || w.powerLocked()}
	if (w.powered || w.Begun.Leave == model.On) && !r.Locked && !r.Unplugged {
		r.Power = "on" // the session found it on, or brought it back: unplugged is only on the way
	}
	return r
}

// actions are the set-up actions of the session. One begun before a gantry was lifted off its
// blocks by an action of its own takes that from the library: without it nothing leads back to
// power.
func (g *given) actions(c Context) []*model.Procedure {
	out := slices.Clip(g.setups)
	for _, id := range []string{plan.GantryFree, plan.GantryHeld} {
		if g.setUp(id) == nil {
			if p, err := g.joining(c, id); err == nil && p != nil {
				out = append(out, p)
			}
		}
	}
	return out
}

// lacking gives the set-up actions of a plan that the session was begun without, with their texts
// added.
func (g *given) lacking(c Context, pl *plan.Plan, texts map[string][]byte) []*model.Procedure {
	var out []*model.Procedure
	for _, p := range g.actions(c)[len(g.setups):] {
		if slices.ContainsFunc(pl.Sequence, func(it plan.Item) bool { return it.ID == p.ID }) {
			hash, data := model.Text(p)
			texts[hash] = data
			g.texts[hash] = p
			out = append(out, p)
		}
	}
	return out
}

// airOpen gives the set-up actions with the airing bound to an open top.
func airOpen(setups []*model.Procedure) []*model.Procedure {
	out := slices.Clone(setups)
	for i, p := range out {
		if p.Change != nil && p.Change.Variable == model.Vapour {
			q := *p
			q.Require = p.Require.Clone()
			q.Require[model.Top] = model.Off
			out[i] = &q
		}
	}
	return out
}

// refs turns a plan into blocks, with the proofs owed where power is back.
func (w *Walk) refs(c Context, pl *plan.Plan, procs []*model.Procedure) []model.BlockRef {
	hash := map[string]string{}
	for _, p := range procs {
		hash[p.ID], _ = model.Text(p)
	}
	for _, r := range w.Begun.SetUps {
		hash[r.ID] = r.Hash
	}
	var out []model.BlockRef
	blocks := w.total(blocksItem) > 0
	for _, it := range pl.Sequence {
		if it.ID == plan.GantryFree && !blocks {
			continue // it rests on its stops: there is nothing to draw, and no reason to jog
		}
		blocks = blocks || it.ID == model.SwitchOff || plan.IsCut(it.ID)
		out = append(out, model.BlockRef{Kind: it.Kind, ID: it.ID, Hash: hash[it.ID]})
	}
	return w.withBegin(c, w.withOwed(out))
}

// isPaper tells whether a procedure is the bookend that closes a session.
func isPaper(p *model.Procedure) bool {
	return p.Kind == model.Bookend && len(p.Rung) > 0 && p.Rung[0].Is == model.RungPaper
}
