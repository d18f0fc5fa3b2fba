package procedures

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// nodeKind is what a value in a file is.
type nodeKind int

const (
	isTable nodeKind = iota
	isList
	isText
	isWhole
	isReal
	isTruth
	isOther // dates and times, infinity: nothing a procedure has
)

// String names the kind as a person would.
func (k nodeKind) String() string {
	return [...]string{"a table", "a list", "a text", "a whole number", "a number", "true or false",
		"a date or no number"}[k]
}

// node is one value of a file with the line it stands in. The library's own decoder gives lines
// only for its own errors; the tree keeps them, so that a mistake of meaning has its line too.
type node struct {
	line   int
	kind   nodeKind
	text   string
	num    float64
	truth  bool
	keys   []pair  // of a table, in file order
	items  []*node // of a list
	header bool    // table was opened by its own [header]
	used   uint64  // keys asked for, by index
}

// pair is one key of a table.
type pair struct {
	key string
	val *node
}

// find gives a key's value, nil where it is not there.
func (n *node) find(key string) *node {
	for i := range n.keys {
		if n.keys[i].key == key {
			return n.keys[i].val
		}
	}
	return nil
}

// lineOf gives the line of the deepest node on the way down a path of keys (string) and places
// (int).
func (n *node) lineOf(path ...any) int {
	if n == nil {
		return 0
	}
	line := n.line
	for _, p := range path {
		var next *node
		switch p := p.(type) {
		case string:
			next = n.find(p)
		case int:
			if p >= 0 && p < len(n.items) {
				next = n.items[p]
			}
		}
		if next == nil {
			return line
		}
		n, line = next, next.line
	}
	return line
}

// Limits of a file: far above any real one, so that a wrong file cannot hold the program up.
const (
	maxFileSize = 256 << 10
	maxDepth    = 12
	maxKeys     = 64    // of one table
	maxParts    = 4_000 // tables and values of a file: the decoder compares each with all before it
)

// builder turns the parser's expressions into a tree.
type builder struct {
	p       unstable.Parser
	data    []byte
	atByte  int // how far lines were counted
	atLine  int
	slab    []node // nodes are made many at a time
	problem *Problem
}

func (b *builder) node(line int, kind nodeKind) *node {
	if len(b.slab) == 0 {
		b.slab = make([]node, 64)
	}
	n := &b.slab[0]
	b.slab = b.slab[1:]
	n.line, n.kind = line, kind
	return n
}

// words are the keys that come again and again, kept once.
var words = func() map[string]string {
	m := map[string]string{}
	for w := range strings.FieldsSeq(`id title short purpose why kind rung part needs needs_any counts_as after proof handson
		first waiting owns gear require leave change minutes_for interval trigger setting tool supply caution step later
		symptom name do gate ask own only features unless is variable value seconds before clock quantity unit low high
		near ref share plus meter optional options renewed equal count ledger min max out back in taken set starts miss
		then tries else procedures days say fastener head size class thread engagement record signal harm avoid basis
		fits for default number production when once weight done power heat filament cover top changer bed door vapour
		sensor from to`) {
		m[w] = w
	}
	return m
}()

func keyOf(k *unstable.Node) string {
	if w, ok := words[string(k.Data)]; ok {
		return w
	}
	return string(k.Data)
}

// parseTree reads a file into a tree. With full, the library's decoder goes over it first, which
// knows every rule of the format; files shipped with the program had that in their tests.
func parseTree(data []byte, full bool) (*node, *Problem) {
	if len(data) > maxFileSize {
		return nil,
			&Problem{Text: fmt.Sprintf("the file is larger than %d KiB: split it, or check that it is a procedure", maxFileSize>>10)}
	}
	if n := bytes.Count(data, []byte{'='}) + bytes.Count(data, []byte("\n[")); n > maxParts {
		return nil,
			&Problem{Text: fmt.Sprintf("the file has %d tables and values, more than %d: split it, or check that it is a procedure", n, maxParts)}
	}
	if full {
		if p := validate(data); p != nil {
			return nil, p
		}
	}
	b := &builder{data: data, atLine: 1}
	root := b.node(1, isTable)
	cur := root
	b.p.Reset(data)
	for b.problem == nil && b.p.NextExpression() {
		e := b.p.Expression()
		switch e.Kind {
		case unstable.KeyValue:
			b.keyValue(cur, e, 0)
		case unstable.Table, unstable.ArrayTable:
			cur = b.open(root, e)
		}
	}
	if b.problem == nil && b.p.Error() != nil {
		b.syntax(b.p.Error())
	}
	return root, b.problem
}

// validate runs the library's decoder over the file and gives its first error.
func validate(data []byte) *Problem {
	var v map[string]any
	err := toml.Unmarshal(data, &v)
	if err == nil {
		return nil
	}
	pr := &Problem{Text: "the file cannot be read: " + trimError(err)}
	var de *toml.DecodeError
	if errors.As(err, &de) {
		pr.Line, _ = de.Position()
	}
	return pr
}

