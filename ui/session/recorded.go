package session

import (
	"fmt"
	"slices"
	"sync"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
)

// Journal is what is read of a data file to show a session on record.
type Journal interface {
	Bench() (*model.Bench, error)
	Entries(store.Filter) ([]model.Entry, error)
	Referred(of []model.Entry) ([]model.Entry, error)
	Text(hash string) ([]byte, error)
}

// Recorded is a session as it is on record: begun, closed or given up.
type Recorded struct {
	Machine *model.Machine
	Lines   []book.Line // its entries, in the order of time
	// nil where no step of it was walked, or the texts of its procedures are gone
	Walk *walk.Walk
}

// Record reads a session as it is on record.
func Record(st Journal, id string, names action.Names, now time.Time) (r Recorded, err error) {
	entries, err := st.Entries(store.Filter{Session: id})
	if err != nil {
		return r, err
	}
	if len(entries) == 0 {
		return r, fmt.Errorf("there is no session %s: oilcan book shows what is on record", id)
	}
	b, err := st.Bench()
	if err != nil {
		return r, err
	}
	more, err := st.Referred(entries)
	if err != nil {
		return r, err
	}
	r.Machine = b.Machines[entries[0].Machine]
	r.Lines = slices.DeleteFunc(book.Lines(append(more, entries...), names, now),
		func(l book.Line) bool { return l.Entry.Session != id })
	w, err := walk.Load(zoned(entries, now.Location()), texts(st))
	if err == nil && len(w.Blocks) > 0 {
		r.Walk = w
	}
	return r, nil
}

// readTexts are the procedures read so far in this run, by content hash: no walk changes one.
var readTexts sync.Map

// texts reads the procedures that a session named.
func texts(st Journal) walk.Texts {
	return func(hash string) (*model.Procedure, error) {
		if p, ok := readTexts.Load(hash); ok {
			return p.(*model.Procedure), nil
		}
		data, err := st.Text(hash)
		if err != nil {
			return nil, err
		}
		p, err := model.ReadText(data)
		if err == nil {
			readTexts.Store(hash, p)
		}
		return p, err
	}
}
