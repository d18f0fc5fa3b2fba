package procedures

import (
	"fmt"
	"path"
	"strings"

	"bench/oilcan/model"
)

// checker looks at the meaning of one procedure within a library.
type checker struct {
	l        *Library
	p        *model.Procedure
	tree     *node // nil where the procedure was not read from a file: problems then have no line
	problems []Problem
}

// Check gives what is wrong with the meaning of a procedure within this library, sorted by line: words
// and lengths, references, the state and the ledger run from what it requires to what it leaves, the
// interlocks, the cautions, the order. ParseFile gives the problems of form.
func (l *Library) Check(p *model.Procedure) []Problem {
	c := &checker{l: l, p: p, tree: l.trees[p]}
	c.head()
	return sorted(c.problems)
}

// at is a path into the file: keys and places.
func at(parts ...any) []any { return parts }

// bad files a problem at a path of the file.
func (c *checker) bad(where []any, format string, args ...any) {
	c.problems = append(c.problems, Problem{File: c.p.File, Line: c.tree.lineOf(where...), Text: fmt.Sprintf(format, args...)})
}

// head checks the id against the file's name.
func (c *checker) head() {
	p := c.p
	if !kebab.MatchString(p.ID) {
		c.bad(at("id"), "id %q: write small letters, digits and single hyphens, e.g. rods-wipe", p.ID)
	}
	if want := strings.TrimSuffix(path.Base(p.File), ".toml"); p.File != "" && want != p.ID {
		c.bad(at("id"), "id %q is not the file's name %q: make them the same", p.ID, want)
	}
}
