package command

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"bench/oilcan/model"
)

const about = `oilcan keeps the care of one bench of filament printers: it walks you through
a care session gate by gate, logs swaps, and shows how much of each interval
is used up.

Without a command it opens the bench. Machines, parts, procedures and entries
are named by any beginning that can only mean one.`

// root builds the command tree.
func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:     "oilcan",
		Short:   "the care of a bench of filament printers",
		Long:    about,
		Example: "  oilcan\n  oilcan demo\n  oilcan machine add Heron --features full --hours 1200 --changes 3400\n  oilcan due --within 14d",
		Version: a.Version,
		Args:    noCommand,
		RunE:    func(*cobra.Command, []string) error { return a.openBench() },
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error {
			return a.start(cmd.Name() == "done")
		},
		SilenceUsage: true, SilenceErrors: true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
	}
	root.SetIn(a.Stdin)
	root.SetOut(a.out)
	root.SetErr(a.errs)
	root.SetVersionTemplate("oilcan {{.Version}}\n")
	root.SetFlagErrorFunc(flagError)
	root.SetHelpCommand(helpCommand())
	f := root.PersistentFlags()
	f.SortFlags = false
	f.StringVar(&a.flags.file, "file", "", "the data file's `path` (or OILCAN_FILE)")
	f.BoolVar(&a.flags.json, "json", false, "write JSON, for programs")
	f.StringVar(&a.flags.at, "at", "", "`when` it happened: yesterday, 3d, 2026-11-20, \"2026-11-20 14:30\"")
	f.StringVar(&a.flags.by, "by", "", "`who` did it (or OILCAN_BY)")
	f.BoolVar(&a.flags.noColor, "no-color", false, "no colours (or NO_COLOR)")
	root.AddCommand(a.commands()...)
	return root
}

// commands lists them in the order a person meets them.
func (a *app) commands() []*cobra.Command {
	return []*cobra.Command{
		a.machineCommand(), a.meterCommand(), a.swapCommand(), a.doneCommand(), a.findingCommand(),
		a.gaugesCommand(), a.dueCommand(), a.planCommand(), a.walkCommand(), a.jobCommand(), a.symptomCommand(), a.drawerCommand(),
		a.bookCommand(), a.strikeCommand(), a.proceduresCommand(),
		a.importCommand(), a.backupCommand(), a.restoreCommand(), a.checkCommand(), a.demoCommand(), a.completionCommand(),
	}
}

// helpCommand is another way to ask for --help.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use: "help [COMMAND]", Short: "help about a command", Hidden: true,
		Example: "  oilcan help swap",
		RunE: func(cmd *cobra.Command, args []string) error {
			c := cmd.Root()
			for _, word := range args {
				next, _, err := c.Find([]string{word})
				if err != nil || next == c {
					return unknownCommand(c, word)
				}
				c = next
			}
			c.InitDefaultHelpFlag()
			return c.Help()
		},
	}
}

// noCommand refuses words after the program's name that are no command.
func noCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return unknownCommand(cmd, args[0])
}

func unknownCommand(cmd *cobra.Command, word string) error {
	var names []string
	for _, c := range cmd.Commands() {
		if !c.Hidden {
			names = append(names, c.Name())
		}
	}
	if near := model.Nearest(strings.ToLower(word), names); near != "" {
		return misuse("there is no command %q: did you mean %s %s", word, cmd.CommandPath(), near)
	}
	return misuse("there is no command %q: %s --help lists them", word, cmd.CommandPath())
}

// group makes a command that only holds others.
func group(use, text, example string, subs ...*cobra.Command) *cobra.Command {
	c := &cobra.Command{Use: use, Short: text, Example: example}
	c.RunE = func(cmd *cobra.Command, args []string) error {
		if len(args) > 0 {
			return unknownCommand(cmd, args[0])
		}
		var names []string
		for _, s := range cmd.Commands() {
			names = append(names, cmd.Name()+" "+s.Name())
		}
		return misuse("say what to do: %s", strings.Join(names, ", "))
	}
	c.AddCommand(subs...)
	return c
}

// between checks how many words stand after a command; want says in words what they are.
func between(low, high int, want string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) >= low && (high < 0 || len(args) <= high) {
			return nil
		}
		example := strings.TrimSpace(strings.SplitN(cmd.Example, "\n", 2)[0])
		return misuse("%s takes %s: %s", cmd.CommandPath(), want, example)
	}
}

// flagError says what is wrong with a flag, in one sentence.
func flagError(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var empty *pflag.ValueRequiredError
	var bad *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		var names []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		name := unknown.GetSpecifiedName()
		if s := unknown.GetSpecifiedShortnames(); s != "" {
			return misuse("%s has no option -%s: %s --help lists them; a name that begins with a dash comes after --", cmd.CommandPath(), s, cmd.CommandPath())
		}
		if near := model.Nearest(name, names); near != "" {
			return misuse("%s has no option --%s: did you mean --%s", cmd.CommandPath(), name, near)
		}
		return misuse("%s has no option --%s: %s --help lists them", cmd.CommandPath(), name, cmd.CommandPath())
	case errors.As(err, &empty):
		return misuse("--%s needs a value after it: %s --help shows how", empty.GetSpecifiedName(), cmd.CommandPath())
	case errors.As(err, &bad) && errors.As(err, &model.TwoWays{}):
		return misuse("--%s: %s", bad.GetFlag().Name, bad.Unwrap())
	case errors.As(err, &bad):
		return misuse("--%s cannot be %q: %s --help shows how", bad.GetFlag().Name, bad.GetValue(), cmd.CommandPath())
	}
	return misuse("%s: %s --help shows how", err, cmd.CommandPath())
}
