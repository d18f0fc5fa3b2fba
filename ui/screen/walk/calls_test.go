package walk_test

import (
	"path/filepath"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// counted counts what the screens ask of the data file.
type counted struct {
	*store.Store
	benches int
}

func (c *counted) Bench() (*model.Bench, error) { c.benches++; return c.Store.Bench() }

// shelf counts what is asked of the library: gauges are worked out of its heads, advice and plans
// out of all of it.
type shelf struct {
	*procedures.Library
	heads, all int
}

func (s *shelf) Heads() []*model.Procedure { s.heads++; return s.Library.Heads() }
func (s *shelf) All() []*model.Procedure   { s.all++; return s.Library.All() }

// An answered gate reads the machines once, and works nothing out for the bench beneath; once the
// bench is shown its gauges are those of now.
func TestAnAnsweredGateAsksForLittle(t *testing.T) {
	now := screentest.Now
	clock := func() time.Time { return now }
	st, err := store.Open(filepath.Join(t.TempDir(), "bench.db"), clock)
	if err != nil {
		t.Fatal(err)
	}
	lib, _ := procedures.Load("")
	m := screentest.FullMachine(t, st, lib, now)
	at := session.Desk{Store: st, Lib: lib, By: "LN"}
	file, books := &counted{Store: st}, &shelf{Library: lib}
	d := screentest.Open(t, st, 80, 24,
		screen.Deps{Store: file, Library: books, Theme: theme.New(theme.Options{Dark: true}),
			Now: clock, Operator: "LN", Desk: at})
	c, err := at.Choose(m, session.Choice{Only: []string{"fans-blow"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	for range 12 {
		s, err := at.Open(s.W.ID)
		if err != nil {
			t.Fatal(err)
		}
		p, was := s.W.Prompt(now), s.W.Ordinal
		file.benches, books.heads, books.all = 0, 0, 0
		reply(d, s, p, now)
		again, err := at.Open(s.W.ID)
		if err != nil {
			t.Fatal(err)
		}
		writes := again.W.Ordinal - was
		if file.benches > writes || books.heads+books.all > 0 {
			t.Errorf("%s: %d entries, the machines read %d times, gauges %d times, all of the library %d times", p.Question, writes, file.benches, books.heads, books.all)
		}
	}
	books.heads = 0
	d.Keys("esc")
	for range 3 {
		if books.heads == 0 {
			d.Keys("ctrl+p", "p", "y") // it is hot, and that is asked
		}
	}
	d.Shows("most pressing")
	if books.heads == 0 {
		t.Error("the bench is shown with the gauges of before")
	}
}
