package command

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/printfile"
	"bench/oilcan/ui/theme"
)

// jobFlags are the options of job.
type jobFlags struct {
	on, material, change, took       string
	unattended, record, book, counts bool
	anyway, strict                   bool
	plateText, aboveText             string
	plate                            int
	above                            float64
}

func jobCommand(a *app) *cobra.Command {
	var f jobFlags
	c := &cobra.Command{
		Use:   "job [FILE…]",
		Short: "what a print will cost, and whether the parts last",
		Long: "Read print files (G-code, gzip, or a zip container with .gcode members; - is standard\n" +
			"input) and say what they cost: filament changes, layers, filament, time, travel. With\n" +
			"--on, say for each part of the machine whether it lasts, and what to renew before. Several\n" +
			"files are taken in the order given, and added up. Without a file, the prints booked.\n\n" +
			"The time is that of the moves, by the file's own limits and the machine's settings\n" +
			"(machine edit --set top-accel=…); what comes on top is said. --record --took 3h40 tells how\n" +
			"long a print took: from two of them the machine's start, its changes and its moves are\n" +
			"learned, and the time is said with its spread (80 %). Lines that a printer would skip are\n" +
			"skipped and counted; --strict ends at the first.",
		Example: "  oilcan job plate.gcode --on Heron\n  oilcan job a.gcode b.gcode --on Heron --unattended\n" +
			"  oilcan job plate.gcode --on Heron --material 0=PLA,1=PA-CF --record --took '3 h 40'\n" +
			"  oilcan job plates.zip --plate 2",
		RunE: func(_ *cobra.Command, args []string) error { return readPrints(a, args, f) },
	}
	c.Flags().StringVar(&f.on, "on", "", "the `machine` it is to run on")
	c.Flags().StringVar(&f.material, "material", "",
		"what is loaded, a `name`: PLA, or 0=PLA,1=PA-CF by tool")
	c.Flags().StringVar(&f.change, "change-time", "",
		"what a filament change takes, a `time`: 75s, 2m")
	c.Flags().BoolVar(&f.unattended, "unattended", false,
		"nobody is there: a fifth more must be left than is used")
	c.Flags().BoolVar(&f.record, "record", false, "it was printed: add what it used to the meters")
	c.Flags().BoolVar(&f.anyway, "anyway", false,
		"with --record: add all of it, though a counter was read while it ran")
	c.Flags().BoolVar(&f.book, "book", false,
		"it is to be printed: the forecast and the drawer count it")
	c.Flags().
		StringVar(&f.took, "took", "",
			"with --record: how long it took, a `time`: 3h40; the machine's times are learned")
	c.Flags().StringVar(&f.plateText, "plate", "", "of a container with several prints only this `number`")
	c.Flags().
		StringVar(&f.aboveText, "above", "240",
			"tell the nozzle's hours above this `temperature`, in °C")
	c.Flags().BoolVar(&f.strict, "strict", false, "end at a line that is not as it should be")
	c.Flags().BoolVar(&f.counts, "changes", false,
		"only count the filament changes, as fast as can be")
	completeFlag(c, "on", every(a, machineNames))
	return c
}

// check refuses flags that make no sense together.
func (f jobFlags) check() error {
	switch {
	case f.record && f.book:
		return misuse("--record and --book contradict each other: it was printed, or it is to be")
	case f.anyway && !f.record:
		return misuse("--anyway goes with --record")
	case f.took != "" && !f.record:
		return misuse("--took goes with --record")
	case f.record && f.on == "":
		return misuse("--record needs the machine: say --on MACHINE")
	case f.book && f.on == "":
		return misuse("--book needs the machine: say --on MACHINE")
	case f.unattended && f.on == "":
		return misuse("--unattended is about a machine's parts: say --on MACHINE")
	case f.counts && (f.on != "" || f.record || f.book || f.strict):
		return misuse("--changes only counts: leave the other options away")
	}
	return nil
}

// numbers reads the plate and the temperature.
func (f jobFlags) numbers() (jobFlags, error) {
	var err error
	if f.plateText != "" {
		f.plate, err = model.ReadCount(f.plateText, "", 1000)
		if err != nil || f.plate == 0 {
			return f, misuse("--plate is a number from 1 on, not %q", f.plateText)
		}
	}
	if f.above, err = model.ReadAmount(f.aboveText, "°C", nil); err != nil {
		return f, misuse("--above: %s", err)
	}
	return f, nil
}

func readPrints(a *app, files []string, f jobFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	if len(files) == 0 {
		return bookedJobs(a, f)
	}
	var err error
	if f, err = f.numbers(); err != nil {
		return err
	}
	o := printfile.Options{Strict: f.strict, Plate: f.plate, Progress: readingProgress(a)}
	if o.Loaded, err = printfile.ParseLoaded(f.material, procedures.Materials()); err != nil {
		return err
	}
	if f.change != "" {
		if o.Change, err = printfile.ReadLength(f.change, time.Hour); err != nil {
			return misuse("--change-time: %s", err)
		}
	}
	if f.counts {
		return countChanges(a, files)
	}
	var m *model.Machine
	at := a.now()
	if f.on != "" {
		if m, err = machineInUse(a, f.on); err != nil {
			return err
		}
		o.Machine = m
		if at, err = a.when(); err != nil {
			return err
		}
	}
	jobs, err := readJobs(a, files, o)
	if m == nil || err != nil {
		if said := writeJobs(a, jobs, m, nil, f); said != nil {
			return said
		}
		return err
	}
	return judgePrints(a, m, jobs, f, at)
}

