package walk_test

import (
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// TestWhatIsAskedAgainSaysWhy: killed in the middle of a set-up action, its steps are asked anew,
// and the first says since when they do not count.
func TestWhatIsAskedAgainSaysWhy(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "cool", "hot-end")
	if again := r.W.AskedAgain(); again != "" {
		t.Errorf("never broken off: %q", again)
	}
	at := r.W.LastAt.Format("15:04")
	r.Now = r.Now.Add(20 * time.Minute)
	resume(t, r, map[model.Variable]string{model.Heat: "hot"})
	seen := 0
	for range 40 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskStep && r.W.AskedAgain() != "" {
			seen++
			if want := "asked again: broken off at " + at; r.W.AskedAgain() != want {
				t.Errorf("%s: %q, want %q", p.Step.Name, r.W.AskedAgain(), want)
			}
		}
		if p.Kind == walk.AskStep && p.Block.Kind == "care" {
			break
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if seen != 1 {
		t.Errorf("said %d times", seen)
	}
}

// TestWhatAnAnswerLeadsTo is said before it is recorded, for a choice, for fail and where a piece
// is not found; an answer that only goes on leads nowhere.
func TestWhatAnAnswerLeadsTo(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "self-check")
	reach(t, r, "begin", "against")
	if leads := r.W.LeadsTo(r.Context(), "yes"); !strings.Contains(leads,
		"stopped and closed without power") {
		t.Errorf("yes leads to %q", leads)
	}
	if leads := r.W.LeadsTo(r.Context(), "no"); leads != "" {
		t.Errorf("no leads to %q", leads)
	}
	reach(t, r, "self-check", "start")
	if leads := r.W.LeadsTo(r.Context(), "fail"); !strings.Contains(leads, "stopped") {
		t.Errorf("fail leads to %q", leads)
	}
	r = begin(t, lib, machine(lib, "full"), "blade-check")
	reach(t, r, "cover-on", "inside")
	for range 4 {
		say(t, r, "found something")
	}
	if leads := r.W.LeadsTo(r.Context(), "not found"); !strings.Contains(leads, "stopped") {
		t.Errorf("not found leads to %q", leads)
	}
}

// TestReadyIsNotSaidWhileAPartIsAwaited, found in this session or before; with the part in, it is.
func TestReadyIsNotSaidWhileAPartIsAwaited(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Findings = []model.Finding{{ID: "F1", At: start.AddDate(0, 0, -3),
		Found: model.Found{Kind: model.FoundPart, Part: "blade", Text: "No blade left."}}}
	r := begin(t, lib, m, "fans-blow")
	reach(t, r, "close-out", "ready")
	if rep := say(t, r, "ready"); !strings.Contains(rep.Refusal, "blade") {
		t.Errorf("ready: %q", rep.Refusal)
	}
	m.Parts = map[string]*model.PartNow{"blade": {Since: start.AddDate(0, 0, -1)}}
	if rep := say(t, r, "ready"); rep.Refusal != "" {
		t.Errorf("the blade is in, and ready is refused: %s", rep.Refusal)
	}
	finish(t, r)
}

// TestABreakLosesNoScrew: a set-up action begun again after a break counts all there is: fewer
// screws than the book has out, or fewer tools than lay on the roll, do not pass and are not the
// new truth.
func TestABreakLosesNoScrew(t *testing.T) {
	for _, c := range []struct {
		block, step, say, less string
		out                    int // screws
	}{{"cover-off", "screws", "5", "2", 5}, {"unplug", "roll", "7", "6", 0}} {
		t.Run(c.block, func(t *testing.T) {
			r := begin(t, library(t), machine(library(t), "full"), "fans-blow")
			reach(t, r, c.block, c.step)
			if rep := say(t, r, c.say); rep.Refusal != "" {
				t.Fatal(rep.Refusal)
			}
			resume(t, r, map[model.Variable]string{model.Power: "off"})
			reach(t, r, c.block, c.step)
			if rep := say(t, r, c.less); !strings.Contains(rep.Refusal, "before the break") {
				t.Errorf("%s pass for %s: %q", c.less, c.say, rep.Refusal)
			}
			if got := r.W.Ledger().Out["cover screws"]; got != c.out {
				t.Errorf("%d screws on the book, want %d", got, c.out)
			}
			if rep := say(t, r, c.less); (rep.Refusal != "") != (c.out > 0) {
				t.Errorf("%s once more: %q; only tools may be fewer, when it is said twice", c.less,
					rep.Refusal)
			}
		})
	}
}

// TestAPageTakesFewerToolsSaidTwice: the row that refused a count takes it when it is typed once
// more, on a page as by itself, and who walks pages in these tests writes the refusal as a screen
// does.
func TestAPageTakesFewerToolsSaidTwice(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "unplug", "roll")
	say(t, r, "7")
	resume(t, r, map[model.Variable]string{model.Power: "off"})
	reach(t, r, "unplug", "sight")
	r.Pace = walk.Pages
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	refused := 0
	for range 5 {
		if s := r.W.Step(); s == nil || s.Name != "sight" && s.Name != "roll" {
			break
		}
		if _, err := r.PageStep(); err != nil {
			refused++
		}
	}
	if s := r.W.Step(); refused != 1 || s == nil || s.Name == "roll" {
		t.Errorf("refused %d times, and it stands at %v", refused, s)
	}
}
