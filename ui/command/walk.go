package command

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/sitting"
)

// walkFlags are those of walk beside the ones it shares with plan.
type walkFlags struct {
	resume bool
	giveUp string
	pace   string
}

// walkCommand takes a care session line by line.
func (a *app) walkCommand() *cobra.Command {
	var c sitting.Choice
	var f walkFlags
	cmd := &cobra.Command{
		Use: "walk MACHINE", Short: "a care session, line by line",
		Long: `Walk a care session with the same gates and records as on the screens, one question and
one answer a line, without redraws: for pipes, screen readers and the terminal at the bench.

An answer is one line: ok · a word · a number with its unit · a count · a text.
  skip WHY    pass over one step        leave WHY  leave the rest of a procedure out
  cut WHY     end a wait early          fail       it cannot be done as said
  back        take the last answer back note TEXT  a remark beside the step
  pause       leave the session begun   set N      the number on record is wrong: it is N
  plan        plan the rest again, without what was logged elsewhere meanwhile
With --pace pages the rows of a page come together, numbered: ok passes all as they are
written, #3 grey answers one row, anything else the row marked >.
The state of the machine is asked first, in this order: power, heat, filament, cover, top,
changer, bed, door. Where the answers end, the session stays begun and can be resumed.`,
		Example: "  oilcan walk Heron\n  oilcan walk Heron --only blade-check,rods-wipe\n  oilcan walk Heron --resume\n  oilcan walk Heron --give-up \"no key at hand\"",
		Args:    between(1, 1, "the name of one machine"),
		RunE:    func(_ *cobra.Command, args []string) error { return a.walk(args[0], c, f) },
	}
	cmd.ValidArgsFunction = a.completeMachines
	a.choiceFlags(cmd, &c)
	cmd.Flags().BoolVar(&f.resume, "resume", false, "carry on a begun session")
	cmd.Flags().StringVar(&f.pace, "pace", walk.Steps, "steps, pages, or auto: page by page what was walked twice before")
	cmd.Flags().StringVar(&f.giveUp, "give-up", "", "end the begun session unfinished, with the reason `why`")
	return cmd
}

// choiceFlags adds what says which procedures go into a session.
func (a *app) choiceFlags(cmd *cobra.Command, c *sitting.Choice) {
	fl := cmd.Flags()
	fl.StringSliceVar(&c.Only, "only", nil, "just these `procedures`; proofs and bookends join by themselves")
	fl.StringSliceVar(&c.With, "with", nil, "these `procedures` too")
	fl.StringSliceVar(&c.Without, "without", nil, "not these `procedures`")
	fl.BoolVar(&c.All, "all", false, "every procedure that fits the machine")
	fl.Var((*minutesFlag)(&c.Minutes), "minutes", "no more hands and waiting than this many `minutes`, most pressing first")
	for _, name := range []string{"only", "with", "without"} {
		a.completeFlag(cmd, name, a.completeProcedures)
	}
}

// minutesFlag is a number of minutes typed behind a flag.
type minutesFlag float64

func (m *minutesFlag) String() string { return model.Digits(float64(*m)) }

func (m *minutesFlag) Type() string { return "minutes" }

func (m *minutesFlag) Set(text string) error {
	v, err := model.ReadAmount(text, "min", nil)
	*m = minutesFlag(v)
	return err
}

// checkChoice finds the procedures meant and refuses what cannot be.
func (a *app) checkChoice(c *sitting.Choice) error {
	if c.All && len(c.Only) > 0 {
		return misuse("--all and --only contradict each other: take one")
	}
	for _, list := range []*[]string{&c.Only, &c.With, &c.Without} {
		for i, word := range *list {
			id, err := a.procedure(strings.TrimSpace(word))
			if err != nil {
				return err
			}
			(*list)[i] = id
		}
	}
	return nil
}

func (a *app) desk() (sitting.Desk, error) {
	st, err := a.store()
	return sitting.Desk{Store: st, Lib: a.library(), By: a.who()}, err
}

// walk begins, resumes or gives up a session.
func (a *app) walk(word string, c sitting.Choice, f walkFlags) error {
	if err := a.checkChoice(&c); err != nil {
		return err
	}
	if !slices.Contains(walk.Paces, f.pace) {
		return misuse("--pace %s is not known: auto, steps or pages", f.pace)
	}
	m, err := a.inUse(word)
	if err != nil {
		return err
	}
	d, err := a.desk()
	if err != nil {
		return err
	}
	d.Pace, d.Piped = f.pace, !a.InputTTY
	switch {
	case f.giveUp != "":
		return a.giveUp(d, m, f.giveUp)
	case f.resume:
		return a.resume(d, m)
	case m.Session != "":
		return misuse("%s has a begun session: oilcan walk %s --resume carries it on, --give-up WHY ends it", m.Name, action.Typed(m.Name))
	}
	return a.begin(d, m, c)
}

