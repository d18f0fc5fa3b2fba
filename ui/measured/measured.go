// Package measured is what both front ends do alike with a calculator: a recording is read from the
// disk, what the record of a machine knows is filled in, an answer is written for a person, and
// what goes on record is made.
package measured

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/measure"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// All are the calculators, with the materials of the library.
func All() []measure.Calculator { return measure.All(procedures.Materials()) }

// Work is one calculator in use: what was typed by field, what was heard of a recording, and where
// the answer belongs.
type Work struct {
	C       *measure.Calculator
	Typed   map[string]string
	Heard   *measure.Heard
	Kept    *measure.Kept  // nil: the answer goes on no record
	Machine *model.Machine // nil: of no machine
}

// New begins a calculator: with a quantity kept on a machine, its fields begin with what is known.
// said gives a reading of the session, before that of the record; nil outside one.
func New(c *measure.Calculator, kept *measure.Kept, m *model.Machine,
	said func(quantity string) (float64, string, bool)) *Work {
	w := &Work{C: c, Kept: kept, Machine: m, Typed: map[string]string{}}
	if kept == nil {
		return w
	}
	w.Typed = kept.Begin(c, m, func(quantity string) (float64, string, bool) {
		if said != nil {
			if v, unit, ok := said(quantity); ok {
				return v, unit, true
			}
		}
		return lastOf(m, quantity)
	})
	return w
}

// lastOf is the last value of a quantity on a machine's record.
func lastOf(m *model.Machine, quantity string) (v float64, unit string, ok bool) {
	if m == nil || len(m.Values[quantity]) == 0 {
		return 0, "", false
	}
	last := m.Values[quantity][len(m.Values[quantity])-1]
	return last.Value, last.Unit, true
}

// Type takes figures as NAME=VALUE; what cannot be is said before what is missing.
func (w *Work) Type(pairs []string) error {
	var names, given []string
	for i := range w.C.Fields {
		if w.C.Fields[i].Kind != measure.Recording {
			names = append(names, w.C.Fields[i].Name)
		}
	}
	for _, p := range pairs {
		name, value, ok := strings.Cut(p, "=")
		if !ok {
			return fmt.Errorf("%q is no figure: write %s=…", p, names[0])
		}
		found, err := action.Find("figure", name, names)
		if err != nil {
			return err
		}
		if bad := w.C.Field(found).Check(value); bad != "" {
			return errors.New(bad)
		}
		w.Typed[found] = value
		given = append(given, found)
	}
	for _, name := range given {
		if !w.C.Asks(w.C.Field(name), w.Typed) {
			return fmt.Errorf("%s is not asked with what else is given: leave it out", name)
		}
	}
	return nil
}

// Sound reads a recording.
func Sound(path string) (measure.Sound, error) {
	path = strings.TrimSpace(path)
	if home, err := os.UserHomeDir(); err == nil && strings.HasPrefix(path, "~/") {
		path = home + path[1:]
	}
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return measure.Sound{},
			fmt.Errorf("the recording %s cannot be read: look whether the name is right", path)
	case !info.Mode().IsRegular():
		return measure.Sound{}, fmt.Errorf("%s is no file: name the recording itself", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return measure.Sound{},
			fmt.Errorf("the recording %s cannot be opened: look who may read it", path)
	}
	defer func() { _ = f.Close() }() // it was only read
	return measure.ReadWAV(f)
}

// Listen finds the tone of a recording, by what was typed of the belt, and types it.
func (w *Work) Listen(s measure.Sound) error {
	band, near := w.C.BandOf(w.Typed)
	h, err := measure.Hear(s, band, near)
	if err != nil {
		return err
	}
	w.Heard, w.Typed["tone"] = &h, model.Digits(measure.Round(h.Tone))
	return nil
}

// Result works out what was typed.
func (w *Work) Result() (measure.Result, error) {
	r, err := w.C.Work(w.Typed)
	if err == nil && w.Heard != nil {
		r = w.Heard.With(r)
	}
	return r, err
}

// Value is what goes on record of a result; nil where nothing does.
func (w *Work) Value(r measure.Result) *model.Measured {
	if w.Kept == nil {
		return nil
	}
	v, ok := w.Kept.Value(r)
	if !ok {
		return nil
	}
	return &model.Measured{Name: w.Kept.Quantity, Value: v, Unit: w.Kept.Unit,
		From: w.C.Worked(w.Typed, r)}
}

// Before says what stands on the machine's record beside a quantity: its last value and when; ""
// where there is none.
func (w *Work) Before(now time.Time) string {
	if w.Kept == nil || w.Machine == nil || len(w.Machine.Values[w.Kept.Quantity]) == 0 {
		return ""
	}
	vs := w.Machine.Values[w.Kept.Quantity]
	last := vs[len(vs)-1]
	return fmt.Sprintf("%s %s, %s", model.Figure(last.Value), last.Unit, model.Day(last.At, now))
}

// Says is what stands below the figures of a result, in a column of heads and texts.
func Says(r measure.Result) [][2]string {
	var out [][2]string
	if r.Grade != "" {
		out = append(out, [2]string{"judged", string(r.Grade)})
	}
	for _, s := range r.Says {
		out = append(out, [2]string{"", s})
	}
	return append(out, [2]string{"source", r.Source}, [2]string{"tolerance", r.Tolerance},
		[2]string{"spoiled by", r.Spoils})
}

// headWide is the column of the heads.
const headWide = 12

// Lines are the figures and sentences of a result, at most w cells wide.
func Lines(r measure.Result, w int) []string {
	wide := 0
	for _, row := range r.Rows {
		wide = max(wide, theme.Width(row.Name))
	}
	var out []string
	for _, row := range r.Rows {
		out = append(out, column(row.Name, wide+2, row.Shown(), w)...)
	}
	for _, l := range r.Picture {
		out = append(out, theme.Safe(l))
	}
	out = append(out, "")
	for _, s := range Says(r) {
		out = append(out, column(s[0], headWide, s[1], w)...)
	}
	return out
}

// column is a text behind its head, wrapped.
func column(head string, wide int, text string, w int) []string {
	var out []string
	for i, l := range theme.Wrap(theme.Safe(text), max(20, w-wide)) {
		if i > 0 {
			head = ""
		}
		out = append(out, head+strings.Repeat(" ", max(1, wide-theme.Width(head)))+l)
	}
	return out
}
