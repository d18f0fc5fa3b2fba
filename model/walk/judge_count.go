package walk

import (
	"fmt"
	"slices"
	"strconv"

	"bench/oilcan/model"
)

func (w *Walk) judgeCount(c Context, s *model.Step, text string) Reply {
	if s.Optional && notRead(text) {
		return w.passed1(model.Walked{What: Passed, Answer: "not read"})
	}
	if r, ok := w.judgeCounter(c, s, text); ok {
		return r
	}
	t, err := model.ReadNumber(text)
	v := t.Count().Value
	if err != nil || t.Unit != "" || !model.Whole(v) {
		return refuse("Type how many, a whole number and nothing else.")
	}
	if r := badReading(c, s, v); r != "" {
		return w.refusedFact(text, r)
	}
	n := int(v)
	if want, has := w.wanted(s); has && n != want {
		must := "it must be " + strconv.Itoa(want)
		if hides(s) {
			must = "it must be another number"
		}
		if _, _, once := w.Correctable(); once {
			must = "by the record of this machine " + must
		}
		say := fmt.Sprintf("You count %d; %s.", n, must)
		return w.miss(c, s.Miss, missed{answer: text, number: &v, say: say, over: n > want && want > 0, hides: hides(s)})
	}
	if s.Min != nil && n < *s.Min || s.Max != nil && n > *s.Max {
		return w.miss(c, s.Miss,
			missed{answer: text, number: &v, say: fmt.Sprintf("You count %d; it must be %s.", n,
				countRange(s))})
	}
	if n > manyOfOne && (movesAnswer(s.Out) || movesAnswer(s.In)) && !w.saysAgain(text) {
		return w.refusedFact(text, fmt.Sprintf(
			"%d is many: count again. If it is right, type it once more.", n))
	}
	if r := w.fewer(s, n, text); r != "" {
		return w.refusedFact(text, r)
	}
	x := model.Walked{What: Passed, Answer: strconv.Itoa(n), Number: &v}
	r := Reply{Facts: append([]model.Fact{w.walked(x)}, w.readingFacts(s, v, nil, nil)...)}
	if _, is, once := w.Correctable(); once && is < 0 {
		r.Note = notOnRecord
	} else if w.uncompared(s) {
		r.Note = notCompared
	}
	return r
}

// manyOfOne is how many of one thing are taken out of a machine or put into it at most, a slip of
// the finger apart (from memory).
const manyOfOne = 20

// movesAnswer tells whether a step books as many of an item as are counted.
func movesAnswer(items map[string]model.Amount) bool {
	for _, a := range items {
		if a.Answer {
			return true
		}
	}
	return false
}

// fewer says why a set-up action that begins again after a break cannot count fewer than it did:
// the book would lose what is out of the machine or in it. Fewer tools are taken when said twice.
// "" where it can.
func (w *Walk) fewer(s *model.Step, n int, text string) string {
	before, again := w.countedBefore(s)
	if w.Block().Kind != model.BlockSetUp || s.Equal != nil || !again {
		return ""
	}
	for _, moved := range []struct {
		prefix string
		items  map[string]model.Amount
	}{{"", s.Out}, {insidePrefix, s.In}} {
		for item, amount := range moved.items {
			if have := w.total(moved.prefix + item); amount.Answer && n < have {
				return fmt.Sprintf("You count %d, and %d are on the book: count all of them, those from before the break too. "+
					"If there are fewer by now, pause and say so when you go on.", n, have)
			}
		}
	}
	if len(s.Out)+len(s.In) == 0 && n < before && (!w.saysAgain(text) || w.againAt != s.Name) {
		return fmt.Sprintf(
			"You count %d, and it was %d before the break: look for the rest, inside too. "+
				"If none is missing, type %d once more.", n, before, n)
	}
	return ""
}

