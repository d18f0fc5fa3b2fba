package screen

import (
	"testing"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"

	"bench/oilcan/ui/theme"
)

// editing are keys that edit, by name.
var editing = map[string]tea.KeyMsg{
	"left": {Type: tea.KeyLeft}, "right": {Type: tea.KeyRight}, "home": {Type: tea.KeyHome},
	"end": {Type: tea.KeyEnd}, "del": {Type: tea.KeyDelete},
	"ctrl+left": {Type: tea.KeyCtrlLeft}, "ctrl+right": {Type: tea.KeyCtrlRight},
	"back":     {Type: tea.KeyBackspace},
	"alt+b":    {Type: tea.KeyRunes, Runes: []rune("b"), Alt: true},
	"alt+f":    {Type: tea.KeyRunes, Runes: []rune("f"), Alt: true},
	"alt+d":    {Type: tea.KeyRunes, Runes: []rune("d"), Alt: true},
	"alt+back": {Type: tea.KeyBackspace, Alt: true},
	"ctrl+w":   {Type: tea.KeyCtrlW}, "ctrl+u": {Type: tea.KeyCtrlU},
	"ctrl+k": {Type: tea.KeyCtrlK},
}

// none are keys that belong to a screen or to nobody.
var none = []tea.KeyMsg{{Type: tea.KeyCtrlV}, {Type: tea.KeyCtrlA}, {Type: tea.KeyTab},
	{Type: tea.KeyEnter}, {Type: tea.KeyUp}, {Type: tea.KeyF1},
	{Type: tea.KeyRunes, Runes: []rune("x"), Alt: true}}

func TestFieldEdits(t *testing.T) {
	for _, c := range []struct {
		name string
		keys []string
		want string
	}{
		{"typed", []string{"one two"}, "one two_"},
		{"in the middle", []string{"one", "left", "left", "x"}, "ox_ne"},
		{"a word back and forward", []string{"one two", "ctrl+left", "ctrl+left", "ctrl+right",
			"x"}, "onex_ two"},
		{"ends of the line", []string{"one", "home", "a", "end", "b"}, "aoneb_"},
		{"a letter on either side", []string{"abcd", "left", "left", "back", "del"}, "a_d"},
		{"a word before", []string{"one two three", "ctrl+w"}, "one two _"},
		{"a word before, in the middle", []string{"one two three", "alt+b", "alt+back"},
			"one _three"},
		{"a word behind", []string{"one two", "home", "alt+d"}, "_ two"},
		{"the last letter as a word", []string{"one", "left", "alt+d"}, "on_"},
		{"a word behind the end", []string{"one", "alt+d"}, "one_"},
		{"to the end", []string{"one two", "alt+b", "ctrl+k"}, "one _"},
		{"to the beginning", []string{"one two", "alt+b", "ctrl+u"}, "_two"},
		{"at the ends nothing more", []string{"a", "right", "right", "left", "left", "left", "back",
			"b"}, "b_a"},
		{"wide letters", []string{"日本鷺", "left", "x"}, "日本x_鷺"},
		{"a burst that spells a key", []string{"lefty", "ends"}, "leftyends_"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var f Field
			for _, k := range c.keys {
				msg, ok := editing[k]
				if !ok {
					msg = runes(k)
				}
				if !f.Press(msg) {
					t.Errorf("%s does nothing", k)
				}
			}
			if got := f.Drawn(0); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
	f := Field{Text: "one"}
	for _, k := range []string{"left", "home", "end", "esc", "enter", "tab"} {
		f.Press(runes(k))
	}
	if f.Text != "onelefthomeendescentertab" {
		t.Errorf("what spells a key is %q", f.Text)
	}
}

// What is typed behind a refusal takes the place of what was refused; a key that edits mends it.
func TestARefusedTextIsTypedOver(t *testing.T) {
	for _, c := range []struct {
		name string
		keys []string
		want string
	}{
		{"a letter", []string{"h", "7"}, "h7_"},
		{"a burst", []string{"h7"}, "h7_"},
		{"the last letter taken off", []string{"back", "x"}, "unpluggex_"},
		{"the cursor moved", []string{"home", "x"}, "x_unplugged"},
		{"the cursor at the end already", []string{"end", "x"}, "unpluggedx_"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := Field{Text: "unplugged"}
			f.Refused()
			for _, k := range c.keys {
				msg, ok := editing[k]
				if !ok {
					msg = runes(k)
				}
				f.Press(msg)
			}
			if got := f.Drawn(0); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
	var f Field
	f.Refused()
	f.Press(runes("o"))
	f.Press(runes("n"))
	if f.Text != "on" {
		t.Errorf("an empty field that was refused takes %q", f.Text)
	}
}

// Whatever is pressed, the text is safe and no longer than a field takes, and it is drawn within
// every width with its cursor.
func TestFieldHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var f Field
		for range rapid.IntRange(0, 60).Draw(t, "keys") {
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				name := rapid.SampledFrom([]string{"left", "right", "home", "end", "del",
					"ctrl+left", "ctrl+right", "back", "alt+b", "alt+f", "alt+d", "alt+back", "ctrl+w", "ctrl+u", "ctrl+k"}).Draw(t, "edit")
				f.Press(editing[name])
			case 1:
				was := f
				if f.Press(rapid.SampledFrom(none).Draw(t, "none")) || f != was {
					t.Fatal("a key of nobody edits")
				}
			default:
				f.Press(tea.KeyMsg{Type: tea.KeyRunes,
					Runes: []rune(theme.Safe(rapid.StringN(1, 60, -1).Draw(t, "text")))})
			}
			if f.Text != theme.Safe(f.Text) || utf8.RuneCountInString(f.Text) > maxField {
				t.Fatalf("%q", f.Text)
			}
			if w := rapid.IntRange(1, 90).Draw(t, "wide"); theme.Width(f.Drawn(w)) > w {
				t.Fatalf("%q is wider than %d", f.Drawn(w), w)
			}
		}
	})
}

