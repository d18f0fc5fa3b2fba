package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// In is what was typed, read.
type In struct {
	numbers map[string][]float64
	words   map[string]string
	points  map[string][]Point
}

// Point is a place seen from above in mm, and what was read there.
type Point struct{ X, Y, Z float64 }

// Has tells whether a figure was given.
func (in In) Has(name string) bool { return len(in.numbers[name]) > 0 }

// Num is a figure; 0 where it was not given.
func (in In) Num(name string) float64 {
	if !in.Has(name) {
		return 0
	}
	return in.numbers[name][0]
}

// List is several figures.
func (in In) List(name string) []float64 { return in.numbers[name] }

// Word is the option chosen.
func (in In) Word(name string) string { return in.words[name] }

// Points are places with what was read there.
func (in In) Points(name string) []Point { return in.points[name] }

// Read reads what was typed, by field name. The first figure that cannot be is the error, a
// sentence with its range.
func (c *Calculator) Read(typed map[string]string) (In, error) {
	in := noIn()
	for name := range typed {
		if c.Field(name) == nil {
			return in, fmt.Errorf("%s asks no %q", c.Title, name)
		}
	}
	for i := range c.Fields {
		f := &c.Fields[i]
		if f.When != nil && !f.When(in) {
			continue
		}
		if err := f.read(&in, f.text(typed)); err != nil {
			return in, err
		}
	}
	return in, nil
}

func noIn() In {
	return In{numbers: map[string][]float64{}, words: map[string]string{},
		points: map[string][]Point{}}
}

// text is what stands in the field: what was typed, else the usual.
func (f *Field) text(typed map[string]string) string {
	if text := strings.TrimSpace(typed[f.Name]); text != "" {
		return text
	}
	return f.Usual
}

// UsualText is what stands where nothing is typed, with its unit.
func (f *Field) UsualText() string {
	if t, err := model.ReadNumber(f.Usual); err != nil || t.Unit != "" || f.Unit == "" {
		return f.Usual
	}
	return f.Usual + " " + f.Unit
}

// before reads the fields that stand before one, as far as they can be read; what cannot counts as
// not given.
func (c *Calculator) before(name string, typed map[string]string) In {
	in := noIn()
	for i := range c.Fields {
		f := &c.Fields[i]
		if f.Name == name {
			break
		}
		if text := f.text(typed); text != "" && (f.When == nil || f.When(in)) {
			_ = f.read(&in, text)
		}
	}
	return in
}

// Asks tells whether the field is asked, by what was typed so far.
func (c *Calculator) Asks(f *Field, typed map[string]string) bool {
	return f.When == nil || f.When(c.before(f.Name, typed))
}

// Check says why a text cannot be the field's, "" where it can, without regard to other fields.
func (f *Field) Check(text string) string {
	in := noIn()
	if err := f.read(&in, f.text(map[string]string{f.Name: text})); err != nil {
		return err.Error()
	}
	return ""
}

func (f *Field) read(in *In, text string) error {
	switch {
	case text == "" && f.Optional, f.Kind == Recording:
		return nil
	case text == "":
		return fmt.Errorf("%s is missing: %s", f.Ask, f.wants())
	}
	switch f.Kind {
	case Word:
		return f.readWord(in, text)
	case Points:
		return f.readPoints(in, text)
	case Numbers:
		var list []float64
		for _, part := range parts(text) {
			v, err := f.readOne(part)
			if err != nil {
				return err
			}
			list = append(list, v)
		}
		if len(list) < f.Least {
			return fmt.Errorf("%s: at least %d figures, set apart by spaces, not %d", f.Ask,
				f.Least, len(list))
		}
		in.numbers[f.Name] = list
		return nil
	}
	v, err := f.readOne(text)
	if err == nil {
		in.numbers[f.Name] = []float64{v}
	}
	return err
}

// parts sets figures apart: by semicolons where there are any, else by spaces. A comma may be a
// decimal mark.
func parts(text string) []string {
	if strings.Contains(text, ";") {
		return strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' })
	}
	return strings.Fields(text)
}