// countedLast is the latest answer of this session to a count, or to another that goes by it,
// though the action it stood in was broken off since: what was counted once is what the next count
// goes by.
func (w *Walk) countedLast(count string) (a Answered, ok bool) {
	for i := len(w.entries) - 1; i >= 0; i-- {
		x := w.entries[i].Walk
		if x == nil || x.What != Passed || x.Number == nil {
			continue
		}
		by := x.ID+"/"+x.Step == count
		if p := w.setUp(x.ID); p != nil && !by {
			at := slices.IndexFunc(p.Steps, func(s model.Step) bool { return s.Name == x.Step })
			by = at >= 0 && p.Steps[at].Equal != nil && p.Steps[at].Equal.Count == count
		}
		if by {
			return Answered{At: w.entries[i].At, Text: x.Answer, Number: x.Number}, true
		}
	}
	return Answered{}, false
}

// uncompared tells whether a count that goes by another one has none to go by: the machine was open
// before this session, and only the person knows.
func (w *Walk) uncompared(s *model.Step) bool {
	if s.Equal == nil {
		return false
	}
	_, _, other := s.Equal.Elsewhere()
	_, has := w.wanted(s)
	return other && !has
}

// notCompared is said of such a count once it was taken.
const notCompared = "This session has no earlier count of the tools to hold it against: an empty place on the roll is a tool in the machine. Look once more."

// notOnRecord is said of a count that goes by a number of the machine which nobody knows.
const notOnRecord = "How many there must be is not on record: it is held against nothing. Look that none is missed, and say the number once it is known."

// countedBefore is the number the current step was passed with before the session was broken off.
func (w *Walk) countedBefore(s *model.Step) (n int, ok bool) {
	passed := false
	for _, e := range w.entries {
		x := e.Walk
		switch {
		case x == nil:
		case x.What == Resumed:
			ok = ok || passed
		case x.What == Passed && x.Number != nil && x.ID == w.Block().ID && x.Step == s.Name:
			// its place may be another now
			n, passed, ok = int(*x.Number), true, false
		}
	}
	return n, ok
}

func countRange(s *model.Step) string {
	switch {
	case s.Min != nil && s.Max != nil:
		return fmt.Sprintf("%d to %d", *s.Min, *s.Max)
	case s.Min != nil:
		return fmt.Sprintf("at least %d", *s.Min)
	}
	return fmt.Sprintf("at most %d", *s.Max)
}

// hides tells whether a count keeps the number it wants to itself until it is typed: who is told
// the number does not count. A file of before steps had a line goes on as it was.
func hides(s *model.Step) bool {
	return s.Gate == model.Count && s.Line != "" && s.Meter == ""
}

// closing tells whether a count closes the machine: what came out is back, what went in is out.
func closing(s *model.Step) bool { return hides(s) && s.Rank() == model.Hold }

// Wanted is what the current count must equal, where that is fixed.
func (w *Walk) Wanted() (n int, has bool) {
	if s := w.Step(); s != nil && s.Gate == model.Count {
		return w.wanted(s)
	}
	return 0, false
}

func (w *Walk) wanted(s *model.Step) (int, bool) {
	e := s.Equal
	switch {
	case e == nil:
		return 0, false
	case e.Number != nil:
		return *e.Number, true
	case e.Count != "":
		a, ok := w.answers[stepKey(w.Block().key, e.Count)]
		if id, step, other := e.Elsewhere(); other {
			if a, ok = w.AnswerAt(id, step); !ok { // never asked, it was opened before this session
				a, ok = w.countedLast(e.Count)
			}
		}
		if ok && a.Number != nil {
			return int(*a.Number), true
		}
		return 0, false
	case e.Setting != "":
		v, ok := model.SettingNumber(w.Begun.Settings[e.Setting])
		return int(v), ok
	case e.Ledger != "":
		n := w.total(e.Ledger) + w.total(insidePrefix+e.Ledger)
		// taken out before this session, only the person knows
		return n, n != 0 || w.Block().Kind != model.BlockSetUp
	}
	return 0, false
}