// A name is suggested once what is typed begins like one, and tab types it on; the engine's faults
// with no suggestion stay out of it.
func TestAFieldSuggestsNames(t *testing.T) {
	names := []string{"Heron", "Heron two", "Teal", "Curlew\x1b[31m"}
	th := theme.New(theme.Options{})
	for _, c := range []struct{ typed, drawn, after string }{
		{"", "_", ""}, {"te", "te_   tab Teal", "teal"},
		{"Heron", "Heron_   tab Heron two", "Heron two"},
		{"heron t", "heron t_   tab Heron two", "heron two"},
		{"Teal", "Teal_", "Teal"}, {"x", "x_", "x"}, {"Cur", "Cur_   tab Curlew?[31m", ""},
	} {
		f := Field{Text: c.typed}
		if got := f.DrawnAmong(th, 40, names); got != c.drawn && c.after != "" {
			t.Errorf("%q is drawn %q", c.typed, got)
		}
		f.PressAmong(tea.KeyMsg{Type: tea.KeyTab}, names)
		if c.after != "" && f.Text != c.after {
			t.Errorf("%q and tab: %q, want %q", c.typed, f.Text, c.after)
		}
		if f.Text != theme.Safe(f.Text) {
			t.Errorf("%q and tab: %q", c.typed, f.Text)
		}
		if w := theme.Width(f.DrawnAmong(th, 12, names)); w > 12 {
			t.Errorf("%q in 12 cells takes %d", c.typed, w)
		}
	}
}

// A figure typed where one is known takes its place; where somebody goes into it to mend it, or a
// name stands there, it is typed on.
func TestAKnownFigureIsTypedOver(t *testing.T) {
	letter := func(r rune) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}} }
	for _, c := range []struct {
		known string
		keys  []tea.KeyMsg
		want  string
	}{
		{"216", []tea.KeyMsg{letter('1'), letter('5')}, "15"},
		{"2026-11-20", []tea.KeyMsg{letter('2')}, "2"},
		{"216", []tea.KeyMsg{{Type: tea.KeyLeft}, letter('1')}, "2116"},
		{"216", []tea.KeyMsg{{Type: tea.KeyBackspace}, letter('7')}, "217"},
		{"Heron", []tea.KeyMsg{letter('2')}, "Heron2"},
		{"216", []tea.KeyMsg{letter(' ')}, "216 "},
	} {
		f := Known(c.known)
		for _, k := range c.keys {
			f.Press(k)
		}
		if f.Text != c.want {
			t.Errorf("%q became %q, want %q", c.known, f.Text, c.want)
		}
	}
}
