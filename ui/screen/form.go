package screen

import (
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/theme"
)

// RowKind is how a row is answered.
type RowKind int

const (
	RowText RowKind = iota // typed
	RowOne                 // one of the options
	RowMany                // any of the options
	RowDo                  // enter does it: the last row, save
)

// Option is one answer that can be chosen.
type Option struct{ Is, Says string }

// Row is one question of a form.
type Row struct {
	Name  string // by which the form's owner knows it
	Ask   string
	Hint  string // in full, shown while the row is current
	Kind  RowKind
	Text  Field
	Opts  []Option
	One   int          // chosen option
	Many  map[int]bool // chosen options
	Empty string       // what an empty text stands for
	Bad   string       // why the answer cannot be
	Head  string       // a heading above the row
	When  func() bool  // asked only then; nil: always
	Held  string       // the answer the form began with
	Digit bool         // a figure: letters are not typed
}

// Value is the answer: the text, or the chosen option's word.
func (r *Row) Value() string {
	if r.Kind == RowOne {
		return r.Opts[r.One].Is
	}
	return strings.TrimSpace(r.Text.Text)
}

// Picked tells whether an option is chosen.
func (r *Row) Picked(i int) bool {
	return r.Kind == RowOne && r.One == i || r.Kind == RowMany && r.Many[i]
}

// Shown is the answer as a person reads it.
func (r *Row) Shown() string {
	switch r.Kind {
	case RowOne:
		return r.Opts[r.One].Says
	case RowMany:
		var on []string
		for i, o := range r.Opts {
			if r.Picked(i) {
				on = append(on, o.Says)
			}
		}
		if len(on) == 0 {
			return "none"
		}
		return strings.Join(on, ", ")
	case RowText:
		if r.Text.Text == "" {
			return r.Empty
		}
		return theme.Safe(r.Text.Text)
	}
	return ""
}

// unanswered tells that nothing is said yet.
func (r *Row) unanswered() bool {
	switch r.Kind {
	case RowText:
		return r.Text.Text == ""
	case RowOne:
		return r.Opts[r.One].Is == "" && r.One == len(r.Opts)-1
	case RowMany:
		for _, on := range r.Many {
			if on {
				return false
			}
		}
		return true
	}
	return false
}

// Form asks question after question on one page. Embed it; it has the keys, the drawing and the
// asking back before typed answers are left behind. What it is about is told by its words and
// hooks.
type Form struct {
	Rows    []*Row
	At      int  // current row among those asked
	Whole   bool // saved from its last row only, so that every row was passed
	Leaving bool // "leave without saving?"
	Saving  bool

	Verb   string            // what saving is called
	Check  func(*Row) string // why an answer cannot be, "" where it can; nil: every answer can
	Save   func() tea.Cmd    // saves; asked for by the person
	Leave  func() tea.Cmd    // closes the form
	Moved  func(*Row)        // a row was left; nil: what is said there is checked
	Edited func(*Row)        // an answer was changed; may be nil
}

// Row finds a row by name; nil where there is none.
func (f *Form) Row(name string) *Row {
	for _, r := range f.Rows {
		if r.Name == name {
			return r
		}
	}
	return nil
}

// Asked are the rows that apply now.
func (f *Form) Asked() []*Row {
	var out []*Row
	for _, r := range f.Rows {
		if r.When == nil || r.When() {
			out = append(out, r)
		}
	}
	return out
}

func (f *Form) Current() *Row {
	rows := f.Asked()
	if len(rows) == 0 {
		return &Row{Kind: RowDo} // the questions are not made yet
	}
	f.At = max(0, min(f.At, len(rows)-1))
	return rows[f.At]
}

// GoTo makes a row the current one.
func (f *Form) GoTo(name string) {
	for i, r := range f.Asked() {
		if r.Name == name {
			f.At = i
		}
	}
}

// Hold remembers the answers there are, so that only changes ask back.
func (f *Form) Hold() {
	for _, r := range f.Rows {
		r.Held, r.Text.stands = r.Shown(), r.Text.Text != ""
	}
}

// changed tells whether any answer is not the one it began with.
func (f *Form) changed() bool {
	for _, r := range f.Asked() {
		if r.Kind != RowDo && r.Shown() != r.Held {
			return true
		}
	}
	return false
}

// Typing tells that letters go into the current row.
func (f *Form) Typing() bool {
	return !f.Leaving && !f.Saving && f.Current().Kind == RowText
}

// inner tells that esc is the form's own: there is something to lose, or a question is open.
func (f *Form) inner() bool { return f.Leaving || f.changed() && !f.Saving }

