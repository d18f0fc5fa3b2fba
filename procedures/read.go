package procedures

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"bench/oilcan/model"
)

// reader collects the problems of one file while it is read.
type reader struct {
	file     string
	problems []Problem
	noting   bool // tables note which keys they are asked for
	unknown  bool // a key was found that nothing asked for
}

// readFile reads one file of ours: the tree, then what read makes of it. got is false where it is
// no TOML at all. A file with a key nobody knows is read once more, noting what each table knows,
// so that the message can say it.
func readFile[T any](name string, data []byte, full bool, read func(*reader, *table) T) (out T,
	root *node, problems []Problem, got bool) {
	root, broken := parseTree(data, full)
	if broken != nil {
		broken.File = name
		return out, nil, []Problem{*broken}, false
	}
	r := &reader{file: name}
	out = read(r, &table{r: r, n: root})
	if r.unknown {
		r = &reader{file: name, noting: true}
		out = read(r, &table{r: r, n: root})
	}
	return out, root, sorted(r.problems), true
}

// bad files a problem at a node's line.
func (r *reader) bad(n *node, format string, args ...any) {
	line := 0
	if n != nil {
		line = n.line
	}
	r.problems = append(r.problems,
		Problem{File: r.file, Line: line, Text: fmt.Sprintf(format, args...)})
}

// word tells whether s is on a closed list; if not, that is a problem that says the nearest word.
func (r *reader) word(n *node, what, s string, list []string) bool {
	if slices.Contains(list, s) {
		return true
	}
	r.bad(n, "%s", notOnList(what, s, list))
	return false
}

// notOnList is the sentence about a word that is not on its list.
func notOnList(what, s string, list []string) string {
	if w := model.Nearest(s, list); w != "" {
		return fmt.Sprintf("unknown %s %q: write %q", what, s, w)
	}
	if len(list) > 20 {
		if near := sharing(s, list); len(near) > 0 {
			return fmt.Sprintf("unknown %s %q: the list is closed; nearest on it: %s", what, s,
				strings.Join(near, ", "))
		}
		return fmt.Sprintf("unknown %s %q: the list is closed, and nothing on it comes near", what,
			s)
	}
	return fmt.Sprintf("unknown %s %q: write one of %s", what, s, strings.Join(list, ", "))
}

// sharing are the names of a list that have a word in common with s, at most six.
func sharing(s string, list []string) []string {
	words := strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '-' })
	var out []string
	for _, name := range list {
		for _, w := range strings.FieldsFunc(name, func(r rune) bool {
			return r == ' ' || r == '-'
		}) {
			if len(w) > 2 && slices.Contains(words, w) && !slices.Contains(out, name) &&
				len(out) < 6 {
				out = append(out, name)
			}
		}
	}
	return out
}

// table reads the keys of one table and remembers which it was asked for.
type table struct {
	r   *reader
	n   *node
	key string // the key it stands under, "" for the file itself
	// the table that key is in; nil for the file, and for a table that stands for itself
	up    *table
	asked []string
}

// what is how messages call it: "the file", "[[step]]", "\"near\" of [[step]]".
func (t *table) what() string {
	switch {
	case t.key == "":
		return "the file"
	case t.up == nil:
		return t.key
	}
	return fmt.Sprintf("%q of %s", t.key, t.up.what())
}

// table wraps a node that must be a table; nil with a problem if it is not.
func (r *reader) table(n *node, key string, up *table) *table {
	t := &table{r: r, n: n, key: key, up: up}
	if n.kind != isTable {
		r.bad(n, "%s is %s: write a table", t.what(), n.kind)
		return nil
	}
	return t
}

// get gives the node of a key, nil where it is not there.
func (t *table) get(key string) *node {
	if t.r.noting && !slices.Contains(t.asked, key) {
		t.asked = append(t.asked, key)
	}
	for i := range t.n.keys {
		if t.n.keys[i].key == key {
			t.n.used |= 1 << i
			return t.n.keys[i].val
		}
	}
	return nil
}

// done files a problem for every key nothing asked for.
func (t *table) done() {
	for i, p := range t.n.keys {
		if t.n.used&(1<<i) != 0 {
			continue
		}
		t.r.unknown = true
		if w := model.Nearest(p.key, t.asked); w != "" {
			t.r.bad(p.val, "unknown key %q in %s: write %q", p.key, t.what(), w)
			continue
		}
		t.r.bad(p.val, "unknown key %q in %s: leave it out, or use one of %s", p.key, t.what(),
			strings.Join(t.asked, ", "))
	}
}

