package walk

import (
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Page is the run of rows of one block up to its next hold, which is the page's last row. Nothing
// of it is passed before it was shown.
type Page struct {
	Block *Block
	Rows  []Row
	// what stands alone behind the rows; nil where a wait, or another block, follows
	Hold     *model.Step
	Wait     *model.Step // the wait behind the rows: it stands below them while it runs
	End      bool        // all is answered, and how the old part was is asked below
	Cautions []Shown     // of the rows, above them
	Beside   []Shown     // of the hold, beside it
	Floor    time.Time   // all rows at once pass from here on: a page is read before it is passed
}

// Row is one step as the row of a page.
type Row struct {
	Step   *model.Step
	No     int // by which it is answered: its place, and on a sheet told of the number it has there
	Rank   model.Rank
	Seen   string // its ordinary answer as written at the right; "" where there is none
	Answer string // what was said, where it is done; numbers are not shown again
	Done   bool
	Left   bool // passed over, with a reason: nothing of it was done
	Now    bool // the row that is answered next

	List []LayItem // what is to be laid out, where that is the row
	Book []string  // what the record says, where the row compares the machine with it
}

// How long a page stands before all its rows pass at once: a second, and the time to run over each
// row.
const (
	pageStands = time.Second
	rowStands  = 300 * time.Millisecond
)

// maxBriefs is how many cautions stand on a page at most; where more apply, it is cut in two.
const maxBriefs = 5

// openPage is a page that came up. Broken off in its middle, each of its rows was perhaps done.
type openPage struct {
	block string // key
	rows  []string
	whole []string
	at    time.Time
}

// Page gives the page the walk stands at, nil where its step stands alone.
func (w *Walk) Page(c Context) *Page {
	kind := w.Prompt(c.Now).Kind
	if kind == AskEnd {
		return w.endPage()
	}
	if w.telling {
		return w.toldPage(c)
	}
	b, s := w.Block(), w.Step()
	if s == nil || w.open == nil || w.open.block != b.key || !w.inPages(c) || kind != AskStep &&
		(kind != AskWait || s.Gate != model.Wait) {
		return nil
	}
	p := w.pageDone(b)
	rows, hold := w.rowsAhead(c, b)
	if len(rows) == 0 && !w.behind(b, p.Rows) {
		return nil // what stands behind the rows was answered: the next one stands by itself
	}
	for n, i := range rows {
		x := &b.Proc.Steps[i]
		seen, _ := w.ordinary(c, b, x, nil)
		p.Rows = append(p.Rows, Row{Step: x, Rank: x.Rank(), Seen: seen, Now: n == 0,
			List: w.ListOf(b.ID, x), Book: w.InBook(c.Machine, b.ID, x)})
		p.Floor = p.Floor.Add(rowStands)
	}
	for i := range p.Rows {
		p.Rows[i].No = i + 1
	}
	p.Cautions = w.shown(c, b, rowSteps(p.Rows))
	if hold >= 0 && b.Proc.Steps[hold].Gate == model.Wait {
		p.Wait, hold = &b.Proc.Steps[hold], -1
		p.Beside = except(w.shown(c, b, []*model.Step{p.Wait}), p.Cautions)
	}
	if hold >= 0 {
		p.Hold = &b.Proc.Steps[hold]
		p.Beside = except(w.shown(c, b, []*model.Step{p.Hold}), p.Cautions)
	}
	return p
}

// pageDone is the page that came up last, with those of its rows that are done.
func (w *Walk) pageDone(b *Block) *Page {
	p := &Page{Block: b, Floor: w.open.at.Add(pageStands)}
	for _, name := range w.open.rows {
		if i := stepIndex(b, name); i >= 0 && w.passed[stepKey(b.key, name)] {
			p.Rows = append(p.Rows, w.doneRow(b, i))
		}
	}
	return p
}

// endPage is the last page of a block that renewed a part, with what stood behind its rows: how the
// old one was is asked below them.
func (w *Walk) endPage() *Page {
	b := w.blockOf(w.unended)
	if b == nil || w.open == nil || w.open.block != b.key {
		return nil
	}
	p := w.pageDone(b)
	p.End = true
	last := -1
	for _, n := range w.open.rows {
		last = max(last, stepIndex(b, n))
	}
	for i := last + 1; i < len(b.Proc.Steps); i++ {
		k := stepKey(b.key, b.Proc.Steps[i].Name)
		if w.passed[k] && w.how[k].how != model.AsKnown {
			p.Rows = append(p.Rows, w.doneRow(b, i))
		}
	}
	return p
}

// Asked tells whether all rows are done, so that what stands behind them is asked now.
func (p *Page) Asked() bool {
	return !slices.ContainsFunc(p.Rows, func(r Row) bool { return r.Now })
}

func rowSteps(rows []Row) []*model.Step {
	var out []*model.Step
	for _, r := range rows {
		out = append(out, r.Step)
	}
	return out
}

// doneRow is a row that was passed. A number that is counted again behind it is not shown.
func (at *progress) doneRow(b *Block, i int) Row {
	s := &b.Proc.Steps[i]
	if at.skips[stepKey(b.key, s.Name)] != "" {
		return Row{Step: s, Rank: s.Rank(), Answer: "skipped", Done: true, Left: true}
	}
	text := at.answers[stepKey(b.key, s.Name)].Text
	if s.Gate == model.Count && s.Meter == "" {
		text = "counted"
	}
	switch a := at.answers[stepKey(b.key, s.Name)]; {
	case a.Number == nil:
	case s.Gate == model.Measure:
		text = model.Figure(*a.Number) + " " + s.Unit
	case s.Gate == model.Count && s.Meter != "":
		text = model.Number(*a.Number)
	}
	if s.Gate == model.Confirm && len(s.Seen) > 0 {
		text = s.Seen[0].Is
	}
	return Row{Step: s, Rank: s.Rank(), Answer: text, Done: true}
}

// rowsAhead gives the steps from here to the next hold, as the ordinary answers lay them, and the
// hold or wait itself: -1 where the end of the block follows. It is cut where more cautions would
// stand on it than are read.
func (w *Walk) rowsAhead(c Context, b *Block) (rows []int, hold int) {
	said := map[string]string{}
	var steps []*model.Step
	for i := range b.Proc.Steps {
		s := &b.Proc.Steps[i]
		if w.passed[stepKey(b.key, s.Name)] || !w.expects(b, s.Only, said) {
			continue
		}
		if s.Gate == model.Wait {
			return rows, i
		}
		if s.Rank() == model.Hold {
			return rows, w.holdFrom(c, b, i)
		}
		if w.passesKnown(c, i) {
			continue // it passes by itself when the walk comes to it
		}
		if steps = append(steps, s); len(rows) > 0 && w.crowded(b, steps) {
			return rows, -1
		}
		rows = append(rows, i)
		if _, answer := w.ordinary(c, b, s, said); answer != "" {
			said[s.Name] = answer
		}
	}
	return rows, -1
}

// holdFrom is the first hold from a step on that is asked; -1 where other work comes first. One
// that passes by what is known is not shown as asked, and ends the rows all the same: what is done
// in them may yet change it.
func (w *Walk) holdFrom(c Context, b *Block, i int) int {
	for ; i < len(b.Proc.Steps); i++ {
		s := &b.Proc.Steps[i]
		switch {
		case w.passed[stepKey(b.key, s.Name)] || !w.applies(b, s.Only) || w.passesKnown(c, i):
		case s.Rank() == model.Hold && s.Gate != model.Wait:
			return i
		default:
			return -1
		}
	}
	return -1
}

// expects tells whether a condition on an earlier answer holds, with the answers foreseen beside
// those given.
func (at *progress) expects(b *Block, o model.Only, said map[string]string) bool {
	if o.Step == "" || at.applies(b, o) {
		return true
	}
	return slices.Contains(o.Is, said[o.Step])
}

// ordinary gives a row's ordinary answer, as it is written and as it is judged; both are empty
// where it has none: typed, decided anew each time, or with a finding open on it.
func (at *progress) ordinary(c Context, b *Block, s *model.Step, said map[string]string) (seen,
	answer string) {
	if s.Decision || s.Typed() || s.Gate == model.State || s.Gate == model.Wait ||
		s.Rank() == model.Hold || findingOn(c.Machine, b, s) {
		return "", ""
	}
	for _, x := range s.Seen {
		if !at.expects(b, x.Only, said) {
			continue
		}
		if s.Gate == model.Confirm {
			return x.Is, "ok"
		}
		return x.Is, x.Is
	}
	return "", ""
}

// findingOn tells whether something was found at a step of the machine, and is open still.
func findingOn(m *model.Machine, b *Block, s *model.Step) bool {
	return m != nil && slices.ContainsFunc(m.Findings, func(f model.Finding) bool {
		return f.Procedure != "" && f.Procedure == subject(b, s) && f.Step == stepOf(b, s)
	})
}

// stepOf is a step's name in the file it comes from.
func stepOf(b *Block, s *model.Step) string {
	if b.Kind == model.BlockOwed {
		if _, name, ok := strings.Cut(s.Name, "."); ok {
			return name
		}
	}
	return s.Name
}

func stepIndex(b *Block, name string) int {
	return slices.IndexFunc(b.Proc.Steps, func(s model.Step) bool { return s.Name == name })
}

// pageFact says that a page comes up, with the rows not passed yet; nil where none does, or the one
// that stands holds them all.
func (w *Walk) pageFact(c Context) *model.Walked {
	b := w.Block()
	if b == nil || !w.inPages(c) {
		return nil
	}
	rows, _ := w.rowsAhead(c, b)
	if len(rows) == 0 {
		return nil
	}
	var names []string
	var steps []*model.Step
	for _, i := range rows {
		names, steps = append(names, b.Proc.Steps[i].Name), append(steps, &b.Proc.Steps[i])
	}
	if o := w.open; o != nil && o.block == b.key &&
		!slices.ContainsFunc(names, func(n string) bool { return !slices.Contains(o.rows, n) }) {
		return nil
	}
	x := &model.Walked{What: PageUp, Rows: names}
	at := *w
	if at.open != nil && (at.open.block != b.key || !w.sameRun(b, at.open)) {
		at.open = nil // what stood in full on the page before does not stand so on this one
	}
	for _, s := range at.shown(c, b, steps) {
		if s.Whole && s.ID != "" {
			x.Whole = append(x.Whole, s.ID)
		}
	}
	return x
}

// foldPage takes a page that came up; rows of the one before in the same block stay on it.
func (w *Walk) foldPage(e model.Entry, x *model.Walked) {
	b := w.Block()
	if b == nil {
		return
	}
	o := &openPage{block: b.key, at: e.At}
	if last := w.open; last != nil && last.block == b.key && w.sameRun(b, last) &&
		!w.crowded(b, w.stepsOf(b, append(slices.Clone(last.rows), x.Rows...))) {
		o.rows, o.whole = slices.Clone(last.rows), slices.Clone(last.whole)
	}
	for _, n := range x.Rows {
		if !slices.Contains(o.rows, n) {
			o.rows = append(o.rows, n)
		}
	}
	for _, id := range x.Whole {
		o.whole = append(o.whole, id)
		w.whole[id] = true
	}
	w.open = o
}

// crowded tells whether more cautions stand with steps than are read on one page; those that the
// lines say do not count.
func (w *Walk) crowded(b *Block, steps []*model.Step) bool {
	n := 0
	for _, x := range w.cautionsOf(b, steps) {
		if !w.leftToLine(b, steps, x) {
			n++
		}
	}
	return n > maxBriefs
}

// stepsOf gives the steps of a block by their names.
func (w *Walk) stepsOf(b *Block, names []string) []*model.Step {
	var out []*model.Step
	for _, n := range names {
		if i := stepIndex(b, n); i >= 0 {
			out = append(out, &b.Proc.Steps[i])
		}
	}
	return out
}

// sameRun tells whether a page is still being passed: no hold came after it.
func (at *progress) sameRun(b *Block, o *openPage) bool {
	return slices.ContainsFunc(o.rows, func(n string) bool {
		return !at.passed[stepKey(b.key, n)]
	}) || at.lastKey == stepKey(b.key, o.rows[len(o.rows)-1])
}

// Ordinary is the ordinary answer of the current step, as it is written; "" where it has none or
// stands alone.
func (at *progress) Ordinary(c Context) string {
	b, s := at.Block(), at.Step()
	if s == nil || !paged(b.Proc) {
		return ""
	}
	seen, _ := at.ordinary(c, b, s, nil)
	return seen
}

// Alone tells whether the current step is a hold of a text written for pages: it is answered by the
// letter of its answer, or typed, and no key passes it that passes rows.
func (at *progress) Alone() bool {
	b, s := at.Block(), at.Step()
	return s != nil && paged(b.Proc) && s.Rank() == model.Hold && !at.telling
}

// passesKnown tells whether a step of the current block would pass by what is known, if the walk
// stood at it.
func (w *Walk) passesKnown(c Context, i int) bool {
	at := *w
	at.StepAt = i
	return at.knownAnswer(c) != nil
}
