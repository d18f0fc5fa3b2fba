package screen

import (
	"errors"
	"unicode"
	"unicode/utf8"

	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// ErrNoTerminal is returned by Run where there is no terminal to draw on, or a dumb one.
var ErrNoTerminal = errors.New("no terminal to draw on: use the commands, or run it in a terminal")

// ErrDemo is returned by Run where a person on an empty bench asked to look around in the demo
// first.
var ErrDemo = errors.New("the demo was asked for")

// Sentence turns an error into one sentence for a person, safe to draw: what is wrong, and what to
// do.
func Sentence(err error) string {
	if err == nil {
		return ""
	}
	s := theme.Safe(action.Advised(err))
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return "Something went wrong and left no words; try again."
	}
	s = string(unicode.ToUpper(r)) + s[n:]
	if last, _ := utf8.DecodeLastRuneInString(s); !unicode.IsPunct(last) {
		s += "."
	}
	return s
}
