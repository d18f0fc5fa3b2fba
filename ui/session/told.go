package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/action"
)

// longest is how long work on paper may have taken: what took longer was more than one session.
const longest = 24 * time.Hour

// ReadThen reads when work was done that is told from paper: "yesterday 14:00 to 16:10". Behind
// "to" a time of day alone is one of the day it began on. How it was done is told later, so that
// its end lies before now.
func ReadThen(text string, now time.Time) (Then, error) {
	from, to, ok := strings.Cut(text, " to ")
	if !ok {
		return Then{}, fmt.Errorf(
			"%q is no from and to: write when it began and ended, as yesterday 14:00 to 16:10", text)
	}
	var t Then
	var err error
	if t.From, err = action.Time(from, now); err != nil {
		return t, err
	}
	to = strings.TrimSpace(to)
	if _, err := time.Parse("15:04", to); err == nil {
		to = t.From.Format(time.DateOnly) + " " + to
	}
	if t.To, err = action.Time(to, now); err != nil {
		return t, err
	}
	switch took := t.To.Sub(t.From); {
	case took <= 0:
		return t, fmt.Errorf(
			"it cannot end at %s and begin at %s: write when it began, then when it ended", model.Stamp(t.To, now), model.Stamp(t.From, now))
	case took > longest:
		return t, fmt.Errorf("%s to %s is more than a day: tell one session at a time",
			model.Stamp(t.From, now), model.Stamp(t.To, now))
	}
	return t, nil
}

// ChooseThen picks what is told of a session on paper: what was due then, in the order it was
// planned in. A machine that was left open is closed by a session first.
func (d Desk) ChooseThen(m *model.Machine, c Choice, then Then) (Chosen, error) {
	if LeftOpen(m) {
		return Chosen{}, fmt.Errorf(
			"%s was left open by an earlier session: close it first, then tell what was done since",
			m.Name)
	}
	chosen, err := d.Choose(m, c, then.From)
	chosen.Then = &then
	return chosen, err
}

// Date says when the procedure that is told now was done; "" is with the session.
func (s *Session) Date(text string, now time.Time) error {
	if strings.TrimSpace(text) == "" {
		s.toldAt = time.Time{}
		return nil
	}
	begun, ended := s.W.Start, s.W.Begun.Told.In(now.Location())
	if t, err := time.Parse("15:04", strings.TrimSpace(text)); err == nil {
		text = begun.In(now.Location()).Format(time.DateOnly) + t.Format(" 15:04")
	}
	at, err := action.Time(text, now)
	if err != nil {
		return err
	}
	if at.Before(begun) || at.After(ended) {
		return fmt.Errorf("%s is not within the session, %s to %s: give a time between",
			model.Stamp(at, now), model.Stamp(begun, now), model.Stamp(ended, now))
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
