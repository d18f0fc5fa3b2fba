// Package walktest walks sessions in tests: a journal in memory, and answers that pass every gate.
package walktest

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// Journal holds one session's entries in memory, as the store would give them.
type Journal struct {
	Entries []model.Entry
	Texts   map[string][]byte
	// texts of a session begun before; nil where there are none
	Stored  func(hash string) ([]byte, error)
	actions int
}

// procedures are the texts read so far, by content hash: one reading serves all sessions under
// test.
var procedures sync.Map

// Text reads a stored procedure.
func (j *Journal) Text(hash string) (*model.Procedure, error) {
	if p, ok := procedures.Load(hash); ok {
		return p.(*model.Procedure), nil
	}
	text, ok := j.Texts[hash]
	if !ok && j.Stored != nil {
		var err error
		if text, err = j.Stored(hash); err != nil {
			return nil, err
		}
	}
	p, err := model.ReadText(text)
	if err == nil {
		procedures.Store(hash, p)
	}
	return p, err
}

// Write appends a reply's facts as one action.
func (j *Journal) Write(r walk.Reply, at time.Time) []model.Entry {
	j.actions++
	if j.Texts == nil {
		j.Texts = map[string][]byte{}
	}
	maps.Copy(j.Texts, r.Texts)
	ord := 0
	for _, e := range j.Entries {
		ord = max(ord, e.Ordinal)
	}
	var out []model.Entry
	for _, f := range r.Facts {
		e := model.Entry{Seq: uint64(len(j.Entries) + 1), At: at, Session: j.of().Session,
			Machine: j.of().Machine, Action: "A" + strconv.Itoa(j.actions), Fact: f}
		if model.ClassOf(f.Kind) != model.Dated {
			ord++
			e.Ordinal = ord
		}
		j.Entries = append(j.Entries, e)
		out = append(out, e)
	}
	return out
}

// of names the session and its machine: those of the entries there are.
func (j *Journal) of() model.Entry {
	if len(j.Entries) > 0 && j.Entries[0].Session != "" {
		return j.Entries[0]
	}
	return model.Entry{Session: "S1", Machine: "M1"}
}

// Run is a session under test.
type Run struct {
	J   Journal
	W   *walk.Walk
	M   *model.Machine
	Get func(id string) *model.Procedure
	Now time.Time
	// Told are the answers given, in order.
	Told []string
	// Pace is how the session goes; "" is step by step.
	Pace     string
	By       string
	Practice model.Practice
	// Prompts and Keys count what a person saw and pressed, page by page (see PageStep).
	Prompts, Keys int
	screen        string          // that holds share
	read          map[string]bool // cautions on it
	// Readings counts the keys of what is read and kept.
	Readings int
	// Words counts those of the cautions that stood, in full or as briefs.
	Words int
}

// Context is what answers are judged against now.
func (r *Run) Context() walk.Context {
	return walk.Context{Now: r.Now, Machine: r.M, Get: r.Get, Pace: r.Pace, By: r.By,
		Practice: r.Practice}
}

// Begin begins a session.
func (r *Run) Begin(s walk.Start) error {
	rep, err := walk.Begin(r.Context(), s)
	if err != nil {
		return err
	}
	r.J.Write(rep, r.Now)
	if r.W, err = walk.Load(r.J.Entries, r.J.Text); err != nil {
		return err
	}
	return r.Settle()
}

// Fork is the same session a second time, as it is loaded from its journal: what one of them is
// answered the other does not know.
func (r *Run) Fork() (*Run, error) {
	f := *r
	f.J.Entries, f.J.Texts, f.Told = slices.Clone(r.J.Entries), maps.Clone(r.J.Texts), slices.Clone(
		r.Told)
	var err error
	f.W, err = walk.Load(f.J.Entries, f.J.Text)
	return &f, err
}

// Take writes a reply and moves the walk on.
func (r *Run) Take(rep walk.Reply, err error) error {
	if err != nil || len(rep.Facts) == 0 {
		return err
	}
	return r.W.Apply(r.J.Write(rep, r.Now), r.J.Text)
}

// Settle writes what needs no person.
func (r *Run) Settle() error {
	for range 200 {
		rep, err := r.W.Auto(r.Context())
		if err != nil || len(rep.Facts) == 0 {
			return err
		}
		if err := r.Take(rep, nil); err != nil {
			return err
		}
	}
	return fmt.Errorf("the walk does not settle at %s", r.W.Position())
}

// takes is how long an answer takes: 20 s, and for what is read of a hot machine as long as a place
// needs to cool to what the test types next.
func (r *Run) takes(s *model.Step) time.Duration {
	if s != nil && s.Gate == model.Measure && s.Unit == "°C" &&
		r.W.Believed[model.Heat] == model.Hot {
		return 4 * time.Minute
	}
	return 20 * time.Second
}

