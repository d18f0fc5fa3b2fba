package walk_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	screenwalk "bench/oilcan/ui/screen/walk"
	"bench/oilcan/ui/session"
)

// pageWalker walks a session page by page through the screens, as a practised hand: rows by enter
// and space, what stands alone by its letter. Each kind of gate is answered wrongly once.
type pageWalker struct {
	d             *screentest.Desk
	at            session.Desk
	now           time.Time
	wrong         map[string]bool
	prompts, keys int
	worked        int      // rows done while a wait ran
	hidden        []string // pages of which something stood outside the window
	last          string
}

// press types, and counts.
func (p *pageWalker) press(keys ...string) { p.keys += pressed(p.d, keys...) }

// step answers what stands on the screen.
func (p *pageWalker) step(s *session.Session) {
	c := s.Context(p.now)
	pr, pg := s.W.Prompt(p.now), s.W.Page(c)
	key := string(pr.Kind) + s.W.Position()
	if pg != nil {
		key = pg.Block.ID + pg.Rows[0].Step.Name
	}
	if key != p.last {
		p.prompts++
		p.last = key
		for n := 0; strings.Contains(p.d.View(), "lines below"); n++ {
			// what stands above is read before a row passes
			p.press("space")
			if again, err := p.at.Open(s.W.ID); err != nil || again.W.Ordinal != s.W.Ordinal ||
				n > 9 {
				p.d.T.Fatalf("%s: a row passed unread, or it does not scroll: %v", key, err)
			}
			p.hidden = append(p.hidden, key)
		}
	}
	row, _ := screenwalk.RowNow(pg)
	if row == nil {
		if keys := stateKeysFor(s, p.now); keys != nil {
			p.press(keys...)
			return
		}
		if w := p.badKeys(s, pr); w != nil {
			before := s.W.Ordinal
			p.d.Keys(w...)
			if again, _ := p.at.Open(s.W.ID); again != nil && again.W.Step() != nil &&
				pr.Step != nil && again.W.Step().Name != pr.Step.Name {
				p.d.T.Fatalf("%s passed by %v after %d", pr.Step.Name, w, before)
			}
			return
		}
		p.press(keysFor(s, pr, walktest.Good(s.W, c, pr), p.now)...)
		return
	}
	switch {
	case row.Seen != "" && row.Rank == model.PlainLine:
		p.press("enter")
	case row.Seen != "":
		p.press("space")
	case row.Step.Gate == model.Choice:
		p.press("1")
	default:
		text := walktest.Good(s.W, c, pr)
		p.press("ctrl+u", text, "enter")
	}
}

// badKeys must not pass what stands alone: enter and space, a letter of no answer, a number it is
// not. Each kind once.
func (p *pageWalker) badKeys(s *session.Session, pr walk.Prompt) []string {
	if pr.Kind != walk.AskStep || !s.W.Alone() || p.wrong[string(pr.Step.Gate)] {
		return nil
	}
	switch pr.Step.Gate {
	case model.Confirm, model.Choice, model.State:
		if len(lettersOf(s, pr)) == 0 {
			return nil
		}
		p.wrong[string(pr.Step.Gate)] = true
		return []string{"enter", "space", "1", "z"}
	case model.Count:
		n, has := s.W.Wanted()
		if !has {
			return nil
		}
		p.wrong[string(pr.Step.Gate)] = true
		return []string{"enter", strconv.Itoa(n + 7), "enter"}
	}
	return nil
}

// work does what may be done while a wait runs: by space, and by no other key. It is false where
// nothing is offered.
func (p *pageWalker) work(s *session.Session) bool {
	offers := s.W.Meanwhile(s.Context(p.now))
	if len(offers) == 0 {
		return false
	}
	p.d.Pass(p.now)
	p.d.Shows("meanwhile", offers[0].Step.Line)
	p.d.Keys("enter", "y")
	if again, err := p.at.Open(s.W.ID); err != nil || again.W.Ordinal != s.W.Ordinal {
		p.d.T.Fatalf("enter did %s while a wait runs: %v", offers[0].Step.Name, err)
	}
	for strings.Contains(p.d.View(), "read on") { // a long list is seen to its end first
		p.press("space")
	}
	p.press("space")
	if again, _ := p.at.Open(s.W.ID); len(again.W.Meanwhile(again.Context(p.now))) != len(
		offers)-1 {
		p.d.T.Fatalf("%s is not done:\n%s", offers[0].Step.Name, p.d.View())
	}
	p.worked++
	return true
}

// TestAPagedSessionThroughTheScreens walks to the summary in pages, at the size of an old terminal
// and at a large one, with wrong keys at every kind of what stands alone.
func TestAPagedSessionThroughTheScreens(t *testing.T) {
	t.Parallel()
	for _, size := range []screentest.Size{{W: 80, H: 24}, {W: 120, H: 40}} {
		p := &pageWalker{now: screentest.Now, wrong: map[string]bool{}}
		d, at, m := screentest.Session(t, func() time.Time { return p.now })
		at.Pace, d.E.Desk.Pace = walk.Pages, walk.Pages
		p.d, p.at = d, at
		d.Send(tea.WindowSizeMsg{Width: size.W, Height: size.H})
		c, err := at.Choose(d.Bench().Machines[m.ID],
			session.Choice{Only: []string{"rods-wipe", "blade-check", "belts-reset",
				"fans-blow"}}, p.now)
		if err != nil {
			t.Fatal(err)
		}
		s, err := at.Begin(d.Bench().Machines[m.ID], c, p.now)
		if err != nil {
			t.Fatal(err)
		}
		d.Look()
		d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
		for n := 0; ; n++ {
			if s, err = at.Open(s.W.ID); err != nil {
				t.Fatal(err)
			}
			pr := s.W.Prompt(p.now)
			if pr.Kind == walk.AskOver {
				break
			}
			if n > 600 {
				t.Fatalf("%dx%d: the session does not end:\n%s", size.W, size.H, d.View())
			}
			p.now = p.now.Add(10 * time.Second)
			if pr.Kind == walk.AskWait {
				if p.work(s) {
					continue
				}
				p.now = p.now.Add(pr.Left)
			}
			d.Pass(p.now)
			if pr.Kind != walk.AskNone && pr.Kind != walk.AskWait {
				p.step(s)
			}
		}
		t.Logf("%dx%d: %d prompts, %d keys; more than the window: %v", size.W, size.H, p.prompts,
			p.keys, p.hidden)
		d.Shows("closed")
		if p.worked == 0 {
			t.Error("no wait was of use")
		}
		for _, gate := range []string{"confirm", "choice", "state", "count"} {
			if !p.wrong[gate] {
				t.Errorf("no %s that stands alone was answered wrongly", gate)
			}
		}
	}
}
