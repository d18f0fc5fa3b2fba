package theme

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"unicode"
)

// hostile is what nobody's terminal may be given: the clipboard (OSC 52), a colour, a C1
// introducer, marks that turn the direction, have no width, or cannot be seen.
const hostile = "\x1b]52;c;QUJD\x07\x1b[35;5mred\u009b31m\u0085\u202eabc\u2066\u200b\u200d\ufeff\u061c\u00ad\x7f\r\b"

// obeyed is the first rune of a text that a terminal would obey or hide, 0 for none.
func obeyed(s string) rune {
	for _, r := range s {
		if r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == 0x2028 ||
			r == 0x2029 {
			return r
		}
	}
	return 0
}

func TestWriterLetsNothingThroughThatATerminalObeys(t *testing.T) {
	type word string
	var out bytes.Buffer
	w := NewWriter(&out)
	w.Say("%s %s %s %d%s", hostile, errors.New(hostile), word(hostile), 3, Painted(hostile))
	w.Ask(hostile)
	if _, err := w.Write([]byte(hostile)); err != nil {
		t.Fatal(err)
	}
	for _, b := range []byte(hostile) { // byte by byte
		if _, err := w.Write([]byte{b}); err != nil {
			t.Fatal(err)
		}
	}
	if r := obeyed(out.String()); r != 0 {
		t.Errorf("%U reaches the terminal: %q", r, out.String())
	}
	var over bytes.Buffer
	NewWriter(&over).Over(0, "%s %s", hostile, Painted(hostile))
	if r := obeyed(strings.ReplaceAll(over.String(), "\r", "")); r != 0 ||
		strings.Count(over.String(), "\r") != 2 {
		t.Errorf("%U reaches the terminal, or it goes back more than twice: %q", r, over.String())
	}
	if !strings.Contains(out.String(), "␛]52;c;QUJD␇␛[35;5mred") {
		t.Errorf("what was there cannot be seen: %q", out.String())
	}
}

// Only the theme's own codes paint; one that was stored does not, also where it is one of the
// theme's.
func TestWriterPaintsByItsThemeOnly(t *testing.T) {
	th := New(Options{Dark: true, Profile: ANSI256})
	var out bytes.Buffer
	w := NewWriter(&out)
	w.Paints(th)
	strong, _, _ := strings.Cut(th.Text.Strong.Text("|"), "|")
	w.Say("%s %s %s", th.Text.Strong.On("Heron"), strong+"Teal", th.Text.Dim.On(hostile))
	got := out.String()
	if !strings.HasPrefix(got, strong+"Heron"+reset+" ␛") || strings.Count(got, strong) != 1 {
		t.Errorf("%q", got)
	}
	if r := obeyed(strings.NewReplacer(reset, "", strong, "", th.Text.Dim.on, "").Replace(
		got)); r != 0 {
		t.Errorf("%U reaches the terminal: %q", r, got)
	}
}

func TestWriterKeepsWholeCharacters(t *testing.T) {
	var out bytes.Buffer
	w := NewWriter(&out)
	text := "Zug 3–5 mm, 日本 👍\n\tnext\n"
	for _, b := range []byte(text) {
		if _, err := w.Write([]byte{b}); err != nil {
			t.Fatal(err)
		}
	}
	if out.String() != text {
		t.Errorf("%q", out.String())
	}
}

// JSON loses nothing and shows nothing a terminal would obey (RFC 8259, 7: any character may be
// escaped).
func TestJSONEscapes(t *testing.T) {
	var out bytes.Buffer
	in := map[string]string{"text": hostile + "日本 – \U000e0061\U0001f1e9", hostile: "key"}
	if err := NewWriter(&out).JSON(in, "  "); err != nil {
		t.Fatal(err)
	}
	if r := obeyed(out.String()); r != 0 {
		t.Errorf("%U reaches the terminal: %q", r, out.String())
	}
	var back map[string]string
	if err := json.Unmarshal(out.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if back["text"] != in["text"] || back[hostile] != "key" {
		t.Errorf("%q", back)
	}
	if !strings.Contains(out.String(), `\u009b`) || !strings.Contains(out.String(), `\u202e`) ||
		!strings.Contains(out.String(), "日本 –") {
		t.Errorf("%s", out.String())
	}
}

func BenchmarkVisibleFrame(b *testing.B) {
	th := New(Options{Dark: true, Profile: ANSI256})
	line := th.Text.Strong.Text("Heron") + strings.Repeat(" ", 60) + strings.Repeat("▏┃", 20) +
		strings.Repeat("word ", 18) + "\n"
	frame := strings.Repeat(line, 60)
	b.ReportAllocs()
	for b.Loop() {
		th.Visible(frame)
	}
}
