package screen

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/theme"
)

// formKind is how a row is answered.
type formKind int

const (
	rowText formKind = iota // typed
	rowOne                  // one of the options
	rowMany                 // any of the options
	rowDo                   // enter does it: the last row, save
)

// formOption is one answer that can be chosen.
type formOption struct{ is, says string }

// formRow is one question of a form.
type formRow struct {
	name  string // by which the form's owner knows it
	ask   string
	hint  string // in full, shown while the row is current
	kind  formKind
	text  field
	opts  []formOption
	one   int          // chosen option
	many  map[int]bool // chosen options
	empty string       // what an empty text stands for
	bad   string       // why the answer cannot be
	head  string       // a heading above the row
	when  func() bool  // asked only then; nil: always
	held  string       // the answer the form began with
	digit bool         // a figure: letters are not typed
}

// value is the answer: the text, or the chosen option's word.
func (r *formRow) value() string {
	if r.kind == rowOne {
		return r.opts[r.one].is
	}
	return strings.TrimSpace(r.text.text)
}

// picked tells whether an option is chosen.
func (r *formRow) picked(i int) bool {
	return r.kind == rowOne && r.one == i || r.kind == rowMany && r.many[i]
}

// shown is the answer as a person reads it.
func (r *formRow) shown() string {
	switch r.kind {
	case rowOne:
		return r.opts[r.one].says
	case rowMany:
		var on []string
		for i, o := range r.opts {
			if r.picked(i) {
				on = append(on, o.is)
			}
		}
		if len(on) == 0 {
			return "none"
		}
		return strings.Join(on, ", ")
	case rowText:
		if r.text.text == "" {
			return r.empty
		}
		return theme.Safe(r.text.text)
	}
	return ""
}

// unanswered tells that nothing is said yet.
func (r *formRow) unanswered() bool {
	switch r.kind {
	case rowText:
		return r.text.text == ""
	case rowOne:
		return r.opts[r.one].is == "" && r.one == len(r.opts)-1
	case rowMany:
		for _, on := range r.many {
			if on {
				return false
			}
		}
		return true
	}
	return false
}

// form asks question after question on one page. Embed it; it has the keys, the drawing and the asking
// back before typed answers are left behind. What it is about is told by its words and hooks.
type form struct {
	rows    []*formRow
	at      int  // current row among those asked
	leaving bool // "leave without saving?"
	saving  bool

	verb   string                // what saving is called
	check  func(*formRow) string // why an answer cannot be, "" where it can; nil: every answer can
	write  func() tea.Cmd        // saves; asked for by the person
	leave  func() tea.Cmd        // closes the form
	moved  func(*formRow)        // a row was left; nil: what is said there is checked
	edited func(*formRow)        // an answer was changed; may be nil
}

// row finds a row by name; nil where there is none.
func (f *form) row(name string) *formRow {
	for _, r := range f.rows {
		if r.name == name {
			return r
		}
	}
	return nil
}

// asked are the rows that apply now.
func (f *form) asked() []*formRow {
	var out []*formRow
	for _, r := range f.rows {
		if r.when == nil || r.when() {
			out = append(out, r)
		}
	}
	return out
}

func (f *form) current() *formRow {
	rows := f.asked()
	if len(rows) == 0 {
		return &formRow{kind: rowDo} // the questions are not made yet
	}
	f.at = max(0, min(f.at, len(rows)-1))
	return rows[f.at]
}

// goTo makes a row the current one.
func (f *form) goTo(name string) {
	for i, r := range f.asked() {
		if r.name == name {
			f.at = i
		}
	}
}

// hold remembers the answers there are, so that only changes ask back.
func (f *form) hold() {
	for _, r := range f.rows {
		r.held = r.shown()
	}
}

// changed tells whether any answer is not the one it began with.
func (f *form) changed() bool {
	for _, r := range f.asked() {
		if r.kind != rowDo && r.shown() != r.held {
			return true
		}
	}
	return false
}

// typing tells that letters go into the current row.
func (f *form) typing() bool {
	return !f.leaving && !f.saving && f.current().kind == rowText
}

// inner tells that esc is the form's own: there is something to lose, or a question is open.
func (f *form) inner() bool { return f.leaving || f.changed() && !f.saving }

