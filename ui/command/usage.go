package command

import (
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"bench/oilcan/model"
)

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

// changed tells whether any of the flags was given.
func changed(cmd *cobra.Command, names ...string) bool {
	return slices.ContainsFunc(names, cmd.Flags().Changed)
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
		return misuse("%s has no option --%s: %s --help lists them", cmd.CommandPath(), name,
			cmd.CommandPath())
	case errors.As(err, &empty):
		return misuse("--%s needs a value after it: %s --help shows how", empty.GetSpecifiedName(),
			cmd.CommandPath())
	case errors.As(err, &bad) && errors.As(err, &model.TwoWays{}):
		return misuse("--%s: %s", bad.GetFlag().Name, bad.Unwrap())
	case errors.As(err, &bad):
		return misuse("--%s cannot be %q: %s --help shows how", bad.GetFlag().Name, bad.GetValue(),
			cmd.CommandPath())
	}
	return misuse("%s: %s --help shows how", err, cmd.CommandPath())
}

// group makes what makes a command that only holds others.
func group(use, text, example string) func(*app) *cobra.Command {
	return func(*app) *cobra.Command {
		return &cobra.Command{Use: use, Short: text, Example: example,
			RunE: func(cmd *cobra.Command, args []string) error {
				if len(args) > 0 {
					return unknownCommand(cmd, args[0])
				}
				var names []string
				for _, s := range cmd.Commands() {
					names = append(names, cmd.Name()+" "+s.Name())
				}
				return misuse("say what to do: %s", strings.Join(names, ", "))
			}}
	}
}
