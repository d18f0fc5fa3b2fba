// Package printfile reads print files from the disk for both front ends, and turns what was read
// into what a verdict is given and what the journal is told.
//
// # What is written
//
// A print done is a printed fact with the readings beside it (how: job) in one action, so one
// strike takes all back; a print booked is a booked fact, taken off by the printed that names it or
// by a strike. Hours and changes and starts are only added to where the counter was read once;
// styrenic and abrasive hours, which no machine shows, begin at nothing. A typed reading below what
// a job added says that the print is the likely cause, and is taken with --correct. Machine.Printed
// is when a print was last recorded: a meter's last value of that moment is reckoned and not read.
// Where a counter was read while the print ran (printfile.Doubt; by how
// long it took, else by what its file says), its use would count twice: the screen wants a second 1, the command --anyway, or --at
// when it ended. A part is renewed before a print for its own lives only where a new one is at most
// half as likely to fail in it. life takes prints booked to be run one after another from now:
// Forecaster moves a date forward where they reach the level, and NewSpares counts what they use
// beyond the pace. A print of which is told how long it took has those hours, and what its file
// says beside them (model.PrintTime): job.Learn makes the machine's own times of them.
package printfile

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
	"bench/oilcan/model/verdict"
	"bench/oilcan/ui/theme"
)

// Job is one print: a file, or a member of a container.
type Job struct {
	Name   string // the file's own name, and the member's behind a colon
	Report job.Report
	Use    job.Use

	Refused string // why it was not read, or not to its end; empty: it was

	changer  bool            // the machine it is reckoned for has one
	diameter float64         // of its filament, mm
	raw      model.PrintTime // as reckoned from the file alone
	idle     []string        // tools for which a material was said and that print nothing
}

// Print is the job as a verdict takes it.
func (j *Job) Print() verdict.Print { return verdict.PrintOf(j.Name, &j.Report, &j.Use) }

// Load works out the use by material, given what is loaded.
func (j *Job) Load(l Loaded) {
	j.Use = job.UseOf(&j.Report, l.of(&j.Report), cmp.Or(j.diameter, job.Diameter))
	j.idle = idleTools(l, &j.Report)
}

// Loaded says what is loaded: one material for all tools, or by tool.
type Loaded struct {
	All   *job.Material
	Tools map[int]job.Material
}

// ParseLoaded reads "PLA", or "0=PLA,1=PA-CF"; nothing says nothing.
func ParseLoaded(text string, materials []model.Material) (Loaded, error) {
	l := Loaded{Tools: map[int]job.Material{}}
	if strings.TrimSpace(text) == "" {
		return l, nil
	}
	for word := range strings.SplitSeq(text, ",") {
		tool, name, byTool := strings.Cut(word, "=")
		if !byTool {
			name = word
		}
		m := model.FindMaterial(materials, strings.TrimSpace(name))
		if m == nil || m.ID == "unknown" {
			return Loaded{},
				fmt.Errorf(
					"there is no material %q: oilcan procedures show dry-filament names them; write PLA, or 0=PLA,1=PA-CF by tool",
					strings.TrimSpace(name),
				)
		}
		if m.Banned {
			return Loaded{}, fmt.Errorf("%s is not printed: its fumes are harmful", m.Name)
		}
		made := job.MaterialOf(m)
		if !byTool {
			l.All = &made
			continue
		}
		n, err := model.ReadCount(strings.TrimPrefix(strings.ToUpper(strings.TrimSpace(tool)), "T"),
			"", 255)
		if err != nil {
			return Loaded{},
				fmt.Errorf("%q is no tool: write 0=PLA,1=PA-CF, as T0 and T1 stand in the file",
					strings.TrimSpace(tool))
		}
		l.Tools[n] = made
	}
	return l, nil
}

// of gives the materials of a report's tools.
func (l Loaded) of(r *job.Report) map[int]job.Material {
	out := map[int]job.Material{}
	for _, f := range r.Filament {
		if m, said := l.Tools[f.Tool]; said {
			out[f.Tool] = m
		} else if l.All != nil {
			out[f.Tool] = *l.All
		}
	}
	return out
}

// Options says what is known beside the file: what is loaded, what a change takes, and who is told
// how far it is.
type Options struct {
	Loaded Loaded
	// by whose settings and times the print is reckoned; nil: by common ones
	Machine  *model.Machine
	Plate    int           // of a container, from 1; 0: all
	Change   time.Duration // what a filament change takes; 0: not known, and not in the time
	Strict   bool          // a line that is not as it should be ends the reading
	Progress func(job.Progress)
}

