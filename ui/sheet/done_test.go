package sheet

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

var doneNow = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// walked is a session walked to its end, by the entries of its machine from the day it came.
type walked struct {
	lib     *procedures.Library
	before  []model.Entry
	session []model.Entry
	w       *walk.Walk
}

// past is what was on record of the machine before.
func past(lib *procedures.Library) []model.Entry {
	fs, _ := model.ParseFeatures([]string{"full"})
	f := model.MachineFact{ID: "M1", Name: "Heron", Features: fs, Duty: model.Home,
		Settings: map[string]string{}}
	for _, p := range append(lib.All(), lib.SetUps()...) {
		for _, s := range p.Settings {
			switch {
			case s.Default != "":
				f.Settings[s.Name] = s.Default
			case len(s.Options) > 0:
				f.Settings[s.Name] = s.Options[0]
			case s.Number:
				f.Settings[s.Name] = "5"
			}
		}
	}
	for name, is := range map[string]string{"plug-tag": "H1", "supplies": "1", "slots": "4",
		"whole-count": "5"} {
		f.Settings[name] = is
	}
	reading := func(v float64) model.Fact {
		return model.Fact{Kind: model.KindReading,
			Reading: &model.Reading{Meter: model.Hours, Value: v}}
	}
	var out []model.Entry
	for i, x := range []struct {
		days int
		fact model.Fact
	}{
		{100, model.Fact{Kind: model.KindMachine, Machine: &f}}, {100, reading(50)},
		{60, reading(80)},
		{60, model.Fact{Kind: model.KindSwap,
			Swap: &model.Swapped{Part: "filter", End: "unknown"}}},
		{9, model.Fact{Kind: model.KindValue, Value: &model.Measured{Name: "belt left", Value: 104,
			Unit: "Hz"}}},
		{1, reading(99)},
	} {
		at := doneNow.AddDate(0, 0, -x.days)
		out = append(out, model.Entry{Seq: uint64(i + 1), ID: fmt.Sprint("b", i), At: at,
			Written: at,
			Machine: "M1", Action: fmt.Sprint("p", i), Fact: x.fact})
	}
	return out
}

// walkOne walks some care in steps or pages. Beside good answers it makes a remark, pauses, gives
// an answer that does not pass, skips a step and cuts a wait short, each where that is taken.
func walkOne(t *testing.T, pace string, ids ...string) walked {
	t.Helper()
	lib, _ := procedures.Load("")
	x := walked{lib: lib, before: past(lib)}
	m := model.Fold(x.before).Machines["M1"]
	fs := model.NewFeatureSet(m.Features...)
	p, all, err := plan.Assemble(lib.Get, fs, m.Settings, ids, plan.Request{SetUps: lib.SetUps()})
	if err != nil {
		t.Fatal(err)
	}
	s := walk.Start{Title: "care session", Ask: p.SetUpActions > 0}
	for _, id := range all {
		s.Items = append(s.Items, lib.Get(id).For(fs, m.Settings))
	}
	for _, q := range lib.SetUps() {
		s.SetUps = append(s.SetUps, q.For(fs, m.Settings))
	}
	r := &walktest.Run{M: m, Get: lib.Get, Now: doneNow, Pace: pace, By: "LN"}
	if err := r.Begin(s); err != nil {
		t.Fatal(err)
	}
	done := map[string]bool{}
	try := func(text string) {
		before := len(r.J.Entries)
		if _, err := r.Say(text); err == nil && len(r.J.Entries) > before {
			last := r.J.Entries[before].Walk
			done[text] = last != nil && last.What != walk.Refused
		}
	}
	for range 2000 {
		ask := r.W.Prompt(r.Now)
		if ask.Kind == walk.AskStep && ask.Step.Gate == model.Choice &&
			!done["skip no mirror here"] &&
			r.W.CanSkip() {
			try("skip no mirror here")
			continue
		}
		if ask.Kind == walk.AskStep && !done["note smells of resin"] {
			try("note smells of resin")
			try("pause")
			try("ok")
		}
		if ask.Kind == walk.AskStep && ask.Step.Gate == model.Measure && !done["-900"] {
			try("-900")
			done["-900"] = true
		}
		if ask.Kind == walk.AskWait && !done["cut in a hurry"] {
			try("cut in a hurry")
		}
		step := r.Step
		if pace != "" {
			step = r.PageStep
		}
		over, err := step()
		if err != nil {
			t.Fatal(err)
		}
		if over {
			break
		}
	}
	x.session, x.w = r.J.Entries, r.W
	for i := range x.session {
		e := &x.session[i]
		e.Seq += uint64(len(x.before))
		e.ID, e.Written, e.By = fmt.Sprint("s", i), e.At, "LN"
		if i > len(x.session)/2 {
			e.By = "KB"
		}
	}
	return x
}

