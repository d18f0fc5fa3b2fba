package session

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/store"
)

// Session is a begun session being walked.
type Session struct {
	desk    Desk
	W       *walk.Walk
	Machine *model.Machine

	// Lately says that the session was answered a moment ago and not paused: another program may
	// have it open. "" where not.
	Lately string

	begun    *model.Session // as the bench has it; nil once it is closed
	practice model.Practice // of the operator, before this session
	flipped  *walk.Block    // the block whose pace was changed by hand
	pace     string         // its pace

	// of work told from paper: when the procedure told last was done, where that was said, and the
	// row that was gone to
	toldOf *walk.Block
	toldAt time.Time
	row    string
}

// Begin begins a session with a plan on a machine and gives it opened.
func (d Desk) Begin(m *model.Machine, c Chosen, now time.Time) (*Session, error) {
	a, err := d.BeginAction(m, c, now)
	if err != nil {
		return nil, err
	}
	entries, err := d.Store.Append(a)
	if err != nil {
		return nil, err
	}
	return d.open(entries[0].Session)
}

// BeginAction gives the action that begins a session; writing it is left to the caller.
func (d Desk) BeginAction(m *model.Machine, c Chosen, now time.Time) (model.Action, error) {
	if err := d.CanBegin(m, c.Plan.IDs()); err != nil {
		return model.Action{}, err
	}
	fs := model.NewFeatureSet(m.Features...)
	s := walk.Start{Title: "care session", Ask: c.Plan.SetUpActions > 0, Locked: m.Stopped(),
		Leave: c.Plan.Leave}
	if s.Locked {
		s.Title = "looking for the cause of the stop"
	}
	for _, id := range c.Plan.IDs() {
		p := d.Lib.Get(id)
		if p == nil {
			return model.Action{}, fmt.Errorf("there is no procedure %q any more: plan again", id)
		}
		r := p.For(fs, m.Settings)
		s.Items = append(s.Items, r)
		s.Ask = s.Ask || len(r.Require) > 0
	}
	if s.Leave == model.On {
		s.Title, s.Ask = "checks owed under power", true
	}
	if len(c.IDs) == 1 {
		s.Title = d.Lib.Get(c.IDs[0]).Title
	}
	if c.Then != nil {
		s.Title, s.Told, now = s.Title+" (told from paper)", c.Then.To, c.Then.From
	}
	a, err := d.begin(m, s, now)
	if err != nil {
		return a, err
	}
	for _, f := range a.Facts {
		if f.Begun != nil {
			f.Begun.Complaint, f.Begun.Minutes = c.For, c.Minutes
		}
	}
	return a, nil
}

// CloseAction gives the action that begins a session which only closes a machine left open, and
// leaves its power so.
func (d Desk) CloseAction(m *model.Machine, leave model.Value, now time.Time) (model.Action,
	error) {
	fs := model.NewFeatureSet(m.Features...)
	s := walk.Start{Title: "closing what was left open", Ask: true, Closing: true,
		Locked: m.Stopped(), Leave: leave}
	if p := d.Lib.Get(model.CloseOut); p != nil {
		s.Items = append(s.Items, p.For(fs, p.WithDefaults(m.Settings)))
	}
	return d.begin(m, s, now)
}

func (d Desk) begin(m *model.Machine, s walk.Start, now time.Time) (model.Action, error) {
	fs := model.NewFeatureSet(m.Features...)
	for _, p := range d.Lib.SetUps() {
		if p.Change == nil || p.Change.Variable.Exists(fs) {
			s.SetUps = append(s.SetUps, p.For(fs, m.Settings))
		}
	}
	s.Owed = d.owed(m)
	r, err := walk.Begin(walk.Context{Now: now, Machine: m, Get: d.Lib.Get}, s)
	if err != nil {
		return model.Action{}, err
	}
	return model.Action{At: now, By: d.By, Machine: m.ID, Ordinal: 1, Facts: r.Facts,
		Texts: r.Texts}, nil
}

