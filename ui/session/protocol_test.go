package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

// Judging writes nothing and moves nothing; only what is taken does.
func TestJudgingWritesNothing(t *testing.T) {
	s, now := sample(t)
	at, was := s.W.Position(), s.W.Ordinal
	v, err := s.Judge(Answer{Text: "ok"}, *now)
	if err != nil || v.Refusal != "" || len(v.Facts) == 0 {
		t.Fatalf("%+v, %v", v, err)
	}
	if s.W.Position() != at || s.W.Ordinal != was {
		t.Errorf("judging moved it to %s", s.W.Position())
	}
	if _, err := s.Take(v.Reply, *now); err != nil || s.W.Ordinal == was || s.W.Position() == at {
		t.Errorf("taken, it stands at %s: %v", s.W.Position(), err)
	}
}

// What leads elsewhere says where, and comes to something only once it is meant.
func TestWhatLeadsElsewhereIsSaidFirst(t *testing.T) {
	s, now := begun(t, procedures.Open(""), walk.Steps, "fans-blow")
	walked(t, s, now, func(p walk.Prompt) bool {
		return p.Kind == walk.AskStep && s.W.Leads(p.Step, "fail") != ""
	})
	said := Answer{Text: "fail"}
	v, err := s.Judge(said, *now)
	if err != nil || v.Leads == "" || len(v.Facts) > 0 || v.Refusal != "" {
		t.Fatalf("%+v, %v", v, err)
	}
	said.Meant = true
	if v, err = s.Judge(said, *now); err != nil || v.Leads != "" || len(v.Facts) == 0 {
		t.Errorf("meant: %+v, %v", v, err)
	}
}

// A word of command said is one; typed as the answer to a note it is the note.
func TestWhatIsTypedIsNoCommand(t *testing.T) {
	s, now := sample(t)
	walked(t, s, now, atGate(model.Note))
	for _, text := range []string{"pause here next time", "skip", "back"} {
		v, err := s.Judge(Answer{Text: text, Typed: true}, *now)
		if err != nil || v.Refusal != "" || v.Paused || len(v.Facts) == 0 ||
			v.Facts[0].Walk.What != walk.Passed || !strings.Contains(v.Facts[0].Walk.Answer, text) {
			t.Errorf("%q typed: %+v, %v", text, v, err)
		}
	}
	if v, err := s.Judge(Answer{Text: "pause here next time"}, *now); err != nil || !v.Paused {
		t.Errorf("pause said: %+v, %v", v, err)
	}
}

// Row answers one row of a page whatever stands before it; without a text it is as written.
func TestARowIsAnsweredByItsNumber(t *testing.T) {
	s, now := begun(t, procedures.Open(""), walk.Pages, "blade-check")
	var pg *walk.Page
	walked(t, s, now, func(walk.Prompt) bool {
		pg = s.W.Page(s.Context(*now))
		return pg != nil && !pg.Asked() && len(pg.Rows) > 1 && pg.Rows[1].Seen != "" &&
			!pg.Rows[1].Done
	})
	v, err := s.Judge(Answer{Text: Row(2, "")}, *now)
	if err != nil || v.Refusal != "" || len(v.Facts) == 0 ||
		v.Facts[0].Walk.Step != pg.Rows[1].Step.Name {
		t.Errorf("row 2: %+v, %v", v, err)
	}
	if v, err := s.Judge(Answer{Text: Row(99, "")}, *now); err != nil || v.Refusal == "" ||
		len(v.Facts) > 0 {
		t.Errorf("row 99: %+v, %v", v, err)
	}
}

// What a person says of the state is written as one, once nothing is left to say; a guess is
// confirmed, never taken.
func TestTheStateIsToldRowByRow(t *testing.T) {
	s, now := begun(t, procedures.Open(""), walk.Steps, "fans-blow")
	was := s.W.Ordinal
	var f States
	tell := func(text string) walk.Reply {
		t.Helper()
		r, err := s.Tell(&f, text, *now)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	if r := tell("perhaps"); r.Refusal == "" || f.Any() || len(r.Facts) > 0 {
		t.Errorf("perhaps: %+v", r)
	}
	if r, err := s.TellRest(&f, *now); err != nil || r.Refusal == "" || len(r.Facts) > 0 {
		t.Errorf("with rows left free: %+v, %v", r, err)
	}
	rows := s.W.StateRows()
	for i, r := range rows {
		text := walktest.Good(s.W, s.Context(*now), r.Prompt)
		rep := tell(text)
		if last := i == len(rows)-1; last != (len(rep.Facts) > 0) {
			t.Fatalf("row %d of %d: %+v", i+1, len(rows), rep)
		} else if last {
			if _, err := s.Take(rep, *now); err != nil {
				t.Fatal(err)
			}
		}
	}
	if s.W.Ordinal == was || len(s.W.StateRows()) > 0 || f.Any() {
		t.Errorf("rows left: %d", len(s.W.StateRows()))
	}
}

// A part that is called as the state it makes is a row of its own: the cover is off, and one cover
// is out.
func TestAPartCalledAsItsState(t *testing.T) {
	s, now := begun(t, procedures.Open(""), walk.Steps, "fans-blow")
	walked(t, s, now, func(walk.Prompt) bool { return s.W.Ledger().Out["cover"] > 0 })
	*now = now.Add(time.Hour)
	s, err := s.desk.Resume(s.W.ID, *now)
	if err == nil {
		_, err = s.Settle(*now)
	}
	if err != nil {
		t.Fatal(err)
	}
	rows := s.W.StateRows()
	variable := slices.IndexFunc(rows, func(r walk.StateRow) bool {
		return r.Variable == model.Cover
	})
	item := slices.IndexFunc(rows, func(r walk.StateRow) bool { return r.Item == "cover" })
	if variable < 0 || item < 0 {
		t.Fatalf("rows: %+v", rows)
	}
	f := States{At: item}
	if r, err := s.Tell(&f, "1", *now); err != nil || r.Refusal != "" ||
		f.Said(rows[item]) != "1" || f.Said(rows[variable]) != "" {
		t.Errorf("%+v, %v, cover %q", r, err, f.Said(rows[variable]))
	}
}
