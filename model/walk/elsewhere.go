package walk

import (
	"fmt"

	"bench/oilcan/model"
)

// Elsewhere says, at the first step of a procedure, that it was done or its part renewed elsewhere since
// the session began; "" where nothing was. The sequence stays as it is: the person decides.
func (w *Walk) Elsewhere(m *model.Machine) string {
	b := w.Block()
	if m == nil || b == nil || b.Kind != "care" || w.StepAt != w.firstOf(b) {
		return ""
	}
	const leave = "; leave it out if it is not wanted again."
	if part := m.Parts[b.Proc.Part]; b.Proc.Part != "" && part != nil && part.Since.After(w.Start) && !w.recorded(b.Proc.Part, "") {
		return fmt.Sprintf("A new %s was logged at %s, since this session began%s", b.Proc.Part, part.Since.Format("15:04"), leave)
	}
	if last := m.Care[b.ID]; last != nil && last.Known && last.At.After(w.Start) && !w.recorded("", b.ID) {
		return fmt.Sprintf("This was logged as done at %s, since this session began%s", last.At.Format("15:04"), leave)
	}
	return ""
}

// recorded tells whether this session itself wrote a swap of the part, or care that does the procedure.
func (w *Walk) recorded(part, id string) bool {
	for _, e := range w.entries {
		if e.Swap != nil && (part != "" && e.Swap.Part == part || contains(e.Swap.Resets, id)) {
			return true
		}
		if e.Care != nil && id != "" && (e.Care.Procedure == id || contains(e.Care.CountsAs, id)) {
			return true
		}
	}
	return false
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s && s != "" {
			return true
		}
	}
	return false
}
