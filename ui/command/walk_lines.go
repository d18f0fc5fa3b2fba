package command

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// walker takes one session line by line: every prompt is printed, one line is read, judged and
// written. There is no redraw, no colour and no drawing, so that pipes and screen readers follow.
type walker struct {
	in  *lines
	out *theme.Writer
	now func() time.Time
	// moves a pinned clock on; false where the clock runs by itself
	advance func(time.Duration) bool
	name    string // the machine's
	last    *walk.Block
}

// walkEnd says how the line-by-line walk ended.
type walkEnd int

const (
	walkClosed walkEnd = iota
	walkLeft           // begun, resumable
)

// run walks a session until it has closed or the answers end.
func (w *walker) run(s *session.Session) (walkEnd, error) {
	if err := w.settle(s); err != nil {
		return walkLeft, err
	}
	for {
		p := s.W.Prompt(w.now())
		switch p.Kind {
		case walk.AskOver:
			w.summary(s)
			return walkClosed, nil
		case walk.AskNone:
			if err := w.settle(s); err != nil {
				return walkLeft, err
			}
			continue
		case walk.AskWait:
			left, err := w.wait(s, p)
			if err != nil || left {
				return walkLeft, err
			}
			continue
		}
		w.show(s, p)
		text, ok := w.in.next()
		if !ok {
			w.say(
				"\nThe answers end here. The session stays begun at %s: oilcan walk %s --resume carries it on.",
				s.W.Position(),
				action.Typed(w.name),
			)
			return walkLeft, nil
		}
		r, err := w.answer(s, text)
		if err != nil {
			return walkLeft, err
		}
		if _, ok := s.W.Counter(s.Context(w.now())); ok {
			w.say("  type it again, %s", model.SayTrue)
		}
		if r.Paused {
			w.say("Paused at %s. oilcan walk %s --resume carries it on.", s.W.Position(),
				action.Typed(w.name))
			return walkLeft, nil
		}
	}
}

// answer judges a line, writes what follows, and says what came of it. One that stops, parks or
// leaves out is asked for again; y takes it.
func (w *walker) answer(s *session.Session, text string) (walk.Reply, error) {
	if w.dated(s, text) {
		return walk.Reply{}, nil
	}
	said, ok := w.said(s, text)
	if !ok {
		return walk.Reply{}, nil
	}
	// another terminal may have told something of the machine while this one waited
	if err := s.Refresh(); err != nil {
		return walk.Reply{}, err
	}
	v, err := s.Judge(said, w.now())
	if err == nil && v.Leads != "" {
		w.say("  %s", v.Leads)
		w.say("So it is? (y | anything else: back to the question)")
		if yes, _ := w.in.next(); !strings.EqualFold(strings.TrimSpace(yes), "y") {
			w.say("  not taken: nothing is on record of it")
			return walk.Reply{}, nil
		}
		said.Meant = true
		v, err = s.Judge(said, w.now())
	}
	if err != nil {
		return v.Reply, err
	}
	r, err := s.Take(v.Reply, w.now())
	if err == nil {
		w.reply(r)
	}
	return r, err
}

func (w *walker) say(format string, a ...any) { w.out.Say(format, a...) }

// settle writes what needs no person, and says what is to be heard of it.
func (w *walker) settle(s *session.Session) error {
	note, err := s.Settle(w.now())
	w.reply(walk.Reply{Note: note})
	return err
}

func (w *walker) reply(r walk.Reply) {
	if r.Refusal != "" {
		w.say("  not passed: %s", r.Refusal)
	}
	if r.Note != "" {
		w.say("  noted: %s", r.Note)
	}
}

