package model

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// maxName is how many characters a machine's name may have.
const maxName = 40

// maxChangesPerHour is the most filament changes, or print starts, an hour can hold (from memory: a
// change with its purge takes a minute or more).
const maxChangesPerHour = 60

// Slack of a comparison: counters are read in whole units, and clocks differ.
const (
	readingSlack = 1.0
	clockSlack   = 2 * time.Minute
)

// ErrBelowLast is in the chain of the error for a value below one before it: it can be true as a
// correction, or of a new counter.
var ErrBelowLast = errors.New("below the last value")

// The mistakes that the lists of the program help with; which list, and how it is had, each front
// end says.
var (
	// a machine is named on a bench that has none
	ErrNoMachineYet     = errors.New("there is none yet")
	ErrUnknownFeature   = errors.New("it is none of the features") // and near to none
	ErrUnknownProcedure = errors.New("there is no such procedure") // by its id
	// which a begun session walks
	ErrNoText = errors.New("the text of a procedure is no more")
)

// belowLast is the sentence of such an error.
type belowLast string

func (e belowLast) Error() string        { return string(e) }
func (e belowLast) Is(target error) bool { return target == ErrBelowLast }

// A reading that is refused because of others on record may be true all the same. SayTrue is how a
// person says so; the two sentences are what is said once it is written.
const (
	SayTrue      = "c if it is right and earlier ones were wrong, n for a new counter"
	SavedCorrect = "Saved as a correction: earlier readings above it no longer count."
	SavedNew     = "Saved as a new counter: it starts again at this value, and the use before stays counted."
)

// Flaggable tells that nothing but other readings can speak against one, so that it can be true as
// a correction or of a new counter.
func Flaggable(meter Meter, value float64, at, now time.Time) bool {
	return CheckReading(&Machine{}, meter, value, at, now) == nil
}

// CheckReading tells in one sentence why a typed reading cannot be right, given what the machine's
// meters said before and after; nil where it can. value is what the counter shows. Replaced
// counters and corrections are not checked with it: they are said to be so.
func CheckReading(m *Machine, meter Meter, value float64, at, now time.Time) error {
	switch {
	case meter == Cuts:
		return errors.New("cuts are changes plus starts: type changes and starts instead")
	case !meter.Typed():
		return fmt.Errorf("%q is no meter that can be typed: use one of %s", meter, meterNames())
	case !(value >= 0 && value <= maxReading):
		return fmt.Errorf("%s must be a number from 0 to a thousand million, not %v: read the counter again", meter, value)
	case (meter == Changes || meter == Starts) && value != math.Trunc(value):
		return fmt.Errorf("%s are counted, and %v is no whole number: type it without a point",
			meter, value)
	case at.After(now.Add(clockSlack)):
		return fmt.Errorf("%s lies in the future: give the date and time at which the counter was read", Stamp(at, now))
	}
	s := m.Readings[meter]
	if s == nil || s.N == 0 {
		return nil
	}
	if at.Before(s.Last.At) && s.Offset != 0 {
		return nil // read before the counter was replaced, or after: the reading does not tell
	}
	before, after := s.around(at)
	shown := value + s.Offset
	if before != nil && shown < before.Value && m.Reckoned(meter) && before.At.Equal(s.Last.At) {
		return belowLast(fmt.Sprintf("%s %s is below %s, to which the print recorded on %s brought it; it may have used less, or been counted twice: read it again, say that it is a correction, or strike the print",
			meter, Figure(value), Figure(before.Value-s.Offset), Stamp(before.At, now)))
	}
	if before != nil && shown < before.Value {
		return belowLast(fmt.Sprintf("%s %s is below the last reading, %s on %s: read it again, or say that it is a correction or a new counter",
			meter, Figure(value), Figure(before.Value-s.Offset), Stamp(before.At, now)))
	}
	if after != nil && shown > after.Value {
		return fmt.Errorf(
			"%s %s is above the later reading, %s on %s: read it again, or correct that one",
			meter, Figure(value), Figure(after.Value-s.Offset), Stamp(after.At, now))
	}
	if before == nil {
		return nil
	}
	return checkPace(meter, value, shown-before.Value, *before, at, now)
}

