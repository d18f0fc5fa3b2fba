package command

import (
	"bufio"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/config"
	"bench/oilcan/ui/theme"
)

// app is one run of the program: its flags, and what was opened because a command needed it. Its
// methods are what all commands share; the rest is functions that are given it.
type app struct {
	Deps
	flags struct {
		file, at, by  string
		json, noColor bool
	}
	cfg   config.Config
	lib   *procedures.Library
	st    *store.Store
	th    *theme.Theme
	input *bufio.Reader
	out   *theme.Writer // standard output
	errs  *theme.Writer // standard error

	terminal *os.File // standard output where it is a terminal, else nil

	notes   []string // what was wrong with the operator's own settings
	asked   bool     // about the clock
	drawing bool     // screens stand, and nothing may be written beside them
	untold  []error  // what was to be said meanwhile
	checks  bool     // procedure files are being checked: what is wrong with them is the answer
}

// start reads what every command may need; it runs before any. last tells that --at may say more
// than a day.
func (a *app) start(last bool) error {
	var err error
	folder := config.Folder(a.Env)
	a.cfg, err = config.Load(folder)
	if err != nil {
		a.warn(err)
		// on the bench the name is enough, and a long path would fill the line
		a.notes = []string{strings.TrimPrefix(err.Error(), folder+string(filepath.Separator))}
	}
	a.th = theme.New(a.look())
	a.out.Paints(a.th)
	a.errs.Paints(a.th)
	if a.flags.at != "" && !last {
		if _, err := action.Time(a.flags.at, a.now()); err != nil {
			return err
		}
	}
	if a.flags.by != "" {
		if _, err := action.Text("the name after --by", a.flags.by); err != nil {
			return err
		}
	}
	return nil
}

// look chooses how output is drawn.
func (a *app) look() theme.Options {
	o := theme.Detect(a.Env, a.OutputTTY)
	if a.cfg.Theme != "" {
		o.Dark, o.Light = a.cfg.Theme == "dark", a.cfg.Theme == "light"
	}
	o.ASCII = o.ASCII || a.cfg.ASCII
	if a.flags.noColor {
		o.NoColour, o.Profile = true, theme.Plain
	}
	return o
}

func (a *app) now() time.Time { return a.Clock.Now() }

// when is the time something happened: --at, else now.
func (a *app) when() (time.Time, error) {
	if a.flags.at == "" {
		return a.now(), nil
	}
	return action.Time(a.flags.at, a.now())
}

// who is the person: --by, OILCAN_BY, the settings file, the login name.
func (a *app) who() string {
	for _, name := range []string{a.flags.by, a.Env("OILCAN_BY"), a.cfg.Operator} {
		if name = strings.TrimSpace(theme.Safe(name)); name != "" {
			return name
		}
	}
	if a.Login == nil {
		return ""
	}
	return theme.Safe(a.Login())
}

// library loads the procedures, once. A mistake in an operator's own file is said and the file left
// out.
func (a *app) library() *procedures.Library {
	if a.lib != nil {
		return a.lib
	}
	a.lib = procedures.Open(config.Procedures(a.Env))
	if !a.checks {
		for _, text := range procedures.LeftOut(a.lib.Problems()) {
			a.warn(errors.New(text))
		}
	}
	return a.lib
}

func (a *app) procs() []*model.Procedure { return a.library().All() }

func procsAndSetUps(a *app) []*model.Procedure {
	return append(a.library().All(), a.library().SetUps()...)
}

// heads are the procedures with all a gauge needs, read faster.
func (a *app) heads() []*model.Procedure { return a.library().Heads() }

// warn says something on standard error and goes on. A bench without a machine is perhaps another
// file than was meant, so it is named.
func (a *app) warn(err error) {
	text := action.Advised(err)
	if path, no := a.path(); no == nil && errors.Is(err, model.ErrNoMachineYet) {
		text += ", or name another file than " + path + " with --file"
	}
	a.errs.Say("oilcan: %s", text)
}

// say writes one line of output.
func (a *app) say(format string, args ...any) { a.out.Say(format, args...) }

// writeJSON writes a value for programs.
func (a *app) writeJSON(v any) error { return a.out.JSON(v, "  ") }

// saved answers a log: the entries for programs, else the line, with the entry to strike if it was
// wrong.
func (a *app) saved(entries []model.Entry, format string, args ...any) error {
	if a.flags.json {
		return a.writeJSON(entries)
	}
	if len(entries) > 0 {
		format, args = format+"   undo: oilcan strike %s --why …", append(slices.Clone(args),
			short(entries[0].ID))
	}
	a.say(format, args...)
	return nil
}

// talks tells whether a person can be asked: both ends are a terminal.
func (a *app) talks() bool { return a.InputTTY && a.OutputTTY && !a.flags.json }

// errEnd is the end of input where an answer was wanted.
var errEnd = errors.New("the input ended before the last answer: nothing was saved")

// ask puts a question and reads one line; the answer is trimmed.
func (a *app) ask(question string) (string, error) {
	a.out.Ask(question)
	if a.input == nil {
		a.input = bufio.NewReader(a.Stdin)
	}
	line, err := a.input.ReadString('\n')
	if err != nil && (line == "" || !errors.Is(err, io.EOF)) {
		a.say("")
		return "", errEnd
	}
	return strings.TrimSpace(line), nil
}
