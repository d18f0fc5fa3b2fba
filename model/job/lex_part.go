package job

import (
	"bytes"
	"fmt"
	"strconv"
)

// maxName is the longest name of something unknown that is kept; the rest is cut.
const maxName = 40

// bareName is the length of a command written as a name (two letters or more, digits and
// underscores, or one of the marks _ @ $ and a name), 0 where b begins otherwise.
func bareName(b []byte) int {
	if len(b) < 2 || !(isLetter(b[1]) || b[1] == '_') {
		return 0
	}
	switch c := b[0]; {
	case c == '_' || c == '@' || c == '$':
	case !isLetter(c):
		return 0
	}
	n := 1
	for n < len(b) && (isLetter(b[n]) || b[n] == '_' || b[n] >= '0' && b[n] <= '9') {
		n++
	}
	return n
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

func skipDigits(b []byte, i int) int {
	for i < len(b) && b[i] >= '0' && b[i] <= '9' {
		i++
	}
	return i
}

// closing is where the comment in parentheses that opens at i is over, 0 where it does not end or
// holds another opening one: NISTIR 6556 allows no nesting.
func closing(b []byte, i int) int {
	n := bytes.IndexAny(b[i+1:], "()")
	if n < 0 || b[i+1+n] == '(' {
		return 0
	}
	return i + n + 2
}

// tenPower tells whether the letter at i is the e of a number like 1e400: small, between digits,
// after a word with a large letter. A line all in small letters may well mean the word E.
func tenPower(b []byte, i int) bool {
	if b[i] != 'e' || i == 0 || i+1 == len(b) {
		return false
	}
	if c := b[i-1]; c != '.' && (c < '0' || c > '9') {
		return false
	}
	j := i - 1
	for j > 0 && !isLetter(b[j]) {
		j--
	}
	return b[j] >= 'A' && b[j] <= 'Z'
}

// notFinite tells whether b begins with what programs write for a number that is none.
func notFinite(b []byte) bool {
	b = bytes.TrimLeft(b, " \t+-")
	return len(b) >= 3 && (bytes.EqualFold(b[:3], []byte("nan")) ||
		bytes.EqualFold(b[:3], []byte("inf")))
}

// unknown counts a thing not known, by name in capital letters.
func (l *lexer) unknown(name []byte, at int) {
	name = name[:min(len(name), maxName)]
	l.recs = append(l.recs, rec{op: opName, line: uint32(at), at: uint16(len(name)),
		v: [5]int64{int64(len(l.names))}})
	l.names = append(l.names, bytes.ToUpper(name)...)
}

// badness is what becomes of a line that is not as it should be.
type badness int64

const (
	skipped badness = iota // not carried out: a printer passes it over as well
	read                   // carried out all the same
	fatal                  // it and all behind it are not read
)

// bad says of a line what is wrong with it. The reasons of all but the first few are not kept, but
// for that at which reading ends.
func (l *lexer) bad(at int, v badness, reason string) {
	l.recs = append(l.recs, rec{op: opBad, line: uint32(at), v: [5]int64{int64(v), int64(len(l.reasons))}})
	if len(l.reasons) < maxWarnings || v == fatal {
		l.reasons = append(l.reasons, reason)
	}
}

// fault skips a line.
func (l *lexer) fault(at int, reason string) bool {
	l.bad(at, skipped, reason)
	return false
}

// noWord is the fault of a line that goes on with no letter.
func (l *lexer) noWord(c byte, at int) bool {
	switch {
	case c == 0:
		l.bad(at, fatal, "the byte 0x00 "+notText)
		l.ended = true
		return false
	case c < ' ' || c >= 0x7f:
		return l.fault(at, fmt.Sprintf("the byte %#02x %s", c, notText))
	case c == '#' || c == '[' || c == '{':
		return l.fault(at, fmt.Sprintf("%q begins an expression; only plain numbers are read", c))
	}
	return l.fault(at, fmt.Sprintf("%q begins no word of G-code", c))
}

// rest looks over what belongs to a command with a text or words of its own: only that it is text,
// and, on a numbered line, that its checksum is right.
func (l *lexer) rest(b []byte, i int, numbered bool, at int) bool {
	if n := bytes.IndexByte(b[i:], ';'); n >= 0 {
		b = b[:i+n]
	}
	for _, c := range b[i:] {
		if c < ' ' && c != '\t' || c == 0x7f {
			return l.noWord(c, at)
		}
	}
	if star := bytes.LastIndexByte(b, '*'); numbered && star >= i {
		return l.checksum(b, star, at)
	}
	return true
}

// checksum verifies "*nn": nn is the exclusive or of all bytes of the line before the star, in
// decimal. Nothing but a comment may follow.
func (l *lexer) checksum(b []byte, star, at int) bool {
	end := skipDigits(b, star+1)
	given, err := strconv.Atoi(string(b[star+1 : min(end, star+8)]))
	after := skipSpace(b, end)
	if err != nil || after < len(b) && b[after] != ';' {
		return l.fault(at, "there is no checksum after *")
	}
	sum := byte(0)
	for _, c := range b[:star] {
		sum ^= c
	}
	if given != int(sum) {
		return l.fault(at, fmt.Sprintf(
			"the checksum is *%d and the line makes *%d: the line is damaged", given, sum))
	}
	l.checksums++
	return true
}

// decimal writes millionths as short as they can be.
func decimal(v int64) string {
	return strconv.FormatFloat(float64(v)/scale, 'f', -1, 64)
}
