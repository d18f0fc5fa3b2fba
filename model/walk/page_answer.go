package walk

import (
	"slices"
	"strings"

	"bench/oilcan/model"
)

// PassLine answers the row that comes next as it is written.
func (w *Walk) PassLine(c Context) (Reply, error) {
	p := w.Page(c)
	if p == nil {
		return refuse("No page stands here."), nil
	}
	i := slices.IndexFunc(p.Rows, func(r Row) bool { return r.Now })
	if i < 0 {
		return refuse("All rows are done: answer what is asked below them."), nil
	}
	return w.AnswerRow(c, p.Rows[i].No, "")
}

// AnswerRow answers one row of the page, by its number from 1; "" is its ordinary answer.
func (w *Walk) AnswerRow(c Context, n int, text string) (Reply, error) {
	p := w.Page(c)
	i := p.place(n)
	switch {
	case p == nil:
		return refuse("No page stands here."), nil
	case i < 0 && w.telling:
		return refuse("No row of this sheet has the number %d, as it was told so far.", n), nil
	case i < 0:
		return refuse("Rows are 1 to %d.", len(p.Rows)), nil
	case p.Rows[i].Done:
		return refuse("Row %d is answered: take the last answer back to answer it anew.", n), nil
	case !model.Showable(text):
		return refuse(unshown), nil
	}
	s := p.Rows[i].Step
	if text == "" {
		if text = rowAnswer(p.Rows[i]); text == "" {
			return refuse("%s", wantsAnswer(s)), nil
		}
	}
	if w.telling {
		return w.tellRow(c, p, i, text)
	}
	return w.complete(c, w.judgeAt(c, s, text, model.AsLine))
}

// rowAnswer is a row's ordinary answer as it is judged, "" where it has none.
func rowAnswer(r Row) string {
	if r.Seen != "" && r.Step.Gate == model.Confirm {
		return "ok"
	}
	return r.Seen
}

func wantsAnswer(s *model.Step) string {
	switch s.Gate {
	case model.Measure, model.Count:
		return "This row is typed: read it, and type it."
	case model.Note:
		return "This row is typed; - where there is nothing to say."
	}
	return "This row has no ordinary answer: choose one of its own."
}

// judgeAt judges an answer at a step of the page, wherever the walk stands on it.
func (w *Walk) judgeAt(c Context, s *model.Step, text, how string) Reply {
	at := *w
	at.StepAt = stepIndex(w.Block(), s.Name)
	if at.againAt != s.Name {
		at.again = "" // said of another row
	}
	judge := at.judgeStep
	if at.telling {
		judge, how = at.judgeTold, model.OnPaper
	}
	r := judge(c, s, text)
	for _, f := range r.Facts {
		if f.Walk != nil && slices.Contains([]model.What{Passed, Missed, Skipped}, f.Walk.What) {
			f.Walk.How = how
		}
	}
	return r
}

// PassPage passes the rows left, as they are written, up to the first that wants a key or an answer
// of its own, in one action. A page is not passed faster than it is read.
func (w *Walk) PassPage(c Context) (Reply, error) {
	p := w.Page(c)
	if p == nil {
		return refuse("No page stands here."), nil
	}
	if !c.Unhurried && c.Now.Before(p.Floor) {
		return refuse("Read it first: all rows at once pass when the page has stood for a moment."),
			nil
	}
	var facts []model.Fact
	at := w
	for _, r := range p.Rows {
		if r.Done {
			continue
		}
		answer := rowAnswer(r)
		if answer == "" || r.Rank != model.PlainLine {
			break
		}
		if b := at.Block(); b == nil || stepIndex(b, r.Step.Name) < 0 {
			break // what has passed ends the block: what is left is asked where it stands then
		}
		x := at.judgeAt(c, r.Step, answer, model.AsPage)
		if x.Refusal != "" {
			break
		}
		facts = append(facts, x.Facts...)
		at = w.after(c, facts)
	}
	if len(facts) > 0 {
		return w.complete(c, Reply{Facts: facts})
	}
	for _, r := range p.Rows {
		if w.telling && !r.Done {
			return refuse("Row %d wants what was: %s.", r.No, w.wantedOf(r.Step)), nil
		}
		if !r.Done && r.Rank == model.MarkedLine {
			return refuse("This row wants its own key: look, then space."), nil
		} else if !r.Done {
			return refuse("%s", wantsAnswer(r.Step)), nil
		}
	}
	return refuse("All rows are done: answer what is asked below them."), nil
}

// PageAnswer is an answer typed at a page: ok passes the rows left as they are written, #3 grey
// answers one row, anything else the row that comes next, or the hold behind the rows.
func (w *Walk) PageAnswer(c Context, text string) (Reply, error) {
	p := w.Page(c)
	if w.telling && p != nil && !p.End {
		return w.Answer(c, text)
	}
	if p == nil || p.Asked() && w.Prompt(c.Now).Kind == AskWait {
		return w.Answer(c, text) // what it says of a number is of what may be done meanwhile
	}
	if n, answer, ok := numbered(text); ok {
		if n == 0 {
			return refuse("Type # and the number of a row, then its answer: #3 grey."), nil
		}
		return w.AnswerRow(c, n, answer)
	}
	next := slices.IndexFunc(p.Rows, func(r Row) bool { return r.Now })
	if next < 0 || w.Prompt(c.Now).Commands(text) {
		return w.Answer(c, text)
	}
	if model.IsYes(text) {
		return w.PassPage(c)
	}
	return w.AnswerRow(c, p.Rows[next].No, text)
}

// place is the place of the row with a number, -1 where there is none.
func (p *Page) place(n int) int {
	if p == nil {
		return -1
	}
	return slices.IndexFunc(p.Rows, func(r Row) bool { return r.No == n })
}

// answers gives the step an answer typed at a page is for, the hold behind its rows where those are
// done, and what it says of it; nil where there is no such row.
func (p *Page) answers(hold *model.Step, text string) (s *model.Step, says string) {
	if n, says, ok := numbered(text); ok {
		if i := p.place(n); i >= 0 {
			return p.Rows[i].Step, says
		}
		return nil, ""
	}
	if i := slices.IndexFunc(p.Rows, func(r Row) bool { return r.Now }); i >= 0 {
		return p.Rows[i].Step, text
	}
	return hold, text
}

// numbered reads the number of a row and what answers it: #3 grey. n is 0 where # is followed by no
// number.
func numbered(text string) (n int, answer string, ok bool) {
	rest, ok := strings.CutPrefix(strings.TrimSpace(text), "#")
	if !ok {
		return 0, "", false
	}
	no, answer, _ := strings.Cut(rest, " ")
	v, err := model.ReadNumber(no)
	if err != nil || !model.Whole(v.Count().Value) {
		return 0, "", true
	}
	return int(v.Count().Value), strings.TrimSpace(answer), true
}

// isVerb tells a word of command from an answer.
func isVerb(text string) bool {
	verb, _, _ := strings.Cut(strings.ToLower(strings.TrimSpace(text)), " ")
	return slices.Contains(model.SessionWords, verb)
}

// seek stands the walk at the step a fact names: rows of a page are answered in any order.
func (at *progress) seek(x *model.Walked) {
	b, s := at.Block(), at.Step()
	if b == nil || s == nil || x.Step == "" || x.ID != b.ID || s.Name == x.Step {
		return
	}
	if i := stepIndex(b, x.Step); i >= 0 && !at.passed[stepKey(b.key, x.Step)] {
		at.StepAt = i
	}
}
