package screen

import (
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/sitting"
	"bench/oilcan/ui/theme"
)

// fits fails if any frame at these sizes is wider or higher than its terminal.
func (d *desk) fits(sizes ...rect) {
	d.t.Helper()
	for _, z := range sizes {
		d.send(tea.WindowSizeMsg{Width: z.w, Height: z.h})
		lines := strings.Split(d.view(), "\n")
		if len(lines) > z.h {
			d.t.Fatalf("%dx%d: %d lines", z.w, z.h, len(lines))
		}
		for _, l := range lines {
			if n := theme.Width(l); n > z.w {
				d.t.Fatalf("%dx%d: a line of %d cells: %q", z.w, z.h, n, l)
			}
		}
	}
}

var everySize = func() (out []rect) {
	for _, w := range []int{1, 2, 5, 13, 39, 40, 41, 55, 63, 71, 72, 79, 80, 81, 103, 104, 129, 130, 200, 240} {
		for _, h := range []int{1, 2, 5, 9, 10, 11, 15, 16, 24, 40, 70} {
			out = append(out, rect{w, h})
		}
	}
	return out
}()

// Plan, every prompt of a whole session, and the summary keep within every size.
func TestASessionAtEverySize(t *testing.T) {
	now := fixedNow
	d, at, m := sessionDesk(t, func() time.Time { return now })
	d.keys("c")
	d.fits(everySize...)
	d.keys("?")
	d.fits(everySize...)
	d.keys("esc")
	for i := 0; d.bench().Machines[m.ID].Session == ""; i++ {
		d.keys("enter")
		d.fits(everySize...)
		if i > 40 {
			t.Fatalf("the session does not begin:\n%s", d.view())
		}
	}
	id := d.bench().Machines[m.ID].Session
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
			d.fits(everySize...)
		}
		d.fits(rect{40, 10}, rect{80, 24}, rect{120, 40})
		if p.Kind == walk.AskOver {
			break
		}
		now = now.Add(5 * time.Second)
		if p.Kind == walk.AskWait {
			now = now.Add(p.Left)
		}
		d.r.now = now
		d.run(d.r.all(Tick{now}))
		if p.Kind != walk.AskNone && p.Kind != walk.AskWait {
			d.answer(s, p, now)
		}
	}
	if len(seen) < 7 {
		t.Errorf("only these prompts were met: %v", seen)
	}
	d.shows("closed 2026-11-25")
	d.fits(everySize...)
}

// answer gives the right answer by keys.
func (d *desk) answer(s *sitting.Sitting, p walk.Prompt, now time.Time) {
	text := walktest.Good(s.W, s.Context(now), p)
	if keys := stateKeysFor(s, now); keys != nil {
		d.keys(keys...)
		return
	}
	d.keys(keysFor(s, p, text, now)...)
}

// stateKeysFor are the keys that answer all that is asked of the state on one screen; nil where it is not.
func stateKeysFor(s *sitting.Sitting, now time.Time) []string {
	p, rows := s.W.Prompt(now), s.W.StateRows()
	if p.Kind != walk.AskState && p.Kind != walk.AskLedger || len(rows) < 2 || rows[0].Variable != p.Variable {
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
		if modeOf(r.Prompt, s.W.Begun.Settings) != pickOption {
			for _, k := range keysFor(s, r.Prompt, text, now) {
				if k != "ctrl+u" {
					keys = append(keys, k)
				}
			}
			continue
		}
		for _, a := range lettered(r.Prompt.Options) {
			if a.says == text {
				keys = append(keys, string(a.letter))
			}
		}
	}
	if guessed {
		keys = append(keys, "space")
	}
	return keys
}

// keysFor are the keys that give an answer at a prompt: the letter of what stands alone, the digit of a choice, y behind one that
// leads elsewhere; anything typed with enter.
func keysFor(s *sitting.Sitting, p walk.Prompt, text string, now time.Time) []string {
	sure := func(keys ...string) []string {
		if p.Step != nil && s.W.Leads(p.Step, text) != "" {
			return append(keys, "y")
		}
		return keys
	}
	if p.Kind == walk.AskStep {
		for _, a := range lettersOf(s, p) {
			if a.says == text {
				return sure(string(a.letter))
			}
		}
	}
	switch modeOf(p, s.W.Begun.Settings) {
	case pickOption:
		digit := strconv.Itoa(slices.Index(p.Options, text) + 1)
		if p.Kind == walk.AskStep && (s.W.Ordinary(s.Context(now)) != "" || p.Step.Decision) {
			return sure(digit)
		}
		return []string{digit, "enter"}
	case typeNumber, typeText:
		if text == "hot" {
			return []string{"h"}
		}
		return []string{"ctrl+u", text, "enter"}
	}
	return []string{"enter"}
}

// lettersOf are the answers of what stands alone.
func lettersOf(s *sitting.Sitting, p walk.Prompt) []answer {
	if !s.W.Alone() {
		return nil
	}
	return answersOf(p, s.W.Begun.Settings)
}

// sessionDesk is a bench with one full machine, the whole library, and the screens of the session.
func sessionDesk(t *testing.T, clock func() time.Time) (*desk, sitting.Desk, *model.Machine) {
	t.Helper()
	st, err := store.Open(filepath.Join(t.TempDir(), "bench.db"), clock)
	if err != nil {
		t.Fatal(err)
	}
	lib, _ := procedures.Load("")
	m := sessionMachine(t, st, lib, clock())
	e := NewEnv(Deps{Store: st, Library: lib, Theme: theme.New(theme.Options{Dark: true, Profile: theme.ANSI256}), Now: clock, Real: afresh(), Operator: "LN"})
	at := sitting.Desk{Store: st, Lib: lib, By: "LN"}
	e.Desk, e.Rooms = at, rooms
	data, err := e.load(clock())
	if err != nil {
		t.Fatal(err)
	}
	d := &desk{t: t, r: NewRoot(e, newBench(e), data, clock()), s: st}
	d.r.Init()
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return d, at, m
}
