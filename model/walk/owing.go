package walk

import (
	"slices"
	"strings"
)

// owing is what is owed once a procedure is through: proofs under power, and word of how a renewed
// part's old one was.
type owing struct {
	owed     []owedStep
	unproved map[string]bool    // key/step: a proof that was seen to fail
	renewals map[string]renewal // by block key: a part said to be renewed, not told of yet
	// a stub was to come out in this session and did not: nothing owed loads over it
	stays   bool
	unended *renewal // a part renewed whose old one's end is not said yet
}

// failed tells whether a proof of a procedure was seen to fail, in any of the blocks of what is
// owed.
func (ow *owing) failed(proc string) bool {
	for k := range ow.unproved {
		if block, name, _ := strings.Cut(k, "/"); strings.HasPrefix(block, "owed") &&
			strings.HasPrefix(name, proc+".") {
			return true
		}
	}
	return false
}

// owedWith are the proofs owed that need such heat and were not passed over.
func (ow *owing) owedWith(heats ...string) []owedStep {
	var out []owedStep
	for _, o := range ow.owed {
		if slices.Contains(heats, o.heat) && !o.over {
			out = append(out, o)
		}
	}
	return out
}
