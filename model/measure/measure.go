// Package measure works out what is measured at a machine: what a plucked belt says of its pull,
// how tight a screw may be, what is in the air of a box, how a bed lies, whether a heater and a
// sensor are sound, what is really extruded, and whether a reading is one this machine usually
// gives.
//
// # What stands where
//
// A Calculator asks figures (Field), reads them as they were typed (Read) and works out a Result.
// All is the one table of them: the command, the screen and the measure gates of a session go by
// it, so that a calculator is asked the same way everywhere. One file has one subject; the formulas
// are exported functions with units and source, the calculator below them only asks and says.
//
// # How to add one
//
// Write the formula as a function with units and source and its test against something printed; below
// it a Calculator that asks, and says what comes of it; name it in All. Where a gate asks its value, or
// a machine is to keep it, that is a row of Keeps.
//
// # What it holds to
//
//   - Pure: no file, no clock. A recording comes as bytes (wav.go), readings of the machine as values.
//   - Every result says the source of its formula, its tolerance and what spoils it.
//   - An impossible figure is refused by one sentence that names the range.
//   - What is only from memory says so: constants of belts, materials and habits.
//   - No figure is better than a wrong one: plastic and inserts get no torque, a hum no tone.
//   - Nothing is fetched from a signal library. The period is found over one window a pluck, which
//     is a few million products; a transform would save nothing a person notices.
//   - Student's t goes by the inverse of the incomplete beta function of gonum/mathext, which
//     model/life has in use already; gonum/stat would bring matrices into the program.
package measure

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// Calculator is one measurement: what is asked, and what comes of it.
type Calculator struct {
	ID      string // as it is typed in a command
	Group   string // the subject it stands under
	Title   string
	Purpose string // one sentence
	Caution string // what can hurt; stands before anything is asked
	Alone   bool   // the caution is read and answered by itself, every time
	Fields  []Field

	work func(In) (Result, error)
}

// Field is one figure that is asked.
type Field struct {
	Name     string // as it is typed in a command
	Ask      string // at most 26 characters
	Hint     string
	Kind     Kind
	Unit     string  // of the value, once read; other units of its kind can be typed
	Low      float64 // both 0: no limit but that it is a number
	High     float64
	Usual    string // stands where nothing is typed
	Optional bool   // may be left empty
	Options  []Option
	Least    int           // of several figures
	Stays    bool          // describes the machine: stands there again the next time
	When     func(In) bool // asked only then, by what is asked before it; nil: always
}

// Kind is how a field is answered.
type Kind int

// A figure, several of them, places with heights, one of some words, a recording.
const (
	Number Kind = iota
	Numbers
	Points
	Word
	Recording
)

// Option is one word that can be chosen.
type Option struct{ Is, Says string }

// Grade is what a measured part is worth.
type Grade string

// The grades: as it should be, to be looked at again, no further.
const (
	Good     Grade = "good"
	Doubtful Grade = "doubtful"
	Stop     Grade = "stop"
)

// Row is one figure of a result.
type Row struct {
	Name  string  `json:"name"` // stable
	Value float64 `json:"value"`
	Unit  string  `json:"unit,omitempty"`
	Text  string  `json:"text,omitempty"` // instead of, or behind, the figure
}

// Result is what a calculator worked out.
type Result struct {
	Rows    []Row    `json:"rows"` // the one that is asked for first
	Grade   Grade    `json:"grade,omitempty"`
	Says    []string `json:"says,omitempty"`    // what it means and what to do, sentences
	Picture []string `json:"picture,omitempty"` // seen from above

	Source    string `json:"source"`    // of the formula
	Tolerance string `json:"tolerance"` // of the answer
	Spoils    string `json:"spoils"`    // what makes it wrong
}

// Row finds a figure of the result by its name.
func (r Result) Row(name string) (Row, bool) {
	i := slices.IndexFunc(r.Rows, func(x Row) bool { return x.Name == name })
	if i < 0 {
		return Row{}, false
	}
	return r.Rows[i], true
}

// Shown is a figure as a person reads it, with its unit.
func (r Row) Shown() string {
	if r.Unit == "" && r.Text != "" {
		return r.Text
	}
	s := model.Figure(Round(r.Value))
	if r.Unit != "" {
		s += " " + r.Unit
	}
	if r.Text != "" {
		s += ", " + r.Text
	}
	return s
}

func (r *Result) row(name string, v float64, unit string) {
	r.Rows = append(r.Rows, Row{Name: name, Value: v, Unit: unit})
}

func (r *Result) text(name, text string) {
	r.Rows = append(r.Rows, Row{Name: name, Text: text})
}

func (r *Result) say(format string, args ...any) {
	r.Says = append(r.Says, fmt.Sprintf(format, args...))
}

// All are the calculators in the order they stand in a list; materials are those a roll may be of.
func All(materials []model.Material) []Calculator {
	return []Calculator{
		beltCalculator, pullCalculator, torqueCalculator,
		airCalculator, desiccantCalculator, dryingCalculator(materials),
		tiltCalculator, squareCalculator, skewCalculator,
		heaterCalculator, thermistorCalculator, platinumCalculator,
		flowCalculator, stepsCalculator, axisCalculator, carbonCalculator,
		trendCalculator,
	}
}

// Find gives the calculator of an id; nil where there is none.
func Find(all []Calculator, id string) *Calculator {
	for i := range all {
		if all[i].ID == id {
			return &all[i]
		}
	}
	return nil
}

// Field gives a field by its name; nil where there is none.
func (c *Calculator) Field(name string) *Field {
	for i := range c.Fields {
		if c.Fields[i].Name == name {
			return &c.Fields[i]
		}
	}
	return nil
}

// Work reads what was typed, by field name, and works it out. What is wrong is one sentence.
func (c *Calculator) Work(typed map[string]string) (Result, error) {
	in, err := c.Read(typed)
	if err != nil {
		return Result{}, err
	}
	return c.work(in)
}
