package command

import (
	"io"
	"slices"
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

func words(list ...string) completion {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return list, noFiles
	}
}

// hyphened writes names so that they are one word in a shell.
func hyphened(list []string) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = strings.ReplaceAll(w, " ", "-")
	}
	return out
}

// completeMachines completes machine names after a command that takes one. A file that cannot be
// read completes nothing and says nothing.
func completeMachines(a *app) completion {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, noFiles
		}
		return machineNames(a, nil), noFiles
	}
}

// machinesForShell gives the machines in use to complete by, and says nothing of what is wrong.
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

func machineNames(a *app, except []string) []string {
	var out []string
	for _, m := range machinesForShell(a) {
		if name := theme.Safe(m.Name); !slices.Contains(except, name) {
			out = append(out, name)
		}
	}
	return out
}

// procedureIDs gives ids with their titles, as the shell shows them.
func procedureIDs(a *app) []string {
	a.errs = theme.NewWriter(io.Discard)
	var out []string
	for _, p := range a.procs() {
		out = append(out, p.ID+"\t"+theme.Safe(p.Title))
	}
	return out
}

func completeProcedures(a *app) completion {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return procedureIDs(a), noFiles
	}
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
func symptomNames() []string {
	var out []string
	for _, s := range procedures.Symptoms().Symptoms {
		out = append(out, s.ID+"\t"+s.Title)
	}
	return out
}
