package walk_test

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// begunFans are the screens of a bench with a session begun to blow out the fans.
func begunFans(t *testing.T) (*screentest.Desk, *session.Session) {
	t.Helper()
	d, at, m := screentest.Session(t, func() time.Time { return screentest.Now })
	c, err := at.Choose(m, session.Choice{Only: []string{"fans-blow"}}, screentest.Now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, screentest.Now)
	if err != nil {
		t.Fatal(err)
	}
	return d, s
}

// What an answer leads to is offered back: esc takes the answer back and stays in the session.
func TestEscTakesTheAnswerBackNotTheSession(t *testing.T) {
	now := screentest.Now
	d, s := begunFans(t)
	if _, err := s.Settle(now); err != nil {
		t.Fatal(err)
	}
	for p := s.W.Prompt(now); p.Kind == walk.AskState; p = s.W.Prompt(now) {
		say(t, s, walktest.Good(s.W, s.Context(now), p), now)
	}
	d.Look()
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	d.Keys("y")
	d.Shows("y: so it is; esc: never mind")
	d.Keys("esc")
	d.Shows("Open on this machine:")
	d.Hides("so it is")
}

// Who leaves a session by esc has paused it, and is not asked at the next opening whether another
// program is at it.
func TestEscPausesTheSession(t *testing.T) {
	d, s := begunFans(t)
	d.Look()
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	d.Shows("How does the machine stand?")
	d.Keys("esc")
	d.Hides("How does the machine stand?")
	b, err := d.S.Bench()
	if err != nil {
		t.Fatal(err)
	}
	if x := b.Sessions[s.W.ID]; x == nil || !x.Paused {
		t.Fatalf("left by esc the session is %+v", x)
	}
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID}})
	d.Shows("How does the machine stand?")
	d.Hides("another program")
}

// ordinary tells whether what is asked has an ordinary answer, and stated whether the state is told.
func ordinary(s *session.Session) bool { return s.W.Ordinary(s.Context(screentest.Now)) != "" }
func stated(s *session.Session) bool   { return s.W.Prompt(screentest.Now).Kind != walk.AskState }

// fansWhere is the screen of a session to blow out the fans, answered well until something is so.
func fansWhere(t *testing.T, so func(*session.Session) bool) *screentest.Desk {
	t.Helper()
	now := screentest.Now
	d, s := begunFans(t)
	if _, err := s.Settle(now); err != nil {
		t.Fatal(err)
	}
	for !so(s) {
		say(t, s, walktest.Good(s.W, s.Context(now), s.W.Prompt(now)), now)
	}
	d.Look()
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	return d
}

// Enter behind a number that is no answer passes nothing: it was to confirm the number.
func TestEnterBehindAWrongNumberPassesNothing(t *testing.T) {
	d := fansWhere(t, ordinary)
	was := d.View()
	d.Keys("7", "enter")
	d.Shows("That number is none of the answers")
	d.Keys("up")
	if title, _, _ := strings.Cut(was, "\n\n"); !strings.HasPrefix(d.View(), title) {
		t.Errorf("it went on:\n%s", d.View())
	}
}

// TestEnterOfHabit: a letter or a figure is taken without enter. One that comes behind it all the
// same, by habit, passes nothing; one that comes after a thought does.
func TestEnterOfHabit(t *testing.T) {
	d := fansWhere(t, ordinary)
	press := func(key tea.KeyMsg, at time.Duration) {
		d.Send(screen.Stamped{Key: key, At: screentest.Now.Add(at)})
	}
	title := func() string { head, _, _ := strings.Cut(d.View(), "\n\n"); return head }
	enter := screentest.KeyNames["enter"]
	press(screentest.Runes("7"), 0)
	press(enter, 400*time.Millisecond)
	d.Shows("That number is none of the answers")
	press(screentest.Runes("7"), 10*time.Second)
	press(enter, 15*time.Second)
	d.Hides("none of the answers") // it is an enter like any other
	was := title()
	press(screentest.Runes(" "), 20*time.Second)
	press(screentest.Runes("1"), 25*time.Second)
	if title() == was {
		t.Fatalf("nothing passes:\n%s", d.View())
	}
	was = title()
	press(enter, 25*time.Second+500*time.Millisecond)
	d.Shows("Enter belonged to the key before it")
	if title() != was {
		t.Errorf("an enter of habit passes:\n%s", d.View())
	}
}

// TestOneKeyPassesOneHold: the letter of a hold, or enter at a step of its own, pressed again within
// the same breath passes nothing that came up meanwhile.
func TestOneKeyPassesOneHold(t *testing.T) {
	d := fansWhere(t, stated)
	d.Shows("Open on this machine", "n no")
	press := func(key string, at time.Duration) {
		d.Send(screen.Stamped{Key: screentest.Runes(key), At: screentest.Now.Add(at)})
	}
	press("n", 0)
	d.Shows("Blow with")
	press("n", 500*time.Millisecond)
	d.Shows("Blow with", "Read it first")
	press("n", 1500*time.Millisecond)
	d.Hides("Blow with:")
}

// While a wait runs, an answer that leads elsewhere says where to, and its y is an answer to what
// was offered, not to the wait.
func TestAnAnswerOfferedInAWaitIsTaken(t *testing.T) {
	now := screentest.Now
	st, err := store.Open(filepath.Join(t.TempDir(), "bench.db"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	lib, problems := procedures.Load(filepath.Join("testdata", "meanwhile"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	m := screentest.FullMachine(t, st, lib, now)
	at := session.Desk{Store: st, Lib: lib, By: "LN"}
	c, err := at.Choose(m, session.Choice{Only: []string{"beside", "rods-wipe"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	offered := func() []string { // the keys to what is looked for
		var keys []string
		for _, o := range s.W.Meanwhile(s.Context(now)) {
			if o.Block.ID == "beside" {
				return append(keys, "2")
			}
			keys = append(keys, "down")
		}
		return nil
	}
	for range 200 {
		if _, err := s.Settle(now); err != nil {
			t.Fatal(err)
		}
		p := s.W.Prompt(now)
		if p.Kind == walk.AskWait && offered() != nil {
			break
		}
		if p.Kind == walk.AskWait {
			now = p.Wait.Until
			continue
		}
		say(t, s, walktest.Good(s.W, s.Context(now), p), now)
	}
	keys := offered()
	if keys == nil {
		t.Fatal("no wait offers the packs")
	}
	d := screentest.Open(t, st, 80, 24,
		screen.Deps{Store: st, Library: lib, Theme: theme.New(theme.Options{Dark: true}),
			Now: func() time.Time {
				return now
			}, Real: screentest.Afresh(), Operator: "LN", Desk: at})
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	d.Keys(keys...)
	d.Shows("order drying packs", "y: so it is")
	d.Keys("esc")
	d.Hides("y: so it is")
	d.Keys("2", "y")
	d.Hides("y: so it is")
	if s, err = at.Open(s.W.ID); err != nil {
		t.Fatal(err)
	}
	if offered() != nil {
		t.Error("the packs are offered still")
	}
}
