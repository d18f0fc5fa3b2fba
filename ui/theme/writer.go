package theme

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Painted is text with the codes of a theme in it: what a Writer says of it is not made safe once
// more. What is painted must have been safe before.
type Painted string

// On paints a text that was stored, typed or imported: it is made safe first.
func (p Paint) On(s string) Painted { return Painted(p.Text(Safe(s))) }

// Visible is a text of several rows as a terminal may be given it: line breaks, tabs and the codes
// this theme paints with are kept, and every other byte a terminal would obey or hide is drawn as
// by Safe. It is the last look at what is written; widths are right where Safe was used before.
func (t *Theme) Visible(s string) string {
	var b strings.Builder
	kept := 0 // s[:kept] is in b
	for i := 0; i < len(s); {
		if c := s[i]; c >= ' ' && c <= '~' || c == '\n' || c == '\t' {
			i++
			continue
		}
		if n := t.code(s[i:]); n > 0 {
			i += n
			continue
		}
		r, size := utf8.DecodeRuneInString(s[i:])
		if drawn := drawnRune(r, size); drawn != r || size == 1 {
			b.WriteString(s[kept:i])
			if drawn >= 0 {
				b.WriteRune(drawn)
			}
			kept = i + size
		}
		i += size
	}
	if kept == 0 {
		return s
	}
	b.WriteString(s[kept:])
	return b.String()
}

// drawnRune is safeRune, quick for the lines, blocks and signs our own drawings are made of.
func drawnRune(r rune, size int) rune {
	if r >= 0x2190 && r < 0x2c00 {
		return r
	}
	return safeRune(r, size)
}

// code is how many bytes at the beginning of a text are a code of this theme, 0 for none.
func (t *Theme) code(s string) int {
	if t == nil || s[0] != '\x1b' {
		return 0
	}
	for _, c := range t.codes {
		if strings.HasPrefix(s, c) {
			return len(c)
		}
	}
	return 0
}

// paintCodes lists the codes of all paints of a theme, each once.
func (t *Theme) paintCodes() []string {
	out := []string{reset}
	for _, p := range []Paint{t.Text.Strong, t.Text.Dim, t.Text.Accent, t.Text.Chosen, t.State.Due,
		t.State.Past, t.State.Good,
		t.Signal.Danger, t.Signal.Warning, t.Signal.Caution, t.Signal.Notice} {
		if p.on != "" {
			out = append(out, p.on)
		}
	}
	return out
}

// Writer is the one way out of the program for text: to a terminal, a pipe or a file that output
// was sent to. Nothing stored, typed or imported reaches a terminal by it as a command: see
// Visible.
type Writer struct {
	to    io.Writer
	theme *Theme // nil: nothing is painted
	part  []byte // the beginning of a character whose rest is still to be written
}

// NewWriter makes a writer that paints nothing.
func NewWriter(to io.Writer) *Writer { return &Writer{to: to} }

// Paints says which theme's codes are let through, and whether only ASCII may be said.
func (w *Writer) Paints(t *Theme) { w.theme = t }

// Write writes text of any kind, such as a page of help.
func (w *Writer) Write(p []byte) (int, error) {
	all := append(w.part, p...)
	whole := len(all) - unfinished(all)
	w.part = bytes.Clone(all[whole:])
	if _, err := io.WriteString(w.to, w.theme.Visible(string(all[:whole]))); err != nil {
		return 0, err
	}
	return len(p), nil
}

// unfinished is how many bytes at the end are the beginning of a character.
func unfinished(p []byte) int {
	for n := 1; n < utf8.UTFMax && n <= len(p); n++ {
		if c := p[len(p)-n]; utf8.RuneStart(c) {
			if c >= utf8.RuneSelf && !utf8.FullRune(p[len(p)-n:]) {
				return n
			}
			return 0
		}
	}
	return 0
}

// Say writes a row. Every text among the arguments is made safe but Painted ones. What cannot be
// written is the business of the writer beneath.
func (w *Writer) Say(format string, args ...any) {
	_, _ = io.WriteString(w, strings.TrimRight(w.plain(format, args), " ")+"\n")
}

// Ask writes a question, and leaves the cursor behind it.
func (w *Writer) Ask(question string) { _, _ = io.WriteString(w, w.plain("%s ", []any{question})) }

// Over writes over the row the cursor is in, of which at most cells were written; the cursor stays
// in it.
func (w *Writer) Over(cells int, format string, args ...any) {
	text := w.theme.Visible(w.plain(format, args))
	_, _ = io.WriteString(w.to, "\r"+text+spaces(cells-Width(text))+"\r"+text)
}

// Ring rings the bell of a terminal, the only control sign a text may not carry.
func (w *Writer) Ring() { _, _ = io.WriteString(w.to, "\a") }

func (w *Writer) plain(format string, args []any) string {
	s := fmt.Sprintf(format, safeArgs(args)...)
	if w.theme == nil {
		return s
	}
	return w.theme.Plain(s)
}

// longest is how many runes of one text a row may have: a path is never cut.
const longest = 4096

// safeArgs makes every text among arguments safe.
func safeArgs(args []any) []any {
	out := make([]any, len(args))
	for i, a := range args {
		switch x := a.(type) {
		case Painted:
			out[i] = string(x)
		case error:
			out[i] = safe(x.Error(), longest)
		case fmt.Stringer:
			out[i] = safe(x.String(), longest)
		default:
			out[i] = a
			if v := reflect.ValueOf(a); v.Kind() == reflect.String {
				out[i] = safe(v.String(), longest)
			}
		}
	}
	return out
}

// JSON writes a value for programs, in rows with an indent, or in one row without. Nothing of it is
// lost: what a terminal would obey or not show stands as \u and its number.
func (w *Writer) JSON(v any, indent string) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", indent)
	if err := e.Encode(v); err != nil {
		return err
	}
	_, err := io.WriteString(w, escaped(b.String()))
	return err
}

// Rows writes a format whose rows end with CR LF, as CSV (RFC 4180) and iCalendar (RFC 5545) do.
// What it says must have been safe before; what a terminal would obey is drawn as by Visible.
func (w *Writer) Rows(text string) error {
	for row := range strings.SplitSeq(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		if _, err := io.WriteString(w.to, w.theme.Visible(row)+"\r\n"); err != nil {
			return err
		}
	}
	return nil
}

// escaped writes what cannot be shown, which stands inside strings only, by its number.
func escaped(s string) string {
	var b strings.Builder
	kept := 0
	for i, r := range s {
		if r >= ' ' && r <= '~' || r == '\n' || drawnRune(r, utf8.RuneLen(r)) == r {
			continue
		}
		b.WriteString(s[kept:i])
		if hi, lo := utf16.EncodeRune(r); hi != utf8.RuneError {
			b.WriteString(fmt.Sprintf(`\u%04x\u%04x`, hi, lo))
		} else {
			b.WriteString(fmt.Sprintf(`\u%04x`, r))
		}
		kept = i + utf8.RuneLen(r)
	}
	if kept == 0 {
		return s
	}
	b.WriteString(s[kept:])
	return b.String()
}
