package session

import (
	"maps"
	"time"

	"bench/oilcan/model/walk"
)

// States is what was said so far of the machine's state, row by row; nothing of it is written
// before all rows have an answer or are confirmed as guessed.
type States struct {
	At   int               // the row that is answered next
	said map[string]string // by row
}

// Now is the row that is answered next.
func (f *States) Now(rows []walk.StateRow) walk.StateRow { return rows[min(f.At, len(rows)-1)] }

// Move goes n rows on, round and round.
func (f *States) Move(rows []walk.StateRow, n int) { f.At = (f.At + n + len(rows)) % len(rows) }

// Said is what was said of a row, "" where nothing.
func (f *States) Said(r walk.StateRow) string { return f.said[rowKey(r)] }

// With is what was said, and a text of the row that is answered next.
func (f *States) With(rows []walk.StateRow, text string) States {
	told := States{At: f.At, said: maps.Clone(f.said)}
	if told.said == nil {
		told.said = map[string]string{}
	}
	told.said[rowKey(f.Now(rows))] = text
	return told
}

// Any tells whether anything was said.
func (f *States) Any() bool { return len(f.said) > 0 }

// Lacking is the first row from i on, round and round, that has neither an answer nor a guess; -1
// where none has.
func (f *States) Lacking(rows []walk.StateRow, i int) int {
	for n := range rows {
		if j := (i + n) % len(rows); f.Said(rows[j]) == "" && rows[j].Guess == "" {
			return j
		}
	}
	return -1
}

// a part may be called as the variable that says whether it is on
func rowKey(r walk.StateRow) string { return string(r.Variable) + "/" + r.Item }

// answers are those of all rows, said or guessed: what is said and what is counted must agree.
// guessed tells whether any is a guess.
func (f *States) answers(rows []walk.StateRow) (as []walk.StateAnswer, guessed bool) {
	for _, r := range rows {
		text := f.Said(r)
		if text == "" {
			text, guessed = r.Guess, guessed || r.Guess != ""
		}
		if text != "" {
			as = append(as, walk.StateAnswer{Variable: r.Variable, Item: r.Item, Text: text})
		}
	}
	return as, guessed
}

// Tell takes what is said of the row that is answered next, and goes on to the next that has
// neither an answer nor a guess. The reply has facts to write where that was the last and none is a
// guess, which a person confirms; and where power that is on has to go before anything else is
// asked.
func (s *Session) Tell(f *States, text string, now time.Time) (walk.Reply, error) {
	c, rows := s.Context(now), s.W.StateRows()
	r, told := f.Now(rows), f.With(rows, text)
	as, guessed := told.answers(rows)
	rep, err := s.W.AnswerStates(c, as)
	if err != nil || rep.Refusal != "" {
		return walk.Reply{Refusal: rep.Refusal}, err
	}
	if said := (walk.StateAnswer{Variable: r.Variable, Text: text}); s.W.Urgent(c, said) {
		*f = States{}
		return s.W.AnswerStates(c, []walk.StateAnswer{said})
	}
	switch next := told.Lacking(rows, f.At+1); {
	case next >= 0:
		told.At = next
	case guessed:
		told.At = f.At
	default:
		*f = States{}
		return rep, nil
	}
	*f = told
	return walk.Reply{}, nil
}

// TellRest says that the rows left free stand as they were left. Those of which nobody may guess
// are answered first.
func (s *Session) TellRest(f *States, now time.Time) (walk.Reply, error) {
	rows := s.W.StateRows()
	if i := f.Lacking(rows, 0); i >= 0 {
		what := string(rows[i].Variable)
		if what == "" {
			what = walk.ItemWords(rows[i].Item)
		}
		return walk.Reply{Refusal: "Answer first: " + what + ". Nobody may guess it, so it is said every time."}, nil
	}
	as, _ := f.answers(rows)
	*f = States{}
	return s.W.AnswerStates(s.Context(now), as)
}
