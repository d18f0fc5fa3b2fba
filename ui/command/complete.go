package command

import (
	"io"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/theme"
)

const noFiles = cobra.ShellCompDirectiveNoFileComp

// completion is what the shell asks for.
type completion = func(cmd *cobra.Command, args []string, toComplete string) ([]string,
	cobra.ShellCompDirective)

// completeFlag gives a flag its completion; the flag exists, so nothing can fail.
func completeFlag(c *cobra.Command, flag string, f completion) {
	_ = c.RegisterFlagCompletionFunc(flag, f)
}

// every completes each word, or a flag, by one list.
func every(a *app, list func(*app) []string) completion {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return list(a), noFiles
	}
}

// inTurn completes the first word by the first list, the next by the next, and none behind them.
func inTurn(a *app, lists ...func(*app) []string) completion {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) >= len(lists) {
			return nil, noFiles
		}
		return lists[len(args)](a), noFiles
	}
}

func words(list ...string) completion { return every(nil, func(*app) []string { return list }) }

// hyphened writes names so that they are one word in a shell.
func hyphened(list []string) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = strings.ReplaceAll(w, " ", "-")
	}
	return out
}

// machinesForShell gives the machines in use to complete by. A file that cannot be read completes
// nothing and says nothing.
func machinesForShell(a *app) []*model.Machine {
	a.errs = theme.NewWriter(io.Discard)
	if !a.exists() {
		return nil
	}
	ms, _, err := benchMachines(a, false)
	if err != nil {
		return nil
	}
	return ms
}

func machineNames(a *app) []string {
	var out []string
	for _, m := range machinesForShell(a) {
		out = append(out, theme.Safe(m.Name))
	}
	return out
}

// procedureIDs gives ids with their titles, as the shell shows them.
func procedureIDs(a *app) []string { return idsOf(a, (*app).procs) }

// allIDs gives those of set-up actions too.
func allIDs(a *app) []string { return idsOf(a, procsAndSetUps) }

func idsOf(a *app, list func(*app) []*model.Procedure) []string {
	a.errs = theme.NewWriter(io.Discard)
	var out []string
	for _, p := range list(a) {
		out = append(out, p.ID+"\t"+theme.Safe(p.Title))
	}
	return out
}

// findingIDs gives the short ids of what stands, with its text.
func findingIDs(a *app) []string {
	var out []string
	for _, m := range machinesForShell(a) {
		for _, f := range m.Findings {
			out = append(out, short(f.ID)+"\t"+theme.Safe(m.Name+": "+f.Text))
		}
	}
	return out
}

// completeFeatures completes the last word of a list.
func completeFeatures(a *app) completion {
	return func(_ *cobra.Command, _ []string, toComplete string) ([]string,
		cobra.ShellCompDirective) {
		head := ""
		if i := strings.LastIndexAny(toComplete, ",+"); i >= 0 {
			head = toComplete[:i+1]
		}
		out := []string{head + "full"}
		for _, f := range model.Features {
			out = append(out, head+string(f))
		}
		return out, noFiles | cobra.ShellCompDirectiveNoSpace
	}
}

// symptomNames gives every name with its title, as the shell shows them.
func symptomNames(*app) []string {
	var out []string
	for _, s := range procedures.Symptoms().Symptoms {
		out = append(out, s.ID+"\t"+s.Title)
	}
	return out
}