// Resume opens a begun session and asks its state anew: the program was ended, paused, or another
// person carries on.
func (d Desk) Resume(session string, now time.Time) (*Session, error) {
	s, err := d.open(session)
	if err != nil {
		return nil, err
	}
	s.Lately = lately(s.begun, now)
	r, err := s.W.Resume(s.Context(now))
	if err != nil {
		return nil, err
	}
	return s, s.carry(r, now)
}

// moment is how long after an answer another program is thought to be at the session still: a step
// takes a few minutes (from memory).
const moment = 5 * time.Minute

// lately looks who else may be at a begun session: two programs on it are safe, since the second's
// answers are refused once the first has written, but nobody should find that out at the machine.
func lately(s *model.Session, now time.Time) string {
	if s == nil || s.Paused || now.Before(s.Last) || now.Sub(s.Last) > moment {
		return ""
	}
	ago := fmt.Sprintf("%d s", int(now.Sub(s.Last).Seconds()))
	if minutes := int(now.Sub(s.Last).Minutes()); minutes >= 2 {
		ago = fmt.Sprintf("%d min", minutes)
	}
	return "It was left " + ago +
		" ago without a pause: if another program has it open, go on there."
}

// Open gives a session as its facts stand, without asking anything anew.
func (d Desk) Open(session string) (*Session, error) { return d.open(session) }

func (d Desk) open(session string) (*Session, error) {
	entries, err := d.Store.Entries(store.Filter{Session: session})
	if err != nil {
		return nil, err
	}
	if len(entries) == 0 {
		return nil, fmt.Errorf("there is no session %s: oilcan machine list shows those begun",
			session)
	}
	w, err := walk.Load(zoned(entries, d.Store.Zone()), d.text)
	if err != nil {
		return nil, err
	}
	s := &Session{desk: d, W: w}
	return s, s.Refresh()
}

// text reads a procedure as it was stored when its session began.
func (d Desk) text(hash string) (*model.Procedure, error) { return texts(d.Store)(hash) }

// zoned gives entries with their times in the zone of the bench's clock, in which the walk says
// them: the journal keeps UTC.
func zoned(entries []model.Entry, zone *time.Location) []model.Entry {
	out := slices.Clone(entries)
	for i := range out {
		out[i].At = out[i].At.In(zone)
	}
	return out
}

// Refresh reads the machine and the session as the bench knows them now.
func (s *Session) Refresh() error {
	b, err := s.desk.Store.Bench()
	if err != nil {
		return err
	}
	s.Machine, s.begun = b.Machines[s.W.MachineID], b.Sessions[s.W.ID]
	s.practice = b.PracticeOf(s.desk.By)
	return nil
}

// Context is what answers are judged against.
func (s *Session) Context(now time.Time) walk.Context {
	c := walk.Context{Now: s.when(now), Machine: s.Machine, Get: s.desk.Lib.Get, Row: s.row,
		By: s.desk.By, Pace: s.desk.Pace, Practice: s.practice, Unhurried: s.desk.Piped}
	if s.flipped != nil && s.flipped == s.W.Block() {
		c.Pace = s.pace
	}
	return c
}

// Flip changes the pace of the current block, step by step or page by page, and tells whether it
// could.
func (s *Session) Flip(now time.Time) bool {
	c := s.Context(now)
	switch {
	case s.W.InPages(c):
		s.pace = walk.Steps
	case s.W.CanPages(c):
		s.pace = walk.Pages
	default:
		return false
	}
	s.flipped = s.W.Block()
	return true
}

// when is the time of what is said: of work told from paper when it was done, else now.
func (s *Session) when(now time.Time) time.Time {
	block := s.W.ToldBlock()
	switch {
	case !s.W.TellsPast():
		return now
	case s.toldOf == block && !s.toldAt.IsZero():
		return s.toldAt
	case s.toldOf != block && !s.W.ToldAt().IsZero():
		return s.W.ToldAt() // said before it was broken off
	case block != nil && block.ID == model.AsFound:
		return s.W.Start // it was read before anything was touched
	}
	return s.W.Begun.Told
}

// tells tells whether a fact of a telling is one of then, and not of the telling itself.
func tells(f model.Fact) bool {
	return f.Walk != nil && slices.Contains([]model.What{walk.Passed, walk.Missed, walk.Skipped,
		walk.LeftOut, walk.Ended}, f.Walk.What)
}

