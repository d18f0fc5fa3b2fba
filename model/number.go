package model

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Typed is a number as a person typed it. Where Two is set the text can be read two ways: Value is
// that with thousands marked, Small that with a decimal mark.
type Typed struct {
	Text  string // as typed, without the space around it and without the unit
	Value float64
	Small float64
	Two   bool
	Unit  string // what stands behind the number, "" where nothing does
}

// A number is digits with one kind of mark between groups of three, a decimal mark and decimals, or
// plain digits with decimals. ISO 80000-1 sets groups apart by a thin space and allows comma and
// point as the decimal mark; commas, points and apostrophes between groups are what people and
// machines write besides.
var (
	numeral = regexp.MustCompile(`^[+-]?(?:[0-9]+(?:[ ,.'][0-9]+)*|[.,][0-9]+)`)
	grouped = regexp.MustCompile(
		`^([0-9]{1,3})(( [0-9]{3})+|(,[0-9]{3})+|(\.[0-9]{3})+|('[0-9]{3})+)(?:([.,])([0-9]+))?$`)
	pointed = regexp.MustCompile(`^([0-9]*)(?:[.,]([0-9]+))?$`)
)

// marks brings what is written for a space, an apostrophe and a minus to one sign each.
var marks = strings.NewReplacer("\u00a0", " ", "\u2009", " ", "\u202f", " ", "\u2019", "'",
	"\u2212", "-")

// ReadNumber reads a number and the unit behind it: 1234, 12.5, 12,5, 1 234, 1,234.5, 1.234,5 and
// 1,234,567 are read one way, 1,234 and 1.234 two ways.
func ReadNumber(text string) (Typed, error) {
	s := strings.TrimSpace(marks.Replace(text))
	num := numeral.FindString(s)
	t := Typed{Text: num, Unit: strings.TrimSpace(s[len(num):])}
	no := fmt.Errorf("%q is no number: write one like 1234 or 12.5", strings.TrimSpace(text))
	if num == "" || t.Unit != "" && strings.ContainsRune("+-.,'0123456789:_", rune(t.Unit[0])) {
		return Typed{}, no
	}
	sign, digits := 1.0, strings.TrimLeft(num, "+-")
	if strings.HasPrefix(num, "-") {
		sign = -1
	}
	big, isBig := readGrouped(digits)
	small, isSmall := readPointed(digits)
	switch {
	case isBig && isSmall:
		t.Value, t.Small, t.Two = sign*big, sign*small, true
	case isBig:
		t.Value = sign * big
	case isSmall:
		t.Value = sign * small
	default:
		return Typed{}, no
	}
	return t, nil
}

// readGrouped reads digits in groups of three; the decimal mark is another than that between the
// groups.
func readGrouped(s string) (float64, bool) {
	m := grouped.FindStringSubmatch(s)
	if m == nil || m[1][0] == '0' || m[7] == m[2][:1] {
		return 0, false
	}
	whole := m[1] + strings.NewReplacer(" ", "", ",", "", ".", "", "'", "").Replace(m[2])
	return parsed(whole, m[8])
}

// readPointed reads digits without groups, a point or a comma before the decimals: 1234, 12.5,
// 12,5.
func readPointed(s string) (float64, bool) {
	m := pointed.FindStringSubmatch(s)
	if m == nil || s == "" {
		return 0, false
	}
	return parsed(m[1], m[2])
}

func parsed(whole, decimals string) (float64, bool) {
	v, err := strconv.ParseFloat("0"+whole+"."+decimals+"0", 64)
	return v, err == nil && !math.IsInf(v, 0)
}

// TwoWays is the error for a number that can be read two ways: it names both, and how each is
// typed.
type TwoWays struct{ Typed Typed }

func (e TwoWays) Error() string {
	t := e.Typed
	return fmt.Sprintf("%q can be %s or %s: type %s, or %s for the smaller one",
		t.Text, Digits(t.Value), strconv.FormatFloat(t.Small, 'f', -1, 64), Digits(t.Value), Digits(
			t.Small))
}

// One gives the value. A text with two readings has one where only one of them can be, by what is
// known for certain; can is nil where nothing is. What is only likely is no reason: TwoWays asks
// which.
func (t Typed) One(can func(v float64) bool) (float64, error) {
	if !t.Two {
		return t.Value, nil
	}
	if can != nil {
		if big, small := can(t.Value), can(t.Small); big != small {
			return map[bool]float64{true: t.Value, false: t.Small}[big], nil
		}
	}
	return 0, TwoWays{t}
}

// Whole tells whether a value can be a count.
func Whole(v float64) bool { return v >= 0 && v == math.Trunc(v) }

// Count gives the number as one of things that are counted: nobody writes three decimals of a
// count, so a mark before three digits is one of thousands.
func (t Typed) Count() Typed {
	t.Two = false
	return t
}

// ReadAmount reads a number that is not negative, in a unit that may stand behind it; can is as for
// One.
func ReadAmount(text, unit string, can func(v float64) bool) (float64, error) {
	t, err := readAmount(text, unit)
	if err != nil {
		return 0, err
	}
	return t.One(can)
}

func readAmount(text, unit string) (Typed, error) {
	t, err := ReadNumber(text)
	switch {
	case err != nil:
		return t, err
	case !SameUnit(t.Unit, unit) && unit == "":
		return t, fmt.Errorf("%q is no number: write one like 1234 or 12.5, and nothing behind it",
			strings.TrimSpace(text))
	case !SameUnit(t.Unit, unit):
		return t, fmt.Errorf("%q is not in %s: write the number alone, in %s",
			strings.TrimSpace(text), unit, unit)
	case strings.HasPrefix(t.Text, "-"):
		return t, fmt.Errorf("%s is below nothing: counts and meters only grow from 0",
			strings.TrimSpace(text))
	}
	return t, nil
}

