package walk_test

import (
	"slices"
	"strconv"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/ui/screen/screentest"
	screenwalk "bench/oilcan/ui/screen/walk"
	"bench/oilcan/ui/session"
)

// Plan, every prompt of a whole session, and the summary keep within every size.
func TestASessionAtEverySize(t *testing.T) {
	t.Parallel()
	now := screentest.Now
	d, at, m := screentest.Session(t, func() time.Time { return now })
	d.Keys("c")
	d.Fits(screentest.EverySize...)
	d.Keys("?")
	d.Fits(screentest.EverySize...)
	d.Keys("esc")
	for i := 0; d.Bench().Machines[m.ID].Session == ""; i++ {
		d.Keys("enter")
		d.Fits(screentest.EverySize...)
		if i > 40 {
			t.Fatalf("the session does not begin:\n%s", d.View())
		}
	}
	id := d.Bench().Machines[m.ID].Session
	seen := map[string]bool{}
	for range 1500 {
		s, err := at.Open(id)
		if err != nil {
			t.Fatal(err)
		}
		p := s.W.Prompt(now)
		kind := string(p.Kind)
		if p.Step != nil {
			kind += string(p.Step.Gate)
		}
		if !seen[kind] {
			seen[kind] = true
			d.Fits(screentest.EverySize...)
		}
		d.Fits(screentest.Size{W: 40, H: 10}, screentest.Size{W: 80, H: 24},
			screentest.Size{W: 120, H: 40})
		if p.Kind == walk.AskOver {
			break
		}
		now = now.Add(5 * time.Second)
		if p.Kind == walk.AskWait {
			now = now.Add(p.Left)
		}
		d.Pass(now)
		if p.Kind != walk.AskNone && p.Kind != walk.AskWait {
			reply(d, s, p, now)
		}
	}
	if len(seen) < 7 {
		t.Errorf("only these prompts were met: %v", seen)
	}
	d.Shows("closed 2026-11-25")
	d.Fits(screentest.EverySize...)
}

// reply gives the right answer by keys.
func reply(d *screentest.Desk, s *session.Session, p walk.Prompt, now time.Time) {
	text := walktest.Good(s.W, s.Context(now), p)
	if keys := stateKeysFor(s, now); keys != nil {
		d.Keys(keys...)
		return
	}
	keys := keysFor(s, p, text, now)
	if p.Kind == walk.AskStep && p.Step.Rank() == model.MarkedLine &&
		slices.Equal(keys, []string{"space"}) {
		d.Keys("enter") // it is marked: its own key, after a look
		d.Shows("enter does nothing here: space as written")
	}
	d.Keys(keys...)
}

// stateKeysFor are the keys that answer all that is asked of the state on one screen; nil where it
// is not.
func stateKeysFor(s *session.Session, now time.Time) []string {
	p, rows := s.W.Prompt(now), s.W.StateRows()
	if p.Kind != walk.AskState && p.Kind != walk.AskLedger || len(rows) < 2 ||
		rows[0].Variable != p.Variable {
		return nil
	}
	keys := []string{"ctrl+u"} // whatever of an earlier try was heard
	guessed := false
	for _, r := range rows {
		if r.Guess != "" {
			guessed = true
			continue
		}
		text := walktest.Good(s.W, s.Context(now), r.Prompt)
		if screenwalk.ModeOf(r.Prompt) != screenwalk.PickOption {
			for _, k := range keysFor(s, r.Prompt, text, now) {
				if k != "ctrl+u" {
					keys = append(keys, k)
				}
			}
			continue
		}
		for _, a := range screenwalk.Lettered(r.Prompt.Options) {
			if a.Says() == text {
				keys = append(keys, string(a.Letter()))
			}
		}
	}
	if guessed {
		keys = append(keys, "space")
	}
	return keys
}

// keysFor are the keys that give an answer at a prompt: the letter of what stands alone, the digit
// of a choice, y behind one that leads elsewhere; anything typed with enter.
func keysFor(s *session.Session, p walk.Prompt, text string, now time.Time) []string {
	sure := func(keys ...string) []string {
		if p.Step != nil && s.W.Leads(p.Step, text) != "" {
			return append(keys, "y")
		}
		return keys
	}
	if p.Kind == walk.AskEnd {
		for _, a := range screenwalk.Lettered(p.Options) {
			if a.Says() == text {
				return []string{string(a.Letter())}
			}
		}
	}
	if p.Kind == walk.AskStep {
		for _, a := range lettersOf(s, p) {
			if a.Says() == text {
				return sure(string(a.Letter()))
			}
		}
	}
	switch screenwalk.ModeOf(p) {
	case screenwalk.PickOption:
		digit := strconv.Itoa(slices.Index(p.Options, text) + 1)
		if p.Kind == walk.AskStep && (s.W.Ordinary(s.Context(now)) != "" || p.Step.Decision) {
			return sure(digit)
		}
		return []string{digit, "enter"}
	case screenwalk.TypeNumber, screenwalk.TypeText:
		if text == "hot" {
			return []string{"h"}
		}
		return []string{"ctrl+u", text, "enter"}
	}
	if p.Kind == walk.AskStep && s.W.Ordinary(s.Context(now)) != "" {
		return []string{"space"} // one that is marked is passed by no other key
	}
	return []string{"enter"}
}

// lettersOf are the answers of what stands alone.
func lettersOf(s *session.Session, p walk.Prompt) []screenwalk.Answer {
	if !s.W.Alone() {
		return nil
	}
	return screenwalk.AnswersOf(p)
}