// Read reads a print file by its path, "-" from stdin. With an error the jobs hold what was read
// before it, one job at least, and the last of them says why.
func Read(ctx context.Context, path string, stdin io.Reader, o Options) ([]Job, error) {
	profile := job.DefaultProfile()
	if o.Machine != nil {
		profile = job.ProfileOf(o.Machine)
	}
	jo := job.Options{
		Profile:  &profile,
		Time:     true,
		Strict:   o.Strict,
		Member:   o.Plate,
		Progress: o.Progress,
	}
	name := filepath.Base(path)
	var rs []job.Report
	var err error
	if path == "-" {
		name = "standard input"
		rs, err = job.ScanStream(ctx, stdin, jo)
	} else {
		rs, err = readFile(ctx, path, jo)
	}
	var out []Job
	for _, r := range rs {
		j := Job{Name: name, Report: r}
		if r.Name != "" {
			j.Name += ": " + r.Name
		}
		j.time(o)
		j.Load(o.Loaded)
		out = append(out, j)
	}
	if err != nil {
		if len(out) == 0 {
			out = []Job{{Name: name, Report: job.Report{Partial: true}}}
		}
		out[len(out)-1].Refused = err.Error()
		return out, fmt.Errorf("%s, %w", name, err)
	}
	return out, nil
}

// time puts the machine's own times in, and keeps what the file alone says.
func (j *Job) time(o Options) {
	r := &j.Report
	j.raw = model.PrintTime{Moving: r.Moving.Seconds(), Cruise: r.Cruise.Seconds(),
		Waiting: r.Waits.Dwell.Seconds(), Changes: float64(r.ToolChanges)}
	t := job.Timing{Cruise: 1, Ramps: 1}
	if o.Machine != nil {
		t = job.Learn(o.Machine)
		j.changer = slices.Contains(o.Machine.Features, "changer")
		j.raw.Limits = o.Machine.PrintLimits()
		j.diameter = o.Machine.PrintSetting(model.FilamentSize)
	}
	if o.Change > 0 {
		t.Change = o.Change
	}
	r.Retime(t)
}

func readFile(ctx context.Context, path string, o job.Options) ([]job.Report, error) {
	f, size, err := open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if size < 0 {
		return job.ScanStream(ctx, f, o)
	}
	return job.Scan(ctx, f, size, o)
}

// open opens a print file; size is -1 for what can only be read from front to back.
func open(path string) (*os.File, int64, error) {
	f, err := os.Open(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, 0, errors.New("there is no such file: check its path")
	case errors.Is(err, fs.ErrPermission):
		return nil, 0, errors.New("it may not be read: check its permissions")
	case err != nil:
		return nil, 0, errors.New("it cannot be opened: " + reason(err))
	}
	info, err := f.Stat()
	switch {
	case err != nil:
		err = errors.New("it cannot be opened: " + reason(err))
	case info.IsDir():
		err = errors.New("it is a folder: give a file in it")
	case !info.Mode().IsRegular():
		return f, -1, nil
	default:
		return f, info.Size(), nil
	}
	f.Close()
	return nil, 0, err
}

// Changes only counts filament changes; names are filled in as in Job.
func Changes(ctx context.Context, path string, o job.Options) ([]job.Tools, error) {
	name := filepath.Base(path)
	f, size, err := open(path)
	if err != nil {
		return nil, fmt.Errorf("%s, %w", name, err)
	}
	defer f.Close()
	if size < 0 {
		return nil, fmt.Errorf("%s, it is no plain file: leave --changes away", name)
	}
	ts, err := job.ToolChanges(ctx, f, size, o)
	if err != nil {
		return nil, fmt.Errorf("%s, %w", name, err)
	}
	for i := range ts {
		ts[i].Name = strings.TrimSuffix(name+": "+ts[i].Name, ": ")
	}
	return ts, nil
}

// reason is what an error of the system says, without path and operation.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return err.Error()
}

// Need is what a job adds to the meters that can be typed; what is not known is left out.
func (j *Job) Need() map[model.Meter]float64 {
	need := map[model.Meter]float64{
		model.Hours:   hundredths(j.Report.Total().Hours()),
		model.Changes: float64(j.Report.Changes()),
		model.Starts:  float64(j.Report.Starts),
	}
	if len(j.Use.Unsaid) == 0 {
		need[model.StyrenicHours] = hundredths(j.Use.StyrenicHours)
		need[model.AbrasiveHours] = hundredths(j.Use.AbrasiveHours)
	}
	return need
}

func hundredths(v float64) float64 { return math.Round(v*100) / 100 }

// A name longer than maxName runes loses its middle in the journal: the end tells a container's
// members apart.
const (
	maxName = 60
	maxTail = 40
)

// fact is the job as the journal is told it.
func (j *Job) fact() *model.PrintJob {
	name := []rune(theme.Safe(j.Name)) // a member of a container may be called anything
	if n := len(name); n > maxName {
		name = append(append(name[:maxName-maxTail-1:maxName-maxTail-1], '…'), name[n-maxTail:]...)
	}
	return &model.PrintJob{File: string(name), Need: j.Need()}
}