// wrong files a problem about a value's type.
func (t *table) wrong(key string, n *node, want string) {
	t.r.bad(n, "%q in %s is %s: write %s", key, t.what(), n.kind, want)
}

// text reads a text of one line, trimmed of nothing.
func (t *table) text(key string) string {
	n := t.get(key)
	if n == nil {
		return ""
	}
	return t.textOf(key, n)
}

// textOf reads a node as a text of one printable line.
func (t *table) textOf(key string, n *node) string {
	if n.kind != isText {
		t.wrong(key, n, "a text in quotes")
		return ""
	}
	if strings.IndexFunc(n.text, func(c rune) bool { return !unicode.IsPrint(c) }) >= 0 {
		t.r.bad(n,
			"%q in %s holds a line break or another sign that cannot be printed: write one plain line", key, t.what())
		return ""
	}
	return n.text
}

// need reads a text that must be there.
func (t *table) need(key, example string) string {
	if t.n.find(key) == nil {
		t.get(key)
		t.r.bad(t.n, "%s has no %q: write %s = %s", t.what(), key, key, example)
		return ""
	}
	return t.text(key)
}

// texts reads a list of texts.
func (t *table) texts(key string) []string {
	n := t.get(key)
	if n == nil {
		return nil
	}
	return t.textsOf(key, n)
}

// textsOf reads a node as a list of texts, none of them empty or twice.
func (t *table) textsOf(key string, n *node) []string {
	if n.kind != isList {
		t.wrong(key, n, fmt.Sprintf("a list, e.g. %s = [\"…\"]", key))
		return nil
	}
	var out []string
	for _, it := range n.items {
		s := t.textOf(key, it)
		switch {
		case s == "" && it.kind == isText:
			t.r.bad(it, "an empty text in %q of %s: leave it out", key, t.what())
		case s != "" && slices.Contains(out, s):
			t.r.bad(it, "%q stands twice in %q of %s: keep one", s, key, t.what())
		case s != "":
			out = append(out, s)
		}
	}
	return out
}

// pointer reads a number that may be missing.
func (t *table) pointer(key string) *float64 {
	n := t.get(key)
	if n == nil {
		return nil
	}
	if n.kind != isWhole && n.kind != isReal {
		t.wrong(key, n, "a number")
		return nil
	}
	v := n.num // not the tree's, which would be kept with it
	return &v
}

// number reads a number, 0 where it is not there.
func (t *table) number(key string) float64 {
	if v := t.pointer(key); v != nil {
		return *v
	}
	return 0
}

// wholePointer reads a whole number that may be missing.
func (t *table) wholePointer(key string) *int {
	n := t.get(key)
	if n == nil {
		return nil
	}
	if n.kind != isWhole {
		t.wrong(key, n, "a whole number")
		return nil
	}
	v := int(n.num)
	return &v
}

// whole reads a whole number, 0 where it is not there.
func (t *table) whole(key string) int {
	if v := t.wholePointer(key); v != nil {
		return *v
	}
	return 0
}

func (t *table) truth(key string) bool {
	n := t.get(key)
	if n == nil {
		return false
	}
	if n.kind != isTruth {
		t.wrong(key, n, "true or false without quotes")
		return false
	}
	return n.truth
}

// items gives the parts of a list under a key; want says in a problem how it is written.
func (t *table) items(key, want string) []*node {
	n := t.get(key)
	if n == nil {
		return nil
	}
	if n.kind != isList {
		t.wrong(key, n, want)
	}
	return n.items
}

// each calls f for every table of a list of tables.
func (t *table) each(key string, f func(*table)) {
	name := "[[" + key + "]]"
	for _, it := range t.items(key, "it as "+name) {
		if sub := t.r.table(it, name, nil); sub != nil {
			f(sub)
			sub.done()
		}
	}
}

// inner calls f for a table under a key.
func (t *table) inner(key string, f func(*table)) {
	n := t.get(key)
	if n == nil {
		return
	}
	if sub := t.r.table(n, key, t); sub != nil {
		f(sub)
		sub.done()
	}
}