// page is the session's page.
func (x walked) page() Doc {
	r := session.Recorded{Walk: x.w,
		Machine: model.Fold(append(x.before, x.session...)).Machines["M1"]}
	names := action.Names{Procs: x.lib.Heads()}
	r.Lines = book.Lines(x.session, names, doneNow)
	return Done(r, names, doneNow)
}

// said is a page as text, blanks as one space.
func said(d Doc) string {
	var all []string
	for _, l := range d.Text(1000) {
		all = append(all, strings.Join(strings.Fields(l.Text), " "))
	}
	return strings.Join(all, "\n")
}

// rowsOf are the rows of the parts behind a head, in their order.
func rowsOf(d Doc) (rows [][]string) {
	for _, p := range d.Parts {
		if len(p.Rows) > 0 && len(p.Rows[0]) == 4 && p.Rows[0][0][2] == ':' {
			rows = append(rows, p.Rows...)
		}
	}
	return rows
}

// TestASessionHasEachGate: each answer of a walked session stands on its page once, in its order,
// with when it was, what was answered and how it passed; and with it what was missed, skipped, cut
// short, remarked and paused.
func TestASessionHasEachGate(t *testing.T) {
	for _, pace := range []string{"", walk.Pages} {
		x := walkOne(t, pace, "fans-blow", "filter-swap", "belts-reset", "blade-check")
		d := x.page()
		rows, n, how := rowsOf(d), 0, map[string]int{}
		for i, e := range x.session {
			s := e.Walk
			if s == nil || s.What == walk.Planned || s.What == walk.PageUp ||
				s.What == walk.Resumed && i == 1 {
				continue
			}
			if n == len(rows) {
				t.Fatalf("%d rows only", n)
			}
			row := strings.Join(rows[n], " | ")
			n++
			for _, want := range []string{e.At.Format("15:04"), s.Why, answered(s)} {
				if !strings.Contains(row, want) {
					t.Errorf("%s %s: %q is not in %q", s.What, s.Step, want, row)
				}
			}
			how[string(s.What)+" "+s.How]++
			if s.What == walk.Passed && s.How == model.AsPage &&
				!strings.Contains(row, "with its page") ||
				s.How == model.AsKnown && !strings.Contains(row, "known: ") {
				t.Errorf("%q does not say how it passed (%s)", row, s.How)
			}
		}
		if n != len(rows) {
			t.Errorf("%d rows, and %d answers", len(rows), n)
		}
		for _, want := range []string{"passed known", "noted ", "paused ", "skipped ", "refused "} {
			if how[want] == 0 {
				t.Errorf("pace %q: nothing was %q: %v", pace, want, how)
			}
		}
		text := said(d)
		for _, want := range []string{"from 2026-11-25 09:00 to ", ", by LN and KB",
			"written at the time", "closed ready", "minutes hands ", "skipped: no mirror here",
			"smells of resin a remark", "at the start power on, ", "at the end power on, ",
			"belt left read 220 Hz at ", "before 104 Hz, 2026-11-16", "counted everything back",
			"filter the old one off, worn, after 19 h, in since 2026-09-26 a new one on",
			"entered", "confirmed", "chosen", "by the clock", "no certified one"} {
			if !strings.Contains(text, want) {
				t.Errorf("pace %q: %q is not on the page", pace, want)
			}
		}
	}
}

