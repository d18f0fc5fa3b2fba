package command

import (
	"fmt"
	"path/filepath"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// recordWriter writes entries for programs, one JSON object a line, a text before the first entry
// that names it.
type recordWriter struct {
	to     *theme.Writer
	st     *store.Store
	struck map[string]bool
	given  map[string]bool // texts written
}

func newRecordWriter(to *theme.Writer, st *store.Store) (*recordWriter, error) {
	struck, err := st.Struck()
	return &recordWriter{to, st, struck, map[string]bool{}}, unusable(err)
}

func (w *recordWriter) entry(e model.Entry) error {
	for _, hash := range e.Texts() {
		if w.given[hash] {
			continue
		}
		w.given[hash] = true
		text, err := w.st.Text(hash)
		if err != nil {
			return unusable(err)
		}
		t := action.TextLine{V: e.V, Kind: "text", Hash: hash, Text: string(text)}
		if err := w.to.JSON(t, ""); err != nil {
			return err
		}
	}
	struck := w.struck[e.Action] && model.ClassOf(e.Kind) == model.Dated
	return w.to.JSON(action.EntryLine{Entry: e, Struck: struck}, "")
}

// takeRecord takes in JSON lines of the book, all or nothing; name is what the file is called.
func takeRecord(a *app, data []byte, name string, fits func([]model.Entry) error) (
	action.Record, store.Taken, error) {
	var none store.Taken
	r := action.ReadRecord(data)
	if len(r.Bad) > 0 {
		for _, bad := range r.Bad[:min(len(r.Bad), mostSaidBad)] {
			a.warn(fmt.Errorf("%s, %w", filepath.Base(name), bad))
		}
		return r, none, misuse("%s of %s cannot be so: nothing was taken in, write the record anew",
			model.Counted(len(r.Bad), "line"), filepath.Base(name))
	}
	if fits != nil {
		if err := fits(r.Entries); err != nil {
			return r, none, err
		}
	}
	st, err := a.store()
	if err != nil {
		return r, none, err
	}
	seen, done := watch(a, "taking in")
	st.Watch(seen)
	taken, err := st.TakeIn(r.Entries, r.Texts)
	done()
	return r, taken, unusable(err)
}

// mostSaidBad is how many bad lines of a record are said: where one is cut off, all may be.
const mostSaidBad = 20

// sayTaken answers for a record taken in; what is called what was.
func sayTaken(a *app, what, path string, t store.Taken) error {
	known := ""
	if t.Known > 0 {
		known = fmt.Sprintf("; %s on record already", model.Counted(t.Known, "entry"))
	}
	return answer(a, map[string]any{"file": path, "entries": t.New, "known": t.Known},
		"%s: %s taken in%s", what, model.Counted(t.New, "entry"), known)
}
