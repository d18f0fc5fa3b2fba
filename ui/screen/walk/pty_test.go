package walk_test

import (
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/store/storetest"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/rooms"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// movedClock is a clock that the test moves.
type movedClock struct {
	mu sync.Mutex
	at time.Time
}

func (c *movedClock) now() time.Time { c.mu.Lock(); defer c.mu.Unlock(); return c.at }

func (c *movedClock) add(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = c.at.Add(d)
}

// bot works the program through a pseudo terminal as a person would: it looks at the data file to
// know which gate stands, and types.
type bot struct {
	seen  *lockedBuffer
	t     *testing.T
	keys  io.Writer
	clock *movedClock
	desk  session.Desk
	m     *model.Machine
	wrong map[model.Gate]bool // gates already answered wrongly once
	start time.Time           // by the machine's own clock
}

// TestAWholeSessionThroughATerminal plans, begins and walks a session on the screens from the bench
// to the summary, with every kind of gate answered wrongly once.
func TestAWholeSessionThroughATerminal(t *testing.T) {
	t.Parallel() // it mostly waits
	lib, problems := procedures.Load("")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	clock := &movedClock{at: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)}
	st, err := store.Open(filepath.Join(t.TempDir(), "b.oilcan"), clock.now)
	if err != nil {
		t.Fatal(err)
	}
	desk := session.Desk{Store: st, Lib: lib, By: "LN"}
	m := screentest.FullMachine(t, st, lib, clock.now())
	ptmx, tty, err := pty.Open()
	if err != nil {
		storetest.Lacks(t, "a pseudo terminal", err)
	}
	defer ptmx.Close()
	if err := pty.Setsize(ptmx, &pty.Winsize{Rows: 24, Cols: 80}); err != nil {
		t.Fatal(err)
	}
	var seen lockedBuffer
	go io.Copy(&seen, ptmx)
	ended := make(chan error, 1)
	go func() {
		ended <- screen.Run(screen.Deps{Store: st, Library: lib,
			Theme: theme.New(theme.Options{Dark: true, Profile: theme.ANSI256}),
			Now:   clock.now, Real: screentest.Afresh(), Operator: "LN", Desk: desk, Rooms: rooms.Open}, screen.Terminal{In: tty, Out: tty, Name: "xterm-256color"})
	}()
	b := &bot{t: t, keys: ptmx, clock: clock, desk: desk, m: m, wrong: map[model.Gate]bool{},
		start: time.Now()}
	b.seen = &seen
	b.begin(&seen)
	b.walk()
	if !seen.within("closed 2026-11-25") {
		t.Errorf("the summary does not show:\n%s", seen.tail(2000))
	}
	b.press("\r")
	if !seen.within("most pressing") {
		t.Errorf("the bench does not show again:\n%s", seen.tail(2000))
	}
	b.press("q")
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(slowest):
		t.Error("q on the bench does not end the program")
		tty.Close()
	}
	for _, g := range []model.Gate{model.State, model.Measure, model.Choice, model.Count} {
		if !b.wrong[g] {
			t.Errorf("no %s gate was answered wrongly", g)
		}
	}
	rep, err := st.Check()
	if err != nil || len(rep.Problems) > 0 {
		t.Errorf("check: %v %v", err, rep.Problems)
	}
}

// press types; what is looked for from here on is what is drawn after it.
func (b *bot) press(keys ...string) {
	b.seen.from()
	for _, k := range keys {
		if _, err := io.WriteString(b.keys, k); err != nil {
			b.t.Fatal(err)
		}
	}
}

// begin opens the plan from the bench and begins the session.
func (b *bot) begin(seen *lockedBuffer) {
	b.t.Helper()
	if !seen.within("Heron") {
		b.t.Fatal("the bench does not show")
	}
	b.press("c")
	for !b.until(func() bool { return seen.has("shortest order", "in this order") }) {
		if b.late() {
			b.t.Fatalf("the plan does not show:\n%s", seen.tail(2000))
		}
		b.press("c") // it came while the bench was still being read
	}
	for !b.late() { // of what is asked before
		b.press("\r")
		b.until(func() bool { return b.session() != "" || seen.drew() })
		if b.settles(); b.session() != "" {
			return
		}
	}
	b.t.Fatalf("the session does not begin:\n%s", seen.tail(2000))
}

// late tells whether the bot has waited longer than any machine takes.
func (b *bot) late() bool { return time.Since(b.start) > slowest }

// slowest is how long is waited for what a quick machine does at once.
const slowest = 2 * time.Minute

func (b *bot) session() string {
	bench, err := b.desk.Store.Bench()
	if err != nil {
		b.t.Fatal(err)
	}
	return bench.Machines[b.m.ID].Session
}

// walk answers until the session has closed.
func (b *bot) walk() {
	b.t.Helper()
	id := b.session()
	unheard := 0
	for range 1500 {
		s, err := b.desk.Open(id)
		if err != nil {
			b.t.Fatal(err)
		}
		p := s.W.Prompt(b.clock.now())
		was := s.W.Ordinal
		switch p.Kind {
		case walk.AskOver:
			return
		case walk.AskNone:
		case walk.AskWait:
			b.clock.add(p.Left + time.Second)
		default:
			if !b.answer(s, p) { // refused: that is written, or drawn at least
				b.written(id, was, 400*time.Millisecond)
				continue
			}
		}
		// an answer given twice answers what came up meanwhile: a slow machine gets its time
		if b.written(id, was, 15*time.Second) {
			unheard = 0
		} else if unheard++; unheard > 40 {
			b.t.Fatalf("nothing is written after the answer to %q at %s:\n%s", p.Question,
				s.W.Position(), b.seen.tail(3000))
		}
	}
	b.t.Fatal("the session does not end")
}

