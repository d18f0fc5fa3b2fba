package command

import (
	"errors"
	"io"
	"syscall"

	"bench/oilcan/ui/theme"
)

// output is standard output. Once it cannot be written, on a full disk say, what was to be said
// goes to standard error, so that a person learns what was done.
type output struct {
	io.Writer
	instead *theme.Writer // standard error
	err     error
	left    int // bytes still said instead
}

// saidInstead is how much at most is said on standard error instead, in bytes: a sentence or a
// report, and no book of years.
const saidInstead = 4 << 10

func (o *output) Write(p []byte) (int, error) {
	whole := len(p)
	if o.err == nil {
		n, err := o.Writer.Write(p)
		if err == nil || errors.Is(err, syscall.EPIPE) {
			return n, err
		}
		o.err, o.left = err, saidInstead
		o.instead.Say("oilcan: the output cannot be written (%s), so it follows here; what it says was done is done", reason(err))
		p = p[n:]
	}
	some := p[:min(len(p), o.left)]
	o.left -= len(some)
	_, _ = o.instead.Write(some)
	return whole, nil
}

// code is the exit code of a run, given what the command itself ended with.
func (o *output) code(code int) int {
	if o.err != nil && code != Misuse {
		return Unusable
	}
	return code
}