// wait stands until a wait has run out. A line that cuts, pauses or goes back is taken at once; any
// other answers the prompt after the wait.
func (w *walker) wait(s *session.Session, p walk.Prompt) (left bool, err error) {
	if b := s.W.Block(); p.Step.Gate == model.Wait {
		if b != w.last {
			w.last = b
			w.heading(s, b)
		}
		w.say("\n%s\n  %s", s.W.Position(), p.Step.Do)
	}
	how := "cut WHY ends it early, pause leaves"
	switch {
	case s.W.ReadsInstead(p):
		how = "cut read early goes on to the readings; pause leaves, and the clock runs on"
	case s.W.Uncuttable(p) != "":
		how = "it cannot be cut; pause leaves, and the clock runs on"
	}
	w.say("Wait %s: %s (%s)", model.TimeLeft(p.Left), p.Wait.Why, how)
	w.offers(s)
	for {
		now := w.now()
		rest := p.Wait.Until.Sub(now)
		if rest <= 0 {
			w.say("  the wait is over")
			w.out.Ring()
			return false, w.settle(s)
		}
		if text, ok := w.in.peek(w.patience(rest)); ok && interrupts(text) {
			_, _ = w.in.next()
			r, err := w.answer(s, text)
			if err != nil {
				return true, err
			}
			if r.Refusal == "" {
				return r.Paused, nil
			}
			continue
		}
		if w.advance(rest) {
			continue
		}
		if w.in.done && w.in.held == nil {
			w.say(
				"The answers end during a wait. The session stays begun: oilcan walk %s --resume carries it on.",
				action.Typed(w.name),
			)
			return true, nil
		}
		if w.in.held != nil {
			sleep(rest)
		}
	}
}

// patience is how long to look for a line: shortly where the clock is pinned, else until the wait
// ends.
func (w *walker) patience(rest time.Duration) time.Duration {
	if w.advance(0) {
		return 200 * time.Millisecond
	}
	return rest
}

func sleep(d time.Duration) { <-time.After(d) }

func interrupts(text string) bool {
	verb, _, _ := strings.Cut(strings.ToLower(text), " ")
	return strings.HasPrefix(verb, "#") || slices.Contains([]string{"cut", "fault", "pause", "back", "plan"},
		verb)
}

// show prints a prompt: where it stands, the caution, the instruction, what is asked.
func (w *walker) show(s *session.Session, p walk.Prompt) {
	if p.Stopped != "" && p.Kind == walk.AskState {
		w.say("\nSTOP: %s\n%s", p.Stopped, model.StopNow)
	}
	if p.Kind != walk.AskStep {
		if p.Kind == walk.AskLack && p.Item == "" {
			w.list(s.W.Laying())
		}
		w.say("\n%s", p.Question)
		w.prompt(p, "")
		return
	}
	b := s.W.Block()
	fresh := b != w.last
	if fresh {
		w.last = b
		w.heading(s, b)
	}
	for _, k := range s.W.PassedKnown() {
		w.say("  known: %s", k)
	}
	if again := s.W.AskedAgain(); again != "" {
		w.say("  %s", again)
	}
	if s.W.Telling() {
		w.sheet(s, fresh)
		return
	}
	if page := s.W.Page(s.Context(w.now())); page != nil && !page.Asked() {
		w.page(s, page)
		return
	}
	n, of := s.W.StepOf()
	w.say("\n%s · %d of %d here", s.W.Position(), n, of)
	w.cautions(s.W.ShownCautions(s.Context(w.now())))
	if e := s.W.Elsewhere(s.Machine); e != "" {
		w.say("  note: %s", e)
	}
	w.say("  %s", p.Step.Do)
	if p.Step.Why != "" && p.Step.Gate != model.Wait {
		w.say("  (%s)", p.Step.Why)
	}
	if f := p.Step.Fastener; f != nil && walk.Tightness(*f) != "" {
		w.say("  tight: %s", walk.Tightness(*f))
	}
	w.list(s.W.ListOf(p.Block.ID, p.Step))
	w.inBook(s.W.InBook(s.Machine, p.Block.ID, p.Step))
	w.calculator(s)
	w.prompt(p, walk.Wants(s.W, s.Context(w.now())))
}