// written waits for the next entry of the session. A key that came while a screen was still being
// read is not heard; then it is false, and the answer is given again.
func (b *bot) written(id string, was int, still time.Duration) bool {
	return b.untilFor(still, func() bool {
		bench, err := b.desk.Store.Bench()
		if err != nil {
			b.t.Fatal(err)
		}
		s := bench.Sessions[id]
		return s == nil || s.Ordinal > was
	})
}

// until waits until something is so, and tells whether it came to be before nothing was drawn for some
// seconds: who is slow draws late, but does draw.
func (b *bot) until(so func() bool) bool { return b.untilFor(2*time.Second, so) }

// untilFor waits as until does, before nothing was drawn for as long as that.
func (b *bot) untilFor(still time.Duration, so func() bool) bool {
	for quiet, last := time.Duration(0), 0; quiet < still; quiet += 5 * time.Millisecond {
		if so() {
			return true
		}
		if n := b.seen.size(); n != last {
			quiet, last = 0, n
		}
		<-time.After(5 * time.Millisecond)
	}
	return so()
}

// settles waits until nothing was drawn for a tenth of a second.
func (b *bot) settles() {
	for quiet, last := 0, 0; quiet < 20; quiet++ {
		if n := b.seen.size(); n != last {
			quiet, last = 0, n
		}
		<-time.After(5 * time.Millisecond)
	}
}

// answer gives a wrong answer the first time a kind of gate comes by, and the right one otherwise; it
// tells whether that was the right one.
func (b *bot) answer(s *session.Session, p walk.Prompt) bool {
	b.clock.add(5 * time.Second)
	if p.Kind == walk.AskStep && !b.wrong[p.Step.Gate] {
		if keys, ok := wrongKeys(s, p); ok {
			b.wrong[p.Step.Gate] = true
			b.press(append(keys, "\r")...)
			return false
		}
	}
	text := walktest.Good(s.W, s.Context(b.clock.now()), p)
	keys := stateKeysFor(s, b.clock.now())
	if keys != nil && !b.seen.ever("How does the machine stand?") {
		b.t.Fatal("the state is not asked")
	}
	if keys == nil {
		keys = keysFor(s, p, text, b.clock.now())
	}
	for _, k := range keys {
		b.press(codes(k))
	}
	return true
}

// codes are what a terminal sends for a key.
func codes(key string) string {
	switch key {
	case "enter":
		return "\r"
	case "ctrl+u":
		return "\x15"
	case "space":
		return " "
	}
	return key
}

// wrongKeys are keys that must not pass a gate, where one can be answered wrongly and nothing but a
// refusal follows.
func wrongKeys(s *session.Session, p walk.Prompt) ([]string, bool) {
	switch p.Step.Gate {
	case model.State:
		i := slices.IndexFunc(p.Options, func(o string) bool { return o != p.Step.Value })
		if i < 0 {
			return []string{"\x15", "H9"}, true
		}
		if as := lettersOf(s, p); len(as) > 0 {
			return []string{string(as[i].Letter())}, true
		}
		return []string{strconv.Itoa(i + 1)}, true
	case model.Measure:
		return []string{"\x15", "999"}, p.Step.Unit == "°C"
	case model.Count:
		if n, has := s.W.Wanted(); has {
			return []string{"\x15", strconv.Itoa(n + 1)}, true
		}
	case model.Choice:
		for i, o := range p.Step.Options {
			if o.Miss != nil && o.Miss.Then == "redo" {
				if as := lettersOf(s, p); len(as) > 0 {
					return []string{string(as[i].Letter())}, true
				}
				return []string{strconv.Itoa(i + 1)}, true
			}
		}
	}
	return nil, false
}

// lockedBuffer keeps what the program drew.
type lockedBuffer struct {
	mu   sync.Mutex
	b    []byte
	mark int // what was drawn before the last keys
}

// from begins anew to look for what is drawn.
func (l *lockedBuffer) from() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.mark = len(l.b)
}

func (l *lockedBuffer) size() int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return len(l.b)
}

// drew tells whether anything was drawn since.
func (l *lockedBuffer) drew() bool { return l.size() > l.mark }

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.b = append(l.b, p...)
	return len(p), nil
}

// has tells whether one of some texts was drawn since.
func (l *lockedBuffer) has(texts ...string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	drawn := string(l.b[l.mark:])
	return slices.ContainsFunc(texts, func(s string) bool { return strings.Contains(drawn, s) })
}

// ever is within for what was drawn from the start.
func (l *lockedBuffer) ever(s string) bool {
	l.mu.Lock()
	l.mark = 0
	l.mu.Unlock()
	return l.within(s)
}

// within waits for a text to be drawn.
func (l *lockedBuffer) within(s string) bool {
	for start := time.Now(); time.Since(start) < slowest; <-time.After(5 * time.Millisecond) {
		if l.has(s) {
			return true
		}
	}
	return false
}

func (l *lockedBuffer) tail(n int) string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return string(l.b[max(0, len(l.b)-n):])
}
