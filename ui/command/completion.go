package command

import (
	"strings"

	"github.com/spf13/cobra"
)

// shells are those a completion can be written for.
var shells = []string{"bash", "zsh", "fish", "powershell"}

func completionCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "completion of commands, machines, parts and procedures in your shell",
		Long: "Write the completion for a shell: " + strings.Join(shells, ", ") + ".\n\n" +
			"  bash        source <(oilcan completion bash)\n" +
			"  zsh         oilcan completion zsh > \"${fpath[1]}/_oilcan\"\n" +
			"  fish        oilcan completion fish > ~/.config/fish/completions/oilcan.fish\n" +
			"  powershell  oilcan completion powershell | Out-String | Invoke-Expression",
		Example:           "  oilcan completion bash > /etc/bash_completion.d/oilcan",
		Args:              between(1, 1, "the name of a shell"),
		ValidArgsFunction: words(shells...),
		RunE: func(cmd *cobra.Command, args []string) error {
			root := cmd.Root()
			switch args[0] {
			case "bash":
				return root.GenBashCompletionV2(a.out, true)
			case "zsh":
				return root.GenZshCompletion(a.out)
			case "fish":
				return root.GenFishCompletion(a.out, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(a.out)
			}
			return misuse("there is no completion for %q: choose one of %s", args[0],
				strings.Join(shells, ", "))
		},
	}
}
