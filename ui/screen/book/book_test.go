package book_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

var places = []screentest.Place{
	{Name: "book", Keys: []string{"/", "her", "enter", "enter", "n", "4"}},
	{Name: "book-strike", Keys: []string{"/", "her", "enter", "enter", "n", "4", "down", "u"}},
	{Name: "book-put-back", Keys: []string{"/", "her", "enter", "enter", "n", "4", "down", "u",
		"wrong", "ctrl+s", "down", "u"}},
	{Name: "book-struck", Keys: []string{"/", "her", "enter", "enter", "n", "4", "down", "u",
		"wrong machine", "ctrl+s", "down"}},
	{Name: "book-bench", Keys: []string{"4"}},
	{Name: "book-find", Keys: []string{"4", "/", "heron blade"}},
	{Name: "book-filter", Keys: []string{"4", "1", "2026-09-01", "down", "down", "down", "swa"}},
	{Name: "book-filtered", Keys: []string{"4", "1", "2026-09-01", "down", "down", "down", "swa",
		"ctrl+s", "/", "worn", "enter"}},
	{Name: "book-none", Keys: []string{"4", "/", "wiper zzz", "enter"}},
	{Name: "session", Keys: []string{"/", "her", "enter", "enter", "n", "4", "enter"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

func TestStrikeFromTheBook(t *testing.T) {
	d := screentest.Plain(t).On("her").Keys("enter", "4", "u", "ctrl+s")
	d.Shows("A reason is needed")
	d.Keys("wrong machine", "ctrl+s")
	d.Keys("home")
	d.Shows("(struck: wrong machine)")
	if v := d.Machine("m1").Readings[model.Changes].Last.Value; v != 1500 {
		t.Errorf("changes %v: the reading still counts", v)
	}
}

func TestPutBackFromTheBook(t *testing.T) {
	d := screentest.Plain(t).On("her").Keys("enter", "4", "u", "wrong machine", "ctrl+s")
	if v := d.Machine("m1").Readings[model.Changes].Last.Value; v != 1500 {
		t.Fatalf("changes %v: the reading still counts", v)
	}
	d.Keys("home", "down")
	d.Shows("u put back")
	d.Keys("u", "ctrl+s")
	d.Shows("This is put back:", "changes 3 412", "why it is right after all", "A reason is needed")
	d.Keys("it was right", "ctrl+s", "home")
	if v := d.Machine("m1").Readings[model.Changes].Last.Value; v != 3412 {
		t.Errorf("changes %v: the reading does not count again", v)
	}
	d.Shows(`struck "struck "desiccant`)
	d.Keys("down", "down")
	d.Shows("u strike")
}

// counted counts what is asked of a data file.
type counted struct {
	*store.Store
	pages, most, entries int
}

func (c *counted) Page(machine string, skip, most int) ([]model.Entry, int, error) {
	c.pages++
	c.most = max(c.most, most)
	return c.Store.Page(machine, skip, most)
}

func (c *counted) Entries(f store.Filter) ([]model.Entry, error) {
	es, err := c.Store.Entries(f)
	c.entries += len(es)
	return es, err
}

// TestLongBook: of a book of many years only what is round the cursor is read, and every entry of
// it is reached, whichever way one goes.
func TestLongBook(t *testing.T) {
	const years = 3000
	var c *counted
	d := screentest.New(t, 80, 24, true, theme.Options{Dark: true}, func(d *screen.Deps) {
		c = &counted{Store: d.Store.(*store.Store)}
		d.Store = c
	})
	var as []model.Action
	for i := range years {
		as = append(as, model.Action{Machine: "m1",
			At: screentest.Now.AddDate(0, 0, -years+i).Add(-time.Hour),
			Facts: []model.Fact{{Kind: model.KindFinding, Finding: &model.Found{Kind: "note",
				Text: fmt.Sprintf("day %d of many", i)}}}})
	}
	if _, err := d.S.AppendAll(as); err != nil {
		t.Fatal(err)
	}
	d.Look()
	c.entries, c.pages = 0, 0
	d.On("her").Keys("enter", "4")
	read := c.entries // what the machine's page asks for
	d.Shows(fmt.Sprintf("day %d of many", years-1))
	if c.pages != 1 || c.most > 600 {
		t.Errorf("%d parts of at most %d were read before the first frame", c.pages, c.most)
	}
	_, all, err := d.S.Page("m1", 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	look := func() {
		for _, l := range strings.Split(d.View(), "\n") {
			if _, text, found := strings.Cut(l, "found: "); found {
				seen[strings.TrimSpace(text)] = true
			}
			if strings.HasPrefix(l, "   ...") {
				t.Fatalf("what is in view was not read:\n%s", d.View())
			}
		}
	}
	for range all/10 + 1 {
		look()
		d.Keys("pgdown")
	}
	for i := range years {
		if !seen[fmt.Sprintf("day %d of many", i)] {
			t.Fatalf("day %d was not reached", i)
		}
	}
	d.Keys("home", "end")
	look()
	d.Keys("home")
	look()
	d.Shows("> 2026-11-24 08:14") // the latest
	if c.entries != read {
		t.Errorf("%d entries were read beside the parts", c.entries-read)
	}
}

// TestASessionOpens: what belongs to a session opens it on a page, and the cursor is where it was
// afterwards.
func TestASessionOpens(t *testing.T) {
	d := screentest.New(t, 80, 24, true, theme.Options{Dark: true})
	screentest.Begin(t, d)
	d.On("her").Keys("enter", "n", "4")
	d.Shows("care session begun", "enter session")
	d.Hides("paused")
	d.Keys("enter")
	d.Shows("Heron: care session", "not closed yet", "paused")
	d.Keys("esc")
	d.Shows("book", "> 2026-11-25 09:14           care session begun")
	d.Hides("paused")
	d.Keys("down")
	d.Hides("enter session")
}