// trimError drops the library's own prefix.
func trimError(err error) string {
	return string(bytes.TrimPrefix([]byte(err.Error()), []byte("toml: ")))
}

// syntax keeps a parser's error with its line.
func (b *builder) syntax(err error) {
	line := 0
	var pe *unstable.ParserError
	if errors.As(err, &pe) && len(pe.Highlight) > 0 {
		line = 1 + bytes.Count(b.data[:b.p.Range(pe.Highlight).Offset], []byte("\n"))
	}
	b.fail(line, "the file cannot be read: %s", trimError(err))
}

// fail keeps the first problem: those behind it mostly follow from it.
func (b *builder) fail(line int, format string, args ...any) {
	if b.problem == nil {
		b.problem = &Problem{Line: line, Text: fmt.Sprintf(format, args...)}
	}
}

// line gives the line of a node of the parser, or def where the parser keeps none.
func (b *builder) line(n *unstable.Node, def int) int {
	off := int(n.Raw.Offset)
	if n.Raw.Length == 0 {
		return def
	}
	if off < b.atByte {
		return 1 + bytes.Count(b.data[:off], []byte("\n"))
	}
	b.atLine += bytes.Count(b.data[b.atByte:off], []byte("\n"))
	b.atByte = off
	return b.atLine
}

// add sets a key of a table; a second one is a problem.
func (b *builder) add(t *node, key string, v *node) {
	switch {
	case t.find(key) != nil:
		b.fail(v.line, "%q stands there twice: keep one of them", key)
	case len(t.keys) >= maxKeys:
		b.fail(v.line, "more than %d keys in one table: no table here has that many", maxKeys)
	default:
		if t.keys == nil {
			t.keys = make([]pair, 0, 6)
		}
		t.keys = append(t.keys, pair{key, v})
	}
}

// keyValue adds one "key = value", dotted or not.
func (b *builder) keyValue(t *node, e *unstable.Node, depth int) {
	it := e.Key()
	for it.Next() {
		k := it.Node()
		key, line := keyOf(k), b.line(k, t.line)
		if it.IsLast() {
			b.add(t, key, b.value(e.Value(), line, depth))
			return
		}
		next := t.find(key)
		if next == nil {
			next = b.node(line, isTable)
			b.add(t, key, next)
		}
		if next.kind != isTable {
			b.fail(line, "%q is %s and cannot have parts: write it as a table", key, next.kind)
			return
		}
		t = next
	}
}

// value turns a parser's value into a node.
func (b *builder) value(v *unstable.Node, line, depth int) *node {
	n := b.node(b.line(v, line), isTable)
	if depth > maxDepth {
		b.fail(n.line, "lists and tables are nested more than %d deep: nothing in a procedure is",
			maxDepth)
		return n
	}
	switch v.Kind {
	case unstable.String:
		n.kind, n.text = isText, string(v.Data)
	case unstable.Bool:
		n.kind, n.truth = isTruth, string(v.Data) == "true"
	case unstable.Integer, unstable.Float:
		b.number(n, v)
	case unstable.Array:
		n.kind = isList
		it := v.Children()
		for it.Next() {
			n.items = append(n.items, b.value(it.Node(), n.line, depth+1))
		}
	case unstable.InlineTable:
		n.kind, n.header = isTable, true
		it := v.Children()
		for it.Next() {
			b.keyValue(n, it.Node(), depth+1)
		}
	default:
		n.kind = isOther
	}
	return n
}

// number reads an integer or a float.
func (b *builder) number(n *node, v *unstable.Node) {
	s := string(v.Data)
	if v.Kind == unstable.Integer {
		if i, err := strconv.ParseInt(s, 0, 32); err == nil {
			n.kind, n.num = isWhole, float64(i)
			return
		}
	} else if f, err := strconv.ParseFloat(s, 64); err == nil && math.Abs(f) <= 1e12 {
		n.kind, n.num = isReal, f
		return
	}
	n.kind = isOther
}

// open goes down the path of a [header] or [[header]] and gives the table that follows.
func (b *builder) open(root *node, e *unstable.Node) *node {
	t := root
	it := e.Key()
	for it.Next() {
		k := it.Node()
		key, line := keyOf(k), b.line(k, 1)
		next := t.find(key)
		switch {
		case it.IsLast() && e.Kind == unstable.ArrayTable:
			if next == nil {
				next = b.node(line, isList)
				b.add(t, key, next)
			} else if next.kind != isList {
				b.fail(line, "%q is %s and also [[%s]]: write it one way", key, next.kind, key)
				return t
			}
			item := b.node(line, isTable)
			item.header = true
			next.items = append(next.items, item)
			return item
		case next == nil:
			next = b.node(line, isTable)
			b.add(t, key, next)
		case next.kind == isList && len(next.items) > 0 && !it.IsLast():
			next = next.items[len(next.items)-1]
		}
		if next.kind != isTable || it.IsLast() && next.header {
			b.fail(line, "%q stands there twice: keep one of them", key)
			return t
		}
		next.header = next.header || it.IsLast()
		t = next
	}
	return t
}