// checkPace refuses growth that no machine has.
func checkPace(meter Meter, value, grown float64, before Point, at, now time.Time) error {
	passed := at.Sub(before.At).Hours()
	switch meter {
	case Changes, Starts:
		if grown > maxChangesPerHour*passed+readingSlack {
			return fmt.Errorf("%s %s would be %s more than on %s, over %d an hour: read it again, or correct the earlier one",
				meter, Figure(value), Figure(grown), Stamp(before.At, now), maxChangesPerHour)
		}
	default:
		if grown > passed+readingSlack {
			return fmt.Errorf("%s %s would be %s more than on %s, over 24 hours a day: read it again, or correct the earlier one",
				meter, Figure(value), Figure(grown), Stamp(before.At, now))
		}
	}
	return nil
}

// around gives the kept readings on both sides of a time, the earlier one also where it is the
// same.
func (s *Series) around(t time.Time) (before, after *Point) {
	all := append([]Point{s.First}, s.Days...)
	for _, p := range append(all, s.Last) {
		switch {
		case !p.At.After(t):
			if before == nil || !p.At.Before(before.At) {
				before = &p
			}
		case after == nil || p.At.Before(after.At):
			after = &p
		}
	}
	return before, after
}

func meterNames() string {
	names := make([]string, len(TypedMeters))
	for i, m := range TypedMeters {
		names[i] = string(m)
	}
	return strings.Join(names, ", ")
}

// CheckName tells in one sentence why a machine cannot have this name; nil where it can. exceptID
// is the machine that is being renamed, "" for a new one. Names differ by more than capitals, and a
// retired machine keeps its name.
func CheckName(b *Bench, name, exceptID string) error {
	switch {
	case strings.TrimSpace(name) == "":
		return errors.New("the machine needs a name: give one of 1 to 40 characters")
	case !utf8.ValidString(name) || strings.ContainsFunc(name, unprintable):
		return fmt.Errorf("the name %q holds characters that cannot be shown: use letters, digits and spaces", name)
	case name != strings.TrimSpace(name):
		return fmt.Errorf("the name %q begins or ends with a space: leave it out", name)
	case strings.HasPrefix(name, "-"):
		return fmt.Errorf("the name %q begins with a dash and would be read as an option: begin with a letter or digit", name)
	case utf8.RuneCountInString(name) > maxName:
		return fmt.Errorf("the name has %d characters: at most %d fit",
			utf8.RuneCountInString(name), maxName)
	}
	for id, m := range b.Machines {
		if id != exceptID && strings.EqualFold(m.Name, name) {
			if m.Retired {
				return fmt.Errorf("a retired machine is already called %q: choose another name",
					m.Name)
			}
			return fmt.Errorf("a machine is already called %q: choose another name", m.Name)
		}
	}
	return nil
}

// Showable tells whether a text holds nothing but characters that can be shown: no controls, no
// half of a broken encoding. Texts that people type, and texts that are restored, must be so.
func Showable(s string) bool {
	return utf8.ValidString(s) && !strings.ContainsFunc(s, unicode.IsControl)
}

// unprintable are characters that could change what stands beside them on a screen.
func unprintable(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == '\u2028' || r == '\u2029'
}

// FindMachine finds a machine by its whole name, the unambiguous beginning of its name (capitals do
// not matter; retired machines only where no other fits), or its id. The error lists what may be
// meant.
func FindMachine(b *Bench, prefix string) (*Machine, error) {
	word := strings.ToLower(strings.TrimSpace(prefix))
	var active, retired []*Machine
	for id, m := range b.Machines {
		name := strings.ToLower(m.Name)
		switch {
		case strings.EqualFold(id, word) || name == word:
			return m, nil
		case word == "" || !strings.HasPrefix(name, word):
		case m.Retired:
			retired = append(retired, m)
		default:
			active = append(active, m)
		}
	}
	found := active
	if len(found) == 0 {
		found = retired
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		if all := known(b); len(all) > 0 {
			return nil, fmt.Errorf("no machine is called %q: there are %s", prefix,
				strings.Join(all, ", "))
		}
		return nil, fmt.Errorf("no machine is called %q: %w", prefix, ErrNoMachineYet)
	}
	return nil, fmt.Errorf("%q may be %s: type more of the name", prefix,
		strings.Join(names(found), ", "))
}

// known names the machines in use.
func known(b *Bench) []string {
	var ms []*Machine
	for _, m := range b.Machines {
		if !m.Retired {
			ms = append(ms, m)
		}
	}
	return names(ms)
}

func names(ms []*Machine) []string {
	out := make([]string, len(ms))
	for i, m := range ms {
		out[i] = m.Name
	}
	slices.Sort(out)
	return out
}
