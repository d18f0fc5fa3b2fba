// Package config reads the operator's one settings file, config.toml, and says where files are
// kept.
package config

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// Config is what config.toml may say.
type Config struct {
	// dark | light: the terminal's background; empty: as the terminal says, else for both
	Theme    string `toml:"theme"`
	ASCII    bool   `toml:"ascii"`    // draw with ASCII only, whatever the locale says
	Bell     bool   `toml:"bell"`     // ring when a wait has run out
	Operator string `toml:"operator"` // who, where --by and OILCAN_BY say nothing
	// what the bench is called, in the title line; at most maxBench characters
	Bench string `toml:"bench"`
	Units string `toml:"units"` // metric
	Pace  string `toml:"pace"`  // of a session on the screens: auto | steps | pages
	// behind prices and costs, at most maxCurrency characters: EUR; "" writes none
	Currency string `toml:"currency"`
}

// Default is what holds without a file.
func Default() Config { return Config{Bell: true, Units: "metric", Pace: "auto"} }

// keys are the settings there are, as a person reads them.
const keys = "theme, ascii, bell, operator, bench, units, pace and currency"

// maxBench is what fits the title line beside the date, in characters.
const maxBench = 40

// maxCurrency is what fits beside a figure, in characters.
const maxCurrency = 8

// maxSize is far beyond any settings file, in bytes.
const maxSize = 64 << 10

// Load reads config.toml in a folder; without a file the defaults hold. A file with a mistake gives
// the defaults and an error of one sentence with file and line.
func Load(folder string) (Config, error) {
	if folder == "" {
		return Default(), nil
	}
	path := filepath.Join(folder, "config.toml")
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		// a pipe would be waited for
		return Default(), fmt.Errorf("%s is no plain file: the defaults are used", path)
	}
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return Default(), nil
	}
	if err != nil {
		return Default(), fmt.Errorf("%s cannot be read (%w): the defaults are used", path,
			cause(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxSize+1))
	switch {
	case err != nil:
		return Default(), fmt.Errorf("%s cannot be read (%w): the defaults are used", path,
			cause(err))
	case len(data) > maxSize:
		return Default(), fmt.Errorf("%s is larger than any settings file: the defaults are used",
			path)
	}
	c, err := Parse(data)
	if err != nil {
		return Default(), fmt.Errorf("%s:%w; the defaults are used", path, err)
	}
	return c, nil
}

// Parse reads the text of a settings file. The error begins with the line: "3: there is no …".
func Parse(data []byte) (Config, error) {
	c := Default()
	d := toml.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&c); err != nil {
		return Default(), plainly(data, err)
	}
	if err := c.check(data); err != nil {
		return Default(), err
	}
	return c, nil
}

// plainly turns the decoder's error into one sentence.
func plainly(data []byte, err error) error {
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) && len(strict.Errors) > 0 {
		line, _ := strict.Errors[0].Position()
		return fmt.Errorf("%d: there is no setting %q: the settings are %s", line,
			strings.Join(strict.Errors[0].Key(), "."), keys)
	}
	var bad *toml.DecodeError
	if errors.As(err, &bad) {
		line, _ := bad.Position()
		return fmt.Errorf("%d: %s", line, inWords(data, line, bad.Error()))
	}
	return errors.New("1: this cannot be read: write name = value, with text in quotes")
}

// inWords says what is wrong with a line, without the decoder's words for it.
func inWords(data []byte, line int, decoder string) string {
	name := nameOn(data, line)
	switch form := form(name); {
	case form != "" && strings.Contains(decoder, "already defined"):
		return name + " stands twice: leave one out"
	case form != "" && (strings.Contains(decoder, "cannot decode") ||
		strings.Contains(decoder, "cannot store") || strings.Contains(decoder, "type mismatch")):
		return name + " cannot be that: write " + form
	}
	return "this line cannot be read: write name = value, with text in quotes"
}

// form is how a setting is written; "" where there is none of that name.
func form(name string) string {
	switch name {
	case "theme":
		return `theme = "dark" or theme = "light"`
	case "ascii", "bell":
		return name + " = true or " + name + " = false"
	case "operator", "bench":
		return name + ` = "a name"`
	case "units":
		return `units = "metric"`
	case "currency":
		return `currency = "EUR"`
	case "pace":
		return `pace = "auto", pace = "steps" or pace = "pages"`
	}
	return ""
}

// nameOn is the name a line begins with, from 1; "" where it has none.
func nameOn(data []byte, line int) string {
	lines := strings.Split(string(data), "\n")
	if line < 1 || line > len(lines) {
		return ""
	}
	name, _, _ := strings.Cut(strings.TrimLeft(lines[line-1], " \t["), "=")
	name, _, _ = strings.Cut(name, ".")
	return strings.Trim(strings.TrimSpace(name), "\"']")
}

// check tells which value is not one of those that can be.
func (c Config) check(data []byte) error {
	switch {
	case c.Theme != "" && c.Theme != "dark" && c.Theme != "light":
		return fmt.Errorf("%d: theme %q is not known: write dark or light", lineOf(data, "theme"),
			c.Theme)
	case c.Units != "metric":
		return fmt.Errorf("%d: units %q are not known: every figure is metric, so write metric",
			lineOf(data, "units"), c.Units)
	case !slices.Contains(walk.Paces, c.Pace):
		return fmt.Errorf("%d: pace %q is not known: write auto, steps or pages",
			lineOf(data, "pace"), c.Pace)
	case !model.Showable(c.Operator):
		return fmt.Errorf("%d: operator holds characters that cannot be shown: write a name",
			lineOf(data, "operator"))
	case !model.Showable(c.Bench):
		return fmt.Errorf("%d: bench holds characters that cannot be shown: write a name",
			lineOf(data, "bench"))
	case utf8.RuneCountInString(c.Bench) > maxBench:
		return fmt.Errorf("%d: bench has %d characters: at most %d fit the title line",
			lineOf(data, "bench"), utf8.RuneCountInString(c.Bench), maxBench)
	case !model.Showable(c.Currency) || utf8.RuneCountInString(c.Currency) > maxCurrency:
		return fmt.Errorf("%d: currency is a word of at most %d characters: write \"EUR\"",
			lineOf(data, "currency"), maxCurrency)
	}
	return nil
}

// lineOf finds the line a key stands on, from 1.
func lineOf(data []byte, key string) int {
	for i, l := range strings.Split(string(data), "\n") {
		name, _, _ := strings.Cut(l, "=")
		if strings.Trim(strings.TrimSpace(name), `"'`) == key {
			return i + 1
		}
	}
	return 1
}

// cause drops the path from a file error: the sentence names it already.
func cause(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