// Say answers once, as long later as that takes.
func (r *Run) Say(text string) (walk.Reply, error) {
	r.Now = r.Now.Add(r.takes(r.W.Step()))
	r.Told = append(r.Told, text)
	rep, err := r.W.Answer(r.Context(), text)
	if err == nil {
		err = r.Take(rep, nil)
	}
	if err == nil {
		err = r.Settle()
	}
	return rep, err
}

// Step answers the current prompt so that it passes; a wait is waited out. done is true at the end.
func (r *Run) Step() (done bool, err error) {
	p := r.W.Prompt(r.Now)
	switch p.Kind {
	case walk.AskOver:
		return true, nil
	case walk.AskWait:
		r.Now = p.Wait.Until
		return false, r.Settle()
	}
	text := Good(r.W, r.Context(), p)
	rep, err := r.Say(text)
	if err == nil && rep.Refusal != "" {
		err = fmt.Errorf("%s: %q was to pass %q and was refused: %s", r.where(), text, p.Question,
			rep.Refusal)
	}
	return false, err
}

func (r *Run) where() string {
	if b, s := r.W.Block(), r.W.Step(); s != nil {
		return b.ID + "/" + s.Name
	}
	return r.W.Position()
}

// Finish answers everything well until the session has closed.
func (r *Run) Finish() error {
	for range 2000 {
		done, err := r.Step()
		if err != nil || done {
			return err
		}
	}
	return fmt.Errorf("the session does not end: %s", r.where())
}

// PageStep answers what stands before the person as the screens take it, and counts: a page is one
// prompt, its rows pass by space, by enter all together, or typed; what stands alone passes by a
// letter; a state by one key a row.
func (r *Run) PageStep() (done bool, err error) {
	p := r.W.Prompt(r.Now)
	switch p.Kind {
	case walk.AskOver:
		return true, nil
	case walk.AskWait:
		r.look()
		r.words(r.W.ShownCautions(r.Context()))
		if err := r.meanwhile(); err != nil {
			return false, err
		}
		r.Now = p.Wait.Until
		return false, r.Settle()
	}
	r.look()
	if rows := r.W.StateRows(); len(rows) > 0 &&
		(p.Kind == walk.AskState || p.Kind == walk.AskLedger) {
		return false, r.states(rows)
	}
	pg := r.W.Page(r.Context())
	switch {
	case p.Kind == walk.AskEnd:
		r.Keys++
		return r.Step()
	case pg == nil && p.Kind == walk.AskStep:
		r.words(r.W.ShownCautions(r.Context()))
		r.key(p.Step, goodStep(r.W, r.Context(), p.Step))
		return r.Step()
	case pg == nil:
		r.Keys += 2
		return r.Step()
	}
	r.words(append(append([]walk.Shown(nil), pg.Cautions...), pg.Beside...))
	first := pageOf(pg)
	for range 60 {
		if pg = r.W.Page(r.Context()); pg == nil || pg.Asked() || pageOf(pg) != first {
			break
		}
		if err := r.row(pg); err != nil {
			return false, err
		}
		if again := r.W.Page(r.Context()); again != nil && pageOf(again) == first {
			r.words(append(append([]walk.Shown(nil), again.Cautions...), again.Beside...))
		}
	}
	if p = r.W.Prompt(r.Now); p.Kind != walk.AskStep || pg == nil || pg.Hold == nil ||
		pageOf(pg) != first {
		return false, nil
	}
	r.key(p.Step, goodStep(r.W, r.Context(), p.Step))
	return r.Step()
}

// look counts what stands before the person, where it is another screen than before.
func (r *Run) look() {
	if on := r.screenNow(); on == "" || on != r.screen {
		r.Prompts++
		r.screen, r.read = on, map[string]bool{}
	}
}

// screenNow names the screen that what is asked stands on: a page by its first row, holds that
// share one by the first of them; "" where it has its screen to itself.
func (r *Run) screenNow() string {
	if pg := r.W.Page(r.Context()); pg != nil {
		return pageOf(pg)
	}
	if rows := r.W.Together(); rows != nil {
		return r.W.Block().ID + "/" + rows[0].Step.Name
	}
	return ""
}

// meanwhile does all that may be done while a wait runs, a key each.
func (r *Run) meanwhile() error {
	for len(r.W.Meanwhile(r.Context())) > 0 {
		r.words(r.W.Meanwhile(r.Context())[0].Cautions)
		r.Keys++
		if rep, err := r.Say("#1"); err != nil || rep.Refusal != "" {
			return fmt.Errorf("%s: what is offered meanwhile was refused: %s, %w", r.where(),
				rep.Refusal, err)
		}
	}
	return nil
}