// inBook prints what the record says of the machine.
func (w *walker) inBook(book []string) {
	for _, b := range book {
		w.say("     %s", b)
	}
}

// list prints what is to be laid out, numbered.
func (w *walker) list(items []walk.LayItem) {
	for _, g := range session.LayGroups(items) {
		w.say("  %s: %s", g.Head, strings.Join(g.Items, " | "))
	}
}

// offers prints what may be done while a wait runs, numbered.
func (w *walker) offers(s *session.Session) {
	for i, o := range s.W.Meanwhile(s.Context(w.now())) {
		if i == 0 {
			w.say("  meanwhile (#N as written | #N ANSWER):")
		}
		right := o.Seen
		if right == "" {
			right = rowForm(s.W, o.Step)
		}
		w.cautions(o.Cautions)
		w.say("  %d. %s: %s", i+1, cmp.Or(o.Step.Line, o.Step.Do), right)
		w.list(o.List)
	}
}

// cautions prints cautions, in full or as their briefs.
func (w *walker) cautions(cs []walk.Shown) {
	for _, c := range cs {
		if c.Whole {
			w.say("  %s: %s %s", c.Signal, c.Harm, c.Avoid)
			continue
		}
		w.say("  %s: %s", c.Signal, c.Brief)
	}
}

// page prints the rows of a page, numbered, and what stands behind them.
func (w *walker) page(s *session.Session, p *walk.Page) {
	w.say("\n%s", s.W.Position())
	w.cautions(p.Cautions)
	for i, r := range p.Rows {
		mark, right := " ", r.Seen
		switch {
		case r.Done:
			mark, right = "x", r.Answer
		case r.Now:
			mark = ">"
		}
		if right == "" {
			right = rowForm(s.W, r.Step)
		}
		w.say("  %s %d. %s: %s", mark, i+1, r.Step.Line, right)
		if !r.Done {
			w.list(r.List)
			w.inBook(r.Book)
		}
	}
	if p.Hold != nil {
		w.say("  then: %s", p.Hold.Line)
	}
	w.say("Rows (ok as written | #N ANSWER | an answer of the row marked >):")
}

// rowForm is what answers a row that has no ordinary answer.
func rowForm(w *walk.Walk, s *model.Step) string {
	if s.Gate == model.Choice {
		return strings.Join(w.Choices(s), " | ")
	}
	return strings.TrimSpace("____ " + s.Unit)
}

func (w *walker) heading(s *session.Session, b *walk.Block) {
	w.say("\n== %s ==", b.Proc.Heading())
	if s.W.Telling() {
		return
	}
	if s.W.StateMatters() {
		w.say("  state: %s", walk.StateLine(s.W))
	}
	if l := s.W.LedgerShown(s.W.Step()); l != "" {
		w.say("  %s", l)
	}
	var with []string
	for _, t := range b.Proc.Tools {
		with = append(with, t.Name)
	}
	if len(with) > 0 {
		w.say("  with: %s", strings.Join(with, ", "))
	}
	if len(b.Proc.Gear) > 0 {
		w.say("  wear: %s", strings.Join(b.Proc.Gear, ", "))
	}
}

// prompt prints the answer line: what is asked, and the words or the unit that answer it.
func (w *walker) prompt(p walk.Prompt, wants string) {
	q := p.Question
	if p.Kind != walk.AskStep {
		q = "answer"
	}
	form := strings.Join(p.Options, " | ")
	switch {
	case form != "" && p.Unit != "":
		form = "value in " + p.Unit + " | hot"
	case form == "" && p.Unit != "":
		form = "value in " + p.Unit
	}
	if wants != "" {
		form = strings.TrimPrefix(form+", "+wants, ", ")
	}
	if form != "" {
		form = " (" + form + ")"
	}
	w.say("%s%s:", q, form)
}

func (w *walker) summary(s *session.Session) {
	for _, l := range s.Summary(w.now()).Lines(w.name) {
		w.say("%s", l)
	}
}