// Action turns a reply into the action to write.
func (s *Session) Action(r walk.Reply, now time.Time) model.Action {
	at := now
	if slices.ContainsFunc(r.Facts, tells) {
		at = s.when(now)
	}
	return model.Action{At: at, By: s.desk.By, Machine: s.W.MachineID, Session: s.W.ID,
		Ordinal: s.W.Ordinal + 1, Facts: r.Facts, Texts: r.Texts}
}

// Written takes entries that were written into the walk.
func (s *Session) Written(entries []model.Entry) error {
	return s.W.Apply(zoned(entries, s.desk.Store.Zone()), s.desk.text)
}

// carry writes a reply and moves the walk on.
func (s *Session) carry(r walk.Reply, now time.Time) error {
	if len(r.Facts) == 0 {
		return nil
	}
	entries, err := s.desk.Store.Append(s.Action(r, now))
	if err != nil {
		return err
	}
	if err := s.Written(entries); err != nil {
		return err
	}
	return s.Refresh()
}

// Answer is what a person says: an answer, a word of command, or a Row.
type Answer struct {
	Text  string
	Typed bool // it answers what is asked, and is no word of command whatever it begins with
	Meant bool // where it leads was said

	From *model.Worked // how it was worked out; nil where it was read off
}

// Row is what is said of the nth row of a page, or of what can be done while a wait runs, from 1;
// "" is that it is as written.
func Row(n int, text string) string { return strings.TrimSpace(fmt.Sprintf("#%d %s", n, text)) }

// Verdict is what an answer comes to.
type Verdict struct {
	walk.Reply
	Leads string // where it leads, in a sentence: nothing comes of it before it is said to be meant
}

// Judge judges what is said, and writes nothing.
func (s *Session) Judge(a Answer, now time.Time) (Verdict, error) {
	c, text := s.Context(now), a.Text
	if a.Typed {
		text = s.asTyped(c, text)
	}
	if leads := s.W.LeadsTo(c, text); leads != "" && !a.Meant {
		return Verdict{Leads: leads}, nil
	}
	r, err := s.W.PageAnswer(c, text)
	workedOut(r.Facts, a.From)
	return Verdict{Reply: r}, err
}

// asTyped is what was typed as a line that is the answer to what is asked.
func (s *Session) asTyped(c walk.Context, text string) string {
	if pg := s.W.Page(c); pg != nil {
		if i := slices.IndexFunc(pg.Rows, func(r walk.Row) bool { return r.Now }); i >= 0 {
			return Row(pg.Rows[i].No, text)
		}
	}
	if p := s.W.Prompt(c.Now); p.Step != nil && p.Step.Gate == model.Note && p.Commands(text) {
		return "- " + text // a note that begins with a word of command is still a note
	}
	return text
}

// Next is what is to be written before a person is asked again: plans, waits, the end.
func (s *Session) Next(now time.Time) (walk.Reply, error) { return s.W.Auto(s.Context(now)) }

// Settle writes what needs no person. It gives what a person has to hear of it.
func (s *Session) Settle(now time.Time) (note string, err error) {
	for range 200 {
		r, err := s.Next(now)
		if err != nil || len(r.Facts) == 0 {
			return note, err
		}
		note = strings.TrimSpace(note + " " + r.Note)
		if err := s.carry(r, now); err != nil {
			return note, err
		}
	}
	return note, fmt.Errorf("the session does not settle: run oilcan check")
}

// Take writes what an answer came to and settles, for a front end that waits meanwhile.
func (s *Session) Take(r walk.Reply, now time.Time) (walk.Reply, error) {
	if len(r.Facts) == 0 {
		return r, nil
	}
	if err := s.carry(r, now); err != nil || r.Paused {
		return r, err
	}
	note, err := s.Settle(now)
	r.Note = strings.TrimSpace(r.Note + " " + note)
	return r, err
}

// GiveUp ends the session with a reason. The reply is to be written.
func (s *Session) GiveUp(why string, now time.Time) (walk.Reply, error) {
	return s.W.GiveUp(s.Context(now), why)
}
