package command

import (
	"strings"

	"github.com/spf13/cobra"
)

const about = `oilcan keeps the care of one bench of filament printers: it walks you through
a care session gate by gate, logs swaps, and shows how much of each interval
is used up.

Without a command it opens the bench. Machines, parts, procedures and entries
are named by any beginning that can only mean one.`

// verb is one command: the words it is called by, and what makes it. Its file is named after its
// words.
type verb struct {
	words string
	make  func(*app) *cobra.Command
}

// verbs is every command, in the order a person meets them. One that holds others stands before
// them.
var verbs = []verb{
	{"machine", group("machine", "add, change, retire and list machines",
		"  oilcan machine list\n  oilcan machine add Heron --features full")},
	{"machine add", machineAddCommand},
	{"machine edit", machineEditCommand},
	{"machine retire", machineRetireCommand},
	{"machine list", machineListCommand},
	{"machine hand-over", machineHandOverCommand},
	{"machine take-in", machineTakeInCommand},
	{"meter", meterCommand},
	{"swap", swapCommand},
	{"done", doneCommand},
	{"fail", failCommand},
	{"finding", group("finding", "what was seen and must be looked at again",
		"  oilcan finding list\n  oilcan finding add Heron squeal at the left rod --again 7d")},
	{"finding list", findingListCommand},
	{"finding add", findingAddCommand},
	{"finding close", findingCloseCommand},
	{"finding move", findingMoveCommand},
	{"gauges", gaugesCommand},
	{"due", dueCommand},
	{"plan", planCommand},
	{"walk", walkCommand},
	{"sheet", sheetCommand},
	{"job", jobCommand},
	{"symptom", symptomCommand},
	{"measure", measureCommand},
	{"drawer", drawerCommand},
	{"drawer count", drawerCountCommand},
	{"drawer receive", drawerReceiveCommand},
	{"book", bookCommand},
	{"figures", figuresCommand},
	{"strike", strikeCommand},
	{"procedures", group("procedures", "the library of care, and your own files",
		"  oilcan procedures list\n  oilcan procedures show belts-reset")},
	{"procedures list", proceduresListCommand},
	{"procedures show", proceduresShowCommand},
	{"procedures check", proceduresCheckCommand},
	{"procedures new", proceduresNewCommand},
	{"import", importCommand},
	{"backup", backupCommand},
	{"restore", restoreCommand},
	{"check", checkCommand},
	{"demo", demoCommand},
	{"completion", completionCommand},
}

// cutLast sets the last of some words apart from those before it.
func cutLast(words string) (before, last string) {
	if i := strings.LastIndexByte(words, ' '); i >= 0 {
		return words[:i], words[i+1:]
	}
	return "", words
}

func rootCommand(a *app) *cobra.Command {
	root := &cobra.Command{
		Use:     "oilcan",
		Short:   "the care of a bench of filament printers",
		Long:    about,
		Example: "  oilcan\n  oilcan demo\n  oilcan machine add Heron --features full --hours 1200 --changes 3400\n  oilcan due --within 14d",
		Version: a.Version,
		Args:    noCommand,
		RunE:    func(*cobra.Command, []string) error { return openBench(a) },
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
	f.StringVar(&a.flags.at, "at", "",
		"`when` it happened: yesterday, 3d, 2026-11-20, \"2026-11-20 14:30\"")
	f.StringVar(&a.flags.by, "by", "", "`who` did it (or OILCAN_BY)")
	f.BoolVar(&a.flags.noColor, "no-color", false, "no colours (or NO_COLOR)")
	held := map[string]*cobra.Command{"": root}
	for _, v := range verbs {
		holder, _ := cutLast(v.words)
		held[v.words] = v.make(a)
		held[holder].AddCommand(held[v.words])
	}
	return root
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
