package model

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// mostCounted is above the screws, slots, rods or plugs of any one machine; mostMeasured above any reading
// that is asked once.
const (
	mostCounted  = 99
	mostMeasured = 99999
)

// Accept tells in a sentence why a text is no answer to the setting: one of its options; a count, which is
// a whole number from 0 to 99; a measure, which is a number above 0 in the setting's unit; or any text.
func (s Setting) Accept(text string) error {
	switch {
	case len(s.Options) > 0:
		if !slices.Contains(s.Options, text) {
			return fmt.Errorf("answer one of %s", strings.Join(s.Options, ", "))
		}
	case s.Number && s.Unit != "":
		v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		if err != nil || !(v > 0 && v <= mostMeasured) {
			return fmt.Errorf("type a number above 0, in %s, without the unit", s.Unit)
		}
	case s.Number:
		n, err := strconv.ParseUint(text, 10, 32)
		if err != nil {
			return errors.New("type a whole number")
		}
		if n > mostCounted {
			return fmt.Errorf("%s is more than any machine has: type it again", text)
		}
	}
	return nil
}