// pageOf names a page: its block and its first row.
func pageOf(pg *walk.Page) string { return pg.Block.ID + "/" + pg.Rows[0].Step.Name }

// states answers all that is asked of the machine's state on one screen: what is guessed right by
// one key together.
func (r *Run) states(rows []walk.StateRow) error {
	r.Now = r.Now.Add(20 * time.Second)
	var as []walk.StateAnswer
	guessed := false
	for _, x := range rows {
		text := Good(r.W, r.Context(), x.Prompt)
		as = append(as, walk.StateAnswer{Variable: x.Variable, Item: x.Item, Text: text})
		switch {
		case x.Guess == text && text != "":
			guessed = true
		case x.Variable == model.Heat && text != string(model.Hot) || x.Item != "":
			r.Keys += len(text) + 1
		default:
			r.Keys++
		}
	}
	if guessed {
		r.Keys++
	}
	rep, err := r.W.AnswerStates(r.Context(), as)
	if err := r.Take(rep, err); err != nil {
		return err
	}
	if rep.Refusal != "" {
		return fmt.Errorf("the state was refused: %s", rep.Refusal)
	}
	return r.Settle()
}

// row passes what comes next of a page: all plain rows at once, a marked one by its key, a typed
// one by typing.
func (r *Run) row(pg *walk.Page) error {
	for i, row := range pg.Rows {
		if !row.Now {
			continue
		}
		r.Now = r.Now.Add(r.takes(row.Step))
		var rep walk.Reply
		var err error
		switch {
		case row.Seen != "" && row.Rank == model.PlainLine:
			r.Keys++
			rep, err = r.W.PassPage(r.Context())
		case row.Seen != "":
			r.Keys++
			rep, err = r.W.PassLine(r.Context())
		default:
			text := goodStep(r.W, r.Context(), row.Step)
			r.key(row.Step, text)
			rep, err = r.W.AnswerRow(r.Context(), i+1, text)
		}
		if err := r.Take(rep, err); err != nil {
			// a refusal too is written: the same answer once more may be taken
			return err
		}
		if rep.Refusal != "" {
			return fmt.Errorf("%s: row %d was refused: %s", r.where(), i+1, rep.Refusal)
		}
		return r.Settle()
	}
	return nil
}

// key counts the keys of an answer: a typed one is its figures and enter, any other one key.
func (r *Run) key(s *model.Step, text string) {
	if s.Typed() || r.W.WantsTag(s) {
		r.Keys += len(text) + 1
		if s.Gate == model.Measure || s.Meter != "" {
			r.Readings += len(text) + 1
		}
		return
	}
	r.Keys++
}

// words counts those of cautions, once on a screen.
func (r *Run) words(cs []walk.Shown) {
	for _, c := range cs {
		text := c.Harm + " " + c.Avoid
		if !c.Whole {
			text = c.Brief
		}
		if !r.read[text] {
			r.Words += len(strings.Fields(text))
			r.read[text] = true
		}
	}
}

// TellStep tells the next of a session on paper as the screens take it: what a tick is not enough
// for, and all that is ticked before it. done is true where all is told, and the machine is asked.
func (r *Run) TellStep() (done bool, err error) {
	p := r.W.Prompt(r.Now)
	if p.Kind == walk.AskEnd {
		r.Keys++
		return r.Step()
	}
	pg := r.W.Page(r.Context())
	if !r.W.Telling() || pg == nil {
		return true, nil
	}
	if on := pg.Block.ID; on != r.screen {
		r.Prompts++
		r.screen = on
	}
	now := slices.IndexFunc(pg.Rows, func(row walk.Row) bool { return row.Now })
	if now < 0 {
		r.Keys++
		return false, r.told(r.W.PassPage(r.Context()))
	}
	if slices.ContainsFunc(pg.Rows[:now], func(row walk.Row) bool { return !row.Done }) {
		// its figures are those of the step that stands: what is before it passes with it
		return false, r.told(r.W.PassPage(r.Context()))
	}
	row := pg.Rows[now]
	text := goodStep(r.W, r.Context(), row.Step)
	r.key(row.Step, text)
	return false, r.told(r.W.AnswerRow(r.Context(), row.No, text))
}

// told writes what was told.
func (r *Run) told(rep walk.Reply, err error) error {
	if err := r.Take(rep, err); err != nil {
		return err
	}
	if rep.Refusal != "" {
		return fmt.Errorf("%s was refused: %s", r.where(), rep.Refusal)
	}
	return r.Settle()
}
