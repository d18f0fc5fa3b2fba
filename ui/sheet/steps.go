package sheet

import (
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/book"
)

// steps are what was answered, a part for each procedure as it was walked: when, which step, the
// answer, and how it was passed.
func (d done) steps() []Part {
	var out []Part
	last := ""
	first, who := true, ""
	for _, l := range d.Lines {
		x := l.Entry.Walk
		if x == nil {
			continue
		}
		begins := first
		first = false
		if x.What == walk.Planned || x.What == walk.PageUp || begins && x.What == walk.Resumed {
			continue // the program's own
		}
		if head := d.block(x); head != last || len(out) == 0 {
			out, last = append(out, Part{Head: head}), head
		}
		row := append([]string{d.clock(l.Entry.At)}, d.step(l)...)
		if by := l.Entry.By; who != "" && by != who {
			row[3] = strings.TrimPrefix(row[3]+", "+by, ", ")
		}
		if who == "" {
			who = l.Entry.By
		}
		p := &out[len(out)-1]
		p.Rows = append(p.Rows, row)
	}
	return out
}

// block is the title of the procedure or set-up action that a step stands in.
func (d done) block(x *model.Walked) string {
	if p := d.proc(x.ID); p != nil && p.Title != "" {
		return p.Title
	}
	if x.ID == "" {
		return "Before the first step"
	}
	return d.names.Procedure(x.ID)
}

// proc is a text as it was walked; nil where it is not known.
func (d done) proc(id string) *model.Procedure {
	if d.Walk == nil {
		return nil
	}
	for _, b := range d.Walk.Blocks {
		if b.ID == id {
			return b.Proc
		}
	}
	return nil
}

// gate is the step that was answered, nil where its text is not known. What was owed is named with
// its procedure.
func (d done) gate(x *model.Walked) *model.Step {
	if p := d.proc(x.ID); p != nil {
		if s := p.Step(x.Step); s != nil {
			return s
		}
	}
	if id, step, owed := strings.Cut(x.Step, "."); owed {
		if p := d.proc(id); p != nil {
			return p.Step(step)
		}
	}
	return nil
}

// step gives what was answered: the step, the answer, how it was passed.
func (d done) step(l book.Line) []string {
	x := l.Entry.Walk
	s := d.gate(x)
	name := strings.ReplaceAll(x.Step, "-", " ")
	if s != nil {
		name = s.Words()
	}
	switch x.What {
	case walk.Passed, walk.Early:
		return []string{name, answered(x), passed(x, s)}
	case walk.Missed:
		return []string{name, answered(x), book.Because("missed, "+missed(x.Then), x.Why)}
	case walk.Refused:
		return []string{name, answered(x), book.Because("did not pass", x.Why)}
	case walk.Skipped:
		return []string{name, "", book.Because("skipped", x.Why)}
	case walk.Waiting:
		return []string{name, "", "wait begun, until " + d.clock(x.Until)}
	case walk.Cut:
		return []string{name, "", book.Because("wait cut short", x.Why)}
	case walk.Said:
		return []string{string(x.Variable), answered(x), "said"}
	case walk.Counted:
		return []string{strings.TrimPrefix(x.Item, "in:"), answered(x), "counted"}
	case walk.Back:
		return []string{name, "", "the answer before was taken back"}
	case walk.LeftOut:
		return []string{"the procedure", "", book.Because("left out", x.Why)}
	case walk.Ended:
		return []string{x.Item, x.Answer, "how the old one ended"}
	case walk.Noted:
		return []string{name, x.Answer, "a remark"}
	case walk.Paused, walk.Resumed, walk.Told:
		return []string{"the session", "", book.Because(string(x.What), x.Why)}
	}
	text := strings.ReplaceAll(string(x.What), "-", " ")
	return []string{x.Item, answered(x), book.Because(text, x.Why)}
}

// answered is an answer as it was given, with the unit of a figure.
func answered(x *model.Walked) string {
	switch {
	case x.Number != nil:
		return strings.TrimSpace(model.Figure(*x.Number) + " " + x.Unit)
	case x.Answer == "ok":
		return "done"
	case x.Answer == "-":
		return "nothing"
	}
	return x.Answer
}

// passed says how a step was passed.
func passed(x *model.Walked, s *model.Step) string {
	how := "answered"
	switch {
	case x.How == model.AsKnown:
		return book.Because("known", x.Why)
	case x.Auto:
		return "by the clock"
	case x.Number != nil:
		how = "entered"
	case s == nil:
	case s.Gate == model.Confirm:
		how = "confirmed"
	case s.Gate == model.Choice:
		how = "chosen"
	case s.Gate == model.State:
		how = "said"
	case s.Gate == model.Note:
		how = "written"
	}
	switch x.How {
	case model.AsPage:
		how += ", with its page"
	case model.AsLine:
		how += ", as a row"
	case model.OnPaper:
		how = "told from paper"
	}
	if x.What == walk.Early {
		how += ", while a wait ran"
	}
	if x.From != nil {
		how += ", worked out by " + x.From.By
	}
	return how
}

// misses says what followed a miss.
var misses = map[model.Then]string{
	model.ThenStop: "stopped", model.ThenWait: "read again later", model.ThenRedo: "done again",
	model.ThenPart: "waits for a part", model.ThenFind: "the piece looked for",
	model.ThenLeftOver: "its place looked for", model.ThenPro: "left for a qualified person",
	model.ThenLater: "put off", model.ThenNote: "noted as found",
	model.ThenDue: "other care is due", model.ThenAdd: "other care joined"}

func missed(t model.Then) string {
	if text := misses[t]; text != "" {
		return text
	}
	return string(t)
}
