package procedures

import (
	"maps"

	"bench/oilcan/model"
)

// Source is one procedure file to be checked.
type Source struct {
	Name string // the file's name, without its folder
	Data []byte
}

// CheckFiles gives the mistakes of each file, of form and, where there are none, of meaning: as if
// all of them stood in this library together, which stays as it is.
func (l *Library) CheckFiles(files []Source) [][]Problem {
	l.ensure()
	all := &Library{byID: maps.Clone(l.byID), trees: maps.Clone(l.trees)}
	out := make([][]Problem, len(files))
	read := make([]*model.Procedure, len(files))
	for i, f := range files {
		p, tree, bad := parse(f.Name, f.Data, true)
		if len(bad) > 0 {
			out[i] = bad
			continue
		}
		p.Yours = true
		read[i] = p
		all.byID[p.ID], all.trees[p] = p, tree
	}
	for i, p := range read {
		if p != nil {
			out[i] = all.Check(p)
		}
	}
	return out
}