func (a *app) giveUp(d sitting.Desk, m *model.Machine, why string) error {
	if m.Session == "" {
		return misuse("%s has no begun session to give up", m.Name)
	}
	if _, err := action.Text("the reason after --give-up", why); err != nil {
		return err
	}
	s, err := d.Open(m.Session)
	if err != nil {
		return unusable(err)
	}
	if _, err := s.GiveUp(why, a.now()); err != nil {
		return unusable(err)
	}
	a.say("%s: session given up. What is out of the machine stays on the bench until oilcan walk %s closes it.", m.Name, action.Typed(m.Name))
	return nil
}

func (a *app) resume(d sitting.Desk, m *model.Machine) error {
	if m.Session == "" {
		return misuse("%s has no begun session: oilcan walk %s begins one", m.Name, action.Typed(m.Name))
	}
	s, err := d.Resume(m.Session, a.now())
	if err != nil {
		return unusable(err)
	}
	a.say("%s: %s carried on at %s.", m.Name, s.W.Title, s.W.Position())
	return a.lines(s, m, newLines(a.Stdin))
}

// begin asks what must be known of the machine, plans, and begins a session.
func (a *app) begin(d sitting.Desk, m *model.Machine, c sitting.Choice) error {
	in := newLines(a.Stdin)
	if !m.Ledger.Empty() {
		return a.close(d, m, in)
	}
	if err := sitting.CanBegin(m); err != nil {
		return misuse("%w", err)
	}
	for {
		chosen, err := d.Choose(m, c, a.now())
		if err != nil {
			return err
		}
		if len(chosen.Plan.Sequence) == 0 {
			return misuse("nothing fits into %g minutes: give more with --minutes", c.Minutes)
		}
		qs := d.Questions(m, chosen.Plan)
		if len(qs) > 0 {
			if m, err = a.question(d, m, qs[0], in); err != nil {
				return err
			}
			continue
		}
		s, err := d.Begin(m, chosen, a.now())
		if err != nil {
			return unusable(err)
		}
		a.say("%s: %s, %d procedures, %g min hands and %g min waiting.", m.Name, s.W.Title,
			len(chosen.Plan.IDs()), chosen.Plan.HandsOn, chosen.Plan.Waiting)
		return a.lines(s, m, in)
	}
}

// close begins a sitting that only closes what was left open.
func (a *app) close(d sitting.Desk, m *model.Machine, in *lines) error {
	act, err := d.CloseAction(m, a.now())
	if err != nil {
		return err
	}
	entries, err := d.Store.Append(act)
	if err != nil {
		return unusable(err)
	}
	s, err := d.Open(entries[0].Session)
	if err != nil {
		return unusable(err)
	}
	a.say("%s was left open: this sitting closes it first.", m.Name)
	return a.lines(s, m, in)
}

// question asks one thing of the machine until it is answered, and saves it.
func (a *app) question(d sitting.Desk, m *model.Machine, q sitting.Question, in *lines) (*model.Machine, error) {
	for {
		form := ""
		if q.Setting != nil && len(q.Setting.Options) > 0 {
			form = " (" + strings.Join(q.Setting.Options, " | ") + ")"
		}
		if q.Setting != nil && q.Setting.Default != "" {
			form += " [empty: " + q.Setting.Default + "]"
		}
		a.say("\nAsked once of %s: %s%s", m.Name, q.Ask, form)
		text, ok := in.next()
		if !ok {
			return nil, misuse("the answers ended before the session began: nothing was begun; oilcan machine edit %s --set NAME=VALUE says it beforehand", action.Typed(m.Name))
		}
		fact, err := q.Answer(m.MachineFact, text)
		if err != nil {
			a.say("  not taken: %s", err)
			continue
		}
		fact = fact.Refit(a.heads(), m.Features)
		if _, err := a.append(m, a.now(), []model.Fact{{Kind: model.KindMachine, Machine: &fact}}); err != nil {
			return nil, err
		}
		b, err := a.bench()
		if err != nil {
			return nil, err
		}
		return b.Machines[m.ID], nil
	}
}

// lines walks an open session to its end or the end of the answers.
func (a *app) lines(s *sitting.Sitting, m *model.Machine, in *lines) error {
	w := &walker{in: in, out: a.out, now: a.Clock.Now, name: m.Name, advance: func(d time.Duration) bool { return a.Clock.Move(d) }}
	end, err := w.run(s)
	if err != nil {
		return unusable(fmt.Errorf("the session stays begun, oilcan walk %s --resume carries it on: %w", action.Typed(m.Name), err))
	}
	if end == walkLeft {
		return errNo
	}
	return nil
}
