package walk

import (
	"fmt"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Elsewhere says, at the first step of a procedure, that it was done or its part renewed elsewhere
// since the session began; "" where nothing was. The sequence stays as it is: the person decides.
func (w *Walk) Elsewhere(m *model.Machine) string {
	b := w.Block()
	if m == nil || b == nil || w.StepAt != w.firstOf(b) {
		return ""
	}
	what := w.loggedElsewhere(m, b)
	if what == "" {
		return ""
	}
	if w.telling {
		return what + "; leave it out if that is what the sheet tells."
	}
	return what +
		"; leave it out if it is not wanted again, or plan again: the rest is then planned without it."
}

// loggedElsewhere says what was logged elsewhere that a block would do again, "" for nothing.
func (w *Walk) loggedElsewhere(m *model.Machine, b *Block) string {
	if b.Kind != model.BlockCare {
		return ""
	}
	clock, when := model.Clock, "since this session began"
	again := func(at time.Time) bool { return at.After(w.Start) }
	if w.telling { // it was of another day, and what is told by its day alone has no hour
		clock, when = model.Stamp, "on the day of this session or after it"
		again = func(at time.Time) bool { return model.Day(at, w.Start) >= model.Day(w.Start, w.Start) }
	}
	if part := m.Parts[b.Proc.Part]; b.Proc.Part != "" && part != nil &&
		again(part.Since) && !w.recorded(b.Proc.Part, "") {
		return fmt.Sprintf("A new %s was logged at %s, %s", b.Proc.Part,
			clock(part.Since, w.Start), when)
	}
	if last := m.Care[b.ID]; last != nil && last.Known && again(last.At) &&
		!w.recorded("", b.ID) {
		return fmt.Sprintf("This was logged as done at %s, %s", clock(last.At, w.Start), when)
	}
	return ""
}

// Late names the procedures ahead, none of them begun, that were done elsewhere since the session
// began.
func (w *Walk) Late(m *model.Machine) []string {
	var out []string
	for i := w.Cur; m != nil && i < len(w.Blocks); i++ {
		b := w.Blocks[i]
		if b.Status == Ahead && w.loggedElsewhere(m, b) != "" && !w.begun(b) {
			out = append(out, b.ID)
		}
	}
	return out
}

// planAgain plans the rest anew, without what was done elsewhere.
func (w *Walk) planAgain(c Context, p Prompt) (Reply, error) {
	if p.Kind != AskStep && p.Kind != AskWait {
		return refuse("Answer this first; then the rest can be planned again."), nil
	}
	late := w.Late(c.Machine)
	if len(late) == 0 {
		return refuse(
			"Nothing ahead was done elsewhere since this session began: the order stands."), nil
	}
	return w.complete(c,
		Reply{Facts: []model.Fact{w.walked(model.Walked{What: Again, Item: strings.Join(late, ","),
			Why: "logged elsewhere"})}})
}

// foldAgain leaves out what was done elsewhere; the rest is planned anew.
func (w *Walk) foldAgain(x *model.Walked) {
	drop := splitIDs(x.Item)
	var out, rest []*Block
	for _, b := range w.Blocks[min(w.Cur, len(w.Blocks)):] {
		if b.Status == Ahead && contains(drop, b.ID) {
			b.key, b.Status, b.Why = blockKey(b.ID, w.occur[b.ID]), Omitted, x.Why
			w.occur[b.ID]++
			out = append(out, b)
			continue
		}
		rest = append(rest, b)
	}
	w.Blocks = append(append(w.Blocks[:min(w.Cur, len(w.Blocks)):min(w.Cur, len(w.Blocks))],
		out...), rest...)
	w.Cur += len(out)
	w.needs = true
}

// recorded tells whether this session itself wrote a swap of the part, or care that does the
// procedure.
func (h *history) recorded(part, id string) bool {
	for _, e := range h.entries {
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
