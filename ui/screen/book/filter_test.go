package book_test

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	said "bench/oilcan/ui/book"
	"bench/oilcan/ui/demo"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/book"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

// demoBench opens the invented bench, with a few entries struck and one struck and put back.
func demoBench(t testing.TB) *screentest.Desk {
	t.Helper()
	lib, _ := procedures.Load("")
	d := screentest.New(t, 80, 24, false, theme.Options{Dark: true}, func(d *screen.Deps) {
		d.Library = lib
	})
	if _, err := d.S.AppendAll(demo.Actions(lib.All(), screentest.Now, 5)); err != nil {
		t.Fatal(err)
	}
	swaps, err := d.S.Entries(store.Filter{Kinds: []model.EntryKind{model.KindSwap}})
	if err != nil || len(swaps) < 4 {
		t.Fatalf("%d swaps: %v", len(swaps), err)
	}
	for i, e := range swaps[:4] {
		es, err := d.S.Append(model.Action{Machine: e.Machine, By: "KB", Facts: []model.Fact{{
			Kind: model.KindStrike, Strike: &model.Strike{Action: e.Action,
				Why: fmt.Sprint("slip ", i)}}}})
		if err == nil && i == 0 {
			_, err = d.S.Append(model.Action{Machine: e.Machine, By: "KB", Facts: []model.Fact{{
				Kind:   model.KindStrike,
				Strike: &model.Strike{Action: es[0].Action, Why: "right after all"}}}})
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	d.Look()
	return d
}

// kindOf has the word for the kinds of entries, as a person says them.
var kindOf = map[model.EntryKind]string{"begun": "session", "closed": "session", "care": "care",
	"due": "care", "swap": "swap", "stock": "drawer", "finding": "finding", "settled": "finding",
	"moved": "finding", "reading": "reading", "value": "value", "booked": "print",
	"printed": "print", "failed": "print", "tag": "tag", "outcome": "symptom",
	"machine": "machine", "strike": "strike"}

// plain is a line with what filters look at, by a second opinion.
type plain struct {
	said.Line
	part, text string
}

// allLines are the lines of the whole journal, the latest first.
func allLines(t *testing.T, d *screentest.Desk) (out []plain) {
	t.Helper()
	entries, err := d.S.Entries(store.Filter{NoSteps: true})
	if err != nil {
		t.Fatal(err)
	}
	b, part := d.Bench(), partOf(d.E.Names())
	for _, l := range said.Lines(entries, d.E.Names(), screentest.Now) {
		e := l.Entry
		text := e.At.UTC().Format("2006-01-02 15:04") + " " + e.By + " " + said.MachineName(b, e) +
			" " + l.Said() + " " + kindOf[e.Kind]
		out = append(out, plain{l, part(e), strings.ToLower(text)})
	}
	slices.SortStableFunc(out, func(a, b plain) int {
		return cmp.Or(b.Entry.At.Compare(a.Entry.At), int(b.Entry.Seq)-int(a.Entry.Seq))
	})
	return out
}

// wanted says whether a filter wants a line.
func (l plain) wanted(f said.Filter) bool {
	for _, w := range strings.Fields(strings.ToLower(f.Words)) {
		if !strings.Contains(l.text, w) {
			return false
		}
	}
	e := l.Entry
	return (f.Machine == "" || e.Machine == f.Machine) &&
		(f.Kind == "" || kindOf[e.Kind] == f.Kind) &&
		(f.Part == "" || l.part == f.Part) && (f.By == "" || strings.EqualFold(e.By, f.By)) &&
		(f.From.IsZero() || !e.At.Before(f.From)) && (f.To.IsZero() || e.At.Before(f.To))
}

// TestFiltersAgainstTheWholeBook: what the screen shows, whatever is asked for and in whatever
// order, is what looking at every entry of the journal finds.
func TestFiltersAgainstTheWholeBook(t *testing.T) {
	d := demoBench(t)
	lines, b := allLines(t, d), d.Bench()
	d.Keys("4")
	page := d.R.Top()
	filters := anyFilter(lines, b)
	rapid.Check(t, func(rt *rapid.T) {
		f := filters.Draw(rt, "filter")
		if rapid.Bool().Draw(rt, "typed") {
			typeWords(rt, d, page, f)
		} else {
			d.Run(book.Look(page, f))
		}
		var want []string
		for _, l := range lines {
			if l.wanted(f) {
				want = append(want, l.Entry.ID)
			}
		}
		var got []string
		for _, l := range book.Shown(page) {
			if l == nil {
				if f != (said.Filter{Machine: f.Machine}) {
					rt.Fatalf("%+v: a line was not read", f)
				}
				return // without a filter what is far from the cursor is not read
			}
			got = append(got, l.Entry.ID)
		}
		if !slices.Equal(got, want) {
			rt.Fatalf("%+v: %d lines, and %d are so", f, len(got), len(want))
		}
		d.View()
	})
	d.Run(book.Whole(page))
	if n := len(book.Shown(page)); n != len(lines) {
		t.Errorf("%d of %d lines without a filter", n, len(lines))
	}
}

// typeWords wants all but the words of a filter, and types those, now and then a letter too many.
func typeWords(rt *rapid.T, d *screentest.Desk, page screen.Screen, f said.Filter) {
	words := f.Words
	f.Words = ""
	d.Run(book.Look(page, f))
	d.Keys("/")
	for _, letter := range words {
		if rapid.IntRange(0, 3).Draw(rt, "slip") == 0 {
			d.Keys("q", "backspace")
		}
		d.Send(screentest.Runes(string(letter)))
	}
	d.Keys("enter")
}

// partOf says which part an entry is about.
func partOf(names action.Names) func(model.Entry) string {
	of := map[string]string{"": ""}
	for _, p := range names.Procs {
		of[p.ID] = p.Part
	}
	return func(e model.Entry) string {
		switch {
		case e.Swap != nil:
			return e.Swap.Part
		case e.Stock != nil:
			return e.Stock.Part
		case e.Finding != nil:
			if e.Finding.Part != "" {
				return e.Finding.Part
			}
			return of[e.Finding.Procedure]
		case e.Care != nil:
			return of[e.Care.Procedure]
		case e.Due != nil:
			return of[e.Due.Procedure]
		case e.Value != nil:
			return of[e.Value.Procedure]
		}
		return ""
	}
}

// anyFilter draws filters that leave out some of the lines; words are pieces of what lines say.
func anyFilter(lines []plain, b *model.Bench) *rapid.Generator[said.Filter] {
	oneOf := func(rt *rapid.T, name string, list []string) string {
		if rapid.IntRange(0, 2).Draw(rt, name+" asked") > 0 {
			return ""
		}
		return rapid.SampledFrom(list).Draw(rt, name)
	}
	return rapid.Custom(func(rt *rapid.T) said.Filter {
		f := said.Filter{Machine: oneOf(rt, "machine", screen.Sorted(b.Machines)),
			Kind: oneOf(rt, "kind", said.KindWords()), Part: oneOf(rt, "part", model.SupplyNames),
			By: oneOf(rt, "who", []string{"LN", "ln", "KB", "nobody"})}
		day := func(name string) time.Time {
			if rapid.IntRange(0, 2).Draw(rt, name+" asked") > 0 {
				return time.Time{}
			}
			y, m, dd := screentest.Now.AddDate(0, 0, -rapid.IntRange(0, 280).Draw(rt, name)).Date()
			return time.Date(y, m, dd, 0, 0, 0, 0, screentest.Now.Location())
		}
		f.From, f.To = day("from"), day("to")
		for range rapid.IntRange(0, 2).Draw(rt, "words") {
			text := []rune(rapid.SampledFrom(lines).Draw(rt, "line").Said())
			from := rapid.IntRange(0, len(text)-1).Draw(rt, "begin")
			to := rapid.IntRange(from+1, min(len(text), from+8)).Draw(rt, "end")
			f.Words += " " + string(text[from:to])
		}
		f.Words = strings.TrimSpace(f.Words)
		return f
	})
}

// TestFindAsItIsTyped: each letter narrows what is in view; enter keeps it, a filter joins it, and
// one key takes all off.
func TestFindAsItIsTyped(t *testing.T) {
	d := screentest.Plain(t)
	d.Keys("4")
	page := d.R.Top()
	all := len(book.Shown(page))
	last := all
	for _, letter := range []string{"b", "l", "a", "d", "e"} {
		if letter == "b" {
			d.Keys("/")
		}
		d.Keys(letter)
		n := len(book.Shown(page))
		if n == 0 || n > last {
			t.Fatalf("%d lines after %q, and %d before", n, letter, last)
		}
		last = n
	}
	d.Keys("enter")
	d.Shows(`only   "blade"`, ". all", fmt.Sprintf("%d of", last))
	d.Keys("1", "down", "down", "her", "down", "swap", "ctrl+s")
	d.Shows("Heron   book", `only   Heron · swap · "blade"`)
	if n := len(book.Shown(d.R.Top())); n == 0 || n >= last {
		t.Errorf("%d lines, and %d with the words alone", n, last)
	}
	d.Keys(".")
	d.Shows("all machines   book", "latest first")
	d.Hides("only ", ". all")
	if n := len(book.Shown(page)); n != all {
		t.Errorf("%d lines, and %d before", n, all)
	}
	d.Keys("/", "zzz")
	d.Shows("No entry is so.")
	d.Keys("esc")
	d.Hides("zzz", "No entry is so.")
}

// TestFilterIsRefused: what cannot be is said at its question, in a sentence, and nothing changes.
func TestFilterIsRefused(t *testing.T) {
	d := screentest.Plain(t)
	for _, c := range []struct {
		keys []string
		want string
	}{
		{[]string{"soon"}, `"soon" is no date`},
		{[]string{"2026-11-20", "down", "2026-11-01"}, "before the first day"},
		{[]string{"down", "down", "nobody"}, `no machine is called "nobody"`},
		{[]string{"down", "down", "down", "zzz"}, `there is no kind "zzz"`},
		{[]string{"down", "down", "down", "down", "zzz"}, `there is no part "zzz"`},
	} {
		d.Keys("4", "1")
		d.Keys(c.keys...).Keys("ctrl+s")
		if text := strings.Join(strings.Fields(strings.ToLower(d.View())), " "); !strings.Contains(
			text,
			strings.ToLower(c.want)) {
			t.Errorf("%q is not said:\n%s", c.want, d.View())
		}
		d.Keys("esc", "y", "esc")
	}
}

// TestStruckWhereItIsFound: what is struck stays in what was found, with the reason, and is put
// back there; a move of the drawer, which is of no machine, too.
func TestStruckWhereItIsFound(t *testing.T) {
	d := screentest.Plain(t)
	d.Keys("4", "/", "counted blade", "enter")
	d.Shows("1 of", "drawer: blade counted, 2")
	d.Keys("u", "miscounted", "ctrl+s")
	d.Shows("2 of", "> 2026-11-24 09:14               (struck: miscounted) drawer: blade",
		"u put back")
	d.Keys("u", "counted anew", "ctrl+s")
	d.Shows("3 of", "> 2026-11-24 09:14               drawer: blade counted, 2", "u strike")
	d.Keys(".", "home")
	d.Shows(`struck "struck "drawer: blade counted`)
}

// TestTheBookGoesOn: what is written meanwhile stands in what was found, and the cursor stays on
// its entry.
func TestTheBookGoesOn(t *testing.T) {
	d := screentest.Plain(t)
	d.Keys("4", "/", "renewed", "enter", "down")
	before := len(book.Shown(d.R.Top()))
	d.Shows("> 2026-10-16 09:14  Heron        filter renewed")
	if _, err := d.S.Append(model.Action{Machine: "m2", Facts: []model.Fact{{Kind: model.KindSwap,
		Swap: &model.Swapped{Part: "nozzle", End: "worn"}}}}); err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Shows("nozzle renewed", "> 2026-10-16 09:14  Heron        filter renewed")
	if n := len(book.Shown(d.R.Top())); n != before+1 {
		t.Errorf("%d lines, and %d before", n, before)
	}
}