// lasted puts into a fact how long the print took by the clock: its hours are those then.
func (j *Job) lasted(p *model.PrintJob, took time.Duration) {
	p.Time = new(j.raw)
	p.Time.Took = took.Seconds()
	share := 1.0
	if total := j.Report.Total(); total > 0 {
		share = float64(took) / float64(total)
	}
	p.Need[model.Hours] = hundredths(took.Hours())
	for _, m := range []model.Meter{model.StyrenicHours, model.AbrasiveHours} {
		if n, known := p.Need[m]; known {
			p.Need[m] = hundredths(n * share)
		}
	}
}

// Booked gives one fact for each print to come, so that forecasts reckon with it.
func Booked(jobs []Job) []model.Fact {
	var facts []model.Fact
	for i := range jobs {
		facts = append(facts, model.Fact{Kind: model.KindBooked, Booked: jobs[i].fact()})
	}
	return facts
}

// beganSlack is how much of a print may lie before a reading and still count for nothing.
const beganSlack = 2 * time.Minute

// Doubt says, in a sentence without its end, that prints that ended at a time had begun before a
// counter they add to was read, so that part of their use is in the reading already; "" where they
// had not. What an earlier print added is no reading. took is how long they took, 0 where that was not
// said.
func Doubt(m *model.Machine, jobs []Job, at time.Time, took time.Duration) string {
	length := took
	sum := map[model.Meter]float64{}
	for i := range jobs {
		if took == 0 {
			length += jobs[i].Report.Total()
		}
		for meter, n := range jobs[i].Need() {
			sum[meter] += n
		}
	}
	var read []string
	var last time.Time
	for _, meter := range model.TypedMeters {
		p, ok := m.Shows(meter)
		if !ok || sum[meter] == 0 || m.Reckoned(meter) ||
			!p.At.After(at.Add(beganSlack-length)) {
			continue
		}
		read = append(read, string(meter))
		if p.At.After(last) {
			last = p.At
		}
	}
	if len(read) == 0 {
		return ""
	}
	return fmt.Sprintf(
		"%s of %s read on %s, and the print takes %s: what it had used by then is in the reading already, and would count twice",
		strings.Join(read, ", "),
		m.Name,
		model.Stamp(last, at),
		Span(length),
	)
}

// Judge says what becomes of a machine's parts in prints, one after the other.
func Judge(jobs []Job, m *model.Machine, b *model.Bench, procs []*model.Procedure,
	unattended bool, now time.Time) []verdict.Result {
	ask := verdict.Ask{Machine: m, Bench: b.ByID(), Procedures: procs, Unattended: unattended,
		Now: now}
	for i := range jobs {
		ask.Prints = append(ask.Prints, jobs[i].Print())
	}
	return verdict.Judge(ask)
}

// Recorded books jobs as printed by a time: what they used is added to the meters, and the oldest
// booking of the same file is done. skipped are the counters that were never read, so that nothing
// can be added. A print of which is told how long it took has those hours, and the machine's times
// are learned from it.
func Recorded(m *model.Machine, jobs []Job, at time.Time, took time.Duration) (facts []model.Fact,
	skipped []model.Meter, err error) {
	sum := map[model.Meter]float64{}
	left := slices.Clone(m.Booked)
	for i := range jobs {
		p := jobs[i].fact()
		if took > 0 && len(jobs) == 1 {
			jobs[i].lasted(p, took)
		}
		if n := slices.IndexFunc(left, func(b model.Booking) bool {
			return b.File == p.File
		}); n >= 0 {
			p.Booking = left[n].ID
			left = slices.Delete(left, n, n+1)
		}
		facts = append(facts, model.Fact{Kind: model.KindPrinted, Printed: p})
		for meter, n := range p.Need {
			sum[meter] += n
		}
	}
	for _, meter := range model.TypedMeters {
		n := sum[meter]
		if n == 0 {
			continue
		}
		shows, read := m.Shows(meter)
		value := n
		switch {
		case read && at.Before(shows.At):
			return nil, nil,
				fmt.Errorf("%s of %s was read on %s, after this print: its use is in it already; leave --at away, or strike that reading",
					meter, m.Name, model.Stamp(shows.At, at))
		case read:
			value = hundredths(shows.Value + n)
		case meter == model.StyrenicHours || meter == model.AbrasiveHours:
			// no machine shows these: counted from here on
		default:
			skipped = append(skipped, meter)
			continue
		}
		facts = append(facts,
			model.Fact{Kind: model.KindReading, Reading: &model.Reading{Meter: meter, Value: value,
				How: "job", Estimate: meter != model.Changes && meter != model.Starts}})
	}
	return facts, skipped, nil
}