func (f *Field) readOne(text string) (float64, error) {
	v, err := model.ReadIn(text, f.Unit, f.can)
	switch {
	case err != nil:
		return 0, fmt.Errorf("%s: %w", f.Ask, err)
	case !f.can(v):
		return 0, fmt.Errorf("%s: %s cannot be, %s", f.Ask, strings.TrimSpace(text), f.wants())
	}
	return v, nil
}

// can tells whether a value lies in the range.
func (f *Field) can(v float64) bool {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return false
	}
	return f.Low == 0 && f.High == 0 || v >= f.Low && v <= f.High
}

// wants says what the field takes: "it is 20 to 3 000 mm".
func (f *Field) wants() string {
	switch {
	case f.Kind == Word:
		return "it is " + f.optionWords()
	case f.Kind == Points:
		return "type each as x y value, with ; between them"
	case f.Low == 0 && f.High == 0:
		return "type it in " + model.UnitWords(f.Unit)
	}
	return strings.TrimSpace(fmt.Sprintf("it is %s to %s %s", model.Figure(f.Low),
		model.Figure(f.High), f.Unit))
}

// Range says what the field takes: "20 to 3 000 mm".
func (f *Field) Range() string { return strings.TrimPrefix(f.wants(), "it is ") }

func (f *Field) optionWords() string {
	var words []string
	for _, o := range f.Options {
		words = append(words, o.Is)
	}
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

func (f *Field) readWord(in *In, text string) error {
	hit := ""
	for _, o := range f.Options {
		if strings.EqualFold(o.Is, text) {
			hit = o.Is
			break
		}
		if len(text) <= len(o.Is) && strings.EqualFold(o.Is[:len(text)], text) {
			if hit != "" {
				return fmt.Errorf("%s: %q can be %s or %s: type more of it", f.Ask, text, hit, o.Is)
			}
			hit = o.Is
		}
	}
	if hit == "" {
		return fmt.Errorf("%s: %q is none of them, %s", f.Ask, text, f.wants())
	}
	in.words[f.Name] = hit
	return nil
}

// readPoints reads places: x and y, and a value where the field's unit is of one.
func (f *Field) readPoints(in *In, text string) error {
	n := 3
	if f.Unit == "" {
		n = 2
	}
	var list []Point
	for _, part := range strings.FieldsFunc(text, func(r rune) bool {
		return r == ';' || r == '\n'
	}) {
		words := strings.Fields(part)
		if len(words) == 0 {
			continue
		}
		if len(words) != n {
			return fmt.Errorf("%s: %q is not %d figures: type each as %s, with ; between them",
				f.Ask, strings.TrimSpace(part), n, map[int]string{2: "x y", 3: "x y value"}[n])
		}
		var v [3]float64
		for i, w := range words {
			read, err := f.readPlace(w, i)
			if err != nil {
				return err
			}
			v[i] = read
		}
		list = append(list, Point{v[0], v[1], v[2]})
	}
	if len(list) < f.Least {
		return fmt.Errorf("%s: at least %d places are needed, not %d", f.Ask, f.Least, len(list))
	}
	in.points[f.Name] = list
	return nil
}

// mostPlace is beyond any bed, in mm.
const mostPlace = 2000

// readPlace reads a coordinate, or the value behind two of them.
func (f *Field) readPlace(text string, i int) (float64, error) {
	if i == 2 {
		return f.readOne(text)
	}
	place := Field{Ask: f.Ask, Unit: "mm", Low: -mostPlace, High: mostPlace}
	return place.readOne(text)
}

// Round leaves four figures that count: no measurement of these has more.
func Round(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	digits := 3 - int(math.Floor(math.Log10(math.Abs(v))))
	scale := math.Pow10(max(0, digits))
	return math.Round(v*scale) / scale
}

// median of some figures; 0 of none.
func median(list []float64) float64 {
	if len(list) == 0 {
		return 0
	}
	s := slices.Sorted(slices.Values(list))
	n := len(s)
	return (s[(n-1)/2] + s[n/2]) / 2
}
