package command

import (
	"regexp"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/measure"
	"bench/oilcan/ui/measured"
	"bench/oilcan/ui/session"
)

// calculator says what works out the value that is asked, and what was last read of it.
func (w *walker) calculator(s *session.Session) {
	k := s.Calculator(w.now())
	if k == nil {
		return
	}
	if last := s.Last(w.now()); last != "" {
		w.say("  last %s", last)
	}
	w.say("  = NAME=VALUE… works it out: oilcan measure %s says what it asks", k.By)
}

// said is what a line answers: itself, or behind = what a calculator makes of its figures. ok is
// false where nothing is answered.
func (w *walker) said(s *session.Session, text string) (a session.Answer, ok bool) {
	figures, is := strings.CutPrefix(strings.TrimSpace(text), "=")
	k := s.Calculator(w.now())
	if !is || k == nil {
		return session.Answer{Text: text}, true
	}
	work := measured.New(measure.Find(measured.All(), k.By), k, s.Machine, s.Said)
	var r measure.Result
	err := work.Type(pairsIn(figures))
	if err == nil {
		r, err = work.Result()
	}
	if err != nil {
		w.say("  not worked out: %s", err)
		return a, false
	}
	v := work.Value(r)
	if v == nil {
		w.say("  not worked out: give what is measured too")
		return a, false
	}
	for _, l := range measured.Lines(r, 76) {
		w.say("  %s", l)
	}
	w.say("Take %s %s? (y | anything else: back to the question)", model.Figure(v.Value), v.Unit)
	if yes, _ := w.in.next(); !strings.EqualFold(strings.TrimSpace(yes), "y") {
		w.say("  not taken")
		return a, false
	}
	return session.Answer{Text: model.Digits(v.Value), From: v.From}, true
}

// figure begins one figure of a line.
var figure = regexp.MustCompile(`(^|\s)[a-z][a-z0-9-]*=`)

// pairsIn sets the figures of a line apart: a value goes on to the next name.
func pairsIn(text string) []string {
	var out []string
	at := figure.FindAllStringIndex(text, -1)
	for i, x := range at {
		end := len(text)
		if i+1 < len(at) {
			end = at[i+1][0]
		}
		out = append(out, strings.TrimSpace(text[x[0]:end]))
	}
	return out
}
