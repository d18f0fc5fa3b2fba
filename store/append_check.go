package store

import (
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// planned is an action with its ids given out.
type planned struct {
	at      time.Time
	by      string
	machine string
	session string
	action  string
	ordinal int // of the latest session fact
	facts   []model.Fact
	struck  touches
}

// plan gives an action its date and ids, and checks what concerns it as a whole.
func (b *batch) plan(a model.Action) (*planned, error) {
	p := &planned{at: a.At, by: strings.TrimSpace(a.By), machine: a.Machine, session: a.Session,
		facts: slices.Clone(a.Facts)}
	if len(p.facts) == 0 {
		return nil, refuse("there is nothing to write: the action has no facts")
	}
	if p.at.IsZero() {
		p.at = b.now
	}
	p.at = p.at.UTC().Truncate(time.Millisecond)
	// Dates and ids are judged with each entry; ids are made of the one and looked up by the other.
	err := judgeDates(model.Entry{At: p.at, Written: b.now.In(b.zone)})
	if err != nil {
		return nil, err
	}
	if p.action, err = b.newID(); err != nil {
		return nil, err
	}
	return p, b.giveIDs(p, a.Ordinal)
}

// giveIDs gives new machines and sessions their ids, and finds the place of session facts.
func (b *batch) giveIDs(p *planned, expected int) error {
	session, begins := false, false
	for i, f := range p.facts {
		switch {
		case f.Machine != nil && f.Kind == model.KindMachine:
			if err := b.giveMachineID(p, &p.facts[i]); err != nil {
				return err
			}
		case f.Kind == model.KindBegun && p.session == "":
			id, err := b.newID()
			if err != nil {
				return err
			}
			p.session = id
		}
		begins = begins || f.Kind == model.KindBegun
		session = session || f.Kind != model.KindMachine && model.ClassOf(f.Kind) != model.Dated
	}
	if err := judgeIDs(model.Entry{Machine: p.machine, Session: p.session}); err != nil {
		return err
	}
	s, err := b.session(p.session)
	if err != nil {
		return err
	}
	if s != nil && p.machine == "" {
		p.machine = s.Machine
	}
	if session {
		return b.checkOrdinal(p, s, expected, begins)
	}
	if p.session != "" && b.last[p.session] == 0 {
		return refuse("there is no session with the id %q", p.session)
	}
	return nil
}

func (b *batch) giveMachineID(p *planned, f *model.Fact) error {
	m := *f.Machine
	m.Name = strings.TrimSpace(m.Name)
	f.Machine = &m
	if m.ID == "" {
		m.ID = p.machine
	}
	if m.ID == "" {
		id, err := b.newID()
		if err != nil {
			return err
		}
		m.ID = id
	}
	if p.machine != "" && p.machine != m.ID {
		return refuse("one action can describe one machine only")
	}
	p.machine = m.ID
	return nil
}

// checkOrdinal refuses session facts that do not follow on what the session holds: another terminal
// has carried it on.
func (b *batch) checkOrdinal(p *planned, s *model.Session, expected int, begins bool) error {
	switch {
	case begins && s == nil && b.last[p.session] != 0:
		return say(ErrBegun, nil, "the session %q exists already: begin a new one", p.session)
	case begins && expected <= 1:
		return nil // whether it can begin is judged with the fact
	case begins || s == nil:
		return b.stale(p, s)
	}
	if p.machine != s.Machine {
		return refuse("the session is one of another machine: load it again")
	}
	if expected != s.Ordinal+1 {
		return b.stale(p, s)
	}
	p.ordinal = s.Ordinal
	return nil
}

func (b *batch) stale(p *planned, s *model.Session) error {
	if s == nil {
		return say(ErrStale, nil,
			"this session was carried on elsewhere and is closed: nothing was written, look at the bench")
	}
	who := ""
	if s.LastBy != "" && s.LastBy != p.by {
		who = " by " + s.LastBy
	}
	return say(ErrStale, nil,
		"this session was carried on elsewhere%s: nothing was written, load it again and go on at %s", who, orStart(s.Position))
}

func orStart(position string) string {
	if position == "" {
		return "its first step"
	}
	return position
}

// allow refuses a fact that cannot be, given all written before it. What it says in itself was
// judged.
func (b *batch) allow(p *planned, f model.Fact) error {
	switch f.Kind {
	case model.KindMachine:
		return b.allowMachine(f.Machine)
	case model.KindBegun, model.KindClosed, model.KindWalk:
		return b.allowSession(p, f)
	case model.KindStrike:
		return b.allowStrike(p, f.Strike)
	case model.KindStock:
		if p.machine == "" {
			return nil
		}
	}
	return b.allowAbout(p, f)
}

// allowAbout checks what a dated fact refers to.
func (b *batch) allowAbout(p *planned, f model.Fact) error {
	m, err := b.machine(p.machine)
	if err != nil {
		return err
	}
	if m == nil {
		return refuse("there is no machine with the id %q on this bench", p.machine)
	}
	if f.About() == "" {
		return nil
	}
	if m, err = b.fresh(p.machine); err != nil {
		return err
	}
	findings := m.Findings
	if m.More > 0 {
		if findings, err = standing(b.tx, p.machine); err != nil {
			return err
		}
	}
	for _, standing := range findings {
		if standing.ID == f.About() {
			if p.at.Before(standing.At) && !model.AheadOf(standing.At, b.now) {
				return refuse("the finding is of %s and cannot be closed or moved before that",
					model.Stamp(standing.At, b.now.In(b.zone)))
			}
			return nil
		}
	}
	return refuse("no finding %q stands on %s: it may be closed already", f.About(), m.Name)
}

func (b *batch) allowMachine(f *model.MachineFact) error {
	old, err := b.fresh(f.ID)
	if err != nil {
		return err
	}
	if err := b.allMachines(); err != nil {
		return err
	}
	if err := model.CheckName(b.bench, f.Name, f.ID); err != nil {
		return say(ErrRefused, err, "%s", err)
	}
	if old != nil && old.Session != "" && f.Retired {
		return refuse("a care session is begun on %s: close it or give it up before the machine is retired", old.Name)
	}
	return nil
}

// allMachines loads every machine, for what must be unique among them.
func (b *batch) allMachines() error {
	return b.tx.Bucket(machineBucket).ForEach(func(k, _ []byte) error {
		if k[0] == '*' {
			return nil
		}
		_, err := b.machine(string(k))
		return err
	})
}

func (b *batch) allowSession(p *planned, f model.Fact) error {
	s, err := b.session(p.session)
	if err != nil {
		return err
	}
	if f.Kind != model.KindBegun {
		switch {
		case s == nil:
			return b.stale(p, nil)
		case f.Kind == model.KindWalk:
			return b.allowTexts(f.Walk.Plan)
		}
		return nil
	}
	m, err := b.machine(p.machine)
	switch {
	case err != nil:
		return err
	case m == nil:
		return refuse("there is no machine with the id %q on this bench", p.machine)
	case m.Retired:
		return refuse("%s is retired: bring it back before a care session", m.Name)
	case m.Session != "":
		return say(ErrBegun, nil,
			"a care session is begun on %s already: resume it, or give it up with a reason", m.Name)
	}
	return b.allowTexts(append(slices.Clone(f.Begun.Items), f.Begun.SetUps...))
}

// allowTexts makes sure a session can be walked later from what is stored.
func (b *batch) allowTexts(refs []model.BlockRef) error {
	texts := b.tx.Bucket(textBucket)
	for _, r := range refs {
		if r.Hash != "" && texts.Get([]byte(r.Hash)) == nil {
			return refuse("the text of %s was not given with the session", r.ID)
		}
	}
	return nil
}

func (b *batch) allowStrike(p *planned, f *model.Strike) error {
	t, entries, err := touchesOf(b.tx, f.Action)
	if err != nil {
		return err
	}
	if len(entries) == 0 {
		return refuse("there is no action %q that can be struck: steps of a session, machines and sessions themselves stay on record", f.Action)
	}
	struck, err := struckActions(b.tx)
	if err != nil {
		return err
	}
	if struck[f.Action] {
		return refuse("that entry is struck already: strike the strike to put it back")
	}
	p.struck = t
	if p.machine == "" && len(t.machines) == 1 {
		p.machine = t.machines[0]
	}
	for _, id := range t.machines {
		if _, err := b.machine(id); err != nil {
			return err
		}
		b.machines[id] = true
	}
	if t.drawer {
		b.drawer = again
	}
	return nil
}