// readJobs reads all files; it ends at the first that cannot be read, with what came before.
func readJobs(a *app, files []string, o printfile.Options) ([]printfile.Job, error) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	var jobs []printfile.Job
	for _, path := range files {
		js, err := printfile.Read(ctx, path, a.Stdin, o)
		clearProgress(a, o)
		jobs = append(jobs, js...)
		if ctx.Err() != nil {
			return jobs, &coded{No,
				fmt.Errorf("stopped before the end of %s: what is said of it is partial", path)}
		}
		if err != nil {
			return jobs, misuse("%s", err)
		}
	}
	return jobs, nil
}

// judgePrints says what becomes of the machine's parts, and writes what was asked for.
func judgePrints(a *app, m *model.Machine, jobs []printfile.Job, f jobFlags, at time.Time) error {
	b, err := a.bench()
	if err != nil {
		return err
	}
	results := printfile.Judge(jobs, m, b, a.heads(), f.unattended, a.now())
	if !f.record && !f.book {
		return writeJobs(a, jobs, m, results, f)
	}
	facts, skipped := printfile.Booked(jobs), []model.Meter(nil)
	if f.record {
		took, err := f.length(jobs)
		if err != nil {
			return err
		}
		if err := doubtedPrints(a, m, jobs, f, at, took); err != nil {
			return err
		}
		if facts, skipped, err = printfile.Recorded(m, jobs, at, took); err != nil {
			return err
		}
	}
	entries, err := a.append(m, at, facts)
	if err != nil {
		return err
	}
	if err := writeJobs(a, jobs, m, results, f); err != nil || a.flags.json {
		return err
	}
	a.say("")
	for _, meter := range skipped {
		a.say("%s of %s was never read, so nothing was added to it: oilcan meter %s %s=N", meter,
			m.Name, action.Typed(m.Name), meter)
	}
	return a.saved(entries, "%s", recordedText(m, jobs, facts, f))
}

// length is how long the print took, 0 where that was not said.
func (f jobFlags) length(jobs []printfile.Job) (time.Duration, error) {
	switch {
	case f.took == "":
		return 0, nil
	case len(jobs) != 1:
		return 0, misuse("--took is of one print: record each with a command of its own")
	}
	d, err := printfile.ReadLength(f.took, printfile.Longest)
	if err != nil {
		return 0, misuse("--took: %s", err)
	}
	return d, nil
}

// doubtedPrints asks, or refuses, where a counter was read while the prints ran.
func doubtedPrints(a *app, m *model.Machine, jobs []printfile.Job, f jobFlags, at time.Time,
	took time.Duration) error {
	doubt := printfile.Doubt(m, jobs, at, took)
	switch {
	case doubt == "" || f.anyway:
		return nil
	case !a.talks():
		return misuse("%s; say when it ended with --at, or add it all the same with --anyway",
			doubt)
	}
	a.say("%s.", doubt)
	answer, err := a.ask("add it all the same? y, or enter to leave:")
	if err == nil && !model.IsYes(answer) {
		err = misuse("nothing was saved")
	}
	return err
}

func recordedText(m *model.Machine, jobs []printfile.Job, facts []model.Fact, f jobFlags) string {
	what := jobs[0].Name
	if len(jobs) > 1 {
		what = fmt.Sprintf("%d prints", len(jobs))
	}
	if f.book {
		return fmt.Sprintf("%s: %s booked", m.Name, what)
	}
	var now []string
	for _, f := range facts {
		if f.Reading != nil {
			now = append(now, string(f.Reading.Meter)+" "+model.Number(f.Reading.Value))
		}
	}
	return fmt.Sprintf("%s: %s recorded; %s", m.Name, what, strings.Join(now, ", "))
}

func countChanges(a *app, files []string) error {
	type row struct {
		File    string `json:"file"`
		Changes int64  `json:"changes"` // by tool and by hand
		ByHand  int64  `json:"manual_changes"`
		Service int64  `json:"service_calls"`
	}
	var rows []row
	for _, path := range files {
		ts, err := printfile.Changes(context.Background(), path, job.Options{})
		if err != nil {
			return misuse("%s", err)
		}
		for _, t := range ts {
			rows = append(rows, row{t.Name, t.Changes + t.Manual, t.Manual, t.Service})
		}
	}
	return list(a, rows, "", table{right: []int{1}}, func(r row) []any {
		return []any{r.File, model.Number(float64(r.Changes)), "changes"}
	})
}

// progressStep is how many bytes are read between two progress lines.
const progressStep = 16 << 20

// readingProgress writes how far reading is, on a terminal only.
func readingProgress(a *app) func(job.Progress) {
	if !a.OutputTTY || a.flags.json {
		return nil
	}
	next := int64(progressStep)
	return func(p job.Progress) {
		if p.Bytes < next {
			if p.Bytes < next-progressStep { // another file
				next = progressStep
			}
			return
		}
		next = p.Bytes + progressStep
		if p.Size == 0 {
			a.errs.Over(progressWidth, "reading: %d MiB, line %s ", p.Bytes>>20,
				model.Number(float64(p.Lines)))
			return
		}
		a.errs.Over(progressWidth, "reading %s %d of %d MiB ",
			theme.Painted(a.th.Progress(barWidth,
				float64(p.Bytes)/float64(p.Size))), p.Bytes>>20, p.Size>>20)
	}
}

// clearProgress takes the progress line away.
func clearProgress(a *app, o printfile.Options) {
	if o.Progress != nil {
		a.errs.Over(progressWidth, "")
	}
}
