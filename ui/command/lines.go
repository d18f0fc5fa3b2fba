package command

import (
	"bufio"
	"io"
	"strings"
	"time"
)

// lines reads answers one a line, and can look at the next without taking it, so that a wait can be
// cut by a line that comes while it runs.
type lines struct {
	ch   chan string
	held *string
	done bool
}

// maxLine is the longest answer taken, in bytes; the rest of a longer line is cut off.
const maxLine = 4096

func newLines(r io.Reader) *lines {
	l := &lines{ch: make(chan string)}
	go func() {
		defer close(l.ch)
		br := bufio.NewReaderSize(r, maxLine)
		for {
			s, err := readLine(br)
			if err != nil && s == "" {
				return
			}
			l.ch <- s
		}
	}()
	return l
}

func readLine(br *bufio.Reader) (string, error) {
	b, more, err := br.ReadLine()
	s := string(b)
	for more && err == nil {
		_, more, err = br.ReadLine()
	}
	if err != nil {
		return s, err
	}
	if s = strings.TrimSpace(s); s == "" {
		s = " " // an empty line is an answer too; only the end of input is none
	}
	return s, nil
}

// next takes the next line; ok is false at the end of input.
func (l *lines) next() (string, bool) {
	if l.held != nil {
		s := *l.held
		l.held = nil
		return strings.TrimSpace(s), true
	}
	s, ok := <-l.ch
	l.done = l.done || !ok
	return strings.TrimSpace(s), ok
}

// peek looks at the next line, waiting at most d for it; ok is false where none came.
func (l *lines) peek(d time.Duration) (string, bool) {
	if l.held == nil && !l.done {
		t := time.NewTimer(d)
		defer t.Stop()
		select {
		case s, ok := <-l.ch:
			if !ok {
				l.done = true
				return "", false
			}
			l.held = &s
		case <-t.C:
			return "", false
		}
	}
	if l.held == nil {
		return "", false
	}
	return strings.TrimSpace(*l.held), true
}
