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
	"bench/oilcan/ui/session"
)

// walkFlags are those of walk beside the ones it shares with plan.
type walkFlags struct {
	resume bool
	giveUp string
	pace   string
	paper  string
	told   bool // paper is given
}

// walkCommand takes a care session line by line.
func walkCommand(a *app) *cobra.Command {
	var c session.Choice
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
written, #3 grey answers one row, anything else the row marked >. While a wait runs, #2
does the second of what can be done meanwhile, as it is written.
The state of the machine is asked first, in this order: power, heat, filament, cover, top,
changer, bed, door. Where the answers end, the session stays begun and can be resumed.
--paper tells what was done by a sheet of plan --sheet: ok ticks the rows of a procedure as
they are written, #3 grey or an answer tells one that was read, counted or chosen, #3 skip WHY
one not done, leave WHY a procedure not done, at 15:20 when the procedure was. How the machine
stands now is asked behind it.`,
		Example: "  oilcan walk Heron\n  oilcan walk Heron --only blade-check,rods-wipe\n  oilcan walk Heron --resume\n  oilcan walk Heron --paper \"yesterday 14:00 to 16:10\"\n  oilcan walk Heron --give-up \"no key at hand\"",
		Args:    between(1, 1, "the name of one machine"),
		RunE: func(cmd *cobra.Command, args []string) error {
			f.told = cmd.Flags().Changed("paper")
			return walkMachine(a, args[0], c, f)
		},
	}
	cmd.ValidArgsFunction = inTurn(a, machineNames)
	choiceFlags(a, cmd, &c)
	cmd.Flags().BoolVar(&f.resume, "resume", false, "carry on a begun session")
	cmd.Flags().StringVar(&f.pace, "pace", walk.Steps,
		"steps, pages, or auto: page by page what was walked twice before")
	cmd.Flags().StringVar(&f.paper, "paper", "",
		"tell a session done by a sheet, `when` it was: yesterday 14:00 to 16:10")
	cmd.Flags().StringVar(&f.giveUp, "give-up", "",
		"end the begun session unfinished, with the reason `why`")
	return cmd
}

// walkMachine begins, resumes or gives up a session.
func walkMachine(a *app, word string, c session.Choice, f walkFlags) error {
	if err := checkChoice(a, &c); err != nil {
		return err
	}
	if !slices.Contains(walk.Paces, f.pace) {
		return misuse("--pace %s is not known: auto, steps or pages", f.pace)
	}
	m, err := machineInUse(a, word)
	if err != nil {
		return err
	}
	d, err := deskOf(a)
	if err != nil {
		return err
	}
	if c.Leave != "" && (f.resume || f.giveUp != "") {
		return misuse(
			"--leave is said where a session begins: a begun one keeps how it leaves power")
	}
	if f.told && (f.resume || f.giveUp != "") {
		return misuse("--paper begins a session: --resume carries it on, --give-up ends it")
	}
	d.Pace, d.Piped = f.pace, !a.InputTTY
	switch {
	case f.giveUp != "":
		return giveUpSession(a, d, m, f.giveUp)
	case f.resume:
		return resumeSession(a, d, m)
	case m.Session != "":
		return misuse("%s has a begun session: oilcan walk %s --resume carries it on, --give-up WHY ends it", m.Name, action.Typed(m.Name))
	}
	if f.told {
		then, err := session.ReadThen(f.paper, a.now())
		if err != nil {
			return err
		}
		return beginSession(a, d, m, c, &then)
	}
	return beginSession(a, d, m, c, nil)
}

func giveUpSession(a *app, d session.Desk, m *model.Machine, why string) error {
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
	told := s.W.Telling()
	r, err := s.GiveUp(why, a.now())
	if err == nil {
		_, err = s.Take(r, a.now())
	}
	if err != nil {
		return unusable(err)
	}
	if !slices.ContainsFunc(r.Facts, func(f model.Fact) bool { return f.Tag != nil }) &&
		m.Tag == nil {
		how := "before its first step"
		if told {
			how = "and what was told of it stays on record"
		}
		a.say("%s: session given up %s; nothing is out of the machine.", m.Name, how)
		return nil
	}
	a.say("%s: session given up. What is out of the machine stays on the bench until oilcan walk %s closes it.", m.Name, action.Typed(m.Name))
	return nil
}

func resumeSession(a *app, d session.Desk, m *model.Machine) error {
	if m.Session == "" {
		return misuse("%s has no begun session: oilcan walk %s begins one", m.Name,
			action.Typed(m.Name))
	}
	s, err := d.Resume(m.Session, a.now())
	if err != nil {
		return unusable(err)
	}
	a.say("%s: %s carried on at %s.", m.Name, s.W.Title, s.W.Position())
	if s.Lately != "" {
		a.say("%s", s.Lately)
	}
	return walkLines(a, s, m, newLines(a.Stdin))
}

// beginSession asks what must be known of the machine, plans, and begins a session; then is when it
// was done, nil where it is walked now.
func beginSession(a *app, d session.Desk, m *model.Machine, c session.Choice,
	then *session.Then) error {
	in := newLines(a.Stdin)
	if walk.LeftOpen(m) && then == nil {
		return closeLeft(a, d, m, c.Leave, in)
	}
	if text := session.StoppedText(m); text != "" {
		a.say("%s", text)
	}
	for {
		chosen, err := choose(d, m, c, then, a.now())
		if err != nil {
			return err
		}
		if len(chosen.Plan.Sequence) == 0 {
			return misuse("nothing fits into %g minutes: give more with --minutes", c.Minutes)
		}
		qs := d.Questions(m, chosen.Plan)
		if len(qs) > 0 {
			if m, err = askSetting(a, m, qs[0], in); err != nil {
				return err
			}
			continue
		}
		s, err := d.Begin(m, chosen, a.now())
		if err != nil {
			return unusable(err)
		}
		if then == nil {
			a.say("%s: %s, %d procedures, %s min hands and %s min waiting.", m.Name, s.W.Title,
				len(chosen.Plan.IDs()), model.Minutes(chosen.Plan.HandsOn), model.Minutes(
					chosen.Plan.Idle()))
		} else {
			a.say("%s: %s, %s.", m.Name, s.W.Title, s.W.Position())
		}
		return walkLines(a, s, m, in)
	}
}

// choose picks what goes into a session, or what is told of one that was done on paper.
func choose(d session.Desk, m *model.Machine, c session.Choice, then *session.Then,
	now time.Time) (session.Chosen, error) {
	if then != nil {
		return d.ChooseThen(m, c, *then)
	}
	return d.Choose(m, c, now)
}

// closeLeft begins a session that only closes what was left open.
func closeLeft(a *app, d session.Desk, m *model.Machine, leave model.Value, in *lines) error {
	act, err := d.CloseAction(m, leave, a.now())
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
	a.say("%s was left open: this session closes it first.", m.Name)
	return walkLines(a, s, m, in)
}

// askSetting asks one thing of the machine until it is answered, and saves it.
func askSetting(a *app, m *model.Machine, q session.Question, in *lines) (*model.Machine, error) {
	for {
		form := ""
		if words := q.Words(); len(words) > 0 {
			form = " (" + strings.Join(words, " | ") + ")"
		}
		if q.Setting != nil && q.Setting.Default != "" {
			form += " [empty: " + q.Setting.Default + "]"
		}
		if q.Setting != nil && q.Setting.Number {
			form += " (a number, or " + session.DontKnow + ")"
		}
		a.say("\nAsked once of %s: %s%s", m.Name, q.Ask, form)
		text, ok := in.next()
		if !ok {
			return nil,
				misuse("the answers ended before the session began: nothing was begun; oilcan machine edit %s --set NAME=VALUE says it beforehand", action.Typed(m.Name))
		}
		fact, err := q.Answer(m.MachineFact, text)
		if err != nil {
			a.say("  not taken: %s", err)
			continue
		}
		fact = fact.Refit(a.heads(), m.Features)
		if _, err := a.append(m, a.now(),
			[]model.Fact{{Kind: model.KindMachine, Machine: &fact}}); err != nil {
			return nil, err
		}
		b, err := a.bench()
		if err != nil {
			return nil, err
		}
		return b.Machines[m.ID], nil
	}
}

// walkLines walks an open session to its end or the end of the answers.
func walkLines(a *app, s *session.Session, m *model.Machine, in *lines) error {
	w := &walker{in: in, out: a.out, now: a.Clock.Now, name: m.Name,
		advance: func(d time.Duration) bool { return a.Clock.Move(d) }}
	end, err := w.run(s)
	if err != nil {
		return unusable(fmt.Errorf("the session stays begun, oilcan walk %s --resume carries it on: %w", action.Typed(m.Name), err))
	}
	if end == walkLeft {
		return errNo
	}
	return nil
}
