package job

import (
	"errors"
	"fmt"
	"strconv"
)

// ErrEmpty is under the fault of a file with nothing in it.
var ErrEmpty = errors.New("there is nothing in it")

// Fault is why a print file could not be read to its end.
type Fault struct {
	Member string // of the container; empty where the file stands on its own
	Line   int64  // from 1; 0 where it has no line
	Reason string
	Err    error // of the reader below, if it was one
}

// Error is one sentence with member and line in front. Names are quoted: they come from the file.
func (f *Fault) Error() string {
	where := ""
	if f.Member != "" {
		where = strconv.QuoteToASCII(f.Member) + ", "
	}
	if f.Line > 0 {
		return fmt.Sprintf("%sline %d: %s", where, f.Line, f.Reason)
	}
	if where != "" {
		where = where[:len(where)-2] + ": "
	}
	return where + f.Reason
}

// Unwrap gives what the reader below said.
func (f *Fault) Unwrap() error { return f.Err }
