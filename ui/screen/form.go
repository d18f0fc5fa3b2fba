package screen

import (
	"strings"

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
// back before typed answers are left behind.
type form struct {
	rows    []*formRow
	at      int  // current row among those asked
	leaving bool // "leave without saving?"
	saving  bool
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

// begin remembers the answers there are, so that only changes ask back.
func (f *form) begin() {
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

// formAct is what a key led to.
type formAct int

const (
	formStay  formAct = iota
	formMoved         // to another row: the one left is to be checked
	formSave
	formLeave
)

// press takes a key.
func (f *form) press(p Press) formAct {
	key := p.Key()
	if f.saving {
		return formStay
	}
	if f.leaving {
		if f.leaving = false; key == "y" {
			return formLeave
		}
		return formStay
	}
	r := f.current()
	switch key {
	case "esc":
		f.leaving = true
		return formStay
	case "ctrl+s":
		return formSave
	case "up", "shift+tab":
		f.at--
		f.current()
		return formMoved
	case "down", "tab":
		f.at++
		f.current()
		return formMoved
	case "enter":
		return f.enter(r, p)
	}
	switch r.kind {
	case rowText:
		if r.text.press(p.Msg) {
			r.bad = ""
		}
	case rowOne, rowMany:
		return f.choose(r, key)
	}
	return formStay
}

func (f *form) enter(r *formRow, p Press) formAct {
	if r.kind == rowDo {
		if p.Passes() {
			return formSave
		}
		return formStay
	}
	if !p.Held {
		f.at++
		f.current()
		return formMoved
	}
	return formStay
}

// choose takes a key of a row with options: a digit picks, and goes on where only one can be picked.
func (f *form) choose(r *formRow, key string) formAct {
	step := map[string]int{"left": -1, "right": 1, " ": 1}[key]
	switch {
	case r.kind == rowOne && step != 0:
		r.one = (r.one + step + len(r.opts)) % len(r.opts)
		r.bad = ""
		return formStay
	case len(key) != 1 || key[0] < '1' || int(key[0]-'1') >= len(r.opts):
		return formStay
	}
	i := int(key[0] - '1')
	r.bad = ""
	if r.kind == rowMany {
		if r.many == nil {
			r.many = map[int]bool{}
		}
		r.many[i] = !r.many[i]
		return formStay
	}
	r.one = i
	f.at++
	f.current()
	return formMoved
}

// keys are those that work in the form now. save is what saving is called.
func (f *form) keys(save string) []Key {
	if f.leaving {
		return []Key{{"y", "leave without saving", ""}, {"n", "stay", "any other key stays too"}}
	}
	if f.saving {
		return nil
	}
	r := f.current()
	var ks []Key
	switch r.kind {
	case rowOne:
		ks = append(ks, Key{"1-" + itoa(len(r.opts)), "choose", "the number of an answer chooses it and goes on"})
	case rowMany:
		ks = append(ks, Key{"1-" + itoa(len(r.opts)), "yes or no", "the number of an answer marks it, or takes the mark away"})
	}
	enter := Key{"enter", "next", "goes on to the next question"}
	if r.kind == rowDo {
		enter = Key{"enter", save, ""}
	}
	ks = append(ks, enter, Key{"up/down", "move", "goes to another question; tab and shift+tab too"})
	if r.kind != rowDo {
		ks = append(ks, Key{"ctrl+s", save, save + ", from anywhere"})
	}
	if f.typing() {
		ks = append(ks, Key{"ctrl+u", "", "empties the line"}, Key{"f1", "help", "this page"})
	}
	return append(ks, Key{"esc", "back", "leaves the form, after asking if there is something to lose"})
}
