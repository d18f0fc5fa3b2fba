package command

import (
	"github.com/spf13/cobra"

	"bench/oilcan/ui/action"
)

func findingCloseCommand(a *app) *cobra.Command {
	var why string
	c := &cobra.Command{
		Use: "close FINDING", Short: "a finding is settled; what it locked is free again",
		Long: "Close a finding, named by the id that finding list shows. Closing the finding of a stop\n" +
			"clears its tag, so that power may return: it is for the person who put it right.",
		Example:           "  oilcan finding close 7k3f9q --why \"rod cleaned, squeal gone\"",
		Args:              between(1, 1, "one finding"),
		ValidArgsFunction: every(a, findingIDs),
		RunE:              func(_ *cobra.Command, args []string) error { return closeFinding(a, args[0], why) },
	}
	c.Flags().StringVar(&why, "why", "", "how it was settled, a `text`")
	return c
}

func closeFinding(a *app, word, why string) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	if why, err = action.Text("how it was settled (--why)", why); err != nil {
		return err
	}
	m, f, err := findFinding(a, word)
	if err != nil {
		return err
	}
	if at.Before(f.At) {
		at = f.At
	}
	entries, err := a.append(m, at, action.Settling(m, f, why))
	if err != nil {
		return err
	}
	said := "finding closed: " + f.Text
	if len(entries) > 1 {
		said += "; its tag is cleared"
	}
	return a.saved(entries, "%s: %s", m.Name, said)
}
