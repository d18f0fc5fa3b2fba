package command

import (
	"cmp"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/ui/session"
)

// sheet prints the rows of a procedure that is told from paper, by the numbers they have there: all
// of them once, then the one that is told next.
func (w *walker) sheet(s *session.Session, all bool) {
	p := s.W.Page(s.Context(w.now()))
	if p == nil {
		return
	}
	if all {
		w.say("\n%s · done %s (at TIME, where it was another)", s.W.Position(),
			model.Stamp(s.Dated(w.now()), w.now()))
		if e := s.W.Elsewhere(s.Machine); e != "" {
			w.say("  note: %s", e)
		}
	}
	says := "ok: all that is left is ticked"
	for _, r := range p.Rows {
		mark, right := "x", cmp.Or(r.Answer, r.Seen)
		switch {
		case r.Now:
			mark, says = ">", "what the row marked > was"
		case right == "":
			mark = " "
		case !r.Done:
			right += session.Others(s.W, r)
		}
		if all || r.Now {
			w.say("  %s %d. %s: %s", mark, r.No, session.RowText(r), cmp.Or(right, rowForm(s.W, r.Step)))
		}
	}
	w.say("Sheet (%s | #N what was | #N skip WHY | leave WHY):", says)
}

// dated takes when the procedure that is told was done; false where that is not what was said.
func (w *walker) dated(s *session.Session, text string) bool {
	verb, when, _ := strings.Cut(strings.TrimSpace(text), " ")
	if !s.W.TellsPast() || !strings.EqualFold(verb, "at") {
		return false
	}
	if err := s.Date(when, w.now()); err != nil {
		w.say("  not taken: %s", err)
		return true
	}
	w.say("  done %s", model.Stamp(s.Dated(w.now()), w.now()))
	return true
}
