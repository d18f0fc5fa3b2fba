package session

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/action"
)

// longest is how long work on paper may have taken: what took longer was more than one session. Over
// midnight it is read so without its day up to half of that: more is likelier a slip.
const longest, overMidnight = 24 * time.Hour, 12 * time.Hour

// ThenAsked asks when work was done that is told from paper, ThenForm is how that is written.
const (
	ThenAsked = "When was it, as " + ThenForm
	ThenForm  = "yesterday 14:00 to 16:10"
)

// between are the ways to write from and to; a dash between two times needs no spaces.
var (
	between = regexp.MustCompile(`(?i)\s+(?:to|until|till)\s+|\s+-\s+|\s*[–—]\s*`)
	dashed  = regexp.MustCompile(`^(.*:[0-9]{2})-([0-9]{1,2}:[0-9]{2})$`)
)

// ReadThen reads when work was done that is told from paper: "yesterday 14:00 to 16:10", "yesterday
// 23:00 to 01:00". Behind a day and a time, a time alone is the first that comes; two times alone
// ended today. Where that cannot be, or is unlikely, the day is asked for. How it was done is told
// later, so that its end lies before now.
func ReadThen(text string, now time.Time) (Then, error) {
	text = strings.TrimSpace(text)
	ends := between.Split(text, 2)
	if m := dashed.FindStringSubmatch(text); len(ends) < 2 && m != nil {
		ends = m[1:]
	}
	if len(ends) < 2 || !timed(ends[0]) || !timed(ends[1]) {
		return Then{}, fmt.Errorf(
			"%q is no from and to: write the times it began and ended, as %s", text, ThenForm)
	}
	t, guessed, err := readEnds(ends[0], ends[1], now)
	if err != nil {
		return t, err
	}
	from, to, took := model.Stamp(t.From, now), model.Stamp(t.To, now), t.To.Sub(t.From)
	switch {
	case took <= 0:
		return t, fmt.Errorf(
			"it cannot end at %s and begin at %s: write when it began, then when it ended", to, from)
	case guessed && took > overMidnight:
		return t, fmt.Errorf("%s ends before it begins: write the day of each where it was over "+
			"midnight, as %s to %s", text, from, to)
	case took > longest:
		return t, fmt.Errorf("%s to %s is more than a day: tell one session at a time", from, to)
	}
	_, err = action.Time(t.To.Format(minute), now) // not in the future
	return t, err
}

// minute is how a day and a time are typed.
const minute = time.DateOnly + " 15:04"

// timed tells whether a time is said, not a day alone.
func timed(text string) bool {
	return strings.Contains(text, ":") || strings.EqualFold(strings.TrimSpace(text), "now")
}

// readEnds reads both ends; guessed says that one was put on another day than what was written
// says, since it was over midnight.
func readEnds(from, to string, now time.Time) (t Then, guessed bool, err error) {
	_, bare := action.OnDay(to, now)
	t.To, err = action.Time(to, now)
	if err != nil && !(bare && errors.Is(err, action.ErrFuture)) {
		return t, false, err
	}
	if _, alone := action.OnDay(from, now); alone {
		if err != nil {
			return t, false, fmt.Errorf("%s has not come today: write the day too, as %s", to, ThenForm)
		}
		t.From, _ = action.OnDay(from, t.To)
		if guessed = t.From.After(t.To); guessed {
			t.From = t.From.AddDate(0, 0, -1)
		}
		return t, guessed, nil
	}
	if t.From, err = action.Time(from, now); err == nil && bare {
		t.To, _ = action.OnDay(to, t.From)
		if guessed = t.To.Before(t.From); guessed {
			t.To = t.To.AddDate(0, 0, 1)
		}
	}
	return t, guessed, err
}

// ChooseThen picks what is told of a session on paper: what was due then, in the order it was
// planned in. A machine that was left open is closed by a session first.
func (d Desk) ChooseThen(m *model.Machine, c Choice, then Then) (Chosen, error) {
	if walk.LeftOpen(m) {
		return Chosen{}, fmt.Errorf(
			"%s was left open by an earlier session: close it first, then tell what was done since",
			m.Name)
	}
	if b := m.Bought; !b.IsZero() && model.Day(then.From, b) < model.Day(b, b) {
		return Chosen{}, fmt.Errorf("%s was bought new on %s, after that: give the day it was done",
			m.Name, model.Day(b, then.From))
	}
	chosen, err := d.Choose(m, c, then.From)
	if errors.Is(err, ErrNothing) {
		err = fmt.Errorf("nothing was due on %s on %s: name what the sheet has with --only, "+
			"or take everything with --all", m.Name, model.Day(then.From, then.From))
	}
	chosen.Then = &then
	return chosen, err
}

// Date says when the procedure that is told now was done; "" is with the session.
func (s *Session) Date(text string, now time.Time) error {
	if strings.TrimSpace(text) == "" {
		s.toldOf, s.toldAt = s.W.Block(), time.Time{}
		return nil
	}
	begun, ended := s.W.Start.In(now.Location()), s.W.Begun.Told.In(now.Location())
	said := ""
	if at, alone := action.OnDay(text, begun); alone {
		said = strings.TrimSpace(text)
		if at.Before(begun) && !at.AddDate(0, 0, 1).After(ended) {
			at = at.AddDate(0, 0, 1) // the work was over midnight
		}
		text = at.Format(minute)
	}
	at, err := action.Time(text, now)
	if err != nil {
		return err
	}
	if at.Before(begun) || at.After(ended) {
		return fmt.Errorf("%s is not within the session, %s to %s: give a time between",
			cmp.Or(said, model.Stamp(at, now)), model.Stamp(begun, now), model.Stamp(ended, now))
	}
	s.toldOf, s.toldAt = s.W.Block(), at
	return nil
}

// Dated is when the procedure that is told now was done, as far as it is told.
func (s *Session) Dated(now time.Time) time.Time { return s.when(now) }

// GoTo goes n rows on among those of the sheet that are not told yet.
func (s *Session) GoTo(n int, now time.Time) {
	p := s.W.Page(s.Context(now))
	if p == nil {
		return
	}
	var open []walk.Row
	at := 0
	for _, r := range p.Rows {
		if r.Now {
			at = len(open)
		}
		if !r.Done {
			open = append(open, r)
		}
	}
	if p.Asked() { // all that are left are ticked: from the end
		at = len(open)
	}
	if len(open) > 0 {
		s.row = open[max(0, min(at+n, len(open)-1))].Step.Name
	}
}

// RowText is what a row of a sheet says: its line, or in a file without lines the whole step.
func RowText(r walk.Row) string { return cmp.Or(r.Step.Line, r.Step.Do) }

// Others are the other answers of a ticked row, in brackets; "" where it has none.
func Others(w *walk.Walk, r walk.Row) string {
	if r.Step.Gate != model.Choice {
		return ""
	}
	words := slices.DeleteFunc(w.Choices(r.Step), func(is string) bool { return is == r.Seen })
	if len(words) == 0 {
		return ""
	}
	return " (else " + model.Listed(words, "or") + ")"
}
