package command

import (
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

const noFiles = cobra.ShellCompDirectiveNoFileComp

// completion is what the shell asks for.
type completion = func(cmd *cobra.Command, args []string, toComplete string) ([]string, cobra.ShellCompDirective)

// completeFlag gives a flag its completion; the flag exists, so nothing can fail.
func (a *app) completeFlag(c *cobra.Command, flag string, f completion) {
	_ = c.RegisterFlagCompletionFunc(flag, f)
}

// words completes from fixed words.
func words(list ...string) completion {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) { return list, noFiles }
}

// completeMachines completes machine names after a command that takes one. A file that cannot be read
// completes nothing and says nothing.
func (a *app) completeMachines(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, noFiles
	}
	return a.machineNames(nil), noFiles
}

func (a *app) machineNames(except []string) []string {
	a.errs = theme.NewWriter(io.Discard)
	if !a.exists() {
		return nil
	}
	ms, _, err := a.machines(false)
	if err != nil {
		return nil
	}
	var out []string
	for _, m := range ms {
		if name := theme.Safe(m.Name); !slices.Contains(except, name) {
			out = append(out, name)
		}
	}
	return out
}

// completeMeter completes a machine, then readings.
func (a *app) completeMeter(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return a.machineNames(nil), noFiles
	}
	var out []string
	for _, m := range model.TypedMeters {
		given := slices.ContainsFunc(args[1:], func(s string) bool { return strings.HasPrefix(s, string(m)+"=") })
		if !given {
			out = append(out, string(m)+"=")
		}
	}
	return out, noFiles | cobra.ShellCompDirectiveNoSpace
}

// procedureIDs gives ids with their titles, as the shell shows them.
func (a *app) procedureIDs() []string {
	a.errs = theme.NewWriter(io.Discard)
	var out []string
	for _, p := range a.procs() {
		out = append(out, p.ID+"\t"+theme.Safe(p.Title))
	}
	return out
}

func (a *app) completeProcedures(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return a.procedureIDs(), noFiles
}

// completeFeatures completes the last word of a list.
func (a *app) completeFeatures(_ *cobra.Command, _ []string, toComplete string) ([]string, cobra.ShellCompDirective) {
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
