package walk

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// mostInBook is how many findings are said of at once; the rest is counted.
const mostInBook = 5

// InBook is what the record of a machine says where a step asks to compare the two, asks for the
// codes of its error list, or names the state it is handed back in: its tag, and the findings that
// stand, the newest first. What is owed is asked for by itself, and what the tag says is said by it. nil at any other step; a line that says so where nothing stands.
func (w *Walk) InBook(m *model.Machine, id string, s *model.Step) []string {
	if m == nil || s == nil || !stepIs(id, s.Name, model.AsFound, model.StepTags) &&
		!stepIs(id, s.Name, model.CloseOut, codes) && !stepIs(id, s.Name, model.CloseOut, handBackState) {
		return nil
	}
	var out []string
	if m.Tag != nil && m.Tag.Why != "" {
		out = append(out, "tag: "+m.Tag.Why)
	}
	more, tag := m.More, len(out)
	for _, f := range slices.Backward(m.Findings) {
		switch {
		case f.Kind == model.FoundOwed, m.Tag != nil && f.Text == m.Tag.Why: // its tag says it
		case len(out) == mostInBook+tag:
			more++
		default:
			out = append(out, model.Day(f.At, w.Start)+" "+f.Text)
		}
	}
	switch {
	case more > 0:
		out = append(out, fmt.Sprintf("and %d older", more))
	case len(out) == 0:
		return []string{"nothing stands in the book"}
	}
	return out
}