// ReadCount reads a whole number from 0 to most, in a unit that may stand behind it.
func ReadCount(text, unit string, most int) (int, error) {
	t, err := readAmount(text, unit)
	v := t.Value
	switch {
	case err != nil:
		return 0, err
	case !Whole(v) || v > float64(most):
		return 0, fmt.Errorf("%q is no whole number up to %s: type it again",
			strings.TrimSpace(text), Number(float64(most)))
	}
	return int(v), nil
}

// Read reads an amount of the meter, its unit behind it or not; can is as for One.
func (m Meter) Read(text string, can func(v float64) bool) (float64, error) {
	t, err := readAmount(text, m.shortUnit())
	if err != nil {
		return 0, err
	}
	if m.counts() || m == Days {
		t = t.Count()
	}
	return t.One(can)
}

// ReadMeter reads what a counter shows. Of two readings of the text one is taken where the
// machine's other readings leave no room for the other; m without readings, where those say
// nothing.
func ReadMeter(m *Machine, meter Meter, text string, at, now time.Time) (float64, error) {
	return meter.Read(text, func(v float64) bool {
		return CheckReading(m, meter, v, at, now) == nil
	})
}

// units are other ways to write a unit.
var units = [][]string{
	{"°C", "C", "degC", "deg", "°", "degrees"},
	{"%", "%RH", "percent"},
	{"h", "hr", "hour"},
	{"min", "minute"},
	{"s", "sec", "second"},
	{"d", "day"},
	{"Ω", "Ω", "ohm"},
	{"N·m", "Nm", "N m"},
}

// SameUnit tells whether a typed unit is the one wanted; "" always is.
func SameUnit(typed, want string) bool {
	return typed == "" || oneUnit(typed) == oneUnit(want)
}

// oneUnit is the same text for every way to write one unit.
func oneUnit(s string) string {
	for _, ways := range units {
		if slices.ContainsFunc(ways, func(w string) bool {
			return strings.EqualFold(s, w) || strings.EqualFold(s, w+"s") && len(w) > 1
		}) {
			return ways[0]
		}
	}
	s = strings.ToLower(s)
	if len(s) > 3 { // a word, such as tubes
		s = strings.TrimSuffix(s, "s")
	}
	return s
}

// Number writes a value with its thousands set apart by a space and at most one decimal: 2 410 and
// 6.5. A space is what ISO 80000-1 and the SI brochure (BIPM, 9th edition, 5.4.4) ask for: a comma
// is a decimal mark to half of those who read it, and what is shown has to be right when it is typed
// back.
func Number(v float64) string { return written(v, 1, true) }

// Figure writes a measured value, its thousands as Number, with at most three decimals: 0.125.
func Figure(v float64) string { return written(v, 3, true) }

// Minutes writes minutes as a person reads them: whole, and 1 where it is less but anything.
func Minutes(v float64) string {
	if v > 0 && v < 1 {
		v = 1
	}
	return written(math.Floor(v+0.5), 0, true)
}

// Rough writes a rate or a share with two digits that say something, and at most three decimals:
// 0.52, 1.2, 14.
func Rough(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return Figure(0)
	}
	scale := math.Pow10(max(0, 1-int(math.Floor(math.Log10(math.Abs(v))))))
	return Figure(math.Round(v*scale) / scale)
}

// Money writes an amount with two decimals, one below a tenth as Rough does, and the currency behind
// it, which may be ""; "" where there is no amount.
func Money(v *float64, currency string) string {
	if v == nil {
		return ""
	}
	text := inGroups(strconv.FormatFloat(*v, 'f', 2, 64))
	if *v > 0 && *v < 0.1 {
		text = Rough(*v)
	}
	return strings.TrimSpace(text + " " + currency)
}

// Decimal writes a value for a table that programs read: all its digits, none apart.
func Decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Counted writes a number of things: "1 day", "3 days", "2 entries".
func Counted[N int | int64](n N, thing string) string {
	switch stem, y := strings.CutSuffix(thing, "ry"); {
	case n == 1:
	case y:
		thing = stem + "ries"
	default:
		thing += "s"
	}
	return Number(float64(n)) + " " + thing
}

// Times writes how often something was: once, twice, 3 times.
func Times[N int | int64](n N) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return Counted(n, "time")
}

// Digits writes a value as it is typed, at most three decimals and no thousands marked: ReadNumber
// reads it one way. Three decimals get a zero behind them where they could be thousands: 1.2340.
func Digits(v float64) string {
	s := written(v, 3, false)
	if t, err := ReadNumber(s); err == nil && t.Two {
		s += "0"
	}
	return s
}

func written(v float64, decimals int, thousands bool) string {
	scale := math.Pow10(decimals)
	if r := math.Round(v * scale); math.Abs(r) < 1<<53 {
		v = r / scale
	}
	if v == 0 {
		return "0" // never -0
	}
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if !thousands {
		return s
	}
	return inGroups(s)
}

// inGroups sets the thousands of a number in digits apart.
func inGroups(s string) string {
	whole, rest, _ := strings.Cut(s, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + " " + whole[i:]
	}
	if rest != "" {
		whole += "." + rest
	}
	return sign + whole
}
