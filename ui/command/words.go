package command

import (
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/book"
)

// spoken says entries in words, by entry id. All entries of the journal are needed.
func spoken(entries []model.Entry, now time.Time) map[string]string {
	out := make(map[string]string, len(entries))
	for _, l := range book.Lines(entries, now) {
		out[l.Entry.ID] = l.Text
	}
	return out
}

// nameOf is the name of the machine an entry is about, "" for none.
func nameOf(b *model.Bench, e model.Entry) string {
	if m := b.Machines[e.Machine]; m != nil {
		return m.Name
	}
	return ""
}