// TestASessionToldLater: what was written later says so; what the journal does not hold is not
// there.
func TestASessionToldLater(t *testing.T) {
	x := walkOne(t, "", "camera-clean")
	for i := range x.session {
		x.session[i].Written = x.session[i].At.AddDate(0, 0, 2)
	}
	if text := said(x.page()); !strings.Contains(text, "written later, on 2026-11-27") {
		t.Errorf("it is not said: %s", text[:200])
	}
	x.session[0].Written = x.session[0].At
	if text := said(x.page()); !strings.Contains(text, fmt.Sprintf("but for %d of %d entries",
		len(x.session)-1, len(x.session))) {
		t.Errorf("it is not said: %s", text[:300])
	}
	x.session, x.w = []model.Entry{x.session[0], x.session[len(x.session)-1]}, nil
	d := x.page()
	if text := said(d); !strings.Contains(text, "none of them is on record") ||
		strings.Contains(text, "at the start") || len(rowsOf(d)) > 0 {
		t.Errorf("something is made up:\n%s", text)
	}
}

// TestASessionFitsItsWidth: no line of its page is wider than it is told.
func TestASessionFitsItsWidth(t *testing.T) {
	d := walkOne(t, walk.Pages, "fans-blow", "filter-swap").page()
	for _, w := range []int{38, 60, 78, 110} {
		for _, l := range d.Text(w) {
			if theme.Width(l.Text) > w {
				t.Errorf("%d cells: %q", w, l.Text)
			}
		}
	}
}

// TestWhatAStepSays: whatever became of a step is said, with the reason as it was given.
func TestWhatAStepSays(t *testing.T) {
	five := 5.0
	d := done{now: doneNow}
	for _, c := range []struct {
		w    model.Walked
		want string
	}{
		{model.Walked{What: walk.Passed, Step: "old-out", Answer: "ok"}, "old out|done|answered"},
		{model.Walked{What: walk.Passed, Step: "hz", Number: &five, Unit: "Hz", How: model.OnPaper},
			"hz|5 Hz|told from paper"},
		{model.Walked{What: walk.Passed, Step: "hz", Number: &five, How: model.AsLine,
			From: &model.Worked{By: "belt"}}, "hz|5|entered, as a row, worked out by belt"},
		{model.Walked{What: walk.Early, Step: "wipes", Number: &five, How: model.Alone},
			"wipes|5|entered, while a wait ran"},
		{model.Walked{What: walk.Missed, Step: "seal", Answer: "torn", Then: model.ThenPart,
			Why: "It is torn."}, "seal|torn|missed, waits for a part: It is torn."},
		{model.Walked{What: walk.Refused, Step: "seal", Answer: "2", Why: "Must be 3."},
			"seal|2|did not pass: Must be 3."},
		{model.Walked{What: walk.Cut, Step: "shed", Why: "read cold"},
			"shed||wait cut short: read cold"},
		{model.Walked{What: walk.Waiting, Step: "shed", Until: doneNow.Add(time.Hour)},
			"shed||wait begun, until 10:00"},
		{model.Walked{What: walk.Waiting, Step: "shed", Until: doneNow.AddDate(0, 0, 1)},
			"shed||wait begun, until 2026-11-26 09:00"},
		{model.Walked{What: walk.Skipped, Step: "seal", Why: "no key"}, "seal||skipped: no key"},
		{model.Walked{What: walk.LeftOut, Why: "late"}, "the procedure||left out: late"},
		{model.Walked{What: walk.Back, Step: "seal"}, "seal||the answer before was taken back"},
		{model.Walked{What: walk.Counted, Item: "in:wipes", Number: &five}, "wipes|5|counted"},
		{model.Walked{What: walk.Noted, Step: "seal", Answer: "hums"}, "seal|hums|a remark"},
		{model.Walked{What: walk.Ended, Item: "blade", Answer: "worn"},
			"blade|worn|how the old one ended"},
	} {
		l := book.Line{Entry: model.Entry{At: doneNow,
			Fact: model.Fact{Kind: model.KindWalk, Walk: &c.w}}}
		d.Lines = []book.Line{l}
		if got := strings.Join(d.step(l), "|"); got != c.want {
			t.Errorf("%s: %q, want %q", c.w.What, got, c.want)
		}
	}
	for _, then := range model.Misses {
		if misses[then] == "" {
			t.Errorf("what follows is not said: %s", then)
		}
	}
}