// Keys are those that work in the form now.
func (f *Form) Keys() []Key {
	switch {
	case f.Saving || len(f.Rows) == 0:
		return nil
	case f.Leaving:
		return LeaveKeys(LeavesUnsaved, func(Press) tea.Cmd {
			f.Leaving = false
			return f.Leave()
		}, func() { f.Leaving = false })
	}
	r := f.Current()
	save := func(Press) tea.Cmd { return f.Save() }
	ks := []Key{f.chooseKey(r)}
	if r.Kind == RowDo {
		ks = append(ks, On("enter", f.Verb, "", save).Afresh())
	} else {
		ks = append(ks, On("enter", "next", "goes on to the next question", func(p Press) tea.Cmd {
			if !p.Held && !f.stays(r) {
				f.step(1)
			}
			return nil
		}))
	}
	return append(ks,
		On("up/down", "move", "goes to another question; tab and shift+tab too",
			func(p Press) tea.Cmd {
				f.step(map[string]int{"up": -1, "shift+tab": -1, "down": 1, "tab": 1}[p.Key()])
				return nil
			}, "up", "shift+tab", "down", "tab"),
		On("ctrl+s", f.Verb, f.Verb+", from anywhere", save).When(r.Kind != RowDo && !f.Whole),
		Shown("ctrl+u", "", "empties the line").When(r.Kind == RowText),
		On("?", "", "this page, where nothing is typed yet", Sends(AskHelp{})).When(
			r.Kind == RowText && r.Text.Text == ""),
		On("esc", "back", "leaves the form, after asking if there is something to lose", f.esc))
}

// LeaveKeys answer the question of LeaveLine; does is what y does, in a word or two.
func LeaveKeys(does string, leave Deed, stay func()) []Key {
	return []Key{On("y", does, "", leave),
		On("n", "stay", "esc stays too", Do(stay), "n", "esc")}
}

// chooseKey is how a row with options is answered.
func (f *Form) chooseKey(r *Row) Key {
	does, says, keys := "choose", "the number of an answer chooses it and goes on", append(
		DigitKeys(len(r.Opts)), "left", "right", "space")
	if r.Kind == RowMany {
		does, says, keys = "yes or no", "the number of an answer marks it, or takes the mark away", DigitKeys(len(r.Opts))
	}
	return On("1-"+strconv.Itoa(len(r.Opts)), does, says, func(p Press) tea.Cmd {
		f.choose(r, p.Key())
		return nil
	}, keys...).When(r.Kind == RowOne || r.Kind == RowMany)
}

// esc leaves the form at once, or asks where something would be lost.
func (f *Form) esc(Press) tea.Cmd {
	if f.changed() {
		f.Leaving = true
		return nil
	}
	return f.Leave()
}

// stays tells that what is typed in a row is no answer to it: enter says so and goes nowhere, the
// arrows still do.
func (f *Form) stays(r *Row) bool {
	if f.Check == nil || r.Kind != RowText || r.Value() == "" {
		return false
	}
	r.Bad = f.Check(r)
	return r.Bad != ""
}

func (f *Form) step(by int) {
	r := f.Current()
	f.At += by
	f.Current()
	switch {
	case f.Moved != nil:
		f.Moved(r)
	case f.Check != nil && r.Kind == RowText && r.Value() != "":
		r.Bad = f.Check(r)
	}
}

// choose takes a key of a row with options: a digit picks, and goes on where only one can be
// picked.
func (f *Form) choose(r *Row, key string) {
	n := DigitOf(key)
	r.Bad = ""
	switch {
	case r.Kind == RowMany:
		if r.Many == nil {
			r.Many = map[int]bool{}
		}
		r.Many[n-1] = !r.Many[n-1]
	case n > 0:
		r.One = n - 1
	default:
		r.One = (r.One + map[string]int{"left": -1, "right": 1, " ": 1}[key] + len(r.Opts)) % len(
			r.Opts)
	}
	if f.Edited != nil {
		f.Edited(r)
	}
	if r.Kind == RowOne && n > 0 {
		f.step(1)
	}
}

// Press takes a key: one of keys, or else a letter of the row that is typed.
func (f *Form) Press(p Press, keys []Key) tea.Cmd {
	cmd, taken := Act(keys, p)
	if !taken {
		f.typed(p.Msg)
	}
	return cmd
}

// typed takes a letter of the row that is typed.
func (f *Form) typed(k tea.KeyMsg) {
	if !f.Typing() {
		return
	}
	r := f.Current()
	if r.Digit && k.Type == tea.KeyRunes && strings.Trim(string(k.Runes), "0123456789.,' ") != "" {
		return
	}
	was := r.Text.Text
	if r.Bad != "" {
		r.Text.Refused()
	}
	if !r.Text.Press(k) {
		return
	}
	r.Bad = ""
	if f.Edited != nil && r.Text.Text != was {
		f.Edited(r)
	}
}

// Sound checks every row that is asked; the cursor goes to the first that cannot be.
func (f *Form) Sound() bool {
	for _, r := range f.Asked() {
		if r.Kind == RowDo {
			continue
		}
		if r.Bad = f.Check(r); r.Bad != "" {
			f.GoTo(r.Name)
			return false
		}
	}
	return true
}

// Wrote takes the answer to the form's write, and tells whether it is saved.
func (f *Form) Wrote(r Result) bool {
	f.Saving = false
	return r.Err == nil
}
