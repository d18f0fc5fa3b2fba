package command

import (
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/session"
)

func deskOf(a *app) (session.Desk, error) {
	st, err := a.store()
	return session.Desk{Store: st, Lib: a.library(), By: a.who()}, err
}

// choiceFlags adds what says which procedures go into a session.
func choiceFlags(a *app, cmd *cobra.Command, c *session.Choice) {
	fl := cmd.Flags()
	fl.StringSliceVar(&c.Only, "only", nil,
		"just these `procedures`; proofs and bookends join by themselves")
	fl.StringSliceVar(&c.With, "with", nil, "these `procedures` too, whatever they take")
	fl.StringSliceVar(&c.Without, "without", nil, "not these `procedures`")
	fl.BoolVar(&c.All, "all", false, "every procedure that fits the machine")
	fl.Var((*minutesFlag)(&c.Minutes), "minutes",
		"what lowers the risk most in this many `minutes` of hands and waiting")
	fl.StringVar(&c.Leave, "leave", "",
		"how power is left: `unplugged`; checks that need it are then owed")
	completeFlag(cmd, "leave", words(model.Unplugged))
	for _, name := range []string{"only", "with", "without"} {
		completeFlag(cmd, name, every(a, procedureIDs))
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
func checkChoice(a *app, c *session.Choice) error {
	if c.All && len(c.Only) > 0 {
		return misuse("--all and --only contradict each other: take one")
	}
	if c.Leave != "" && c.Leave != model.Unplugged {
		return misuse("--leave %s is not known: unplugged, or nothing for power as it was", c.Leave)
	}
	for _, list := range []*[]string{&c.Only, &c.With, &c.Without} {
		for i, word := range *list {
			p, err := action.FindProcedure(a.procs(), strings.TrimSpace(word))
			if err != nil {
				return err
			}
			(*list)[i] = p.ID
		}
	}
	return nil
}
