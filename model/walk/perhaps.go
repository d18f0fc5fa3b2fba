package walk

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"bench/oilcan/model"
)

// span is how many of an item may be out of the machine, or in it, after a page was broken off:
// from what the book says before its rows to what it would say after them.
type span struct {
	least, most int
	open        bool // how many a row takes is known only to who counts them there
	rows        []perhapsBy
}

// perhapsBy is a row of care that may have moved an item, and how many at most.
type perhapsBy struct {
	key  string
	most int
}

// perhapsDone books what the rows of a page broken off may have brought about: what they take out
// or put in is asked for, flags that make things worse are set. What an earlier break left to be
// counted is asked for again.
func (w *Walk) perhapsDone() {
	o := w.open
	w.open = nil
	for _, item := range slices.Sorted(maps.Keys(w.perhaps)) {
		w.askPerhaps(item, w.perhaps[item])
	}
	b := w.Block()
	if o == nil || b == nil || b.key != o.block {
		return
	}
	for _, n := range o.rows {
		if i := stepIndex(b, n); i >= 0 && !w.passed[stepKey(b.key, n)] {
			w.perhapsRow(b, &b.Proc.Steps[i])
		}
	}
}

func (w *Walk) perhapsRow(b *Block, s *model.Step) {
	for _, e := range s.Effects() {
		switch v := model.Variable(e.Name); {
		case e.Kind == model.TakesOut:
			w.askPerhaps(e.Name, w.moreBy(b, s, e.Name, e.Amount))
		case e.Kind == model.PutsIn:
			w.askPerhaps(insidePrefix+e.Name, w.moreBy(b, s, insidePrefix+e.Name, e.Amount))
		case e.Kind == model.BringsBack:
			w.lessBy(b, s, e.Name, e.Amount)
		case e.Kind == model.TakesAgain:
			w.lessBy(b, s, insidePrefix+e.Name, e.Amount)
		case !e.Worse():
		case e.Kind == model.SetsFlag:
			w.flags[e.Name] = e.Value
		case e.Kind == model.SetsState && v.Latched():
			w.believe(v, e.Value, w.LastAt)
		}
	}
}

// spanOf is how many of an item may be there: as many as the book says, save what a page broken off
// may have moved.
func (bk *book) spanOf(item string) span {
	if sp, ok := bk.perhaps[item]; ok {
		return sp
	}
	n := bk.total(item)
	return span{least: n, most: n}
}

// moreBy is how many of an item may be there where a row took some out, or put some in. A set-up
// action counts all there is.
func (w *Walk) moreBy(b *Block, s *model.Step, item string, a model.Amount) span {
	sp, key := w.spanOf(item), stepKey(b.key, s.Name)
	n, known := w.mostOf(b, s, a)
	switch {
	case !known:
		sp.open, n = true, math.MaxInt
	case b.Kind == model.BlockSetUp:
		sp.most = max(sp.most, n)
	default:
		n = max(0, n-w.moves[key][item])
		sp.most += n
	}
	if b.Kind == model.BlockCare {
		sp.rows = append(slices.Clip(sp.rows), perhapsBy{key, n})
	}
	return sp
}

// lessBy notes how few of an item may be there where a row brought some back.
func (w *Walk) lessBy(b *Block, s *model.Step, item string, a model.Amount) {
	sp := w.spanOf(item)
	if sp.least == 0 {
		return
	}
	n, known := w.mostOf(b, s, a)
	if !known {
		n = sp.least
	}
	sp.least = max(0, sp.least-n)
	w.askPerhaps(item, sp)
}

// mostOf is the most that an amount of a row not answered yet can be; known is false where nothing
// limits it.
func (w *Walk) mostOf(b *Block, s *model.Step, a model.Amount) (n int, known bool) {
	switch {
	case a.Count != "":
		if n := w.answers[stepKey(b.key, a.Count)].Number; n != nil {
			return int(*n), true
		}
		return 0, false
	case !a.Answer:
		return a.N, true
	}
	if n, ok := w.wanted(s); ok {
		return n, true
	}
	if s.Max != nil {
		return *s.Max, true
	}
	return 0, false
}

// perhapsMoved books what was counted beyond the book by the rows that may have moved it: passed
// again, they move it no second time.
func (bk *book) perhapsMoved(item string, n int) {
	for _, by := range bk.perhaps[item].rows {
		more := min(by.most, n-bk.total(item))
		if more <= 0 {
			continue
		}
		if bk.moves[by.key] == nil {
			bk.moves[by.key] = map[string]int{}
		}
		bk.moves[by.key][item] += more
	}
}

func (bk *book) askPerhaps(item string, sp span) {
	bk.perhaps[item] = sp
	if !slices.Contains(bk.toCount, item) {
		bk.toCount = append(bk.toCount, item)
	}
}

// bookSays is what the book says of an item, and what a page broken off may have made of it.
func (bk *book) bookSays(item string, want int) string {
	says := fmt.Sprintf("the book says %d", want)
	switch sp, perhaps := bk.perhaps[item]; {
	case !perhaps:
	case sp.open:
		says += ", and how many the page broken off moved nobody typed"
	case sp.most > want:
		says += fmt.Sprintf(", at most %d with the page broken off", sp.most)
	case sp.least < want:
		says += fmt.Sprintf(", at least %d with the page broken off", sp.least)
	}
	return says
}