// keys are those that work in the form now.
func (f *form) keys() []Key {
	switch {
	case f.saving || len(f.rows) == 0:
		return nil
	case f.leaving:
		return []Key{On("y", "leave without saving", "", func(Press) tea.Cmd { f.leaving = false; return f.leave() }),
			On("n", "stay", "esc stays too", Do(func() { f.leaving = false }), "n", "esc")}
	}
	r := f.current()
	save := func(Press) tea.Cmd { return f.write() }
	ks := []Key{f.chooseKey(r)}
	if r.kind == rowDo {
		ks = append(ks, On("enter", f.verb, "", save).Afresh())
	} else {
		ks = append(ks, On("enter", "next", "goes on to the next question", func(p Press) tea.Cmd {
			if !p.Held {
				f.step(1)
			}
			return nil
		}))
	}
	return append(ks,
		On("up/down", "move", "goes to another question; tab and shift+tab too", func(p Press) tea.Cmd {
			f.step(map[string]int{"up": -1, "shift+tab": -1, "down": 1, "tab": 1}[p.Key()])
			return nil
		}, "up", "shift+tab", "down", "tab"),
		On("ctrl+s", f.verb, f.verb+", from anywhere", save).When(r.kind != rowDo),
		Shown("ctrl+u", "", "empties the line").When(r.kind == rowText),
		Shown("f1", "help", "this page").When(r.kind == rowText),
		On("?", "", "this page, where nothing is typed yet", Sends(AskHelp{})).When(r.kind == rowText && r.text.text == ""),
		On("esc", "back", "leaves the form, after asking if there is something to lose", f.esc))
}

// chooseKey is how a row with options is answered.
func (f *form) chooseKey(r *formRow) Key {
	does, says, keys := "choose", "the number of an answer chooses it and goes on", append(digitKeys(len(r.opts)), "left", "right", "space")
	if r.kind == rowMany {
		does, says, keys = "yes or no", "the number of an answer marks it, or takes the mark away", digitKeys(len(r.opts))
	}
	return On("1-"+itoa(len(r.opts)), does, says, func(p Press) tea.Cmd {
		f.choose(r, p.Key())
		return nil
	}, keys...).When(r.kind == rowOne || r.kind == rowMany)
}

// esc leaves the form at once, or asks where something would be lost.
func (f *form) esc(Press) tea.Cmd {
	if f.changed() {
		f.leaving = true
		return nil
	}
	return f.leave()
}

// step goes to another row.
func (f *form) step(by int) {
	r := f.current()
	f.at += by
	f.current()
	switch {
	case f.moved != nil:
		f.moved(r)
	case f.check != nil && r.kind == rowText && r.value() != "":
		r.bad = f.check(r)
	}
}

// choose takes a key of a row with options: a digit picks, and goes on where only one can be picked.
func (f *form) choose(r *formRow, key string) {
	n := digitOf(key)
	r.bad = ""
	switch {
	case r.kind == rowMany:
		if r.many == nil {
			r.many = map[int]bool{}
		}
		r.many[n-1] = !r.many[n-1]
	case n > 0:
		r.one = n - 1
	default:
		r.one = (r.one + map[string]int{"left": -1, "right": 1, " ": 1}[key] + len(r.opts)) % len(r.opts)
	}
	if f.edited != nil {
		f.edited(r)
	}
	if r.kind == rowOne && n > 0 {
		f.step(1)
	}
}

// press takes a key: one of keys, or else a letter of the row that is typed.
func (f *form) press(p Press, keys []Key) tea.Cmd {
	cmd, taken := Act(keys, p)
	if !taken {
		f.typed(p.Msg)
	}
	return cmd
}

// typed takes a letter of the row that is typed.
func (f *form) typed(k tea.KeyMsg) {
	if !f.typing() {
		return
	}
	r := f.current()
	if r.digit && k.Type == tea.KeyRunes && strings.Trim(string(k.Runes), "0123456789.,' ") != "" {
		return
	}
	was := r.text.text
	if !r.text.press(k) {
		return
	}
	r.bad = ""
	if f.edited != nil && r.text.text != was {
		f.edited(r)
	}
}

// sound checks every row that is asked; the cursor goes to the first that cannot be.
func (f *form) sound() bool {
	for _, r := range f.asked() {
		if r.kind == rowDo {
			continue
		}
		if r.bad = f.check(r); r.bad != "" {
			f.goTo(r.name)
			return false
		}
	}
	return true
}

// wrote takes the answer to the form's write, and tells whether it is saved.
func (f *form) wrote(r Result) bool {
	f.saving = false
	return r.Err == nil
}
