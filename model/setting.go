package model

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// mostCounted is above the screws, slots, rods or plugs of any one machine; mostMeasured above any
// reading that is asked once.
const (
	mostCounted  = 99
	mostMeasured = 99999
)

// Heading is what a column of questions calls the setting: its title, else its name in words.
func (s Setting) Heading() string {
	if s.Title != "" {
		return s.Title
	}
	return strings.ReplaceAll(s.Name, "-", " ")
}

// Value gives what is kept of an answer to the setting: one of its options; a count, which is a
// whole number from 0 to 99; a measure, which is a number above 0 in the setting's unit; or any
// text. Numbers are kept as Digits writes them. The error says in a sentence why the text is no
// answer.
func (s Setting) Value(text string) (string, error) {
	switch {
	case len(s.Options) > 0:
		if !slices.Contains(s.Options, text) {
			return "", fmt.Errorf("answer one of %s", strings.Join(s.Options, ", "))
		}
	case s.Number && s.Unit != "":
		v, err := ReadAmount(text, s.Unit, nil)
		switch {
		case err != nil:
			return "", err
		case !(v > 0 && v <= mostMeasured):
			return "", fmt.Errorf("type a number above 0, in %s", s.Unit)
		}
		return Digits(v), nil
	case s.Number:
		n, err := ReadCount(text, "", math.MaxInt32)
		switch {
		case err != nil:
			return "", errors.New("type a whole number")
		case n > mostCounted:
			return "", fmt.Errorf("%s is more than any machine has: type it again", text)
		}
		return strconv.Itoa(n), nil
	}
	return text, nil
}

// SettingNumber reads a number kept in a setting. What was kept before numbers were read in two
// ways has a decimal comma where it has one.
func SettingNumber(kept string) (float64, bool) {
	t, err := ReadNumber(kept)
	if t.Two {
		return t.Small, true
	}
	return t.Value, err == nil
}
