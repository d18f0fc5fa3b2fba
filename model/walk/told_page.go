package walk

import (
	"slices"
	"strings"

	"bench/oilcan/model"
)

// toldPage is one procedure as it stands on the sheet: all its rows, what stands alone among them,
// each by the number it has there. What a tick was enough for is ticked; what was written, counted
// or chosen is told.
func (w *Walk) toldPage(c Context) *Page {
	b := w.Block()
	if b == nil || w.needs || w.paused {
		return nil
	}
	p := &Page{Block: b}
	said := map[string]string{}
	for i := range b.Proc.Steps {
		s := &b.Proc.Steps[i]
		k := stepKey(b.key, s.Name)
		row := Row{Step: s}
		switch {
		case w.passed[k]:
			row = w.doneRow(b, i)
			if s.Gate == model.Count && s.Meter == "" && !row.Left {
				row.Answer = w.answers[k].Text // the sheet has it anyway
			}
		case !w.expects(b, s.Only, said):
			continue
		default:
			var answer string
			if row.Seen, answer = w.ticked(c, b, s, said); answer != "" {
				said[s.Name] = answer
			}
		}
		row.No, row.Rank = i+1, model.PlainLine
		p.Rows = append(p.Rows, row)
	}
	if i := toldNext(p.Rows, c.Row); i >= 0 {
		p.Rows[i].Now = true
	}
	return p
}

// toldNext is the place of the row told next: the one that is gone to, else the first that wants an
// answer; -1 where a tick does for all that are left.
func toldNext(rows []Row, goneTo string) int {
	i := slices.IndexFunc(rows, func(r Row) bool { return !r.Done && r.Step.Name == goneTo })
	if i < 0 {
		i = slices.IndexFunc(rows, func(r Row) bool { return !r.Done && r.Seen == "" })
	}
	return i
}

// ticked is what a tick says of a row, as it is written and as it is judged; both are empty where a
// tick is not enough: what is read, counted or decided, what a finding stands on, and in a proof
// whatever it proves by.
func (w *Walk) ticked(c Context, b *Block, s *model.Step, said map[string]string) (seen,
	answer string) {
	switch {
	case s.Gate == model.State:
		return s.Value, s.Value
	case s.Gate == model.Wait:
		return waitedOn, waitedOn
	case s.Gate == model.Note && mayBeBlank(s):
		return "-", "-"
	case s.Typed() || s.Decision || findingOn(c.Machine, b, s) ||
		b.Proc.Kind == model.Proof && (s.Gate == model.Choice || s.Rank() == model.Hold):
		return "", ""
	}
	for _, x := range s.Seen {
		if w.expects(b, x.Only, said) && s.Gate == model.Choice {
			return x.Is, x.Is
		} else if w.expects(b, x.Only, said) {
			return x.Is, "ok"
		}
	}
	if s.Gate == model.Confirm {
		return "done", "ok"
	}
	return "", ""
}

// tellVerbs are the words of command in a telling; skip says of a row that it was not done.
var tellVerbs = []string{"pause", "back", "leave", "note"}

// tell takes what is said of the sheet: ok ticks all up to the first row that wants an answer, #3
// grey tells one row, anything else the row told next.
func (w *Walk) tell(c Context, text string) (Reply, error) {
	p := w.Page(c)
	if p == nil {
		return refuse("Nothing is told here now."), nil
	}
	n, answer, ok := numbered(text)
	next := slices.IndexFunc(p.Rows, func(r Row) bool { return r.Now })
	switch {
	case ok && n == 0:
		return refuse("Type # and the number of a row, then what was: #3 grey."), nil
	case ok:
		return w.AnswerRow(c, n, answer)
	case next < 0 && (text == "" || model.IsYes(text)):
		return w.PassPage(c)
	case next < 0:
		return refuse("A tick does for all rows left: ok; or # and a row's number, then what was."),
			nil
	}
	row := p.Rows[next]
	if row.Seen == "" && row.Step.Gate != model.Confirm && (text == "" || model.IsYes(text)) {
		return refuse("Row %d wants what was: %s.", row.No, w.wantedOf(row.Step)), nil
	}
	return w.AnswerRow(c, row.No, text)
}

// tellRow tells one row, and that those before it were as they are ticked, in one action.
func (w *Walk) tellRow(c Context, p *Page, i int, text string) (Reply, error) {
	var facts []model.Fact
	at := w
	for _, r := range p.Rows[:i] {
		answer := rowAnswer(r)
		if r.Done || answer == "" {
			continue
		}
		if x := at.judgeAt(c, r.Step, answer, model.OnPaper); x.Refusal == "" {
			facts = append(facts, x.Facts...)
			at = w.after(c, facts)
		}
	}
	s := p.Rows[i].Step
	if b := at.Block(); b == nil || b.key != p.Block.key || !at.applies(b, s.Only) {
		return refuse("That row does not stand any more, as it was told: look again."), nil
	}
	r := at.judgeAt(c, s, strings.TrimSpace(text), model.OnPaper)
	if r.Refusal != "" {
		return w.complete(c, r)
	}
	r.Facts = append(facts, r.Facts...)
	return w.complete(c, r)
}

// wantedOf names what is told of a row that no tick tells.
func (w *Walk) wantedOf(s *model.Step) string {
	switch {
	case s.Gate == model.Choice:
		return model.Listed(w.Choices(s), "or")
	case s.Optional:
		return "its figure, or not read"
	case s.Gate == model.Note:
		return "what was written, - for nothing"
	case s.Typed():
		return "its figure"
	}
	return "ok, or skip and why"
}

// Asked is the step that is answered next: of a sheet that is told, that of its row; nil where none
// wants an answer.
func (w *Walk) Asked(c Context) *model.Step {
	if !w.telling {
		return w.Step()
	}
	if p := w.toldPage(c); p != nil {
		if i := toldNext(p.Rows, c.Row); i >= 0 {
			return p.Rows[i].Step
		}
	}
	return nil
}
